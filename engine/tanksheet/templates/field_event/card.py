"""The field event's first table, and the card that is carried to the injector."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import begins_with
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, OTHER, TEXT, TYPED
from tanksheet.templates.field_event import card_working as work
from tanksheet.templates.field_event.telling import SAFETY
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.recipe.cards import BETWEEN, PAIRED, STEP, WIDTHS, marked, placed

WHAT, AMOUNT, TICK, DONE, READ = range(1, 6)
LOG_ROWS = 4
STATE = "card_state"


def make_ready(page: Page, row: int) -> None:
    """The first table: the product, and what goes through the injector."""
    below, page.sheet.row = page.sheet.row, row
    edition = page.book.edition
    page.weigh_section("Make ready")
    product = ("product", "doses_given")
    whole = ("product_mass", "product_volume")
    for name, title, keys, amount, uses in (
        ("ready_product", work.product_name, product, work.product_amount(edition), whole),
        (
            "ready_stock",
            work.stock_name,
            ("density_counted", "water_parts"),
            work.volume_amount(edition),
            ("stock_volume", "density_counted", "water_parts"),
        ),
    ):
        asked = tuple(page.book.key_for(key) for key in keys)
        page.words(f"{name}_name", page.sheet.at(LABEL), title, asked, "label", hidden=True)
        page.words(
            name,
            page.sheet.at(TYPED),
            amount,
            tuple(map(page.book.key_for, uses)),
            "weight",
            hidden=True,
        )
        page.soft_if_stopped((page.sheet.at(TYPED),))
        if name == "ready_product":
            other = work.other_amount(edition)
            cell = page.sheet.at(OTHER)
            page.words("ready_weight", cell, other, uses, "means", hidden=True)
        page.end_row(19)
    page.sheet.row = below


def card(book: Book) -> None:
    page = add_page(book, "Event card", WIDTHS)
    page.sheet.one_page = True
    page.sheet.put(WHAT, "Field event", "card tank", across=2, down=2)
    placed(page, "card_name", DONE, typed_words, ("event_name",), "card who", 2)
    page.end_row(24)
    page.sheet.put(DONE, "date:", "card column")
    page.end_row(20)
    _state(page)
    _heads(page)
    _steps(page)
    _expect(page)
    _log(page)
    page.gap()
    for line in SAFETY:
        page.sheet.put(WHAT, line, "safety", across=READ)
        page.end_row(28)


def _state(page: Page) -> None:
    """The verdict, unless it passes; what the product does to a person."""
    keys = ("overall", "injection_rate")
    page.back(2, STATE, work.card_state, keys, label="mix or stop", known=TEXT)
    placed(page, "card_said", WHAT, work.card_said, ("overall",), "card box", READ)
    cell = f"$A${page.sheet.row}"
    for words, style in (
        (("stop",), "stop"),
        (("caution",), "caution"),
        (("not checked", "not given"), "not checked"),
    ):
        tests = ",".join(begins_with(cell, word) for word in words)
        marked(page, (WHAT, READ), f"OR({tests})", style)
    page.end_row(48)
    keys = (STATE, page.book.key_for("product"))
    placed(page, "card_hazard", WHAT, work.hazard_said, keys, "card words", READ)
    page.end_row(34)


def _heads(page: Page) -> None:
    for column, words, style in (
        (WHAT, "in this order", "card column"),
        (AMOUNT, "each fill", "card column right"),
        (TICK, "done", "card column middle"),
        (DONE, "at, h:min", "card column"),
        (READ, "meter reads", "card column"),
    ):
        placed(page, f"card_head_{column}", column, work.if_mix(words), (STATE,), style)
    marked(page, (WHAT, READ), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(16)


def _step(page: Page, name: str, line: Any, amount: Any) -> None:
    """What to do, how much or how long, a box to tick, and room for the clock and a meter."""
    row = page.sheet.row
    for end, column, (function, keys), style in (
        ("step", WHAT, line, "card step"),
        ("dose", AMOUNT, amount, PAIRED[page.book.edition]),
    ):
        asked = tuple(page.book.key_for(key) for key in (STATE, *keys))
        placed(page, f"{name}_{end}", column, function, asked, style)
    for column, style in ((TICK, "tick"), (DONE, "write here"), (READ, "write here")):
        page.sheet.put(column, "", style)
    marked(page, (TICK, TICK), f"LEN($A{row})>0", "tick box")
    marked(page, (DONE, READ), f"LEN($A{row})>0", "line")
    page.end_row(STEP)
    page.gap(BETWEEN)


def _steps(page: Page) -> None:
    edition = page.book.edition
    made_up = ("density_counted", "water_parts")
    _step(
        page,
        "card_rinse",
        (work.first_step, made_up),
        (work.first_amount(edition), (*made_up, "fill_volume")),
    )
    _step(
        page,
        "card_product",
        (work.product_step, ("product",)),
        (work.product_dose(edition), ("fill_mass", "fill_liquid")),
    )
    _step(
        page,
        "card_mark",
        (work.last_step, made_up),
        (work.filled_to(edition), ("fill_volume",)),
    )
    for name, words, function, key in (
        ("card_fills", "Fills of the tank", work.fills_said, "tank_fills"),
        ("card_water", "Plain water, till all lines are full", work.clock, "fill_time"),
        ("card_rate", "Set the injector to", work.rate_said(edition), "injection_rate"),
        ("card_inject", "Inject for", work.clock, "inject_hours"),
        ("card_flush", "Then plain water for", work.clock, "clean_hours"),
    ):
        _step(page, name, (work.if_mix(words), ()), (function, (key,)))


def _expect(page: Page) -> None:
    for name, words, function, keys in (
        ("card_ratio", "The rate is a ratio of", work.ratio_said, ("injection_ratio",)),
        ("card_ec", "EC to read at the far end", work.ec_said, ("ec_line",)),
        ("card_ppm", "Nutrient in the line", work.ppm_said, ("nutrient_ppm", "nutrient")),
    ):
        placed(page, f"{name}_label", WHAT, work.if_mix(words), (STATE,), "card label")
        asked = tuple(page.book.key_for(key) for key in (STATE, *keys))
        placed(page, f"{name}_said", AMOUNT, function, asked, "card pair")
        page.end_row(24)


def _log(page: Page) -> None:
    for column, words in enumerate(("date, start", "stop", "", "EC at far end", "by"), 1):
        placed(page, f"card_log_{column}", column, work.if_mix(words), (STATE,), "card column")
    head = page.sheet.row
    marked(page, (WHAT, READ), f"LEN($A{head})>0", "line")
    page.end_row(20)
    for _ in range(LOG_ROWS):
        for column in range(WHAT, READ + 1):
            page.sheet.put(column, "", "write here")
        marked(page, (WHAT, READ), f"LEN($A${head})>0", "line")
        page.end_row(19)
