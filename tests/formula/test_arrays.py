"""A calculation on arrays equals the calculation on each row."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from formula_bench import agree, in_python
from formula_cases import arguments_of, bad_cases
from tanksheet import catalogue
from tanksheet.calc.ratio import dilution
from tanksheet.definition import Calculation, of
from tanksheet.errors import DividedByZero, NotANumber, NotListed, OutOfRange, SheetError
from tanksheet.formula import Ref, array_function
from tanksheet.formula.arrays import run_tree
from tanksheet.formula.nodes import Call, Const
from tanksheet.tables import look_up

ROWS = 200
RECORDS = list(catalogue().values())
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)


def padded(cells: list[Any], width: int) -> list[Any]:
    return cells + [None] * (width - len(cells))


def columns(record: Calculation, rows: list[list[Any]]) -> list[Any]:
    """The rows turned into one argument each; readings become a table, blank at the end."""
    turned: list[Any] = []
    for entry, column in zip(record.parameters.values(), zip(*rows, strict=True), strict=False):
        width = max(len(cells) for cells in column) if entry.is_readings else 0
        turned.append([padded(cells, width) for cells in column] if entry.is_readings else column)
    return turned


def arrays_of(record: Calculation, rows: list[list[Any]]) -> list[Any]:
    """The same as NumPy arrays of numbers and of text, blanks among readings as NaN."""
    return [
        np.array(column, dtype=str if entry.is_word else float)
        for entry, column in zip(record.parameters.values(), columns(record, rows), strict=True)
    ]


@EACH
def test_rows_equal_single_calls(record: Calculation) -> None:
    rng = random.Random(record.name)
    rows = [list(record.example[0])] + [arguments_of(record, rng) for _ in range(ROWS)]
    single = [in_python(record.function, row) for row in rows]
    for arguments in (columns(record, rows), arrays_of(record, rows)):
        result = array_function(record, bad="nan")(*arguments)
        assert result.shape == (len(rows),) and result.dtype == float
        for row, one, many in zip(rows, single, result, strict=True):
            as_cell = SheetError.NUM if np.isnan(many) else float(many)
            wanted = SheetError.NUM if isinstance(one, SheetError) else one
            assert agree(wanted, as_cell, relative=1e-12, floor=1e-11), (row, one, many)
    assert np.isfinite(result).sum() > ROWS / 5


@EACH
def test_bad_rows_are_nan_or_raise_the_single_call_fault(record: Calculation) -> None:
    for row in bad_cases(record):
        if any(isinstance(cell, SheetError) for value in row for cell in np.ravel([value])):
            continue  # arrays hold no spreadsheet errors
        if not isinstance(in_python(record.function, row), SheetError):
            continue  # one reading is enough for a mean
        rows = [list(record.example[0])] * 3 + [row]
        with pytest.raises(ValueError) as single:
            record.function(*row)
        result = array_function(record, bad="nan")(*columns(record, rows))
        assert np.isnan(result).tolist() == [False, False, False, True], row
        with pytest.raises(type(single.value)) as many:
            array_function(record)(*columns(record, rows))
        assert type(many.value) is type(single.value)
        assert str(many.value) == f"row 3: {single.value}"


# The rest by hand, on calculations whose results are plain to see.

PERCENT, DILUTION, MASS, CONVERT, UNIFORMITY, MEAN = (
    catalogue()[name]
    for name in ("PERCENT", "DILUTION", "STOCKMASS", "CONVERT", "UNIFORMITY", "MEAN")
)


def test_raise_is_the_default_and_names_the_first_bad_row() -> None:
    percent = array_function(PERCENT)
    with pytest.raises(OutOfRange, match=r"^row 1: percent_injected: ratio is 0\.5; it must be"):
        percent([100, 0.5, 0.25])
    with pytest.raises(NotANumber, match=r"^row 2: percent_injected: ratio is 'x'"):
        percent([100, 200, "x", 0])
    with pytest.raises(NotANumber, match=r"^row 0: percent_injected: ratio is blank"):
        percent([None])


def test_position_in_a_table_is_named_by_row_and_column() -> None:
    with pytest.raises(OutOfRange, match=r"^row \(1, 2\): percent_injected: ratio is 0"):
        array_function(PERCENT)([[1, 2, 4], [8, 16, 0]])


def test_single_values_need_no_row() -> None:
    assert float(array_function(PERCENT)(128)) == 0.78125
    with pytest.raises(OutOfRange, match=r"^percent_injected: ratio is 0; "):
        array_function(PERCENT)(0)


def test_broadcasting() -> None:
    mass = array_function(MASS)
    targets, tanks = np.array([[50.0], [100.0], [150.0]]), np.array([100.0, 200.0])
    table = mass(targets, 15.5, 100, tanks)
    assert table.shape == (3, 2)
    for i, target in enumerate(targets[:, 0]):
        for j, tank in enumerate(tanks):
            assert table[i, j] == pytest.approx(MASS.function(target, 15.5, 100, tank), rel=1e-14)
    with pytest.raises(ValueError, match="broadcast"):
        mass([1, 2, 3], 15.5, 100, [1, 2])


def test_words_broadcast_too() -> None:
    assert array_function(DILUTION)([20, 100], "TO").tolist() == [21, 101]
    assert array_function(DILUTION)(100, ["in", "To"]).tolist() == [100, 101]
    assert array_function(CONVERT)(1, ["gal", "L"], [["L"], ["mL"]]).shape == (2, 2)


def test_text_that_looks_like_a_number_and_truth_are_refused_as_in_a_single_call() -> None:
    result = array_function(PERCENT, bad="nan")([100, "100", True, None, np.nan])
    assert np.isnan(result).tolist() == [False, True, True, True, True]
    with pytest.raises(NotANumber, match="row 1: .* is '100'"):
        array_function(PERCENT)([100, "100"])
    with pytest.raises(NotANumber, match="row 1: .* is True"):
        array_function(PERCENT)([100, True])
    assert np.isnan(array_function(PERCENT, bad="nan")(np.array([True, True]))).all()


def test_whole_numbers_do_not_overflow() -> None:
    assert array_function(MASS)(np.array([1000000]), 1, 1000000, 10000000)[0] == 1e18


def test_readings_lie_along_the_last_axis() -> None:
    table = np.array([[1.0, 2.0, 3.0, np.nan], [4.0, np.nan, np.nan, 8.0]])
    assert array_function(MEAN)(table).tolist() == [2.0, 6.0]
    assert array_function(MEAN)(table[np.newaxis]).shape == (1, 2)
    both = array_function(UNIFORMITY)(table, [["CU"], ["DU"]])
    assert both.shape == (2, 2)
    for i, word in enumerate(("CU", "DU")):
        for j in range(2):
            readings = [cell for cell in table[j] if not np.isnan(cell)]
            single = UNIFORMITY.function(readings, word)
            assert both[i, j] == pytest.approx(single, rel=1e-13)


def test_bad_readings() -> None:
    uniformity = array_function(UNIFORMITY, bad="nan")
    rows = [[1, 2, 3], [1, None, None], [1, "x", 3], [1, True, 3], [-1, 2, 3], [0, 0, 0]]
    assert np.isnan(uniformity(rows, "CU")).tolist() == [False] + [True] * 5
    for row, kind in zip(
        rows[1:], (OutOfRange, NotANumber, NotANumber, OutOfRange, DividedByZero), strict=True
    ):
        with pytest.raises(kind, match="^row 1: "):
            array_function(UNIFORMITY)([rows[0], row], "CU")


def test_unlisted_words() -> None:
    with pytest.raises(NotListed, match="^row 1: dilution: reading is 'at'"):
        array_function(DILUTION)(100, ["in", "at"])
    with pytest.raises(NotListed, match="^row 1: .*'cubit' is not listed"):
        array_function(CONVERT)(1, ["m", "cubit"], "m")
    result = array_function(CONVERT, bad="nan")(1, ["m", "cubit", "kg", None], "m")
    assert np.isnan(result).tolist() == [False, True, True, True]


def test_an_unlisted_word_does_not_pass_for_another_branch() -> None:
    def body(from_unit: str) -> float:
        return 1 if look_up("units", "kind", from_unit) == "volume" else 2

    def joined(from_unit: str) -> float:
        return 1 if f"{look_up('units', 'kind', from_unit)} flow" == "volume flow" else 2

    for trial in (body, joined):
        record = unregistered(trial)
        result = array_function(record, bad="nan")(["gal", "m", "cubit", "L"])
        assert np.array_equal(result, [1, 2, np.nan, 1], equal_nan=True)


def unregistered(body: Callable[..., Any]) -> Calculation:
    """A calculation that is in no register."""
    parameters = {"from_unit": CONVERT.parameters["from_unit"]}

    def function(from_unit: str) -> Any:
        return body(from_unit)

    record = replace(CONVERT, function=function, body=body, parameters=parameters)
    function.calculation = record  # type: ignore[attr-defined]
    return record


def test_arguments_are_not_changed() -> None:
    table = np.array([[3.0, np.nan, 1.0]])
    array_function(MEAN)(table)
    assert np.array_equal(table, [[3.0, np.nan, 1.0]], equal_nan=True)


def test_wrong_number_of_arguments() -> None:
    with pytest.raises(ValueError, match="shorter|longer"):
        array_function(DILUTION)(100)


def test_these_tests_know_the_calculations() -> None:
    assert of(dilution) is DILUTION


# As spreadsheets round what a person sees, half away from zero (Microsoft's page on ROUND): all of
# these fall a hair short of the half in binary.
@pytest.mark.parametrize(
    ("number", "digits", "rounded"),
    [(2.675, 2, 2.68), (1.005, 2, 1.01), (445.84999999999997, 1, 445.9), (-2.675, 2, -2.68)],
)
def test_rounding_on_a_hair(number: float, digits: int, rounded: float) -> None:
    tree = Call("rounded", (Ref("number"), Const(digits)))
    assert run_tree(tree, {"number": number}) == pytest.approx(rounded, rel=1e-15)


def test_words_of_a_column_in_any_case() -> None:
    """Sheets compare text without regard to case; by eye."""
    typed = Call("dot", (Call("same", (Ref("words"), Ref("word"))), Ref("amounts")))
    tree = Call("sum_where", (Ref("words"), Const("A"), Ref("amounts")))
    known = {"words": np.array(["a", "B", "A"]), "amounts": np.array([1.0, 2.0, 4.0])}
    assert run_tree(tree, known) == 5
    assert run_tree(typed, {**known, "word": np.array("A")}) == 5
    assert run_tree(typed, {**known, "word": np.array("*")}) == 0
