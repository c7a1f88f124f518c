"""FERT.HEADLOSS against Darcy-Weisbach for a smooth pipe, from the fluids library.

The library has no Hazen-Williams, so the two formulas check each other only as closely as
Hazen-Williams is right. Its coefficients are checked by the rows of flow.csv: EPANET's engine,
the US form of the formula, and a textbook example.
"""

from __future__ import annotations

import math

import pytest
from fluids.friction import friction_factor

from reading import FOLDER, Row, read
from tanksheet.definition import catalogue

CATALOGUE = catalogue()
HEADLOSS = CATALOGUE["HEADLOSS"].function
# Water at 20 degrees C. Viscosity: IAPWS 2008, 1.0016 mPa s.
DENSITY = 998.2
VISCOSITY = 1.0016e-3
# C = 150 stands for smooth plastic; the 1 inch pipe is 5.2 % off. C = 140 is a cautious figure
# for small tubes and overstates the loss of a wide one.
TOLERANCE = {150: 0.06, 140: 0.15}
# From 40 to 200 mm and 0.75 to 2 m/s the two formulas part by up to 7.4 %.
SCAN_TOLERANCE = 0.08


def darcy(flow: float, inside: float, length: float) -> float:
    """Loss in kPa of a smooth pipe; flow in L/min, inside diameter in mm, length in m."""
    diameter = inside / 1000
    velocity = flow / 60000 / (math.pi / 4 * diameter**2)
    reynolds = velocity * diameter * DENSITY / VISCOSITY
    factor = friction_factor(Re=reynolds, eD=0)
    return float(factor * length / diameter * DENSITY * velocity**2 / 2 / 1000)


PIPES = [
    row
    for row in read(FOLDER / "flow.csv", CATALOGUE)
    if row.calculation == "HEADLOSS" and row.source.startswith("EPANET")
]


def test_the_seven_pipes_are_there() -> None:
    assert len(PIPES) == 7


@pytest.mark.parametrize("row", PIPES, ids=lambda row: row.name)
def test_pipes_of_the_table(row: Row) -> None:
    flow, inside, length, roughness = row.arguments
    assert HEADLOSS(flow, inside, length, roughness) == pytest.approx(
        darcy(flow, inside, length), rel=TOLERANCE[round(roughness)]
    )


@pytest.mark.parametrize("inside", [40, 55.4, 75, 100, 150, 200])
@pytest.mark.parametrize("velocity", [0.75, 1.0, 1.5, 2.0])
def test_smooth_plastic(inside: float, velocity: float) -> None:
    flow = velocity * math.pi / 4 * (inside / 1000) ** 2 * 60000
    assert HEADLOSS(flow, inside, 100, 150) == pytest.approx(
        darcy(flow, inside, 100), rel=SCAN_TOLERANCE
    )


@pytest.mark.parametrize("inside", [40, 200])
def test_a_slip_in_the_diameter_shows(inside: float) -> None:
    flow = math.pi / 4 * (inside / 1000) ** 2 * 60000
    assert HEADLOSS(flow, inside * 1.05, 100, 150) != pytest.approx(
        darcy(flow, inside, 100), rel=SCAN_TOLERANCE
    )
