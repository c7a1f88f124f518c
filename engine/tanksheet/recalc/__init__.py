"""Recalculate a workbook in spreadsheet engines from outside the project, and compare.

    with engine("ironcalc").open(path) as session:
        values = session.calculate({address: 150.0}, wanted)

Only the engine that is used is loaded.
"""

from __future__ import annotations

from tanksheet.errors import EngineProblem
from tanksheet.recalc.adapter import Engine, Session
from tanksheet.recalc.compare import Difference, differences, worst_relative
from tanksheet.recalc.formualizer_engine import Formualizer
from tanksheet.recalc.formulas_engine import Formulas
from tanksheet.recalc.gnumeric_engine import Gnumeric
from tanksheet.recalc.ironcalc_engine import IronCalc
from tanksheet.recalc.libreoffice_engine import LibreOffice, convert
from tanksheet.recalc.report import listing, table
from tanksheet.recalc.runs import Case, EngineRun, Miss, run_cases

ENGINES: dict[str, Engine] = {
    e.name: e for e in (IronCalc(), Formualizer(), Formulas(), LibreOffice(), Gnumeric())
}


def engine(name: str) -> Engine:
    """The engine of that name. Raises EngineProblem, which lists the names, for any other."""
    if name not in ENGINES:
        raise EngineProblem(f"There is no engine {name!r}; choose from {', '.join(ENGINES)}.")
    return ENGINES[name]


__all__ = [
    "ENGINES",
    "Case",
    "Difference",
    "Engine",
    "EngineRun",
    "Miss",
    "Session",
    "convert",
    "differences",
    "engine",
    "listing",
    "run_cases",
    "table",
    "worst_relative",
]
