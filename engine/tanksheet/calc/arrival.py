"""When and how sharply fed water arrives at the end of a pipe."""

from __future__ import annotations

from tanksheet.calc.flow import travel_time, velocity
from tanksheet.definition import calculation
from tanksheet.subset import PI, check, exp, helper, log, log10, sqrt
from tanksheet.units import (
    LitrePerHour,
    LitrePerMinute,
    Metre,
    MetrePerSecond,
    Millimetre,
    Minute,
    Number,
    Percent,
    SquareMetrePerSecond,
)

# Water at 20 degrees C: IAPWS 2008, 1.0016 mPa s over 998.2 kg/m3.
KINEMATIC = 1.0034e-6
# From this Reynolds number on the flow in a pipe is turbulent, by the common textbook figure.
TURBULENT = 4000
NOT_TURBULENT = "the flow is not turbulent (Reynolds number below 4000)"
# Taylor 1954: in turbulent flow the dispersion is this times radius times friction velocity.
TAYLOR = 10.1
FARTHEST = 26  # the complementary error function of it is below 1e-290
# Turbulent diffusion across a pipe is this times radius times friction velocity: a sixth of von
# Karman's constant, the mean of the parabola that the logarithmic law of the wall asks for.
ACROSS = 0.4 / 6
# From a point at the wall the slowest unevenness to die away is J1 of this times r/a, times the
# cosine of the angle: the first zero of the slope of J1 (Abramowitz and Stegun, table 9.5).
SLOWEST = 1.841183781
# How far that unevenness is from the mean at the wall, in percent of it, where it begins.
FIRST_UNEVENNESS = 100 * 2 / (1 - 1 / SLOWEST**2)


@helper
def is_turbulent(flow: float, inside: float) -> bool:
    """Whether FERT.DISPERSION holds in a pipe."""
    return reynolds_number(flow, inside) >= TURBULENT


@helper
def reynolds_number(flow: float, inside: float) -> float:
    """Of water at 20 degrees C in a pipe."""
    return velocity(flow, inside) * inside / 1000 / KINEMATIC


@helper
def friction_speed(flow: float, inside: float) -> float:
    """Friction velocity in a smooth pipe as a part of the mean speed of the water."""
    friction = 1 / (1.8 * log10(reynolds_number(flow, inside) / 6.9)) ** 2
    return sqrt(friction / 8)


@calculation(
    "DISPERSION",
    example=((756.9, 102.26), 0.0357685),
    empirical="the viscosity of water is a bare number",
)
def pipe_dispersion(flow: LitrePerMinute, inside: Millimetre) -> SquareMetrePerSecond:
    """How strongly turbulent flow smears the front of fed water along a pipe.

    For FERT.FRONT. Water at 20 degrees C in a smooth pipe; colder water smears up to a twentieth
    more. Below a Reynolds number of 20,000 measured fronts are broader than this, and below
    4,000, where the flow is no longer turbulent, the formula does not hold and is refused.
    Source: D = 10.1 x radius x friction velocity (Taylor 1954); friction of a smooth pipe after
    Haaland 1983, within 2 % of Colebrook.
    """
    share = friction_speed(flow, inside)
    check(is_turbulent(flow, inside), NOT_TURBULENT)
    return TAYLOR * inside / 2000 * velocity(flow, inside) * share


@helper
def error_complement(size: float) -> float:
    """Complementary error function of a size that is not below 0, within 1.5e-7."""
    step = 1 / (1 + 0.3275911 * size)
    poly = 1.421413741 + step * (-1.453152027 + step * 1.061405429)
    return step * (0.254829592 + step * (-0.284496736 + step * poly)) * exp(-size * size)


@calculation("FRONT", example=((100, 1, 0.05, 1.7), 73.4416))
def front(
    length: Metre, speed: MetrePerSecond, dispersion: SquareMetrePerSecond, minutes: Minute
) -> Percent:
    """Share of the full concentration that has reached a place in a pipe.

    Count the minutes from the moment at which injection begins. At the plug time of
    FERT.TRAVELTIME it is 50 %. When injection ends the front of clean water runs alike: take the
    share of a second front, counted from then, off the first.
    Source: plug flow with axial dispersion, C/C0 = erfc((x - u t) / (2 sqrt(D t))) / 2, the first
    term of Ogata and Banks 1961; the error function by Abramowitz and Stegun 7.1.26, so that
    every spreadsheet has it: within 0.00001 % of the full concentration.
    """
    behind = (length - speed * minutes * 60) / (2 * sqrt(dispersion * minutes * 60))
    half = 50 * error_complement(min(abs(behind), FARTHEST))
    return half if behind >= 0 else 100 - half


@calculation(
    "FRONTSPREAD",
    example=((100, 55.4, 166.667), 0.0240800),
    empirical="the viscosity of water is a bare number",
)
def front_spread(length: Metre, inside: Millimetre, flow: LitrePerMinute) -> Minute:
    """Standard deviation in time of a front that has run along a plain pipe.

    Nine tenths of the rise lie within 1.64 of it before and after the plug time. Of stretches one
    after the other the squares add up. Refused where FERT.DISPERSION is.
    Source: variance 2 D L / u^3 of plug flow with axial dispersion, for small dispersion
    (Levenspiel, Chemical Reaction Engineering, example 13.2 as tbc-python.fossee.in works it), D
    after Taylor 1954.
    """
    speed = velocity(flow, inside)
    return sqrt(2 * pipe_dispersion(flow, inside) * length / speed**3) / 60


@calculation("LATERALSPREAD", example=((99.9, 13.6, 333, 1.5), 2.23371))
def lateral_spread(
    length: Metre, inside: Millimetre, emitters: Number, emitter_flow: LitrePerHour
) -> Minute:
    """Standard deviation in time of a front at the last emitter of a lateral.

    Near its end a lateral flows too slowly for FERT.DISPERSION, so each piece between two emitters
    is taken for a small vessel that is mixed through: broad rather than sharp. Measure the EC
    where it matters.
    Source: tanks in series, variances add up (Levenspiel, Chemical Reaction Engineering, example
    14.4 as tbc-python.fossee.in works it); the sum of 1/n^2 written as pi^2/6 - 1/N + 1/(2N^2) -
    1/(6N^3), 1.1 % off in the end for one emitter, less beyond.
    """
    plug = travel_time(length, inside, emitters * emitter_flow / 60)
    squares = PI**2 / 6 - 1 / emitters + 1 / (2 * emitters**2) - 1 / (6 * emitters**3)
    return plug * sqrt(squares)


@helper
def beyond(size: float) -> float:
    """What a normal front brings ahead of a time, in standard deviations, ``size`` before it."""
    near = min(size, FARTHEST)
    density = exp(-near * near / 2) / sqrt(2 * PI)
    return max(0, density - near / 2 * error_complement(near / sqrt(2)))


@helper
def passed(minutes: float, arrival: float, spread: float) -> float:
    """Minutes of full strength that have left a place, if injection goes on."""
    return max(0, minutes - arrival) + spread * beyond(abs(minutes - arrival) / spread)


@calculation("PULSESHARE", example=((20, 3, 60, 75), 91.5675))
def pulse_share(
    arrival_minutes: Minute, spread_minutes: Minute, inject_minutes: Minute, run_minutes: Minute
) -> Percent:
    """Share of what an emitter is due that has left it, so long after injection began.

    What has not left it when the valve closes stays in the pipe, and goes to whoever drains it.
    Source: integral of a normal front at the plug time, less that of the front of clean water that
    follows it when injection ends (mass balance at the emitter).
    """
    begun = passed(run_minutes, arrival_minutes, spread_minutes)
    ended = passed(run_minutes - inject_minutes, arrival_minutes, spread_minutes)
    return min(100, max(0, 100 * (begun - ended) / inject_minutes))


@calculation(
    "MIXINGLENGTH",
    example=((50, 100, 5), 8.61420),
    empirical="the viscosity of water is a bare number",
)
def mixing_length(inside: Millimetre, flow: LitrePerMinute, unevenness: Percent) -> Metre:
    """Length of straight pipe after an injection point until the feed is even across the pipe.

    Even means that nowhere it is off its mean by more than the unevenness. For stock that comes in
    softly at the wall, as from a side tee: the slowest way to mix. A jet into the stream, a tube
    to the middle, elbows or a mixer need less. It says nothing of stock that comes in strokes, nor
    of a heavy solution that runs along the bottom of slow water: where it matters, measure. Water
    at 20 degrees C in a smooth pipe; refused where FERT.DISPERSION is.
    Source: derived, since no printed formula was found: diffusion of 0.4/6 x radius x friction
    velocity, of what it evens out the slowest part, J1(1.84118 r/radius) x cos(angle). Reichardt's
    profiles of speed and eddies ask for up to 5 % more (14 % at an unevenness of 50 %), the 0.459
    of simulations in place of 0.4 for an eighth less (Pirozzoli et al. 2022). Jets: Ger and
    Holley 1976.
    """
    fading = 2 * ACROSS * SLOWEST**2 * friction_speed(flow, inside)
    check(is_turbulent(flow, inside), NOT_TURBULENT)
    return inside / 1000 * log(FIRST_UNEVENNESS / unevenness) / fading
