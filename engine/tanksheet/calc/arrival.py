"""When and how sharply fed water arrives at the end of a pipe."""

from __future__ import annotations

from tanksheet.calc.flow import velocity
from tanksheet.definition import calculation
from tanksheet.subset import check, exp, helper, log10, sqrt
from tanksheet.units import (
    LitrePerMinute,
    Metre,
    MetrePerSecond,
    Millimetre,
    Minute,
    Percent,
    SquareMetrePerSecond,
)

# Water at 20 degrees C: IAPWS 2008, 1.0016 mPa s over 998.2 kg/m3.
KINEMATIC = 1.0034e-6
# From this Reynolds number on the flow in a pipe is turbulent, by the common textbook figure.
TURBULENT = 4000
# Taylor 1954: in turbulent flow the dispersion is this times radius times friction velocity.
TAYLOR = 10.1
FARTHEST = 26  # the complementary error function of it is below 1e-290


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
    reynolds = velocity(flow, inside) * inside / 1000 / KINEMATIC
    friction = 1 / (1.8 * log10(reynolds / 6.9)) ** 2
    check(reynolds >= TURBULENT, "the flow is not turbulent (Reynolds number below 4000)")
    return TAYLOR * inside / 2000 * velocity(flow, inside) * sqrt(friction / 8)


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
