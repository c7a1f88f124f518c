"""The injector: ratio and percent, stock drawn, tests of the true ratio, the corrected setting."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import check
from tanksheet.units import (
    Hour,
    Litre,
    LitrePerHour,
    LitrePerMinute,
    MilliSiemens,
    Parts,
    Percent,
    Word,
)


@calculation("PERCENT", example=((128,), 0.78125))
def percent_injected(ratio: Parts) -> Percent:
    """Percent setting that equals a ratio: 1:100 is 1 %.

    Source: definition; injector charts print both.
    """
    return 100 / ratio


@calculation("RATIO", example=((0.78125,), 128))
def ratio_of_percent(percent: Percent) -> Parts:
    """Ratio that equals a percent setting: 0.5 % is 1:200, given as 200.

    Source: definition; injector charts print both.
    """
    return 100 / percent


@calculation("DILUTION", example=((100, "to"), 101))
def dilution(ratio: Parts, reading: Word) -> Parts:
    """Exact dilution factor for either reading of 1:N.

    "in": 1 part of stock in N parts of feed, as ratio tables use it. "to": 1 part of stock added
    to N parts of water. At 1:100 they differ by 1 %, at 1:20 by 5 %.
    Source: definition; Cornell practice sheets (Mattson) read 1:100 as 1 part in 100.
    """
    return ratio if reading == "in" else ratio + 1


@calculation("FEEDRATE", example=((45.4, 100), 27.24))
def feed_rate(flow: LitrePerMinute, ratio: Parts) -> LitrePerHour:
    """Stock that the injector draws in an hour of running.

    Source: flow over ratio.
    """
    return flow * 60 / ratio


@calculation("TRUERATIO", example=((37.5, 0.25), 150))
def measured_ratio(water: Litre, stock: Litre) -> Parts:
    """Ratio found by a drawdown test.

    Let the injector draw from a measuring cylinder while a water meter (or a bucket) tells how
    much water passed; divide.
    Source: definition; drawdown tests of chemigation bulletins (North Dakota State, 1996).
    """
    return water / stock


@calculation("RATIOERROR", example=((90, 100), 11.1111))
def ratio_error(found_ratio: Parts, set_ratio: Parts) -> Percent:
    """Percent by which the injector feeds too much (+) or too little (-).

    An injector that runs at 1:90 when set to 1:100 feeds 11 % too much.
    Source: ratio of the two concentrations, less 1.
    """
    return (set_ratio / found_ratio - 1) * 100


@calculation("NEWRATIO", example=((100, 2.4, 0.4, 2.2), 111.111))
def corrected_ratio(
    ratio: Parts, ec_measured: MilliSiemens, ec_water: MilliSiemens, ec_target: MilliSiemens
) -> Parts:
    """Setting that should bring the meter to the reading you want.

    What the fertilizer adds to the reading is taken as proportional to the dose, which holds
    within a few percent over a small correction: change the setting, wait, and read again.
    Source: proportion of the readings above plain water; common practice.
    """
    check(ec_measured > ec_water, "the feed reads no higher than plain water: nothing is injected")
    check(ec_target > ec_water, "the reading wanted must be above that of the plain water")
    return ratio * (ec_measured - ec_water) / (ec_target - ec_water)


@calculation("TANKLIFE", example=((200, 45.4, 100), 7.34214))
def tank_life(tank: Litre, flow: LitrePerMinute, ratio: Parts) -> Hour:
    """Hours of running until the stock tank is empty.

    Source: tank volume over stock drawn.
    """
    return tank / feed_rate(flow, ratio)
