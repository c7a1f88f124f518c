"""What people must know of the FERT functions in other programs, said once for sheets and pages."""

from __future__ import annotations

WHO_KNOWS = (
    "Excel 2024 or 365 knows the FERT names where a workbook carries them, and LibreOffice where "
    "the project's extension is installed; Excel 2021 and older, Gnumeric and Google Sheets do not."
)
# Public reports; no Excel was at hand to see it.
PROTECTED_VIEW = (
    "A file that comes by mail or from the web opens in Protected View, and cells that call a FERT "
    "function may show #NAME? there until you press Enable Editing."
)
AT_SIGN = "Excel may write an @ before a FERT name in a formula: it is harmless, the value stays."
OWN_CELLS = (
    "The workbooks' own cells are native formulas and need no FERT name; those are for the cells "
    "that you write yourself."
)
FOR_CELLS = (WHO_KNOWS, PROTECTED_VIEW, AT_SIGN)
