"""Calculations over columns: lists, NumPy arrays, and the columns of pandas and polars.

Columns go together by position and broadcast as NumPy's arrays do. What comes out is of the kind
that came in, with the same index: a list for lists, an array for arrays, a Series for Series.
pandas and polars are never imported here: a column of theirs shows that they are loaded already.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from tanksheet.definition import Calculation, of
from tanksheet.door import functions
from tanksheet.errors import NotANumber
from tanksheet.formula.arrays import array_function, place_in_words, raise_first
from tanksheet.units import Quantity

Array = Any
FRAMES = ("pandas", "polars")
BLOCK = 1 << 14  # rows


@dataclass(frozen=True)
class Column:
    """One argument as an array, and what it came as: "list", "array", "pandas" or "polars".

    ``rows`` is its shape without the readings of one range; a single value has none, nor a kind.
    """

    name: str
    values: Array
    rows: tuple[int, ...]
    kind: str = ""
    index: Any = None


def answer(record: Calculation, given: Sequence[Any], errors: str) -> Any:
    """The calculation row by row, in the kind of column that came in.

    Raises: the Fault of the first bad row, with its place; NotANumber where columns do not fit
    together.
    """
    owner = record.body.__name__
    if any(map(functions.is_expression, given)):
        return _expression(record, given, errors)
    columns = [
        _column(f"{owner}: {name}", name, quantity, value)
        for (name, quantity), value in zip(record.parameters.items(), given, strict=True)
    ]
    rows = _rows(owner, columns)
    index = _index(owner, columns, rows)
    result = _results(record, columns, rows)
    values = tuple(column.values for column in columns)
    if errors == "raise" and np.isnan(result).any():
        raise_first(record, values, result, functools.partial(_place, index))
    return _as_it_came(owner, columns, result, index)


def _results(record: Calculation, columns: Sequence[Column], rows: tuple[int, ...]) -> Array:
    """All rows; a long column goes block by block, which the processor's cache can hold."""
    function = _arrays(record.function)
    if len(rows) != 1:
        return np.broadcast_to(function(*(column.values for column in columns)), rows)
    result = np.empty(rows)
    for start in range(0, rows[0], BLOCK):
        block = slice(start, start + BLOCK)
        parts = [
            column.values[block] if column.rows == rows else column.values for column in columns
        ]
        result[block] = function(*parts)
    return result


@functools.cache
def _arrays(function: Callable[..., Any]) -> Callable[..., Array]:
    record = of(function)
    assert record is not None
    return array_function(record, bad="nan")


# What comes in


def _column(what: str, name: str, quantity: Quantity, value: Any) -> Column:
    kind = _kind(value)
    if hasattr(value, "columns") and not quantity.is_readings:
        raise NotANumber(f"{what} is a table; give one column of it")
    try:
        values = VALUES[kind](value)
    except ValueError:  # NumPy's, for rows that make no table
        raise NotANumber(f"{what} has rows of different lengths") from None
    if quantity.is_readings:
        values = _even(values)
        rows = values.shape[:-1]
    else:
        rows = values.shape
    index = value.index if kind == "pandas" and rows else None
    return Column(name, values, rows, kind if rows else "", index)


def _kind(value: Any) -> str:
    if not functions.is_column(value):
        return ""
    if isinstance(value, (list, tuple, range)):
        return "list"
    home = type(value).__module__.partition(".")[0]
    # What else pandas has (an index, the array inside a column) goes by as an array.
    is_of_a_frame = home in FRAMES and type(value).__name__ in ("Series", "DataFrame")
    return home if is_of_a_frame else "array"


def _of_single(value: Any) -> Array:
    cell = np.empty((), dtype=object)
    cell[()] = value.item() if hasattr(value, "dtype") and hasattr(value, "item") else value
    return cell


def _of_list(value: Any) -> Array:
    kinds = set(map(type, value))
    if kinds <= {float, int}:
        return np.array(value, dtype=float)
    return np.array(value, dtype=str if kinds == {str} else object)


def _of_array(value: Any) -> Array:
    if isinstance(value, np.ma.MaskedArray):
        cells: Array = value.data.astype(object)
        cells[np.ma.getmaskarray(value)] = None  # what is masked is blank
        return cells
    return np.asarray(value)


def _of_pandas(value: Any) -> Array:
    """Numbers as floats, missing ones as NaN; anything else as it is, None where it is missing."""
    dtypes = value.dtypes if hasattr(value, "columns") else [value.dtype]
    if all(dtype.kind in "iuf" for dtype in dtypes):
        return value.to_numpy(dtype=float, na_value=np.nan)
    cells = value.astype(object)
    cells = cells.where(cells.notna(), None)
    return cells.to_numpy() if cells.ndim > 1 else _of_cells(cells.to_list())


def _of_polars(value: Any) -> Array:
    dtypes = value.dtypes if hasattr(value, "columns") else [value.dtype]
    if all(dtype.is_numeric() for dtype in dtypes):
        return value.cast(sys.modules["polars"].Float64).to_numpy()
    if hasattr(value, "columns"):
        return np.asarray(value.rows(), dtype=object).reshape(value.shape)
    return _of_cells(value.to_list())


def _of_cells(cells: list[Any]) -> Array:
    """A column that may hold lists, each of which is one cell."""
    if set(map(type, cells)) == {str}:
        return np.array(cells)
    return np.fromiter(cells, dtype=object, count=len(cells))


VALUES: dict[str, Callable[[Any], Array]] = {
    "": _of_single,
    "list": _of_list,
    "array": _of_array,
    "pandas": _of_pandas,
    "polars": _of_polars,
}


def _even(values: Array) -> Array:
    """Readings as a table: a row of its own for each range, short ones filled up with blanks."""
    if values.ndim == 0:
        return values.reshape(1)
    if values.ndim > 1 or not any(isinstance(row, (list, tuple, np.ndarray)) for row in values):
        return values
    ranges = [[] if row is None else list(row) for row in values]
    table = np.full((len(ranges), max(map(len, ranges))), None, dtype=object)
    for filled, readings in zip(table, ranges, strict=True):
        filled[: len(readings)] = readings
    return table


# Whether it fits together


def _rows(owner: str, columns: Sequence[Column]) -> tuple[int, ...]:
    try:
        rows = np.broadcast_shapes(*(column.rows for column in columns))
    except ValueError:
        raise _misfit(owner, columns) from None
    kinds = {column.kind for column in columns}
    if kinds.issuperset(FRAMES):
        raise NotANumber(f"{owner}: columns of pandas and of polars do not go together")
    if kinds.intersection(FRAMES) and len(rows) != 1:
        raise _misfit(owner, columns)
    return rows


def _misfit(owner: str, columns: Sequence[Column]) -> NotANumber:
    sizes = [
        f"{column.name} has {' x '.join(map(str, column.rows))}"
        for column in columns
        if column.kind
    ]
    return NotANumber(f"{owner}: the rows do not fit together: {', '.join(sizes)}")


def _index(owner: str, columns: Sequence[Column], rows: tuple[int, ...]) -> Any:
    """The index that all pandas columns share; None without one."""
    indexed = [column for column in columns if column.index is not None]
    for column in indexed:
        if not column.index.equals(indexed[0].index):
            raise NotANumber(
                f"{owner}: {indexed[0].name} and {column.name} have different indexes; "
                "bring them into one frame first"
            )
    if indexed and (len(indexed[0].index),) != rows:
        raise _misfit(owner, columns)
    return indexed[0].index if indexed else None


# What goes out


def _place(index: Any, position: tuple[int, ...]) -> str:
    place = place_in_words(position)
    if index is None or index[position[0]] == position[0]:
        return place
    return f"{place} (index {index[position[0]]})"


def _as_it_came(owner: str, columns: Sequence[Column], result: Array, index: Any) -> Any:
    kinds = {column.kind for column in columns}
    if not result.shape:
        return float(result)
    if index is not None:
        return sys.modules["pandas"].Series(np.array(result), index=index, name=owner)
    if "polars" in kinds:
        return sys.modules["polars"].Series(owner, np.array(result))
    return np.array(result) if "array" in kinds else result.tolist()


def _expression(record: Calculation, given: Sequence[Any], errors: str) -> Any:
    """A polars expression that does the work once its frame is known."""
    polars, owner = sys.modules["polars"], record.body.__name__
    places = [at for at, value in enumerate(given) if functions.is_expression(value)]
    for (name, quantity), value in zip(record.parameters.items(), given, strict=True):
        if quantity.is_readings and functions.is_expression(value):
            raise NotANumber(f"{owner}: {name} is an expression; give a frame, a range in each row")

    def work(series: Sequence[Any]) -> Any:
        whole = dict(enumerate(given)) | dict(zip(places, series, strict=True))
        return functions.answer(record, list(whole.values()), errors)

    lone = not any(functions.is_column(v) for v in given if not functions.is_expression(v))
    found = polars.map_batches(
        [given[at] for at in places], work, return_dtype=polars.Float64, is_elementwise=lone
    )
    return found.alias(owner)
