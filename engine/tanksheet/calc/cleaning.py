"""Keeping emitters open: chlorine, flushing, filters."""

from __future__ import annotations

from tanksheet.calc.flow import cross_section
from tanksheet.definition import calculation
from tanksheet.subset import power
from tanksheet.tables import look_up
from tanksheet.units import (
    PH,
    Celsius,
    Gram,
    Litre,
    LitrePerHour,
    LitrePerMinute,
    MetrePerSecond,
    MgPerL,
    Micrometre,
    Millilitre,
    Millimetre,
    Number,
    Percent,
)

KELVIN = 273.15


@calculation("CHLORINEMASS", example=((10, 65, 10000), 153.846))
def chlorine_mass(chlorine: MgPerL, available: Percent, water_treated: Litre) -> Gram:
    """Calcium hypochlorite that brings free chlorine to a volume of water.

    Add what the water itself uses up (its demand) to the residual wanted, and test at the last
    emitter. Dissolve it in water, never the other way round, keep it from acid, ammonium, urea and
    oil, and let the label and local rules decide.
    Source: mass balance; available chlorine in percent by weight, as labels print it.
    """
    return chlorine * water_treated / (available * 10)


@calculation(
    "CHLORINEVOLUME",
    example=((10, 12.5, 10000), 800),
    empirical="percent of a liquid here is grams in 100 mL",
)
def chlorine_volume(chlorine: MgPerL, available: Percent, water_treated: Litre) -> Millilitre:
    """Sodium hypochlorite solution that brings free chlorine to a volume of water.

    The percent is available chlorine as grams in 100 mL (trade percent); a percent by weight is
    multiplied by the density first. It weakens in store, so test at the last emitter. Chlorine
    gas comes from it with acid: never together, never through one injector unrinsed; the label and
    local rules decide.
    Source: mass balance; extension tables of chlorine injection reckon alike.
    """
    return chlorine_mass(chlorine, available, water_treated)


@calculation(
    "CHLORINERATE",
    example=((10, 12.5, 100), 0.48),
    empirical="percent of a liquid here is grams in 100 mL",
)
def chlorine_rate(chlorine: MgPerL, available: Percent, flow: LitrePerMinute) -> LitrePerHour:
    """Sodium hypochlorite solution to inject in an hour, for free chlorine in running water.

    What the water uses up (its demand) comes on top of the residual wanted; inject ahead of the
    filter and test at the last emitter. Cautions of FERT.CHLORINEVOLUME hold.
    Source: FERT.CHLORINEVOLUME of the water of one hour.
    """
    return chlorine_volume(chlorine, available, flow * 60) / 1000


@calculation("HOCL", example=((7, 20), 79.2418))
def hypochlorous_share(ph_water: PH, celsius: Celsius) -> Percent:
    """Share of the free chlorine that is hypochlorous acid, the form that kills.

    Above pH 7.5 most of it is the weak hypochlorite. Acid brings the share back, but only in the
    water, through an injection point of its own: acid and hypochlorite together give chlorine gas.
    Source: pK = 3000/T - 10.0686 + 0.0253 T (Morris 1966, T in kelvin), dilute water.
    """
    kelvin = celsius + KELVIN
    return 100 / (1 + power(10, ph_water - (3000 / kelvin - 10.0686 + 0.0253 * kelvin)))


@calculation("FLUSHFLOW", example=((16, 0.3), 3.61911))
def flush_flow(inside: Millimetre, flush_speed: MetrePerSecond) -> LitrePerMinute:
    """Flow that must leave the open end of a lateral to flush it.

    At least 0.3 m/s (1 ft/s) is asked for; 0.5 m/s or more where dirt has settled.
    Source: speed times cross-section; University of California, maintenance of microirrigation
    systems.
    """
    return flush_speed * cross_section(inside) * 60000


@calculation(
    "MESHOPENING",
    example=((120,), 125),
    empirical="a table turns the number of a mesh into an opening",
)
def mesh_opening(mesh: Number) -> Micrometre:
    """Opening of a screen by its mesh number, as test sieves have it.

    A filter's own sheet may state another opening: wires of other thickness leave other holes.
    Source: ASTM E11, nominal openings by sieve number.
    """
    return look_up("sieves", "opening", mesh)


@calculation("FILTEROPENING", example=((0.8, 8), 100))
def filter_opening(passage: Millimetre, passage_part: Number) -> Micrometre:
    """Widest opening of a filter that guards an emitter's smallest passage.

    A seventh to a tenth of the passage is common practice, since grains that pass singly can
    bridge; follow the emitter's own sheet first.
    Source: Victoria DPI note AG0136 asks for an eighth, or a fifth with regular chlorination.
    """
    return passage * 1000 / passage_part
