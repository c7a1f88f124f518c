"""The words that every spreadsheet engine is spoken to in: addresses, values, sessions, engines."""

from __future__ import annotations

import math
import re
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import TypeAlias

from tanksheet.errors import SheetError, WorkbookProblem

Value: TypeAlias = float | str | bool | SheetError | None

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
_PLAIN_SHEET = re.compile(r"[^\W\d][\w.]*")
_LOOKS_LIKE_A_CELL = re.compile(r"[A-Za-z]{1,3}\d+|[Rr]\d*[Cc]?\d*|[Cc]\d*")


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
    def a1(self) -> str:
        """The cell as a formula would name it: ``'Stock tank'!B12``, ``Mix!B12``."""
        return f"{quoted_sheet(self.sheet)}!{self.cell}"

    def __str__(self) -> str:
        return self.a1


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
    """The address of a cell written as ``B12``."""
    digits = cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return Address(sheet, int(digits), column_number(cell.removesuffix(digits)))


def within(where: Address, reach: str) -> bool:
    """Whether a cell lies in a range of its own sheet, written ``B1:C9`` or ``B1``."""
    corners = re.findall(r"\$?([A-Za-z]+)\$?(\d+)", reach)
    columns = [column_number(letters) for letters, _ in corners]
    rows = [int(digits) for _, digits in corners]
    return min(rows) <= where.row <= max(rows) and min(columns) <= where.column <= max(columns)


def quoted_sheet(sheet: str) -> str:
    """A sheet's name with quotes where a formula needs them."""
    if _PLAIN_SHEET.fullmatch(sheet) and not _LOOKS_LIKE_A_CELL.fullmatch(sheet):
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


class Session(ABC):
    """One workbook open in one engine. Leaving the ``with`` block closes it."""

    @abstractmethod
    def calculate(
        self, inputs: Mapping[Address, Value], wanted: Sequence[Address]
    ) -> dict[Address, Value]:
        """Set the inputs, recalculate, and give the wanted cells.

        Each call starts from the file as it was opened: a cell that an earlier call set and this
        one does not has the file's own value or formula again. An input of None is an empty cell;
        an input of "" is empty text, which is another thing.

        Numbers come back as float, text as str, TRUE and FALSE as bool, errors as SheetError and
        an empty cell as None. A formula never gives None: if its result is empty text, or an engine
        leaves its result blank, "" comes back.

        Raises WorkbookProblem for a sheet that is not there or an input that no cell can hold, and
        EngineProblem when the engine breaks down or takes too long.
        """

    @abstractmethod
    def close(self) -> None:
        """Let go of the workbook. Closing twice does no harm."""

    def __enter__(self) -> Session:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


class Engine(ABC):
    """A spreadsheet engine from outside the project."""

    name: str
    limits: tuple[str, ...] = ()
    """What this engine is known to do otherwise than Excel; one sentence each."""

    @abstractmethod
    def missing(self) -> str | None:
        """None when the engine can run here, else a sentence on what to install."""

    @abstractmethod
    def version(self) -> str:
        """The engine's version. Raises EngineProblem when the engine is missing."""

    @abstractmethod
    def open(self, path: Path) -> Session:
        """Open an .xlsx file; the file itself is never written to.

        Raises WorkbookProblem when it is no .xlsx file, EngineProblem when the engine is missing
        or cannot read it.
        """
