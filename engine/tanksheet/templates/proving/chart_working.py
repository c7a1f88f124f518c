"""Control charts of the proving workbook and what they come to."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.proving import chart_limit, weighted_average, weighted_limit
from tanksheet.subset import count, helper, is_error, is_number, mean, rounded, shown
from tanksheet.templates.working import MEND

WEIGHT, WIDTH = 0.2, 3
SEALS = "clean screen and check valve, look at the seals"


def centre_of(firsts: Any, baseline: Any) -> Any:
    """Mean of the tests that the limits rest on, once there are enough of them."""
    return mean(firsts) if count(firsts) >= baseline else ""


def mean_range(ranges: Any, centre: Any) -> Any:
    return mean(ranges) if is_number(centre) else ""


def upper(centre: Any, spread: Any) -> Any:
    return chart_limit(centre, spread, "upper") if is_number(centre) else ""


def lower(centre: Any, spread: Any) -> Any:
    return chart_limit(centre, spread, "lower") if is_number(centre) else ""


def range_limit(centre: Any, spread: Any) -> Any:
    return chart_limit(centre, spread, "range") if is_number(centre) else ""


def first_average(off: Any, centre: Any) -> Any:
    if not is_number(centre):
        return ""
    return weighted_average(centre, off, WEIGHT) if is_number(off) else centre


def next_average(before: Any, off: Any) -> Any:
    if not is_number(before):
        return ""
    return weighted_average(before, off, WEIGHT) if is_number(off) else before


def reach(spread: Any, so_far: Any) -> Any:
    """How far the average may lie from the mean by then."""
    if not is_number(spread):
        return ""
    return weighted_limit(spread, WEIGHT, max(1, so_far), WIDTH)


def above(centre: Any, far: Any) -> Any:
    return centre + far if is_number(centre) else ""


def below(centre: Any, far: Any) -> Any:
    return centre - far if is_number(centre) else ""


def outside(off: Any, low: Any, high: Any) -> Any:
    """1 for a test outside the limits, else blank."""
    if not is_number(off) or not is_number(low):
        return ""
    return 1 if off > high or off < low else ""


def over(moved: Any, limit: Any) -> Any:
    """1 for a step from one test to the next beyond its limit, else blank."""
    if not is_number(moved) or not is_number(limit):
        return ""
    return 1 if moved > limit else ""


def how_many(marks: Any) -> Any:
    return count(marks)


def dose_verdict(
    latest: Any, doubt: Any, bad: Any, good: Any, act: Any, setting: Any, percent: Any
) -> Any:
    """Whether the newest test shows the dose that was set."""
    if is_error(latest) or is_error(doubt) or is_error(bad) or is_error(percent):
        return MEND
    if is_error(good) or is_error(act) or is_error(setting):
        return MEND
    if bad > 0:
        return f"stop: mend reading {shown(bad, 0)}, which cannot be used; see the note beside it"
    if not is_number(latest) or not is_number(doubt):
        return "not given: no reading yet; type water and stock of a test, or an EC"
    if setting == "none":
        return "stop: act now: nothing is injected; look for air, a closed valve, an empty tank"
    if act < good:
        return "stop: the limit to act at lies below that of good dosing; mend the two"
    off = abs(rounded(latest, 1))
    sure = rounded(doubt, 1)
    way = "too much" if latest > 0 else "too little"
    cure = f"set 1 : {shown(setting, 1)} ({shown(percent, 2)} %) and test again"
    if off - sure > act:
        return f"stop: act now: doses {shown(off, 1)} % {way}, sure to {shown(sure, 1)} %; {cure}"
    if off - sure > good:
        return f"caution: doses {shown(off, 1)} % {way}, sure to {shown(sure, 1)} %; {cure}"
    if sure > good:
        return (
            f"not checked: cannot be told, readings sure to {shown(sure, 1)} % only; "
            "draw longer, read finer marks"
        )
    if off + sure > good:
        return (
            f"caution: {shown(off, 1)} % {way}, sure to {shown(sure, 1)} %: maybe beyond "
            f"{shown(good, 1)} %; test again, longer"
        )
    return f"pass: within {shown(off + sure, 1)} % of the setting"


@helper
def unready(bad: Any, so_far: Any, baseline: Any, spread: Any) -> Any:
    """Why nothing can be said of steadiness yet, or nothing."""
    if bad > 0:
        return f"stop: mend reading {shown(bad, 0)}, which cannot be used; see the note beside it"
    if so_far == 0:
        return "not given: no reading yet; type water and stock of a test, or an EC"
    if not is_number(spread):
        few = shown(so_far, 0)
        return f"not checked: {few} readings so far; the limits need {shown(baseline, 0)}"
    if spread <= 0:
        return "not checked: cannot be told, the first readings never differ; read finer marks"
    return ""


def not_ready(bad: Any, so_far: Any, baseline: Any, spread: Any) -> Any:
    if is_error(bad) or is_error(so_far) or is_error(baseline) or is_error(spread):
        return MEND
    return unready(bad, so_far, baseline, spread)


def steady_verdict(
    waiting: Any,
    latest: Any,
    centre: Any,
    low: Any,
    high: Any,
    average: Any,
    far: Any,
    outsides: Any,
    jumps: Any,
    act: Any,
) -> Any:
    """Whether the readings stay where the first of them were."""
    if is_error(latest) or is_error(centre) or is_error(far):
        return MEND
    if is_error(low) or is_error(high) or is_error(average) or is_error(act):
        return MEND
    if waiting != "":
        return waiting
    bounds = f"{shown(low, 1)} to {shown(high, 1)} %"
    if latest > high or latest < low:
        return (
            f"stop: act now: the newest is {shown(latest, 1)} % off, limits {bounds}; "
            "find the cause, then test again"
        )
    if high - centre > act:
        return (
            f"not checked: cannot be told, readings scatter by {shown(high - centre, 1)} %; "
            "draw longer, read finer marks"
        )
    if abs(average - centre) > far:
        moved = f"{shown(centre, 1)} to {shown(average, 1)} %"
        return f"caution: drifting: the average went from {moved}; {SEALS}"
    if outsides > 0:
        return (
            f"caution: {shown(outsides, 0)} earlier outside {bounds}; note what happened then, and "
            "leave it out of the first readings"
        )
    if jumps > 0:
        return "caution: a jump from one reading to the next; test twice on the same day"
    return f"pass: steady between {bounds}"


def ways_verdict(apart: Any, drawn_sure: Any, read_sure: Any, good: Any) -> Any:
    """Whether drawdown and EC say the same where both were taken last."""
    if is_error(apart) or is_error(drawn_sure) or is_error(read_sure) or is_error(good):
        return MEND
    if not is_number(apart):
        return "not used: no row has both a drawdown test and an EC"
    gap = abs(rounded(apart, 1))
    if gap <= max(good, rounded(drawn_sure + read_sure, 1)):
        return f"pass: the two ways agree within {shown(gap, 1)} %"
    return (
        f"caution: EC and drawdown differ by {shown(gap, 1)} %; check meter, water meter and the "
        "strength of the stock"
    )
