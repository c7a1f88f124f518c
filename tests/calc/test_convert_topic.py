"""Conversions: there and back, through a third unit, and what is refused."""

from __future__ import annotations

import itertools

import pytest

from tanksheet.calc.convert import convert, element, unit_factor
from tanksheet.errors import NotListed, OutOfRange
from tanksheet.tables import rows

KINDS: dict[str, list[str]] = {}
for row in rows("units"):
    KINDS.setdefault(str(row["kind"]), []).append(str(row["unit"]))
PAIRS = [pair for units in KINDS.values() for pair in itertools.permutations(units, 2)]


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_there_and_back(one: str, other: str) -> None:
    for value in (-40.0, 0.0, 1.0, 150.0, 1e9):
        # The offsets of temperatures cost an absolute error of their own size.
        there_and_back = convert(convert(value, one, other), other, one)
        assert there_and_back == pytest.approx(value, rel=1e-12, abs=1e-13)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "temperature"])
def test_through_a_third_unit(kind: str) -> None:
    for one, two, three in itertools.permutations(KINDS[kind], 3):
        straight = convert(7.0, one, three)
        assert convert(convert(7.0, one, two), two, three) == pytest.approx(straight, rel=1e-12)
        assert straight == pytest.approx(7.0 * unit_factor(one, three), rel=1e-15)


@pytest.mark.parametrize("unit", [str(row["unit"]) for row in rows("units")])
def test_a_unit_to_itself(unit: str) -> None:
    assert convert(12.5, unit, unit) == 12.5
    assert unit_factor(unit, unit) == 1.0


def test_fixed_points() -> None:
    # Definitions: the gallon is 231 cubic inches of 25.4 mm; -40 is the same on both scales.
    assert convert(1, "gal", "L") == pytest.approx(231 * 0.254**3, rel=1e-15)
    assert convert(32, "degF", "degC") == pytest.approx(0, abs=1e-14)
    assert convert(212, "degF", "degC") == pytest.approx(100, rel=1e-14)
    assert convert(-40, "degC", "degF") == pytest.approx(-40, rel=1e-14)
    assert convert(1, "lb", "oz") == pytest.approx(16, rel=1e-15)
    assert convert(1, "dS/m", "uS/cm") == pytest.approx(1000, rel=1e-15)
    assert convert(150, "ppm", "mg/L") == 150


def test_different_kinds_are_not_converted() -> None:
    for one, other in itertools.permutations([units[0] for units in KINDS.values()], 2):
        with pytest.raises(NotListed, match="choose two of one kind"):
            convert(1, one, other)


def test_message_lists_the_units() -> None:
    with pytest.raises(NotListed, match="'cubit' is not listed; allowed: L, mL"):
        convert(1, "cubit", "m")


@pytest.mark.parametrize("oxide", [str(row["oxide"]) for row in rows("oxides")])
def test_elements_weigh_less_than_their_oxides(oxide: str) -> None:
    assert 0 < element(oxide, 100) < 100
    assert element(oxide, 0) == 0
    assert element(oxide, 50) == pytest.approx(element(oxide, 100) / 2, rel=1e-15)
    with pytest.raises(OutOfRange, match="percent_oxide is 101"):
        element(oxide, 101)
