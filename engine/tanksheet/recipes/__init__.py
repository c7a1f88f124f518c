"""Least-cost recipes, and which tank holds what.

>>> from tanksheet import recipes
>>> urea = recipes.Product("urea", {"N": 46}, price=20, pack=25)
>>> found = recipes.least_cost(recipes.Recipe((urea,), (recipes.Target("N", at_least=92),)))
>>> round(found.amounts["urea"], 6), round(found.cost, 6)  # grams and money for 1000 L of feed
(200.0, 0.16)

``least_cost`` takes a ``Recipe`` of products and targets, a ``Blend`` of parts and limits in any
units, or a problem as an object of JSON (``problem_file`` tells its form). With ``Stock`` it also
chooses the tanks. ``least_cost_many`` takes one blend with many prices and bounds. The solver is
loaded when it is first used.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from tanksheet.recipes.blend import Blend, Limit, Part
from tanksheet.recipes.conflicts import Nearest
from tanksheet.recipes.feed import Recipe, Target, fed
from tanksheet.recipes.highs import MOST_SECONDS
from tanksheet.recipes.many import Blends
from tanksheet.recipes.many import cheapest_of_many as least_cost_many
from tanksheet.recipes.model import Tanks
from tanksheet.recipes.problem_file import blend_of, read_problems
from tanksheet.recipes.products import Product, listed
from tanksheet.recipes.solution import Solution
from tanksheet.recipes.solving import cheapest

if TYPE_CHECKING:
    from tanksheet.recipes.stock import Stock

__all__ = [
    "Blend",
    "Blends",
    "Limit",
    "Nearest",
    "Part",
    "Product",
    "Recipe",
    "Solution",
    "Stock",
    "Tanks",
    "Target",
    "least_cost",
    "least_cost_many",
    "listed",
    "read_problems",
]


def least_cost(
    problem: Recipe | Blend | Mapping[str, Any],
    stock: Stock | Tanks | None = None,
    *,
    explain: bool = True,
    seconds: float = MOST_SECONDS,
) -> Solution:
    """The cheapest recipe that meets every target, proven so; or why there is none.

    With a ``Stock``, for a ``Recipe``: which tank holds what, by the recipe workbook's rules of
    what clashes and dissolves, amounts then being grams for each tank. With ``Tanks``, for a
    ``Blend``: which tank holds which part, by the sets and sums given there.
    Raises: Fault (a ValueError) for figures that make no sense, naming them; EngineProblem when
    the solver breaks down.
    """
    how: dict[str, Any] = {"explain": explain, "seconds": seconds}
    if isinstance(problem, Recipe):
        if stock is None or isinstance(stock, Tanks):
            return fed(problem, lambda each: cheapest(each.blend(), stock, **how))
        from tanksheet.recipes.stock import for_tanks, in_tanks

        found = fed(problem, lambda each: in_tanks(each, stock, seconds))
        return for_tanks(found, problem, stock)
    if stock is not None and not isinstance(stock, Tanks):
        raise TypeError("Stock judges products by their chemistry: give a Recipe, or Tanks")
    blend = problem if isinstance(problem, Blend) else blend_of(problem)
    return cheapest(blend, stock, **how)


def __getattr__(name: str) -> Any:
    if name != "Stock":  # its rules are the workbook's, which takes a while to load
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from tanksheet.recipes.stock import Stock

    return Stock
