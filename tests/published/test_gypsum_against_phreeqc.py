"""FERT.GYPSUM and FERT.GYPSUMINDEX against speciation in PHREEQC 3.8 at 25 degrees C.

phreeqc.dat, or Amm.dat when there is ammonium (the same database with ammonium kept apart from
nitrate, since phreeqc.dat lets the two react), and sit.dat, whose activities are meant for such
concentrates. The two databases differ by up to 15 % between themselves near saturation and by
10 % beyond.
"""

from __future__ import annotations

import functools
import itertools
import math

import pytest

from phreeqc_runs import phases, run, solution
from recipes import ANIONS, FEEDS, SINGLES, Ions, strength, times, total
from tanksheet.definition import catalogue

GYPSUM = catalogue()["GYPSUM"].function
GYPSUMINDEX = catalogue()["GYPSUMINDEX"].function
# g/mol, periodictable 2.1.0.
MASS = 172.164
# Above this much settling the amount is asked for within the tolerance. With less, next to
# saturation, it is a small difference of large amounts, and only its size is asked for.
MUCH = 2.0
TOLERANCE = 0.15
NEAR_SATURATION = 0.5
# The index leaves ion pairs out, so it reads high: by up to this near saturation, by more in
# strong concentrates, where it is far above 0 anyhow.
INDEX_TOLERANCE = 0.5
CALCIUM_NITRATE: Ions = {"calcium": 4, "nitrate": 8}
# Amounts at feed strength, mmol/L.
MIXTURES: dict[str, Ions] = FEEDS | {
    "magnesium sulfate 5:2": {"calcium": 5, "magnesium": 2, "nitrate": 10, "sulfate": 2},
    "magnesium sulfate 4:2": {**CALCIUM_NITRATE, "magnesium": 2, "sulfate": 2},
    "magnesium sulfate 2:2": {"calcium": 2, "magnesium": 2, "nitrate": 4, "sulfate": 2},
    "magnesium sulfate 1:3": {"calcium": 1, "magnesium": 3, "nitrate": 2, "sulfate": 3},
    "potassium sulfate 5:2": {"calcium": 5, "potassium": 4, "nitrate": 10, "sulfate": 2},
    "potassium sulfate 3:3": {"calcium": 3, "potassium": 6, "nitrate": 6, "sulfate": 3},
    "ammonium sulfate 4:1": {**CALCIUM_NITRATE, "ammonium": 2, "sulfate": 1},
    "ammonium sulfate 3:3": {"calcium": 3, "ammonium": 6, "nitrate": 6, "sulfate": 3},
    "sodium sulfate 3:1.5": {"calcium": 3, "sodium": 3, "nitrate": 6, "sulfate": 1.5},
    "with potassium nitrate": {
        "calcium": 4,
        "magnesium": 1.5,
        "potassium": 5,
        "nitrate": 13,
        "sulfate": 1.5,
    },
    "calcium chloride": {"calcium": 3, "magnesium": 2, "chloride": 6, "sulfate": 2},
}
FACTORS = [10, 20, 50, 100, 200]
DATABASES = ["phreeqc.dat", "sit.dat"]
CASES = list(itertools.product(MIXTURES, FACTORS, DATABASES))
by_case = pytest.mark.parametrize("mixture, factor, database", CASES)


def water_in_a_litre(ions: Ions) -> float:
    """kg of water in a litre, from the volumes of phreeqc.dat; sit.dat has none."""
    block = solution(ions, ph="6 charge")
    return 1 / run("phreeqc.dat", block, {"litres": "SOLN_VOL"})[0]["litres"]


@functools.cache
def by_phreeqc(mixture: str, factor: float, database: str) -> tuple[float, float]:
    """Saturation index of the mixture, and g/L of gypsum that settle from it."""
    ions = times(MIXTURES[mixture], factor)
    water = water_in_a_litre(ions)
    block = solution(times(ions, 1 / water), ph="6 charge", units="mmol/kgw")
    if database == "phreeqc.dat" and "ammonium" in ions:
        database, block = "Amm.dat", block.replace("N(-3)", "Amm")
    wanted = {
        "index": 'SI("Gypsum")',
        "settled": 'EQUI("Gypsum")*1000',
        "nitrate": 'TOT("N(5)")*TOT("water")',
    }
    before, after = run(database, block + phases("Gypsum 0 0"), wanted)
    # Nitrate that had turned into something else would make the comparison worthless.
    assert after["nitrate"] == pytest.approx(before["nitrate"], rel=1e-3)
    return before["index"], after["settled"] * water * MASS / 1000


def settled(ions: Ions) -> float:
    """The project's amount, g/L."""
    calcium, magnesium, sulfate = (ions.get(x, 0) for x in ("calcium", "magnesium", "sulfate"))
    return float(GYPSUM(calcium, magnesium, total(ions, SINGLES), sulfate, total(ions, ANIONS)))


def index(ions: Ions) -> float:
    return float(GYPSUMINDEX(ions["calcium"], ions["sulfate"], strength(ions)))


def without_activities(ions: Ions) -> float:
    """What the bare solubility product would let settle, g/L."""
    calcium, sulfate, product = ions["calcium"], ions["sulfate"], 10**-4.58 * 1e6
    excess = calcium - sulfate
    left = (math.sqrt(excess**2 + 4 * product) - excess) / 2
    return (sulfate - left) * MASS / 1000


@by_case
def test_amount(mixture: str, factor: float, database: str) -> None:
    expected = by_phreeqc(mixture, factor, database)[1]
    tolerance = TOLERANCE * expected if expected > MUCH else NEAR_SATURATION
    assert settled(times(MIXTURES[mixture], factor)) == pytest.approx(expected, abs=tolerance)


def test_most_mixtures_settle_enough_for_the_tolerance() -> None:
    much = [case for case in CASES if by_phreeqc(*case)[1] > MUCH]
    assert len(much) > 0.75 * len(CASES)


@pytest.mark.parametrize("factor", [1, 2, *FACTORS])
@pytest.mark.parametrize("mixture", MIXTURES)
def test_index(mixture: str, factor: float) -> None:
    found = index(times(MIXTURES[mixture], factor))
    for database in DATABASES:
        expected = by_phreeqc(mixture, factor, database)[0]
        assert found >= expected
        assert found <= expected + INDEX_TOLERANCE or expected > INDEX_TOLERANCE
        assert found * expected > 0 or abs(expected) < INDEX_TOLERANCE


@pytest.mark.parametrize("mixture", FEEDS)
def test_no_gypsum_in_a_finished_feed(mixture: str) -> None:
    assert settled(FEEDS[mixture]) == 0
    assert all(by_phreeqc(mixture, 1, database)[1] == 0 for database in DATABASES)


def test_what_pure_water_keeps() -> None:
    # Handbooks: 2.59 g in 1 kg of water at 25 degrees C, 15.0 mmol/L.
    kept = 30 - settled({"calcium": 30, "sulfate": 30}) * 1000 / MASS
    assert kept == pytest.approx(15.0, rel=0.1)


@pytest.mark.parametrize("mixture", MIXTURES)
def test_a_formula_without_activities_would_show(mixture: str) -> None:
    differences = []
    for factor in FACTORS:
        expected = by_phreeqc(mixture, factor, "sit.dat")[1]
        if expected > MUCH:
            found = without_activities(times(MIXTURES[mixture], factor))
            differences.append(abs(found - expected) / expected)
    assert max(differences) > TOLERANCE
