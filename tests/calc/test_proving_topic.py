"""Uncertainties and control charts: against drawn readings, exact constants and their edges."""

from __future__ import annotations

import math
import random
import statistics

import pytest

from tanksheet.calc.proving import (
    chart_limit,
    ec_uncertainty,
    ratio_uncertainty,
    weighted_average,
    weighted_limit,
)
from tanksheet.errors import OutOfRange


def spread_of(values: list[float]) -> float:
    """Twice the standard deviation in percent of the mean."""
    return 200 * statistics.stdev(values) / statistics.fmean(values)


def test_ratio_against_drawn_readings() -> None:
    """Readings that err by any amount within their limits (Supplement 1 to the GUM)."""
    rng = random.Random(4)
    ratios = [(50 + rng.uniform(-1, 1)) / (0.5 + rng.uniform(-0.005, 0.005)) for _ in range(40000)]
    assert ratio_uncertainty(50, 0.5, 1, 0.005) == pytest.approx(spread_of(ratios), rel=0.02)


def test_ec_against_drawn_readings() -> None:
    rng = random.Random(5)
    added = [
        1.74 + rng.uniform(-0.02, 0.02) - 0.25 - rng.uniform(-0.02, 0.02) for _ in range(40000)
    ]
    assert ec_uncertainty(1.74, 0.25, 0.02) == pytest.approx(spread_of(added), rel=0.02)


def test_perfect_readings_leave_no_doubt() -> None:
    assert ratio_uncertainty(50, 0.5, 0, 0) == 0
    assert ec_uncertainty(1.7, 0.3, 0) == 0
    with pytest.raises(OutOfRange, match="nothing is injected"):
        ec_uncertainty(0.3, 0.3, 0.02)


def test_limits_against_exact_constants() -> None:
    # d2 = 2/sqrt(pi), d3 = sqrt(2 - 4/pi) for the range of two normal readings.
    mean_range = 2 / math.sqrt(math.pi)
    assert chart_limit(10, mean_range, "upper") == pytest.approx(13, rel=2e-4)
    assert chart_limit(10, mean_range, "lower") == pytest.approx(7, rel=4e-4)
    top = 1 + 3 * math.sqrt(2 - 4 / math.pi) / mean_range
    assert chart_limit(10, 1, "range") == pytest.approx(top, rel=2e-4)


def test_average_of_equal_readings_stays() -> None:
    assert weighted_average(50, 50, 0.2) == 50
    assert weighted_average(1, 7, 1) == 7


def test_limit_widens_and_stays() -> None:
    first = weighted_limit(1.128, 0.2, 1, 3)
    assert first == pytest.approx(3 * 0.2, rel=1e-12)  # one reading, by its weight
    steady = weighted_limit(1.128, 0.2, 1e6, 3)
    assert steady == pytest.approx(3 * math.sqrt(0.2 / 1.8), rel=1e-9)
    widths = [weighted_limit(1.128, 0.2, n, 3) for n in range(1, 12)]
    assert widths == sorted(widths) and first < widths[5] < steady
    assert weighted_limit(1.128, 1, 4, 3) == pytest.approx(3, rel=1e-12)


def test_limit_against_drawn_averages() -> None:
    """The standard deviation of the fourth average of normal readings."""
    rng = random.Random(6)
    ends = []
    for _ in range(20000):
        average = 0.0
        for _ in range(4):
            average = weighted_average(average, rng.gauss(0, 1), 0.3)
        ends.append(average)
    assert weighted_limit(1.128, 0.3, 4, 1) == pytest.approx(statistics.stdev(ends), rel=0.02)
