"""Water that is left in a stock: edges and refusals. The densities are in published/brine.csv."""

from __future__ import annotations

import pytest

from tanksheet.calc.brine import LEAST_WATER, water_left
from tanksheet.errors import OutOfRange

NOTHING = [0.0] * 12


def with_ion(place: int, amount: float) -> list[float]:
    return [*NOTHING[:place], amount, *NOTHING[place + 1 :]]


def test_plain_water() -> None:
    """kg/L at 20 degrees C (IAPWS-95, from memory: 0.9982)."""
    assert water_left(*NOTHING) == pytest.approx(0.9982, rel=1e-3)


def test_a_salt_takes_room() -> None:
    found = [water_left(0, 0, n, 0, 0, n, 0, 0, 0, 0, 0, 0) for n in (0, 500, 1500, 4000, 9000)]
    assert found == sorted(found, reverse=True)


def test_never_less_than_none() -> None:
    assert water_left(*[20000.0] * 12) == LEAST_WATER


def test_carbonate_takes_less_room_than_bicarbonate() -> None:
    """Densities from memory: 1.54 kg/L at 50 % K2CO3, 5.57 mol/L with 0.77 kg of water."""
    base = water_left(0, 0, 11140, 0, 0, 0, 0, 0, 5570, 0, 0, 0)
    assert base == pytest.approx(0.77, rel=0.03)


@pytest.mark.parametrize("place", range(12))
def test_refusals(place: int) -> None:
    for amount in (-1, 20001):
        with pytest.raises(OutOfRange, match=f"is {amount}"):
            water_left(*with_ion(place, amount))
