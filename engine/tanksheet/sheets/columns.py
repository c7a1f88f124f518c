"""Rows of a free table: entries and formulas side by side, for tables that repeat down a page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from tanksheet.sheets.book import part
from tanksheet.sheets.cells import Entry, Formula, Rule
from tanksheet.sheets.page import Page
from tanksheet.sheets.rules import number_rule, text_rule
from tanksheet.units import Quantity
from tanksheet.xlsx.address import Value

Function = Callable[..., Any]
# Makes the function and the keys of its arguments for a row, counted from 0.
Maker = Callable[[int], tuple[Function, tuple[str, ...]]]


class Table:
    """A table whose rows are alike, beginning at the page's present row."""

    def __init__(self, page: Page, rows: int) -> None:
        self.page, self.rows, self.first = page, rows, page.sheet.row

    def heads(self, titles: Sequence[str], row: int) -> None:
        for column, title in enumerate(titles, 1):
            self.page.sheet.specs.append(self._spec(column, title, row))

    def _spec(self, column: int, title: str, row: int) -> Any:
        sheet, before = self.page.sheet, self.page.sheet.row
        sheet.row = row
        sheet.put(column, title, "section" if column == 1 else "column head")
        sheet.row = before
        return sheet.specs.pop()

    def filled(
        self,
        key: str,
        column: int,
        label: str,
        defaults: Sequence[Value],
        *,
        words: tuple[str, ...] = (),
        list_name: str = "",
        style: str = "",
        pattern: str = "",
        optional: bool = True,
        **facts: Any,
    ) -> None:
        """A column that a person fills: words from a list, numbers, or any text.

        ``facts`` are what else is known of the entry, by its names in ``Entry``: limits, usual.
        """
        sheet = self.page.sheet
        cells = tuple(sheet.at(column, self.first + i) for i in range(self.rows))
        entry = Entry(key, cells, tuple(defaults), label, words, optional=optional, **facts)
        self.page.book.add_entry(entry)
        usually = ("typed maybe word" if optional else "typed word") if words else "typed"
        self._put_all(column, defaults, style or usually, pattern)
        if entry.limits:
            sheet.rules.append(number_rule(entry))
        elif words:
            message = f"{label}: choose from the list."
            sheet.rules.append(Rule(cells, message, "From the list", words, list_name=list_name))
        else:
            sheet.rules.append(text_rule(entry))

    def _put_all(self, column: int, contents: Sequence[Any], style: str, pattern: str = "") -> None:
        sheet, before = self.page.sheet, self.page.sheet.row
        for i, content in enumerate(contents):
            sheet.row = self.first + i
            sheet.put(column, content, style, pattern)
        sheet.row = before

    def labels(self, column: int, texts: Sequence[str], style: str = "label") -> None:
        self._put_all(column, texts, style)

    def computed(
        self,
        key: str,
        column: int,
        make: Maker,
        *,
        style: str = "grid",
        pattern: str = "",
        known: Quantity | None = None,
        hidden: bool = False,
        behind: bool = False,
    ) -> None:
        """A column of formulas, named as a range; ``hidden`` if it belongs to the working,
        ``behind`` if it stands on the sheet behind the page."""
        sheet, before = self.page.sheet, self.page.sheet.row
        keys = tuple(part(key, i) for i in range(self.rows))
        for i, each in enumerate(keys):
            sheet.row = self.first + i
            function, arguments = make(i)
            arguments = tuple(self.page.book.key_for(name) for name in arguments)
            if behind:
                self.page.back(
                    column,
                    each,
                    function,
                    arguments,
                    label=f"{key} {i + 1}",
                    pattern=pattern,
                    known=known,
                    named=False,
                )
                continue
            formula = Formula(each, sheet.at(column), function, arguments, key, known=known)
            self.page.formula(formula, style, pattern)
        sheet.row = before
        self.page.book.add_range(key, keys, hidden or sheet.working)

    def end(self) -> None:
        self.page.sheet.row = self.first + self.rows
