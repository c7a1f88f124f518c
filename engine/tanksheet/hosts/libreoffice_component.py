"""What LibreOffice loads: the FERT functions as methods of one object.

This file is copied into the extension as it stands, beside ``pythonpath/`` with the calculations.
It runs under LibreOffice's own Python, 3.9 or newer, with nothing but the standard library.
"""

from __future__ import annotations

import os
import struct
import sys
from typing import Any, Callable

import unohelper  # type: ignore[import-not-found]

# Before all other folders: another Tanksheet that this Python may have is not the one to use.
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pythonpath"))

import tanksheet  # noqa: E402
from tanksheet.definition import Calculation  # noqa: E402
from tanksheet.errors import Fault, SheetError  # noqa: E402
from tanksheet.units import Quantity  # noqa: E402

IMPLEMENTATION = "FERT"
SERVICE = "org.tanksheet.Fert"
# LibreOffice takes a not-a-number that carries one of its error numbers for that error.
NOT_A_NUMBER = 0x7FF8000000000000
ERROR_NUMBERS = {
    SheetError.VALUE: 519,
    SheetError.NUM: 503,
    SheetError.DIV: 532,
    SheetError.NA: 32767,
}


def answer(record: Calculation, cells: tuple[Any, ...]) -> Any:
    """What a call shows in its cell: a result or an error, never an exception."""
    try:
        entries = record.parameters.values()
        return record.function(*(content(e, c) for e, c in zip(entries, cells)))
    except Fault as fault:
        return error(fault.code)
    except Exception:
        return error(SheetError.VALUE)


def error(code: SheetError) -> float:
    bits = NOT_A_NUMBER | ERROR_NUMBERS.get(code, ERROR_NUMBERS[SheetError.VALUE])
    number: float = struct.unpack("<d", struct.pack("<Q", bits))[0]
    return number


def content(entry: Quantity, cells: Any) -> Any:
    """An argument as the calculations take it; LibreOffice hands over rows of cells.

    A blank cell in a range comes as empty text.
    """
    if not isinstance(cells, tuple):
        return cells
    if entry.is_readings:
        return [[None if cell == "" else cell for cell in row] for row in cells]
    if len(cells) == 1 and len(cells[0]) == 1:
        return cells[0][0]
    return [list(row) for row in cells]  # a range where one cell belongs, refused as no number


def make(context: Any) -> Any:
    """The object. Its class is made late: its own interface is unknown during registration."""
    from org.tanksheet import XFert  # type: ignore[import-not-found]

    methods = {r.name.lower(): _method(r) for r in tanksheet.catalogue().values()}
    return type(IMPLEMENTATION, (unohelper.Base, XFert), methods)()


def _method(record: Calculation) -> Callable[..., Any]:
    return lambda _, *cells: answer(record, cells)


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 - the loader's name for it
g_ImplementationHelper.addImplementation(make, IMPLEMENTATION, (SERVICE,))
