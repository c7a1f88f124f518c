"""Upkeep of an injector: when the next service falls due."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import helper
from tanksheet.units import Day, Hour, Litre

NEVER = 36500  # days: what is not counted, or never comes at the present use


@helper
def days_left(interval: float, used: float, each_day: float) -> float:
    """Days until an interval is used up, below 0 when it is; 0 for what is used up and stands."""
    if interval == 0:
        return NEVER
    if each_day == 0:
        return 0 if used >= interval else NEVER
    left = (interval - used) / each_day
    if left - NEVER > 0:
        return NEVER
    return -NEVER if left + NEVER < 0 else left


@calculation(
    "SERVICEDAYS",
    example=((365, 300, 500, 420, 4, 0, 0, 0), 20),
    empirical="the days that stand for never carry no unit, nor does the one day of a day",
)
def service_days(
    interval_days: Day,
    days_since: Day,
    interval_hours: Hour,
    hours_since: Hour,
    hours_a_day: Hour,
    interval_volume: Litre,
    volume_since: Litre,
    volume_a_day: Litre,
) -> Day:
    """Days until the next service by calendar, hours or volume, whichever comes first.

    Below 0 it is overdue by so many days. An interval of 0 is not counted; 36500 days stand for
    one that never comes.
    Source: what is left of each interval over its use in a day; the label of the injector says
    the intervals.
    """
    return min(
        days_left(interval_days, days_since, 1),
        days_left(interval_hours, hours_since, hours_a_day),
        days_left(interval_volume, volume_since, volume_a_day),
    )
