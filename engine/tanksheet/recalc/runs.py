"""Run a workbook's cases through an engine and keep what came out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from tanksheet.errors import EngineProblem
from tanksheet.recalc.adapter import Engine, Session
from tanksheet.recalc.compare import (
    AGREES,
    DIFFERS,
    FAILED,
    NOT_RUN,
    NOT_SUPPORTED,
    Difference,
    differences,
    worst_relative,
)
from tanksheet.xlsx.address import Address, Value


@dataclass(frozen=True)
class Case:
    """Inputs, and the values that must come out."""

    inputs: Mapping[Address, Value]
    expected: Mapping[Address, Value]


@dataclass(frozen=True)
class Miss:
    """A difference, with the inputs that led to it."""

    inputs: Mapping[Address, Value]
    difference: Difference


@dataclass
class EngineRun:
    """What one engine made of one workbook.

    ``stopped`` is one of the words for not getting through ("not supported", "failed", "not run")
    and ``why`` says the reason; both are empty when every case ran.
    """

    engine: str
    version: str = ""
    cases: int = 0
    cells: int = 0
    worst: float | None = None
    misses: list[Miss] = field(default_factory=list)
    stopped: str = ""
    why: str = ""

    @property
    def verdict(self) -> str:
        """ "agrees" only if at least one cell was compared and none differed."""
        if self.stopped:
            return self.stopped
        if self.misses:
            return DIFFERS
        return AGREES if self.cells else NOT_RUN


def run_cases(
    engine: Engine, path: Path, cases: Iterable[Case], unsupported: str | None = None
) -> EngineRun:
    """Run every case in one engine.

    ``unsupported`` is a reason why this workbook is beyond this engine; nothing is run then. An
    engine that breaks down midway keeps what it did so far and is reported as failed. Raises
    WorkbookProblem when the file or a case is unusable, since no engine is to blame for that.
    """
    run = EngineRun(engine.name)
    missing = engine.missing()
    if missing or unsupported:
        run.stopped, run.why = (NOT_RUN, missing) if missing else (NOT_SUPPORTED, unsupported or "")
        return run
    try:
        run.version = engine.version()
        with engine.open(path) as session:
            for case in cases:
                _add(run, session, case)
    except EngineProblem as problem:
        run.stopped, run.why = FAILED, str(problem)
    if not run.stopped and not run.cells:
        run.why = "there was nothing to compare."
    return run


def _add(run: EngineRun, session: Session, case: Case) -> None:
    got = session.calculate(case.inputs, list(case.expected))
    run.misses += [Miss(case.inputs, d) for d in differences(case.expected, got)]
    gap = worst_relative(case.expected, got)
    if gap is not None:
        run.worst = gap if run.worst is None else max(run.worst, gap)
    run.cases += 1
    run.cells += len(case.expected)
