"""Conductivity: no ions, one ion, order, proportion and refusals."""

from __future__ import annotations

import pytest

from tanksheet.calc.conductivity import conductivity, conductivity_at_25
from tanksheet.errors import OutOfRange

NOTHING = (0.0,) * 10
# Equivalent conductivities at infinite dilution, S cm2 per equivalent, times the charge: CRC
# Handbook; dihydrogen phosphate as fitted (its table has 36).
ALONE = (118.94, 106.0, 73.48, 50.08, 73.5, 71.42, 160.0, 76.31, 44.5, 33.77)


def test_pure_water() -> None:
    assert conductivity(*NOTHING) == 0


@pytest.mark.parametrize("place", range(10))
def test_each_ion_counts_in_its_own_place(place: int) -> None:
    """At a ten-thousandth of a mmol/L ions hardly hinder one another: Kohlrausch's law."""
    ions = list(NOTHING)
    ions[place] = 1e-4
    assert conductivity(*ions) == pytest.approx(ALONE[place] * 1e-7, rel=2e-3)


def test_twice_the_salt_gives_less_than_twice_the_reading() -> None:
    """Kohlrausch's square root law: equivalent conductivity falls as salts grow."""
    for salt in ((0, 0, 1, 0, 0, 1, 0, 0, 0, 0), (1, 0, 0, 0, 0, 2, 0, 0, 0, 0)):
        one, two = (conductivity(*(n * each for each in salt)) for n in (5, 10))
        assert one < two < 2 * one


def test_pairs_carry_less() -> None:
    """Calcium and magnesium pair with sulfate and not with nitrate (stability constants)."""
    for place in (0, 1):
        ions = list(NOTHING)
        ions[place] = 10.0
        sulfate, nitrate = list(ions), list(ions)
        sulfate[6], nitrate[5] = 10.0, 20.0
        assert conductivity(*sulfate) < 0.8 * conductivity(*nitrate)


def test_no_negative_ions() -> None:
    ions = list(NOTHING)
    ions[3] = -0.1
    with pytest.raises(OutOfRange, match="sodium is -0.1"):
        conductivity(*ions)
    with pytest.raises(OutOfRange, match="potassium is 20001"):
        conductivity(0, 0, 20001, 0, 0, 0, 0, 0, 0, 0)


def test_a_reading_at_25_degrees_stays() -> None:
    for reading in (0.0, 0.4, 2.0, 500.0):
        assert conductivity_at_25(reading, 25) == reading
    assert conductivity_at_25(0, 0) == 0


def test_cold_water_reads_low() -> None:
    """1.91 % a degree (Standard Methods 2510 B)."""
    assert conductivity_at_25(1.0, 15) == pytest.approx(1 / 0.809, rel=1e-12)
    assert conductivity_at_25(1.0, 35) == pytest.approx(1 / 1.191, rel=1e-12)
    for celsius in (-0.1, 45.1):
        with pytest.raises(OutOfRange, match="celsius is"):
            conductivity_at_25(1.0, celsius)
    with pytest.raises(OutOfRange, match="ec_reading is 501"):
        conductivity_at_25(501, 25)
