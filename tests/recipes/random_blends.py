"""Random blends, and what an independent solver (scipy.optimize) says of them.

scipy's solvers share HiGHS with ours, but nothing of our way into it: they get plain matrices that
are built here. Where that matters, brute force stands beside them.
"""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from tanksheet.recipes import Blend, Limit, Part, Tanks


def random_blend(
    draw: np.random.Generator,
    parts: int,
    limits: int,
    *,
    slack: float = 0.1,
    feasible: bool = True,
    **more: Any,
) -> Blend:
    """Products with contents and prices, targets around what some mix of them gives.

    Without ``feasible`` targets are drawn at random, so that about half of the blends have none.
    """
    contents = draw.uniform(0, 10, (limits, parts)) * (draw.random((limits, parts)) < 0.5)
    mix = draw.uniform(0, 3, parts) * (draw.random(parts) < 0.6)
    given = draw.uniform(0, 3, limits) * (draw.random(limits) < 0.5)
    whole = contents @ mix + given
    made = []
    for i in range(limits):
        low, high = whole[i] * (1 - slack), whole[i] * (1 + slack)
        if not feasible:
            low, high = sorted(draw.uniform(0.2, 1.8, 2) * (whole[i] + 1))
        kind = draw.integers(4)
        lower = -math.inf if kind == 0 else low
        upper = math.inf if kind == 1 else lower if kind == 2 and not feasible else high
        terms = {f"p{j}": float(contents[i, j]) for j in range(parts)}
        made.append(Limit(f"t{i}", terms, float(lower), float(upper), float(given[i])))
    prices = draw.uniform(0.5, 4, parts)
    bought = tuple(Part(f"p{j}", float(prices[j]), 0.0, 40.0, **more) for j in range(parts))
    return Blend(bought, tuple(made))


def matrices(blend: Blend) -> tuple[Any, Any, Any, Any]:
    """Costs, the matrix of limits, and their lower and upper bounds less what is given."""
    costs = np.array([part.cost for part in blend.parts])
    matrix = np.array(
        [[limit.terms.get(part.name, 0.0) for part in blend.parts] for limit in blend.limits]
    )
    lower = np.array([limit.lower - limit.given for limit in blend.limits])
    upper = np.array([limit.upper - limit.given for limit in blend.limits])
    return costs, matrix.reshape(len(blend.limits), len(blend.parts)), lower, upper


def by_linprog(blend: Blend, only: Any = None) -> Any:
    """scipy's answer for a blend without choices; ``only`` are the parts that may be used."""
    costs, matrix, lower, upper = matrices(blend)
    above, below = np.isfinite(upper), np.isfinite(lower)
    bounds = [
        (part.lower, part.upper) if only is None or part.name in only else (0, 0)
        for part in blend.parts
    ]
    return linprog(
        costs,
        A_ub=np.vstack([matrix[above], -matrix[below]]),
        b_ub=np.concatenate([upper[above], -lower[below]]),
        bounds=bounds,
    )


def by_milp(blend: Blend) -> Any:
    """scipy's answer for a blend with least amounts, steps of 1 and at most so many parts."""
    costs, matrix, lower, upper = matrices(blend)
    count = len(blend.parts)
    most = np.array([part.upper for part in blend.parts])
    least = np.array([part.least for part in blend.parts])
    eye = np.eye(count)
    held = [
        LinearConstraint(np.hstack([matrix, np.zeros_like(matrix)]), lower, upper),
        LinearConstraint(np.hstack([eye, -np.diag(most)]), -np.inf, 0),
        LinearConstraint(np.hstack([eye, -np.diag(least)]), 0, np.inf),
    ]
    if blend.most_parts is not None:
        counted = np.concatenate([np.zeros(count), np.ones(count)])
        held.append(LinearConstraint(counted, -np.inf, blend.most_parts))
    return milp(
        np.concatenate([costs, np.zeros(count)]),
        constraints=held,
        integrality=np.array([part.step == 1 for part in blend.parts] + [True] * count, dtype=int),
        bounds=Bounds(np.zeros(2 * count), np.concatenate([most, np.ones(count)])),
        options={"mip_rel_gap": 0},
    )


def by_trying_all(blend: Blend, tanks: Tanks) -> float:
    """The least cost over every way to put parts into tanks or leave them out; inf if none."""
    names = [part.name for part in blend.parts]
    best = math.inf
    for places in itertools.product([None, *tanks.names], repeat=len(names)):
        put = dict(zip(names, places, strict=True))
        used = [name for name in names if put[name]]
        if blend.most_parts is not None and len(used) > blend.most_parts:
            continue
        held = [{name for name in used if put[name] == tank} for tank in tanks.names]
        if any(group <= tank for group in tanks.apart for tank in held):
            continue
        loads = tuple(
            Limit(
                f"{load.name} {i}",
                {name: value for name, value in load.terms.items() if name in tank},
                upper=load.upper,
            )
            for load in tanks.loads
            for i, tank in enumerate(held)
        )
        found = by_linprog(Blend(blend.parts, (*blend.limits, *loads)), only=set(used))
        if found.status == 0:
            best = min(best, found.fun)
    return best
