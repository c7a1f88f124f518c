"""formualizer: a spreadsheet engine in Rust with a Python package. Fast; it knows no LAMBDA names.

It recalculates what depends on the cells that were set. Setting a cell marks all of these, which
takes longer than calculating them, so cells that stand side by side are set in one call.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator, Mapping
from typing import Any

from tanksheet.errors import SheetError
from tanksheet.recalc.open_book import RestoringBook
from tanksheet.recalc.package_engine import PackageEngine
from tanksheet.xlsx.address import Address, Value, as_number

KINDS = {
    "Value": SheetError.VALUE,
    "Num": SheetError.NUM,
    "Div": SheetError.DIV,
    "Na": SheetError.NA,
    "Name": SheetError.NAME,
    "Ref": SheetError.REF,
    "Null": SheetError.NULL,
    "Circ": SheetError.CIRCULAR,
}
KIND_OF = {error: kind for kind, error in KINDS.items()}


class FormualizerBook(RestoringBook):
    def load(self) -> None:
        self._library: Any = importlib.import_module("formualizer")
        settings = self._library.EvaluationConfig()
        settings.enable_parallel = False  # the other core is the parent's
        config = self._library.WorkbookConfig(eval_config=settings)
        self._book: Any = self._library.Workbook.load_path(self.path, config=config)
        self._book.set_temporal_egress("serial")  # dates as the numbers that they are
        self._sheets = set(self._book.sheet_names)

    def put(self, values: Mapping[Address, Value]) -> None:
        for top, run in _runs(values):
            content = [[self._content(value)] for value in run]
            self._book.set_values_batch(self._known(top.sheet), top.row, top.column, content)

    def evaluate(self) -> None:
        self._book.evaluate_all()

    def has_formula(self, where: Address) -> bool:
        return bool(self._book.get_formula(self._known(where.sheet), where.row, where.column))

    def read(self, where: Address) -> Value:
        value = self._book.get_value(self._known(where.sheet), where.row, where.column)
        if value is None:
            return "" if self.has_formula(where) else None
        if isinstance(value, dict):
            return KINDS.get(value.get("kind", ""), SheetError.UNKNOWN)
        return value if isinstance(value, (bool, str)) else as_number(value)

    def _content(self, value: Value) -> Any:
        if isinstance(value, SheetError):
            return self._library.LiteralValue.error(KIND_OF[value], None)
        return value

    def _known(self, sheet: str) -> str:
        """It would make a sheet that it does not know."""
        if sheet not in self._sheets:
            raise ValueError(f"{sheet!r} is not a sheet of cells")
        return sheet


def _runs(values: Mapping[Address, Value]) -> Iterator[tuple[Address, list[Value]]]:
    """The values in runs of cells one below another: where each begins, and its values."""
    begins: Address | None = None
    run: list[Value] = []
    for where in sorted(values, key=lambda cell: (cell.sheet, cell.column, cell.row)):
        below = begins and Address(begins.sheet, begins.row + len(run), begins.column) == where
        if begins and not below:
            yield begins, run
        if not below:
            begins, run = where, []
        run.append(values[where])
    if begins:
        yield begins, run


class Formualizer(PackageEngine):
    name, title, book = "formualizer", "formualizer", FormualizerBook
    # Setting many cells of a large workbook takes it half a second; IronCalc sees every bad entry.
    random_cases, bad_entries, checked_cells = 200, 100, 300_000
    skips_errors_in = ("SUMIF",)
    limits = (
        "SUMIF passes over an error in a row that it adds, where Excel hands the error on.",
        "It does not know LAMBDA names: cells that call one give an error.",
    )
