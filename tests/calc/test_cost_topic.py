"""Money: whole packs and the price of a nutrient."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from tanksheet.calc.cost import nutrient_cost, packs
from tanksheet.errors import OutOfRange


@pytest.mark.parametrize(
    ("needed", "pack", "whole"),
    [
        (0, 25, 0),
        (1e-6, 25, 1),
        (24.9, 25, 1),
        (25, 25, 1),
        (25.1, 25, 2),
        (0.6, 0.2, 3),
        (0.3, 0.1, 3),
        (1290.3, 25, 52),
    ],
)
def test_packs(needed: float, pack: float, whole: int) -> None:
    assert packs(needed, pack) == whole


def test_packs_against_exact_fractions() -> None:
    for tenths in range(1, 400):
        for pack in ("0.1", "0.2", "0.7", "2.5", "25"):
            needed = Fraction(tenths, 10)
            exact = math.ceil(needed / Fraction(pack))
            assert packs(float(needed), float(pack)) == exact


def test_price_of_the_nutrient_pays_for_the_pack() -> None:
    each = nutrient_cost(30, 25, 15.5)
    assert each * 25 * 15.5 / 100 == pytest.approx(30, rel=1e-14)
    assert nutrient_cost(30, 25, 100) == pytest.approx(1.2, rel=1e-15)
    assert nutrient_cost(0, 25, 15.5) == 0


def test_refusals() -> None:
    with pytest.raises(OutOfRange, match="pack is 0; it must be above 0 kg"):
        packs(10, 0)
    with pytest.raises(OutOfRange, match="price is -1; it must be at least 0"):
        nutrient_cost(-1, 25, 15.5)
