"""What the functions of the xlwings project do: cells in, cells out, one call for a column.

Excel hands over rows of cells, errors among them as text ("#NUM!"), and gets rows of cells back.
An error goes back as the same text, since xlwings has no way to hand over an error value; the
VBA module of the project turns it into a true one. This module does not need xlwings.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import CarriedFault, Fault, NotListed, SheetError, WorkbookProblem, fault_for
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.units import Quantity

PREFIX = "FERT_"
# How xlwings is asked to hand over every argument.
AS_ROWS = {"ndim": 2, "err_to_str": True}
# The errors that a cell can hold; the others of SheetError are inventions of single engines.
CELL_ERRORS = ("#VALUE!", "#NUM!", "#DIV/0!", "#N/A", "#NAME?", "#REF!", "#NULL!")
Rows = list[list[Any]]


def excel_name(name: str) -> str:
    """``FERT_STOCKMASS`` for STOCKMASS: VBA takes no dot in a name."""
    return PREFIX + name


def answer(name: str, *arguments: Any) -> Rows:
    """The result of a function, by its Excel name, for rows of cells (or single values).

    Arguments of one cell count for every row; a row and a column make a table. Where an argument
    ends before the others, the cells beyond it are #N/A, as in Excel's own arithmetic. Readings
    are taken as one run, whatever their shape. A bad row gives the text of its error.
    Raises: KeyError for an unknown name.
    """
    short = name.removeprefix(PREFIX)
    given = [_rows(argument) for argument in arguments]
    if short in TABLE_FUNCTIONS:
        return _table(short, given)
    calculation = catalogue()[short]
    quantities = list(calculation.parameters.values())
    single = [r for r, quantity in zip(given, quantities, strict=True) if not quantity.is_readings]
    height = max((len(rows) for rows in single), default=1)
    width = max((len(rows[0]) for rows in single), default=1)
    columns = [
        [_run(rows)] if quantity.is_readings else _stretched(rows, height, width)
        for rows, quantity in zip(given, quantities, strict=True)
    ]
    results = _results(calculation, columns, height * width)
    return [results[at : at + width] for at in range(0, height * width, width)]


def _rows(argument: Any) -> Rows:
    """Rows of cells as the engine takes them: floats, words, None, and faults for errors."""
    rows = argument if isinstance(argument, (list, tuple)) else [[argument]]
    if not rows or not isinstance(rows[0], (list, tuple)):
        rows = [list(rows) or [None]]
    return [[v if type(v) is float else _cell(v) for v in row] for row in rows]


def _cell(value: Any) -> Any:
    if isinstance(value, Decimal):  # a cell in a currency format
        return float(value)
    if isinstance(value, str) and value in CELL_ERRORS:
        return CarriedFault(fault_for(SheetError(value), f"{value} in an argument"))
    return None if value == "" else value


def _run(rows: Rows) -> list[Any]:
    """Readings as one run, the same for every row of the result."""
    return [cell for row in rows for cell in row]


def _stretched(rows: Rows, height: int, width: int) -> list[Any]:
    """Every cell of the result's shape, row by row; #N/A where the argument has none.

    A single cell stays single: it counts for every row.
    """
    if len(rows) == len(rows[0]) == 1:
        return rows[0]
    beyond = CarriedFault(NotListed("the ranges differ in length"))
    tall = rows * height if len(rows) == 1 else rows
    wide = [row * width if len(row) == 1 else row + [beyond] * (width - len(row)) for row in tall]
    wide += [[beyond] * width] * (height - len(wide))
    return [cell for row in wide for cell in row]


def _results(calculation: Calculation, columns: list[list[Any]], count: int) -> list[Any]:
    """A result for each row of the columns; a column of one cell counts for every row."""
    if count == 1:
        return [_single(calculation, [column[0] for column in columns])]
    import numpy as np

    quantities = list(calculation.parameters.values())
    clean = [_clean(*pair) for pair in zip(columns, quantities, strict=True)]
    values = np.broadcast_to(_compiled(calculation.name)(*clean), (count,))
    results: list[Any] = values.tolist()
    for at in np.flatnonzero(np.isnan(values)).tolist():
        row = [column[at if len(column) > 1 else 0] for column in columns]
        results[at] = _single(calculation, row)
    return results


@functools.cache
def _compiled(name: str) -> Callable[..., Any]:
    # Loaded here, so that single cells need no NumPy.
    from tanksheet.formula import array_function

    return array_function(catalogue()[name], "nan")


def _clean(column: list[Any], quantity: Quantity) -> Any:
    """A column for the array code, which knows no faults: there they become NaN or text."""
    if quantity.is_readings:  # an error must spoil the run, where a blank would be passed over
        return ["#" if isinstance(cell, CarriedFault) else cell for cell in column[0]]
    if all(type(cell) is float for cell in column):
        import numpy as np

        return np.array(column)
    return [None if isinstance(cell, CarriedFault) else cell for cell in column]


def _single(calculation: Calculation, row: list[Any]) -> Any:
    """One result, or the text of its error."""
    try:
        return calculation.function(*(_without_faults(cell) for cell in row))
    except Fault as fault:
        return str(fault.code)


def _without_faults(cell: Any) -> Any:
    """The cell; an error among readings is raised as itself rather than as #VALUE!."""
    for reading in cell if isinstance(cell, list) else ():
        if isinstance(reading, CarriedFault):
            raise reading.fault
    return cell


def _table(short: str, given: list[Rows]) -> Rows:
    function = TABLE_FUNCTIONS[short]
    pairs = zip(given, function.arguments.values(), strict=True)
    try:
        return function.rows(*(rows if q.is_readings else rows[0][0] for rows, q in pairs))
    except Fault as fault:
        return [[str(fault.code)]]


def fill(sheet: Any, name: str, block: str, first: str) -> int:
    """Works out a column in an open workbook: one argument in each column of a block.

    ``sheet`` is an xlwings sheet. Writes values, not formulas, from the cell ``first`` down and
    returns how many. This is the way on macOS, where xlwings offers no functions in cells.
    Raises: WorkbookProblem for an unknown function or a block with another count of columns.
    """
    short = name.removeprefix(PREFIX)
    if short not in catalogue():
        raise WorkbookProblem(f"there is no function {name}; README.txt lists them all")
    rows = sheet.range(block).options(**AS_ROWS).value
    wanted = list(catalogue()[short].parameters)
    if len(rows[0]) != len(wanted):
        raise WorkbookProblem(
            f"{block} has {len(rows[0])} columns; {name} takes {len(wanted)}: {', '.join(wanted)}"
        )
    results = answer(name, *([[cell] for cell in column] for column in zip(*rows, strict=True)))
    sheet.range(first).value = results
    return len(results)
