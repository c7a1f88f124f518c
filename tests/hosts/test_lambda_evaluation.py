"""Every function through its LAMBDA name, put into a user's file, against Python.

The file is written by openpyxl with calls in its cells and no names; the names are then added as a
person has them added. Agreement proves the compiler, the names and the engines, not the arithmetic,
for which tests/published/ has outside figures.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from formula_bench import SHEET, Bench, agree, by_sheet_name, in_python
from formula_cases import arguments_of, bad_cases
from tanksheet import catalogue
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.formula import named_calculations
from tanksheet.formula.lambdas import uses_let
from tanksheet.hosts.lambdas.names import write_functions
from tanksheet.recalc import ENGINES
from tanksheet.xlsx.address import Address, Value

RANDOM_ROWS = 24
# ``formulas`` 1.3.4 does not evaluate a LET inside a LAMBDA, so these are not supported there.
NOT_IN_FORMULAS = {
    "ACIDDOSE",
    "ACIDGIVES",
    "ACIDNEED",
    "CALCITEINDEX",
    "CRYSTALSHARE",
    "EC",
    "FEEDEC",
    "FRONT",
    "GYPSUM",
    "PHOSPHATEINDEX",
    "PHOSPHATESETTLING",
    "PULSESHARE",
    "STRUVITE",
    "STRUVITEINDEX",
    "WATERLEFT",
}
Case = tuple[Calculation, list[Any]]


def cases(records: list[Calculation], rows: int) -> list[Case]:
    """The example, random arguments within the range, and bad values one and two at a time."""
    found: list[Case] = []
    for record in records:
        rng = random.Random(f"names {record.name}")
        found.append((record, list(record.example[0])))
        found += [(record, arguments_of(record, rng)) for _ in range(rows)]
        found += [(record, case) for case in bad_cases(record)]
    return found


def in_a_users_file(rows: list[Case], engine: str, folder: Path) -> list[Value]:
    """What the engine gives for each call once the names are in the file."""
    bench = Bench()
    for record, arguments in rows:
        bench.add(arguments, partial(by_sheet_name, record))
    report = write_functions(bench.save(folder / "mine.xlsx"))
    places = [Address(SHEET, row, 1) for row in range(1, len(rows) + 1)]
    need(ENGINES[engine])
    with ENGINES[engine].open(report.target) as session:
        values = session.calculate({}, places)
    return [values[place] for place in places]


def differing(rows: list[Case], results: list[Value]) -> list[str]:
    """One line for each call on which the engine and Python disagree.

    The floor of 1e-10 is for differences that cancel: temperatures near 0, ratios near each other.
    """
    lines = []
    for (record, arguments), got in zip(rows, results, strict=True):
        wanted = in_python(record.function, arguments)
        if not agree(wanted, got, floor=1e-10):
            lines.append(f"{record.name}{arguments}: {wanted!r} in Python, {got!r} in the engine")
    return lines


def test_every_function_in_ironcalc(tmp_path: Path) -> None:
    rows = cases(list(named_calculations().values()), RANDOM_ROWS)
    counted = Counter(record.name for record, _ in rows)
    assert set(counted) == set(named_calculations())
    assert min(counted.values()) >= 20
    assert differing(rows, in_a_users_file(rows, "ironcalc", tmp_path)) == []


def test_every_function_that_formulas_supports(tmp_path: Path) -> None:
    records = [each for name, each in named_calculations().items() if name not in NOT_IN_FORMULAS]
    rows = cases(records, 20)
    assert differing(rows, in_a_users_file(rows, "formulas", tmp_path)) == []


def test_which_functions_formulas_does_not_support(tmp_path: Path) -> None:
    """The list is exact; it goes red when a function joins it, and when ``formulas`` learns LET."""
    named = named_calculations()
    assert {name for name, each in named.items() if uses_let(each)} == NOT_IN_FORMULAS
    rows = [(catalogue()[name], list(catalogue()[name].example[0])) for name in NOT_IN_FORMULAS]
    results = in_a_users_file(rows, "formulas", tmp_path)
    assert all(isinstance(value, SheetError) for value in results)


def test_a_wrong_value_or_error_is_seen() -> None:
    record = catalogue()["STOCKMASS"]
    # By hand: 150 mg/L x 100 x 200 L / (15.5 x 10) = 19354.8387... g.
    rows: list[Case] = [(record, [150, 15.5, 100, 200]), (record, [150, 0, 100, 200])]
    right: list[Value] = [150 * 100 * 200 / 155, SheetError.NUM]
    assert differing(rows, right) == []
    assert len(differing(rows, [19354.84, SheetError.NUM])) == 1
    assert len(differing(rows, [right[0], SheetError.VALUE])) == 1
    assert len(differing(rows, [SheetError.NAME, SheetError.NAME])) == 2


@pytest.mark.parametrize("engine", ["ironcalc", "formulas"])
def test_without_the_names_nothing_works(engine: str, tmp_path: Path) -> None:
    """So that the tests above cannot pass by an engine that has the functions from elsewhere."""
    bench = Bench()
    bench.add([128], lambda cells: f"FERT.PERCENT({cells[0]})")
    assert bench.results(engine, tmp_path / "mine.xlsx") == [SheetError.NAME]
