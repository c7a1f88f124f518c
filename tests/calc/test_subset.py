"""The words of a body against the standard library, NumPy and decimal arithmetic."""

from __future__ import annotations

import math
import random
import statistics
from decimal import ROUND_HALF_UP, Context, Decimal, localcontext
from typing import Any

import numpy as np
import pytest

from tanksheet import subset
from tanksheet.errors import (
    CarriedFault,
    Fault,
    NotANumber,
    NotListed,
    OutOfRange,
    SheetError,
    fault_for,
)

RANDOM = random.Random(20)
LISTS = [[RANDOM.uniform(0, 1e3) for _ in range(size)] for size in (2, 3, 4, 5, 8, 17, 100)]
EXACT = Context(prec=60)


@pytest.mark.parametrize("readings", LISTS, ids=len)
def test_statistics_against_numpy(readings: list[float]) -> None:
    array = np.array(readings)
    assert subset.count(readings) == array.size
    assert subset.mean(readings) == pytest.approx(array.mean(), rel=1e-14)
    deviation = np.abs(array - array.mean()).mean()
    assert subset.mean_deviation(readings) == pytest.approx(deviation, rel=1e-13)
    assert subset.standard_deviation(readings) == pytest.approx(array.std(ddof=1), rel=1e-13)
    for how_many in (1, 2, len(readings)):
        lowest = np.sort(array)[:how_many].sum()
        assert subset.lowest_total(readings, how_many) == pytest.approx(lowest, rel=1e-14)


@pytest.mark.parametrize("readings", LISTS, ids=len)
def test_statistics_against_decimal_arithmetic(readings: list[float]) -> None:
    with localcontext(EXACT):
        exact = [Decimal(reading) for reading in readings]
        mean = sum(exact, Decimal()) / len(exact)
        apart = sum((abs(reading - mean) for reading in exact), Decimal()) / len(exact)
        squares = sum(((reading - mean) ** 2 for reading in exact), Decimal())
        spread = (squares / (len(exact) - 1)).sqrt()
    assert subset.mean(readings) == pytest.approx(float(mean), rel=1e-15)
    assert subset.mean_deviation(readings) == pytest.approx(float(apart), rel=1e-14)
    assert subset.standard_deviation(readings) == pytest.approx(float(spread), rel=1e-14)
    assert subset.standard_deviation(readings) == statistics.stdev(readings)


def test_a_long_sum_loses_nothing() -> None:
    readings = [1e10] + [1e-4] * 10_000
    assert subset.lowest_total(readings, 10_000) == pytest.approx(1.0, rel=1e-15)
    assert subset.mean(readings) * 10_001 - 1e10 == pytest.approx(1.0, rel=1e-4)


@pytest.mark.parametrize(
    ("number", "digits", "expected"),
    [
        # Half goes away from zero, on the digits that a person sees.
        (0.5, 0, 1.0),
        (1.5, 0, 2.0),
        (2.5, 0, 3.0),
        (-0.5, 0, -1.0),
        (-2.5, 0, -3.0),
        (2.675, 2, 2.68),
        (1.005, 2, 1.01),
        (-1.005, 2, -1.01),
        (1.4449999, 2, 1.44),
        (445.84999999999997, 1, 445.9),
        (-0.00049999999999999994, 3, -0.001),
        (1234.5, -2, 1200.0),
        (1250.0, -2, 1300.0),
        (49.0, -2, 0.0),
        (1e300, 2, 1e300),
        (123456789012345680.0, 3, 123456789012345680.0),
        (1e-300, 5, 0.0),
        (5e-324, 300, 0.0),
    ],
)
def test_rounding(number: float, digits: int, expected: float) -> None:
    assert subset.rounded(number, digits) == expected


@pytest.mark.parametrize("digits", [-2, 0, 1, 2, 5])
def test_rounding_against_decimal_arithmetic(digits: int) -> None:
    for _ in range(300):
        number = RANDOM.choice((-1, 1)) * 10 ** RANDOM.uniform(-4, 12)
        step = Decimal(1).scaleb(-digits)
        exact = Decimal(repr(number)).quantize(step, ROUND_HALF_UP, EXACT)
        assert subset.rounded(number, digits) == float(exact)


@pytest.mark.parametrize(
    ("number", "digits", "text"),
    [
        (10.0, 1, "10"),
        (10.04, 1, "10"),
        (10.05, 1, "10.1"),
        (0.5, 2, "0.50"),
        (-0.001, 2, "0.00"),
        (100.0, 0, "100"),
        (1200.0, -2, "1200"),
        (-0.01, 1, "0"),
        (-1.25, 1, "-1.3"),
        (1e20, 0, "100000000000000000000"),
        (0.001, 3, "0.001"),
    ],
)
def test_shown(number: float, digits: int, text: str) -> None:
    assert subset.shown(number, digits) == text


@pytest.mark.parametrize("number", [-2.5, -1.0, -0.3, 0.0, 0.3, 1.0, 2.0000001, 1e12 + 0.5])
def test_whole_numbers(number: float) -> None:
    assert subset.ceil(number) == np.ceil(number) and type(subset.ceil(number)) is float
    assert subset.floor(number) == np.floor(number) and type(subset.floor(number)) is float


@pytest.mark.parametrize("number", [1e-300, 1e-6, 0.3, 1.0, 2.5, 700.0])
def test_functions_against_numpy(number: float) -> None:
    assert subset.sqrt(number) == pytest.approx(np.sqrt(number), rel=1e-15)
    assert subset.log(number) == pytest.approx(np.log(number), rel=1e-15)
    assert subset.log10(number) == pytest.approx(np.log10(number), rel=1e-15)
    assert subset.exp(number) == pytest.approx(np.exp(number), rel=1e-14)
    assert subset.power(number, 1.852) == pytest.approx(np.power(number, 1.852), rel=1e-14)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (subset.sqrt, (-1e-300,)),
        (subset.sqrt, (math.nan,)),
        (subset.log, (0.0,)),
        (subset.log, (-1.0,)),
        (subset.log10, (0.0,)),
        (subset.power, (-1.0, 2.0)),
        (subset.power, (0.0, 0.0)),
        (subset.power, (0.0, -1.0)),
    ],
)
def test_out_of_the_domain(function: Any, arguments: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRange, match="must be") as caught:
        function(*arguments)
    assert f"{arguments[0]:g}" in str(caught.value)


def test_zero_to_a_positive_power() -> None:
    assert subset.power(0.0, 0.5) == 0.0
    assert subset.sqrt(0.0) == 0.0


def test_numbers_among_cells() -> None:
    assert subset.numbers([[1, None], [2.5, None]]) == [1.0, 2.5]
    assert subset.numbers(7) == [7.0]
    assert subset.numbers(None) == []
    for wrong in ("7", "", True, object()):
        with pytest.raises(NotANumber, match="clear or mend it"):
            subset.numbers([1.0, wrong])


def test_check() -> None:
    subset.check(True, "unused")
    with pytest.raises(OutOfRange, match="too low"):
        subset.check(False, "too low")
    with pytest.raises(NotANumber, match="too odd"):
        subset.check(False, "too odd", NotANumber)


@pytest.mark.parametrize(
    ("value", "expected"),
    [(1, True), (1.5, True), (True, False), ("1", False), (None, False), ([1], False)],
)
def test_is_number(value: object, expected: bool) -> None:
    assert subset.is_number(value) is expected


def test_begins() -> None:
    """As a sheet's LEFT(text, n) = word: in any case, and an error comes through."""
    assert subset.begins("stop: too much", "stop") and subset.begins("Stop", "stop")
    for other in ("", "sto", "not stop", 5.0, None):
        assert not subset.begins(other, "stop")
    with pytest.raises(Fault):
        subset.begins(CarriedFault(fault_for(SheetError.NA, "in a cell")), "stop")


# Columns of cells. What a search in a sheet does with case and patterns: Microsoft's pages on MATCH
# and SUMIF; here a word finds only itself, in any case.
TANKS = ["A", "b", "", "a", 5.0, "A*"]


def test_words_among_cells_in_any_case() -> None:
    assert subset.among("B", TANKS) and subset.among("a", TANKS) and subset.among("a*", TANKS)
    for other in ("c", "?", "*", "5", "ab"):
        assert not subset.among(other, TANKS)
    assert subset.position("B", TANKS) == 2
    assert subset.position("A*", TANKS) == 6
    assert subset.sum_where(TANKS, "A", [1, 2, 4, 8, 16, 32]) == 9
    assert subset.sum_where(TANKS, "*", [1, 2, 4, 8, 16, 32]) == 0


@pytest.mark.parametrize("word", ["c", "*", "", 5.0, None])
def test_a_word_that_stands_nowhere(word: object) -> None:
    with pytest.raises(NotListed):
        subset.position(word, TANKS)  # type: ignore[arg-type]


def test_errors_among_cells() -> None:
    """An error as the word, or among the cells that are asked, comes through with its own code."""
    lost = CarriedFault(fault_for(SheetError.REF, "in a cell"))
    for call in (
        lambda: subset.among(lost, TANKS),  # type: ignore[arg-type]
        lambda: subset.among("a", ["a", lost]),
        lambda: subset.position(lost, TANKS),  # type: ignore[arg-type]
        lambda: subset.sum_where(["a", "b"], "b", [1, lost]),
    ):
        with pytest.raises(Fault) as caught:
            call()
        assert caught.value.code is SheetError.REF
    assert subset.sum_where(["a", "b"], "a", [1, lost]) == 1
    assert subset.position("b", [lost, "b"]) == 2
