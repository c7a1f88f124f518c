"""What LibreOffice loads: the FERT functions as methods of one object.

This file is copied into the extension as it stands, beside ``pythonpath/`` with the calculations.
It runs under LibreOffice's own Python, 3.9 or newer, with nothing but the standard library.

Every argument has UNO's type ``any``. What arrives for it, seen in LibreOffice 7.4 and 25.2:

    a number, in the formula or in a cell    float
    a text, in the formula or in a cell      str; empty text is ""
    a range, an inline array                 tuple of rows; a blank cell in it is ""
    an argument left out                     None

What LibreOffice itself decides and no type of argument changes (one takes ranges only, and would
refuse every number in a formula):

- A blank cell comes as 0.0 and TRUE as 1.0: it asks a cell for its number, and has no truth values.
  ``A1:A1`` in place of ``A1`` hands a blank over as such, and gives #VALUE!.
- An error in a cell goes past this file straight to the result, of several the last; a range that
  holds one gives Err:504, and so does a cell of another file.
- In a range, empty text comes as a blank.
- The Function Wizard calls every ``any`` optional; the descriptions say what is needed.
- A program that sets a column of formulas one by one through UNO waits with the square of their
  number, for LibreOffice's own formulas too; filling down or opening a file does not.
- A call takes about 16 microseconds on the way from a cell to here and back, a third of it for the
  thread state that Python gets anew each time; what this file adds is about 4.
"""

from __future__ import annotations

import inspect
import os
import struct
import sys
from typing import Any, Callable

import unohelper

# Before all other folders: another Tanksheet that this Python may have is not the one to use.
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "pythonpath"))

from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import Fault, SheetError
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS, TableFunction
from tanksheet.units import Quantity

IMPLEMENTATION = "FERT"
SERVICE = "org.tanksheet.Fert"
PLAIN = {float, str}  # the types of most arguments, which need nothing done to them
# LibreOffice takes a not-a-number that carries one of its error numbers for that error.
NOT_A_NUMBER = 0x7FF8000000000000
ERROR_NUMBERS = {
    SheetError.VALUE: 519,
    SheetError.NUM: 503,
    SheetError.DIV: 532,
    SheetError.NA: 32767,
}


def method(work: Callable[..., Any]) -> Callable[..., Any]:
    """What a call shows in its cell: a result or an error, never an exception."""

    def call(_: Any, *cells: Any) -> Any:
        try:
            return work(*cells)
        except Fault as fault:
            return error(fault.code)
        except Exception:
            return error(SheetError.VALUE)

    return call


def table_method(work: Callable[..., Any]) -> Callable[..., Any]:
    """The same for a table; an error is a table of one cell."""
    call = method(work)

    def table_call(_: Any, *cells: Any) -> Any:
        found = call(_, *cells)
        return ((found,),) if isinstance(found, float) else found

    return table_call


def error(code: SheetError) -> float:
    bits = NOT_A_NUMBER | ERROR_NUMBERS.get(code, ERROR_NUMBERS[SheetError.VALUE])
    number: float = struct.unpack("<d", struct.pack("<Q", bits))[0]
    return number


def content(quantity: Quantity, cells: Any) -> Any:
    """An argument as the calculations take it; a range comes as rows of cells."""
    if not isinstance(cells, tuple):
        return cells
    if quantity.is_readings:
        return [[None if cell == "" else cell for cell in row] for row in cells]
    if len(cells) == 1 and len(cells[0]) == 1:
        return cells[0][0]
    return [list(row) for row in cells]  # a range where one cell belongs, refused as no number


def single(record: Calculation) -> Callable[..., Any]:
    """A calculation for cells. An argument left out takes its default, or is a blank."""
    function, quantities = record.function, tuple(record.parameters.values())
    known = inspect.signature(record.body).parameters.values()
    defaults = [None if each.default is each.empty else each.default for each in known]

    def work(*cells: Any) -> Any:
        if not PLAIN.issuperset(map(type, cells)):
            filled = (default if cell is None else cell for cell, default in zip(cells, defaults))
            cells = tuple(map(content, quantities, filled))
        return function(*cells)

    return work


def table(function: TableFunction) -> Callable[..., Any]:
    """A function for an array formula: rows of cells."""
    quantities = function.arguments.values()

    def work(*cells: Any) -> Any:
        return tuple(map(tuple, function.rows(*map(content, quantities, cells))))

    return work


def methods() -> dict[str, Callable[..., Any]]:
    """The object's methods by their UNO names."""
    singles = {name.lower(): method(single(each)) for name, each in catalogue().items()}
    tables = {name.lower(): table_method(table(each)) for name, each in TABLE_FUNCTIONS.items()}
    return {**singles, **tables}


def make(context: Any) -> Any:
    """The object. Its class is made late: its own interface is unknown during registration."""
    from org.tanksheet import XFert  # type: ignore[import-not-found]

    return type(IMPLEMENTATION, (unohelper.Base, XFert), methods())()


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816 - the loader's name for it
g_ImplementationHelper.addImplementation(make, IMPLEMENTATION, (SERVICE,))
