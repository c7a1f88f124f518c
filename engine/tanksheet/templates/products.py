"""A product chosen from the list of fertilizers, for the workbooks that take one or two."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from tanksheet.sheets.cells import Entry, Rule
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import BASE, LABEL, NOTE, TEXT, TYPED
from tanksheet.tables import rows
from tanksheet.templates.product_working import listed_product, product_message
from tanksheet.units import GramPerL, Quantity

NAMES = tuple(str(row["product"]) for row in rows("fertilizers"))
# The limit of solubility in finished stock; nothing here is heavier than 2 kg a litre.
STRENGTH = Quantity(GramPerL, "fertilizer in a volume of saturated stock", 0, 2000, above=True)
LIST_NAME = "fert_fertilizers_product"


def product_choice(
    page: Page,
    name: str,
    label: str,
    message: Callable[..., Any] = product_message,
    uses: tuple[str, ...] = (),
    default: str | None = None,
) -> None:
    """A row for a product of the table, which may stay blank.

    ``message`` makes the words beside it, from what is chosen and the quantities ``uses``.
    """
    sheet, book = page.sheet, page.book
    sheet.put(LABEL, label, "label")
    sheet.put(TYPED, default, "typed maybe word", across=4)
    entry = Entry(name, (sheet.at(TYPED),), (default,), label, words=NAMES, optional=True)
    book.add_entry(entry)
    prompt = f"{label}: choose from the list, or leave it blank."
    rule = Rule(entry.cells, prompt, "From the list", NAMES, list_name=LIST_NAME)
    sheet.rules.append(rule)
    key, known = f"{name}_checked", replace(TEXT, words=NAMES)
    page.back(BASE, key, listed_product, (name,), label=label, known=known)
    book.aliases[name] = key
    cell, others = sheet.at(NOTE), tuple(book.key_for(each) for each in uses)
    page.words(f"{name}_note", cell, message, (name, *others), "words", hidden=True)
    page.end_row(18)
