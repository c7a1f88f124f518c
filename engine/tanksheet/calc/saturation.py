"""What a stock can hold of one product, like for like: grams in a litre of finished stock."""

from __future__ import annotations

from tanksheet.calc.water import between
from tanksheet.definition import calculation
from tanksheet.errors import NotListed
from tanksheet.subset import check
from tanksheet.tables import look_up
from tanksheet.units import Celsius, GramPerL, Word


@calculation(
    "SATURATION",
    example=(("magnesium sulfate heptahydrate", 20), 661),
    empirical="the figures of the table carry the unit g/L",
)
def saturation(fertilizer: Word, table_celsius: Celsius) -> GramPerL:
    """How many grams of a product one litre of stock can hold.

    Per litre of finished, saturated stock, for the product as sold, crystals with their water: what
    to set a tank's grams per litre against. Each product alone; salts that share an ion hold each
    other back. For acids and liquids it is their own density, since any amount of them mixes with
    water. Interpolated between 0, 10, 20, 30 and 40 degrees C, no answer outside nor for a product
    without a figure.
    Source: mass percent at saturation times density, sources by row in data/saturation.csv.
    """
    at_0 = look_up("saturation", "at_0", fertilizer)
    at_10 = look_up("saturation", "at_10", fertilizer)
    at_20 = look_up("saturation", "at_20", fertilizer)
    at_30 = look_up("saturation", "at_30", fertilizer)
    at_40 = look_up("saturation", "at_40", fertilizer)
    check(at_0 > 0, "no saturation figure is listed for this product", NotListed)
    if table_celsius <= 10:
        return between(table_celsius, 0, at_0, at_10)
    if table_celsius <= 20:
        return between(table_celsius, 10, at_10, at_20)
    if table_celsius <= 30:
        return between(table_celsius, 20, at_20, at_30)
    return between(table_celsius, 30, at_30, at_40)
