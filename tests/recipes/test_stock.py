"""Recipes for tanks: what the workbook itself says of the tanks, and of what arrives."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest

from tanksheet.errors import Fault
from tanksheet.recipes import Recipe, Solution, Stock, Target, least_cost, listed
from tanksheet.recipes.judge import Judge, kind
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book

# Prices are invented: money for a pack of so many kilograms.
PRICES = {
    "calcium nitrate 15.5-0-0": (12, 25),
    "potassium nitrate": (32, 25),
    "monopotassium phosphate": (45, 25),
    "monoammonium phosphate": (38, 25),
    "magnesium sulfate heptahydrate": (10, 25),
    "potassium sulfate": (28, 25),
    "magnesium nitrate hexahydrate": (22, 25),
    "ammonium nitrate": (14, 25),
    "calcium chloride dihydrate": (11, 25),
    "potassium chloride": (18, 25),
    "nitric acid 60 %": (25, 35),
    "phosphoric acid 75 %": (50, 35),
    "iron DTPA 11 %": (200, 25),
    "manganese sulfate monohydrate": (40, 25),
    "boric acid": (60, 25),
}
PRODUCTS = {name: listed(name, *price) for name, price in PRICES.items()}
WATER = {"NO3-N": 2, "K": 2, "Ca": 20, "Mg": 5, "S": 5, "Na": 12, "Cl": 15, "alkalinity": 1.2}
LETTERS = "ABC"
ELEMENTS = "N P K Ca Mg S Fe Mn Zn Cu B Mo Na Cl Si".split()


def recipe(names: list[str], targets: tuple[Target, ...], litres: float = 10_000) -> Recipe:
    return Recipe(tuple(PRODUCTS[n] for n in names), targets, WATER, litres, most_products=12)


def tomato(percent: float = 5) -> tuple[Target, ...]:
    wanted = {"N": 195, "P": 40, "K": 250, "Ca": 170, "Mg": 45, "Fe": 2, "Mn": 0.55, "B": 0.3}
    return tuple(Target.within(name, value, percent) for name, value in wanted.items())


def in_workbook(found: Solution, stock: Stock) -> dict[str, Any]:
    """What the recipe workbook says with these amounts typed into it."""
    plan = book("recipe")
    rows = len(plan.entries["products"].cells)
    used = list(found.tanks)
    blank: list[Any] = [None] * (rows - len(used))
    names = {"n": "NO3-N", "k": "K", "ca": "Ca", "mg": "Mg", "s": "S", "na": "Na", "cl": "Cl"}
    settings: dict[str, Any] = {
        "products": used + blank,
        "tanks": [found.tanks[name] for name in used] + ["A"] * len(blank),
        "amounts": [found.amounts[name] for name in used] + blank,
        "amount_units": ["g"] * rows,
        "ratio": stock.ratio,
        "temperature": stock.temperature,
        **{f"tank_{letter.lower()}": litres for letter, litres in stock.litres.items()},
        **{f"water_{short}": float(WATER[name]) for short, name in names.items()},
        "water_alkalinity": WATER["alkalinity"] * 50.04,
    }
    return evaluate(plan, settings)


def arrives(values: dict[str, Any]) -> dict[str, float]:
    return {name: values[f"together[{i}]"] for i, name in enumerate(ELEMENTS)}


def check(found: Solution, stock: Stock, wanted: Recipe, worst: tuple[str, ...]) -> None:
    values = in_workbook(found, stock)
    for letter in LETTERS:
        assert kind(values[f"clear_{letter.lower()}"]) in worst, values[f"clear_{letter.lower()}"]
    brought = arrives(values)
    for target in wanted.targets:
        if target.what in brought:
            assert brought[target.what] == pytest.approx(found.delivered[target.what], rel=1e-3)
    per_kilogram = {each.name: each.price / each.pack for each in wanted.products}
    if len(set(stock.litres.values())) == 1:
        worth = sum(per_kilogram[name] * grams / 1000 for name, grams in found.amounts.items())
        assert found.cost == pytest.approx(worth * wanted.litres / stock.feed, rel=1e-6)


STOCK = Stock({"A": 100.0, "B": 100.0, "C": 100.0}, ratio=100, temperature=10)


def test_a_daily_recipe_passes_in_the_workbook() -> None:
    wanted = recipe(list(PRODUCTS), tomato())
    found = least_cost(wanted, STOCK)
    assert found.status == "optimal"
    check(found, STOCK, wanted, ("pass", "not used", "not checked"))
    free = least_cost(wanted, explain=False)
    assert found.cost == pytest.approx(free.cost)
    assert "no recipe is cheaper even where tanks may hold what clashes" in found.notes
    lime, epsom = "calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"
    assert found.tanks[lime] != found.tanks[epsom]


@pytest.mark.parametrize("seed", range(6))
def test_random_recipes_have_no_stop(seed: int) -> None:
    draw = np.random.default_rng(800 + seed)
    names = [name for name in PRODUCTS if draw.random() < 0.85]
    mix = {name: float(draw.uniform(0, 0.6)) for name in draw.permutation(names)[:6]}
    targets = []
    for element in ("N", "P", "K", "Ca", "Mg"):
        whole = sum(10 * PRODUCTS[name].content(element) * g for name, g in mix.items())
        if whole > 1:
            targets.append(Target.within(element, whole + WATER.get(element, 0), 8))
    wanted = recipe(names, tuple(targets))
    worst = "pass" if seed % 2 else "caution"
    stock = Stock({"A": 200.0, "B": 200.0, "C": 200.0}, float(draw.choice([50, 100])), worst=worst)
    found = least_cost(wanted, stock)
    assert found.status in ("optimal", "infeasible")
    if found.status == "optimal":
        taken = ("pass", "not used", "not checked", *(("caution",) if worst == "caution" else ()))
        check(found, stock, wanted, taken)
    else:
        assert found.conflict


def test_random_recipes_are_mostly_possible() -> None:
    """Else the test above would prove little."""
    found = least_cost(recipe(list(PRODUCTS), tomato(8)), Stock({"A": 200.0, "B": 200.0}, 100))
    assert found.status == "optimal" and set(found.tanks.values()) <= {"A", "B"}


def test_two_products_that_clash_need_two_tanks() -> None:
    names = ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"]
    wanted = recipe(names, (Target("Ca", at_least=150), Target("Mg", at_least=40)))
    one = least_cost(wanted, Stock({"A": 100.0}))
    assert (one.status, set(one.conflict)) == ("infeasible", {"Ca", "Mg"})
    assert "the targets can be met, but not with tanks" in one.notes[0]
    two = least_cost(wanted, Stock({"A": 100.0, "B": 100.0}))
    assert two.status == "optimal" and set(two.tanks.values()) == {"A", "B"}
    assert one.kept_apart == (tuple(sorted(names)),)


def test_the_rules_may_cost_something() -> None:
    """One tank: the sulfate that is cheaper would settle with calcium, so the nitrate is taken."""
    names = ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"]
    names.append("magnesium nitrate hexahydrate")
    wanted = recipe(names, (Target("Ca", at_least=150), Target("Mg", at_least=40)))
    stock = Stock({"A": 100.0})
    found = least_cost(wanted, stock)
    assert found.status == "optimal" and set(found.tanks) == {names[0], names[2]}
    assert found.cost > least_cost(wanted).cost * 1.05
    check(found, stock, wanted, ("pass", "not used"))


def test_what_dissolves_bounds_a_product() -> None:
    """Potassium sulfate in a cold tank of 1:200 is too much; at 1:50 it is not."""
    wanted = recipe(["potassium sulfate"], (Target("K", at_least=250),))
    assert least_cost(wanted, Stock({"A": 100.0}, ratio=200, temperature=5)).status == "infeasible"
    found = least_cost(wanted, Stock({"A": 100.0}, ratio=50, temperature=5))
    assert found.status == "optimal"
    wasted = Stock({"A": 100.0, "B": 50.0}, ratio=50)
    assert least_cost(wanted, wasted).amounts["potassium sulfate"] > 0


def test_tanks_of_two_sizes_hold_the_same_stock() -> None:
    names = ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"]
    wanted = recipe(names, (Target("Ca", at_least=150), Target("Mg", at_least=40)))
    only = {names[0]: ("A",), names[1]: ("B",)}
    same = least_cost(wanted, Stock({"A": 100.0, "B": 100.0}, only=only))
    uneven = Stock({"A": 100.0, "B": 300.0}, only=only)
    found = least_cost(wanted, uneven)
    assert found.tanks == dict(zip(names, "AB", strict=True))
    assert found.amounts[names[0]] == pytest.approx(same.amounts[names[0]])
    assert found.amounts[names[1]] == pytest.approx(3 * same.amounts[names[1]])
    assert found.cost == pytest.approx(same.cost)
    check(found, uneven, wanted, ("pass", "not used"))


def test_at_most_so_many_products() -> None:
    elements = (("N", 150), ("P", 30), ("K", 180), ("Ca", 120), ("Mg", 40))
    targets = tuple(Target.within(name, value, 10) for name, value in elements)
    wanted = recipe(list(PRODUCTS), targets)
    costs = []
    for most in (4, 5, 8):
        few = Recipe(wanted.products, targets, WATER, 10_000, most_products=most)
        found = least_cost(few, STOCK)
        assert found.status == "optimal" and len(found.tanks) <= most
        costs.append(found.cost)
    assert costs == sorted(costs, reverse=True) and costs[0] > costs[2]


def test_a_product_of_unknown_chemistry_is_not_checked() -> None:
    from dataclasses import replace

    own = replace(PRODUCTS["potassium nitrate"], name="own potash", chemistry="")
    wanted = Recipe((own,), (Target("K", at_least=100),), litres=10_000)
    found = least_cost(wanted, STOCK)
    assert any("not checked" in note and "own potash" in note for note in found.notes)


def test_judged_apart_as_together() -> None:
    """Three tanks judged in one go get the verdicts that they get alone."""
    tanks = [
        {"calcium nitrate 15.5-0-0": 80.0, "magnesium sulfate heptahydrate": 40.0},
        {"potassium nitrate": 60.0},
        {"nitric acid 60 %": 300.0, "sodium hypochlorite 12.5 %": 5.0},
        {},
    ]
    judge = Judge(WATER, 10.0)
    alone = [judge.verdicts([tank])[0] for tank in tanks]
    assert judge.verdicts(tanks) == alone
    assert [kind(each) for each in alone] == ["stop", "pass", "stop", "not used"]


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Stock({}), "one to three of A, B, C"),
        (lambda: Stock({"D": 1.0}), "one to three of A, B, C"),
        (lambda: Stock({"A": -1.0}), "above 0"),
        (lambda: Stock({"A": 1.0}, worst="stop"), 'must be "pass" or "caution"'),
    ],
)
def test_tanks_that_make_no_sense(make: Any, words: str) -> None:
    with pytest.raises(Fault, match=words):
        make()


def test_small_tanks_against_every_placing() -> None:
    """No placing of the products that the workbook passes is cheaper than what was found."""
    names = ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"]
    names += ["magnesium nitrate hexahydrate", "monopotassium phosphate"]
    targets = (Target("Ca", at_least=120), Target("Mg", at_least=30), Target("P", at_least=20))
    wanted = recipe(names, targets)
    stock = Stock({"A": 100.0, "B": 100.0})
    found = least_cost(wanted, stock)
    best = float("inf")
    for places in itertools.product((None, "A", "B"), repeat=len(names)):
        used = [name for name, place in zip(names, places, strict=True) if place]
        free = least_cost(recipe(used, targets), explain=False)
        if free.status != "optimal":
            continue
        where = {n: p for n, p in zip(names, places, strict=True) if p and free.amounts[n] > 1e-9}
        values = in_workbook(Solution("optimal", 0, free.amounts, where), stock)
        if all(kind(values[f"clear_{x}"]) in ("pass", "not used") for x in "ab"):
            best = min(best, free.cost)
    assert found.cost == pytest.approx(best)
