"""The timing workbook's card: the clock of one block, to carry to the injector."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.card_sheet import (
    AMOUNT,
    FOURTH,
    READ,
    STATE,
    WHAT,
    card_sheet,
    cautions,
    heads,
    log,
    ticked,
    verdict_box,
)
from tanksheet.templates.field_event.card_working import card_said
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.recipe.cards import STEP, placed
from tanksheet.templates.timing import clock_working as work
from tanksheet.templates.timing.telling import SAFETY

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
    page = card_sheet(book, "Block card", "Block card", (typed_words, ("block_name",)))
    keys = ("overall", "inject_minutes")
    page.back(2, STATE, work.card_state, keys, label="go?", known=TEXT)
    verdict_box(page, (card_said, ("overall",)))
    words = ("what happens", "after opening", "done", "at, h:min", "EC reads")
    heads(page, "card_head", words, work.if_go)
    for name, said, key in CLOCK:
        _step(page, name, said, key)
    log(page, ("date, opened", "injected from, to", "", "closed", "by"), work.if_go)
    cautions(page, SAFETY)


def _step(page: Page, name: str, words: str, key: str) -> None:
    """What happens, how long after the valve was opened, a box to tick, room for clock and EC."""
    placed(page, f"card_{name}_step", WHAT, work.if_go(words), (STATE,), "card step")
    at = (STATE, page.book.key_for(key))
    placed(page, f"card_{name}_time", AMOUNT, work.card_clock, at, "card amount")
    ticked(page, STEP, (FOURTH, READ))
