"""A workbook that shows every function at work: its example in cells that people type over."""

from __future__ import annotations

import io

from openpyxl import Workbook

from tanksheet.definition import Calculation
from tanksheet.formula import named_calculations
from tanksheet.sheets import advice
from tanksheet.sheets.cells import Formula, Sheet
from tanksheet.sheets.writer import write_sheet
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.writing import finished

TITLE = "Functions"
RESULT_COLUMN, FIRST_ARGUMENT = 3, 5
LEAD = " ".join(
    ("Each function at work on its example; type over the yellow cells.", *advice.FOR_CELLS)
)


def functions_workbook() -> bytes:
    """An .xlsx file whose cells call the functions by name; the names themselves are not in it."""
    widest = max(len(_cells(each)) for each in named_calculations().values())
    sheet = Sheet(TITLE, (26, 62, 14, 10, *(13 for _ in range(widest))), landscape=True)
    sheet.put(1, "Fertigation functions", "title", across=3)
    sheet.heights[sheet.row] = 28
    sheet.row += 1
    sheet.put(1, LEAD, "lead", across=4)
    sheet.heights[sheet.row] = 56
    sheet.row += 2
    for column, text in enumerate(("Function", "What it does", "Result", "Unit", "Arguments"), 1):
        sheet.put(column, text, "table head")
    texts: dict[str, str] = {}
    values: dict[Address, Value] = {}
    for each in named_calculations().values():
        sheet.row += 1
        _add_rows(sheet, each, texts, values)
    workbook = Workbook()
    workbook.remove(workbook.active)
    write_sheet(workbook.create_sheet(TITLE), sheet, texts)
    workbook.properties.title, workbook.properties.creator = "Fertigation functions", "Tanksheet"
    stream = io.BytesIO()
    workbook.save(stream)
    return finished(stream.getvalue(), values)


def _add_rows(
    sheet: Sheet, record: Calculation, texts: dict[str, str], values: dict[Address, Value]
) -> None:
    """A row that names the arguments, then the row that holds them and the result."""
    cells = _cells(record)
    for column, (label, _) in enumerate(cells, FIRST_ARGUMENT):
        sheet.put(column, label, "unit")
    sheet.row += 1
    sheet.put(1, record.sheet_name, "label")
    sheet.put(2, record.summary, "table")
    result = sheet.at(RESULT_COLUMN)
    formula = Formula(record.name, result, record.function, (), record.summary)
    sheet.put(RESULT_COLUMN, formula, "worked out")
    sheet.put(RESULT_COLUMN + 1, "" if record.unit.symbol == "word" else record.unit.symbol, "unit")
    for column, (_, value) in enumerate(cells, FIRST_ARGUMENT):
        sheet.put(column, value, "typed word" if isinstance(value, str) else "typed")
    texts[record.name] = f"={record.sheet_name}({','.join(_references(record, sheet))})"
    values[result] = record.function(*record.example[0])


def _cells(record: Calculation) -> list[tuple[str, float | str]]:
    """The example's arguments, a cell each, with what stands above them; readings take several."""
    cells: list[tuple[str, float | str]] = []
    for (name, quantity), argument in zip(
        record.parameters.items(), record.example[0], strict=True
    ):
        unit = "" if quantity.is_word or quantity.is_readings else quantity.unit.symbol
        label = f"{name}, {unit}" if unit else name
        run = argument if isinstance(argument, (list, tuple)) else [argument]
        cells += [(label if at == 0 else "", value) for at, value in enumerate(run)]
    return cells


def _references(record: Calculation, sheet: Sheet) -> list[str]:
    references, column = [], FIRST_ARGUMENT
    for argument in record.example[0]:
        length = len(argument) if isinstance(argument, (list, tuple)) else 1
        first, last = sheet.at(column).cell, sheet.at(column + length - 1).cell
        references.append(first if length == 1 else f"{first}:{last}")
        column += length
    return references
