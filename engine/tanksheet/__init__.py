"""Tanksheet: fertigation calculations, written once, for Python and for spreadsheets.

>>> from tanksheet import catalogue
>>> round(catalogue()["STOCKMASS"].function(150, 15.5, 100, 200), 1)
19354.8
"""

from __future__ import annotations

from tanksheet import calc
from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import Fault, TanksheetError

calc.load_all()

__version__ = "0.1.0"
__all__ = ["Calculation", "Fault", "TanksheetError", "__version__", "catalogue"]
