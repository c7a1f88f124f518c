"""The stock tank: what to weigh or pour, and what then arrives at the emitter."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.units import Gram, KgPerL, Litre, MgPerL, Parts, Percent


@calculation("STOCKMASS", example=((150, 15.5, 100, 200), 19354.8))
def stock_mass(target: MgPerL, content: Percent, ratio: Parts, tank: Litre) -> Gram:
    """Fertilizer to weigh out for one tank of stock solution.

    ``content`` is the percent of the nutrient you target; where the label prints an oxide (P2O5,
    K2O), convert it by FERT.ELEMENT first. The tank is the volume of finished stock, so fill up
    to the mark after the fertilizer is in.
    Source: mass balance over the injector; in US units the extension rule
    ounces per gallon = ppm x ratio / (percent x 75).
    """
    return target * ratio * tank / (content * 10)


@calculation("LIQUIDVOLUME", example=((150, 32, 1.3253, 100, 200), 7.07387))
def liquid_volume(
    target: MgPerL, content: Percent, density: KgPerL, ratio: Parts, tank: Litre
) -> Litre:
    """Liquid fertilizer to pour for one tank of stock solution.

    The label's percent is by weight, so the density on the label is needed as well.
    Source: the mass of FERT.STOCKMASS over the density.
    """
    return stock_mass(target, content, ratio, tank) / (density * 1000)


@calculation("DELIVERED", example=((19354.8, 15.5, 100, 200), 150))
def delivered(mass: Gram, content: Percent, ratio: Parts, tank: Litre) -> MgPerL:
    """Concentration at the emitter from what is in the tank.

    The check on FERT.STOCKMASS, and the way to see what else a fertilizer brings.
    Source: mass balance over the injector.
    """
    return mass * content * 10 / (ratio * tank)
