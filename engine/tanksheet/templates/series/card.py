"""The card of a line: one page to hang at the row of injectors."""

from __future__ import annotations

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.card_sheet import (
    AMOUNT,
    FOURTH,
    OPEN,
    READ,
    STATE,
    TICK,
    WHAT,
    Placed,
    card_sheet,
    cautions,
    heads,
    log,
    ticked,
    verdict_box,
)
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.recipe.cards import PAIRED, placed
from tanksheet.templates.series import card_working as work
from tanksheet.templates.series.result_working import pressure_words
from tanksheet.templates.series.stock_working import PRODUCTS
from tanksheet.templates.series.stocks import EACH
from tanksheet.templates.series.telling import SAFETY

STEP = 32  # points
START = (
    "Water first; then one injector after the other, each measured behind it. Stop the injectors "
    "before the water, and flush."
)


def card(book: Book) -> None:
    page = card_sheet(book, "Line card", "Line", (typed_words, ("line_name",)))
    page.back(2, STATE, work.card_state, ("overall", "ready"), known=TEXT)
    keys = (page.book.key_for("pressure_before"),)
    said = pressure_words(page.book.edition)
    page.back(3, "pressure_before_said", said, keys, known=TEXT)
    verdict_box(page, (work.card_said, ("overall",)), 40, (*OPEN, "not used"))
    _row_of_injectors(page)
    _stocks(page)
    log(page, ("date, behind which", "EC read", "", "pH read", "by"), work.if_on, 16, 18)
    cautions(page, SAFETY)


def _step(page: Page, name: str, what: Placed, amount: Placed, into: Placed, read: Placed) -> None:
    """A place of the line: what stands there, how it is set, a box to tick, what to expect."""
    placed(page, f"{name}_what", WHAT, what[0], what[1], "card step")
    placed(page, f"{name}_set", AMOUNT, amount[0], amount[1], PAIRED[page.book.edition])
    placed(page, f"{name}_draws", FOURTH, into[0], into[1], "card words")
    placed(page, f"{name}_reads", READ, read[0], read[1], "card words")
    ticked(page, STEP, None)


def _row_of_injectors(page: Page) -> None:
    """The line as the water runs, from the supply to the emitters."""
    edition = page.book.edition
    words = ("as the water runs", "set to", "done", "which is", "behind it")
    heads(page, "card_head", words, work.if_on)
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
    words = ("in the stocks, acid into water", "whole tank", "in", "", "")
    heads(page, "card_stock_head", words, work.if_on)
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
        placed(page, f"card_hazard_{i + 1}", FOURTH, work.hazard_line, of_product, "card hazard", 2)
        page.end_row(16)
