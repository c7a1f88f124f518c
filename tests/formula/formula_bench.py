"""A bench for formulas: rows of arguments beside a formula each, calculated in outside engines.

Each row of the sheet "Bench" holds one formula in column A and its arguments to the right of it,
so that what is compared goes the way a user's cells go: written to .xlsx, read, recalculated.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName

from engines_needed import need
from tanksheet import tables
from tanksheet.definition import Calculation
from tanksheet.errors import FAULTS, CarriedFault, Fault, SheetError
from tanksheet.formula.nodes import Node
from tanksheet.formula.steps import in_steps
from tanksheet.formula.text import column_name, formula_text
from tanksheet.recalc import ENGINES
from tanksheet.xlsx.address import Address, Value

SHEET, DATA = "Bench", "Data"
# How to make each error with a formula that every engine computes.
MAKING = {
    SheetError.DIV: "=1/0",
    SheetError.NA: "=NA()",
    SheetError.NUM: "=SQRT(-1)",
    SheetError.VALUE: '="x"+1',
}
# A cell that a formula leaves empty, which is not the same as a blank cell.
EMPTY_TEXT = '=""'


def by_sheet_name(record: Calculation, cells: list[str]) -> str:
    """The call as a person types it: FERT.PERCENT(B1)."""
    return f"{record.sheet_name}({','.join(cells)})"


class Bench:
    """Collects rows, writes them to one file, and has any engine calculate them."""

    def __init__(self, names: dict[str, str] | None = None) -> None:
        self.rows: list[tuple[str, list[Any]]] = []
        self.names = dict(names or {})

    def add(self, arguments: Sequence[Any], formula: Callable[[list[str]], str]) -> None:
        """A row; ``formula`` writes the text once it is told where the arguments stand.

        A list among the arguments is a range of cells; None is an empty cell; a SheetError is a
        cell with a formula that gives this error.
        """
        spots = self._spots(arguments, len(self.rows) + 1)
        lists = [value if isinstance(value, list) else [value] for value in arguments]
        self.rows.append((formula(spots), [cell for cells in lists for cell in cells]))

    @staticmethod
    def _spots(arguments: Sequence[Any], row: int) -> list[str]:
        """Where the arguments stand, in the words of a formula."""
        spots: list[str] = []
        column = 2
        for argument in arguments:
            width = len(argument) if isinstance(argument, list) else 1
            first = f"{get_column_letter(column)}{row}"
            last = f"{get_column_letter(column + width - 1)}{row}"
            spots.append(f"{first}:{last}" if isinstance(argument, list) else first)
            column += width
        return spots

    def add_tree(self, arguments: Sequence[Any], tree: Callable[[list[str]], Node]) -> None:
        """A row whose formula is written from a tree; a long one takes cells of its own."""
        before = len(self.rows)
        self.add(arguments, lambda spots: "".join(spots))
        spots = self._spots(arguments, before + 1)
        cells = self.rows[before][1]
        first = 2 + len(cells)
        steps = in_steps(
            tree(spots), lambda n: f"{get_column_letter(first + n - 1)}{before + 1}", {}
        )
        texts = [f"={formula_text(node)}" for _, node in steps.parts]
        self.rows[before] = (formula_text(steps.result), cells + texts)

    def save(self, path: Path) -> Path:
        book = Workbook()
        sheet = book.active
        sheet.title = SHEET
        for row, (formula, cells) in enumerate(self.rows, 1):
            sheet.cell(row, 1).value = f"={formula}"
            for column, value in enumerate(cells, 2):
                sheet.cell(row, column).value = _as_typed(value)
        texts = [*self.names.values(), *(formula for formula, _ in self.rows)]
        if any("fert_" in text or f"{DATA}!" in text for text in texts):
            self._save_tables(book)
        for name, text in self.names.items():
            book.defined_names[name] = DefinedName(name, attr_text=text)
        book.save(path)
        return path

    def _save_tables(self, book: Workbook) -> None:
        sheet = book.create_sheet(DATA)
        column = 0
        for table in tables.KEYS:
            rows = tables.rows(table)
            for name in rows[0]:
                column += 1
                for row, entries in enumerate(rows, 1):
                    sheet.cell(row, column).value = entries[name]
                letter = get_column_letter(column)
                place = f"{DATA}!${letter}$1:${letter}${len(rows)}"
                defined = column_name(table, name)
                book.defined_names[defined] = DefinedName(defined, attr_text=place)

    def results(self, engine: str, path: Path) -> list[Value]:
        """Column A as the engine calculates it."""
        places = [Address(SHEET, row, 1) for row in range(1, len(self.rows) + 1)]
        need(ENGINES[engine])
        with ENGINES[engine].open(self.save(path)) as session:
            values = session.calculate({}, places)
        return [values[place] for place in places]


def _as_typed(value: Any) -> Any:
    if isinstance(value, SheetError):
        return MAKING[value]
    return EMPTY_TEXT if value == "" else value


def in_python(function: Callable[..., Any], arguments: Sequence[Any]) -> Value:
    """What Python gives: a number or word, or the error that a cell would show."""
    handed = [_carried(argument) for argument in arguments]
    try:
        result: Value = function(*handed)
    except Fault as fault:
        return fault.code
    return float(result) if isinstance(result, (int, float)) and result is not True else result


def _carried(argument: Any) -> Any:
    if not isinstance(argument, SheetError):
        return argument
    return CarriedFault(FAULTS[argument](f"an argument is {argument}"))


def agree(expected: Value, got: Value, relative: float = 1e-9, floor: float = 0.0) -> bool:
    """Whether two cell values say the same; ``floor`` is an absolute allowance for numbers."""
    if type(expected) is not type(got):
        return False
    if isinstance(expected, float) and isinstance(got, float):
        return abs(expected - got) <= max(relative * abs(expected), floor)
    return expected == got
