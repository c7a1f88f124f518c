"""Blending and diet problems with published or independently found optima, prices and conflicts.

least_cost_problems.json names the source of each; its "optimum" was found by solvers other than the
code under test, and its conflicts by trying every set of limits.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from tanksheet.recipes import Solution, least_cost, read_problems

FILE = Path(__file__).with_name("least_cost_problems.json")
PROBLEMS: dict[str, dict[str, Any]] = {
    each["id"]: each for each in json.loads(FILE.read_text(encoding="utf-8"))["problems"]
}
BLENDS = dict(read_problems(FILE))
OPTIMAL = [name for name, each in PROBLEMS.items() if each["optimum"]["status"] == "optimal"]
INFEASIBLE = [name for name in PROBLEMS if name not in OPTIMAL]
# The file's figures have nine decimals, its ranges four.
NEAR: dict[str, Any] = {"rel": 1e-8, "abs": 1e-8}


def solved(name: str) -> Solution:
    return least_cost(PROBLEMS[name])


def test_every_problem_is_one_or_the_other() -> None:
    assert len(OPTIMAL) >= 9 and len(INFEASIBLE) >= 2
    assert list(BLENDS) == list(PROBLEMS)


@pytest.mark.parametrize("name", OPTIMAL)
def test_optimum(name: str) -> None:
    known, found = PROBLEMS[name]["optimum"], solved(name)
    assert found.status == "optimal"
    assert found.cost == pytest.approx(known["objective"], **NEAR)
    amounts = {part: amount for part, amount in found.amounts.items() if amount > 1e-9}
    assert amounts == pytest.approx(known["x"], **NEAR)
    assert found.cost_bound == pytest.approx(found.cost, rel=1e-9)
    if known.get("unique"):
        assert found.unique is True


@pytest.mark.parametrize("name", OPTIMAL)
def test_published_figures(name: str) -> None:
    """What the source prints, to the digits that it prints."""
    printed, found = PROBLEMS[name]["published"], solved(name)
    if "objective" in printed:
        assert found.cost == pytest.approx(printed["objective"], rel=2e-5)
    for part, amount in printed.get("x", {}).items():
        assert found.amounts[part] == pytest.approx(amount, rel=1e-3, abs=1e-4)
    for limit, price in printed.get("duals", {}).items():
        assert found.price_of_one_more[limit] == pytest.approx(price, rel=1e-6)
    for part, cost in printed.get("reduced_costs", {}).items():
        assert found.reduced_costs[part] == pytest.approx(cost, rel=1e-6)


@pytest.mark.parametrize("name", [n for n in OPTIMAL if "duals" in PROBLEMS[n]["optimum"]])
def test_prices(name: str) -> None:
    known, found = PROBLEMS[name]["optimum"], solved(name)
    if not found.price_span:
        assert found.price_of_one_more == pytest.approx(known["duals"], **NEAR)
        assert found.reduced_costs == pytest.approx(known["reduced_costs"], **NEAR)
    # Where limits hang together, as in "lead-zinc-tin", only what all prices add up to is one.
    bounds = {
        limit["name"]: limit["lower"] if found.price_of_one_more[limit["name"]] > 0
        else limit["upper"]
        for limit in PROBLEMS[name]["constraints"]
    }  # fmt: skip
    worth = sum(price * bounds[each] for each, price in found.price_of_one_more.items() if price)
    at_bounds = sum(found.reduced_costs[part] * found.amounts[part] for part in found.reduced_costs)
    assert worth + at_bounds == pytest.approx(known["objective"], rel=1e-8)


@pytest.mark.parametrize("name", [n for n in OPTIMAL if "price_ranges" in PROBLEMS[n]["optimum"]])
def test_price_ranges(name: str) -> None:
    known, found = PROBLEMS[name]["optimum"]["price_ranges"], solved(name)
    assert found.price_ranges.keys() == known.keys()
    for part, (low, high) in known.items():
        ours = tuple(None if math.isinf(end) else end for end in found.price_ranges[part])
        for end, told in zip(ours, (low, high), strict=True):
            assert end == pytest.approx(told, abs=1e-4), part


@pytest.mark.parametrize("name", INFEASIBLE)
def test_conflict(name: str) -> None:
    """The smallest of the conflicts that cannot be made smaller."""
    known: list[list[str]] = PROBLEMS[name]["optimum"]["minimal_conflicts"]
    found = solved(name)
    assert found.status == "infeasible" and found.amounts == {}
    shortest: list[str] = min(known, key=len)
    assert sorted(found.conflict) == sorted(shortest)
    assert found.nearest is not None and found.nearest.misses


def test_dependent_limits_have_no_single_price() -> None:
    """The three metals of the alloys are the total again: none can move alone."""
    found = solved("lead-zinc-tin")
    assert found.price_span == dict.fromkeys(found.binding, (-math.inf, math.inf))


def test_the_dictionary_is_json() -> None:
    for name in PROBLEMS:
        held = json.loads(json.dumps(solved(name).as_json(), allow_nan=False))
        assert held["status"] == PROBLEMS[name]["optimum"]["status"]
