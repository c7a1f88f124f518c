"""Conflicts against trying every set of limits, and the nearest blend against scipy."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import linprog

from random_blends import by_linprog, by_milp, by_trying_all, matrices, random_blend
from tanksheet.recipes import Blend, Limit, Part, Tanks, least_cost


def smallest(blend: Blend, fits: Callable[[Blend], bool]) -> int:
    """How many limits the smallest conflict has, by trying all sets in order of size."""
    for size in range(len(blend.limits) + 1):
        for some in itertools.combinations(blend.limits, size):
            if not fits(replace(blend, limits=some)):
                return size
    raise AssertionError("no conflict")


def fits_linear(blend: Blend) -> bool:
    return not blend.limits or by_linprog(blend).status == 0


def infeasible_blends(count: int) -> list[Blend]:
    found: list[Blend] = []
    for seed in itertools.count(400):
        blend = random_blend(np.random.default_rng(seed), 5, 7, feasible=False)
        if by_linprog(blend).status == 2:
            found.append(blend)
            if len(found) == count:
                return found
    raise AssertionError


@pytest.mark.parametrize("blend", infeasible_blends(25), ids=range(25))
def test_the_conflict_is_the_smallest(blend: Blend) -> None:
    found = least_cost(blend)
    held = tuple(limit for limit in blend.limits if limit.name in found.conflict)
    assert tuple(limit.name for limit in held) == found.conflict
    assert not fits_linear(replace(blend, limits=held))
    assert len(found.conflict) == smallest(blend, fits_linear)


def test_conflicts_were_of_several_sizes() -> None:
    sizes = {smallest(blend, fits_linear) for blend in infeasible_blends(25)}
    assert len(sizes) >= 3


def test_a_smaller_conflict_hides_behind_a_larger_one() -> None:
    """Leaving out limit by limit ends with the larger conflict; the smaller is told."""
    parts = tuple(Part(name, 1.0, upper=10) for name in "pqr")
    limits = (
        Limit("small 1", {"r": 1.0}, lower=3.0),
        Limit("small 2", {"r": 1.0}, upper=2.0),
        Limit("large 1", {"p": 1.0}, lower=5.0),
        Limit("large 2", {"q": 1.0}, lower=5.0),
        Limit("large 3", {"p": 1.0, "q": 1.0}, upper=9.0),
    )
    for order in itertools.permutations(limits):
        assert set(least_cost(Blend(parts, order)).conflict) == {"small 1", "small 2"}


def test_bounds_alone_conflict_with_one_limit() -> None:
    found = least_cost(Blend((Part("p", 1.0, upper=2.0),), (Limit("n", {"p": 1.0}, lower=3.0),)))
    assert found.conflict == ("n",)
    assert found.nearest is not None
    assert found.nearest.misses == {"n": pytest.approx(-1)}
    assert found.nearest.amounts == {"p": pytest.approx(2)}


def test_a_count_conflicts_with_what_several_bring() -> None:
    """With choices a set of limits may conflict that bounds alone would meet."""
    parts = tuple(Part(f"p{i}", 1.0, upper=9.0) for i in range(3))
    limits = tuple(Limit(f"t{i}", {f"p{i}": 1.0}, lower=1.0) for i in range(3))
    found = least_cost(Blend(parts, limits, most_parts=2))
    assert found.status == "infeasible" and set(found.conflict) == {"t0", "t1", "t2"}
    assert found.nearest is not None and sum(found.nearest.misses.values()) == pytest.approx(-1)
    assert least_cost(Blend(parts, limits[:2], most_parts=2)).status == "optimal"


@pytest.mark.parametrize("seed", range(12))
def test_conflicts_of_choices(seed: int) -> None:
    """Whole units, least amounts and a count, against trying every set with scipy."""
    draw = np.random.default_rng(500 + seed)
    blend = random_blend(draw, 5, 5, slack=0.05)
    parts = tuple(replace(part, step=1.0, least=2.0) for part in blend.parts)
    blend = Blend(parts, blend.limits, most_parts=2)
    known = by_milp(blend)
    found = least_cost(blend)
    assert found.status == {0: "optimal", 2: "infeasible"}[known.status]
    if known.status == 2:
        held = [limit for limit in blend.limits if limit.name in found.conflict]
        assert by_milp(replace(blend, limits=tuple(held))).status == 2
        for limit in held:
            fewer = tuple(each for each in held if each is not limit)
            assert not fewer or by_milp(replace(blend, limits=fewer)).status == 0


def test_tanks_conflict_with_targets() -> None:
    parts = (Part("calcium", 1.0, upper=9), Part("sulfate", 1.0, upper=9))
    limits = tuple(Limit(part.name, {part.name: 1.0}, lower=1.0) for part in parts)
    apart = (frozenset({"calcium", "sulfate"}),)
    blend = Blend(parts, limits)
    one, two = Tanks(("A",), apart), Tanks(("A", "B"), apart)
    assert math.isinf(by_trying_all(blend, one)) and by_trying_all(blend, two) == 2
    found = least_cost(blend, one)
    assert (found.status, found.conflict) == ("infeasible", ("calcium", "sulfate"))
    assert found.nearest is not None and len(found.nearest.tanks) == 1
    assert least_cost(blend, two).cost == pytest.approx(2)


@pytest.mark.parametrize("blend", infeasible_blends(15), ids=range(15))
def test_the_nearest_blend_misses_least(blend: Blend) -> None:
    """The same sum of relative misses from scipy, and amounts that miss by what is told."""
    found = least_cost(blend).nearest
    assert found is not None
    _, matrix, lower, upper = matrices(blend)
    weights, rows, bounds = [], [], []
    scale = [
        max((abs(e) for e in (each.lower, each.upper) if math.isfinite(e)), default=1.0)
        for each in blend.limits
    ]
    for i in range(len(blend.limits)):
        for end, sign in ((lower[i], -1.0), (upper[i], 1.0)):
            if np.isfinite(end):
                rows.append(sign * matrix[i])
                bounds.append(sign * end)
                weights.append(1 / scale[i])
    count, parts = len(rows), len(blend.parts)
    known = linprog(
        [0.0] * parts + weights,
        A_ub=np.hstack([np.array(rows), -np.eye(count)]),
        b_ub=bounds,
        bounds=[(p.lower, p.upper) for p in blend.parts] + [(0, None)] * count,
    )
    ours = sum(
        abs(found.misses.get(each.name, 0)) / scale[i] for i, each in enumerate(blend.limits)
    )
    assert ours == pytest.approx(known.fun, rel=1e-6, abs=1e-6)
    for limit in blend.limits:
        whole = limit.given + sum(v * found.amounts[n] for n, v in limit.terms.items())
        miss = min(0.0, whole - limit.lower) + max(0.0, whole - limit.upper)
        assert found.misses.get(limit.name, 0.0) == pytest.approx(miss, abs=1e-5)
