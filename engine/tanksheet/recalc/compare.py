"""Whether two sets of cell values say the same."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from tanksheet.errors import SheetError
from tanksheet.xlsx.address import Address, Value

RELATIVE = 1e-9
# Zero in one place is often a difference that cancels, and another order of additions leaves some
# 1e-16 of it. Beside zero there is nothing to be relative to, so this one absolute bound stands.
BESIDE_ZERO = 1e-12

AGREES = "agrees"
DIFFERS = "differs"
NOT_SUPPORTED = "not supported"
FAILED = "failed"
NOT_RUN = "not run"


@dataclass(frozen=True)
class Difference:
    """One cell that came out otherwise than expected.

    ``kind`` is "missing" (no value came), "type", "error", "text", "truth" or "number".
    """

    address: Address
    expected: Value
    got: Value
    kind: str


def differences(
    expected: Mapping[Address, Value], got: Mapping[Address, Value], relative: float = RELATIVE
) -> list[Difference]:
    """Every expected cell that is missing or differs, in the order of ``expected``.

    Types are compared before values: TRUE is not 1, "12" is not 12, and an empty cell is not empty
    text. Errors must be the same error, text the same text to the letter. Numbers may differ by
    ``relative`` times the expected one; where zero is expected, by 1e-12. Cells that only ``got``
    has are not looked at.
    """
    found = []
    for address, value in expected.items():
        kind = "missing" if address not in got else _kind(value, got[address], relative)
        if kind:
            found.append(Difference(address, value, got.get(address), kind))
    return found


def worst_relative(expected: Mapping[Address, Value], got: Mapping[Address, Value]) -> float | None:
    """The largest relative difference between numbers; None when no two numbers stand together."""
    worst = None
    for where, value in expected.items():
        if type(value) is float and where in got:  # as nearly all numbers are
            other = got[where]
            if type(other) is float and value == other and math.isfinite(value):
                worst = worst or 0.0
                continue
        if where in got and _type(value) == _type(got[where]) == "number":
            worst = max(worst or 0.0, _gap(value, got[where]))
    return worst


def _kind(expected: Value, got: Value, relative: float) -> str:
    # As nearly all cells are, to the last digit.
    if type(expected) is type(got) and expected == got and expected not in (math.inf, -math.inf):
        return ""
    kind = _type(expected)
    if kind != _type(got):
        return "type"
    if kind == "number":
        return "" if _gap(expected, got) <= relative else kind
    return "" if expected == got else kind


def _gap(one: Value, other: Value) -> float:
    expected, got = cast(float, one), cast(float, other)
    if not (math.isfinite(expected) and math.isfinite(got)):
        return math.inf
    if expected == 0:
        return 0.0 if abs(got) <= BESIDE_ZERO else math.inf
    return abs(got - expected) / abs(expected)


def _type(value: Value) -> str:
    if value is None:
        return "empty"
    if isinstance(value, SheetError):
        return "error"
    if isinstance(value, bool):
        return "truth"
    return "text" if isinstance(value, str) else "number"
