"""Run a workbook's cases through an engine and keep what came out."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from tanksheet.errors import EngineProblem, EngineStopped, OutOfTime
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

    ``known`` are the differences that are a known fault of the engine and no fault of the workbook,
    in ``known_cases`` cases; they are not among the misses.

    ``stopped`` is one of the words for not getting through ("not supported", "failed", "not run")
    and ``why`` says the reason; both are empty when every case ran.
    """

    engine: str
    version: str = ""
    cases: int = 0
    cells: int = 0
    worst: float | None = None
    misses: list[Miss] = field(default_factory=list)
    known: list[Miss] = field(default_factory=list)
    known_cases: int = 0
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
    engine: Engine,
    path: Path,
    cases: Iterable[Case],
    unsupported: str | None = None,
    excused: Callable[[Sequence[Difference]], set[Address]] | None = None,
    until: tuple[float, float] | None = None,
) -> EngineRun:
    """Run every case in one engine.

    ``unsupported`` is a reason why this workbook is beyond this engine; nothing is run then.
    ``excused`` tells which differences of a case are a known fault of the engine. ``until`` holds
    two moments of ``time.monotonic``: from the first on no new case is started, except the first,
    and at the second everything ends.

    An engine that breaks down midway keeps what it did so far and is reported as failed. Raises
    WorkbookProblem when the file or a case is unusable, since no engine is to blame for that, and
    EngineStopped when the workbook brings down a quick engine: a slow one may well be too slow for
    a good file, but when a quick one goes under it is the file's doing.
    """
    run = EngineRun(engine.name)
    missing = engine.missing()
    if missing or unsupported:
        run.stopped, run.why = (NOT_RUN, missing) if missing else (NOT_SUPPORTED, unsupported or "")
        return run
    soft, hard = until or (math.inf, math.inf)
    try:
        run.version = engine.version()
        with engine.begin(path, hard) as session:
            for case in cases:
                if run.cases and time.monotonic() > soft:
                    run.why = "its time was up before all cases had run."
                    break
                _add(run, session, case, excused)
    except OutOfTime as problem:
        if until is None:
            run.stopped, run.why = FAILED, str(problem)
        elif not run.cases:
            run.stopped, run.why = NOT_RUN, "its time was up before a case had run; give it more."
    except EngineStopped as problem:
        if engine.is_quick:
            raise
        run.stopped, run.why = FAILED, str(problem)
    except EngineProblem as problem:
        run.stopped, run.why = FAILED, str(problem)
    if not run.stopped and not run.cells:
        run.why = "there was nothing to compare."
    return run


def _add(
    run: EngineRun,
    session: Session,
    case: Case,
    excused: Callable[[Sequence[Difference]], set[Address]] | None,
) -> None:
    got = session.calculate(case.inputs, list(case.expected))
    found = differences(case.expected, got)
    differ = {each.address for each in found}
    known = excused(found) & differ if excused and found else set()
    run.known_cases += bool(known)
    for each in found:
        (run.known if each.address in known else run.misses).append(Miss(case.inputs, each))
    gap = worst_relative({w: v for w, v in case.expected.items() if w not in known}, got)
    if gap is not None:
        run.worst = gap if run.worst is None else max(run.worst, gap)
    run.cases += 1
    run.cells += len(case.expected)
