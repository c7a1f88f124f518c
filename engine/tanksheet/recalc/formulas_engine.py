"""``formulas``: a spreadsheet engine in pure Python. Slow, and it knows LAMBDA."""

from __future__ import annotations

import gc
import importlib
import warnings
from collections.abc import Mapping, Sequence
from typing import Any

from tanksheet.errors import SheetError
from tanksheet.recalc.open_book import OpenBook
from tanksheet.recalc.package_engine import PackageEngine
from tanksheet.xlsx.address import Address, Value, as_error, as_number


class FormulasBook(OpenBook):
    def load(self) -> None:
        self._library: Any = importlib.import_module("formulas")
        self._ranges: Any = importlib.import_module("formulas.ranges").Ranges
        self._operand: Any = importlib.import_module("formulas.tokens.operand")
        self._empty: Any = importlib.import_module("schedula").EMPTY
        self._array: Any = importlib.import_module("numpy").array
        warnings.simplefilter("ignore")  # this process has nobody to show them to
        programs: Any = importlib.import_module("tanksheet.recalc.formulas_programs")
        gc.collect()  # a workbook that this process had before
        self._model: Any = programs.SmallModel().loads(self.path)
        self._filled, self._exact = _stored_cells(self._model.workbook)
        self._model.finish()

    def calculate(self, inputs: Mapping[Address, Value], wanted: Sequence[Address]) -> list[Value]:
        settings = {**self._exact, **inputs}
        cells = {_key(where): self._cell(where, value) for where, value in settings.items()}
        self._model.forget()
        solution = self._model.calculate(inputs=cells)
        return [self._read(where, solution, inputs) for where in wanted]

    def _cell(self, where: Address, value: Value) -> Any:
        content: Any = value
        if value is None:
            content = self._empty
        elif isinstance(value, SheetError):
            content = self._operand.Error.errors[str(value)]
        # Anything but a one-cell range is mishandled for a cell that the file leaves empty.
        return self._ranges().push(_key(where), self._array([[content]], dtype=object))

    def _read(self, where: Address, solution: Any, inputs: Mapping[Address, Value]) -> Value:
        if where in inputs:
            return inputs[where]
        key, calculated = _key(where), where in self._filled
        if key not in solution:
            return SheetError.UNKNOWN if calculated else None
        value = self._plain(solution[key].value[0, 0])
        return "" if value is None and calculated else value

    def _plain(self, value: Any) -> Value:
        if value is None or value is self._empty:
            return None
        if isinstance(value, self._operand.XlError):
            return as_error(str(value))
        if isinstance(value, str):
            return str(value)
        if isinstance(value, complex):
            return SheetError.NUM
        kind = getattr(getattr(value, "dtype", None), "kind", "")
        if isinstance(value, bool) or kind == "b":
            return bool(value)
        return SheetError.NUM if kind == "c" else as_number(value)


def _stored_cells(book: Any) -> tuple[set[Address], dict[Address, Value]]:
    """The formula cells, and the constants that ``formulas`` would round.

    It keeps 15 places after the decimal point of a constant, so 1.23456789e-12 would turn into
    1.235e-12; such constants are handed in as inputs at every call.
    """
    formulas: set[Address] = set()
    exact: dict[Address, Value] = {}
    for sheet in book.worksheets:
        for cell in (cell for row in sheet.iter_rows() for cell in row):
            where = Address(sheet.title, cell.row, cell.column)
            if cell.data_type == "f":
                formulas.add(where)
            elif isinstance(cell.value, float) and round(cell.value, 15) != cell.value:
                exact[where] = cell.value
    return formulas, exact


def _key(where: Address) -> str:
    # The engine upper-cases sheet names but not the file's; the copy is always called book.xlsx.
    return f"'[book.xlsx]{where.sheet.upper()}'!{where.cell}"


class Formulas(PackageEngine):
    name, title, book = "formulas", "formulas", FormulasBook
    knows_lambda = takes_text_for_numbers = True
    random_cases, bad_entries, checked_cells = 5, 24, 16_000  # some milliseconds a cell
    limits = (
        "ISNUMBER, SUM and COUNT take text that looks like a number for a number.",
        "MATCH does not read ~~ as the sign ~ itself.",
        "References to a sheet whose name has an apostrophe give #REF!.",
        "It refuses a number written with E and no sign, such as 1E5; 1E+05 and 1E-05 are fine.",
        "A name that does not exist gives #REF! where Excel has #NAME?.",
        "Cells that refer to each other in a circle have no value at all, reported as #ERROR!.",
    )
