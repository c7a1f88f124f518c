"""Speed of least-cost recipes: many at once, and which tank holds what."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from tanksheet.recipes import Blend, Limit, Part, Tanks, least_cost, least_cost_many

Row = Callable[[str, float, float, float], None]
RECIPES, PRODUCTS, ELEMENTS, LOOPED = 10_000, 15, 12, 300
INSTANCES, PEERS = 50, 12
NAMES = ("A", "B", "C")


def recipes(row: Row) -> None:
    """All of it; ``row`` prints one line."""
    many(row)
    tanks(row)


def many(row: Row) -> None:
    """Ten thousand recipes of the same products, against a loop over a part of them."""
    draw = np.random.default_rng(3)
    contents = draw.uniform(0, 10, (ELEMENTS, PRODUCTS))
    contents *= draw.random((ELEMENTS, PRODUCTS)) < 0.5
    mixes = draw.uniform(0, 2, (RECIPES, PRODUCTS)) * (draw.random((RECIPES, PRODUCTS)) < 0.6)
    wanted, prices = mixes @ contents.T, draw.uniform(0.5, 3, (RECIPES, PRODUCTS))
    low, high = 0.95 * wanted, 1.05 * wanted
    blend = _blend(prices[0], contents, low[0], high[0])
    start = time.perf_counter()
    found = least_cost_many(blend, costs=prices, lower=low, upper=high)
    ours = (time.perf_counter() - start) / RECIPES
    start = time.perf_counter()
    known = [
        linprog(
            prices[i],
            A_ub=np.vstack([contents, -contents]),
            b_ub=np.concatenate([high[i], -low[i]]),
        ).fun
        for i in range(LOOPED)
    ]
    peer = (time.perf_counter() - start) / LOOPED
    assert np.allclose(found.cost[:LOOPED], known, rtol=1e-9, atol=0)
    row("a recipe among 10,000 at once, against linprog in a loop", ours, peer, 10)


def _blend(
    prices: np.ndarray, contents: np.ndarray, low: np.ndarray, high: np.ndarray, **part: float
) -> Blend:
    names = [f"p{j}" for j in range(len(prices))]
    parts = tuple(Part(n, float(c), **part) for n, c in zip(names, prices, strict=True))
    limits = tuple(
        Limit(f"e{i}", dict(zip(names, map(float, terms), strict=True)), float(a), float(b))
        for i, (terms, a, b) in enumerate(zip(contents, low, high, strict=True))
    )
    return Blend(parts, limits)


def instance(seed: int, products: int = 25, elements: int = 12) -> tuple[Blend, Tanks]:
    """Invented: targets within 5 % of a hidden mix of 7 products over three tanks, the fullest of
    which is full to 90 %; a fifth of all other pairs clash."""
    draw = np.random.default_rng(9000 + seed)
    contents = draw.uniform(2, 20, (elements, products)) * (draw.random((elements, products)) < 0.3)
    hidden = draw.permutation(products)[:7]
    mix = np.zeros(products)
    mix[hidden] = draw.uniform(2, 20, 7)
    wanted = contents @ mix
    place = {int(j): i % 3 for i, j in enumerate(hidden)}
    shares = draw.uniform(0.5, 2, products)
    loads = [sum(shares[j] * mix[j] for j in place if place[j] == t) for t in range(3)]
    shares *= 0.9 / max(loads)
    blend = _blend(
        draw.uniform(0.5, 3, products), contents, 0.95 * wanted, 1.05 * wanted, least=0.5
    )
    together = {frozenset((a, b)) for a in place for b in place if place[a] == place[b]}
    apart = tuple(
        frozenset((f"p{a}", f"p{b}"))
        for a in range(products)
        for b in range(a)
        if frozenset((a, b)) not in together and draw.random() < 0.2
    )
    terms = {f"p{j}": float(share) for j, share in enumerate(shares)}
    limit = Limit("share", terms, upper=1.0)
    return Blend(blend.parts, blend.limits, most_parts=7), Tanks(NAMES, apart, (limit,))


def tanks(row: Row) -> None:
    """25 products, three tanks, at most 7 products: all of it until proven, prices included."""
    times, costs = [], []
    for seed in range(INSTANCES):
        start = time.perf_counter()
        found = least_cost(*instance(seed))
        times.append(time.perf_counter() - start)
        assert found.status == "optimal" and found.cost_bound >= found.cost * (1 - 1e-7)
        costs.append(found.cost)
    peers = []
    for seed in range(PEERS):
        start = time.perf_counter()
        known = plainly(*instance(seed))
        peers.append(time.perf_counter() - start)
        assert abs(known - costs[seed]) <= 1e-6 * costs[seed], (seed, known, costs[seed])
    few = statistics.median(times[:PEERS])
    peer, middle = statistics.median(peers), statistics.median(times)
    row("tanks for 25 products, median, against milp in plain form", few, peer, 5)
    print(f"  of {INSTANCES}: median {middle:.3f} s, worst {max(times):.3f} s, all proven")


def plainly(blend: Blend, tanks: Tanks) -> float:
    """The least cost by scipy, as one writes it down at first, with what fills a tank as bound."""
    count, wide = len(blend.parts), len(blend.parts) * len(tanks.names)
    eye, zero = np.eye(wide), np.zeros((1, wide))
    contents = np.array([[lim.terms[p.name] for p in blend.parts] for lim in blend.limits])
    spread = np.tile(contents, len(tanks.names))
    shares = np.array([tanks.loads[0].terms[part.name] for part in blend.parts])
    most = np.tile(1 / shares, len(tanks.names))  # what fills a tank
    least = np.array([part.least for part in blend.parts] * len(tanks.names))
    index = {part.name: j for j, part in enumerate(blend.parts)}
    pairs = np.zeros((len(tanks.apart) * len(tanks.names), wide))
    for i, pair in enumerate(tanks.apart):
        for t in range(len(tanks.names)):
            pairs[i * len(tanks.names) + t, [t * count + index[name] for name in pair]] = 1
    held = [
        LinearConstraint(
            np.hstack([spread, np.zeros_like(spread)]),
            [limit.lower for limit in blend.limits],
            [limit.upper for limit in blend.limits],
        ),
        LinearConstraint(np.hstack([eye, -np.diag(most)]), -np.inf, 0),
        LinearConstraint(np.hstack([eye, -np.diag(least)]), 0, np.inf),
        LinearConstraint(np.hstack([zero, np.ones((1, wide))]), 0, blend.most_parts),
        LinearConstraint(
            np.hstack([np.zeros((count, wide)), np.tile(np.eye(count), len(tanks.names))]), 0, 1
        ),
        LinearConstraint(np.hstack([np.zeros_like(pairs), pairs]), 0, 1),
        LinearConstraint(
            np.hstack([np.kron(np.eye(len(tanks.names)), shares), np.zeros((len(NAMES), wide))]),
            0,
            1,
        ),
    ]
    costs = np.tile([part.cost for part in blend.parts], len(tanks.names))
    found = milp(
        np.concatenate([costs, np.zeros(wide)]),
        constraints=held,
        integrality=np.concatenate([np.zeros(wide), np.ones(wide)]),
        bounds=Bounds(0, np.concatenate([np.full(wide, np.inf), np.ones(wide)])),
        options={"mip_rel_gap": 0},
    )
    assert found.status == 0
    return float(found.fun)
