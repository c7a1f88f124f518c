"""Sheets are locked without a password, and what a person fills is open."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import MergedCell

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.errors import EngineProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.protection import protect
from tanksheet.templates import book
from tanksheet.xlsx.address import Address


def test_sheets_are_locked_and_inputs_are_open(workbook: GetWorkbook, tmp_path: Path) -> None:
    file, path = load_workbook(workbook("acid")), tmp_path / "locked.xlsx"
    protect(file)
    file.save(path)
    check(path, "acid")


def check(path: Path, name: str) -> None:
    """Every sheet and the list of sheets are locked without a password, and nothing but the
    entries is open."""
    file = load_workbook(path)
    assert file.security.lockStructure and not file.security.workbookPassword
    entries = {cell for entry in book(name).entries.values() for cell in entry.cells}
    for sheet in file:
        kept = sheet.protection
        assert kept.sheet and kept.objects and not kept.password and not kept.hashValue, sheet.title
        # In the format a 1 forbids: looking, copying and making room are allowed.
        allowed = (kept.selectLockedCells, kept.selectUnlockedCells)
        assert not any((*allowed, kept.formatColumns, kept.formatRows)), sheet.title
        unlocked = {
            Address(sheet.title, cell.row, cell.column)
            for row in sheet.iter_rows()
            for cell in row
            if not cell.protection.locked and not isinstance(cell, MergedCell)
        }
        assert unlocked == {cell for cell in entries if cell.sheet == sheet.title}


def locked_book(path: Path, password: str) -> Path:
    file = Workbook()
    sheet = file.active
    sheet.title = "Mine"
    sheet["A1"], sheet["A2"] = 1, "=A1*2"
    sheet.protection.sheet = True
    if password:
        sheet.protection.password = password
    file.save(path)
    return path


@pytest.mark.parametrize("password", ["", "secret"])
def test_a_locked_cell_is_set_in_libreoffice_or_it_says_why_not(
    password: str, tmp_path: Path
) -> None:
    """LibreOffice passes over what is put into a locked cell, and would give the old result."""
    need(ENGINES["libreoffice"])
    one, two = Address("Mine", 1, 1), Address("Mine", 2, 1)
    with ENGINES["libreoffice"].open(locked_book(tmp_path / "mine.xlsx", password)) as session:
        if not password:
            assert session.calculate({one: 5.0}, [two]) == {two: 10.0}
            return
        with pytest.raises(EngineProblem, match="sheet 'Mine' is locked with a password"):
            session.calculate({one: 5.0}, [two])
        assert session.calculate({}, [two]) == {two: 2.0}
