"""The hidden sheets behind the readings: what each says, and what follows from row to row."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import add_page
from tanksheet.templates.proving import chart_working as chart
from tanksheet.templates.proving import working as work
from tanksheet.templates.recipe.feed import each


def _hidden(book: Book, title: str, head: str, columns: int, rows: int) -> Table:
    page = add_page(book, title, widths=(12.0,) * columns, working=True)
    page.sheet.hidden = True
    page.section_words(head, columns)
    return Table(page, rows)


def from_above(first: Any, later: Any, name: str, *columns: str) -> Maker:
    """Row by row: ``later`` takes the row above of its own column first, ``first`` has none."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        keys = tuple(key[1:] if key[0] == ":" else part(key, i) for key in columns)
        return (later, (part(name, i - 1), *keys)) if i else (first, keys)

    return make


def each_reading(book: Book, rows: int) -> None:
    table = _hidden(book, "Rows", "What each reading says", 18, rows)
    units = work.UNITS[book.edition]
    table.computed("drawn_ratios", 1, each(work.drawn_ratio(*units), "waters", "stocks"))
    table.computed("drawn_offs", 2, each(work.drawn_off, "drawn_ratios", ":ratio"))
    errors = (":water_error", ":stock_error")
    doubt = each(work.drawn_doubt(*units), "drawn_ratios", "waters", "stocks", *errors)
    table.computed("drawn_doubts", 3, doubt)
    read = each(work.read_off, "ecs", ":ec_water", ":ec_target", ":ratio")
    table.computed("read_offs", 4, read)
    sure = each(work.read_doubt, "read_offs", "ecs", ":ec_water", ":ec_error")
    table.computed("read_doubts", 5, sure)
    table.computed("offs", 6, each(work.of_way, ":way", "drawn_offs", "read_offs"))
    table.computed("doubts", 7, each(work.of_way, ":way", "drawn_doubts", "read_doubts"))

    def bad(i: int) -> tuple[Any, tuple[str, ...]]:
        return work.bad_row(i + 1), (part("drawn_offs", i), part("read_offs", i))

    table.computed("bad_rows", 8, bad)
    counts = from_above(work.first_count, work.next_count, "counts", "offs")
    table.computed("counts", 9, counts)
    table.computed("lasts", 10, from_above(work.first_last, work.next_last, "lasts", "offs"))
    held = from_above(work.follows_first, work.follows, "sures", "offs", "doubts")
    table.computed("sures", 11, held)
    _steps(table)
    table.end()


def _steps(table: Table) -> None:
    def moved(i: int) -> tuple[Any, tuple[str, ...]]:
        """From the newest reading above; the first row steps from itself, by nothing."""
        if not i:
            return work.no_step, (part("offs", 0),)
        return work.moving_range, (part("lasts", i - 1), part("offs", i))

    table.computed("steps", 12, moved)
    table.computed("first_offs", 13, each(work.within, "offs", "counts", ":baseline"))
    table.computed("first_ranges", 14, each(work.within, "steps", "counts", ":baseline"))
    table.computed("gaps", 15, each(work.both_ways, "drawn_offs", "read_offs"))
    for column, (name, value) in enumerate(
        (("gap_lasts", "gaps"), ("gap_drawn", "drawn_doubts"), ("gap_read", "read_doubts")), 16
    ):
        held = from_above(work.follows_first, work.follows, name, "gaps", value)
        table.computed(name, column, held)


def drift(book: Book, rows: int) -> None:
    table = _hidden(book, "Drift", "What the limits say of each reading", 6, rows)
    average = from_above(chart.first_average, chart.next_average, "averages", "offs", ":centre")

    def averaged(i: int) -> tuple[Any, tuple[str, ...]]:
        function, keys = average(i)
        return (function, keys[:-1]) if i else (function, keys)

    table.computed("averages", 1, averaged)
    table.computed("reaches", 2, each(chart.reach, ":spread", "counts"))
    limits = (":low_limit", ":high_limit")
    table.computed("outside_rows", 3, each(chart.outside, "offs", *limits))
    table.computed("jump_rows", 4, each(chart.over, "steps", ":step_limit"))
    table.computed("average_lows", 5, each(chart.below, ":centre", "reaches"))
    table.computed("average_highs", 6, each(chart.above, ":centre", "reaches"))
    table.end()
