"""Columns of every kind: each row as a single call gives it, in the kind that came in."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

import tanksheet as ts
from formula_bench import agree, in_python
from formula_cases import arguments_of
from tanksheet.definition import Calculation
from tanksheet.errors import DividedByZero, Fault, NotANumber, NotListed, OutOfRange, SheetError
from tanksheet.units import Quantity

# For calls that the types refuse, as they should.
AS_ANY: Any = ts
ROWS = 40
RECORDS = list(ts.catalogue().values())
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
LABELS = [f"block {n}" for n in range(ROWS)]


def door(record: Calculation) -> Callable[..., Any]:
    function: Callable[..., Any] = getattr(ts, record.body.__name__)
    return function


def as_lists(entry: Quantity, cells: list[Any]) -> Any:
    return cells


def as_arrays(entry: Quantity, cells: list[Any]) -> Any:
    if not entry.is_readings:
        return np.array(cells)
    width = max(map(len, cells))
    return np.array([[*row, *[None] * (width - len(row))] for row in cells], dtype=float)


def as_pandas(entry: Quantity, cells: list[Any]) -> Any:
    if entry.is_readings:
        return pd.DataFrame(as_arrays(entry, cells), index=LABELS)
    return pd.Series(cells, index=LABELS)


def as_polars(entry: Quantity, cells: list[Any]) -> Any:
    if entry.is_readings:
        return pl.DataFrame(as_arrays(entry, cells), nan_to_null=True)
    return pl.Series(cells, strict=False)


KINDS: dict[Any, Callable[[Quantity, list[Any]], Any]] = {
    list: as_lists,
    np.ndarray: as_arrays,
    pd.Series: as_pandas,
    pl.Series: as_polars,
}


@EACH
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__module__.split(".")[0])
def test_rows_equal_single_calls(record: Calculation, kind: Any) -> None:
    rng = random.Random(record.name)
    rows = [arguments_of(record, rng) for _ in range(ROWS)]
    columns = [
        KINDS[kind](entry, list(cells))
        for entry, cells in zip(record.parameters.values(), zip(*rows, strict=True), strict=True)
    ]
    result: Any = door(record)(*columns, errors="nan")
    assert type(result) is kind and len(result) == ROWS
    if kind is pd.Series:
        assert result.index.tolist() == LABELS and result.name == record.body.__name__
    if kind is pl.Series:
        assert result.dtype == pl.Float64 and result.name == record.body.__name__
    good = 0
    for row, many in zip(rows, list(result), strict=True):
        one = in_python(record.function, row)
        wanted = SheetError.NUM if isinstance(one, SheetError) else one
        got = SheetError.NUM if np.isnan(many) else float(many)
        assert agree(wanted, got, relative=1e-12, floor=1e-11), (row, one, many)
        good += one == wanted
    assert good > ROWS / 5


@EACH
def test_a_bad_row_is_named_in_every_kind(record: Calculation) -> None:
    """The fault of the row alone, with its place in front."""
    arguments = list(record.example[0])
    bad = ["no such word" if isinstance(each, str) else each for each in arguments]
    if bad == arguments:
        bad = [[-1.0, -1.0] if isinstance(each, list) else -1e9 for each in arguments]
        if record.name == "CONVERT":
            return
    with pytest.raises(Fault) as alone:
        record.function(*bad)
    rows = [arguments] * 3 + [bad] + [arguments] * (ROWS - 4)
    for kind, column_of in KINDS.items():
        columns = [
            column_of(entry, list(cells))
            for entry, cells in zip(
                record.parameters.values(), zip(*rows, strict=True), strict=True
            )
        ]
        with pytest.raises(type(alone.value)) as raised:
            door(record)(*columns)
        place = "row 3 (index block 3)" if kind is pd.Series else "row 3"
        assert str(raised.value) == f"{place}: {alone.value}"
        result = list(door(record)(*columns, errors="nan"))
        assert np.isnan(result).tolist() == [False] * 3 + [True] + [False] * (ROWS - 4)


# The rest by hand, on calculations whose results are plain to see.


def test_one_column_among_single_values() -> None:
    assert ts.percent_injected([100, 128]) == [1.0, 0.78125]
    assert ts.percent_injected((100, 128)) == [1.0, 0.78125]
    assert ts.percent_injected(range(1, 3)) == [100.0, 50.0]
    assert ts.packs(100, [25, 40]) == [4.0, 3.0]
    assert ts.packs(pack=[25, 40], needed=100) == [4.0, 3.0]
    assert ts.dilution([20, 100], "TO") == [21.0, 101.0]
    assert ts.dilution(100, ["in", "To"]) == [100.0, 101.0]


def test_single_values_give_a_float() -> None:
    for one in (100, 100.0, np.float64(100), np.int32(100), np.array(100), np.array(100.0)):
        result = ts.percent_injected(one)
        assert type(result) is float and result == 1.0
        assert type(ts.percent_injected(one, errors="nan")) is float


def test_tables_broadcast() -> None:
    table = ts.packs(np.array([[100], [200]]), np.array([25, 40]))
    assert table.tolist() == [[4, 3], [8, 5]]
    assert ts.packs([[100], [200]], [25, 40]) == [[4, 3], [8, 5]]
    table[0, 0] = 9  # its own memory


def test_an_array_among_lists_gives_an_array_and_a_series_wins() -> None:
    needed, pack = [100, 200], np.array([25, 40])
    assert isinstance(ts.packs(needed, pack), np.ndarray)
    series = pd.Series([25, 40], index=["a", "b"])
    for other in (needed, np.array(needed)):
        result = ts.packs(other, series)
        assert result.to_dict() == {"a": 4.0, "b": 5.0}
    assert ts.packs(needed, pl.Series([25, 40])).to_list() == [4.0, 5.0]


def test_readings_lie_along_the_last_axis() -> None:
    assert ts.mean_reading([1, 2, None, 3]) == 2.0
    assert type(ts.mean_reading([1, 2, None, 3])) is float
    for range_ in (np.array([1, 2, np.nan, 3]), pd.Series([1, 2, None, 3]), pl.Series([1, 2, 3])):
        assert ts.mean_reading(range_) == 2.0
        assert type(ts.mean_reading(range_)) is float
    assert ts.mean_reading([[1, 3], [5]]) == [2.0, 5.0]
    assert ts.mean_reading([np.int64(1), np.float64(3)]) == 2.0
    assert ts.mean_reading(np.arange(8.0).reshape(2, 2, 2)).tolist() == [[0.5, 2.5], [4.5, 6.5]]
    frame = pd.DataFrame({"first": [1, 5], "second": [3, None]}, index=["a", "b"])
    assert ts.mean_reading(frame).to_dict() == {"a": 2.0, "b": 5.0}
    assert ts.mean_reading(pl.DataFrame({"x": [1, 5], "y": [3, None]})).to_list() == [2.0, 5.0]
    assert ts.mean_reading(pl.Series([[1, 3], [5]])).to_list() == [2.0, 5.0]
    assert ts.mean_reading(pd.Series([[1, 3], [5]])).to_list() == [2.0, 5.0]
    assert ts.uniformity([[1, 2, 3], [1, 1, 1]], ["CU", "DU"]) == [pytest.approx(66.6667), 100.0]


def test_missing_cells_are_bad_rows() -> None:
    columns = [
        [100, None],
        np.array([100, np.nan]),
        np.ma.array([100, 50], mask=[False, True]),
        pd.Series([100, None]),
        pd.Series([100, None], dtype="Int64"),
        pd.Series([100, pd.NA], dtype=object),
        pl.Series([100, None]),
    ]
    for column in columns:
        result = list(ts.percent_injected(column, errors="nan"))
        assert result[0] == 1.0 and np.isnan(result[1]), column
        with pytest.raises(Fault, match="^row 1: percent_injected: ratio is (blank|nan)"):
            ts.percent_injected(column)


def test_truth_values_and_text_are_no_numbers_in_a_column_either() -> None:
    columns = [
        [100, True],
        [100, "100"],
        np.array([True, True]),
        np.array(["100", "100"]),
        np.array([100, 1 + 2j]),
        pd.Series([True, True]),
        pd.Series(["100", "100"]),
        pd.Series(pd.to_datetime(["2020-01-01", "2020-01-02"])),
        pl.Series([True, True]),
        pl.Series(["100", "100"]),
    ]
    for column in columns:
        with pytest.raises(NotANumber, match=r"^row [01]: percent_injected: ratio is "):
            ts.percent_injected(column)
        assert np.isnan(list(ts.percent_injected(column, errors="nan"))[1])


def test_words_from_frames() -> None:
    for words in (
        pd.Series(["in", "to"]),
        pd.Series(["in", "to"], dtype="category"),
        pl.Series(["in", "to"]),
        pl.Series(["in", "to"], dtype=pl.Categorical),
        pl.Series(["in", "to"], dtype=pl.Enum(["to", "in"])),
    ):
        assert list(ts.dilution(100, words)) == [100.0, 101.0]
    with pytest.raises(NotListed, match="^row 1: dilution: reading is None"):
        ts.dilution(100, pl.Series(["in", None]))


def test_empty_columns() -> None:
    assert ts.percent_injected([]) == []
    assert ts.percent_injected(np.array([])).shape == (0,)
    assert ts.percent_injected(pd.Series([], dtype=float)).empty
    assert ts.percent_injected(pl.Series([], dtype=pl.Float64)).is_empty()
    assert ts.mean_reading(np.empty((0, 3))).shape == (0,)


def test_long_columns_are_whole() -> None:
    """Longer than one block, with the bad row in the last one."""
    ratio = np.arange(1.0, 40_001.0)
    assert np.array_equal(ts.percent_injected(ratio), 100 / ratio)
    assert np.array_equal(ts.packs(np.full(40_000, 100.0), np.array([25.0])), np.full(40_000, 4))
    ratio[39_999] = 0
    with pytest.raises(OutOfRange, match="^row 39999: "):
        ts.percent_injected(ratio)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: ts.packs([1, 2, 3], [1, 2]), "needed has 3, pack has 2"),
        (lambda: ts.packs(pd.Series([1, 2]), [1, 2, 3]), "needed has 2, pack has 3"),
        (lambda: ts.packs(pd.Series([1]), [1, 2, 3]), "needed has 1, pack has 3"),
        (lambda: ts.packs(pd.Series([1, 2]), [[1], [2]]), "needed has 2, pack has 2 x 1"),
        (
            lambda: ts.packs(pd.Series([1, 2]), pd.Series([1, 2], index=[1, 0])),
            "needed and pack have different indexes; bring them into one frame first",
        ),
        (lambda: ts.packs(pd.Series([1]), pl.Series([1])), "pandas and of polars do not go"),
        (lambda: ts.packs(pd.DataFrame({"a": [1]}), 1), "needed is a table; give one column"),
        (lambda: ts.packs(pl.DataFrame({"a": [1]}), 1), "needed is a table; give one column"),
        (lambda: ts.packs([[1, 2], [3]], 1), r"^(row \d: )?packs: needed "),
        (lambda: ts.mean_reading(pl.col("a")), "repeats is an expression; give a frame"),
    ],
)
def test_what_does_not_fit_together(call: Callable[[], Any], said: str) -> None:
    with pytest.raises(NotANumber, match=said):
        call()


def test_errors_is_one_of_two_words() -> None:
    with pytest.raises(NotListed, match="percent_injected: errors is 'skip'; it must be 'raise'"):
        AS_ANY.percent_injected([1], errors="skip")
    assert np.isnan(ts.percent_injected(0, errors="nan"))
    assert np.isnan(AS_ANY.percent_injected(None, errors="nan"))
    with pytest.raises(DividedByZero, match="^row 1: "):
        ts.uniformity([[1, 2], [0, 0]], "CU")


def test_wrong_number_of_arguments() -> None:
    packs = AS_ANY.packs
    for call in (lambda: packs([1]), lambda: packs([1], 2, 3), lambda: packs([1], n=2)):
        with pytest.raises(TypeError):
            call()


def test_polars_expressions() -> None:
    frame = pl.DataFrame({"ratio": [20, 100, 0], "way": ["in", "to", "to"]})
    made = ts.dilution(pl.col("ratio"), pl.col("way"), errors="nan")
    for whole in (frame, frame.lazy()):
        result = whole.select(made).lazy().collect()
        assert result["dilution"].to_list()[:2] == [20.0, 101.0]
        assert np.isnan(result["dilution"][2])
    assert frame.select(ts.dilution(pl.col("ratio") + 1, "to"))["dilution"].to_list() == [
        22,
        102,
        2,
    ]
    with pytest.raises(Exception, match="row 2: dilution: ratio is 0; it must be at least 1"):
        frame.select(ts.dilution(pl.col("ratio"), "to"))
    # A filter that polars would do first must not part the expression from the array beside it.
    beside = ts.packs(pl.col("ratio"), np.array([10.0, 25.0, 1.0]))
    kept = frame.lazy().with_columns(beside).filter(pl.col("ratio") > 20).collect()
    assert kept["packs"].to_list() == [4.0]
    by_group = frame.group_by("way").agg(ts.percent_injected(pl.col("ratio") + 1)).sort("way")
    assert by_group["percent_injected"].to_list() == [[100 / 21], [100 / 101, 100.0]]


def test_arguments_are_not_changed() -> None:
    frame = pd.DataFrame({"a": [3.0, 1.0], "b": [None, 2.0]})
    before = frame.copy()
    ts.mean_reading(frame)
    pd.testing.assert_frame_equal(frame, before)
