"""A workbook as a data flow of named quantities.

A template adds rows to the book's pages in reading order (``page``). Each formula is a Python
function of names that stand above it, so a book can be computed in Python (``evaluate``) and
written as a spreadsheet (``writer``) from the same rows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tanksheet.sheets.cells import Entry, Formula, Sheet
from tanksheet.tables import Datum
from tanksheet.xlsx.address import Address, looks_like_cell


@dataclass(frozen=True)
class AddedRow:
    """A row below those of a data table, on the sheet Tables of this book alone.

    ``computed`` gives the formula behind a column, by key; ``fixed`` what stands in the others.
    ``typed`` is the entry cell without which the row is empty: its part of a column.
    """

    table: str
    typed: str
    computed: Mapping[str, str]
    fixed: Mapping[str, Datum]


@dataclass
class Book:
    """One workbook: its sheets, what people fill in, and every formula in order of computing.

    ``ranges`` names blocks of cells that compute; ``aliases`` leads from the name that a
    template uses to the key of the cell that holds its value in the base unit. ``known`` are all
    the keys that a formula may use. ``hidden`` are the names of the working: spreadsheet programs
    leave them out of the list of names that people read, and ``run`` reads them only when asked.
    ``nameless`` are those of the ranges that formulas write as cells: parts of a table that need no
    name in the file.
    ``added`` are rows that a person adds to the data tables; their formulas stand before all that
    looks anything up in those tables.
    ``edition`` is "metric" or "us"; ``steps`` are what the sheet Help says to do.
    """

    name: str
    title: str
    purpose: str
    sheets: list[Sheet] = field(default_factory=list)
    entries: dict[str, Entry] = field(default_factory=dict)
    formulas: dict[str, Formula] = field(default_factory=dict)
    ranges: dict[str, tuple[str, ...]] = field(default_factory=dict)
    aliases: dict[str, str] = field(default_factory=dict)
    sources: list[tuple[str, str]] = field(default_factory=list)
    known: set[str] = field(default_factory=set, repr=False)
    hidden: set[str] = field(default_factory=set)
    nameless: set[str] = field(default_factory=set)
    added: list[AddedRow] = field(default_factory=list)
    edition: str = "metric"
    steps: tuple[str, ...] = ()

    def add_entry(self, entry: Entry) -> None:
        self._new(entry.key)
        self.entries[entry.key] = entry
        self.known.add(entry.key)
        if not entry.single:
            self.known.update(part(entry.key, i) for i in range(len(entry.cells)))

    def add_formula(self, formula: Formula, hidden: bool = False) -> None:
        self._new(formula.key)
        for argument in formula.arguments:
            if argument not in self.known:
                raise ValueError(f"{formula.key} uses {argument!r}, which no row above defines")
        self.formulas[formula.key] = formula
        self.known.add(formula.key)
        if hidden and formula.name:
            self.hidden.add(formula.name)

    def add_range(self, name: str, keys: tuple[str, ...], hidden: bool = False) -> None:
        self._new(name)
        self.ranges[name] = keys
        self.known.add(name)
        if hidden:
            self.hidden.add(name)

    def cells_of(self, keys: tuple[str, ...]) -> str:
        """The key of a run of cells without a name, for functions of whole runs."""
        name = f"{keys[0]}:{keys[-1]}"
        if name not in self.ranges:
            self.ranges[name] = keys
            self.known.add(name)
            self.nameless.add(name)
        return name

    def _new(self, key: str) -> None:
        # "true_ratio" begins with a word that one engine reads as the constant TRUE.
        if looks_like_cell(key) or key.lower().startswith(("true", "false")):
            raise ValueError(f"{key!r} in {self.name} would be read as a cell or a constant")
        if key in self.entries or key in self.formulas or key in self.ranges:
            raise ValueError(f"{key!r} stands twice in {self.name}")

    def key_for(self, name: str) -> str:
        """The key behind a name: of an input, its value in the base unit."""
        return self.aliases.get(name, name)

    def named_cells(self) -> dict[str, tuple[Address, ...]]:
        """Every defined name of the book with its cells."""
        named = {entry.key: entry.cells for entry in self.entries.values()}
        named |= {each.name: (each.cell,) for each in self.formulas.values() if each.name}
        for name, keys in self.ranges.items():
            if name not in self.nameless:
                named[name] = tuple(self.formulas[key].cell for key in keys)
        return named


def part(key: str, *position: int) -> str:
    """The key of one cell of a run: ``part("targets", 2)`` is "targets[2]"."""
    return f"{key}[{','.join(str(index) for index in position)}]"
