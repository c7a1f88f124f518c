"""What the engines made of a workbook, in plain text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from tanksheet.recalc.compare import NOT_RUN
from tanksheet.recalc.runs import EngineRun, Miss
from tanksheet.xlsx.address import Address, Value

HEADINGS = ("engine", "version", "cases", "cells", "worst difference", "verdict")
MOST_LISTED = 20

Names = Mapping[str, Sequence[Address]]


def table(runs: Iterable[EngineRun]) -> str:
    """One line an engine; the reason stands below for each that did not get through."""
    runs = list(runs)
    rows = [HEADINGS, *(_row(run) for run in runs)]
    widths = [max(len(row[i]) for row in rows) for i in range(len(HEADINGS))]
    lines = ["  ".join(t.ljust(w) for t, w in zip(row, widths, strict=True)) for row in rows]
    reasons = [f"{run.engine}: {run.verdict}: {run.why}" for run in runs if run.why]
    known = [_known(run) for run in runs if run.known]
    return "\n".join([*(line.rstrip() for line in lines), *reasons, *known])


def listing(run: EngineRun, names: Names | None = None, most: int = MOST_LISTED) -> str:
    """The cells that differ: where, what was expected, what came, and the inputs of the case."""
    called = {cells[0]: name for name, cells in (names or {}).items() if len(cells) == 1}
    lines = [f"{run.engine}: {_miss(miss, called)}" for miss in run.misses[:most]]
    if len(run.misses) > most:
        lines.append(f"{run.engine}: and {len(run.misses) - most} more")
    return "\n".join(lines)


def in_words(value: Value) -> str:
    """A value as a person can tell it from any other: text in quotes, an empty cell in words."""
    if value is None:
        return "empty"
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    return f'"{value}"' if type(value) is str else repr(value) if _is_number(value) else str(value)


def _known(run: EngineRun) -> str:
    """What a known fault of an engine has touched, cell by cell."""
    cells = list(dict.fromkeys(miss.difference.address.a1 for miss in run.known))
    named = ", ".join(cells[:MOST_LISTED])
    if len(cells) > MOST_LISTED:
        named += f" and {len(cells) - MOST_LISTED} more"
    return (
        f"{run.engine}: {len(run.known):,} cells in {run.known_cases} cases differ by a known "
        f"fault of this engine (its limits say which) and are not counted against it: {named}"
    )


def _is_number(value: Value) -> bool:
    return isinstance(value, (int, float))


def _row(run: EngineRun) -> tuple[str, ...]:
    if run.verdict == NOT_RUN:
        return run.engine, run.version or "-", "-", "-", "-", NOT_RUN
    worst = "-" if run.worst is None else f"{run.worst:.1e}"
    return run.engine, run.version or "-", str(run.cases), str(run.cells), worst, run.verdict


def _miss(miss: Miss, called: Mapping[Address, str]) -> str:
    found = miss.difference
    came = "nothing" if found.kind == "missing" else in_words(found.got)
    given = ", ".join(f"{_named(w, called)} = {in_words(v)}" for w, v in miss.inputs.items())
    return (
        f"{_named(found.address, called)}: expected {in_words(found.expected)}, got {came} "
        f"({found.kind}); inputs: {given or 'none'}"
    )


def _named(where: Address, called: Mapping[Address, str]) -> str:
    return f"{where.a1} ({called[where]})" if where in called else where.a1
