"""The working of how much thinner a tank would have to be, in the subset that compiles."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.subset import ceil, floor, helper, is_error, log, power, sum_where
from tanksheet.templates.recipe.tank_working import crystals_of

# Percent of what dissolves that a tank is thinned to: the rules speak up above 85, and weights are
# rounded to the scale.
CLEAR = 84.5
# Limits of the other rules that thinning helps, a little within them: percent, percent, mmol/L.
FITS, POURED, SOUR = 148, 97, 1980


def way_of(typed: Any, worked: Any, tank_a: Any, tank_b: Any, tank_c: Any) -> Any:
    """What thins a stock: the ratio where amounts are worked out, the tank where they are typed;
    "split" where some are typed, so that neither can be told; "none" where even another tank would
    change what arrives."""
    if typed == 0:
        return "ratio"
    if tank_a != tank_b or tank_b != tank_c:
        return "none"
    return "tank" if worked == 0 else "split"


def one_if_typed(used: Any, free: Any) -> Any:
    if is_error(used) or is_error(free):
        return 0
    return 1 if used > 0 and free == 0 else 0


def one_if_worked(used: Any, free: Any) -> Any:
    if is_error(used) or is_error(free):
        return 0
    return 1 if used > 0 and free > 0 else 0


def raw(letter: str) -> Any:
    """What the products would bring to a tank, as strong as they are now."""

    def total(tanks: Any, amounts: Any) -> Any:
        return sum_where(tanks, letter, amounts)

    return total


@helper
def part_of(limit: Any, amount: Any) -> Any:
    """By how much an amount is to be thinned to come down to a limit."""
    return limit / amount if amount > limit else 1


def first_scale(share: Any, all_shares: Any, traces: Any, liquids: Any, acid: Any) -> Any:
    """By how much a tank is to be thinned for all that grows with what is in it."""
    own = min(part_of(CLEAR, share), part_of(FITS, all_shares), part_of(CLEAR, traces))
    return min(own, part_of(POURED, liquids), part_of(SOUR, acid))


def crystals_at(
    scale: Any,
    calcium: Any, magnesium: Any, potassium: Any, sodium: Any, ammonium: Any, nitrate: Any,
    sulfate: Any, chloride: Any, carbonate: Any, phosphate: Any, urea: Any, borate: Any,
    thiosulfate: Any,
    water_calcium: Any, water_magnesium: Any, water_potassium: Any, water_sodium: Any,
    water_ammonium: Any, water_nitrate: Any, water_sulfate: Any, water_chloride: Any,
    water_alkali: Any, temperature: Any, kinds: Any,
) -> Any:  # fmt: skip
    """Percent of the nearest mixed salt in a tank thinned so far, the water undiminished."""
    if kinds <= 1:
        return 0
    return crystals_of(
        calcium * scale + water_calcium,
        magnesium * scale + water_magnesium,
        potassium * scale + water_potassium,
        sodium * scale + water_sodium,
        ammonium * scale + water_ammonium,
        nitrate * scale + water_nitrate,
        sulfate * scale + water_sulfate,
        chloride * scale + water_chloride,
        carbonate * scale + water_alkali,
        phosphate * scale,
        urea * scale,
        borate * scale,
        thiosulfate * scale,
        temperature,
        kinds,
    )


def second_scale(first: Any, crystals: Any) -> Any:
    return first * part_of(CLEAR, crystals)


def third_scale(first: Any, crystals: Any, second: Any, then: Any) -> Any:
    """Along the curve through both, as a power: to what just passes."""
    if crystals <= CLEAR:
        return second
    if then <= 0 or then >= crystals:
        return second
    steep = log(crystals / then) / log(first / second) if second < first else 1
    return second * power(CLEAR / then, 1 / steep)


def ratio_then(way: Any, ratio: Any, a: Any, b: Any, c: Any) -> Any:
    """The largest ratio at which all tanks are thin enough, as a person sets it."""
    if way != "ratio":
        return ratio
    least = min(a, b, c)
    if least >= 1:
        return ratio
    largest = ratio * least
    return floor(largest) if largest >= 10 else floor(largest * 10) / 10


def volume_then(unit: str) -> Any:
    """The smallest tank, L, that thins typed amounts enough, in whole units."""

    def volume(way: Any, tank: Any, scale: Any) -> Any:
        if way != "tank" or scale >= 1:
            return tank
        return convert(ceil(convert(tank / scale, "L", unit)), unit, "L")

    return volume


def scale_then(ratio: Any, now: Any, tank: Any, volume: Any) -> Any:
    """How much thinner the stock would be."""
    return ratio / now * tank / volume


def total_then(letter: str) -> Any:
    def total(tanks: Any, amounts: Any, scale: Any) -> Any:
        return sum_where(tanks, letter, amounts) * scale

    return total


def total_then_with_water(letter: str) -> Any:
    def total(tanks: Any, amounts: Any, water: Any, scale: Any) -> Any:
        return sum_where(tanks, letter, amounts) * scale + water

    return total


def share_then(share: Any, scale: Any) -> Any:
    return share * scale
