"""A small workbook around one formula, to evaluate it in an outside engine."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

from openpyxl import Workbook

from tanksheet.sheets.reference import tables_sheet
from tanksheet.sheets.writer import add_lambdas, add_names, write_sheet
from tanksheet.xlsx.address import Address

SHEET = "Sheet1"
RESULT = Address(SHEET, 1, 1)
FIRST_RUN = 3000  # below the steps of the longest calculation


def run_cells(index: int, length: int) -> tuple[Address, ...]:
    """Where the numbers of the index-th run of a formula stand: one row for each run."""
    return tuple(Address(SHEET, FIRST_RUN + index, 1 + i) for i in range(length))


def step_cell(number: int) -> str:
    """The cell of the n-th step of a formula, from 1."""
    return f"$A${number + 1}"


def write_scratch(
    path: Path, formulas: Sequence[str], runs: Sequence[Sequence[float | str]], lambdas: bool
) -> None:
    """Writes the formula (without "=") in A1, its steps and runs of numbers below, and the data."""
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = SHEET
    for row, formula in enumerate(formulas, 1):
        sheet.cell(row, 1, f"={formula}")
    for index, numbers in enumerate(runs):
        for where, value in zip(run_cells(index, len(numbers)), numbers, strict=True):
            cell = sheet.cell(where.row, where.column, value)
            if isinstance(value, str):
                cell.data_type = "s"  # a word that begins with = stays a word
    tables, names = tables_sheet()
    write_sheet(workbook.create_sheet(tables.title), tables, {})
    add_names(workbook, names)
    if lambdas:
        add_lambdas(workbook)
    stream = io.BytesIO()
    workbook.save(stream)
    path.write_bytes(stream.getvalue())
