"""The timing workbook's card: the clock of one block, to carry to the injector."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import begins_with
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.field_event.card_working import card_said
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.recipe.cards import BETWEEN, STEP, WIDTHS, marked, placed
from tanksheet.templates.timing import clock_working as work
from tanksheet.templates.timing.telling import SAFETY

WHAT, AMOUNT, TICK, DONE, READ = range(1, 6)
STATE = "card_state"
LOG_ROWS = 4
CLOCK = (
    ("start", "Plain water till then; start the injector", "start_at"),
    ("rise", "Last emitter: EC begins to rise", "far_rises"),
    ("half", "... is half up", "far_half"),
    ("full", "... reads nearly all of it", "far_full"),
    ("stop", "Stop the injector, keep the water running", "stop_at"),
    ("fall", "Last emitter: EC begins to fall", "far_falls"),
    ("clear", "... is back to plain water", "far_clear"),
    ("close", "Close the valve", "close_at"),
)


def card(book: Book) -> None:
    page = add_page(book, "Block card", WIDTHS)
    page.sheet.one_page = True
    page.sheet.put(WHAT, "Block card", "card tank", across=2, down=2)
    placed(page, "card_name", DONE, typed_words, ("block_name",), "card who", 2)
    page.end_row(24)
    page.sheet.put(DONE, "date:", "card column")
    page.end_row(20)
    _state(page)
    for column, words, style in (
        (WHAT, "what happens", "card column"),
        (AMOUNT, "after opening", "card column right"),
        (TICK, "done", "card column middle"),
        (DONE, "at, h:min", "card column"),
        (READ, "EC reads", "card column"),
    ):
        placed(page, f"card_head_{column}", column, work.if_go(words), (STATE,), style)
    marked(page, (WHAT, READ), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(16)
    for name, words, key in CLOCK:
        _step(page, name, words, key)
    _log(page)
    page.gap()
    for line in SAFETY:
        page.sheet.put(WHAT, line, "safety", across=READ)
        page.end_row(28)


def _state(page: Page) -> None:
    """The verdict, unless it passes."""
    page.back(2, STATE, work.card_state, ("overall", "inject_minutes"), label="go?", known=TEXT)
    placed(page, "card_said", WHAT, card_said, ("overall",), "card box", READ)
    cell = f"$A${page.sheet.row}"
    for words, style in (
        (("stop",), "stop"),
        (("caution",), "caution"),
        (("not checked", "not given"), "not checked"),
    ):
        tests = ",".join(begins_with(cell, word) for word in words)
        marked(page, (WHAT, READ), f"OR({tests})", style)
    page.end_row(48)


def _step(page: Page, name: str, words: str, key: str) -> None:
    """What happens, how long after the valve was opened, a box to tick, room for clock and EC."""
    row = page.sheet.row
    placed(page, f"card_{name}_step", WHAT, work.if_go(words), (STATE,), "card step")
    at = (STATE, page.book.key_for(key))
    placed(page, f"card_{name}_time", AMOUNT, work.card_clock, at, "card amount")
    for column, style in ((TICK, "tick"), (DONE, "write here"), (READ, "write here")):
        page.sheet.put(column, "", style)
    marked(page, (TICK, TICK), f"LEN($A{row})>0", "tick box")
    marked(page, (DONE, READ), f"LEN($A{row})>0", "line")
    page.end_row(STEP)
    page.gap(BETWEEN)


def _log(page: Page) -> None:
    for column, words in enumerate(("date, opened", "injected from, to", "", "closed", "by"), 1):
        placed(page, f"card_log_{column}", column, work.if_go(words), (STATE,), "card column")
    head = page.sheet.row
    marked(page, (WHAT, READ), f"LEN($A{head})>0", "line")
    page.end_row(20)
    for _ in range(LOG_ROWS):
        for column in range(WHAT, READ + 1):
            page.sheet.put(column, "", "write here")
        marked(page, (WHAT, READ), f"LEN($A${head})>0", "line")
        page.end_row(19)
