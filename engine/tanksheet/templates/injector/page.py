"""Injector: zones and duty against nameplates, and which unit to take."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, NUMBER, TEXT, TYPED
from tanksheet.templates.injector import choice_working as choice
from tanksheet.templates.injector import fit_working as fit
from tanksheet.templates.injector import working as work
from tanksheet.templates.injector.telling import SAFETY, SOURCES, STEPS, ZONES, tiles
from tanksheet.templates.injector.units import HEAT, MOST, duty, injectors, pairs, pattern_of
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import Kilopascal, Metre, Number, Quantity

FIGURE = Quantity(Number, "flow or pressure of a zone", 0, MOST)
LIFT = Quantity(Metre, "height of the unit above the stock", 0, 20)
HOSE = Quantity(Metre, "length of the suction hose", 0, 100)
NECK = Quantity(Kilopascal, "pressure lost in a reduced length", 0, 1e4)


def make(edition: str = "metric") -> Book:
    book = Book(
        "injector",
        "Injector",
        "Zones and duty against nameplates: which unit fits, alone, as a pair or on a bypass.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Injector")
    page.opening("Injector")
    verdicts = verdicts_of(page)
    _zones(page)
    chosen = page.keep_rows(work.ZONES + 7)
    _duty(page)
    injectors(book)
    _worked(page)
    duty(book)
    pairs(book)
    below, page.sheet.row = page.sheet.row, chosen
    _chosen(page)
    page.sheet.row = below
    _verdicts(page, verdicts)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*tiles(edition))
    book.sources += SOURCES
    return book


def _zones(page: Page) -> None:
    """What a person types of each zone, its figures in base units behind it."""
    names = work.NAMES[page.book.edition]
    flow, pressure, heat = names["flow"], names["pressure"], names["heat"]
    page.section("Zones", f"{flow} from", "to", f"{pressure} there", "needed", f"water, {heat}")
    given = ZONES[page.book.edition]
    rows = [*given, *[(None,) * 6] * (work.ZONES - len(given))]
    columns = [list(column) for column in zip(*rows, strict=True)]
    table = Table(page, work.ZONES)
    words = ("tunnel 1", "orchard", "beds")
    table.filled("zone_names", 1, "Zone", columns[0], usual_words=words, style="typed maybe word")
    keys = ("flows_from", "flows_to", "pressures_there", "pressures_needed", "water_heats")
    labels = ("Flow from", "Flow to", "Pressure there", "Pressure needed", "Water")
    kinds = ("flow", "flow", "pressure", "pressure", "heat")
    for at, (key, label, kind) in enumerate(zip(keys, labels, kinds, strict=True), 2):
        known = [float(value) for value in columns[at - 1] if value is not None]
        table.filled(
            key,
            at,
            label,
            columns[at - 1],
            limits=HEAT if key == "water_heats" else FIGURE,
            usual=(min(known) * 0.7, max(known) * 1.3),
            style="typed" if at == 2 else "typed narrow",
            pattern=pattern_of(page.book.edition, kind),
        )
    _zones_behind(table, keys)
    table.end()
    page.gap()


def _zones_behind(table: Table, keys: tuple[str, ...]) -> None:
    edition = table.page.book.edition
    factors = work.FACTORS[edition]
    quiet: dict[str, Any] = {"hidden": True, "behind": True}
    flow, pressure = (work.in_base(factors[kind], MOST) for kind in ("flow", "pressure"))
    makers = (flow, flow, pressure, pressure, work.heat_in_base(edition == "us"))
    names = ("lows_here", "highs_here", "zone_pressures", "zone_needs", "zone_heats")
    for at, (name, function, key) in enumerate(zip(names, makers, keys, strict=True), 7):
        table.computed(name, at, each(function, key), **quiet)
    lows = each(work.one_of_two, "lows_here", "highs_here")
    table.computed("zone_lows", 12, lows, **quiet)
    highs = each(work.one_of_two, "highs_here", "lows_here")
    table.computed("zone_highs", 13, highs, **quiet)
    kinds = each(
        work.zone_kind, "zone_lows", "zone_highs", "zone_pressures", "zone_needs", "zone_heats"
    )
    table.computed("zone_kinds", 14, kinds, known=TEXT, **quiet)
    used = each(work.needed_flow, "zone_kinds", "zone_lows")
    table.computed("used_lows", 15, used, **quiet)
    used = each(work.needed_flow, "zone_kinds", "zone_highs")
    table.computed("used_highs", 16, used, **quiet)


def _duty(page: Page) -> None:
    page.section("Duty")
    page.input("ratio_rich", "Richest ratio", "ratio", 100, "1:N", usual=(50, 150))
    page.input("ratio_lean", "Leanest ratio", "ratio", 200, "1:N", usual=(150, 400))
    page.choice("injected", "What is injected", work.PRODUCTS, work.PLAIN)
    page.choice("thickness", "It pours", work.THICKNESSES, work.THIN)
    page.input("lift", "Lifted by", LIFT, 0.8, "m", usual=(0, 3), us=(2.5, "ft"))
    page.input("hose_length", "Suction hose", HOSE, 2, "m", usual=(0.5, 8), us=(6, "ft"))
    page.input(
        "neck_loss", "Lost in a reduced length", NECK, 5, "kPa", usual=(0, 20), us=(0.7, "psi")
    )
    page.input("altitude", "Height above the sea", "altitude", 200, "m", usual=(0, 2500))
    page.input(
        "celsius", "Warmest the stock gets", "celsius", 30, "degC", usual=(10, 40), us=(86, "degF")
    )
    page.gap()


def _worked(page: Page) -> None:
    """Figures of the duty, behind the page."""
    for name, function, keys in (
        ("smallest_flow", work.least_of, ("used_lows",)),
        ("largest_flow", work.most_of, ("used_highs",)),
        ("stock_most", work.stock_flow, ("largest_flow", "ratio_rich")),
        ("viscosity", work.viscosity, ("thickness",)),
        ("lifted", work.heaviest_lift, ("lift",)),
        ("greatest_lift", work.greatest_lift, ("altitude", "celsius")),
    ):
        page.back(2, name, function, tuple(page.book.key_for(key) for key in keys))
        page.end_row(1)


def _chosen(page: Page) -> None:
    """The unit to take, and what it says of each zone that it does not simply fit."""
    page.section("The unit to take", "", "", "", "", "")
    worst = ("alone_worst", "pair_worst", "bypass_worst")
    page.back(2, "way", choice.way_of, worst, known=TEXT)
    page.back(3, "place", choice.chosen_place, ("way", *worst), known=NUMBER)
    page.back(4, "chosen_most", choice.of_chosen, ("place", "most_flows_here"))
    page.back(5, "chosen", choice.of_chosen, ("place", "unit_names"), known=TEXT)
    uses: dict[str, Any] = {"most_flow": "chosen_most", "largest": "largest_flow"}
    lines: tuple[tuple[str, str, Any, str, dict[str, Any]], ...] = (
        ("stock_drawn", "Stock drawn, at most", work.itself_known, "L/h", {"known": "stock_most"}),
        (
            "turn_down",
            "Turn-down over all zones",
            choice.turn_down,
            "parts",
            {"largest": "largest_flow", "least": "smallest_flow"},
        ),
        ("bypass_flow", "Beside it, on a bypass", choice.bypass_flow, "L/min", uses),
        (
            "bypass_setting",
            "... and set the unit to",
            choice.bypass_setting,
            "parts",
            {"rich": "ratio_rich", **uses},
        ),
    )
    for name, label, function, unit, keys in lines:
        page.result(name, label, function, unit=unit, may_be_words=True, **keys)
    _zone_by_zone(page)
    page.back(2, "chosen_kind", choice.of_chosen, ("place", "alone_worst"), known=TEXT)
    page.back(3, "chosen_duty", choice.of_chosen, ("place", "duties"), known=TEXT)
    words = ("chosen_kind", "chosen_duty", "chosen_kinds", "chosen_words")
    page.back(4, "chosen_said", choice.first_said, words, known=TEXT)
    beside = ("way", "bypass_flow", "bypass_setting")
    page.back(5, "beside", choice.bypass_words(page.book.edition), beside, known=TEXT)
    page.gap()


def _zone_by_zone(page: Page) -> None:
    first = page.sheet.row
    words = tuple(part("chosen_words", i) for i in range(work.ZONES))
    for i, said in enumerate(words):
        kind = part("zone_kinds", i)
        named = (kind, part("zone_names", i))
        cell = page.sheet.at(LABEL)
        page.words(f"zone_shown_{i + 1}", cell, work.zone_name(i + 1), named, "label", hidden=True)
        page.back(2, said, choice.of_pair(i + 1), ("place", "alone_words"), known=TEXT, named=False)
        cell = page.sheet.at(TYPED)
        shown = (said, kind)
        page.words(f"zone_fit_{i + 1}", cell, work.zone_line, shown, "grid said", 5, hidden=True)
        page.end_row(18)
    page.book.add_range("chosen_words", words, True)
    page.sheet.row = first
    table = Table(page, work.ZONES)
    kinds = each(fit.kind_of_fit, "chosen_words")
    table.computed("chosen_kinds", 3, kinds, known=TEXT, hidden=True, behind=True)
    table.end()


def _verdicts(page: Page, verdicts: Verdicts) -> None:
    page.section("Is it all right?")
    verdicts.add(
        "zones_check",
        "Can all be read?",
        choice.zones_verdict,
        kinds="zone_kinds",
        units="unit_states",
        first=True,
    )
    verdicts.add(
        "choice_check",
        "Does a unit fit?",
        choice.choice_verdict(page.book.edition),
        tall=40,
        zones="zones_check",
        way="way",
        kind="chosen_kind",
        unit_name="chosen",
        said="chosen_said",
    )
