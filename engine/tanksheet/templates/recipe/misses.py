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
from tanksheet.templates.recipe.forms import FORMS
from tanksheet.templates.recipe.target_working import named
from tanksheet.templates.working import itself

# Acid takes alkalinity and alkali brings it: both stand beside the elements.
ACID, ALKALI = "acid", work.ALKALI


def misses_sheet(book: Book, elements: Sequence[str]) -> None:
    """Works out ``why``, a reason for each element that would be missed, ``why_alkalinity``, and
    ``why_forms`` for the forms of nitrogen.

    Reads ``misses``, ``goals``, ``weights_of`` and ``free`` of the sheet Amounts.
    """
    names = (*elements, ACID, ALKALI, *FORMS)
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


def _in_names(name: str) -> str:
    return name.lower().replace("-", "_")


def _brings(name: str) -> str:
    return f"brings_{_in_names(name)}"


def _made(name: str) -> Maker:
    if name in (ACID, ALKALI):
        ions = ("ion_hydrogen", "ion_bicarbonate")
        return each(work.brings_more, "listed", "free", *(ions if name == ACID else ions[::-1]))
    if name == "N":
        forms = (f"percent_{form}" for form in NITROGEN)
        return each(work.brings_nitrogen, "listed", "free", *forms)
    column = FORMS[name][1] if name in FORMS else name.lower()
    return each(work.brings, "listed", "free", f"percent_{column}")


def _pairs(table: Table, names: Sequence[str]) -> None:
    """Row by row: what there is too much or too little of, and what is in its way."""
    weights = _weights(names)
    words: dict[str, Any] = {"known": TEXT, "style": "quiet"}
    table.computed("pair_names", 1, lambda i: (named(names[i]), ()), known=TEXT, style="row name")

    def state(i: int) -> tuple[Any, tuple[str, ...]]:
        function = work.state_of_acid if names[i] == ACID else work.state_of
        return function, (part("weights_of", weights[i]), part("misses", weights[i]))

    table.computed("states", 2, state, **words)
    count: Maker = lambda i: (work.how_many, (_brings(names[i]),))  # noqa: E731
    table.computed("free_of", 3, count, known=NUMBER)
    for j, other in enumerate(names):
        table.computed(_blocks(other), 4 + j, _in_the_way(names, j), **words)
    table.end()


def _weights(names: Sequence[str]) -> list[int]:
    """The row of each name among the weights, where acid and alkalinity are one."""
    alkali = names.index(ALKALI)
    return [i if i < alkali else i - 1 for i in range(len(names))]


def _blocks(name: str) -> str:
    return f"blocks_{_in_names(name)}"


def _in_the_way(names: Sequence[str], j: int) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        mine = (part("states", j), part("free_of", j), _brings(names[j]))
        return work.in_the_way, (*mine, part("states", i), _brings(names[i]))

    return make


def _reasons(table: Table, names: Sequence[str]) -> None:
    acid, alkali = names.index(ACID), names.index(ALKALI)
    weights = _weights(names)

    def reason(place: int, water: str) -> tuple[Any, tuple[str, ...]]:
        row = weights[place]
        of_row = (part(key, row) for key in ("weights_of", "misses", "goals"))
        mine = (part("free_of", place), _brings(names[place]), _blocks(names[place]))
        keys = (*of_row, water, part("tolerances_used", row), *mine, "pair_names", "listed")
        return work.reason_of(names[place]), keys

    words: dict[str, Any] = {"known": TEXT, "style": "quiet"}
    table.computed("why", 2, lambda i: reason(i, part("from_water", i)), **words)
    table.end()
    keys: tuple[str, ...] = (
        *(part(key, acid) for key in ("weights_of", "misses", "goals", "tolerances_used")),
        *(part("free_of", acid), _brings(ACID), _blocks(ACID)),
        *(part("free_of", alkali), _brings(ALKALI), _blocks(ALKALI)),
        *("pair_names", "listed"),
    )
    page = table.page
    page.words("why_alkalinity", page.sheet.at(2), work.reason_of_alkalinity, keys, "quiet")
    page.end_row()
    forms = Table(page, len(FORMS))
    first = alkali + 1
    why = lambda i: reason(first + i, part("form_water", i))  # noqa: E731
    forms.computed("why_forms", 2, why, **words)
    forms.end()
