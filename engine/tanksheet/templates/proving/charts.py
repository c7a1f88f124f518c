"""The charts of the proving workbook, and the hidden columns that they draw."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Picture
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL
from tanksheet.templates.proving import working as work
from tanksheet.templates.recipe.feed import each

READING = "reading, oldest first; level where one is missing"
# Title, and of each line its head and its column; the limits of a line stand after it.
LINES = (
    (
        "Dose off, reading by reading, %",
        (("off", "lasts"), ("lower", ":low_limit"), ("mean", ":centre"), ("upper", ":high_limit")),
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
    drawn = add_page(book, "Drawn", widths=(12.0,) * 5, working=True)
    drawn.sheet.hidden = True
    page = add_page(book, "Charts")
    page.heading(
        "Control charts",
        "A point outside its limits has a cause worth looking for. The moving average shows a slow "
        "drift, of worn seals or a clogging screen, before a single reading does.",
    )
    for number, (title, lines) in enumerate(LINES, 1):
        _chart(page, _columns(drawn, rows, f"drawn_{number}", lines), title)
        page.gap()


def _columns(page: Page, rows: int, name: str, lines: tuple[tuple[str, str], ...]) -> Table:
    """What one chart draws, under its heads."""
    for column, words in enumerate(("reading", *(words for words, _ in lines)), 1):
        page.sheet.put(column, words, "column head")
    page.end_row()
    table = Table(page, rows)
    for i in range(rows):
        page.sheet.put(1, i + 1, "row name")
        page.end_row()
    page.sheet.row = table.first
    (first, key), *limits = lines
    line = f"{name}_{first}"
    table.computed(line, 2, each(work.drawn_step if key == "steps" else work.drawn_held, key))
    for column, (words, key) in enumerate(limits, 3):
        table.computed(f"{name}_{words}", column, each(work.drawn_limit, key, line))
    table.end()
    return table


def _chart(page: Page, table: Table, title: str) -> None:
    """A line for each column of the table; its heads stand above them."""
    sheet, rows = table.page.sheet, range(table.first, table.first + table.rows)
    filled = [spec.cell for spec in sheet.specs if spec.cell.row in (table.first - 1, *rows)]
    heads = tuple(cell for cell in filled if cell.row < table.first and cell.column > 1)
    names = tuple(cell for cell in filled if cell.row >= table.first and cell.column == 1)
    numbers = sorted(
        (cell for cell in filled if cell.row >= table.first and cell.column > 1),
        key=lambda cell: (cell.row, cell.column),
    )
    page.sheet.pictures.append(
        Picture(
            page.sheet.at(LABEL),
            title,
            READING,
            "%",
            heads,
            names,
            tuple(numbers),
            rows_tall=15,
            numbers="0.0",
            wide=18,
            limits=True,
        )
    )
    page.sheet.row += 15
