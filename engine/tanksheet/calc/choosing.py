"""Choosing an injector: how high it can lift, and what its suction hose loses."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import PI, exp, helper, power
from tanksheet.units import (
    Celsius,
    KgPerL,
    Kilopascal,
    LitrePerHour,
    LitrePerMinute,
    Metre,
    Millimetre,
    MilliPascalSecond,
)

GRAVITY = 9.80665


@calculation(
    "LIFTLIMIT",
    example=((0, 20), 10.1091),
    empirical="the pressures of air and of vapour are fits in bare numbers",
)
def lift_limit(altitude: Metre, celsius: Celsius) -> Metre:
    """The height that no suction can lift water beyond, since it boils there.

    A unit lifts much less: its nameplate says how high. Losses of the hose come off this too.
    Source: air pressure and vapour pressure of FAO Irrigation and Drainage Paper 56, equations 7
    and 11; density of water after McCutcheon, Martin and Barnwell 1993 (from memory).
    """
    air = 101.3 * power((293 - 0.0065 * altitude) / 293, 5.26)
    vapour = 0.6108 * exp(17.27 * celsius / (celsius + 237.3))
    thinner = (celsius + 288.9414) / (508929.2 * (celsius + 68.12963)) * (celsius - 3.9863) ** 2
    return (air - vapour) / (GRAVITY * (1 - thinner))


@calculation("HOSELOSS", example=((60, 8, 2, 50, 1.2), 16.5786))
def hose_loss(
    stock_flow: LitrePerHour,
    inside: Millimetre,
    length: Metre,
    viscosity: MilliPascalSecond,
    density: KgPerL,
) -> Kilopascal:
    """Pressure that a stock loses in the suction hose.

    It rises with the fourth power of a narrower bore. A piston draws in strokes, so that the loss
    at its peak is higher than this mean: leave room. Ten kilopascals are about a metre of lift.
    Source: Hagen-Poiseuille; where it is more, Blasius' friction of a smooth hose (between the
    two, from a Reynolds number of about 1,200 on, this errs on the high side).
    """
    speed = stock_flow / 3600000 / (PI / 4 * (inside / 1000) ** 2)
    thick = viscosity / 1000
    creeping = 32 * thick * length * speed / (inside / 1000) ** 2 / 1000
    reynolds = speed * (inside / 1000) * density * 1000 / thick
    rough = 0.3164 / power(reynolds, 0.25) * length / (inside / 1000)
    return max(creeping, rough * density * 1000 * speed**2 / 2000)


@helper
def by_the_square(loss: float, flow: float, rated: float) -> float:
    """A loss at a flow, from that at a rated one."""
    return loss * (flow / rated) ** 2


@calculation("LOSSAT", example=((50, 100, 60), 18))
def loss_at(
    injector_loss: Kilopascal, rated_flow: LitrePerMinute, flow: LitrePerMinute
) -> Kilopascal:
    """Pressure that an injector, valve or filter takes at a flow, from what it takes at another.

    A nameplate prints one loss at one flow. Injectors in series add up, each at its own flow; of
    one beside a bypass only its part of the flow counts. Something clogged takes more.
    Source: losses of fittings and valves go with the square of the flow (Crane Technical Paper
    410; the flow coefficient of IEC 60534); of injectors common practice, no source.
    """
    return by_the_square(injector_loss, flow, rated_flow)
