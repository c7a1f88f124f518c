"""Locks what a person should not type into by mistake: no password, and inputs stay open.

ECMA-376 part 1, 18.3.1.85 (sheets) and 18.2.29 (the workbook's structure). In a protected sheet
the Tab key goes from input to input; cells may be selected and copied, columns and rows made
wider and taller.
"""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.workbook.protection import WorkbookProtection
from openpyxl.worksheet.worksheet import Worksheet


def protect(workbook: Workbook) -> None:
    """Protects every sheet and the list of sheets, without a password."""
    for sheet in workbook.worksheets:
        _protect_sheet(sheet)
    workbook.security = WorkbookProtection(lockStructure=True)


def _protect_sheet(sheet: Worksheet) -> None:
    protection = sheet.protection
    protection.sheet = protection.objects = True
    # In the format a 1 forbids; what stays 0 is allowed.
    protection.formatColumns = protection.formatRows = False
    protection.selectLockedCells = protection.selectUnlockedCells = False
