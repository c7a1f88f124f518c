"""What LibreOffice loads: the FERT functions as methods of one object.

This file is copied into the extension as it stands, beside ``pythonpath/`` with the calculations.
It runs under LibreOffice's own Python, 3.9 or newer, with nothing but the standard library.

What LibreOffice itself decides: a blank cell comes as 0, TRUE as 1; in a range, empty text comes
as a blank; an error in a single cell goes past this file straight to the result, and a range that
holds one gives Err:504.
"""

from __future__ import annotations

import inspect
import os
import struct
import sys
from typing import Any, Callable

import unohelper  # type: ignore[import-not-found]

# Before all other folders: another Tanksheet that this Python may have is not the one to use.
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pythonpath"))

from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import Fault, SheetError
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS, TableFunction
from tanksheet.units import Quantity

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


def answer(work: Callable[..., Any], *cells: Any) -> Any:
    """What a call shows in its cell: a result or an error, never an exception."""
    try:
        return work(*cells)
    except Fault as fault:
        return error(fault.code)
    except Exception:
        return error(SheetError.VALUE)


def table_answer(work: Callable[..., Any], *cells: Any) -> Any:
    """The same for a table; an error is a table of one cell."""
    found = answer(work, *cells)
    return ((found,),) if isinstance(found, float) else found


def error(code: SheetError) -> float:
    bits = NOT_A_NUMBER | ERROR_NUMBERS.get(code, ERROR_NUMBERS[SheetError.VALUE])
    number: float = struct.unpack("<d", struct.pack("<Q", bits))[0]
    return number


def content(quantity: Quantity, cells: Any) -> Any:
    """An argument as the calculations take it; LibreOffice hands over rows of cells."""
    if not isinstance(cells, tuple):
        return cells
    if quantity.is_readings:
        return [[None if cell == "" else cell for cell in row] for row in cells]
    if len(cells) == 1 and len(cells[0]) == 1:
        return cells[0][0]
    return [list(row) for row in cells]  # a range where one cell belongs, refused as no number


def single(record: Calculation) -> Callable[..., Any]:
    """A calculation for cells. An argument left out, which comes as None, takes its default."""
    quantities = record.parameters.values()
    known = inspect.signature(record.body).parameters.values()
    defaults = [None if each.default is each.empty else each.default for each in known]

    def work(*cells: Any) -> Any:
        filled = (default if cell is None else cell for cell, default in zip(cells, defaults))
        return record.function(*(content(e, cell) for e, cell in zip(quantities, filled)))

    return work


def table(function: TableFunction) -> Callable[..., Any]:
    """A function for an array formula: rows of cells."""
    quantities = function.arguments.values()

    def work(*cells: Any) -> Any:
        rows = function.rows(*(content(e, cell) for e, cell in zip(quantities, cells)))
        return tuple(map(tuple, rows))

    return work


def methods() -> dict[str, Callable[..., Any]]:
    """The object's methods by their UNO names."""
    singles = {n.lower(): _method(answer, single(each)) for n, each in catalogue().items()}
    tables = {n.lower(): _method(table_answer, table(t)) for n, t in TABLE_FUNCTIONS.items()}
    return {**singles, **tables}


def _method(answering: Callable[..., Any], work: Callable[..., Any]) -> Callable[..., Any]:
    return lambda _, *cells: answering(work, *cells)


def make(context: Any) -> Any:
    """The object. Its class is made late: its own interface is unknown during registration."""
    from org.tanksheet import XFert  # type: ignore[import-not-found]

    return type(IMPLEMENTATION, (unohelper.Base, XFert), methods())()


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 - the loader's name for it
g_ImplementationHelper.addImplementation(make, IMPLEMENTATION, (SERVICE,))
