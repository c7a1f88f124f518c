"""What the figures of an optimum are worth, held against solving again with other figures."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from random_blends import by_linprog, by_milp, random_blend
from tanksheet.recipes import Blend, Limit, Part, Solution, least_cost

SEEDS = range(30)
STEP = 1e-5


def blend_of(seed: int, parts: int = 8, limits: int = 6) -> Blend:
    return random_blend(np.random.default_rng(300 + seed), parts, limits)


def moved(blend: Blend, name: str, by: float, at_lower: bool) -> Blend:
    """The same blend with a bound of one limit moved, both bounds of an exact one."""
    limits = []
    for limit in blend.limits:
        if limit.name == name:
            exact = limit.lower == limit.upper
            lower = limit.lower + by if at_lower or exact else limit.lower
            upper = limit.upper + by if not at_lower or exact else limit.upper
            limit = replace(limit, lower=lower, upper=upper)
        limits.append(limit)
    return replace(blend, limits=tuple(limits))


@pytest.mark.parametrize("seed", SEEDS)
def test_one_more_costs_what_it_says(seed: int) -> None:
    """A hundred-thousandth of one more, solved again by scipy."""
    blend = blend_of(seed)
    found = least_cost(blend)
    for limit in blend.limits:
        price = found.price_of_one_more[limit.name]
        less, more = found.price_span.get(limit.name, (price, price))
        assert less - 1e-9 <= price <= more + 1e-9
        if limit.name not in found.binding:
            assert price == 0
            continue
        at_lower = found.delivered[limit.name] == pytest.approx(limit.lower, rel=1e-9)
        for by, slope in ((STEP, more), (-STEP, less)):
            again = by_linprog(moved(blend, limit.name, by, at_lower))
            if math.isinf(slope):
                assert again.status == 2
            else:
                assert (again.fun - found.cost) / by == pytest.approx(slope, rel=1e-3, abs=1e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_prices_prove_the_optimum(seed: int) -> None:
    """Each part costs what its contents are worth, but for its reduced cost; only what binds is
    worth anything, and all of it together is the cost."""
    blend = blend_of(seed)
    found = least_cost(blend)
    for part in blend.parts:
        worth = sum(
            found.price_of_one_more[limit.name] * limit.terms[part.name] for limit in blend.limits
        )
        over = part.cost - worth
        assert over == pytest.approx(found.reduced_costs.get(part.name, 0.0), abs=1e-7)
        amount = found.amounts[part.name]
        if part.lower + 1e-7 < amount < part.upper - 1e-7:
            assert abs(over) < 1e-7
        else:
            assert over > -1e-7 if amount < 1 else over < 1e-7
    for limit in blend.limits:
        price, whole = found.price_of_one_more[limit.name], found.delivered[limit.name]
        if price > 1e-8:
            assert whole == pytest.approx(limit.lower)
        if price < -1e-8:
            assert whole == pytest.approx(limit.upper)


@pytest.mark.parametrize("seed", SEEDS)
def test_amounts_hold_between_the_prices_told(seed: int) -> None:
    """Just inside a range the same amounts are cheapest; just outside others are cheaper."""
    blend = blend_of(seed)
    found = least_cost(blend)
    for part in blend.parts:
        low, high = found.price_ranges[part.name]
        assert low <= part.cost + 1e-9 and high >= part.cost - 1e-9
        for end, inwards in ((low, 1e-4), (high, -1e-4)):
            if math.isinf(end):
                end = math.copysign(1e3, end)
                inwards = 0.0
            for price, holds in ((end + inwards, True), (end - inwards, False)):
                parts = tuple(replace(p, cost=price) if p is part else p for p in blend.parts)
                again = by_linprog(Blend(parts, blend.limits))
                here = sum(p.cost * found.amounts[p.name] for p in parts)
                if holds and low <= price <= high:
                    assert here == pytest.approx(again.fun, rel=1e-7, abs=1e-7)
                elif inwards:
                    assert here > again.fun + 1e-9


def test_the_dearest_blend() -> None:
    """The sense "max": prices and ranges are of what is made most of."""
    parts = (Part("x", 3.0), Part("y", 5.0))
    limits = (
        Limit("one", {"x": 1.0}, upper=4.0),
        Limit("two", {"y": 2.0}, upper=12.0),
        Limit("three", {"x": 3.0, "y": 2.0}, upper=18.0),
    )
    # Hillier and Lieberman, Introduction to Operations Research: the first example; the prices 0,
    # 1.5 and 1 and the ranges 0 to 7.5 and 2 upwards are theirs (from memory).
    found = least_cost(Blend(parts, limits, sense="max"))
    assert found.cost == pytest.approx(36)
    assert found.amounts == pytest.approx({"x": 2, "y": 6})
    assert found.price_of_one_more == pytest.approx({"one": 0, "two": 1.5, "three": 1})
    assert found.price_ranges["x"] == pytest.approx((0, 7.5))
    low, high = found.price_ranges["y"]
    assert low == pytest.approx(2) and math.isinf(high)


def test_where_too_many_limits_meet() -> None:
    """One more and one less have prices of their own."""
    parts = (Part("cheap", 1.0, upper=5.0), Part("dear", 4.0))
    found = least_cost(Blend(parts, (Limit("n", {"cheap": 1.0, "dear": 1.0}, lower=5.0),)))
    assert found.price_span == {"n": pytest.approx((1, 4))}
    assert 1 <= found.price_of_one_more["n"] <= 4


def test_another_blend_as_cheap_is_told() -> None:
    limit = Limit("n", {"a": 1.0, "b": 2.0}, lower=4.0)
    for cost, unique in ((2.0, False), (2.1, True), (1.9, True)):
        parts = (Part("a", 1.0), Part("b", cost))
        assert least_cost(Blend(parts, (limit,))).unique is unique


def test_prices_of_a_choice_hold_for_it() -> None:
    """With least amounts and a count, the prices are those of the parts that were chosen."""
    base = random_blend(np.random.default_rng(5), 8, 3, slack=0.3)
    parts = tuple(replace(part, least=0.5) for part in base.parts)
    blend = Blend(parts, base.limits, most_parts=4)
    found = least_cost(blend)
    assert found.cost == pytest.approx(by_milp(blend).fun, rel=1e-7)
    used = {name for name, amount in found.amounts.items() if amount > 0}
    assert used and set(found.price_ranges) == used
    assert "hold for this choice" in found.notes[0]
    kept = tuple(replace(p, lower=0.5 if p.name in used else 0) for p in base.parts)
    again = least_cost(Blend(tuple(p for p in kept if p.name in used), _only(base, used)))
    assert again.cost == pytest.approx(found.cost)
    assert again.price_of_one_more == pytest.approx(found.price_of_one_more)


def _only(blend: Blend, used: set[str]) -> tuple[Limit, ...]:
    return tuple(
        replace(each, terms={n: v for n, v in each.terms.items() if n in used})
        for each in blend.limits
    )


def test_without_explaining_there_are_no_prices() -> None:
    found: Solution = least_cost(blend_of(1), explain=False)
    assert found.status == "optimal" and found.amounts
    assert (found.price_of_one_more, found.price_ranges, found.unique) == ({}, {}, None)
