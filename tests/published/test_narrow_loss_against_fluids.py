"""FERT.NARROWLOSS against the sharp contraction and enlargement of the fluids library."""

from __future__ import annotations

import math

import fluids
import pytest

from tanksheet.definition import catalogue

LOSS = catalogue()["NARROWLOSS"].function
DENSITY = 998.2  # kg/m3, water at 20 degrees C (IAPWS)


@pytest.mark.parametrize("wide", [13.0, 27.0, 52.5, 200.0])
@pytest.mark.parametrize("narrow", [8.0, 12.0, 13.0])
@pytest.mark.parametrize("flow", [1.0, 45.4])
def test_both_ends(flow: float, narrow: float, wide: float) -> None:
    speed = flow / 60000 / (math.pi / 4 * (narrow / 1000) ** 2)
    enlargement = fluids.diffuser_sharp(Di1=narrow, Di2=wide)
    contraction = (
        fluids.contraction_conical_Crane(Di1=wide, Di2=narrow, l=0) if wide > narrow else 0
    )
    expected = (enlargement + contraction) * DENSITY * speed**2 / 2000
    assert LOSS(flow, narrow, wide) == pytest.approx(expected, rel=1e-9, abs=1e-12)
    assert LOSS(flow, wide, narrow) == pytest.approx(expected, rel=1e-9, abs=1e-12)
