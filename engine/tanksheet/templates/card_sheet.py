"""What the cards that are carried to the pipe have in common: title, verdict, heads, boxes to tick,
a log and the cautions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import begins_with
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.recipe.cards import BETWEEN, WIDTHS, marked, placed

# What to do, how much, a box to tick, and two columns that each card uses in its own way.
WHAT, AMOUNT, TICK, FOURTH, READ = range(1, 6)
STATE = "card_state"
LOG_ROWS = 4
OPEN = ("not checked", "not given")
Placed = tuple[Any, tuple[str, ...]]  # what works a cell out, from which keys
IfOn = Callable[[str], Any]  # gives the function that shows words while the card is one to follow


def card_sheet(book: Book, sheet: str, title: str | Placed, name: Placed) -> Page:
    """A sheet that prints on one page, with its title and name, and room for the date."""
    page = add_page(book, sheet, WIDTHS)
    page.sheet.one_page = True
    if isinstance(title, str):
        page.sheet.put(WHAT, title, "card tank", across=2, down=2)
    else:
        placed(page, "card_title", WHAT, *title, "card tank", 2, 2)
    placed(page, "card_name", FOURTH, *name, "card who", 2)
    page.end_row(24)
    page.sheet.put(FOURTH, "date:", "card column")
    page.end_row(20)
    return page


def verdict_box(page: Page, said: Placed, tall: float = 48, others: Sequence[str] = OPEN) -> None:
    """The verdict in the colour of its kind; nothing where all is well."""
    placed(page, "card_said", WHAT, *said, "card box", READ)
    cell = f"$A${page.sheet.row}"
    for words, style in ((("stop",), "stop"), (("caution",), "caution"), (others, "not checked")):
        tests = ",".join(begins_with(cell, word) for word in words)
        marked(page, (WHAT, READ), f"OR({tests})", style)
    page.end_row(tall)


def heads(page: Page, name: str, words: Sequence[str], if_on: IfOn) -> None:
    """The heads of the columns, over a line."""
    styles = {AMOUNT: "card column right", TICK: "card column middle"}
    for column, said in enumerate(words, WHAT):
        style = styles.get(column, "card column")
        placed(page, f"{name}_{column}", column, if_on(said), (STATE,), style)
    marked(page, (WHAT, READ), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(16)


def ticked(page: Page, tall: float, written: tuple[int, int] | None) -> None:
    """Ends a row that has words in its first column: a box, a line where it is ``written`` on, and
    the gap to the next."""
    row = page.sheet.row
    page.sheet.put(TICK, "", "tick")
    marked(page, (TICK, TICK), f"LEN($A{row})>0", "tick box")
    if written:
        for column in range(written[0], written[1] + 1):
            page.sheet.put(column, "", "write here")
        marked(page, written, f"LEN($A{row})>0", "line")
    page.end_row(tall)
    page.gap(BETWEEN)


def log(page: Page, words: Sequence[str], if_on: IfOn, head: float = 20, tall: float = 19) -> None:
    """Lines to write on, while the card is one to follow."""
    for column, said in enumerate(words, WHAT):
        placed(page, f"card_log_{column}", column, if_on(said), (STATE,), "card column")
    row = page.sheet.row
    marked(page, (WHAT, READ), f"LEN($A{row})>0", "line")
    page.end_row(head)
    for _ in range(LOG_ROWS):
        for column in range(WHAT, READ + 1):
            page.sheet.put(column, "", "write here")
        marked(page, (WHAT, READ), f"LEN($A${row})>0", "line")
        page.end_row(tall)


def cautions(page: Page, lines: Sequence[str]) -> None:
    """The cautions of the first sheet, at the foot."""
    page.gap()
    for line in lines:
        page.sheet.put(WHAT, line, "safety", across=READ)
        page.end_row(28)
