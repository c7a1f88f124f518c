"""The comparer and the report: above all, that they can say no."""

from __future__ import annotations

import math
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from small_cells import MakeBook, at
from tanksheet.errors import (
    EngineProblem,
    EngineStopped,
    OutOfTime,
    SheetError,
    WorkbookProblem,
)
from tanksheet.recalc import (
    Case,
    Engine,
    EngineRun,
    Session,
    differences,
    listing,
    run_cases,
    table,
    worst_relative,
)
from tanksheet.xlsx.address import Address, Value

CELL = at("B12")


@pytest.mark.parametrize(
    "value", [1.5, 0.0, -3e-20, "text", "", True, False, None, *SheetError], ids=repr
)
def test_a_value_agrees_with_itself(value: Value) -> None:
    assert differences({CELL: value}, {CELL: value}) == []


@pytest.mark.parametrize(
    ("expected", "got", "kind"),
    [
        (1.0, 1.0 + 3e-9, "number"),
        (1e-20, 1.1e-20, "number"),
        (1e-20, 0.0, "number"),
        (0.0, 1e-11, "number"),
        (1.0, -1.0, "number"),
        (1.0, math.nan, "number"),
        (math.nan, math.nan, "number"),
        (1.0, math.inf, "number"),
        (1.0, True, "type"),
        (False, 0.0, "type"),
        (12.0, "12", "type"),
        (0.0, None, "type"),
        ("", None, "type"),
        (None, "", "type"),
        (SheetError.NUM, "#NUM!", "type"),
        (1.0, SheetError.NUM, "type"),
        (SheetError.NUM, SheetError.VALUE, "error"),
        (SheetError.NUM, SheetError.UNKNOWN, "error"),
        ("pass", "Pass", "text"),
        ("pass", "pass ", "text"),
        (True, False, "truth"),
    ],
)
def test_every_kind_of_wrong_value_is_found(expected: Value, got: Value, kind: str) -> None:
    found = differences({CELL: expected}, {CELL: got})
    assert [(d.address, d.kind) for d in found] == [(CELL, kind)]
    assert found[0].got is got


def test_a_missing_cell_is_found() -> None:
    assert [d.kind for d in differences({CELL: None}, {})] == ["missing"]


@pytest.mark.parametrize(
    ("expected", "got"),
    [(1.0, 1.0 + 5e-10), (-1e-20, -1e-20 * (1 + 5e-10)), (0.0, 1e-12), (3, 3.0)],
)
def test_numbers_close_enough_agree(expected: float, got: float) -> None:
    assert differences({CELL: expected}, {CELL: got}) == []


def test_worst_relative_difference() -> None:
    a, b, c, d = at("A1"), at("A2"), at("A3"), at("A4")
    expected: dict[Address, Value] = {a: 2.0, b: 10.0, c: "text", d: 1.0}
    assert worst_relative(expected, {a: 2.5, b: 10.1, c: "other", d: True}) == 0.25
    assert worst_relative({c: "text", d: None}, {c: "text"}) is None
    assert worst_relative({a: 0.0}, {a: 1.0}) == math.inf


class Pretended(Engine, Session):
    """An engine that gives what it is told to."""

    name = "pretended"

    def __init__(self, gives: Value | Exception, lacks: str | None = None) -> None:
        self.gives, self.lacks = gives, lacks

    def missing(self) -> str | None:
        return self.lacks

    def version(self) -> str:
        return "1.0"

    def open(self, path: Path) -> Session:
        return self

    def close(self) -> None: ...

    def calculate(
        self, inputs: Mapping[Address, Value], wanted: Sequence[Address]
    ) -> dict[Address, Value]:
        if isinstance(self.gives, Exception):
            raise self.gives
        return dict.fromkeys(wanted, self.gives)


CASES = [Case({at("A1"): 1.0}, {CELL: 6.0}), Case({at("A1"): None}, {CELL: 6.0, at("B13"): 6.0})]


def run(gives: Value | Exception, lacks: str | None = None, unsupported: str = "") -> EngineRun:
    return run_cases(Pretended(gives, lacks), Path("a.xlsx"), CASES, unsupported)


def test_agreement_is_counted() -> None:
    done = run(6.0)
    assert (done.verdict, done.cases, done.cells, done.worst) == ("agrees", 2, 3, 0.0)
    assert listing(done) == ""


def test_a_wrong_value_is_reported_with_its_inputs() -> None:
    done = run(6.1)
    assert (done.verdict, len(done.misses)) == ("differs", 3)
    lines = listing(done, {"stock_mass": [CELL], "target_n": [at("A1")]}).splitlines()
    assert lines[0] == (
        "pretended: 'Stock tank'!B12 (stock_mass): expected 6.0, got 6.1 (number); "
        "inputs: 'Stock tank'!A1 (target_n) = 1.0"
    )
    assert lines[1].endswith("inputs: 'Stock tank'!A1 (target_n) = empty")
    assert listing(done, most=1).splitlines()[1:] == ["pretended: and 2 more"]


def test_a_missing_engine_is_not_run_and_never_agrees() -> None:
    done = run(6.0, lacks="Install it.")
    assert (done.verdict, done.cases) == ("not run", 0)
    assert table([done]).splitlines()[-1] == "pretended: not run: Install it."
    assert "agrees" not in table([done])


def test_other_ways_of_not_getting_through() -> None:
    assert run(EngineProblem("It broke off.")).verdict == "failed"
    assert "pretended: failed: It broke off." in table([run(EngineProblem("It broke off."))])
    assert run(6.0, unsupported="It calls LAMBDA.").verdict == "not supported"
    nothing = run_cases(Pretended(6.0), Path("a.xlsx"), [])
    assert nothing.verdict == "not run"
    assert "nothing to compare" in table([nothing])
    with pytest.raises(WorkbookProblem):
        run(WorkbookProblem("a.xlsx: there is no sheet 'Mix'."))


class Slow(Pretended):
    random_cases = 5


def test_a_quick_engine_that_a_workbook_brings_down_ends_it_all() -> None:
    for problem in (EngineStopped("It broke off."), OutOfTime("It took too long.")):
        failed = run_cases(Slow(problem), Path("a.xlsx"), CASES)
        assert (failed.verdict, failed.why) == ("failed", str(problem))
    with pytest.raises(EngineStopped, match="It broke off"):
        run(EngineStopped("It broke off."))
    assert run(OutOfTime("It took too long.")).verdict == "failed"


def test_no_new_case_is_started_when_time_is_up() -> None:
    now = time.monotonic()
    late = run_cases(Pretended(6.0), Path("a.xlsx"), CASES, until=(now - 1, now + 60))
    assert (late.verdict, late.cases) == ("agrees", 1)
    assert late.why == "its time was up before all cases had run."
    early = run_cases(Pretended(6.0), Path("a.xlsx"), CASES, until=(now + 60, now + 60))
    assert (early.cases, early.why) == (2, "")
    slow = Pretended(OutOfTime("It took too long."))
    stopped = run_cases(slow, Path("a.xlsx"), CASES, until=(now + 60, now + 60))
    assert stopped.verdict == "not run"
    assert stopped.why == "its time was up before a case had run; give it more."


def test_a_known_fault_is_counted_apart_and_named() -> None:
    done = run_cases(
        Pretended(6.1),
        Path("a.xlsx"),
        CASES,
        excused=lambda _: {at("B13")},
    )
    assert (len(done.misses), len(done.known), done.known_cases) == (2, 1, 1)
    assert done.verdict == "differs"
    done.misses.clear()
    said = table([done]).splitlines()[-1]
    assert said.startswith("pretended: 1 cells in 1 cases differ by a known fault of this engine")
    assert said.endswith("'Stock tank'!B13")


def test_the_table() -> None:
    lines = table([run(6.0), run(6.1), run(1.0, lacks="Install it.")]).splitlines()
    assert lines[0].split() == [
        "engine",
        "version",
        "cases",
        "cells",
        "worst",
        "difference",
        "verdict",
    ]
    assert lines[1].split() == ["pretended", "1.0", "2", "3", "0.0e+00", "agrees"]
    assert lines[2].split() == ["pretended", "1.0", "2", "3", "1.7e-02", "differs"]
    assert lines[3].split() == ["pretended", "-", "-", "-", "-", "not", "run"]


def test_a_real_engine_can_agree_and_differ(any_engine: Engine, make_book: MakeBook) -> None:
    path = make_book({"A1": 1, "B12": "=A1*6", "B13": "=B12"})
    right = [Case({at("A1"): x}, {CELL: x * 6, at("B13"): x * 6}) for x in (0.1, 7.0, 0.0)]
    assert run_cases(any_engine, path, right).verdict == "agrees"
    wrong = [*right, Case({at("A1"): 0.1}, {CELL: 0.6 * (1 + 1e-8)})]
    done = run_cases(any_engine, path, wrong)
    assert (done.verdict, done.cases, len(done.misses)) == ("differs", 4, 1)
