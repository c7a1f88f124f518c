"""The charts of the proving workbook, and the hidden columns that they draw."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Picture
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL
from tanksheet.templates.proving import working as work
from tanksheet.templates.recipe.feed import each

READING = "reading, oldest first"
# Title, the head and column of each line.
LINES = (
    (
        "Dose off, reading by reading, %",
        (("off", "offs"), ("lower", ":low_limit"), ("mean", ":centre"), ("upper", ":high_limit")),
    ),
    ("Step from one reading to the next, %", (("step", "steps"), ("limit", ":step_limit"))),
    (
        "Moving average, %: a slow drift",
        (
            ("average", "averages"),
            ("lower", "average_lows"),
            ("mean", ":centre"),
            ("upper", "average_highs"),
        ),
    ),
)


def charts(book: Book, rows: int) -> None:
    drawn = add_page(book, "Drawn", widths=(12.0,) * 12, working=True)
    drawn.sheet.hidden = True
    page = add_page(book, "Charts")
    page.heading(
        "Control charts",
        "A point outside its limits has a cause worth looking for. The moving average shows a slow "
        "drift, of worn seals or a clogging screen, before a single reading does.",
    )
    for number, (title, lines) in enumerate(LINES, 1):
        _chart(page, drawn, rows, f"drawn_{number}", title, lines)
        page.gap()


def _chart(
    page: Page, drawn: Page, rows: int, name: str, title: str, lines: tuple[tuple[str, str], ...]
) -> None:
    head = drawn.sheet.row
    for column, (words, _) in enumerate((("reading", ""), *lines), 1):
        drawn.sheet.put(column, words, "column head")
    drawn.end_row()
    table = Table(drawn, rows)
    table.labels(1, [str(i + 1) for i in range(rows)], "row name")
    for column, (words, key) in enumerate(lines, 2):
        made = each(work.plotted, key)
        if key == "averages":
            made = each(work.plotted_if, "offs", key)
        table.computed(f"{name}_{words}", column, made)
    table.end()
    sheet = drawn.sheet
    cells = tuple(
        sheet.at(column, table.first + i)
        for i in range(rows)
        for column in range(2, len(lines) + 2)
    )
    heads = tuple(sheet.at(column, head) for column in range(2, len(lines) + 2))
    names = tuple(sheet.at(1, table.first + i) for i in range(rows))
    picture = Picture(
        page.sheet.at(LABEL), title, READING, "%", heads, names, cells, 15, False, "0.0"
    )
    page.sheet.pictures.append(picture)
    page.sheet.row += picture.rows_tall
