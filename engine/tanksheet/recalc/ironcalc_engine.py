"""IronCalc: a spreadsheet engine in Rust with a Python package. Fast, and it knows LAMBDA."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tanksheet.errors import SheetError
from tanksheet.recalc.ironcalc_names import names_as_cells
from tanksheet.recalc.open_book import RestoringBook
from tanksheet.recalc.package_engine import PackageEngine
from tanksheet.xlsx.address import Address, Value, as_error, as_number

LANGUAGE, TIME_ZONE = "en", "UTC"


class IronCalcBook(RestoringBook):
    def load(self) -> None:
        self._library: Any = importlib.import_module("ironcalc")
        try:
            self._book: Any = self._read()
        except BaseException:
            # Seldom needed, and every child would wait for it.
            from tanksheet.xlsx.completing import named_styles_added

            if not named_styles_added(Path(self.path)):
                raise
            self._book = self._read()
        sheets = self._book.get_worksheets_properties()
        self._index = {str(sheet["name"]): index for index, sheet in enumerate(sheets)}

    def _read(self) -> Any:
        path = str(names_as_cells(Path(self.path)))
        return self._library.load_from_xlsx(path, LANGUAGE, TIME_ZONE, LANGUAGE)

    def put(self, values: Mapping[Address, Value]) -> None:
        for where, value in values.items():
            self._set(self._at(where), value)

    def evaluate(self) -> None:
        self._book.evaluate()

    def has_formula(self, where: Address) -> bool:
        return bool(self._book.get_cell_formula(*self._at(where)))

    def read(self, where: Address) -> Value:
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

    def _at(self, where: Address) -> tuple[int, int, int]:
        index = self._index.get(where.sheet)
        if index is None:
            raise ValueError(f"{where.sheet!r} is not a sheet of cells")
        return index, where.row, where.column

    def _set(self, at: tuple[int, int, int], value: Value) -> None:
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


class IronCalc(PackageEngine):
    name, title, book = "ironcalc", "IronCalc", IronCalcBook
    knows_lambda = knows_let_in_lambda = misreads_blanks = True
    random_cases = 500
    limits = (
        "10^400 is #DIV/0! where Excel has #NUM!.",
        "It looks at every row of a range, filled or not: VLOOKUP over three whole columns takes "
        "about 0.15 s a cell.",
    )
