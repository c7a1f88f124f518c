"""Tanksheet: fertigation calculations, written once, for Python and for spreadsheets.

>>> import tanksheet as ts
>>> round(ts.stock_mass(150, 15.5, 100, 200), 1)
19354.8

Every calculation is here under its Python name (``help(ts.stock_mass)`` says what it takes),
``ts.open_workbook`` uses a workbook as a function, ``ts.recipes`` finds least-cost recipes, and
``ts.price_coop`` prices the programs of a whole co-op. All are made when they are first asked for.
"""

from __future__ import annotations

import importlib
from typing import Any

from tanksheet import calc
from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import Fault, TanksheetError

calc.load_all()

__version__ = "0.1.0"
_ELSEWHERE = {
    "OpenWorkbook": "tanksheet.door.workbook",
    "open_workbook": "tanksheet.door.workbook",
    "Priced": "tanksheet.batch.priced",
    "price_coop": "tanksheet.batch.coop",
}
_FUNCTIONS = {record.body.__name__: record for record in catalogue().values()}
__all__ = ["Calculation", "Fault", "TanksheetError", "__version__", "catalogue"]
__all__ += [*_ELSEWHERE, *_FUNCTIONS]


def __getattr__(name: str) -> Any:
    if name in _FUNCTIONS:
        found = importlib.import_module("tanksheet.door.functions").function_for(_FUNCTIONS[name])
    elif name in _ELSEWHERE:
        found = getattr(importlib.import_module(_ELSEWHERE[name]), name)
    elif name == "recipes":
        found = importlib.import_module("tanksheet.recipes")
    else:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
