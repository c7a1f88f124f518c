"""The injector: inverses, proportions and refusals."""

from __future__ import annotations

import pytest

from tanksheet.calc.ratio import (
    corrected_ratio,
    dilution,
    feed_rate,
    measured_ratio,
    percent_injected,
    ratio_error,
    ratio_of_percent,
    tank_life,
)
from tanksheet.errors import OutOfRange

RATIOS = [1, 1.5, 16, 64, 100, 128, 200, 500, 1e5, 1e6]


@pytest.mark.parametrize("ratio", RATIOS)
def test_percent_and_ratio_are_inverse(ratio: float) -> None:
    assert ratio_of_percent(percent_injected(ratio)) == pytest.approx(ratio, rel=1e-15)
    assert percent_injected(ratio_of_percent(100 / ratio)) == pytest.approx(100 / ratio, rel=1e-15)


def test_ratio_of_less_than_one_part_is_refused() -> None:
    with pytest.raises(OutOfRange, match="ratio is 0.99; it must be at least 1 and at most"):
        percent_injected(0.99)
    with pytest.raises(
        OutOfRange, match="percent is 101; it must be at least .* and at most 100 %"
    ):
        ratio_of_percent(101)


@pytest.mark.parametrize("ratio", RATIOS)
def test_readings_of_a_ratio_differ_by_one_part(ratio: float) -> None:
    assert dilution(ratio, "in") == ratio
    assert dilution(ratio, "to") == ratio + 1


def test_drawdown_that_agrees_has_no_error() -> None:
    for ratio in RATIOS:
        found = measured_ratio(ratio * 0.25, 0.25)
        assert found == pytest.approx(ratio, rel=1e-15)
        assert ratio_error(found, ratio) == pytest.approx(0, abs=1e-12)
    assert ratio_error(50, 100) == 100
    assert ratio_error(200, 100) == -50


def test_stock_drawn_empties_the_tank_in_its_life() -> None:
    hours = tank_life(200, 45.4, 100)
    assert feed_rate(45.4, 100) * hours == pytest.approx(200, rel=1e-14)


def test_corrected_ratio() -> None:
    # A reading that is right stays; half the dose wanted doubles the parts.
    assert corrected_ratio(100, 2.2, 0.4, 2.2) == pytest.approx(100, rel=1e-14)
    assert corrected_ratio(100, 2.4, 0.4, 1.4) == pytest.approx(200, rel=1e-14)
    step = corrected_ratio(100, 2.4, 0.4, 2.2)
    assert corrected_ratio(step, 2.2, 0.4, 2.4) == pytest.approx(100, rel=1e-14)


@pytest.mark.parametrize("measured", [0.0, 0.39, 0.4])
def test_no_correction_when_nothing_is_injected(measured: float) -> None:
    with pytest.raises(OutOfRange, match="nothing is injected"):
        corrected_ratio(100, measured, 0.4, 2.2)


@pytest.mark.parametrize("target", [0.0, 0.4])
def test_no_correction_towards_plain_water(target: float) -> None:
    with pytest.raises(OutOfRange, match="above that of the plain water"):
        corrected_ratio(100, 2.4, 0.4, target)
