"""Money: whole packs to order and the price of a nutrient."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import ceil
from tanksheet.units import Kilogram, Money, MoneyPerKg, Number, Percent

# Binary fractions make 0.6 / 0.2 a hair more than 3; nobody buys a fourth pack for that.
GRAIN = 1e-9


@calculation("PACKS", example=((1290.3, 25), 52))
def packs(needed: Kilogram, pack: Kilogram) -> Number:
    """Whole packs to buy. Both masses in one unit.

    Source: quotient rounded up, less one part in a thousand million for rounding noise.
    """
    return ceil(needed / pack * (1 - GRAIN))


@calculation("NUTRIENTCOST", example=((25, 25, 15.5), 6.45161))
def nutrient_cost(pack_price: Money, pack: Kilogram, content: Percent) -> MoneyPerKg:
    """Price of one kilogram of a nutrient, to compare products of different strength.

    Source: price over mass of nutrient in the pack.
    """
    return pack_price * 100 / (pack * content)
