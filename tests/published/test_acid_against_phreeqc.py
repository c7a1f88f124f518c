"""FERT.ACIDNEED against titrations in PHREEQC 3.8 with phreeqc.dat.

Strong acid is added until the pH is reached, closed to air, as in a pipe. Waters are made up,
with the salts of wells and rivers; sodium balances the charges. The formula knows of a water's
salts only what its alkalinity tells, so waters with much chloride and sulfate have a test of
their own. Phosphoric acid is no strong acid, and no dose of it is tested as one: the last test
says how far counting it with one proton is off.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import pytest

from phreeqc_runs import FIXED_PH, phases, run
from tanksheet.definition import catalogue

ALKALINITY = catalogue()["ALKALINITY"].function
ACIDNEED = catalogue()["ACIDNEED"].function
DATABASE = "phreeqc.dat"
TARGETS = (5.5, 6.0, 6.5)
TEMPERATURES = (10, 20, 30)
TOLERANCE = 0.02
# Where most of the salts are not bicarbonates, the activities are further off, the most so for
# the small doses that only just lower the pH: never by more than this, and to the acid side.
SALTY_TOLERANCE = 0.05


@dataclass(frozen=True)
class Water:
    """A water as a laboratory reports it: mg/L, alkalinity as CaCO3."""

    alkalinity: float
    ph: float
    calcium: float
    magnesium: float
    chloride: float
    sulfate: float


WATERS = {
    "soft reservoir": Water(50, 7.0, 12, 3, 10, 8),
    "soft well": Water(100, 7.2, 30, 6, 15, 20),
    "river": Water(150, 8.2, 50, 12, 40, 45),
    "hard well": Water(250, 7.8, 80, 12, 20, 30),
    "soda well": Water(400, 8.5, 20, 8, 80, 60),
}
SALTY_WATERS = {
    "very hard well": Water(400, 7.4, 130, 30, 60, 90),
    "salty well": Water(300, 7.6, 120, 45, 250, 200),
}
# Acid as PHREEQC names it -> protons of a mole that count near pH 6.
STRONG_ACIDS = {"HCl": 1, "HNO3": 1, "H2SO4": 2}
CASES = list(itertools.product(TARGETS, TEMPERATURES))


def titrated(water: Water, target: float, celsius: float, acid: str) -> float:
    """mmol of acid that a litre of the water takes."""
    block = f"""SOLUTION 1
 temp {celsius}
 units mg/L
 density 1.0 calculate
 pH {water.ph}
 pe 12
 Ca {water.calcium}
 Mg {water.magnesium}
 Cl {water.chloride}
 S(6) {water.sulfate} as SO4
 Alkalinity {water.alkalinity} as Ca0.5(CO3)0.5
 Na 10 charge
"""
    taken = phases(f"Fix_H+ -{target} {acid} 10")
    wanted = {"acid": '-EQUI_DELTA("Fix_H+")*1000', "litres": "SOLN_VOL", "ph": '-LA("H+")'}
    before, after = run(DATABASE, FIXED_PH + block + taken, wanted)
    assert after["ph"] == pytest.approx(target, abs=1e-6)
    return after["acid"] / before["litres"]


def needed(water: Water, target: float, celsius: float) -> float:
    """The same by the project, meq/L."""
    return float(ACIDNEED(ALKALINITY(water.alkalinity), water.ph, target, celsius))


@pytest.mark.parametrize("acid", STRONG_ACIDS)
@pytest.mark.parametrize("target, celsius", CASES)
@pytest.mark.parametrize("name", WATERS)
def test_strong_acid(name: str, target: float, celsius: float, acid: str) -> None:
    water = WATERS[name]
    meq = STRONG_ACIDS[acid] * titrated(water, target, celsius, acid)
    assert needed(water, target, celsius) == pytest.approx(meq, rel=TOLERANCE)


@pytest.mark.parametrize("target, celsius", CASES)
@pytest.mark.parametrize("name", SALTY_WATERS)
def test_salty_waters_get_a_little_too_much(name: str, target: float, celsius: float) -> None:
    water = SALTY_WATERS[name]
    meq = titrated(water, target, celsius, "HCl")
    assert meq <= needed(water, target, celsius) <= meq * (1 + SALTY_TOLERANCE)


@pytest.mark.parametrize("name", WATERS)
def test_acid_for_the_whole_alkalinity_would_show(name: str) -> None:
    water = WATERS[name]
    for target in TARGETS:
        taken = titrated(water, target, 20, "HCl")
        assert ALKALINITY(water.alkalinity) != pytest.approx(taken, rel=TOLERANCE)


@pytest.mark.parametrize("name", WATERS)
def test_a_formula_blind_to_temperature_would_show(name: str) -> None:
    water = WATERS[name]
    assert needed(water, 6.0, 30) != pytest.approx(
        titrated(water, 6.0, 10, "HCl"), rel=2 * TOLERANCE
    )


@pytest.mark.parametrize("target, most", [(5.5, 1.06), (6.0, 1.15), (6.5, 1.3)])
@pytest.mark.parametrize("name", WATERS)
def test_one_proton_of_phosphoric_acid_is_too_few(name: str, target: float, most: float) -> None:
    water = WATERS[name]
    moles = titrated(water, target, 20, "H3PO4")
    assert moles <= needed(water, target, 20) <= most * moles
