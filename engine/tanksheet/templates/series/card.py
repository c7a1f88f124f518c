"""The card of a line: one page to hang at the row of injectors."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import begins_with
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.recipe.cards import BETWEEN, PAIRED, WIDTHS, marked, placed
from tanksheet.templates.series import card_working as work
from tanksheet.templates.series.result_working import pressure_words
from tanksheet.templates.series.stock_working import PRODUCTS
from tanksheet.templates.series.stocks import EACH
from tanksheet.templates.series.telling import SAFETY

WHAT, AMOUNT, TICK, INTO, READ = range(1, 6)
STEP, LOG_ROWS = 32, 4
STATE = "card_state"
START = (
    "Water first; then one injector after the other, each measured behind it. Stop the injectors "
    "before the water, and flush."
)
Placed = tuple[Any, tuple[str, ...]]  # what works a cell out, from which keys


def card(book: Book) -> None:
    page = add_page(book, "Line card", WIDTHS)
    page.sheet.one_page = True
    page.sheet.put(WHAT, "Line", "card tank", across=2, down=2)
    placed(page, "card_name", INTO, work.line_said, ("line_name",), "card who", 2)
    page.end_row(24)
    page.sheet.put(INTO, "date:", "card column")
    page.end_row(20)
    _state(page)
    _row_of_injectors(page)
    _stocks(page)
    _log(page)
    page.gap()
    for line in SAFETY:
        page.sheet.put(WHAT, line, "safety", across=READ)
        page.end_row(28)


def _state(page: Page) -> None:
    page.back(2, STATE, work.card_state, ("overall", "ready"), known=TEXT)
    keys = (page.book.key_for("pressure_before"),)
    said = pressure_words(page.book.edition)
    page.back(3, "pressure_before_said", said, keys, known=TEXT)
    placed(page, "card_said", WHAT, work.card_said, ("overall",), "card box", READ)
    cell = f"$A${page.sheet.row}"
    for words, style in (
        (("stop",), "stop"),
        (("caution",), "caution"),
        (("not checked", "not given", "not used"), "not checked"),
    ):
        tests = ",".join(begins_with(cell, word) for word in words)
        marked(page, (WHAT, READ), f"OR({tests})", style)
    page.end_row(40)


def _heads(page: Page, name: str, words: tuple[str, ...]) -> None:
    for column, said in enumerate(words, WHAT):
        style = "card column right" if column == AMOUNT else "card column"
        placed(page, f"{name}_{column}", column, work.if_on(said), (STATE,), style)
    marked(page, (WHAT, READ), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(16)


def _step(page: Page, name: str, what: Placed, amount: Placed, into: Placed, read: Placed) -> None:
    """A place of the line: what stands there, how it is set, a box to tick, what to expect."""
    row = page.sheet.row
    placed(page, f"{name}_what", WHAT, what[0], what[1], "card step")
    placed(page, f"{name}_set", AMOUNT, amount[0], amount[1], PAIRED[page.book.edition])
    page.sheet.put(TICK, "", "tick")
    placed(page, f"{name}_draws", INTO, into[0], into[1], "card words")
    placed(page, f"{name}_reads", READ, read[0], read[1], "card words")
    marked(page, (TICK, TICK), f"LEN($A{row})>0", "tick box")
    page.end_row(STEP)
    page.gap(BETWEEN)


def _row_of_injectors(page: Page) -> None:
    """The line as the water runs, from the supply to the emitters."""
    edition = page.book.edition
    heads = ("as the water runs", "set to", "done", "which is", "behind it")
    _heads(page, "card_head", heads)
    none: Placed = (work.if_on(""), (STATE,))
    flow = (work.flow_words(edition), (STATE, page.book.key_for("flow")))
    before = (work.shown_if_on, (STATE, "pressure_before_said"))
    _step(page, "card_water", (work.if_on("Water"), (STATE,)), flow, none, before)
    for i in EACH:
        place, scale = part("places", i), part("scales_said", i)
        setting = part("set_to", i)
        drawn = (part("percents_said", i), part("drawn_said", i))
        _step(
            page,
            f"card_place_{i + 1}",
            (work.there_if_on, (STATE, place, setting)),
            (work.there_if_on, (STATE, scale, setting)),
            (work.drawn_line, (STATE, *drawn)),
            (work.expected, (STATE, part("ec_behind", i), part("ph_behind", i))),
        )
    left = (work.shown_if_on, (STATE, part("pressures_said", 2)))
    reads = (work.expected, (STATE, "ec_feed", "feed_ph"))
    _step(page, "card_emitters", (work.if_on("Emitters"), (STATE,)), none, left, reads)
    placed(page, "card_start", WHAT, work.if_on(START), (STATE,), "card words", READ)
    page.end_row(32)
    placed(page, "card_mixed", WHAT, work.if_on("Take samples behind"), (STATE,), "card label")
    mixed = work.mixed_words(edition)
    placed(page, "card_mixed_said", AMOUNT, mixed, (STATE, "mixed_after"), "card pair")
    page.end_row(22)


def _stocks(page: Page) -> None:
    """What is in each stock."""
    _heads(page, "card_stock_head", ("in the stocks, acid into water", "whole tank", "in", "", ""))
    made = work.stock_line(page.book.edition)
    for i in range(PRODUCTS):
        product, mass = part("listed", i), part("used_amounts", i)
        of_product = (STATE, product, mass)
        density, stock = part("densities", i), part("used_tanks", i)
        name = f"card_product_{i + 1}"
        placed(page, name, WHAT, work.product_line, of_product, "card item")
        amount = (STATE, mass, density)
        placed(page, f"card_amount_{i + 1}", AMOUNT, made, amount, "card who")
        placed(page, f"card_into_{i + 1}", TICK, work.into_stock, (STATE, stock, mass), "tick")
        placed(page, f"card_hazard_{i + 1}", INTO, work.hazard_line, of_product, "card hazard", 2)
        page.end_row(16)


def _log(page: Page) -> None:
    _heads(page, "card_log", ("date, behind which", "EC read", "", "pH read", "by"))
    head = page.sheet.row - 1
    for _ in range(LOG_ROWS):
        for column in range(WHAT, READ + 1):
            page.sheet.put(column, "", "write here")
        marked(page, (WHAT, READ), f"LEN($A${head})>0", "line")
        page.end_row(18)
