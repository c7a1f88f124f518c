"""What a meter reads: no ions, one ion in its place, forms by pH, refusals."""

from __future__ import annotations

import pytest

from tanksheet.calc.conductivity import conductivity
from tanksheet.calc.meter import feed_conductivity
from tanksheet.errors import OutOfRange

NOTHING = (0.0,) * 11
PURE = feed_conductivity(*[*NOTHING, 7.0])
# S cm2 per mole at infinite dilution, CRC Handbook, each at a pH where the ion keeps its form.
ALONE = (118.94, 106.0, 73.48, 50.08, 73.5, 71.42, 160.0, 76.31, 44.5, 33.77, 170.0)
KEEPS = (7, 7, 7, 7, 6, 7, 7, 7, 8.3, 5.2, 7)


def test_pure_water_hardly_conducts() -> None:
    """0.055 uS/cm at 25 degrees C: CRC Handbook."""
    assert pytest.approx(5.5e-5, rel=0.02) == PURE


@pytest.mark.parametrize("place", range(11))
def test_each_ion_counts_in_its_own_place(place: int) -> None:
    ions = list(NOTHING)
    ions[place] = 0.01
    ph = KEEPS[place]
    added = feed_conductivity(*[*ions, ph]) - feed_conductivity(*[*NOTHING, ph])
    assert added == pytest.approx(ALONE[place] * 1e-5, rel=0.04)


def test_carbonic_acid_and_ammonia_carry_nothing() -> None:
    ions = list(NOTHING)
    ions[8] = 5
    assert feed_conductivity(*[*ions, 4]) - feed_conductivity(*[*NOTHING, 4]) < 0.005
    ions = list(NOTHING)
    ions[4] = 5
    assert feed_conductivity(*[*ions, 11]) - feed_conductivity(*[*NOTHING, 11]) < 0.03


def test_acid_and_base_conduct() -> None:
    feed = (4, 1, 6, 0, 1, 14, 1, 0, 0, 1, 0)
    middle = feed_conductivity(*feed, 6)
    assert feed_conductivity(*feed, 2.5) > middle + 0.7
    assert feed_conductivity(*feed, 11.5) > middle + 0.4
    assert middle == pytest.approx(conductivity(*feed[:10]), rel=0.03)


def test_refusals() -> None:
    with pytest.raises(OutOfRange, match="thiosulfate is -1"):
        feed_conductivity(*NOTHING[:10], -1, 7)
    with pytest.raises(OutOfRange, match="ph_feed is 15.1"):
        feed_conductivity(*[*NOTHING, 15.1])
