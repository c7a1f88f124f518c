"""The page that a template writes on: inputs, results, verdicts, what-if grids and charts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet import definition
from tanksheet.sheets import choices
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Entry, Formula, Mark, Picture, Sheet
from tanksheet.sheets.inputs import InputRows
from tanksheet.sheets.rows import (
    LABEL,
    METRIC,
    METRIC_UNIT,
    NOTE,
    NUMBER,
    TEXT,
    TYPED,
    WIDTHS,
    Function,
)
from tanksheet.sheets.rules import number_rule
from tanksheet.units import QUANTITIES


def add_page(
    book: Book,
    title: str,
    widths: tuple[float, ...] = WIDTHS,
    landscape: bool = False,
    working: bool = False,
) -> Page:
    """A new sheet of the book to write on; the names of a ``working`` one are hidden."""
    sheet = Sheet(title, widths, landscape, working=working)
    book.sheets.append(sheet)
    return Page(book, sheet)


class Page(InputRows):
    """Everything that a template may put on a sheet."""

    def result(
        self,
        name: str,
        label: str,
        function: Function,
        *,
        unit: str = "",
        words: bool = False,
        may_be_words: bool = False,
        note: str = "",
        pattern: str = "",
        **uses: str,
    ) -> None:
        """A computed row. ``uses`` says which quantity stands for a parameter of another name."""
        record = definition.of(function)
        base = unit or (record.unit.symbol if record else "")
        known = TEXT if words else None if may_be_words else NUMBER
        self.sheet.put(LABEL, label, "result label")
        cell, arguments = self.sheet.at(METRIC), self.arguments(function, uses)
        formula = Formula(name, cell, function, arguments, label, name, known)
        style = "result word" if words else "result"
        self.formula(formula, style, pattern or choices.pattern(base))
        if not words:
            self.sheet.put(METRIC_UNIT, "" if base in ("parts", "money") else base, "unit")
            self.us_twin(name, base, may_be_words, "result")
        if note:
            self.sheet.put(NOTE, note, "note")
        self.end_row()

    def verdict(self, name: str, label: str, function: Function, **uses: str) -> None:
        """A verdict in words, beginning with pass, caution, stop or "not"."""
        self.sheet.put(LABEL, label, "label")
        arguments = self.arguments(function, uses)
        self.words(name, self.sheet.at(TYPED), function, arguments, "verdict", across=NOTE - 1)
        self.end_row(17)

    def line(
        self, name: str, function: Function, style: str = "card", tall: float = 22, **uses: str
    ) -> None:
        """A whole line of words."""
        arguments = self.arguments(function, uses)
        across = len(self.sheet.widths)
        self.words(name, self.sheet.at(LABEL), function, arguments, style, min(across, NOTE))
        self.end_row(tall)

    # what-if grids: rows down, columns across

    def axes(
        self,
        rows: tuple[str, str, Sequence[float]],
        columns: tuple[str, str, Sequence[float]],
        title: str,
        patterns: tuple[str, str],
    ) -> None:
        """The headings of the first grid, which a person may change.

        ``rows`` and ``columns`` are (name, glossary entry, values). The row headings stand in the
        rows that ``grid`` fills next.
        """
        name, quantity, values = columns
        cells = tuple(self.sheet.at(TYPED + i) for i in range(len(values)))
        self._axis(name, quantity, cells, values)
        self.sheet.put(LABEL, title, "grid corner")
        for cell, value in zip(cells, values, strict=True):
            self.sheet.put(cell.column, value, "grid typed", patterns[1])
        name, quantity, values = rows
        cells = tuple(self.sheet.at(LABEL, self.sheet.row + 1 + i) for i in range(len(values)))
        self._axis(name, quantity, cells, values)
        self._patterns = patterns

    def _axis(
        self, name: str, quantity: str, cells: tuple[Any, ...], values: Sequence[float]
    ) -> None:
        limits = QUANTITIES[quantity]
        usual = (min(values), max(values))
        entry = Entry(name, cells, tuple(values), limits.meaning, limits=limits, usual=usual)
        self.book.add_entry(entry)
        self.sheet.rules.append(number_rule(entry))

    def grid(
        self,
        name: str,
        function: Function,
        rows: str,
        columns: str,
        *,
        pattern: str,
        words: tuple[str, Function] | None = None,
        title: str = "",
        **uses: str,
    ) -> None:
        """A block of formulas, one for each row and column heading.

        ``function`` has parameters ``row`` and ``column``; ``words`` adds a verdict to each row.
        """
        down, along = self.book.entries[rows], self.book.entries[columns]
        first = down.cells[0].row == self.sheet.row + 1
        if not first:
            self._heading_row(along, columns, title, name)
        self.end_row(17)
        keys = []
        for i in range(len(down.cells)):
            self._row_heading(rows, i, first, name)
            for j in range(len(along.cells)):
                own = {"row": part(rows, i), "column": part(columns, j)} | uses
                key = part(name, i, j)
                cell = self.sheet.at(TYPED + j)
                arguments = self.arguments(function, own)
                self.formula(Formula(key, cell, function, arguments, name), "grid", pattern)
                keys.append(key)
            if words is not None:
                self._row_words(words, name, i, {"row": part(rows, i)} | uses)
            self.end_row(16)
        self.book.add_range(name, tuple(keys), self.sheet.working)
        if not first:
            row_keys = tuple(part(f"{name}_rows", i) for i in range(len(down.cells)))
            self.book.add_range(f"{name}_rows", row_keys, hidden=True)

    def _heading_row(self, along: Entry, columns: str, title: str, name: str) -> None:
        self.sheet.put(LABEL, title, "grid corner")
        keys = tuple(part(f"{name}_headings", j) for j in range(len(along.cells)))
        for j, key in enumerate(keys):
            formula = Formula(key, self.sheet.at(TYPED + j), same, (part(columns, j),), "")
            self.formula(formula, "grid head", self._patterns[1])
        self.book.add_range(f"{name}_headings", keys, hidden=True)

    def _row_heading(self, rows: str, i: int, first: bool, name: str) -> None:
        if first:
            value = self.book.entries[rows].default[i]
            self.sheet.put(LABEL, value, "grid typed left", self._patterns[0])
            return
        key = part(f"{name}_rows", i)
        formula = Formula(key, self.sheet.at(LABEL), same, (part(rows, i),), "")
        self.formula(formula, "grid head left", self._patterns[0])

    def _row_words(
        self, words: tuple[str, Function], name: str, i: int, own: dict[str, str]
    ) -> None:
        key, function = words
        own = {k: v for k, v in own.items() if k in function.__code__.co_varnames}
        cell = self.sheet.at(NOTE)
        self.words(f"{key}_{i + 1}", cell, function, self.arguments(function, own), "grid words")

    def mark_over(self, name: str, judged: str, limit: str, pattern: str) -> None:
        """Marks the cells of a grid where the same cell of ``judged`` is above a limit."""
        cells, other = self.book.named_cells()[name], self.book.named_cells()[judged]
        formula = f"AND(ISNUMBER({other[0].cell}),{other[0].cell}>{limit})"
        self.sheet.marks.append(Mark(cells, formula, "stop", pattern))

    def chart(self, grid: str, rows: str, columns: str, title: str, across: str, up: str) -> None:
        cells = self.book.named_cells()
        picture = Picture(
            self.sheet.at(LABEL), title, across, up, cells[columns], cells[rows], cells[grid]
        )
        self.sheet.pictures.append(picture)
        self.sheet.row += picture.rows_tall


def same(heading: Any) -> Any:
    """A heading carried over from the first grid; a blank stays blank."""
    return "" if heading == "" else heading
