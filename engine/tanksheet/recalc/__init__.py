"""Recalculate a workbook in spreadsheet engines from outside the project, and compare.

    with engine("ironcalc").open(path) as session:
        values = session.calculate({address: 150.0}, wanted)

Only the engine that is used is loaded.
"""

from __future__ import annotations

from tanksheet.errors import EngineProblem
from tanksheet.recalc.check import Case, EngineRun, Miss, check
from tanksheet.recalc.compare import Difference, differences, worst_relative
from tanksheet.recalc.formulas_engine import Formulas
from tanksheet.recalc.gnumeric_engine import Gnumeric
from tanksheet.recalc.ironcalc_engine import IronCalc
from tanksheet.recalc.libreoffice_engine import LibreOffice, convert
from tanksheet.recalc.names import named_cells, sheet_names
from tanksheet.recalc.record import Address, Engine, Session, Value
from tanksheet.recalc.report import listing, table

ENGINES: dict[str, Engine] = {
    e.name: e for e in (IronCalc(), Formulas(), LibreOffice(), Gnumeric())
}


def engine(name: str) -> Engine:
    """The engine of that name. Raises EngineProblem, which lists the names, for any other."""
    if name not in ENGINES:
        raise EngineProblem(f"There is no engine {name!r}; choose from {', '.join(ENGINES)}.")
    return ENGINES[name]


__all__ = [
    "ENGINES",
    "Address",
    "Case",
    "Difference",
    "Engine",
    "EngineRun",
    "Miss",
    "Session",
    "Value",
    "check",
    "convert",
    "differences",
    "engine",
    "listing",
    "named_cells",
    "sheet_names",
    "table",
    "worst_relative",
]
