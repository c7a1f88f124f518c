"""A calculation on NumPy arrays: one call for a million scenarios.

The same tree as the formula's, run on arrays. Inside, NaN stands for a spreadsheet's error and,
like one, it goes through everything that touches it: a comparison with NaN is NaN, and so is the
choice that hangs on it. ``array_function`` then returns the NaN or raises that row's own fault.
"""

from __future__ import annotations

import functools
import math
import warnings
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from tanksheet import tables
from tanksheet.definition import Calculation
from tanksheet.errors import Fault
from tanksheet.formula.nodes import Call, Const, Fail, If, Lookup, Neg, Node, Op, Ref
from tanksheet.formula.reading import read_calculation
from tanksheet.subset import is_number
from tanksheet.units import Quantity

Array = Any
MISSING = "#n/a"  # what NaN is among numbers: a word that a look-up did not find

OPERATIONS: dict[str, Callable[[Array, Array], Array]] = {
    "+": np.add,
    "-": np.subtract,
    "*": np.multiply,
    "/": np.divide,
    "^": np.power,
    "=": lambda a, b: a == b,
    "<>": lambda a, b: a != b,
    "<": np.less,
    "<=": np.less_equal,
    ">": np.greater,
    ">=": np.greater_equal,
}


def array_function(calculation: Calculation, bad: str = "raise") -> Callable[..., Array]:
    """The calculation for arrays that broadcast together; readings vary along the last axis.

    ``bad`` is "raise" (the first bad row's fault, with its position) or "nan".
    """
    tree = read_calculation(calculation.function)

    def function(*arguments: Array) -> Array:
        known = {
            name: _prepared(value, quantity)
            for (name, quantity), value in zip(
                calculation.parameters.items(), arguments, strict=True
            )
        }
        with np.errstate(all="ignore"), warnings.catch_warnings():
            # Rows of blanks make nanmin and the like warn; the checks have dealt with them.
            warnings.simplefilter("ignore", RuntimeWarning)
            result = np.asarray(_Runner(known).run(tree), dtype=float)
        if bad == "raise" and np.isnan(result).any():
            raise_first(calculation, arguments, result)
        return result

    return function


def run_tree(tree: Node, known: Mapping[str, Any]) -> Any:
    """One value of a tree from single values; NaN where a cell would hold an error."""
    with np.errstate(all="ignore"):
        try:
            return _Runner(known).run(tree).item()
        except (TypeError, ValueError):  # text, a blank or a fault in the arithmetic
            return math.nan


def _prepared(value: Array, quantity: Quantity) -> Array:
    """Words as text, numbers as floats; what is neither becomes an error or, in readings, a blank.

    Text or TRUE/FALSE among readings becomes infinity, which no range holds.
    """
    if isinstance(value, np.ndarray) and value.dtype.kind in ("U" if quantity.is_word else "iuf"):
        return value if quantity.is_word else value.astype(float)
    cells = np.asarray(value, dtype=object)
    if quantity.is_word:
        return np.asarray(np.frompyfunc(_word, 1, 1)(cells)).astype(str)
    wrong = np.inf if quantity.is_readings else np.nan
    numbers = np.frompyfunc(lambda cell: _number(cell, wrong), 1, 1)(cells)
    return np.asarray(numbers).astype(float)


def _word(cell: Any) -> str:
    return cell if isinstance(cell, str) else ""


def _number(cell: Any, wrong: float) -> float:
    if cell is None:
        return np.nan
    return float(cell) if is_number(cell) or isinstance(cell, np.number) else wrong


def place_in_words(position: tuple[int, ...]) -> str:
    """Where a result stands: "row 3", "row (1, 2)" in a table, "" for a single one."""
    return f"row {position[0] if len(position) == 1 else position}" if position else ""


def raise_first(
    calculation: Calculation,
    arguments: tuple[Array, ...],
    result: Array,
    place: Callable[[tuple[int, ...]], str] = place_in_words,
) -> None:
    """Raises the fault behind the first NaN of a result; ``place`` words where it stands."""
    position = tuple(np.argwhere(np.isnan(result))[0].tolist())
    row = []
    for quantity, value in zip(calculation.parameters.values(), arguments, strict=True):
        lent = value if isinstance(value, np.ndarray) else np.asarray(value, dtype=object)
        shape = result.shape + ((lent.shape[-1],) if quantity.is_readings else ())
        picked = np.broadcast_to(lent, shape)[position]
        plain = picked.tolist() if isinstance(picked, (np.ndarray, np.generic)) else picked
        row.append(_without_blanks(plain) if quantity.is_readings else plain)
    try:
        calculation.function(*row)
    except Fault as fault:
        where = place(position)
        raise type(fault)(f"{where}: {fault}" if where else str(fault)) from None
    raise ArithmeticError(f"{calculation.sheet_name}: no finite result at {position}, {row}")


def _without_blanks(readings: list[Any]) -> list[Any]:
    return [None if isinstance(cell, float) and np.isnan(cell) else cell for cell in readings]


def _sound(value: Array) -> Array:
    return value != MISSING if value.dtype.kind == "U" else np.isfinite(value)


def _as_text(value: Array) -> Array:
    return value if value.dtype.kind == "U" else np.full(value.shape, MISSING)


def _power(base: Array, exponent: Array) -> Array:
    allowed = ((base > 0) | ((base == 0) & (exponent > 0))) & ~np.isnan(exponent)
    return np.where(allowed, np.power(np.where(allowed, base, 1.0), exponent), np.nan)


def _lowest_total(readings: Array, how_many: Array) -> Array:
    ordered = np.sort(readings, axis=-1)  # NaN, the blanks, sort to the end
    taken = np.arange(ordered.shape[-1]) < how_many[..., np.newaxis]
    return np.sum(np.where(taken, ordered, 0.0), axis=-1)


def _mean_deviation(readings: Array) -> Array:
    centre = np.nanmean(readings, axis=-1, keepdims=True)
    return np.nanmean(np.abs(readings - centre), axis=-1)


def _rounded(number: Array, digits: Array) -> Array:
    # 2.675 * 100 falls a hair short of 267.5, yet people and spreadsheets round it up.
    scaled = np.abs(number) * 10.0**digits
    whole = np.floor(scaled)
    up = scaled >= (whole + 0.5) * (1 - 1e-15)
    return np.where(scaled < 2**52, np.sign(number) * (whole + up) / 10.0**digits, number)


FUNCTIONS: dict[str, Callable[..., Array]] = {
    "sqrt": np.sqrt,
    "exp": np.exp,
    "log": np.log,
    "log10": np.log10,
    "power": _power,
    "ceil": np.ceil,
    "floor": np.floor,
    "rounded": _rounded,
    "abs": np.abs,
    "count": lambda readings: np.sum(np.isfinite(readings), axis=-1),
    "filled": lambda readings: np.sum(~np.isnan(readings), axis=-1),
    "mean": functools.partial(np.nanmean, axis=-1),
    "mean_deviation": _mean_deviation,
    "standard_deviation": functools.partial(np.nanstd, axis=-1, ddof=1),
    "lowest_total": _lowest_total,
    "dot": lambda left, right: np.sum(left * right, axis=-1),
    "same": lambda words, word: words == word,
    "sum_where": lambda words, word, amounts: np.sum(np.where(words == word, amounts, 0), axis=-1),
    "not_numbers": lambda *parts: np.nan,
    "number_held": lambda number: number,
    "without_unit": lambda number, unit: number,
    "is_number": lambda number: ~np.isnan(number),
    "is_error": lambda number: np.isnan(number),
    "all": lambda *parts: functools.reduce(np.minimum, parts),
    "any": lambda *parts: functools.reduce(np.maximum, parts),
}
# Functions of words, which the case does not part.
OF_WORDS = ("same", "sum_where")


class _Runner:
    """Runs a tree once; parts that stand in several places are computed once."""

    def __init__(self, known: Mapping[str, Array]) -> None:
        self.known = known
        self.done: dict[int, Array] = {}
        self.in_lower_case: dict[int, tuple[Array, Array]] = {}

    def run(self, node: Node) -> Array:
        if id(node) not in self.done:
            method: Callable[[Any], Array] = getattr(self, f"run_{type(node).__name__.lower()}")
            self.done[id(node)] = np.asarray(method(node))
        return self.done[id(node)]

    def lower(self, node: Node) -> Array:
        """A node's value, words in lower case: once for a column that several choices test."""
        value = self.run(node)
        if value.dtype.kind != "U":
            return value
        if id(value) not in self.in_lower_case:
            # The value is kept beside it, so that no other array takes its id.
            self.in_lower_case[id(value)] = value, np.char.lower(value)
        return self.in_lower_case[id(value)][1]

    def run_const(self, node: Const) -> Array:
        return node.value if isinstance(node.value, str) else float(node.value)

    def run_ref(self, node: Ref) -> Array:
        return self.known[node.name]

    def run_op(self, node: Op) -> Array:
        if node.symbol == "&":
            left, right = _as_text(self.run(node.left)), _as_text(self.run(node.right))
            return np.where(_sound(left) & _sound(right), np.char.add(left, right), MISSING)
        left, right = self.lower(node.left), self.lower(node.right)
        result = OPERATIONS[node.symbol](left, right)
        fine = _sound(left) & _sound(right) & np.isfinite(result)
        return np.where(fine, result, np.nan)

    def run_neg(self, node: Neg) -> Array:
        return -self.run(node.inner)

    def run_if(self, node: If) -> Array:
        test, yes, no = self.run(node.test), self.run(node.yes), self.run(node.no)
        if "U" in (yes.dtype.kind, no.dtype.kind):
            yes, no = _as_text(yes), _as_text(no)
        error = MISSING if yes.dtype.kind == "U" else np.nan
        return np.where(np.isnan(test), error, np.where(test, yes, no))

    def run_fail(self, node: Fail) -> Array:
        return np.nan

    def run_call(self, node: Call) -> Array:
        value = self.lower if node.function in OF_WORDS else self.run
        arguments = [value(argument) for argument in node.arguments]
        if node.function == "literal":
            return arguments[0]
        if node.function in ("min", "max"):
            return self.extreme(node.function, arguments)
        result = np.asarray(FUNCTIONS[node.function](*arguments), dtype=float)
        return np.where(np.isfinite(result), result, np.nan)

    def extreme(self, which: str, arguments: list[Array]) -> Array:
        if len(arguments) == 1:  # over readings
            return (np.nanmin if which == "min" else np.nanmax)(arguments[0], axis=-1)
        return functools.reduce(np.minimum if which == "min" else np.maximum, arguments)

    def run_lookup(self, node: Lookup) -> Array:
        keys = np.asarray(self.run(node.key))
        known = {str(row[tables.KEYS[node.table]]).lower(): row for row in tables.rows(node.table)}
        distinct, where = np.unique(keys, return_inverse=True)
        texts = isinstance(tables.rows(node.table)[0][node.column], str)
        lacking = {node.column: MISSING if texts else np.nan}
        data = [known.get(str(key).lower(), lacking)[node.column] for key in distinct]
        return np.asarray(data)[where].reshape(keys.shape)
