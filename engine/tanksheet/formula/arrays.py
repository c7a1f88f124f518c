"""A calculation on NumPy arrays: one call for a million scenarios.

The same tree as the formula's, run on arrays. A row whose arguments are bad gives NaN inside;
``array_function`` then either returns the NaN or raises that row's own fault.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from tanksheet import tables
from tanksheet.definition import Calculation
from tanksheet.errors import Fault
from tanksheet.formula.nodes import Call, Const, Fail, If, Lookup, Neg, Node, Op, Ref
from tanksheet.formula.reading import read_calculation

Array = Any

OPERATIONS: dict[str, Callable[[Array, Array], Array]] = {
    "+": np.add,
    "-": np.subtract,
    "*": np.multiply,
    "/": np.divide,
    "^": np.power,
    "=": lambda a, b: _lower(a) == _lower(b),
    "<>": lambda a, b: _lower(a) != _lower(b),
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
            name: _prepared(value, entry.is_word)
            for (name, entry), value in zip(calculation.parameters.items(), arguments, strict=True)
        }
        with np.errstate(all="ignore"):
            result = np.asarray(_Runner(known).run(tree), dtype=float)
        result = np.where(np.isfinite(result), result, np.nan)
        if bad == "raise" and np.isnan(result).any():
            _raise_first(calculation, arguments, result)
        return result

    return function


def _prepared(value: Array, word: bool) -> Array:
    return np.asarray(value) if word else np.asarray(value, dtype=float)


def _raise_first(calculation: Calculation, arguments: tuple[Array, ...], result: Array) -> None:
    position = tuple(int(index[0]) for index in np.nonzero(np.isnan(result)))
    row = []
    for entry, value in zip(calculation.parameters.values(), arguments):
        lent = np.asarray(value)
        shape = result.shape + ((lent.shape[-1],) if entry.is_readings else ())
        picked = np.broadcast_to(lent, shape)[position]
        row.append(picked.tolist())
    try:
        calculation.function(*row)
    except Fault as fault:
        place = position[0] if len(position) == 1 else position
        raise type(fault)(f"row {place}: {fault}") from None
    raise ArithmeticError(f"{calculation.sheet_name}: no finite result at {position}, {row}")


def _lower(value: Array) -> Array:
    return np.char.lower(value) if value.dtype.kind == "U" else value


def _valid(readings: Array) -> Array:
    return np.sum(~np.isnan(readings), axis=-1)


def _power(base: Array, exponent: Array) -> Array:
    allowed = (base > 0) | ((base == 0) & (exponent > 0))
    return np.where(allowed, np.power(np.where(allowed, base, 1.0), exponent), np.nan)


def _lowest_total(readings: Array, how_many: Array) -> Array:
    ordered = np.sort(readings, axis=-1)  # NaN, the blanks, sort to the end
    taken = np.arange(ordered.shape[-1]) < how_many[..., np.newaxis]
    return np.sum(np.where(taken, ordered, 0.0), axis=-1)


def _mean_deviation(readings: Array) -> Array:
    centre = np.nanmean(readings, axis=-1, keepdims=True)
    return np.nanmean(np.abs(readings - centre), axis=-1)


def _rounded(number: Array, digits: Array) -> Array:
    scale = 10.0**digits
    return np.sign(number) * np.floor(np.abs(number) * scale + 0.5) / scale


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
    "count": _valid,
    "filled": _valid,
    "mean": functools.partial(np.nanmean, axis=-1),
    "mean_deviation": _mean_deviation,
    "standard_deviation": functools.partial(np.nanstd, axis=-1, ddof=1),
    "lowest_total": _lowest_total,
    "is_number": lambda number: ~np.isnan(number),
    "all": lambda *parts: functools.reduce(np.logical_and, parts),
    "any": lambda *parts: functools.reduce(np.logical_or, parts),
}


class _Runner:
    """Runs a tree once; parts that stand in several places are computed once."""

    def __init__(self, known: Mapping[str, Array]) -> None:
        self.known = known
        self.done: dict[int, Array] = {}

    def run(self, node: Node) -> Array:
        if id(node) not in self.done:
            method: Callable[[Any], Array] = getattr(self, f"run_{type(node).__name__.lower()}")
            self.done[id(node)] = np.asarray(method(node))
        return self.done[id(node)]

    def run_const(self, node: Const) -> Array:
        return node.value

    def run_ref(self, node: Ref) -> Array:
        return self.known[node.name]

    def run_op(self, node: Op) -> Array:
        return OPERATIONS[node.symbol](self.run(node.left), self.run(node.right))

    def run_neg(self, node: Neg) -> Array:
        return -self.run(node.inner)

    def run_if(self, node: If) -> Array:
        return np.where(self.run(node.test), self.run(node.yes), self.run(node.no))

    def run_fail(self, node: Fail) -> Array:
        return np.nan

    def run_call(self, node: Call) -> Array:
        arguments = [self.run(argument) for argument in node.arguments]
        if node.function in ("min", "max"):
            return self.extreme(node.function, arguments)
        return FUNCTIONS[node.function](*arguments)

    def extreme(self, which: str, arguments: list[Array]) -> Array:
        if len(arguments) == 1:  # over readings
            return (np.nanmin if which == "min" else np.nanmax)(arguments[0], axis=-1)
        return functools.reduce(np.minimum if which == "min" else np.maximum, arguments)

    def run_lookup(self, node: Lookup) -> Array:
        keys = np.asarray(self.run(node.key))
        known = {str(row[tables.KEYS[node.table]]).lower(): row for row in tables.rows(node.table)}
        distinct, where = np.unique(keys, return_inverse=True)
        entries = [known.get(str(key).lower(), {}).get(node.column, np.nan) for key in distinct]
        return np.asarray(entries)[where].reshape(keys.shape)
