"""Rows that only show: headings, notes, and the formula cells that every kind of row is made of."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tanksheet import definition
from tanksheet.sheets import choices, entries, measures
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Formula, Sheet
from tanksheet.units import Number, Quantity, Word
from tanksheet.xlsx.address import Address

Function = Callable[..., Any]
# The columns of a page, from A: what it is, the number, its unit, the number in the other system,
# the amount off, and words where there is something to say.
LABEL, TYPED, UNIT, OTHER, OFF, NOTE = range(1, 7)
WIDTHS = (27, 15, 8, 10, 9, 26)
# The columns of the hidden sheet behind a page, whose rows are the page's own.
ROW_NAME, READ, FACTOR, BASE, SAID, EXACT = range(1, 7)
NUMBER = Quantity(Number, "a number")
TEXT = Quantity(Word, "words")
LINE = 56  # characters of 10 points that a line over B to F holds
WIDE_LINE = 95  # the same over A to F
INPUT_HEIGHT = 18
TABLE_HEIGHT = 20.5  # of a row whose words may need two lines
UNIT_FITS = 10  # letters of a unit that its column holds in one line


def unit_height(unit: str) -> float:
    """How tall a row is for its unit, which may need a second line."""
    return INPUT_HEIGHT if len(unit) <= UNIT_FITS else 24


def unit_style(unit: str) -> str:
    return "unit" if len(unit) <= UNIT_FITS else "unit tall"


@dataclass
class Rows:
    """Adds rows to one sheet of a book."""

    book: Book
    sheet: Sheet

    @property
    def behind(self) -> Sheet:
        """The hidden sheet for what a page works out and nobody reads, row by row; of a sheet of
        the working it is that sheet itself."""
        if self.sheet.working:
            return self.sheet
        title = f"Behind {self.sheet.title}"[:31]
        for sheet in self.book.sheets:
            if sheet.title == title:
                return sheet
        widths = (30, 14, 14, 14, 40, 14)
        made = Sheet(title, widths, working=True, hidden=True)
        self.book.sheets.append(made)
        return made

    def heading(self, text: str, below: str) -> None:
        across = len(self.sheet.widths)
        self.sheet.put(LABEL, text, "title", across=across)
        self.end_row(28)
        self.sheet.put(LABEL, below, "lead", across=across)
        self.end_row(30)

    def section(self, text: str, *heads: str) -> None:
        """Bold words over a thin rule, with the heads of the columns from B."""
        self.sheet.put(LABEL, text, "section")
        for column in range(TYPED, NOTE + 1):
            head = heads[column - TYPED] if column - TYPED < len(heads) else ""
            right = column in (TYPED, OTHER, OFF)
            self.sheet.put(column, head, "column head right" if right else "column head")
        self.end_row(24)

    def section_words(self, text: str, columns: int) -> None:
        """A heading only, as wide as a table."""
        self.sheet.put(LABEL, text, "section")
        for column in range(TYPED, columns + 1):
            self.sheet.put(column, "", "column head")
        self.end_row(24)

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

    def note(self, text: str, style: str = "note", tall: float = 0) -> None:
        """Words over the whole width, as many lines as they need."""
        self.sheet.put(LABEL, text, style, across=min(len(self.sheet.widths), NOTE))
        self.end_row(tall or 14.0 * (1 + len(text) // WIDE_LINE) + 2)

    def gap(self, tall: float = 8) -> None:
        self.end_row(tall)

    def safety(self, lines: Sequence[str]) -> None:
        self.sheet.put(LABEL, "Safety", "safety title")
        for column in range(TYPED, NOTE + 1):
            self.sheet.put(column, "", "safety title")
        self.end_row(24)
        for line in lines:
            self.note(line, "safety")

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
        down: int = 1,
    ) -> None:
        """``hidden`` if its name belongs to the working, as all names of a working sheet do."""
        self.book.add_formula(formula, hidden or self.sheet.working)
        self.sheet.put(formula.cell.column, formula, style, pattern, across, down)

    def words(
        self,
        name: str,
        cell: Address,
        function: Function,
        arguments: tuple[str, ...],
        style: str,
        across: int = 1,
        hidden: bool = False,
        down: int = 1,
    ) -> None:
        formula = Formula(name, cell, function, arguments, "", name=name, known=TEXT)
        self.formula(formula, style, "", across, hidden, down)

    def back(
        self,
        column: int,
        key: str,
        function: Function,
        arguments: tuple[str, ...],
        *,
        label: str = "",
        pattern: str = "",
        known: Quantity | None = None,
        named: bool = True,
        open_name: bool = False,
    ) -> Formula:
        """A formula on the sheet behind the page, in the page's present row; people's lists of
        names have it only with an ``open_name``."""
        behind, row = self.behind, self.sheet.row
        formula = Formula(
            key, behind.at(column, row), function, arguments, label, key if named else "", known
        )
        self.book.add_formula(formula, not open_name)
        before, behind.row = behind.row, row
        labelled = any(s.cell == behind.at(ROW_NAME) for s in behind.specs)
        if behind is not self.sheet and not labelled:
            behind.put(ROW_NAME, label or key, "row name")
        behind.put(column, formula, "quiet", pattern)
        behind.row = before
        return formula

    def number(
        self,
        name: str,
        function: Function,
        arguments: tuple[str, ...],
        base: str,
        *,
        column: int = TYPED,
        label: str = "",
        pattern: str = "",
        style: str = "worked out",
        known: Quantity | None = NUMBER,
        hidden: bool = False,
    ) -> str:
        """A number that is worked out, in the unit of the edition; gives that unit. Its name holds
        the base unit, on the sheet behind where another unit is shown."""
        unit = choices.shown_unit(base, self.book.edition)
        if unit == base:
            formula = Formula(
                name, self.sheet.at(column), function, arguments, label or name, name, known
            )
            self.formula(formula, style, pattern or choices.pattern(base), hidden=hidden)
            return unit
        self.back(
            EXACT + column - TYPED,
            name,
            function,
            arguments,
            label=label,
            pattern=pattern or choices.pattern(base),
            known=known,
            open_name=not hidden,
        )
        self._twin(name, base, unit, column, style, known is None)
        return unit

    def _twin(
        self, name: str, base: str, unit: str, column: int, style: str, may_be_words: bool
    ) -> None:
        """A number of the sheet behind, on the page in another unit."""
        key = f"{name.removesuffix('_in_' + choices.suffix(base))}_in_{choices.suffix(unit)}"
        function = entries.in_unit(base, unit, may_be_words)
        known = None if may_be_words else NUMBER
        twin = Formula(key, self.sheet.at(column), function, (name,), "", key, known)
        self.formula(twin, style, choices.pattern(unit), hidden=True)

    def in_other_system(self, key: str, base: str) -> None:
        """What a number comes to in the other system's unit, soft, in column D."""
        other = choices.other_unit(base, self.book.edition)
        if not other:
            return
        name = f"{key}_other"
        formula = Formula(
            name, self.sheet.at(OTHER), measures.in_words(base, other), (key,), "", name, TEXT
        )
        self.formula(formula, "means", hidden=True)

    def arguments(self, function: Function, uses: Mapping[str, str]) -> tuple[str, ...]:
        """The keys that stand for a function's parameters, those of the same name unless told."""
        record = definition.of(function)
        parameters = list(inspect.signature(record.body if record else function).parameters)
        strange = set(uses) - set(parameters)
        if strange:
            raise ValueError(f"{function} has no parameters {sorted(strange)}")
        return tuple(self.book.key_for(uses.get(name, name)) for name in parameters)
