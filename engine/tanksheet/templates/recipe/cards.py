"""The recipe workbook's mixing cards: one a tank, what goes in, in order."""

from __future__ import annotations

from collections.abc import Sequence

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.recipe import card_working as card
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.feed import PRODUCTS, each
from tanksheet.templates.working import itself


def cards(book: Book, safety: Sequence[str]) -> None:
    """One card a tank: what goes in, in order; only the reason and the cure where it must not."""
    page = add_page(book, "Mixing cards", widths=(90, 2, 2))
    page.sheet.put(1, "Mixing cards", "card title")
    page.end_row(30)
    for letter in work.TANKS:
        _card(page, letter)
    for text in safety:
        page.sheet.put(1, text, "safety")
        page.end_row(42)


def _card(page: Page, letter: str) -> None:
    low = letter.lower()
    worst = f"worst_{low}"
    head = {"tank": f"tank_{low}", "worst": worst}
    page.line(f"card_{low}", card.card_head(letter), "card head", 24, **head)
    page.line(f"card_{low}_verdict", itself, "card", 30, verdict=f"clear_{low}")
    table = Table(page, PRODUCTS)
    codes = f"codes_{low}"
    table.computed(
        codes,
        5,
        lambda i: (
            card.order_code(letter, i + 1),
            (part("listed", i), part("tanks", i), part("used_amounts", i), worst),
        ),
        style="quiet",
        hidden=True,
    )
    table.computed(
        f"places_{low}",
        6,
        lambda i: (card.place_in_list(i + 1), (codes,)),
        style="quiet",
        hidden=True,
    )
    if letter == work.TANKS[0]:
        hazards = each(card.hazard_of, "listed")
        table.computed("hazards", 7, hazards, style="quiet", known=TEXT, hidden=True)
    table.computed(
        f"lines_{low}",
        1,
        lambda i: (
            card.card_line(i + 1),
            (part(f"places_{low}", i), "listed", "used_amounts", "densities", "hazards"),
        ),
        style="card",
        known=TEXT,
    )
    table.end()
    page.gap()
