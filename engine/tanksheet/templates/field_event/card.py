"""The field event's first table, and the card that is carried to the injector."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import LABEL, OTHER, TEXT, TYPED
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
from tanksheet.templates.field_event import card_working as work
from tanksheet.templates.field_event.telling import SAFETY
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.recipe.cards import PAIRED, STEP, placed


def make_ready(page: Page, row: int) -> None:
    """The first table: the product, and what goes through the injector."""
    below, page.sheet.row = page.sheet.row, row
    edition = page.book.edition
    page.weigh_section("Make ready", word="take")
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
    name = (typed_words, ("event_name",))
    page = card_sheet(book, "Event card", "Field event", name)
    _state(page)
    words = ("in this order", "each fill", "done", "at, h:min", "meter reads")
    heads(page, "card_head", words, work.if_mix)
    _steps(page)
    _expect(page)
    log(page, ("date, start", "stop", "", "EC at far end", "by"), work.if_mix)
    cautions(page, SAFETY)


def _state(page: Page) -> None:
    """The verdict, unless it passes; what the product does to a person."""
    keys = ("overall", "injection_rate")
    page.back(2, STATE, work.card_state, keys, label="mix or stop", known=TEXT)
    verdict_box(page, (work.card_said, ("overall",)))
    keys = (STATE, page.book.key_for("product"))
    placed(page, "card_hazard", WHAT, work.hazard_said, keys, "card words", READ)
    page.end_row(34)


def _step(page: Page, name: str, line: Any, amount: Any) -> None:
    """What to do, how much or how long, a box to tick, and room for the clock and a meter."""
    for end, column, (function, keys), style in (
        ("step", WHAT, line, "card step"),
        ("dose", AMOUNT, amount, PAIRED[page.book.edition]),
    ):
        asked = tuple(page.book.key_for(key) for key in (STATE, *keys))
        placed(page, f"{name}_{end}", column, function, asked, style)
    ticked(page, STEP, (FOURTH, READ))


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
