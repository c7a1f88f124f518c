"""Rows that only show: headings, notes, and the formula cells that every kind of row is made of."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tanksheet import definition
from tanksheet.sheets import choices, entries
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Formula, Sheet
from tanksheet.units import Number, Quantity, Word
from tanksheet.xlsx.address import Address

Function = Callable[..., Any]
# The columns of a page, from A: what a row may hold, left to right.
LABEL, TYPED, UNIT, METRIC, METRIC_UNIT, US, US_UNIT, NOTE, FACTOR = range(1, 10)
WIDTHS = (36, 11, 10, 12, 7, 12, 8, 41, 9)
NUMBER = Quantity(Number, "a number")
TEXT = Quantity(Word, "words")


@dataclass
class Rows:
    """Adds rows to one sheet of a book."""

    book: Book
    sheet: Sheet

    def heading(self, text: str, below: str) -> None:
        self.sheet.put(LABEL, text, "title", across=NOTE)
        self.end_row(28)
        self.sheet.put(LABEL, below, "lead", across=NOTE)
        self.end_row(30)

    def section(
        self, text: str, holds: str = "inputs", us: str = "US", metric: str = "metric"
    ) -> None:
        """A band across the page; ``holds`` is "inputs", "results" or "words"."""
        inputs, figures = holds == "inputs", holds != "words"
        titles = {
            TYPED: "you type" if inputs else "",
            UNIT: "unit" if inputs else "",
            METRIC: metric if figures else "",
            US: us if figures else "",
            NOTE: "check and note" if figures else "",
        }
        self.sheet.put(LABEL, text, "section")
        for column in range(TYPED, NOTE + 1):
            style = "section note" if column == NOTE else "section column"
            self.sheet.put(column, titles.get(column, ""), style)
        self.end_row(19)

    def section_words(self, text: str, columns: int) -> None:
        """A band with a heading only, as wide as a table."""
        self.sheet.put(LABEL, text, "section")
        for column in range(TYPED, columns + 1):
            self.sheet.put(column, "", "section column")
        self.end_row(19)

    def place(
        self,
        name: str,
        column: int,
        function: Function,
        arguments: tuple[str, ...],
        pattern: str,
    ) -> None:
        """A named number in any column of the present row."""
        keys = tuple(self.book.key_for(key) for key in arguments)
        cell = self.sheet.at(column)
        self.formula(Formula(name, cell, function, keys, name, name, NUMBER), "grid", pattern)

    def note(self, text: str, style: str = "note", tall: float = 15) -> None:
        self.sheet.put(LABEL, text, style, across=NOTE)
        self.end_row(tall)

    def gap(self, tall: float = 7) -> None:
        self.end_row(tall)

    def safety(self, lines: Sequence[str]) -> None:
        self.note("Safety", "safety title", 18)
        for line in lines:
            self.note(line, "safety", 16 if len(line) < 160 else 29)

    def end_row(self, tall: float | None = None) -> None:
        if tall is not None:
            self.sheet.heights[self.sheet.row] = tall
        self.sheet.row += 1

    # formula cells

    def formula(
        self,
        formula: Formula,
        style: str,
        pattern: str = "",
        across: int = 1,
        hidden: bool = False,
    ) -> None:
        """``hidden`` if its name belongs to the working, as all names of a working sheet do."""
        self.book.add_formula(formula, hidden or self.sheet.working)
        self.sheet.put(formula.cell.column, formula, style, pattern, across)

    def words(
        self,
        name: str,
        cell: Address,
        function: Function,
        arguments: tuple[str, ...],
        style: str,
        across: int = 1,
        hidden: bool = False,
    ) -> None:
        formula = Formula(name, cell, function, arguments, "", name=name, known=TEXT)
        self.formula(formula, style, "", across, hidden)

    def us_twin(self, key: str, base: str, may_be_words: bool, style: str) -> None:
        """The same value in the unit that a US reader expects, to its right; its name is hidden."""
        unit = choices.US_UNIT.get(base)
        if unit is None:
            return
        name = f"{key.removesuffix('_in_' + choices.suffix(base))}_in_{choices.suffix(unit)}"
        twin = Formula(
            name,
            self.sheet.at(US),
            entries.in_unit(base, unit, may_be_words),
            (key,),
            "",
            name=name,
            known=None if may_be_words else NUMBER,
        )
        self.formula(twin, style, choices.pattern(unit), hidden=True)
        self.sheet.put(US_UNIT, unit, "unit")

    def arguments(self, function: Function, uses: Mapping[str, str]) -> tuple[str, ...]:
        """The keys that stand for a function's parameters, those of the same name unless told."""
        record = definition.of(function)
        parameters = list(inspect.signature(record.body if record else function).parameters)
        strange = set(uses) - set(parameters)
        if strange:
            raise ValueError(f"{function} has no parameters {sorted(strange)}")
        return tuple(self.book.key_for(uses.get(name, name)) for name in parameters)
