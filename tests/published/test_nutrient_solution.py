"""Two complete nutrient solutions, from weighed salts to the mg/L that were published.

Hoagland and Arnon 1950, California Agricultural Experiment Station Circular 347. Recipes: a
laboratory's restatement of the circular, scribd.com/document/343249760 (solution 2 and the
micronutrients); solution 1 from memory, borne out by its published mg/L. Published mg/L: the
encyclopaedia article "Hoagland solution" (copies at a.osmarks.net and profilpelajar.com).
Contents of the salts come from periodictable's atomic weights.
"""

from __future__ import annotations

from collections import defaultdict

import periodictable
import pytest

from tanksheet.definition import catalogue

STOCKMASS = catalogue()["STOCKMASS"].function
DELIVERED = catalogue()["DELIVERED"].function

# mL of a 1 mol/L stock in a litre, hence mmol/L.
SOLUTION_1 = {"KH2PO4": 1, "KNO3": 5, "CaN2O6(H2O)4": 5, "MgSO4(H2O)7": 2}
SOLUTION_2 = {"NH4H2PO4": 1, "KNO3": 6, "CaN2O6(H2O)4": 4, "MgSO4(H2O)7": 2}
# g/L of the micronutrient stock, of which 1 mL goes into a litre.
MICRONUTRIENTS = {
    "H3BO3": 2.86,
    "MnCl2(H2O)4": 1.81,
    "ZnSO4(H2O)7": 0.22,
    "CuSO4(H2O)5": 0.08,
    "H2MoO4(H2O)": 0.02,
}

# Both solutions hold the same mmol/L of all but calcium; the article states calcium for each.
PUBLISHED_1 = {"N": 210, "P": 31, "K": 235, "Ca": 200, "Mg": 48.6, "S": 64}
PUBLISHED_2 = PUBLISHED_1 | {"Ca": 160}
PUBLISHED_MICRONUTRIENTS = {"B": 0.5, "Mn": 0.5, "Zn": 0.05, "Cu": 0.02, "Mo": 0.011, "Cl": 0.65}
# Published to two or three digits.
TOLERANCE = 0.003
# Salts weighed to one or two digits: 0.02 g, 0.08 g.
MICRONUTRIENT_TOLERANCE = 0.05

PLANT_FOOD = {"N", "P", "K", "Ca", "Mg", "S", "B", "Mn", "Zn", "Cu", "Mo", "Cl"}


def contents(salt: str) -> dict[str, float]:
    """Percent by mass of each nutrient in a salt."""
    shares = periodictable.formula(salt).mass_fraction
    return {str(atom): 100 * share for atom, share in shares.items() if str(atom) in PLANT_FOOD}


def weighed(recipe: dict[str, int]) -> dict[str, float]:
    """Grams of each salt in one litre of finished solution."""
    return {salt: mmol / 1000 * periodictable.formula(salt).mass for salt, mmol in recipe.items()}


def feed(masses: dict[str, float], ratio: float) -> dict[str, float]:
    """mg/L of each nutrient when the salts are in one litre of stock, injected at 1:ratio."""
    totals: defaultdict[str, float] = defaultdict(float)
    for salt, mass in masses.items():
        for nutrient, percent in contents(salt).items():
            totals[nutrient] += DELIVERED(mass, percent, ratio, 1)
    return dict(totals)


@pytest.mark.parametrize(
    "recipe, published", [(SOLUTION_1, PUBLISHED_1), (SOLUTION_2, PUBLISHED_2)], ids=["1", "2"]
)
def test_salts_deliver_the_published_solution(
    recipe: dict[str, int], published: dict[str, float]
) -> None:
    assert feed(weighed(recipe), 1) == pytest.approx(published, rel=TOLERANCE)


@pytest.mark.parametrize("ratio", [100, 200])
def test_a_concentrate_delivers_the_same_solution(ratio: int) -> None:
    concentrate = {salt: mass * ratio for salt, mass in weighed(SOLUTION_1).items()}
    assert feed(concentrate, ratio) == pytest.approx(PUBLISHED_1, rel=TOLERANCE)


def test_micronutrient_stock_delivers_the_published_traces() -> None:
    traces = feed(MICRONUTRIENTS, 1000)
    found = {nutrient: traces[nutrient] for nutrient in PUBLISHED_MICRONUTRIENTS}
    assert found == pytest.approx(PUBLISHED_MICRONUTRIENTS, rel=MICRONUTRIENT_TOLERANCE)


# Nutrients that one salt of the solution brings alone, so that its mass follows from them.
@pytest.mark.parametrize(
    "recipe, published, nutrient, salt",
    [
        (SOLUTION_1, PUBLISHED_1, "Ca", "CaN2O6(H2O)4"),
        (SOLUTION_1, PUBLISHED_1, "Mg", "MgSO4(H2O)7"),
        (SOLUTION_1, PUBLISHED_1, "P", "KH2PO4"),
        (SOLUTION_2, PUBLISHED_2, "Ca", "CaN2O6(H2O)4"),
        (SOLUTION_2, PUBLISHED_2, "K", "KNO3"),
        (SOLUTION_2, PUBLISHED_2, "P", "NH4H2PO4"),
    ],
)
def test_published_solution_asks_for_the_recipe(
    recipe: dict[str, int], published: dict[str, float], nutrient: str, salt: str
) -> None:
    mass = STOCKMASS(published[nutrient], contents(salt)[nutrient], 1, 1)
    assert mass == pytest.approx(weighed(recipe)[salt], rel=TOLERANCE)


@pytest.mark.parametrize("nutrient", PUBLISHED_1)
def test_a_missing_salt_shows(nutrient: str) -> None:
    for salt in SOLUTION_1:
        if nutrient in contents(salt):
            rest = {other: mass for other, mass in weighed(SOLUTION_1).items() if other != salt}
            assert feed(rest, 1).get(nutrient, 0) != pytest.approx(
                PUBLISHED_1[nutrient], rel=TOLERANCE
            )
