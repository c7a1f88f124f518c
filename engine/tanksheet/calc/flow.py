"""Water: how much flows, how fast, at what loss, and how long it travels."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import PI, helper, log, power
from tanksheet.units import (
    Kilopascal,
    Litre,
    LitrePerHour,
    LitrePerMinute,
    Metre,
    MetrePerSecond,
    Millimetre,
    Minute,
    Number,
    Second,
)

# Water at 20 degrees C weighs 998.2 kg/m3, so a metre of head is 998.2 x 9.80665 / 1000 kPa.
KPA_PER_METRE = 9.788998
WATER_DENSITY = 998.2
# Euler's constant: the sum of 1/n over N outlets is ln N + EULER + 1/(2N) - 1/(12 N^2), nearly.
EULER = 0.5772156649


@calculation("FLOW", example=((18.927, 25), 45.425))
def bucket_flow(volume: Litre, seconds: Second) -> LitrePerMinute:
    """Flow from a bucket and a timer.

    Catch the zone's water in a vessel of known volume and time it. Repeat and use the mean; half
    a second of hand error on 25 seconds is already 2 %.
    Source: volume over time; the bucket test of NCAT/ATTRA irrigation bulletins.
    """
    return volume * 60 / seconds


@calculation("EMITTERFLOW", example=((500, 2, 150, 100, 0.5), 20.4124))
def emitter_flow(
    emitter_count: Number,
    nominal_flow: LitrePerHour,
    pressure: Kilopascal,
    nominal_pressure: Kilopascal,
    exponent: Number,
) -> LitrePerMinute:
    """Flow of a zone from its number of emitters and their pressure.

    The exponent is 0.5 for plain turbulent emitters and near 0 for pressure-compensating ones,
    whose flow stays as rated inside their working range.
    Source: emitter equation q = k h^x (Keller and Karmeli), as in ASAE EP405.
    """
    return emitter_count * nominal_flow * power(pressure / nominal_pressure, exponent) / 60


@calculation("STROKEFLOW", example=((30, 0.5, 60), 15))
def stroke_flow(strokes: Number, stroke_volume: Litre, seconds: Second) -> LitrePerMinute:
    """Flow from counting the strokes of a water-driven injector.

    Each stroke of the piston takes a known volume of water; the strokes in a minute tell the flow.
    Source: common practice, volume displaced over time.
    """
    return bucket_flow(strokes * stroke_volume, seconds)


@helper
def cross_section(inside: float) -> float:
    """Of the water in a full pipe, in m2."""
    return PI / 4 * (inside / 1000) ** 2


@calculation("VELOCITY", example=((100, 52), 0.78479))
def velocity(flow: LitrePerMinute, inside: Millimetre) -> MetrePerSecond:
    """Mean speed of the water in a pipe.

    Keep mains below about 1.5 m/s (5 ft/s) to limit water hammer.
    Source: flow over cross-section; the limit is that of ASAE S376 (from memory).
    """
    return flow / 60000 / cross_section(inside)


@calculation(
    "HEADLOSS",
    example=((166.667, 55.4, 100, 140), 26.8914),
    empirical="the Hazen-Williams coefficient 10.67 carries units of its own",
)
def head_loss(
    flow: LitrePerMinute, inside: Millimetre, length: Metre, roughness: Number
) -> Kilopascal:
    """Pressure lost to friction in a full pipe.

    A short length of narrow pipe can cost more than a long wide one: reckon it on its own.
    Source: Hazen-Williams in SI form; C = 150 for plastic in USDA NRCS practice standard 430.
    """
    metres = 10.67 * length * power(flow / 60000, 1.852)
    return KPA_PER_METRE * metres / (power(roughness, 1.852) * power(inside / 1000, 4.8704))


@calculation(
    "NARROWLOSS",
    example=((45.4, 12, 52.5), 30.65373),
    empirical="the density of water is a bare number",
)
def narrow_loss(flow: LitrePerMinute, inside: Millimetre, wide_inside: Millimetre) -> Kilopascal:
    """Pressure lost where a pipe narrows and widens again.

    A short necked-down piece loses this at its two ends, besides its friction; rounded ends lose
    less. Either diameter may come first.
    Source: sudden contraction K = 0.5 (1 - b^2) and enlargement K = (1 - b^2)^2 on the speed in
    the narrow piece, b being the ratio of the diameters (Borda-Carnot; Crane Technical Paper 410).
    """
    narrow = min(inside, wide_inside)
    closed = 1 - (narrow / max(inside, wide_inside)) ** 2
    return (0.5 * closed + closed**2) * WATER_DENSITY * velocity(flow, narrow) ** 2 / 2000


@calculation(
    "PRESSURELEFT",
    example=((300, 50, 25, 5, 30, 3), 160.633),
    empirical="the pressure of a metre of water is a bare number",
)
def pressure_left(
    supply_pressure: Kilopascal,
    injector_loss: Kilopascal,
    pipe_loss: Kilopascal,
    neck_loss: Kilopascal,
    other_loss: Kilopascal,
    rise: Metre,
) -> Kilopascal:
    """Pressure that is left for the emitters.

    Below 0 the supply cannot push this flow through: less water runs than was reckoned with, or
    none. Read the supply's gauge while the zone runs, not while it rests.
    Source: energy balance along the pipe (Bernoulli), water at 20 degrees C.
    """
    lost = injector_loss + pipe_loss + neck_loss + other_loss
    return supply_pressure - lost - KPA_PER_METRE * rise


@calculation("TRAVELTIME", example=((100, 55.4, 166.667), 1.44630))
def travel_time(length: Metre, inside: Millimetre, flow: LitrePerMinute) -> Minute:
    """Minutes for fed water to travel along a plain pipe.

    For a line with emitters use FERT.LATERALTIME: its flow falls along the way.
    Source: volume of the pipe over flow (plug flow).
    """
    return length * 1000 * PI / 4 * (inside / 1000) ** 2 / flow


@calculation("LATERALTIME", example=((99.9, 13.6, 333, 1.5), 11.1336))
def lateral_time(
    length: Metre, inside: Millimetre, emitters: Number, emitter_flow: LitrePerHour
) -> Minute:
    """Minutes until fed water reaches the last emitter of a lateral.

    The flow falls from emitter to emitter, so the far end waits several times the plug time.
    Source: sum of volume over remaining flow for equal outlets, the sum of 1/n written as
    ln N + 0.5772 + 1/(2N) - 1/(12 N^2): 0.6 % off for one emitter, 0.03 % for two, less beyond.
    """
    plug = travel_time(length, inside, emitters * emitter_flow / 60)
    return plug * (log(emitters) + EULER + 1 / (2 * emitters) - 1 / (12 * emitters**2))
