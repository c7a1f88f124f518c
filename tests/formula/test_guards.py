"""An error in a cell that is known to hold a number comes through, whichever branch is taken.

Excel hands an error on only from the branch that it takes; the definition refuses every argument
that holds one before its body runs, so the formula must look at each of them.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import pytest

from formula_bench import Bench, in_python
from tanksheet import catalogue
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.formula import Ref, read_call

# Calculations and arguments at which the body returns without a look at the others.
EARLY: list[tuple[str, list[Any], tuple[int, ...]]] = [
    ("GYPSUMINDEX", [0.0, 20.0, 260.0], (1, 2)),
    ("PHOSPHATEINDEX", [0.0, 100.0, 5.0, 1700.0], (1, 2, 3)),
    ("STRUVITEINDEX", [200.0, 0.0, 100.0, 6.5, 1000.0], (0, 2, 3, 4)),
]


def cases() -> list[tuple[Calculation, list[Any]]]:
    found = []
    for name, arguments, others in EARLY:
        for at in others:
            for error in (SheetError.NA, SheetError.DIV):
                spoilt = [*arguments[:at], error, *arguments[at + 1 :]]
                found.append((catalogue()[name], spoilt))
    return found


@pytest.mark.parametrize("engine", ["ironcalc", "libreoffice"])
def test_an_error_in_a_branch_left_out(engine: str, tmp_path: Path) -> None:
    bench = Bench()
    for record, arguments in cases():
        bench.add_tree(arguments, partial(known_call, record))
    results = bench.results(engine, tmp_path / "early.xlsx")
    for (record, arguments), got in zip(cases(), results, strict=True):
        [wanted] = [each for each in arguments if isinstance(each, SheetError)]
        assert in_python(record.function, arguments) is wanted
        assert got is wanted, (record.name, arguments)


def known_call(record: Calculation, spots: list[str]) -> Any:
    """The call's tree where every argument is known to be in range, as an input's cell is."""
    facts = dict(zip(spots, record.parameters.values(), strict=True))
    return read_call(record.function, [Ref(spot) for spot in spots], facts)


def test_without_the_error_the_early_answer_stands(tmp_path: Path) -> None:
    """-9 is what the docstrings of the three indices promise where an ion is missing."""
    bench = Bench()
    for name, arguments, _ in EARLY:
        record = catalogue()[name]
        bench.add_tree(arguments, partial(known_call, record))
    assert bench.results("ironcalc", tmp_path / "early.xlsx") == [-9.0, -9.0, -9.0]
