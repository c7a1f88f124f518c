"""Where only one recipe meets the targets, the sheet's own amounts and the cheapest are that one.

The other side is the recipe that the targets were made from, and HiGHS through ``least_cost``.
"""

from __future__ import annotations

import random

import numpy as np
import pytest

from tanksheet.recipes import Recipe, Target, least_cost, listed
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.templates import book
from test_recipe import SOLUTIONS
from test_recipe_amounts import (
    ELEMENTS,
    FEED,
    KEYS,
    PRODUCTS,
    Case,
    contents,
    grams_of,
    published,
)

PLAN = book("recipe")
DRAWN = 150
MOST_ALIKE = 30.0  # ratio of the largest to the smallest singular value: above, many recipes nearly


def cheapest(case: Case, draw: random.Random) -> dict[str, float]:
    """Grams by product, each at a price that is drawn."""
    products = tuple(listed(name, draw.uniform(5, 50), 25) for name in case.products)
    targets = tuple(
        Target.exactly(name, value)
        for name, value in zip(ELEMENTS, case.targets, strict=False)
        if value is not None
    )
    found = least_cost(Recipe(products, targets, litres=FEED))
    assert found.status == "optimal"
    return dict(found.amounts)


def agree(case: Case, grams: list[float], draw: random.Random) -> None:
    count = len(case.products)
    live = grams_of(chosen_values(PLAN, case.entries, KEYS), count)
    solved = cheapest(case, draw)
    assert live == pytest.approx(grams, rel=1e-3), case.products
    assert [solved[name] for name in case.products] == pytest.approx(grams, rel=1e-6)


@pytest.mark.parametrize("title", SOLUTIONS)
def test_a_published_solution_whatever_it_costs(title: str) -> None:
    agree(*published(SOLUTIONS[title][0]), random.Random(title))


def test_drawn_recipes_from_their_elements() -> None:
    draw, seen = random.Random(9), 0
    while seen < DRAWN:
        names = draw.sample(PRODUCTS, draw.randint(3, 7))
        brings = np.array([contents(each)[:-1] for each in names]).T
        doses = np.array([draw.uniform(0.05, 1.0) for _ in names])
        goal = brings @ doses
        asked = goal > 0
        shares = brings[asked] / goal[asked][:, None]
        if asked.sum() < len(names) or np.linalg.cond(shares) > MOST_ALIKE:
            continue
        targets = [float(value) if value > 0 else None for value in goal]
        case = Case(names, [*targets, None], [0.0] * 16, [None] * len(names))
        agree(case, [float(dose) * FEED for dose in doses], draw)
        seen += 1
