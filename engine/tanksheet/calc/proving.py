"""Proving an injector: how sure a test is, and whether it drifts."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import check, power, sqrt
from tanksheet.units import Litre, MilliSiemens, Number, Percent, Word

# A reading that may be off by a limit either way, and no more known, has a standard uncertainty
# of the limit over the root of 3 (JCGM 100:2008, 4.3.7). Two standard uncertainties hold about 95
# of 100 cases (6.3.3).
EXPANDED, RECTANGULAR = 2, 3
# Control-chart constants for moving ranges of two readings: d2 and D4.
RANGE_PER_SIGMA, RANGE_LIMIT = 1.128, 3.267
FORGOTTEN = 25  # after this many steps over the weight, e^-25 of a reading is left at most


@calculation("RATIOUNCERTAINTY", example=((37.5, 0.25, 0.5, 0.005), 2.77555))
def ratio_uncertainty(
    water: Litre, stock: Litre, water_error: Litre, stock_error: Litre
) -> Percent:
    """By how many percent a drawdown test may be wrong, either way, in 95 of 100 cases.

    Give the most by which the water and the stock may be misread: half a mark of the cylinder,
    the meter's printed error, a second of a stopwatch turned into litres. It covers the readings,
    not a meter that counts wrong or air in the hose.
    Source: JCGM 100:2008 (GUM), 5.1: relative variances of a quotient add up; limits taken as
    rectangular (4.3.7), coverage factor 2.
    """
    variance = ((water_error / water) ** 2 + (stock_error / stock) ** 2) / RECTANGULAR
    return 100 * EXPANDED * sqrt(variance)


@calculation("ECUNCERTAINTY", example=((1.74, 0.25, 0.02), 2.19194))
def ec_uncertainty(
    ec_measured: MilliSiemens, ec_water: MilliSiemens, ec_error: MilliSiemens
) -> Percent:
    """By how many percent the dose told from two meter readings may be wrong, in 95 of 100 cases.

    The dose shows as what the feed reads above plain water, so the error of both readings counts;
    the corrected setting of FERT.NEWRATIO is as uncertain. A meter that is out of calibration
    errs besides.
    Source: JCGM 100:2008 (GUM), 5.1: variances of a difference add up; limits taken as
    rectangular (4.3.7), coverage factor 2.
    """
    check(ec_measured > ec_water, "the feed reads no higher than plain water: nothing is injected")
    return 100 * EXPANDED * sqrt(2 / RECTANGULAR) * ec_error / (ec_measured - ec_water)


@calculation("CHARTLIMIT", example=((50.81, 1.8778, "upper"), 55.8041))
def chart_limit(centre: Number, mean_range: Number, limit: Word) -> Number:
    """Limit of a control chart of single readings and their moving ranges.

    "upper" and "lower" are for the readings, "range" for the differences between one reading and
    the next. Take mean and mean range from readings of a time in which all ran as it should; a
    reading outside has a cause worth looking for.
    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: mean +- 3 mean range / 1.128;
    3.267 x mean range.
    """
    if limit == "range":
        return RANGE_LIMIT * mean_range
    reach = 3 * mean_range / RANGE_PER_SIGMA
    return centre + reach if limit == "upper" else centre - reach


@calculation("EWMA", example=((50, 52, 0.3), 50.6))
def weighted_average(average_before: Number, latest: Number, weight: Number) -> Number:
    """Moving average that forgets: the newest reading by its weight, the old average by the rest.

    It shows a slow drift that single readings hide. Begin with the target.
    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4; weights of 0.2 to 0.3 are
    usual.
    """
    return weight * latest + (1 - weight) * average_before


@calculation("EWMALIMIT", example=((2, 0.2, 5, 3), 1.67516))
def weighted_limit(
    mean_range: Number, weight: Number, reading_count: Number, limit_width: Number
) -> Number:
    """How far the average of FERT.EWMA may lie from the target, either way.

    It widens over the first readings and then stays. The width is counted in standard deviations:
    3 is usual.
    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4, with the exact variance
    lambda/(2 - lambda) (1 - (1 - lambda)^(2 i)) of the i-th average (Lucas and Saccucci 1990);
    standard deviation as mean range / 1.128.
    """
    # What is left of the first reading is nothing by then; one spreadsheet errs at tinier powers.
    steps = min(2 * reading_count, FORGOTTEN / weight)
    share = weight / (2 - weight) * (1 - power(1 - weight, steps))
    return limit_width * mean_range / RANGE_PER_SIGMA * sqrt(share)
