"""The pipes of the timing workbook: up to four stretches and the farthest lateral."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.proving.lines import from_above
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.timing import pipe_working as work
from tanksheet.templates.timing.telling import EXAMPLE
from tanksheet.units import QUANTITIES, LitrePerHour, Metre, Millimetre, Number, Quantity

ROWS = 4
STRETCHES = ("first stretch", "second stretch", "third stretch", "fourth stretch")
WIDTH = Quantity(Number, "inside diameter of a pipe", 0, 1e4, above=True)
FIGURE = Quantity(Number, "length or flow of a pipe", 0, 1e6, above=True)
BRANCHES = Quantity(Number, "branches along the pipe", 1, 1e6)
BORE = Quantity(Millimetre, "inside diameter of the lateral", 0, 1e4, above=True)
LENGTH = Quantity(Metre, "length of the lateral", 0, 1e6, above=True)
DRIPPER = Quantity(LitrePerHour, "flow of one emitter", 0, 1e6, above=True)
COLUMNS = ("bores", "lengths", "flows", "branches")
USUAL = {
    "metric": ((20, 150), (20, 400), (20, 900), (2, 40)),
    "us": ((1, 6), (60, 1200), (5, 240), (2, 40)),
}


def stretches(page: Page) -> Table:
    """What is typed of the stretches; how long each takes stands beside it once it is reckoned."""
    edition = page.book.edition
    bore, length, flow = work.UNITS[edition]
    units = {"bores": bore, "lengths": length, "flows": flow, "branches": "out"}
    page.section("Pipes", "bore", "outlets", "length", "flow")
    table = Table(page, ROWS)
    table.labels(1, STRETCHES)
    typed = list(zip(*EXAMPLE[edition], strict=True))
    for place, (key, column, label, limits) in enumerate(
        (
            ("bores", 2, "Inside diameter", WIDTH),
            ("lengths", 4, "Length", FIGURE),
            ("flows", 5, "Flow", FIGURE),
            ("branches", 3, "Outlets", BRANCHES),
        )
    ):
        table.filled(
            key,
            column,
            label,
            list(typed[place]),
            limits=limits,
            usual=USUAL[edition][place],
            pattern=f'General" {units[key]}"',
            style="typed maybe" if key == "bores" else "typed narrow",
        )
    table.end()
    page.note(
        "From the injector on, with the flow that enters each. Outlets are laterals that leave a "
        "pipe evenly along its way; blank where all of the flow runs to its end."
    )
    page.choice("near_end", "Nearest emitter is behind the", STRETCHES, STRETCHES[1])
    page.gap()
    return table


def lateral(page: Page) -> None:
    page.section("Farthest lateral")
    some: dict[str, Any] = {"optional": True}
    page.input("lateral_bore", "Bore", BORE, 13.6, "mm", usual=(10, 30), us=(0.54, "in"), **some)
    page.input("lateral_length", "Length", LENGTH, 75, "m", usual=(10, 200), us=(250, "ft"), **some)
    page.input("emitters", "Emitters", "emitters", 250, usual=(10, 600), **some)
    page.input(
        "emitter_flow",
        "Flow of one",
        DRIPPER,
        1.6,
        "L/h",
        usual=(0.5, 8),
        us=(0.42, "gph"),
        **some,
    )
    page.gap()


def reckoned(book: Book, table: Table) -> None:
    """The hidden sheet behind the stretches, and the words beside them."""
    page = add_page(book, "Stretches", widths=(12.0,) * 19, working=True)
    page.sheet.hidden = True
    page.section_words("Each stretch, and what follows from one to the next", 19)
    rows = Table(page, ROWS)
    names = ("base_bores", "base_lengths", "base_flows")
    units = zip(names, COLUMNS, work.UNITS[book.edition], work.BASE, strict=False)
    for column, (name, typed, unit, base) in enumerate(units, 1):
        rows.computed(name, column, each(work.in_base(unit, base), typed))
    rows.computed("base_outlets", 4, each(work.outlets_of, "branches"))
    four = (*names, "base_outlets")
    rows.computed("states", 5, each(work.state_of, *four), known=TEXT)
    used = _used(rows, four)
    rows.computed("stretch_minutes", 6, each(work.minutes_of, "states", *used))
    rows.computed("variances", 7, each(work.variance_of, "states", *used, "stretch_minutes"))
    rows.computed("speeds", 8, each(work.speed_of, "states", "used_bores", "used_flows"))

    def numbered(function: Any, *keys: str) -> Any:
        return lambda i: (function(i + 1), tuple(part(key, i) for key in keys))

    rows.computed("bad_stretches", 9, numbered(work.bad_row, "states"))
    rows.computed("half_stretches", 15, numbered(work.half_row, "states"))
    slow = ("states", "used_bores", "used_flows", "used_outlets")
    rows.computed("slow_stretches", 10, numbered(work.slow_row, *slow))
    firsts = from_above(work.first_flow, work.last_flow, "flows_so_far", "base_flows")
    rows.computed("flows_so_far", 11, firsts)
    _rising(rows)
    for column, (name, key) in enumerate(
        (("minutes_so_far", "stretch_minutes"), ("variance_so_far", "variances")), 13
    ):
        rows.computed(name, column, from_above(work.first_added, work.added, name, key))
    rows.end()
    beside = each(work.note_of, "states")
    table.computed("stretch_notes", 6, beside, style="words", known=TEXT, hidden=True)


def _used(rows: Table, four: tuple[str, ...]) -> tuple[str, ...]:
    """The four figures of a stretch, 1 for what is not there."""
    limits = ("inside", "length", "flow", "emitters")
    names = tuple(name.replace("base", "used") for name in four)
    for column, (name, base, limit) in enumerate(zip(names, four, limits, strict=True), 16):
        made = each(work.figure_or_one, base)
        rows.computed(name, column, made, known=QUANTITIES[limit])
    return names


def _rising(rows: Table) -> None:
    """Each stretch against the nearest one above that has a flow; the first has none."""

    def rising(i: int) -> tuple[Any, tuple[str, ...]]:
        above = part("flows_so_far", i - 1) if i else part("base_flows", 0)
        return work.rising_row(i + 1), (part("base_flows", i), above)

    rows.computed("rising_stretches", 12, rising)
