"""Amounts that the recipe workbook works out, beside scipy's non-negative least squares.

The other side is ``scipy.optimize.nnls`` (general-purpose; Lawson and Hanson), fed from the
data table of products by this file's own arithmetic: mg/L = g of product in a litre of feed times
percent of the element times 10, alkalinity in mmol/L from the ions of a product.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import nnls

from tanksheet.recalc import ENGINES, engine
from tanksheet.sheets.choices import EDITIONS
from tanksheet.sheets.evaluate import chosen_values, entry_cells, evaluate
from tanksheet.sheets.verify import moved_cells
from tanksheet.tables import look_up, rows
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS
from tanksheet.xlsx.reading import named_cells
from test_recipe import SALTS, SOLUTIONS

PLAN = book("recipe")
ELEMENTS = tuple(TARGETS)
WATER = {"N": "n", "K": "k", "Ca": "ca", "Mg": "mg", "S": "s", "Na": "na", "Cl": "cl"}
PRODUCTS = tuple(str(row["product"]) for row in rows("fertilizers"))
ACIDS = tuple(str(row["product"]) for row in rows("fertilizers") if row["kind"] == "acid")
TOMATO = (195, 40, 250, 170, 45, 60, 2, 0.55, 0.25, 0.05, 0.3, 0.05, 30, 40, 20)
MEQ = 50.0435  # mg/L as CaCO3 in a meq/L: half of 100.087 g/mol
OUNCE = 28.349523  # g, NIST SP 811
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
    if why.endswith(" is fixed"):
        held = case.products.index(why.removesuffix(" is fixed"))
        assert case.fixed[held] is not None
        if name != "alkalinity":
            assert has(case, held, name)
        return "held"
    if why == "the water alone brings it":
        assert case.water[place] >= (case.targets[place] or 0)
        return "water"
    if " without " in why or " comes only with " in why:
        parted = " without " if " without " in why else " comes only with "
        short, over = why.removeprefix("no product brings ").split(parted)
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
    assert "would miss others by more" in why
    free = [int(k) for k in np.flatnonzero(case.free)]
    assert any(has(case, k, name) or has(case, k, "acid") for k in free)
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


# recipes whose amounts are known


def published(salts: dict[str, float]) -> tuple[Case, list[float]]:
    """A published solution from its elements back to its salts: the recipe, and g for one tank."""
    names = [SALTS[salt] for salt in salts]
    doses = [
        mmol / 1000 * float(look_up("fertilizers", "molar_mass", name))
        for mmol, name in zip(salts.values(), names, strict=True)
    ]
    elements = np.array([contents(each) for each in names]).T @ np.array(doses)
    targets = [float(each) if each > 0 else None for each in elements[:-1]]
    return Case(names, [*targets, None], [0.0] * 16, [None] * len(names)), [
        dose * FEED for dose in doses
    ]


@pytest.mark.parametrize("title", SOLUTIONS)
def test_a_published_solution_gives_its_salts_back(title: str) -> None:
    """From the elements of a solution to the mmol of each salt as its source has them, within a
    millionth (sources in test_recipe.py); and within a millionth of nnls."""
    case, grams = published(SOLUTIONS[title][0])
    values = chosen_values(PLAN, case.entries, KEYS)
    assert grams_of(values, len(grams)) == pytest.approx(grams, rel=1e-6)
    least = nnls(*case.system())[1]
    misses = case.misses(grams_of(values, len(grams)))[case.asked]
    assert np.linalg.norm(misses) == pytest.approx(least, abs=1e-6)


LITRES = {
    f"tank_{tank}{end}": value for tank in "abc" for end, value in (("", 100.0), ("_unit", "L"))
}


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", ENGINES)
def test_amounts_in_every_engine(name: str, edition: str, workbook: Any) -> None:
    """Published solutions within a millionth of nnls, random recipes with acids and fixed amounts
    within 0.003 of it; what is weighed is the amount to the step of the edition's scales."""
    plan, path, draw = book("recipe", edition), Path(workbook("recipe", edition)), random.Random(7)
    moved, named = moved_cells(path, plan), named_cells(path)
    cases = [(published(salts)[0], 1e-6) for salts, *_ in SOLUTIONS.values()]
    few = 2 if name in ("formulas", "gnumeric") else 6
    cases += [(random_case(draw), 0.003) for _ in range(few)] if edition == "metric" else []
    step, small = (10, 0.1) if edition == "metric" else (0.1 * OUNCE, 0.1 * OUNCE)
    with engine(name).open(path) as session:
        for case, near in cases:
            entries = entry_cells(plan, case.entries | LITRES)
            inputs = {moved[cell]: value for cell, value in entries.items()}
            wanted = [*named["worked_amounts"], *named["used_amounts"]]
            values = session.calculate(inputs, wanted)
            grams, used = (
                [float(str(values[cell])) for cell in named[key]]
                for key in ("worked_amounts", "used_amounts")
            )
            misses = case.misses(grams[: len(case.products)])[case.asked]
            assert np.linalg.norm(misses) == pytest.approx(nnls(*case.system())[1], abs=near)
            for k in np.flatnonzero(case.free):
                off = small if grams[k] < 1000 else step
                assert used[k] == pytest.approx(grams[k], abs=off / 2 + 1e-6), (k, case.products)


# what a person types, and the scale


def test_a_typed_amount_stays_and_the_others_adjust() -> None:
    """3 kg of potassium nitrate are fixed: the rest is what nnls gives for what they leave."""
    case, grams = published(SOLUTIONS["Hoagland and Arnon, solution 1"][0])
    place = case.products.index("potassium nitrate")
    assert grams[place] == pytest.approx(5055, abs=1)  # 5 mmol/L of 101.1 g/mol in 10 000 L
    case.fixed[place] = 3000.0
    values = evaluate(PLAN, case.entries)
    assert values[f"used_amounts[{place}]"] == 3000
    worked = grams_of(values, len(grams))
    free = [amount for k, amount in enumerate(worked) if k != place]
    expected = nnls(*case.system())[0] * FEED
    assert free == pytest.approx(list(expected), rel=1e-6)
    assert worked[place] == 0
    # Nothing else brings nitrate but calcium nitrate, of which there is more now.
    assert worked[case.products.index("calcium nitrate tetrahydrate")] > 1.01 * grams[2]
    case.fixed[place] = 0.0
    assert evaluate(PLAN, case.entries)[f"used_amounts[{place}]"] == 0


def test_a_product_that_no_target_asks_for_is_left_out() -> None:
    case, _ = published(SOLUTIONS["Hoagland and Arnon, solution 1"][0])
    case.targets = [None] * 16
    values = evaluate(PLAN, case.entries)
    assert grams_of(values, 4) == [0, 0, 0, 0]
    assert values["targets_check"] == "not used: no target is given"


SALT: dict[str, Any] = {
    "products": ["potassium nitrate", *[None] * 11],
    "targets": [None, None, 100, *[None] * 12],
}


@pytest.mark.parametrize(
    ("scales", "used", "said"),
    [
        # 90 mg/L of K in 10 000 L (10 are in the water) of 39.0983/101.103 K: 2327.3 g.
        ({}, 2330, "2.33 kg"),
        ({"scale_step": 50, "scale_step_unit": "g"}, 2350, "2.35 kg"),
        ({"small_up_to": 3, "small_up_to_unit": "kg"}, 2327.3, "2327.3 g"),
        # In ounces 82.09: 82.1 oz are 2327.5 g and 5 lb 2.1 oz.
        ({"scale": "lb and oz", "scale_step": 0.1, "scale_step_unit": "oz"}, 2327.5, "5 lb 2.1 oz"),
        # 5.1308 lb: 5.13 lb are 2326.9 g.
        ({"scale": "lb", "scale_step": 0.01, "scale_step_unit": "lb"}, 2326.9, "5.13 lb"),
    ],
)
def test_amounts_are_rounded_to_the_scale(scales: dict[str, Any], used: float, said: str) -> None:
    """By hand; NIST SP 811: 1 oz is 28.349523 g, 1 lb 453.59237 g."""
    values = evaluate(PLAN, SALT | {"water_k": 10.0} | scales)
    assert values["worked_amounts[0]"] == pytest.approx(2327.3, abs=0.1)
    assert values["used_amounts[0]"] == pytest.approx(used, abs=0.06)
    assert values["weights[0]"] == said
    arrives = 10 + float(str(values["used_amounts[0]"])) * 0.3867 / 10
    assert values["together[2]"] == pytest.approx(arrives, rel=1e-3)  # what arrives follows


def test_a_liquid_is_poured_to_the_mark_of_a_jug() -> None:
    acid: dict[str, Any] = {"products": ["nitric acid 60 %", *[None] * 11], "targets": [None] * 15}
    values = evaluate(PLAN, acid | {"target_alkalinity": 30.0})
    # 0.5996 meq/L (30 of 60 mg/L as CaCO3) in 10 000 L, of 13.017 eq/L: 460.6 mL.
    density = float(look_up("fertilizers", "density_kgL", "nitric acid 60 %"))
    assert float(str(values["worked_amounts[0]"])) / density == pytest.approx(460.6, abs=0.2)
    assert float(str(values["used_amounts[0]"])) / density == pytest.approx(461, abs=1e-6)
    assert values["weights[0]"] == "461 mL"
    us = evaluate(book("recipe", "us"), acid | {"tank_a": 100.0, "tank_a_unit": "L"})
    assert str(us["weights[0]"]).endswith(" fl oz")  # 461 mL are 15.6 fl oz


def test_too_little_for_the_scale_is_a_caution() -> None:
    """0.05 mg/L of Mo in 10 000 L is 1.26 g of sodium molybdate (39.66 % Mo): 1.3 g by 0.1 g is
    3.1 % more, 1.26 g by 0.01 g is not."""
    targets = [*list(TARGETS.values())[:11], 0.05, None, None, None]
    coarse = evaluate(PLAN, {"targets": targets})
    assert str(coarse["weighed"]).startswith(
        "caution: rounding to the scale moves Mo by 3 %; too little for this scale: make 10 times"
    )
    fine = evaluate(PLAN, {"targets": targets, "small_step": 0.01})
    assert str(fine["weighed"]).startswith("pass")
    lost = evaluate(PLAN, {"targets": targets, "small_step": 5.0})
    assert str(lost["weighed"]).startswith("caution") and lost["used_amounts[10]"] == 0
    assert str(lost["met[11]"]) == "stop: 100 % under; rounding to the scale moves it"


def test_the_example_passes_with_nothing_left_unchecked() -> None:
    for edition in ("metric", "us"):
        values = evaluate(book("recipe", edition), {})
        assert values["headline"] == "pass: all is well"
        assert values["advice"] == "Nothing was left unchecked."
