"""Days to the next service: whichever comes first, edges, and what is not counted."""

from __future__ import annotations

import random

import pytest

from tanksheet.calc.upkeep import NEVER, service_days
from tanksheet.errors import OutOfRange


def test_whichever_comes_first() -> None:
    draw = random.Random(11)
    for _ in range(200):
        every, past = draw.uniform(10, 400), draw.uniform(0, 500)
        hours, ran, daily = draw.uniform(10, 900), draw.uniform(0, 900), draw.uniform(0.1, 20)
        litres, passed, stream = draw.uniform(1e3, 1e6), draw.uniform(0, 1e6), draw.uniform(10, 1e4)
        wanted = sorted(((every - past), (hours - ran) / daily, (litres - passed) / stream))[0]
        found = service_days(every, past, hours, ran, daily, litres, passed, stream)
        assert found == pytest.approx(max(-NEVER, min(NEVER, wanted)), rel=1e-12)


def test_an_interval_of_nothing_is_not_counted() -> None:
    assert service_days(0, 400, 0, 5000, 5, 0, 1e9, 1e5) == NEVER
    assert service_days(30, 10, 0, 5000, 5, 0, 1e9, 1e5) == 20


def test_what_stands_still() -> None:
    # No use: never due, but what was used up before is due now.
    assert service_days(0, 0, 100, 99, 0, 0, 0, 0) == NEVER
    assert service_days(0, 0, 100, 100, 0, 0, 0, 0) == 0


def test_more_hours_than_a_day_has_are_refused() -> None:
    with pytest.raises(OutOfRange):
        service_days(0, 0, 100, 0, 24.1, 0, 0, 0)
