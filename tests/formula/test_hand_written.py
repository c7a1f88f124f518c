"""A few formulas typed by a person, beside the compiled ones, in one engine.

All other comparisons of this folder hold the compiler against the Python body that it read. Here
the formula comes from another hand, so a slip of the compiler's own cannot cancel out.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from formula_bench import Bench, agree, in_python
from formula_cases import arguments_of
from tanksheet import catalogue
from tanksheet.formula import Ref, formula_text, read_call
from tanksheet.xlsx.address import Value

# {0}, {1}, ... are the cells of the arguments in their order.
HAND_WRITTEN = {
    "STOCKMASS": "{0}/1000*{2}*{3}/({1}/100)",
    "HEADLOSS": "9.788998*10.67*{2}*(({0}/60000)/{3})^1.852*({1}/1000)^(-4.8704)",
    "NEWRATIO": "IF(OR({1}<={2},{3}<={2}),#NUM!,{0}/(({3}-{2})/({1}-{2})))",
    "CONVERT": (
        "IF(VLOOKUP({1},Data!$A$1:$F$99,2,FALSE)<>VLOOKUP({2},Data!$A$1:$F$99,2,FALSE),#N/A,"
        "({0}*VLOOKUP({1},Data!$A$1:$F$99,3,FALSE)+VLOOKUP({1},Data!$A$1:$F$99,4,FALSE)"
        "-VLOOKUP({2},Data!$A$1:$F$99,4,FALSE))/VLOOKUP({2},Data!$A$1:$F$99,3,FALSE))"
    ),
    "UNIFORMITY": (
        'IF({1}="CU",100-100*SUMPRODUCT(({0}<>"")*ABS({0}-AVERAGE({0})))/SUM({0}),'
        # The lowest quarter one by one: there are at most 14 readings, so at most four.
        "100*(SMALL({0},1)+IF(COUNT({0})>4,SMALL({0},2),0)+IF(COUNT({0})>8,SMALL({0},3),0)"
        "+IF(COUNT({0})>12,SMALL({0},4),0))"
        "/ROUNDUP(COUNT({0})/4,0)/(SUM({0})/COUNT({0})))"
    ),
    "LATERALTIME": (
        "PI()*({1}/2000)^2*{0}*1000/({2}*{3}/60)*(LN({2})+0.5772156649+0.5/{2}-1/12/({2}*{2}))"
    ),
}
EACH = 60


def compiled(name: str, cells: list[str]) -> str:
    return formula_text(read_call(catalogue()[name].function, [Ref(cell) for cell in cells], {}))


def compared(name: str, template: str, path: Path) -> list[tuple[Value, Value, Value]]:
    """What the compiled formula, the typed one and Python give for the same arguments."""
    record = catalogue()[name]
    rng = random.Random(name)
    cases = [list(record.example[0])] + [arguments_of(record, rng) for _ in range(EACH)]
    bench = Bench()
    for case in cases:
        bench.add(case, lambda cells: compiled(name, cells))
        bench.add(case, lambda cells: template.format(*cells))
    results = bench.results("ironcalc", path)
    python = [in_python(record.function, case) for case in cases]
    return list(zip(results[::2], results[1::2], python, strict=True))


@pytest.mark.parametrize("name", HAND_WRITTEN)
def test_typed_and_compiled_formulas_agree(name: str, tmp_path: Path) -> None:
    found = compared(name, HAND_WRITTEN[name], tmp_path / "book.xlsx")
    for compiled_value, typed, python in found:
        # The floor is for temperatures near 0, where offsets of about 20 or 30 cancel.
        assert agree(python, compiled_value, floor=1e-12), (python, compiled_value)
        # The typed formulas carry no check of an argument's range, so they may give a number.
        if isinstance(python, float) or not isinstance(typed, float):
            assert agree(typed, compiled_value, floor=1e-12), (typed, compiled_value)
    numbers = [value for value, _, _ in found if isinstance(value, float)]
    assert len(numbers) >= EACH // 5, "enough cases must give numbers"


def test_a_wrong_formula_is_seen(tmp_path: Path) -> None:
    wrong = HAND_WRITTEN["STOCKMASS"].replace("/100)", "/100.0001)")
    found = compared("STOCKMASS", wrong, tmp_path / "book.xlsx")
    assert not any(agree(typed, value, floor=1e-12) for value, typed, _ in found if value)
