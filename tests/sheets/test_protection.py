"""Sheets are locked without a password, and what a person fills is open."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import MergedCell

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.errors import EngineProblem
from tanksheet.recalc import ENGINES, libreoffice_worker
from tanksheet.recalc.libreoffice_found import python_with_uno, soffice
from tanksheet.sheets.choices import EDITIONS
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Address

TABS = Path(__file__).with_name("libreoffice_tabs.py")


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", TEMPLATES)
def test_sheets_are_locked_and_inputs_are_open(
    name: str, edition: str, workbook: GetWorkbook
) -> None:
    check(workbook(name, edition), name)


@pytest.mark.parametrize("name", TEMPLATES)
def test_tab_walks_the_inputs_in_reading_order(name: str, workbook: GetWorkbook) -> None:
    """In LibreOffice: as many presses of Tab as a sheet has inputs visit each, as one reads."""
    need(ENGINES["libreoffice"])
    wanted: dict[str, list[tuple[int, int]]] = {}
    for entry in book(name).entries.values():
        for cell in entry.cells:
            wanted.setdefault(cell.sheet, []).append((cell.row, cell.column))
    found = walked(workbook(name), {title: len(cells) for title, cells in wanted.items()})
    for title, cells in wanted.items():
        # The walk begins at the end of the first row, and comes round to what is in it last.
        after = [cell for cell in cells if cell[0] > 1]
        assert found[title] == sorted(after) + sorted(set(cells) - set(after)), title


def walked(path: Path, presses: dict[str, int]) -> dict[str, list[tuple[int, int]]]:
    """Where the cursor stands after each press of Tab, from the end of the first row."""
    command = [str(python_with_uno()), str(TABS), str(libreoffice_worker.__file__), str(soffice())]
    asked = json.dumps({"path": str(path), "presses": presses})
    plain = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    done = subprocess.run([*command, asked], capture_output=True, text=True, timeout=300, env=plain)
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    return {title: [(row, column) for row, column in said[title]] for title in said}


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
