"""The chart of the timing workbook: strength at the nearest and the last emitter over the set."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.cells import Picture
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, NUMBER
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.timing import clock_working as work

STEPS = 50  # moments of the set besides its beginning


def chart(page: Page) -> None:
    drawn = add_page(page.book, "Drawn", widths=(12.0,) * 3, working=True)
    drawn.sheet.hidden = True
    for column, words in enumerate(("minute", "nearest emitter", "last emitter"), 1):
        drawn.sheet.put(column, words, "column head")
    head = drawn.sheet.row
    drawn.end_row()
    table = Table(drawn, STEPS + 1)
    known: dict[str, Any] = {"known": NUMBER, "pattern": "0"}
    times = lambda i: (work.moment(i, STEPS), ("set_time",))  # noqa: E731
    table.computed("moments", 1, times, **known)
    set_keys = (":fill_time", ":inject_minutes")
    for column, place in ((2, "near"), (3, "far")):
        keys = ("moments", *set_keys, f":{place}_minutes", f":{place}_spread")
        table.computed(f"{place}_strength", column, each(work.strength_at, *keys), **known)
    table.end()
    cells = page.book.named_cells()
    heads = tuple(drawn.sheet.at(column, head) for column in (2, 3))
    numbers = zip(cells["near_strength"], cells["far_strength"], strict=True)
    page.section("Strength over the set")
    picture = Picture(
        page.sheet.at(LABEL),
        "Feed at the nearest and the last emitter",
        "minutes from opening the valve",
        "% of full strength",
        heads,
        cells["moments"],
        tuple(cell for pair in numbers for cell in pair),
        rows_tall=14,
        wide=18,
    )
    page.sheet.pictures.append(picture)
    page.sheet.row += picture.rows_tall
    page.gap()
