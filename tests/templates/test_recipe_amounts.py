"""Amounts that the recipe workbook works out, beside scipy's non-negative least squares.

The other side is ``scipy.optimize.nnls`` (general-purpose, Lawson and Hanson's method), fed from the
data table of products by this file's own arithmetic: mg/L = g of product in a litre of feed times
percent of the element times 10, alkalinity in mmol/L from the ions of a product.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from scipy.optimize import nnls

from tanksheet.sheets.evaluate import chosen_values
from tanksheet.tables import look_up, rows
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS

PLAN = book("recipe")
ELEMENTS = tuple(TARGETS)
WATER = {"N": "n", "K": "k", "Ca": "ca", "Mg": "mg", "S": "s", "Na": "na", "Cl": "cl"}
PRODUCTS = tuple(str(row["product"]) for row in rows("fertilizers"))
ACIDS = tuple(str(row["product"]) for row in rows("fertilizers") if row["kind"] == "acid")
TOMATO = (195, 40, 250, 170, 45, 60, 2, 0.55, 0.25, 0.05, 0.3, 0.05, 30, 40, 20)
MEQ = 50.0435  # mg/L as CaCO3 in a meq/L: half of 100.087 g/mol
FEED = 100 * 100.0  # litres of feed from a tank of 100 L at 1:100
CASES = 1000
KEYS = (
    *(f"{name}[{k}]" for name in ("worked_amounts", "fixed_amounts") for k in range(12)),
    *(f"{name}[{i}]" for name in ("why", "states") for i in range(len(ELEMENTS))),
    "why_alkalinity",
)


def contents(product: str) -> list[float]:
    """mg/L of each element, and meq/L of alkalinity, from 1 g in a litre of feed."""

    def of(column: str) -> float:
        return float(look_up("fertilizers", column, product))

    nitrogen = sum(of(f"n_{form}") for form in ("nitrate", "ammonium", "urea", "other"))
    rest = [10 * of(element.lower()) for element in ELEMENTS[1:]]
    ions = of("bicarbonate") - of("hydrogen")
    return [10 * nitrogen, *rest, 1000 * ions / of("molar_mass")]


@dataclass
class Case:
    """A recipe: its entries, and what nnls is asked."""

    products: list[str]
    targets: list[float | None]
    water: list[float]
    fixed: list[float | None]

    @property
    def entries(self) -> dict[str, Any]:
        blank = [None] * (12 - len(self.products))
        water = {f"water_{short}": self.water[ELEMENTS.index(e)] for e, short in WATER.items()}
        return {
            "products": [*self.products, *blank],
            "amounts": [*self.fixed, *blank],
            "amount_units": ["g"] * 12,
            "targets": self.targets[:-1],
            "target_alkalinity": None if self.targets[-1] is None else self.targets[-1] * MEQ,
            "water_alkalinity": self.water[-1] * MEQ,
            **water,
        }

    @property
    def asked(self) -> np.ndarray:
        return np.array([target is not None for target in self.targets])

    @property
    def brought(self) -> np.ndarray:
        """Rows of targets, columns of products: share of the target from 1 g in a litre."""
        goal = np.array([target or 1.0 for target in self.targets])
        return np.array([contents(each) for each in self.products]).T / goal[:, None]

    @property
    def free(self) -> np.ndarray:
        return np.array([amount is None for amount in self.fixed])

    def left(self) -> np.ndarray:
        """What water and fixed products leave of each target, as a share of it."""
        goal = np.array([target or 1.0 for target in self.targets])
        fixed = np.array([amount or 0.0 for amount in self.fixed]) / FEED
        return 1 - np.array(self.water) / goal - self.brought @ fixed

    def system(self, without: int | None = None) -> tuple[np.ndarray, np.ndarray]:
        rows = self.asked.copy()
        if without is not None:
            rows[without] = False
        return self.brought[rows][:, self.free], self.left()[rows]

    def misses(self, grams: list[float]) -> np.ndarray:
        """Of every row, asked for or not."""
        return self.left() - self.brought[:, self.free] @ (np.array(grams)[self.free] / FEED)


def random_case(draw: random.Random) -> Case:
    products = draw.sample(PRODUCTS, draw.randint(6, 12))
    if draw.random() < 0.5:
        products[draw.randrange(len(products))] = draw.choice(ACIDS)
    products = list(dict.fromkeys(products))
    targets: list[float | None] = [
        round(each * draw.uniform(0.5, 1.6), 3) if draw.random() < 0.75 else None for each in TOMATO
    ]
    targets.append(round(draw.uniform(0.2, 1.5), 3) if draw.random() < 0.75 else None)
    water = [0.0] * 16
    for element, usual in {"N": 2, "K": 2, "Ca": 20, "Mg": 5, "S": 5, "Na": 12, "Cl": 15}.items():
        water[ELEMENTS.index(element)] = round(usual * draw.uniform(0, 2), 3)
    water[-1] = round(draw.uniform(0, 2.4), 3)
    fixed = [
        round(10 ** draw.uniform(1, 3.7), 1) if draw.random() < 0.1 else None for _ in products
    ]
    return Case(products, targets, water, fixed)


@pytest.fixture(scope="module")
def worked() -> list[tuple[Case, dict[str, Any]]]:
    draw = random.Random(20)
    cases = [random_case(draw) for _ in range(CASES)]
    return [(case, chosen_values(PLAN, case.entries, KEYS)) for case in cases]


def grams_of(values: dict[str, Any], count: int) -> list[float]:
    return [float(values[f"worked_amounts[{k}]"]) for k in range(count)]


def test_random_recipes_come_as_near_as_least_squares(
    worked: list[tuple[Case, dict[str, Any]]],
) -> None:
    """The norm of all misses, each a share of its target, is within 0.003 of the least."""
    gaps = []
    for case, values in worked:
        matrix, goal = case.system()
        if not matrix.size:
            continue
        least = nnls(matrix, goal)[1]
        grams = grams_of(values, len(case.products))
        assert min(grams) >= 0
        gaps.append(float(np.linalg.norm(case.misses(grams)[case.asked])) - least)
    assert len(gaps) > 0.95 * CASES
    assert min(gaps) > -1e-9
    assert max(gaps) < 0.003, sorted(gaps)[-5:]
    assert sum(gap > 1e-6 for gap in gaps) < 0.06 * CASES


def place_of(name: str) -> int:
    return len(ELEMENTS) if name in ("acid", "alkalinity") else ELEMENTS.index(name)


def has(case: Case, product: int, name: str) -> bool:
    content = contents(case.products[product])[place_of(name)]
    return content < 0 if name == "acid" else content > 0


def checked(case: Case, grams: list[float], name: str, why: str) -> str:
    """Whether what is said of a missed target is true; gives the kind of reason."""
    misses, place = case.misses(grams), place_of(name)
    if why == "rounding to the scale moves it":
        assert abs(misses[place]) <= 0.1 + 1e-6
        return "rounding"
    assert abs(misses[place]) > 0.1 - 1e-6
    if why.startswith("held by the fixed amount of "):
        held = case.products.index(why.removeprefix("held by the fixed amount of "))
        assert case.fixed[held] is not None
        if name != "alkalinity":
            assert has(case, held, name)
        return "held"
    if why == "the water alone brings it":
        assert case.water[place] >= (case.targets[place] or 0)
        return "water"
    if " without " in why:
        short, over = why.removeprefix("no product brings ").split(" without ")
        assert name == short or (name, short) == ("alkalinity", "acid")
        free = [
            k for k in range(len(case.products)) if case.fixed[k] is None and has(case, k, short)
        ]
        assert free and all(has(case, k, over) for k in free), why
        return "without" if _mends_without(case, misses, place_of(over)) else "also without"
    if why.startswith("no product"):
        wanted = (
            "acid" if why == "no product is an acid" else why.removeprefix("no product brings ")
        )
        assert not any(has(case, k, wanted) for k in range(len(case.products))), why
        return "none"
    assert "miss" in why and "other targets" in why
    assert any(has(case, k, name) or has(case, k, "acid") for k in np.flatnonzero(case.free))
    return "others"


def _mends_without(case: Case, misses: np.ndarray, other: int) -> bool:
    """Whether those that are left would be missed by less were the other target not asked for."""
    kept = case.asked.copy()
    kept[other] = False
    matrix, goal = case.system(without=other)
    return bool(nnls(matrix, goal)[1] < np.linalg.norm(misses[kept]) - 1e-7)


def test_what_is_said_of_a_missed_target_is_true(
    worked: list[tuple[Case, dict[str, Any]]],
) -> None:
    """ "no product brings K without N": all that bring K bring N; and but for one in fifty, where
    more is in the way, all others come nearer if N is not asked for, by nnls. "no product brings
    Mg": none of them has any."""
    kinds: dict[str, int] = {}
    for case, values in worked:
        grams = grams_of(values, len(case.products))
        misses = case.misses(grams)
        said = {e: str(values[f"why[{i}]"]) for i, e in enumerate(ELEMENTS)}
        said["alkalinity"] = str(values["why_alkalinity"])
        for name, why in said.items():
            if case.targets[place_of(name)] is None:
                assert why == ""
                continue
            if abs(abs(misses[place_of(name)]) - 0.1) > 1e-6:
                kind = checked(case, grams, name, why)
                kinds[kind] = kinds.get(kind, 0) + 1
    for kind in ("rounding", "held", "water", "without", "none", "others"):
        assert kinds.get(kind, 0) >= 20, kinds
    assert kinds.get("also without", 0) <= kinds["without"] / 50, kinds
