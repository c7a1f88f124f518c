"""A solution in words for a terminal, and as a dictionary for JSON."""

from __future__ import annotations

import math
from typing import Any

from tanksheet.recipes.season import SolvedSeason
from tanksheet.recipes.solution import Solution
from tanksheet.recipes.workbook import Solved


def lines(found: Solution) -> list[str]:
    """What came out, a line each."""
    said = [found.status]
    if found.amounts:
        said = [f"{found.status}: cost {found.cost:.10g}"]
        for name, amount in found.amounts.items():
            if amount > 0:
                tank = f"tank {found.tanks[name]}  " if name in found.tanks else ""
                said.append(f"  {tank}{amount:14,.3f}  {name}")
        said += _bounds(found)
    if found.conflict:
        said.append(f"cannot be met together: {', '.join(found.conflict)}")
    if found.nearest:
        misses = ", ".join(f"{name} by {miss:+.4g}" for name, miss in found.nearest.misses.items())
        said.append(f"the nearest recipe, cost {found.nearest.cost:.10g}, misses {misses}")
        said += [f"  {v:14,.3f}  {name}" for name, v in found.nearest.amounts.items() if v > 1e-9]
    return said + [f"note: {note}" for note in found.notes]


def _bounds(found: Solution) -> list[str]:
    """What binds; of a season one line a nutrient, with the weeks counted."""
    weeks: dict[str, int] = {}
    for name in found.binding:
        nutrient, _, week = name.partition(", week ")
        if not week:
            weeks.setdefault(name, 0)
        else:
            weeks[nutrient] = weeks.get(nutrient, 0) + 1
    return [
        f"  {name} is on its bound{f' in {count} weeks' if count else ''}{_price(found, name)}"
        for name, count in weeks.items()
    ]


def _price(found: Solution, name: str) -> str:
    price = found.price_of_one_more.get(name, 0.0)
    return f"; one more costs {price:.6g}" if price else ""


def of_workbook(solved: Solved | SolvedSeason) -> dict[str, Any]:
    """For JSON: amounts in grams for each tank, cost for ``feed_litres`` of feed; of a season
    kilograms and cost of all of it, and kilograms of each product in each week."""
    told = solved.solution.as_json()
    if isinstance(solved, SolvedSeason):
        weeks = {name: list(masses) for name, masses in solved.weeks.items()}
        return told | {"weeks": weeks, "stops": dict(solved.stops)}
    cubic = solved.recipe.litres / 1000
    cost = solved.solution.cost
    return told | {
        "feed_litres": solved.recipe.litres,
        "cost_per_m3": cost / cubic if math.isfinite(cost) else None,
        "stops": dict(solved.stops),
    }
