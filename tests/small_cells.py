"""What the tests of this room share: cells by name, and one result."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tanksheet.recalc import Session
from tanksheet.xlsx.address import Address, Value

SHEET = "Stock tank"
Cells = dict[str, object]
MakeBook = Callable[..., Path]
OpenBook = Callable[..., Session]


def at(cell: str, sheet: str = SHEET) -> Address:
    """B12 on the usual sheet."""
    letters = cell.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    return Address(sheet, int(cell[len(letters) :]), column)


def one(session: Session, cell: str, inputs: dict[str, Value] | None = None) -> Value:
    """One cell of the usual sheet, after setting some."""
    wanted = at(cell)
    settings = {at(name): value for name, value in (inputs or {}).items()}
    return session.calculate(settings, [wanted])[wanted]
