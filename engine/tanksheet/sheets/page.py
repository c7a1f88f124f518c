"""The page that a template writes on: inputs, results, verdicts, what-if grids and charts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tanksheet import definition
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Entry, Formula, Mark, Picture, Sheet, begins_with
from tanksheet.sheets.inputs import InputRows
from tanksheet.sheets.measures import unless_pass, weigh_head
from tanksheet.sheets.rows import (
    FACTOR,
    INPUT_HEIGHT,
    LABEL,
    NOTE,
    NUMBER,
    OTHER,
    SAID,
    TEXT,
    TYPED,
    UNIT,
    WIDTHS,
    Function,
    unit_height,
    unit_style,
)
from tanksheet.sheets.rules import number_rule, text_rule
from tanksheet.sheets.style import LEAF
from tanksheet.units import QUANTITIES, Quantity
from tanksheet.xlsx.address import Address, Value

# Title, verdict, labels and figures of the tiles, a rule: 120 points, 160 pixels, as much as a
# window on a phone held sideways can spare.
ANSWER_HEIGHTS = (24, 46, 15, 29, 6)
ANSWER_ROWS = len(ANSWER_HEIGHTS)


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


@dataclass(frozen=True)
class Tile:
    """A figure of the answer block: its label in row 3, its words in row 4, in one column."""

    column: int
    label: str
    function: Function
    uses: Mapping[str, str] = field(default_factory=dict)


class Page(InputRows):
    """Everything that a template may put on a sheet."""

    def opening(self, title: str, across: int = NOTE) -> None:
        """The rows of the answer block, which stay at the top; ``answer`` fills them."""
        self.sheet.put(LABEL, title, "title", across=across)
        self.sheet.row = ANSWER_ROWS + 1
        self.sheet.frozen = ANSWER_ROWS
        self.sheet.tab = LEAF
        for row, tall in enumerate(ANSWER_HEIGHTS, 1):
            self.sheet.heights[row] = tall

    def named_opening(self, title: str, name: str, label: str, words: tuple[str, ...]) -> None:
        """The same, with a name to type beside the title; the first word is the example's."""
        self.opening(title, across=1)
        below, self.sheet.row = self.sheet.row, 1
        self.typed_text(name, TYPED, label, words[0], words, OTHER - LABEL)
        self.sheet.row = below

    def typed_text(
        self,
        name: str,
        column: int,
        label: str,
        default: Value,
        words: tuple[str, ...],
        across: int,
    ) -> None:
        """Any text to type, in the present row; ``words`` are what random cases type."""
        cell = self.sheet.at(column)
        entry = Entry(name, (cell,), (default,), label, optional=True, usual_words=words)
        self.book.add_entry(entry)
        self.sheet.put(column, default, "typed word", across=across)
        self.sheet.rules.append(text_rule(entry))

    def keep_rows(self, rows: int) -> int:
        """Leaves rows for what is worked out further down; gives the first of them."""
        first = self.sheet.row
        self.sheet.row += rows
        return first

    def weigh_section(self, title: str, *heads: str, word: str = "weigh") -> None:
        """The head of the table of weights, which says "do not mix" where the verdict stops."""
        self.section(title, *heads)
        cell = self.sheet.at(TYPED, self.sheet.row - 1)
        self.sheet.specs = [spec for spec in self.sheet.specs if spec.cell != cell]
        after, self.sheet.row = self.sheet.row, cell.row
        look = "column head right"
        self.words("weigh_head", cell, weigh_head(word), ("overall",), look, hidden=True)
        self.sheet.row = after

    def soft_if_stopped(self, cells: Sequence[Address]) -> None:
        self.sheet.marks.append(Mark(tuple(cells), begins_with("$A$2", "stop"), "soft"))

    def answer(
        self, headline: Function, advice: Function, tiles: Sequence[Tile], **uses: str
    ) -> None:
        """Fills the answer block: the verdict, what to do, and up to six figures."""
        below, self.sheet.row = self.sheet.row, 2
        for name, column, function, style in (
            ("headline", LABEL, headline, "verdict"),
            ("advice", OTHER, advice, "advice"),
        ):
            cell = self.sheet.at(column)
            self.words(name, cell, function, self.arguments(function, uses), style, 3, True)
        for tile in tiles:
            self.sheet.row = 3
            self.sheet.put(tile.column, tile.label, "tile label")
            self.sheet.row = 4
            name, cell = f"tile_{tile.column}", self.sheet.at(tile.column)
            arguments = self.arguments(tile.function, tile.uses)
            self.words(name, cell, tile.function, arguments, "tile", hidden=True)
        self.sheet.row = ANSWER_ROWS
        for column in range(LABEL, NOTE + 1):
            self.sheet.put(column, "", "rule")
        self.sheet.row = below

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
        self.sheet.put(LABEL, label, "label")
        arguments = self.arguments(function, uses)
        if words:
            formula = Formula(name, self.sheet.at(TYPED), function, arguments, label, name, TEXT)
            self.formula(formula, "worked word", across=2)
        else:
            known = None if may_be_words else NUMBER
            shown = self.number(
                name, function, arguments, base, label=label, pattern=pattern, known=known
            )
            self.sheet.put(UNIT, "" if base in ("parts", "money") else shown, unit_style(shown))
            self.in_other_system(name, base)
        if note:
            self.sheet.put(NOTE, note, "words")
        self.end_row(INPUT_HEIGHT if words else unit_height(shown))

    def verdict(
        self, name: str, label: str, function: Function, tall: float = 26, **uses: str
    ) -> None:
        """A verdict in words, beginning with pass, caution, stop or "not"; on the page it says
        something only where it is no pass. ``tall`` is for words of more than two lines."""
        self.back(
            SAID,
            name,
            function,
            self.arguments(function, uses),
            label=label,
            known=TEXT,
            open_name=True,
        )
        self.sheet.put(LABEL, label, "label")
        cell = self.sheet.at(TYPED)
        self.words(f"{name}_said", cell, unless_pass, (name,), "said", NOTE - 1, hidden=True)
        self.end_row(tall)

    def working_value(self, name: str, function: Function, **uses: str) -> None:
        """A value of the working, behind the row above; its name is hidden."""
        arguments = self.arguments(function, uses)
        after, self.sheet.row = self.sheet.row, self.sheet.row - 1
        self.back(FACTOR, name, function, arguments, pattern="0.######")
        self.sheet.row = after

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
        rows: tuple[str, str | Quantity, Sequence[float | None]],
        columns: tuple[str, str | Quantity, Sequence[float | None]],
        title: str,
        patterns: tuple[str, str],
    ) -> None:
        """The headings of the first grid, which a person may change.

        ``rows`` and ``columns`` are (name, quantity or its name in the glossary, values). The row
        headings stand in the rows that ``grid`` fills next.
        """
        name, quantity, values = columns
        cells = tuple(self.sheet.at(TYPED + i) for i in range(len(values)))
        self._axis(name, quantity, cells, values)
        self.sheet.put(LABEL, title, "grid corner")
        for cell, value in zip(cells, values, strict=True):
            self.sheet.put(cell.column, value, "typed heading", patterns[1])
        name, quantity, values = rows
        cells = tuple(self.sheet.at(LABEL, self.sheet.row + 1 + i) for i in range(len(values)))
        self._axis(name, quantity, cells, values)
        self._patterns = patterns

    def _axis(
        self,
        name: str,
        quantity: str | Quantity,
        cells: tuple[Any, ...],
        values: Sequence[float | None],
    ) -> None:
        limits = QUANTITIES[quantity] if isinstance(quantity, str) else quantity
        given = [value for value in values if value is not None]
        usual = (min(given), max(given))
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
                column = TYPED + len(along.cells)
                self._row_words(words, column, i, {"row": part(rows, i)} | uses)
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
            self.sheet.put(LABEL, value, "typed heading", self._patterns[0])
            return
        key = part(f"{name}_rows", i)
        formula = Formula(key, self.sheet.at(LABEL), same, (part(rows, i),), "")
        self.formula(formula, "grid head left", self._patterns[0])

    def _row_words(
        self, words: tuple[str, Function], column: int, i: int, own: dict[str, str]
    ) -> None:
        key, function = words
        own = {k: v for k, v in own.items() if k in function.__code__.co_varnames}
        cell = self.sheet.at(column)
        self.words(f"{key}_{i + 1}", cell, function, self.arguments(function, own), "grid words")

    def mark_over(self, name: str, judged: str, limit: str, pattern: str) -> None:
        """Marks the cells of a grid where the same cell of ``judged`` is above a limit."""
        cells, other = self.book.named_cells()[name], self.book.named_cells()[judged]
        formula = f"AND(ISNUMBER({other[0].cell}),{other[0].cell}>{limit})"
        self.sheet.marks.append(Mark(cells, formula, "stop", pattern))

    def chart(self, grid: str, rows: str, columns: str, title: str, across: str, up: str) -> None:
        cells = self.book.named_cells()
        picture = Picture(
            self.sheet.at(LABEL),
            title,
            across,
            up,
            cells[columns],
            cells[rows],
            cells[grid],
            by_powers=True,
        )
        self.sheet.pictures.append(picture)
        self.sheet.row += picture.rows_tall


def same(heading: Any) -> Any:
    """A heading carried over from the first grid; a blank stays blank."""
    return "" if heading == "" else heading
