"""A table on a sheet of a workbook; ``line`` is the row of the sheet, whose first holds the header.

The house's guarded reader takes the file (``xlsx.reading``); numbers become text with all their
digits, so that a sheet is judged as a CSV file is.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import polars as pl

from tanksheet.batch.entries import text_of
from tanksheet.batch.layout import BatchProblem, Reject
from tanksheet.batch.table import Part, Rows, framed, places_of
from tanksheet.xlsx.address import Value, address
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import cells, stored_values


class SheetTable:
    """The table on a sheet. Raises: BatchProblem and WorkbookProblem for what is no such table."""

    def __init__(self, package: Package, sheet: str, table: str, file: str) -> None:
        self.file, self.table = f"{file}:{sheet}", table
        rows = _rows_of(package, sheet)
        if not rows:
            raise BatchProblem(f"{self.file}: the sheet is empty; it needs a header and rows")
        first = rows.pop(1, {})
        if not first:
            raise BatchProblem(f"{self.file}: its first row is blank; the header must be row 1")
        header = [text_of(first.get(at)) for at in range(1, max(first) + 1)]
        self.places = places_of(table, self.file, header)
        self.header, self.cells = header, rows
        self.size = max(rows, default=1)

    def rows(self) -> Iterator[Rows]:
        """All rows at once: a sheet is never large."""
        lines = range(2, self.size + 1)
        blank = [line for line in lines if line not in self.cells]
        kept = sorted(self.cells)
        columns = {
            f"c{at}": pl.Series(
                [_text(self.cells[line].get(at + 1)) for line in kept], dtype=pl.String
            )
            for at in range(len(self.header))
        }
        yield Rows(
            framed(self.table, pl.DataFrame(columns), self.places),
            np.array(kept, np.int64),
            [Reject(line, "", "", "blank line") for line in blank],
            self.size,
        )

    def parts(self) -> list[Part]:
        return [self]


def _rows_of(package: Package, sheet: str) -> dict[int, dict[int, Value]]:
    """The values of a sheet by row and column, both from 1, without blank cells."""
    places = [address(sheet, cell.place) for cell in cells(package, package.sheets[sheet])]
    found: dict[int, dict[int, Value]] = {}
    for where, value in stored_values(package, places).items():
        if _is_there(value):
            found.setdefault(where.row, {})[where.column] = value
    return found


def _is_there(value: Value) -> bool:
    return value is not None and value != ""


def _text(value: Value) -> str | None:
    return text_of(value) or None


def tables_in(path: Path) -> tuple[Package, dict[str, str]]:
    """A workbook, and the sheet of each table by its name in small letters."""
    package = Package(path)
    return package, {sheet.strip().casefold(): sheet for sheet in package.sheets}
