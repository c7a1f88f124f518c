"""The field: uniformity at its edges, and product for an area."""

from __future__ import annotations

import math
import statistics

import pytest

from tanksheet.calc.field import (
    field_mass,
    field_volume,
    injection_rate,
    mean_reading,
    quarter_dose,
    spread,
    uniformity,
)
from tanksheet.errors import DividedByZero, NotListed, OutOfRange


def test_product_carries_the_dose() -> None:
    assert field_mass(25, 8, 100) == 200
    assert field_mass(25, 8, 15.5) * 15.5 / 100 == pytest.approx(200, rel=1e-14)
    assert field_volume(25, 8, 32, 1.25) * 1.25 == pytest.approx(field_mass(25, 8, 32), rel=1e-14)
    assert field_mass(0, 8, 15.5) == 0


@pytest.mark.parametrize("measure", ["CU", "DU"])
def test_even_water_is_a_hundred_percent(measure: str) -> None:
    assert uniformity([2.0] * 7, measure) == pytest.approx(100, rel=1e-14)
    assert uniformity([2.0, 2.0], measure) == pytest.approx(100, rel=1e-14)


def test_uniformity_does_not_depend_on_order_or_scale() -> None:
    catches = [1.9, 2.1, 2.0, 1.8, 2.2, 1.4, 2.6]
    for measure in ("CU", "DU"):
        value = uniformity(catches, measure)
        assert uniformity(catches[::-1], measure) == pytest.approx(value, rel=1e-14)
        assert uniformity([1000 * c for c in catches], measure) == pytest.approx(value, rel=1e-13)


@pytest.mark.parametrize("size", range(2, 13))
def test_lowest_quarter_is_rounded_up(size: int) -> None:
    catches = [float(c) for c in range(1, size + 1)]
    quarter = math.ceil(size / 4)
    lowest = statistics.fmean(catches[:quarter])
    expected = 100 * lowest / statistics.fmean(catches)
    assert uniformity(catches, "DU") == pytest.approx(expected, rel=1e-14)


def test_lowest_quarter_with_equal_readings() -> None:
    catches = [1.0, 1.0, 1.0, 2.0, 2.0, 2.0, 2.0, 2.0]
    assert uniformity(catches, "DU") == pytest.approx(100 * 1.0 / 1.625, rel=1e-14)


def test_dry_emitters() -> None:
    assert uniformity([0.0, 2.0, 2.0, 2.0], "DU") == 0
    for measure in ("CU", "DU"):
        with pytest.raises(DividedByZero, match="nothing to divide by"):
            uniformity([0.0, 0.0], measure)
    with pytest.raises(DividedByZero):
        spread([0.0, 0.0])


def test_too_few_readings_and_unknown_measure() -> None:
    with pytest.raises(OutOfRange, match="readings has 1 numbers; it needs at least 2"):
        uniformity([2.0, None], "CU")
    with pytest.raises(NotListed, match="measure is 'EU'; it must be one of CU, DU"):
        uniformity([2.0, 2.0], "EU")


def test_spread_against_statistics() -> None:
    readings = [25.2, 24.8, 25.6, 24.9]
    expected = 100 * statistics.stdev(readings) / statistics.mean(readings)
    assert spread(readings) == pytest.approx(expected, rel=1e-14)
    assert spread([25.0, 25.0]) == 0
    assert mean_reading(readings) == statistics.fmean(readings)


def test_injection_gives_the_dose_in_the_time() -> None:
    """What is injected in the time is what the area is to get."""
    rate = injection_rate(83.8, 12, 4)
    assert rate * 4 == pytest.approx(83.8 * 12, rel=1e-14)
    assert injection_rate(83.8, 12, 8) == pytest.approx(rate / 2, rel=1e-14)
    assert injection_rate(0, 12, 4) == 0
    with pytest.raises(OutOfRange, match="hours is 0"):
        injection_rate(83.8, 12, 0)


def test_the_poorest_quarter_of_even_water_gets_the_dose() -> None:
    assert quarter_dose([2.0] * 8, 50) == pytest.approx(50, rel=1e-14)
    # A quarter of the emitters blocked: it gets nothing, whatever the others get.
    assert quarter_dose([0.0, 0.0, 2.0, 2.0, 2.0, 2.0, 2.0, 2.0], 50) == 0
    with pytest.raises(DividedByZero):
        quarter_dose([0.0, 0.0], 50)
