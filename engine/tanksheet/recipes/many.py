"""Many least-cost blends of the same parts at once: one model held in the solver, changed bounds.

Each blend starts from the corner where the one before it ended, which is seldom far. Contents are
the same in all of them; prices, and the bounds of parts and limits, are each blend's own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tanksheet.errors import NotANumber, OutOfRange
from tanksheet.recipes.blend import Blend
from tanksheet.recipes.highs import OPTIMAL, pass_model, started, status_of
from tanksheet.recipes.model import built, sign_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

DUAL_SIMPLEX = 1  # on one thread


@dataclass(frozen=True)
class Blends:
    """One row a blend; where there is none, its figures are NaN and ``status`` says why."""

    status: tuple[str, ...]
    cost: NDArray[np.float64]
    amounts: NDArray[np.float64]
    price_of_one_more: NDArray[np.float64]


def cheapest_of_many(
    blend: Blend,
    *,
    costs: ArrayLike | None = None,
    lower: ArrayLike | None = None,
    upper: ArrayLike | None = None,
    part_lower: ArrayLike | None = None,
    part_upper: ArrayLike | None = None,
) -> Blends:
    """The cheapest blend for each row of prices and bounds.

    Arrays of one row a blend: ``costs``, ``part_lower`` and ``part_upper`` have a column a part,
    ``lower`` and ``upper`` a column a limit, in the blend's order. What is not given is the blend's
    own for all. Bounds may be infinite. Amounts are a blend's own where several cost the same.
    Raises: Fault for arrays of other shapes, NaN, infinite prices, or a blend with choices.
    """
    import numpy as np

    if blend.has_choices:
        raise OutOfRange("many blends at once have bounds alone: no least amounts, steps or counts")
    form = built(blend)
    assert form is not None
    model, sign = form.model, sign_of(blend)
    parts, limits = len(blend.parts), len(blend.limits)
    given = {"costs": (costs, parts), "lower": (lower, limits), "upper": (upper, limits)}
    given |= {"part_lower": (part_lower, parts), "part_upper": (part_upper, parts)}
    arrays = {name: _array(name, each, width) for name, (each, width) in given.items()}
    count = _count(arrays)
    shift = np.array([limit.given for limit in blend.limits])
    prices = _filled(arrays["costs"], [part.cost for part in blend.parts], count) * sign
    if not np.isfinite(prices).all():
        raise OutOfRange("costs: a price is infinite")
    bounds = (
        _filled(arrays["lower"], [each.lower for each in blend.limits], count) - shift,
        _filled(arrays["upper"], [each.upper for each in blend.limits], count) - shift,
        _filled(arrays["part_lower"], [each.lower for each in blend.parts], count),
        _filled(arrays["part_upper"], [each.upper for each in blend.parts], count),
    )
    _refuse_crossed("limit", bounds[0], bounds[1])
    _refuse_crossed("part", bounds[2], bounds[3])
    highs: Any = started(math.inf)  # its types lack changeRowsBounds
    highs.setOptionValue("presolve", "off")
    highs.setOptionValue("simplex_strategy", DUAL_SIMPLEX)
    pass_model(highs, model, [1.0] * limits)  # their bounds change, and with them their size
    return _solved(highs, sign, prices, bounds)


def _array(name: str, given: Any, width: int) -> Any:
    import numpy as np

    if given is None:
        return None
    array = np.array(given, dtype=float)
    if array.ndim != 2 or array.shape[1] != width:
        raise OutOfRange(f"{name}: its shape is {array.shape}; it must be (blends, {width})")
    if np.isnan(array).any():
        row, column = (int(each[0]) for each in np.nonzero(np.isnan(array)))
        raise NotANumber(f"{name}: row {row}, column {column} is no number")
    return array


def _count(arrays: dict[str, Any]) -> int:
    counts = {name: len(array) for name, array in arrays.items() if array is not None}
    if not counts:
        raise OutOfRange("give costs or bounds, one row a blend")
    if len(set(counts.values())) > 1:
        raise OutOfRange(f"the arrays have different numbers of rows: {counts}")
    return next(iter(counts.values()))


def _refuse_crossed(kind: str, lower: Any, upper: Any) -> None:
    import numpy as np

    if (lower > upper).any():
        row, column = (int(each[0]) for each in np.nonzero(lower > upper))
        raise OutOfRange(f"row {row}: the lower bound of {kind} {column} is above its upper bound")


def _filled(array: Any, own: list[float], count: int) -> Any:
    import numpy as np

    return np.tile(np.array(own, dtype=float), (count, 1)) if array is None else array


def _solved(highs: Any, sign: float, costs: Any, bounds: tuple[Any, Any, Any, Any]) -> Blends:
    import numpy as np

    row_lower, row_upper, lower, upper = bounds
    count, parts = costs.shape
    limits = row_lower.shape[1]
    columns, rows = np.arange(parts, dtype=np.int32), np.arange(limits, dtype=np.int32)
    amounts, prices = np.full((count, parts), np.nan), np.full((count, limits), np.nan)
    objective, statuses = np.full(count, np.nan), []
    for i in range(count):
        highs.changeColsCost(parts, columns, costs[i])
        highs.changeColsBounds(parts, columns, lower[i], upper[i])
        highs.changeRowsBounds(limits, rows, row_lower[i], row_upper[i])
        highs.run()
        status = status_of(highs)
        if status == "":  # from the last corner there was no way: begin anew
            highs.clearSolver()
            highs.run()
            status = status_of(highs) or "not proven"
        statuses.append(status)
        if status == OPTIMAL:
            solution = highs.getSolution()
            amounts[i], prices[i] = solution.col_value, solution.row_dual
            objective[i] = highs.getObjectiveValue()
    return Blends(tuple(statuses), sign * objective, amounts, sign * prices)
