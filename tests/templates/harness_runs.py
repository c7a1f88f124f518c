"""How many cases each engine gets, and the row that the closing table shows of a run."""

from __future__ import annotations

from tanksheet.recalc import EngineRun

RUN_PROPERTY = "workbook in engine"
HEADINGS = ("workbook", "engine", "random", "edges", "cells", "known", "worst", "verdict")


def row(name: str, edges: int, run: EngineRun) -> tuple[str, ...]:
    """One row of the closing table; a dash where nothing ran.

    "known" counts the cells that differ by a known fault of the engine.
    """
    if not run.cases:
        return (name, run.engine, "-", "-", "-", "-", "-", run.verdict)
    worst = "-" if run.worst is None else f"{run.worst:.0e}"
    random_cases = str(run.cases - edges)
    known = f"{len(run.known):,}" if run.known else "-"
    return (name, run.engine, random_cases, str(edges), f"{run.cells:,}", known, worst, run.verdict)
