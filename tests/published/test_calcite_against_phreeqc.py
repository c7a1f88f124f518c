"""FERT.CALCITEINDEX against the saturation index of PHREEQC 3.8 with phreeqc.dat.

Waters by lot (``random_feeds``): alkalinity 0.2 to 10 meq/L, pH 6.3 to 8.4, 5 to 35 degrees C.
"""

from __future__ import annotations

import functools
import random

import pytest

from phreeqc_runs import run
from random_feeds import CHARGES, DATABASE, Water, block, random_water
from tanksheet.definition import catalogue

CALCITEINDEX = catalogue()["CALCITEINDEX"].function
COUNT, TOLERANCE = 300, 0.1


def by_phreeqc(water: Water) -> float:
    return run(DATABASE, water.block, {"index": 'SI("Calcite")'})[0]["index"]


def strength(water: Water) -> float:
    """Ionic strength of the ions without pairs, mmol/L."""
    ions = sum(CHARGES[ion] ** 2 * abs(amount) for ion, amount in water.ions.items())
    return (ions + water.alkalinity) / 2


def by_project(water: Water, celsius: float | None = None) -> float:
    warmth = water.celsius if celsius is None else celsius
    ions = (water.ions["calcium"], water.alkalinity, water.ph)
    return float(CALCITEINDEX(*ions, warmth, strength(water)))


@functools.cache
def waters() -> list[Water]:
    lot = random.Random(22)
    return [random_water(lot) for _ in range(COUNT)]


def test_the_database_has_calcite() -> None:
    words = {"calcium": 2, "chloride": 2, "sodium": 2, "Alkalinity": 4}
    (found,) = run(DATABASE, block(25, "8", words), {"n": 'SI("Calcite")'})
    assert 0.3 < found["n"] < 1.2


def test_waters() -> None:
    for water in waters():
        assert by_project(water) == pytest.approx(by_phreeqc(water), abs=TOLERANCE), water


def test_the_waters_differ_and_temperature_counts() -> None:
    found = [by_phreeqc(water) for water in waters()]
    assert min(found) < -2 and max(found) > 0.8
    blind = [by_project(water, 25) - by_phreeqc(water) for water in waters()]
    assert max(map(abs, blind)) > 2 * TOLERANCE


def test_a_hard_warm_water() -> None:
    """Ca 8 and HCO3 8 meq/L at pH 7.5 and 35 degrees C: PHREEQC 3.8 gives +0.99."""
    assert CALCITEINDEX(4, 8, 7.5, 35, 14) == pytest.approx(0.99, abs=0.03)


def test_a_soft_water_at_high_ph() -> None:
    """Calcium and alkalinity of 0.5 meq/L at pH 8.3 do not make lime."""
    ions = {"calcium": 0.25, "magnesium": 0.05, "sodium": 0.2, "chloride": 0.3, "sulfate": 0.0}
    water = Water(0.5, 8.3, 20, ions)
    assert by_phreeqc(water) < -0.3
    assert by_project(water) == pytest.approx(by_phreeqc(water), abs=0.03)
