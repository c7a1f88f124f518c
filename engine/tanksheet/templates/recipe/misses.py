"""The recipe workbook's hidden sheet "Misses": why a target cannot be met, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import misses_working as work
from tanksheet.templates.recipe.feed import NITROGEN, PRODUCTS, each
from tanksheet.templates.recipe.feed_working import named
from tanksheet.templates.working import itself

# Acid takes alkalinity and alkali brings it: both stand beside the elements.
ACID, ALKALI = "acid", "alkalinity"


def misses_sheet(book: Book, elements: Sequence[str]) -> None:
    """Works out ``why``, a reason for each element that would be missed, and ``why_alkalinity``.

    Reads ``misses``, ``goals``, ``weights_of`` and ``free`` of the sheet Amounts.
    """
    names = (*elements, ACID, ALKALI)
    page = add_page(book, "Misses", (30, *[9] * (len(names) + 4)), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading(
        "Misses",
        "1: the product brings some of it and its amount is worked out. Below: which two targets "
        "are in each other's way. Nothing to type here.",
    )
    head = page.sheet.row
    page.end_row()
    products = Table(page, PRODUCTS)
    products.heads(["Product", *names], head)
    again = each(itself, "listed")
    products.computed("products_that_bring", 1, again, known=TEXT, style="row name")
    for column, name in enumerate(names, 2):
        products.computed(_brings(name), column, _made(name))
    products.end()
    page.gap()
    _pairs(Table(page, len(names)), names)
    page.gap()
    _reasons(Table(page, len(elements)), names)


def _brings(name: str) -> str:
    return f"brings_{name.lower()}"


def _made(name: str) -> Maker:
    if name in (ACID, ALKALI):
        ions = ("ion_hydrogen", "ion_bicarbonate")
        return each(work.brings_more, "listed", "free", *(ions if name == ACID else ions[::-1]))
    if name == "N":
        forms = (f"percent_{form}" for form in NITROGEN)
        return each(work.brings_nitrogen, "listed", "free", *forms)
    return each(work.brings, "listed", "free", f"percent_{name.lower()}")


def _pairs(table: Table, names: Sequence[str]) -> None:
    """Row by row: what there is too much or too little of, and what is in its way."""
    last = len(names) - 2  # the row of the alkalinity among the weights
    words: dict[str, Any] = {"known": TEXT, "style": "quiet"}
    table.computed("pair_names", 1, lambda i: (named(names[i]), ()), known=TEXT, style="row name")

    def state(i: int) -> tuple[Any, tuple[str, ...]]:
        function = work.state_of_acid if names[i] == ACID else work.state_of
        return function, (part("weights_of", min(i, last)), part("misses", min(i, last)))

    table.computed("states", 2, state, **words)
    count: Maker = lambda i: (work.how_many, (_brings(names[i]),))  # noqa: E731
    table.computed("free_of", 3, count, known=NUMBER)
    for j, other in enumerate(names):
        table.computed(_blocks(other), 4 + j, _in_the_way(names, j), **words)
    table.end()


def _blocks(name: str) -> str:
    return f"blocks_{name.lower()}"


def _in_the_way(names: Sequence[str], j: int) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        mine = (part("states", j), part("free_of", j), _brings(names[j]))
        return work.in_the_way, (*mine, part("states", i), _brings(names[i]))

    return make


def _reasons(table: Table, names: Sequence[str]) -> None:
    def reason(i: int) -> tuple[Any, tuple[str, ...]]:
        of_row = (part(key, i) for key in ("weights_of", "misses", "goals", "from_water"))
        key = table.page.book.key_for("tolerance")
        mine = (part("free_of", i), _brings(names[i]), _blocks(names[i]))
        return work.reason_of(names[i]), (*of_row, key, *mine, "pair_names", "listed")

    table.computed("why", 2, reason, known=TEXT, style="quiet")
    table.end()
    last = len(names) - 2
    acid, alkali = len(names) - 2, len(names) - 1
    keys: tuple[str, ...] = (
        *(part("weights_of", last), part("misses", last), part("goals", last), "tolerance"),
        *(part("free_of", acid), _brings(ACID), _blocks(ACID)),
        *(part("free_of", alkali), _brings(ALKALI), _blocks(ALKALI)),
        *("pair_names", "listed"),
    )
    page = table.page
    keys = tuple(page.book.key_for(key) for key in keys)
    page.words("why_alkalinity", page.sheet.at(2), work.reason_of_alkalinity, keys, "quiet")
    page.end_row()
