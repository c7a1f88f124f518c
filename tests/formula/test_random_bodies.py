"""Random bodies: the Python function, the array runner and the engines give the same.

Tolerance: 1e-9 of the result, and 1e-12 of the largest intermediate number. Where large numbers
nearly cancel, that many of the result's digits are rounding noise in every engine.
"""

from __future__ import annotations

import ast
import importlib.util
import itertools
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from formula_bench import Bench, agree, in_python
from random_bodies import TINY, WORDS, Shaky, source, statements, walked
from tanksheet import definition, subset
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.formula import Ref, array_function, formula_text, read_call
from tanksheet.units import Number, Quantity, Word
from tanksheet.xlsx.address import Value

RELATIVE, OF_LARGEST = 1e-9, 1e-12
ROWS = 3
NAMES = ("alpha", "beta", "gamma", "delta")
CHOICE = Quantity(Word, "a word", words=WORDS)
ENTRIES = (
    Quantity(Number, "any number"),
    Quantity(Number, "any number"),
    Quantity(Number, "above 0", low=0, high=1e300, above=True),
    Quantity(Number, "from 0", low=0, high=1e6),
    Quantity(Number, "a temperature", low=-40, high=60),
)
HEADER = "from tanksheet.subset import ceil, exp, floor, log, log10, power, rounded, sqrt\n\n\n"
QUIET: dict[str, Any] = {
    "derandomize": True,
    "deadline": None,
    "database": None,
    "suppress_health_check": [HealthCheck.filter_too_much, HealthCheck.too_slow],
}

# Plain numbers most of the time; now and then some at the ends of what floats carry.
PLAIN = st.one_of(
    st.integers(-12, 12).map(float),
    st.integers(-4000, 4000).map(lambda n: n / 100),
    st.floats(-1e6, 1e6, allow_nan=False),
)
EXTREME = st.builds(
    lambda sign, digits, exponent: sign * digits * 10.0**exponent,
    st.sampled_from([1, -1]),
    st.floats(1, 9.99),
    st.integers(-300, 299),
)
SPOILT = st.sampled_from([None, "abc", "", SheetError.DIV, SheetError.NA, SheetError.NUM])


@dataclass(frozen=True)
class Drawn:
    """A body, its parameters, and some rows of arguments."""

    body: list[ast.stmt]
    parameters: dict[str, Quantity]
    rows: list[list[Any]]


@st.composite
def drawings(draw: Any) -> Drawn:
    count = draw(st.integers(2, 4))
    parameters = {name: draw(st.sampled_from(ENTRIES)) for name in NAMES[:count]}
    numbers = list(parameters)
    with_word = draw(st.booleans())
    if with_word:
        parameters["word"] = CHOICE
    body = draw(statements(numbers, with_word))
    rows = [[draw(argument(entry)) for entry in parameters.values()] for _ in range(ROWS)]
    return Drawn(body, parameters, rows)


def argument(entry: Quantity) -> st.SearchStrategy[Any]:
    if entry.is_word:
        return st.sampled_from([*WORDS, *WORDS, WORDS[0].upper(), "neither", None, SheetError.DIV])
    # Mostly inside the range, else hardly any row would get past the checks.
    inside = PLAIN.map(lambda n: abs(n) + 0.5 if entry.low == 0 else n)
    return st.one_of(inside, inside, inside, inside, PLAIN, EXTREME, SPOILT)


_numbers = itertools.count()


def calculation_of(drawn: Drawn, folder: Path) -> Calculation:
    """The body as a calculation, read from a file as the compiler needs it; not registered."""
    name = f"body_{next(_numbers)}"
    path = folder / f"{name}.py"
    path.write_text(HEADER + source(name, list(drawn.parameters), drawn.body), encoding="utf-8")
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    body = getattr(module, name)
    body.__doc__ = "\n".join(map(ast.unparse, drawn.body))  # for the message of a failure
    function = definition._checked(body, drawn.parameters)
    record = Calculation("RANDOM", "random", function, body, drawn.parameters, Number, ((), 0), "")
    function.calculation = record  # type: ignore[attr-defined]
    return record


def usable(value: Any, entry: Quantity) -> bool:
    """Whether an argument passes the checks."""
    if entry.is_word:
        return isinstance(value, str) and value.lower() in WORDS
    return isinstance(value, float) and entry.holds(value)


def floor_of(drawn: Drawn, row: list[Any]) -> float:
    """The absolute tolerance of a row. Raises Shaky where engines may rightly differ."""
    pairs = list(zip(row, drawn.parameters.values(), strict=True))
    if any(
        isinstance(value, float) and 0 < abs(value - entry.low) < TINY for value, entry in pairs
    ):
        raise Shaky  # the check compares with the limit
    if not all(usable(value, entry) for value, entry in pairs):
        return 0.0  # the checks answer, no arithmetic is done
    return walked(drawn.body, dict(zip(drawn.parameters, row, strict=True)))[1] * OF_LARGEST


def steady_rows(drawn: Drawn) -> list[tuple[list[Any], float]]:
    """The rows that are not shaky, each with its tolerance."""
    found = []
    for row in drawn.rows:
        try:
            found.append((row, floor_of(drawn, row)))
        except Shaky:
            continue
    return found


def formula(record: Calculation, cells: list[str]) -> str:
    return formula_text(read_call(record.function, [Ref(cell) for cell in cells], {}))


def in_arrays(record: Calculation, rows: list[list[Any]]) -> list[float]:
    # An error in a cell has no counterpart in an array; text is as unusable.
    columns = [
        ["#" if isinstance(value, SheetError) else value for value in column]
        for column in zip(*rows, strict=True)
    ]
    result = array_function(record, bad="nan")(*columns)
    return [float(value) for value in np.broadcast_to(result, (len(rows),))]


@pytest.fixture(scope="module")
def folder() -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as name:
        yield Path(name)


# Making a failure smaller takes minutes here, and the message shows the body.
@settings(max_examples=300, phases=[Phase.generate], **QUIET)
@given(drawn=drawings())
def test_python_arrays_and_ironcalc_agree(folder: Path, drawn: Drawn) -> None:
    rows = steady_rows(drawn)
    assume(rows)
    record = calculation_of(drawn, folder)
    bench = Bench()
    for row, _ in rows:
        bench.add(row, lambda cells: formula(record, cells))
    in_sheet = bench.results("ironcalc", folder / "one.xlsx")
    arrays = in_arrays(record, [row for row, _ in rows])
    for (row, floor), got, number in zip(rows, in_sheet, arrays, strict=True):
        wanted = in_python(record.function, row)
        assert agree(wanted, got, RELATIVE, floor), (row, wanted, got, record.body.__doc__)
        as_cell: Value = wanted if np.isnan(number) and isinstance(wanted, SheetError) else number
        assert agree(wanted, as_cell, RELATIVE, floor), (row, wanted, number, record.body.__doc__)


@dataclass(frozen=True)
class Row:
    """One row for the slower engines: the calculation, its arguments, what Python gave."""

    record: Calculation
    arguments: list[Any]
    wanted: Value
    floor: float


@pytest.fixture(scope="module")
def batch(folder: Path) -> list[Row]:
    """Rows of some 80 bodies, to be calculated together."""
    found: list[Row] = []

    @settings(max_examples=80, phases=[Phase.generate], **QUIET)
    @given(drawn=drawings())
    def collect(drawn: Drawn) -> None:
        rows = steady_rows(drawn)
        assume(rows)
        record = calculation_of(drawn, folder)
        for row, floor in rows:
            found.append(Row(record, row, in_python(record.function, row), floor))

    collect()
    return found


def test_the_batch_is_worth_calculating(batch: list[Row]) -> None:
    numbers = [row for row in batch if isinstance(row.wanted, float)]
    errors = {row.wanted for row in batch if isinstance(row.wanted, SheetError)}
    bodies = {row.record.body.__name__ for row in batch}
    assert len(bodies) >= 40 and len(numbers) >= 40
    assert errors >= {SheetError.VALUE, SheetError.NUM, SheetError.DIV, SheetError.NA}


@pytest.mark.parametrize("engine", ["formulas", "libreoffice", "gnumeric"])
def test_the_other_engines_agree(engine: str, batch: list[Row], tmp_path: Path) -> None:
    bench = Bench()
    for row in batch:
        bench.add(row.arguments, partial(formula, row.record))
    results = bench.results(engine, tmp_path / "batch.xlsx")
    wrong = [
        f"{bench.rows[at][0]} with {row.arguments}: {row.wanted!r}, {engine} gives {got!r}"
        for at, (row, got) in enumerate(zip(batch, results, strict=True))
        if not agree(row.wanted, got, RELATIVE, row.floor)
    ]
    assert wrong == []


# The walker itself: what it lets pass and what it keeps away from.


def walk(text: str, **values: float) -> tuple[float | None, float]:
    return walked(ast.parse(f"def f():\n return {text}").body[0].body, values)  # type: ignore[attr-defined]


def test_walker_knows_the_largest_intermediate() -> None:
    assert walk("a * 1000 - 999", a=1.0) == (1.0, 1000.0)
    assert walk("1 / a", a=0.0)[0] is None
    assert walk("sqrt(a)", a=-1.0)[0] is None


@pytest.mark.parametrize(
    "text",
    [
        "a * 1e200 * 1e200",
        "a * 1e-200 * 1e-200",
        "(a + 1e-12) - a",
        "floor(a / 3 * 3 + 1e-13)",
        "rounded(a + 0.5, 0)",
        "1 if a < 1 + 1e-12 else 2",
        "exp(a * 1000)",
        "1 / (a - a) + sqrt(-a)",
    ],
)
def test_walker_keeps_away(text: str) -> None:
    with pytest.raises(Shaky):
        walk(text, a=1.0)


def test_walker_runs_a_body_as_python_does() -> None:
    for text in (
        "a - (b - 2) * -a ** 2",
        "max(a, b, 3) if a < b < 9 or not a > 1 else ceil(a / b)",
    ):
        for a, b in itertools.product((-2.5, 0.25, 1.75, 4.0), (-3.0, 0.7, 5.0)):
            expected = eval(text, vars(subset) | {"a": a, "b": b})
            assert walk(text, a=a, b=b)[0] == pytest.approx(expected, rel=1e-15)
