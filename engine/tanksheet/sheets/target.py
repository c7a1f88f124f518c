"""A workbook file to be used as a function: its names, and the plan behind it."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from tanksheet.errors import WorkbookProblem
from tanksheet.sheets.book import Book
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values

MOST_CELLS = 100_000  # of one name that is set or read
# One row of a name that covers several cells: products[3], or products_3 where no name is so.
_ROW = re.compile(r"(.+?)(?:\[\s*([0-9]{1,7})\s*\]|_([0-9]{1,7}))")


@dataclass(frozen=True)
class Target:
    """The file, its names (the hidden ones too), and the plan behind it if it is one of ours."""

    path: Path
    names: Mapping[str, Sequence[Address]]
    book: Book | None
    package: Package

    @classmethod
    def of(cls, package: Package, book: Book | None) -> Target:
        return cls(Path(package.file), package.names | package.hidden_names, book, package)

    @property
    def listed(self) -> list[str]:
        """The names that a spreadsheet program shows."""
        return sorted(self.package.names)

    def cells(self, name: str) -> Sequence[Address]:
        """The cells of a name, or the one cell of ``name[3]``.

        Raises: WorkbookProblem for an unknown name, a row that it has not, too many cells.
        """
        whole, row = self.row_of(name)
        if whole not in self.names:
            near = difflib.get_close_matches(name, self.names, 3) or self.listed[:8]
            raise WorkbookProblem(
                f"{self.path.name}: there is no name {name!r}; did you mean {', '.join(near)}?"
            )
        cells = self.names[whole]
        if len(cells) > MOST_CELLS:
            raise WorkbookProblem(
                f"{self.path.name}: the name {name!r} covers {len(cells):,} cells, and the most "
                f"taken is {MOST_CELLS:,}; name the part of them that you need."
            )
        return cells if row is None else cells[row : row + 1]

    def row_of(self, name: str) -> tuple[str, int | None]:
        """A name as it is, or the name and the row, from 0, that ``name[3]`` or ``name_3`` means.

        Raises: WorkbookProblem for a row that the name has not.
        """
        found = None if name in self.names else _ROW.fullmatch(name)
        if not found or len(self.names.get(found[1], ())) < 2:
            return name, None
        whole, row = found[1], int(found[2] or found[3])
        count = len(self.names[whole])
        if not 1 <= row <= count:
            raise WorkbookProblem(
                f"{self.path.name}: {whole} has the rows 1 to {count}; there is no row {row}"
            )
        return whole, row - 1

    def unit_name(self, name: str) -> str:
        """The name of the cells that hold the unit of a name, "" where there is none.

        A table may have a unit for each row: ``amount_units`` beside ``amounts``.
        """
        several = f"{name}_units", f"{name.removesuffix('s')}_units"
        for unit in (f"{name}_unit", *several):
            fits = len(self.names.get(unit, ())) in (1, len(self.names.get(name, ())))
            if unit != name and unit in self.names and fits:
                return unit
        return ""

    def offered(self, unit_name: str) -> tuple[str, ...]:
        """The units that a name of units may hold."""
        if self.book and unit_name in self.book.entries:
            return self.book.entries[unit_name].words
        # A user's own pair of cells: the unit that stands there now tells what is measured.
        now = stored_values(self.package, self.names[unit_name])
        return tuple(dict.fromkeys(str(value) for value in now.values()))
