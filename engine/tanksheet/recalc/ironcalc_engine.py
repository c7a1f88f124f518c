"""IronCalc: a spreadsheet engine in Rust with a Python package. Fast, and it knows LAMBDA."""

from __future__ import annotations

import importlib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc.adapter import Session
from tanksheet.recalc.session import BookSession, PackageEngine
from tanksheet.xlsx.address import Address, Value, as_error, as_number
from tanksheet.xlsx.values import blank_numbers

LANGUAGE, TIME_ZONE = "en", "UTC"


class IronCalc(PackageEngine):
    name = "ironcalc"
    knows_lambda = knows_let_in_lambda = True
    limits = ("10^400 is #DIV/0! where Excel has #NUM!.",)

    def _session(self, path: Path) -> Session:
        return IronCalcSession(path)


class IronCalcSession(BookSession):
    engine = "IronCalc"

    def _load(self) -> None:
        self._library: Any = importlib.import_module("ironcalc")
        try:
            book = self._library.load_from_xlsx(str(self.copy), LANGUAGE, TIME_ZONE, LANGUAGE)
        except BaseException as problem:
            raise self._explained(problem) from None
        self._as_opened: bytes = book.to_bytes()
        self._start_afresh()
        self._clear_blanks()

    def _start_afresh(self) -> None:
        self._book: Any = self._library.load_from_bytes(self._as_opened, LANGUAGE)
        sheets = self._book.get_worksheets_properties()
        self._index = {str(sheet["name"]): index for index, sheet in enumerate(sheets)}
        self._constants: dict[Address, Value] = {}

    def _clear_blanks(self) -> None:
        """It reads a cell that says "number" and holds nothing as 0; to Excel it is empty."""
        blanks = blank_numbers(self.package)
        for where in blanks:
            self._book.clear_cell_contents(*self._at(where))
        if blanks:
            self._as_opened = self._book.to_bytes()

    def _calculate(
        self, inputs: Mapping[Address, Value], wanted: Iterable[Address]
    ) -> dict[Address, Value]:
        try:
            if not self._put_back(inputs):
                self._start_afresh()
            for where, value in inputs.items():
                self._remember(where)
                self._set(where, value)
            self._book.evaluate()
            return {where: self._read(where) for where in wanted}
        except BaseException as problem:
            self._start_afresh()
            raise self._explained(problem) from None

    def _put_back(self, inputs: Mapping[Address, Value]) -> bool:
        """Undo what earlier calls set and this one does not; False when only a fresh load can."""
        stale = [where for where in self._constants if where not in inputs]
        if any(self._constants[where] is _LOST for where in stale):
            return False
        for where in stale:
            self._set(where, self._constants.pop(where))
        return True

    def _remember(self, where: Address) -> None:
        if where in self._constants:
            return
        formula = self._book.get_cell_formula(*self._at(where))
        # A formula written back may not parse to what the file held, so it is never written back.
        self._constants[where] = _LOST if formula else self._read(where)

    def _at(self, where: Address) -> tuple[int, int, int]:
        index = self._index.get(where.sheet)
        if index is None:
            raise WorkbookProblem(f"{self.path.name}: {where.sheet!r} is not a sheet of cells.")
        return index, where.row, where.column

    def _set(self, where: Address, value: Value) -> None:
        at = self._at(where)
        if value is None:
            self._book.clear_cell_contents(*at)
        elif isinstance(value, SheetError):
            self._book.set_user_input(*at, str(value))
        elif isinstance(value, bool):
            self._book.update_cell_with_bool(*at, value)
        elif isinstance(value, str):
            self._book.update_cell_with_text(*at, value)
        else:
            self._book.update_cell_with_number(*at, value)

    def _read(self, where: Address) -> Value:
        at = self._at(where)
        value = self._book.get_cell_value(*at)
        if value is None:
            return "" if self._book.get_cell_formula(*at) else None
        if isinstance(value, bool):
            return value
        if isinstance(value, str):
            # An error and a text that reads like one differ in the cell's type only.
            is_error = self._book.get_cell_type(*at) == self._library.CellType.ErrorValue
            return as_error(value) if is_error else value
        return as_number(value)

    def _explained(self, problem: BaseException) -> BaseException:
        if isinstance(problem, (WorkbookProblem, EngineProblem)):
            return problem
        # A panic in Rust arrives as an exception that is outside Exception.
        if isinstance(problem, Exception) or type(problem).__name__ == "PanicException":
            return self._broke(problem)
        return problem


_LOST = SheetError.UNKNOWN
"""Marks a cell whose content as opened cannot be set again (a formula)."""
