"""One line that says the worst verdict of a page first, from a hidden list of all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tanksheet.sheets.book import part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.working import (
    advice,
    headline,
    itself,
    kind_of,
    one,
    worst_kind,
    worst_of,
)


@dataclass
class Verdicts:
    """The verdicts of a page in the order of their rows."""

    page: Page
    names: list[str] = field(default_factory=list)
    minor: list[str] = field(default_factory=list)

    def add(
        self,
        name: str,
        label: str,
        function: Callable[..., Any],
        minor: bool = False,
        tall: float = 26,
        first: bool = False,
        **uses: str,
    ) -> None:
        """A verdict that counts; of those that are as bad a ``first`` one is said before all others
        and a ``minor`` one after them."""
        self.page.verdict(name, label, function, tall, **uses)
        names = self.minor if minor else self.names
        names.insert(0 if first else len(names), name)

    def close(self, *tiles: Tile) -> None:
        """The hidden list, and the answer block at the top."""
        book = self.page.book
        listed = add_page(book, "Verdicts", widths=(90, 12, 6), working=True)
        listed.sheet.hidden = True
        names = [*self.names, *self.minor]
        table = Table(listed, len(names))
        table.computed("all_verdicts", 1, lambda i: (itself, (names[i],)), known=TEXT)
        table.computed("all_kinds", 2, lambda i: (kind_of, (names[i],)), known=TEXT)
        kinds = [part("all_kinds", i) for i in range(len(names))]
        table.computed("all_ones", 3, lambda i: (one, (kinds[i],)), known=NUMBER)
        table.end()
        listed.words("all_kind", listed.sheet.at(1), worst_kind, ("all_kinds",), "table")
        listed.end_row()
        uses = {"kinds": "all_kinds", "verdicts": "all_verdicts", "ones": "all_ones"}
        uses["kind"] = "all_kind"
        keys = tuple(uses[each] for each in ("kind", "kinds", "verdicts", "ones"))
        cell = listed.sheet.at(1)
        overall = Formula("overall", cell, worst_of, keys, "The worst verdict", "overall", TEXT)
        book.add_formula(overall)
        listed.sheet.put(1, overall, "table")
        listed.end_row()
        self.page.answer(headline, advice, tiles, **uses)


def verdicts_of(page: Page) -> Verdicts:
    """Keeps the verdicts of a page for its answer block."""
    return Verdicts(page)
