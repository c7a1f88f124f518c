"""A bad argument of any calculation: the right kind of fault, and a message that helps."""

from __future__ import annotations

import math
import operator
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

from tanksheet import Fault, TanksheetError, catalogue
from tanksheet.calc import ratio, stock
from tanksheet.definition import Calculation, calculation, evaluated
from tanksheet.errors import (
    FAULTS,
    CarriedFault,
    DividedByZero,
    NotANumber,
    NotListed,
    OutOfRange,
    SheetError,
)
from tanksheet.units import Litre, Number, Quantity

# Called wrongly here on purpose, which their types would refuse.
dilution: Any = ratio.dilution
percent_injected: Any = ratio.percent_injected
stock_mass: Any = stock.stock_mass
Position = tuple[Calculation, int, str, Quantity]


def positions(kind: str) -> list[Any]:
    """Every parameter of every calculation that is a number, a word or readings."""
    found = []
    for record in catalogue().values():
        for at, (name, entry) in enumerate(record.parameters.items()):
            is_kind = {
                "number": not entry.is_word and not entry.is_readings,
                "word": entry.is_word,
                "readings": entry.is_readings,
            }[kind]
            if is_kind:
                found.append(pytest.param(record, at, name, entry, id=f"{record.name}-{name}"))
    return found


def refused(record: Calculation, at: int, value: object, kind: type[Fault]) -> str:
    """The message that a calculation gives when one argument of its example is replaced."""
    arguments = list(record.example[0])
    arguments[at] = value
    with pytest.raises(kind) as caught:
        record.function(*arguments)
    assert type(caught.value) is kind
    assert isinstance(caught.value, ValueError) and isinstance(caught.value, TanksheetError)
    return str(caught.value)


NUMBERS = pytest.mark.parametrize(("record", "at", "name", "entry"), positions("number"))
WORDS = pytest.mark.parametrize(("record", "at", "name", "entry"), positions("word"))
EACH = pytest.mark.parametrize("record", catalogue().values(), ids=lambda record: record.name)
READINGS = pytest.mark.parametrize(("record", "at", "name", "entry"), positions("readings"))


@NUMBERS
@pytest.mark.parametrize("value", ["12", "abc", True, [1.0], object])
def test_text_for_a_number(
    record: Calculation, at: int, name: str, entry: Quantity, value: object
) -> None:
    message = refused(record, at, value, NotANumber)
    assert f"{name} is {value!r}" in message
    assert entry.allowed in message


@NUMBERS
@pytest.mark.parametrize("value", [None, ""])
def test_blank_for_a_number(
    record: Calculation, at: int, name: str, entry: Quantity, value: object
) -> None:
    message = refused(record, at, value, NotANumber)
    assert f"{name} is blank" in message
    assert entry.allowed in message


@NUMBERS
def test_number_just_outside_its_range(
    record: Calculation, at: int, name: str, entry: Quantity
) -> None:
    outside = []
    if not math.isinf(entry.low):
        outside.append(entry.low if entry.above else entry.low - abs(entry.low) * 1e-6 - 1e-9)
    if not math.isinf(entry.high):
        outside.append(entry.high * (1 + 1e-9))
    for value in (*outside, math.nan):
        message = refused(record, at, value, OutOfRange)
        assert f"{name} is {value:g}" in message
        assert entry.allowed in message


@NUMBERS
def test_edge_of_the_range_is_inside(
    record: Calculation, at: int, name: str, entry: Quantity
) -> None:
    for value in (entry.low, entry.high):
        if entry.holds(value) and math.isfinite(value):
            arguments = list(record.example[0])
            arguments[at] = value
            try:
                record.function(*arguments)
            except Fault as fault:
                # The rest of the body may refuse it, but not this check.
                assert f"{name} is" not in str(fault)


@WORDS
@pytest.mark.parametrize("value", ["nothing like it", "", None, 5.0, True])
def test_unlisted_word(
    record: Calculation, at: int, name: str, entry: Quantity, value: object
) -> None:
    message = refused(record, at, value, NotListed)
    assert repr(value) in message
    words = entry.words or record.example[0][at : at + 1]
    if isinstance(value, str):
        assert all(word in message for word in words), "the message lists what is allowed"


@WORDS
def test_words_are_taken_in_either_case(
    record: Calculation, at: int, name: str, entry: Quantity
) -> None:
    arguments, _ = record.example
    shouted = [a.upper() if isinstance(a, str) else a for a in arguments]
    assert record.function(*shouted) == record.function(*arguments)


@READINGS
def test_readings_that_cannot_be_used(
    record: Calculation, at: int, name: str, entry: Quantity
) -> None:
    assert "'25 s'" in refused(record, at, [25.0, "25 s", 24.0], NotANumber)
    assert "True" in refused(record, at, [25.0, True, 24.0], NotANumber)
    assert "''" in refused(record, at, [25.0, "", 24.0], NotANumber)
    few = refused(record, at, [], OutOfRange)
    assert f"{name} has 0 numbers" in few and f"at least {entry.at_least}" in few
    low = refused(record, at, [25.0, entry.low - 1, 24.0], OutOfRange)
    assert f"{name} has {entry.low - 1:g}" in low and entry.allowed in low


@READINGS
def test_blanks_and_shape_do_not_matter(
    record: Calculation, at: int, name: str, entry: Quantity
) -> None:
    arguments = list(record.example[0])
    expected = record.function(*arguments)
    flat = arguments[at]
    arguments[at] = [[None, *flat[:2]], [None, *flat[2:], None]]
    assert record.function(*arguments) == expected
    arguments[at] = tuple(flat)
    assert record.function(*arguments) == expected


@pytest.mark.parametrize("record", catalogue().values(), ids=lambda record: record.name)
@pytest.mark.parametrize("code", list(FAULTS), ids=str)
def test_an_error_in_a_cell_is_handed_on(record: Calculation, code: SheetError) -> None:
    for at, entry in enumerate(record.parameters.values()):
        if not entry.is_readings:
            fault = CarriedFault(FAULTS[code]("from another cell"))
            assert refused(record, at, fault, FAULTS[code]) == "from another cell"


# Which error shows when several arguments are bad: the order of the formula.


def test_text_comes_before_range_and_range_before_words() -> None:
    with pytest.raises(NotANumber):
        stock_mass(-1, "x", 100, 200)
    with pytest.raises(OutOfRange):
        dilution(0, "neither")
    with pytest.raises(OutOfRange):
        catalogue()["ELEMENT"].function(5, 101)
    with pytest.raises(NotANumber):
        catalogue()["ELEMENT"].function(CarriedFault(DividedByZero("x")), "text")
    with pytest.raises(NotListed):
        dilution(1, "neither")


def test_first_bad_number_is_named() -> None:
    with pytest.raises(NotANumber, match="content is 'x'"):
        stock_mass(1, "x", "y", 200)
    with pytest.raises(OutOfRange, match="content is 0"):
        stock_mass(1, 0, 0, 200)


# Calling


def test_arguments_by_name() -> None:
    by_name = stock_mass(target=150, content=15.5, ratio=100, tank=200)
    assert by_name == stock_mass(150, 15.5, 100, 200)
    assert stock_mass(150, 15.5, tank=200, ratio=100) == by_name


def test_wrong_number_of_arguments() -> None:
    with pytest.raises(TypeError, match="missing a required argument"):
        stock_mass(150, 15.5)
    with pytest.raises(TypeError, match="too many positional arguments"):
        stock_mass(150, 15.5, 100, 200, 1)
    with pytest.raises(TypeError, match="unexpected keyword"):
        stock_mass(150, 15.5, 100, tank=200, volume=200)


def test_whole_numbers_come_back_as_floats() -> None:
    assert type(percent_injected(100)) is float
    assert type(dilution(100, "to")) is float


def test_numbers_of_numpy_are_numbers() -> None:
    assert percent_injected(np.float64(128)) == 0.78125
    assert percent_injected(np.int32(100)) == 1.0


@pytest.mark.parametrize(
    "value",
    [np.True_, np.array(True), np.complex128(1 + 2j), np.datetime64("2020-01-01"), np.str_("12")],
    ids=repr,
)
def test_scalars_of_numpy_that_are_no_numbers(value: Any) -> None:
    with pytest.raises(NotANumber, match="^percent_injected: ratio is .*; it must be a number"):
        percent_injected(value)


def test_what_is_missing_in_a_data_frame_is_no_number() -> None:
    for value in (pd.NA, pd.NaT):
        with pytest.raises(NotANumber, match="ratio is (<NA>|NaT); it must be a number"):
            percent_injected(value)


@EACH
def test_a_column_is_refused_in_one_line_by_the_bare_calculation(record: Calculation) -> None:
    """Columns go through ``tanksheet.stock_mass``; a body asks for single numbers."""
    for column in (np.array([1.0, 2.0]), pd.Series([1.0, 2.0]), pl.Series([1.0, 2.0])):
        with pytest.raises(Fault) as caught:
            record.function(*[column] * len(record.parameters))
        said = str(caught.value)
        assert " is a column (" in said and "; it must be " in said and "\n" not in said


# What arithmetic may do inside a body


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (lambda: 1 / 0, DividedByZero),
        (lambda: math.exp(1e4), OutOfRange),
        (lambda: 1e308 * 10, OutOfRange),
        (lambda: math.inf - math.inf, OutOfRange),
        (lambda: (-8.0) ** 0.5, OutOfRange),
        (lambda: math.sqrt(-1), OutOfRange),
        (lambda: math.ceil(math.nan), OutOfRange),
        (lambda: operator.add("a", 1), NotANumber),
    ],
)
def test_failing_arithmetic_becomes_a_fault(body: Any, kind: type[Fault]) -> None:
    with pytest.raises(kind) as caught:
        evaluated(body, [])
    assert type(caught.value) is kind


# Registration


def test_a_calculation_that_does_not_fit_is_refused_at_registration() -> None:
    def cell_like(ec25: Number) -> Number:
        return ec25

    def unknown(colour: Number) -> Number:
        return colour

    def other_unit(tank: Number) -> Number:
        return tank

    def fitting(tank: Litre) -> Litre:
        return tank

    example = ((1,), 1)
    with pytest.raises(ValueError, match="ec25' is a cell address"):
        calculation("TRIAL", example=example)(cell_like)
    with pytest.raises(ValueError, match="'colour' is not in the glossary"):
        calculation("TRIAL", example=example)(unknown)
    with pytest.raises(ValueError, match="'tank' has another unit in the glossary: L"):
        calculation("TRIAL", example=example)(other_unit)
    with pytest.raises(ValueError, match="capital letters and digits only"):
        calculation("Trial_1", example=example)(fitting)
    with pytest.raises(ValueError, match=r"FERT\.FLOW is defined twice"):
        calculation("FLOW", example=example)(fitting)
    assert "TRIAL" not in catalogue()
