"""The built workbooks: made once, handed out as fresh copies."""

from __future__ import annotations

import functools
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from package_edits import GetPackage, GetWorkbook
from small_cells import SHEET, Cells, MakeBook
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book


@pytest.fixture(scope="session")
def package_of() -> GetPackage:
    """The built package of a workbook, by the workbook's name."""
    return functools.cache(lambda name, edition="metric": workbook_bytes(book(name, edition)))


@pytest.fixture
def workbook(package_of: GetPackage, tmp_path: Path) -> GetWorkbook:
    """A fresh copy of a built workbook, by the workbook's name."""

    def copy(name: str, edition: str = "metric") -> Path:
        path = tmp_path / f"{name}.xlsx"
        path.write_bytes(package_of(name, edition))
        return path

    return copy


@pytest.fixture
def make_book(tmp_path: Path) -> MakeBook:
    """Write cells (and other sheets, and names) to a file."""

    def make(
        cells: Cells,
        names: dict[str, str] | None = None,
        more: dict[str, Cells] | None = None,
        file: str = "small book.xlsx",
        spoil: Callable[[Path], None] = lambda _: None,
    ) -> Path:
        book = Workbook()
        book.active.title = SHEET
        for title, content in {SHEET: cells, **(more or {})}.items():
            sheet = book[title] if title in book.sheetnames else book.create_sheet(title)
            for cell, value in content.items():
                sheet[cell] = value
        for name, reference in (names or {}).items():
            book.defined_names[name] = DefinedName(name, attr_text=reference)
        book.save(tmp_path / file)
        spoil(tmp_path / file)
        return tmp_path / file

    return make
