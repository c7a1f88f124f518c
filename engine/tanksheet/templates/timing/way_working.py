"""The way to the nearest and the last emitter, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import count, nth, smallest, sqrt
from tanksheet.templates.timing.clock_working import GRAIN


def near_place(near_end: Any) -> Any:
    """The stretch behind which the nearest emitter drinks."""
    if near_end == "first stretch":
        return 1
    if near_end == "second stretch":
        return 2
    return 3 if near_end == "third stretch" else 4


def near_of(place: Any, sums: Any) -> Any:
    return nth(sums, place)


def itself(total: Any) -> Any:
    return total


def near_spread(variance: Any) -> Any:
    return sqrt(max(GRAIN, variance))


def fastest_of(speeds: Any) -> Any:
    """The highest speed among the stretches, 0 if there is none."""
    return smallest(speeds, count(speeds)) if count(speeds) > 0 else 0
