"""A cell of a workbook: where it is, and what it may hold."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Union, overload

from tanksheet.errors import SheetError, WorkbookProblem

Value = Union[float, str, bool, SheetError, None]

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
_PLAIN_SHEET = re.compile(r"[^\W\d][\w.]*")
_A1 = re.compile(r"([A-Za-z]{1,3})(\d{1,7})")
_R1C1 = re.compile(r"[Rr]\d*([Cc]\d*)?|[Cc]\d*")


@dataclass(frozen=True, order=True)
class Address:
    """One cell: sheet name, row and column, both counted from 1.

    Raises WorkbookProblem for a row or column that no .xlsx sheet has.
    """

    sheet: str
    row: int
    column: int

    def __post_init__(self) -> None:
        if not (1 <= self.row <= LAST_ROW and 1 <= self.column <= LAST_COLUMN):
            raise WorkbookProblem(
                f"Sheet {self.sheet}: row {self.row}, column {self.column} is outside a sheet; "
                f"rows run from 1 to {LAST_ROW} and columns from 1 to {LAST_COLUMN}."
            )

    @property
    def cell(self) -> str:
        """The cell without its sheet: ``B12``."""
        return f"{column_letters(self.column)}{self.row}"

    @property
    def absolute(self) -> str:
        """The cell as a defined name holds it: ``$B$12``."""
        return f"${column_letters(self.column)}${self.row}"

    @property
    def a1(self) -> str:
        """The cell as a formula would name it: ``'Stock tank'!B12``, ``Mix!B12``."""
        return f"{quoted_sheet(self.sheet)}!{self.cell}"

    def __str__(self) -> str:
        return self.a1


@dataclass(frozen=True)
class Block(Sequence[Address]):
    """A rectangle of cells on one sheet, row by row, kept by its corners however large it is."""

    first: Address
    last: Address

    @property
    def _width(self) -> int:
        return self.last.column - self.first.column + 1

    def __len__(self) -> int:
        return (self.last.row - self.first.row + 1) * self._width

    @overload
    def __getitem__(self, place: int) -> Address: ...
    @overload
    def __getitem__(self, place: slice) -> list[Address]: ...
    def __getitem__(self, place: Any) -> Any:
        if isinstance(place, slice):
            return [self[each] for each in range(*place.indices(len(self)))]
        inside = place + len(self) if place < 0 else place
        if not 0 <= inside < len(self):
            raise IndexError(place)
        down, along = divmod(inside, self._width)
        return Address(self.first.sheet, self.first.row + down, self.first.column + along)

    def __iter__(self) -> Iterator[Address]:
        return (self[place] for place in range(len(self)))

    def __contains__(self, where: object) -> bool:
        return (
            isinstance(where, Address)
            and where.sheet == self.first.sheet
            and self.first.row <= where.row <= self.last.row
            and self.first.column <= where.column <= self.last.column
        )

    @property
    def reach(self) -> str:
        """The block without its sheet: ``B1:B9``, ``B1``."""
        return self.first.cell if len(self) == 1 else f"{self.first.cell}:{self.last.cell}"

    def __str__(self) -> str:
        return f"{quoted_sheet(self.first.sheet)}!{self.reach}"


def column_letters(column: int) -> str:
    """1 gives A, 26 gives Z, 27 gives AA."""
    letters = ""
    while column:
        column, letter = divmod(column - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return letters


def column_number(letters: str) -> int:
    """A gives 1, Z gives 26, AA gives 27."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def address(sheet: str, cell: str) -> Address:
    """The address of a cell written as ``B12`` or ``$B$12``.

    Raises WorkbookProblem for any other text.
    """
    found = _A1.fullmatch(cell.replace("$", ""))
    if not found:
        raise WorkbookProblem(f"Sheet {sheet}: {cell[:30]!r} is not the address of a cell.")
    return Address(sheet, int(found[2]), column_number(found[1]))


def block(sheet: str, reach: str) -> Block:
    """The block written as ``B1:C9`` or ``B1``, with or without dollar signs, from any corner.

    Raises WorkbookProblem for any other text.
    """
    first, _, last = reach.partition(":")
    corners = address(sheet, first), address(sheet, last or first)
    rows = sorted(corner.row for corner in corners)
    columns = sorted(corner.column for corner in corners)
    return Block(Address(sheet, rows[0], columns[0]), Address(sheet, rows[1], columns[1]))


def looks_like_cell(name: str) -> bool:
    """Whether a spreadsheet would read a name as a cell: up to XFD1048576, or in R1C1 style."""
    if _R1C1.fullmatch(name):
        return True
    found = _A1.fullmatch(name)
    if not found:
        return False
    return column_number(found[1]) <= LAST_COLUMN and 1 <= int(found[2]) <= LAST_ROW


def quoted_sheet(sheet: str) -> str:
    """A sheet's name with quotes where a formula needs them."""
    if _PLAIN_SHEET.fullmatch(sheet) and not looks_like_cell(sheet):
        return sheet
    return "'" + sheet.replace("'", "''") + "'"


def as_number(number: float) -> Value:
    """A plain float; infinity and not-a-number are the sheet's #NUM!."""
    number = float(number)
    return number if math.isfinite(number) else SheetError.NUM


def as_error(text: str) -> SheetError:
    """The error that an engine writes as this text; UNKNOWN when it is none of ours."""
    try:
        return SheetError(text)
    except ValueError:
        return SheetError.UNKNOWN
