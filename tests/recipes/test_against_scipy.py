"""Random blends against scipy.optimize and, for tanks, against trying everything."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from random_blends import by_linprog, by_milp, by_trying_all, matrices, random_blend
from tanksheet.recipes import (
    Blend,
    Limit,
    Part,
    Solution,
    Tanks,
    least_cost,
    least_cost_many,
    placing,
)
from tanksheet.recipes.highs import solved
from tanksheet.recipes.model import built

SEEDS = range(60)


def fits(blend: Blend, found: Solution) -> bool:
    """Whether the amounts keep every bound, worked out without the solver."""
    for part in blend.parts:
        amount = found.amounts[part.name]
        if not part.lower - 1e-7 <= amount <= part.upper + 1e-7:
            return False
        if part.least and 1e-7 < amount < part.least - 1e-7:
            return False
        if part.step and abs(amount / part.step - round(amount / part.step)) > 1e-7:
            return False
    for limit in blend.limits:
        whole = limit.given + sum(v * found.amounts[name] for name, v in limit.terms.items())
        room = 1e-7 * max(1, abs(whole))
        if not limit.lower - room <= whole <= limit.upper + room:
            return False
        if found.delivered[limit.name] != pytest.approx(whole, rel=1e-9, abs=1e-9):
            return False
    used = sum(amount > 1e-9 for amount in found.amounts.values())
    return blend.most_parts is None or used <= blend.most_parts


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("feasible", [True, False])
def test_linear(seed: int, feasible: bool) -> None:
    draw = np.random.default_rng(seed)
    blend = random_blend(
        draw, int(draw.integers(2, 16)), int(draw.integers(1, 9)), feasible=feasible
    )
    known, found = by_linprog(blend), least_cost(blend)
    assert found.status == {0: "optimal", 2: "infeasible"}[known.status]
    assert found.status == "optimal" or not feasible
    if known.status == 0:
        assert found.cost == pytest.approx(known.fun, rel=1e-9, abs=1e-9)
        assert fits(blend, found)


@pytest.mark.parametrize("seed", range(60))
def test_figures_of_very_different_size(seed: int) -> None:
    """Traces beside hundreds, tons beside grams: from 10^-6 to 10^8 in one blend."""
    draw = np.random.default_rng(700 + seed)
    parts, limits = int(draw.integers(3, 20)), int(draw.integers(2, 14))
    sizes = 10.0 ** draw.integers(-3, 6, (limits, 1)) * 10.0 ** draw.integers(-2, 4, (1, parts))
    contents = draw.uniform(0, 1, (limits, parts)) * (draw.random((limits, parts)) < 0.6) * sizes
    mix = draw.uniform(0, 3, parts) * (draw.random(parts) < 0.6) * 10.0 ** draw.integers(-3, 3)
    whole, off = contents @ mix, np.where(draw.random(limits) < 0.3, 0, 0.05)
    costs = draw.uniform(0.1, 5, parts) * 10.0 ** draw.integers(-3, 3, parts)
    blend = Blend(
        tuple(Part(f"p{j}", float(costs[j])) for j in range(parts)),
        tuple(
            Limit(
                f"t{i}",
                {f"p{j}": float(contents[i, j]) for j in range(parts)},
                float(whole[i] * (1 - off[i])),
                float(whole[i] * (1 + off[i])),
            )
            for i in range(limits)
        ),
    )
    found, known = least_cost(blend), by_linprog(blend)
    assert (found.status, known.status) == ("optimal", 0)
    assert found.cost == pytest.approx(known.fun, rel=1e-6)
    assert fits(blend, found)
    many = least_cost_many(blend, costs=[[part.cost for part in blend.parts]])
    assert many.cost[0] == pytest.approx(found.cost, rel=1e-8)


@pytest.mark.parametrize("seed", range(40))
def test_choices(seed: int) -> None:
    """Least amounts, at most so many parts, whole units, in every mixture."""
    draw = np.random.default_rng(100 + seed)
    blend = random_blend(draw, 9, 5, slack=0.3)
    parts = [
        replace(part, least=float(draw.choice([0, 1.5])), step=float(draw.choice([0, 0, 1])))
        for part in blend.parts
    ]
    most = int(draw.integers(2, 6)) if seed % 3 else None
    blend = Blend(tuple(parts), blend.limits, most)
    known, found = by_milp(blend), least_cost(blend, explain=False)
    assert found.status == {0: "optimal", 2: "infeasible"}[known.status]
    if known.status == 0:
        assert found.cost == pytest.approx(known.fun, rel=1e-7)
        assert fits(blend, found)
        assert found.cost_bound == pytest.approx(found.cost, rel=1e-7)


def test_choices_were_of_both_kinds() -> None:
    """The draws above must hold blends that can be made and blends that cannot."""
    outcomes = set()
    for seed in range(40):
        draw = np.random.default_rng(100 + seed)
        blend = random_blend(draw, 9, 5, slack=0.3)
        outcomes.add(by_milp(replace(blend, most_parts=2)).status)
    assert outcomes == {0, 2}


def tank_case(seed: int) -> tuple[Blend, Tanks]:
    draw = np.random.default_rng(200 + seed)
    blend = random_blend(draw, 5, 3, slack=0.15)
    names = [part.name for part in blend.parts]
    pairs = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :] if draw.random() < 0.45]
    groups = [frozenset(pair) for pair in pairs] + [frozenset(names[:3])]
    shares = {name: float(draw.uniform(0.1, 1)) for name in names}
    tanks = Tanks(
        ("A", "B")[: int(draw.integers(1, 3))],
        tuple(groups),
        (Limit("share", shares, upper=float(draw.uniform(0.8, 3))),),
    )
    return replace(blend, most_parts=int(draw.integers(2, 6))), tanks


@pytest.mark.parametrize("seed", range(24))
def test_tanks_against_trying_all(seed: int) -> None:
    blend, tanks = tank_case(seed)
    best, found = by_trying_all(blend, tanks), least_cost(blend, tanks, explain=False)
    assert found.status == ("infeasible" if math.isinf(best) else "optimal")
    if found.status == "infeasible":
        return
    assert found.cost == pytest.approx(best, rel=1e-7)
    assert fits(blend, found)
    assert {name for name, amount in found.amounts.items() if amount > 0} == set(found.tanks)
    for tank in tanks.names:
        held = {name for name, where in found.tanks.items() if where == tank}
        assert not any(group <= held for group in tanks.apart)
        for load in tanks.loads:
            assert sum(load.terms[n] * found.amounts[n] for n in held) <= load.upper + 1e-7


def test_tank_cases_are_of_both_kinds() -> None:
    outcomes = [math.isinf(by_trying_all(*tank_case(seed))) for seed in range(24)]
    assert 3 <= sum(outcomes) <= 21


def crowded(seed: int) -> tuple[Blend, Tanks]:
    """Ten parts of which most pairs clash, so that tanks often cost something."""
    draw = np.random.default_rng(600 + seed)
    blend = random_blend(draw, 10, 4, slack=0.1)
    names = [part.name for part in blend.parts]
    pairs = [frozenset((a, b)) for i, a in enumerate(names) for b in names[:i]]
    apart = tuple(pair for pair in pairs if draw.random() < 0.75)
    parts = tuple(replace(part, least=0.2) for part in blend.parts)
    return replace(blend, parts=parts, most_parts=6), Tanks(("A", "B"), apart)


@pytest.mark.parametrize("seed", range(12))
def test_in_two_steps_as_in_one(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Parts first, then tanks, gives what one model of everything gives; so does giving up."""
    blend, tanks = crowded(seed)
    form = built(blend, tanks)
    known = solved(form.model) if form else None
    for turns in (placing.MOST_TURNS, 1, 0):
        monkeypatch.setattr(placing, "MOST_TURNS", turns)
        found = least_cost(blend, tanks, explain=False)
        if known is None or not known.columns:
            assert found.status == "infeasible"
        else:
            assert found.cost == pytest.approx(known.objective, rel=1e-7)
            assert found.cost_bound == pytest.approx(found.cost, rel=1e-7)
            assert fits(blend, found)


def test_tanks_often_cost_something_there() -> None:
    dearer = 0
    for seed in range(12):
        blend, tanks = crowded(seed)
        found = least_cost(blend, tanks, explain=False)
        free = least_cost(blend, explain=False)
        dearer += found.status == "infeasible" or found.cost > free.cost * 1.0001
    assert dearer >= 4


def test_parts_that_cannot_be_placed() -> None:
    """Four parts that all clash need four tanks; a triangle and a friend need three."""
    four = tuple(frozenset(pair) for pair in itertools.combinations("abcd", 2))
    assert placing.can_be_placed("abc", Tanks(("A", "B", "C"), four))
    assert not placing.can_be_placed("abcd", Tanks(("A", "B", "C"), four))
    assert placing.can_be_placed("abcd", Tanks(("A", "B", "C"), four[1:]))
    three = Tanks(("A",), (frozenset("abc"),))
    assert placing.can_be_placed("abd", three) and not placing.can_be_placed("abcd", three)
    assert not placing.can_be_placed("a", Tanks(("A",), (), only={"a": ()}))


def test_many_at_once_are_as_one_by_one() -> None:
    draw = np.random.default_rng(7)
    count, blend = 150, random_blend(draw, 15, 12)
    costs, matrix, _, _ = matrices(blend)
    mixes = draw.uniform(0, 2, (count, 15)) * (draw.random((count, 15)) < 0.6)
    wanted, prices = mixes @ matrix.T, draw.uniform(0.3, 3, (count, 15))
    low, high = 0.95 * wanted, 1.05 * wanted
    low[::10] = 100 * high[::10] + 1  # what no blend gives
    high[::10] = low[::10]
    found = least_cost_many(blend, costs=prices, lower=low, upper=high)
    assert found.cost.shape == (count,) and found.amounts.shape == (count, 15)
    kinds = set()
    for i in range(count):
        parts = tuple(replace(part, cost=float(prices[i, j])) for j, part in enumerate(blend.parts))
        limits = tuple(
            replace(limit, lower=float(low[i, j]), upper=float(high[i, j]))
            for j, limit in enumerate(blend.limits)
        )
        known = by_linprog(Blend(parts, limits))
        kinds.add(known.status)
        assert found.status[i] == {0: "optimal", 2: "infeasible"}[known.status]
        if known.status == 0:
            assert found.cost[i] == pytest.approx(known.fun, rel=1e-9)
            assert found.cost[i] == pytest.approx(float(found.amounts[i] @ prices[i]), rel=1e-9)
        else:
            assert np.isnan(found.cost[i]) and np.isnan(found.amounts[i]).all()
    assert kinds == {0, 2}


def test_many_take_what_is_given_and_most() -> None:
    """Water counted, and the dearest instead of the cheapest."""
    part = Part("p", 2.0, upper=10)
    blend = Blend((part,), (Limit("t", {"p": 4.0}, 8.0, 20.0, given=4.0),))
    assert least_cost_many(blend, lower=[[8.0], [12.0]]).amounts.tolist() == [[1.0], [2.0]]
    most = least_cost_many(replace(blend, sense="max"), upper=[[12.0], [20.0]])
    assert most.cost.tolist() == [4.0, 8.0]
    assert most.price_of_one_more.tolist() == [[0.5], [0.5]]
