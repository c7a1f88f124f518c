"""The built workbooks: made once, handed out as fresh copies."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest

from package_edits import GetPackage, GetWorkbook
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book


@pytest.fixture(scope="session")
def package_of() -> GetPackage:
    """The built package of a workbook, by the workbook's name."""
    return functools.cache(lambda name: workbook_bytes(book(name)))


@pytest.fixture
def workbook(package_of: GetPackage, tmp_path: Path) -> GetWorkbook:
    """A fresh copy of a built workbook, by the workbook's name."""

    def copy(name: str) -> Path:
        path = tmp_path / f"{name}.xlsx"
        path.write_bytes(package_of(name))
        return path

    return copy
