"""The sheets Injectors and Every pair: nameplates, and what each unit makes of each zone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.injector import choice_working as choice
from tanksheet.templates.injector import fit_working as fit
from tanksheet.templates.injector import working as work
from tanksheet.templates.injector.telling import UNITS
from tanksheet.templates.recipe.feed import each
from tanksheet.units import Celsius, Number, Quantity

MOST = 1e6
FIGURE = Quantity(Number, "figure of a nameplate", 0, MOST)
ABOVE = Quantity(Number, "figure of a nameplate", 0, MOST, above=True)
NOT_ZERO = (
    "most_flows",
    "richest_ratios",
    "leanest_ratios",
    "most_pressures",
    "loss_flows",
    "bores",
)
HEAT = Quantity(Celsius, "temperature on a nameplate", -40, 250)
WIDTHS = (24, *[8.5] * 11, 11, 8.5, 22)
# Name of the column, its head, what it is measured in.
COLUMNS = (
    ("least_flows", "flow from", "flow"),
    ("most_flows", "to", "flow"),
    ("richest_ratios", "ratio 1: from", ""),
    ("leanest_ratios", "to", ""),
    ("least_pressures", "pressure from", "pressure"),
    ("most_pressures", "to", "pressure"),
    ("losses", "loses", "pressure"),
    ("loss_flows", "at a flow of", "flow"),
    ("coldests", "water from", "heat"),
    ("hottests", "to", "heat"),
    ("lifts", "lifts", "height"),
    ("seals", "seals", ""),
    ("bores", "hose bore", "bore"),
)
LEAD = (
    "What the nameplates print. A blank is not checked. Ratios as 1:N, the richest (smallest N) "
    "first. Prices, names and makers do not matter here."
)


def pattern_of(edition: str, kind: str) -> str:
    """A figure with its unit; of a ratio the N of 1:N."""
    unit = work.NAMES[edition][kind] if kind else "N"
    return f'General" {unit}"'


def injectors(book: Book) -> Table:
    """The sheet to type in, its figures in base units behind it."""
    page = add_page(book, "Injectors", WIDTHS, landscape=True)
    page.heading("Injectors", LEAD)
    table = Table(page, work.UNITS)
    names = work.NAMES[book.edition]
    heads = [f"{head}, {names[kind]}" if kind else head for _, head, kind in COLUMNS]
    page.sheet.put(1, "by its duty", "table head")
    for column, head in enumerate(heads, 2):
        page.sheet.put(column, head, "table head")
    page.end_row(40)
    table.first = page.sheet.row
    _typed(table)
    _behind(table)
    table.end()
    return table


def _typed(table: Table) -> None:
    given = UNITS[table.page.book.edition]
    rows = [*given, *[(None,) * (len(COLUMNS) + 1)] * (work.UNITS - len(given))]
    columns = [list(column) for column in zip(*rows, strict=True)]
    usual = ("small", "large", "for acid")
    table.filled("unit_names", 1, "Injector", columns[0], usual_words=usual, style="typed word")
    typed_figures(table, COLUMNS, columns[1:])


def typed_figures(
    table: Table, kinds: Sequence[tuple[str, str, str]], columns: Sequence[list[Any]]
) -> None:
    """The columns to type a nameplate's figures in, from the second on, each with its unit."""
    edition = table.page.book.edition
    for at, ((key, head, kind), given) in enumerate(zip(kinds, columns, strict=True), 2):
        if key == "seals":
            facts: dict[str, Any] = {"words": work.SEALS, "style": "typed maybe word"}
            table.filled(key, at, "Seals", given, **facts)
            continue
        known = [float(value) for value in given if value is not None]
        table.filled(
            key,
            at,
            head,
            given,
            limits=HEAT if kind == "heat" else ABOVE if key in NOT_ZERO else FIGURE,
            usual=(min(known) * 0.7 or 0.1, max(known) * 1.2),
            style="typed narrow",
            pattern=pattern_of(edition, kind),
        )


def _behind(table: Table) -> None:
    """Each figure in its base unit, and whether a row can be read."""
    edition = table.page.book.edition
    quiet: dict[str, Any] = {"hidden": True, "behind": True}
    at = 7
    for key, _, kind in COLUMNS:
        if key == "seals":
            continue
        factor = work.FACTORS[edition].get(kind, 1.0)
        made = work.in_base(factor, MOST, key in NOT_ZERO)
        if kind == "heat":
            made = work.heat_in_base(edition == "us")
        table.computed(f"{key}_here", at, each(made, key), **quiet)
        at += 1
    for key, function in (("coldests", choice.coldest_of), ("hottests", choice.hottest_of)):
        table.computed(f"{key}_used", at, each(function, f"{key}_here"), **quiet)
        at += 1
    keys = [f"{key}_here" for key, _, kind in COLUMNS if key != "seals"]
    thirds = (keys[:5], keys[5:10], [*keys[10:], *keys[:3]])
    for number, some in enumerate(thirds, 1):
        table.computed(f"sum_{number}", at, each(work.sum_of_known, *some), **quiet)
        at += 1
    sums = ("sum_1", "sum_2", "sum_3", "seal_sums", "seal_sums")
    table.computed("seal_sums", at, each(work.seal_sum, "seals"), **quiet)
    table.computed("all_sums", at + 1, each(work.sum_of_known, *sums), **quiet)
    states = each(work.unit_state, "unit_names", "all_sums")
    table.computed("unit_states", at + 2, states, known=TEXT, **quiet)
    said = each(work.unit_said, "unit_states")
    table.computed("units_said", len(WIDTHS), said, style="grid said", known=TEXT, hidden=True)


def duty(book: Book) -> None:
    """A hidden sheet: what each unit makes of ratio, seals, lift and hose."""
    page = add_page(book, "Duty", (30, *[14] * 6), working=True)
    page.sheet.hidden = True
    table = Table(page, work.UNITS)
    hose = each(
        work.hose_metres,
        *("unit_states", ":stock_most", "bores_here", ":hose_length", ":viscosity"),
    )
    table.computed("hose_metres", 1, hose)
    seals = each(work.seal_of, "unit_states", "seals", ":injected")
    table.computed("seal_words", 2, seals, known=TEXT)
    down = each(
        work.duty_down(book.edition),
        *("unit_states", ":ratio_rich", ":ratio_lean", "richest_ratios_here"),
        *("leanest_ratios_here", "seal_words", ":injected", ":lifted", "hose_metres"),
        *("lifts_here", ":greatest_lift"),
    )
    table.computed("duties_down", 3, down, known=TEXT)
    said = each(
        work.duty_said,
        *("duties_down", "unit_states", "richest_ratios_here", "leanest_ratios_here"),
        *("seal_words", ":injected", ":lifted", "hose_metres", "lifts_here"),
    )
    table.computed("duties", 4, said, known=TEXT)
    table.computed("duty_kinds", 5, each(fit.kind_of_fit, "duties"), known=TEXT)
    table.end()


def _pair(function: Any, *keys: str) -> Any:
    """Makes a column of pairs. Keys are "u:" of its unit, "z:" of its zone, ":" of the page, else
    its own."""

    def made(i: int) -> tuple[Any, tuple[str, ...]]:
        unit, zone = divmod(i, work.ZONES)
        found = []
        for key in keys:
            kind, _, name = key.rpartition(":")
            place = {"u": unit, "z": zone}.get(kind, i)
            found.append(name if key.startswith(":") else part(name, place))
        return function, tuple(found)

    return made


STATES = ("z:zone_kinds", "u:unit_states")
FLOWS = ("z:zone_lows", "z:zone_highs")
PLACE = ("z:zone_pressures", "z:zone_needs", "z:zone_heats")
RANGE = ("u:least_flows_here", "u:most_flows_here")
BEARS = ("u:least_pressures_here", "u:most_pressures_here")
WATER = ("u:coldests_used", "u:hottests_used")


def pairs(book: Book) -> None:
    """What each unit makes of each zone: alone, as one of two, on a bypass."""
    shown = add_page(book, "Every pair", (26, 22, 60))
    shown.heading("Every pair", "What each injector, alone, makes of each zone. Nothing to type.")
    for column, head in enumerate(("injector", "zone", "alone"), 1):
        shown.sheet.put(column, head, "table head")
    shown.end_row(18)
    words = Table(shown, fit.PAIRS)
    page = add_page(book, "Pairs", tuple([16] * 17), working=True)
    page.sheet.hidden = True
    table = Table(page, fit.PAIRS)
    names = _pair(work.pair_name, *STATES, "u:unit_names")
    words.computed("pair_units", 1, names, style="row name", known=TEXT, hidden=True)
    zones = _pair(work.pair_name, *STATES, "z:zone_names")
    words.computed("pair_zones", 2, zones, style="row name", known=TEXT, hidden=True)
    _ways(table, words)
    table.end()
    words.end()
    _over_zones(book)


def _ways(table: Table, words: Table) -> None:
    """Alone and shared by two, from what turns it down to the words; then on a bypass."""
    edition, at = table.page.book.edition, 1
    lost = ("u:losses_here", "u:loss_flows_here", ":neck_loss")
    for way, share in (("alone", 1), ("shared", 2)):
        left = (*STATES, "z:zone_highs", "z:zone_pressures", *lost)
        table.computed(f"{way}_left", at, _pair(fit.pressure_left_of(share), *left))
        flow = _pair(fit.flow_words(edition, share), *STATES, *FLOWS, *RANGE)
        table.computed(f"{way}_flow", at + 1, flow, known=TEXT)
        keys = (f"{way}_flow", *PLACE, *BEARS, *WATER, f"{way}_left")
        down = _pair(fit.pressure_words(edition), *keys)
        table.computed(f"{way}_down", at + 2, down, known=TEXT)
        known = (f"{way}_down", *STATES, *FLOWS, *PLACE, *RANGE, *BEARS, f"{way}_left")
        said = _pair(fit.fit_words(share), *known)
        if way == "alone":
            look: dict[str, Any] = {"style": "grid words", "known": TEXT, "hidden": True}
            words.computed("alone_words", 3, said, **look)
        else:
            table.computed("shared_words", at + 3, said, known=TEXT)
        kinds = _pair(fit.kind_of_fit, f"{way}_words")
        table.computed(f"{way}_kinds", at + 4, kinds, known=TEXT)
        at += 5
    both = _pair(fit.as_pair, "alone_kinds", "shared_kinds")
    table.computed("pair_kinds", at, both, known=TEXT)
    parts = _pair(fit.through_unit, "z:zone_kinds", "z:zone_highs", "u:most_flows_here")
    table.computed("parts_through", at + 1, parts)
    behind = (*STATES, "parts_through", "z:zone_highs", "z:zone_pressures", *lost)
    table.computed("bypass_left", at + 2, _pair(fit.left_on_bypass, *behind))
    table.computed("no_flow", at + 3, lambda i: (fit.no_flow_words, ()), known=TEXT)
    keys = ("no_flow", *PLACE, *BEARS, *WATER, "bypass_left")
    table.computed("bypass_down", at + 4, _pair(fit.pressure_words(edition), *keys), known=TEXT)
    passed = _pair(
        fit.on_bypass,
        *("alone_kinds", "bypass_down", "bypass_left", "parts_through", "z:zone_lows"),
        *("u:least_flows_here", ":ratio_rich", "u:richest_ratios_here"),
        *(*PLACE[1:], *BEARS),
    )
    table.computed("bypass_kinds", at + 5, passed, known=TEXT)


def _over_zones(book: Book) -> None:
    """The worst that each unit makes of all zones, in each way of building it in."""
    page = add_page(book, "Over zones", (20, 20, 20), working=True)
    page.sheet.hidden = True
    table = Table(page, work.UNITS)
    for column, way in enumerate(("alone", "pair", "bypass"), 1):

        def worst(i: int, way: str = way) -> tuple[Any, tuple[str, ...]]:
            first = i * work.ZONES
            cells = tuple(part(f"{way}_kinds", first + k) for k in range(work.ZONES))
            return fit.worst_kind, (part("duty_kinds", i), book.cells_of(cells))

        table.computed(f"{way}_worst", column, worst, known=TEXT)
    table.end()
