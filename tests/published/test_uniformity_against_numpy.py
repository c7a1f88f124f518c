"""FERT.UNIFORMITY and FERT.SPREAD against NumPy and SciPy on random readings."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tanksheet.definition import catalogue

UNIFORMITY = catalogue()["UNIFORMITY"].function
SPREAD = catalogue()["SPREAD"].function
TOLERANCE = 1e-10
COUNTS = [2, 3, 4, 5, 6, 7, 8, 15, 16, 17, 36, 101, 400]
by_count = pytest.mark.parametrize("count", COUNTS)


def readings(count: int) -> list[float]:
    """Emitter flows in L/h, some of them poor, always the same for a count."""
    random = np.random.default_rng(count)
    flows = random.normal(2.0, 0.3, count) * random.choice([1.0, 0.6], count, p=[0.9, 0.1])
    return [float(flow) for flow in np.clip(flows, 0.05, None)]


@by_count
def test_christiansen(count: int) -> None:
    flows = readings(count)
    deviation = np.abs(np.subtract(flows, np.mean(flows))).mean() / np.mean(flows)
    assert UNIFORMITY(flows, "CU") == pytest.approx(100 * (1 - deviation), rel=TOLERANCE)


@by_count
def test_lowest_quarter(count: int) -> None:
    flows = readings(count)
    low, _ = np.split(np.sort(flows), [int(np.ceil(count / 4))])
    assert UNIFORMITY(flows, "DU") == pytest.approx(
        100 * low.mean() / np.mean(flows), rel=TOLERANCE
    )


@by_count
def test_spread(count: int) -> None:
    flows = readings(count)
    assert SPREAD(flows) == pytest.approx(100 * stats.variation(flows, ddof=1), rel=TOLERANCE)


@by_count
def test_order_and_scale_do_not_matter(count: int) -> None:
    flows = readings(count)
    other = [3.785411784 * flow for flow in reversed(flows)]
    for measure in ("CU", "DU"):
        assert UNIFORMITY(other, measure) == pytest.approx(UNIFORMITY(flows, measure), rel=1e-9)
    assert SPREAD(other) == pytest.approx(SPREAD(flows), rel=1e-9)


def test_the_population_formula_would_show() -> None:
    flows = readings(16)
    assert SPREAD(flows) != pytest.approx(100 * stats.variation(flows, ddof=0), rel=1e-3)
