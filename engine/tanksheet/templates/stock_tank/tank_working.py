"""Whether the stock stays clear and all fits, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.feed import feed_ph
from tanksheet.calc.saturation import saturation
from tanksheet.subset import begins, floor, helper, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.product_working import NO_FIGURE
from tanksheet.templates.recipe.tank_working import dicalcium_near
from tanksheet.templates.working import MEND

# More of an ion than any stock holds, mmol/L, up to which the calculations reach.
MOST = 20000.0
# g of dry fertilizer in a litre beyond which no stock is: calcium nitrate at 40 degrees C.
HEAVIEST = 1500.0
# pH taken for a tank of which only labels are known: that of a feed, where little settles unseen.
LABEL_PH = 6.0
# pH of the water before anything is in it; alkalinity weighs, its pH hardly.
WATER_PH = 7.5


# one product in its tank


def limit_of(product: Any, temperature: Any, own: Any, density_used: Any) -> Any:
    """Grams of it in a litre of saturated stock: by the list, as typed, or the liquid itself."""
    if product != "":
        if look_up("saturation", "at_20", product) == 0:
            return NO_FIGURE
        return saturation(product, temperature)
    if own != "":
        return own
    return density_used * 1000 if is_number(density_used) else NO_FIGURE


def share_of(mass: Any, tank: Any, limit: Any) -> Any:
    """Percent of what a saturated stock holds."""
    if mass == 0:
        return 0
    if limit == NO_FIGURE:
        return NO_FIGURE
    return mass / tank / limit * 100


def room_of(mass: Any, tank: Any, density_used: Any) -> Any:
    """Percent of the tank that it fills; a dry one counts by the heaviest stock there is."""
    if is_number(density_used):
        return mass / density_used / 1000 / tank * 100
    return mass / tank / HEAVIEST * 100


def ion_of(column: str) -> Any:
    """mmol/L, which only the list of products tells."""

    def amount(product: Any, mass: Any, tank: Any) -> Any:
        if mass == 0 or product == "":
            return 0
        moles = mass / tank * look_up("fertilizers", column, product)
        return max(-MOST, min(MOST, 1000 * moles / look_up("fertilizers", "molar_mass", product)))

    return amount


def ion_or_label(column: str, weight: float) -> Any:
    """mmol/L by the list of products, or from the label: its sulfur counts as sulfate."""

    def amount(product: Any, mass: Any, tank: Any, content: Any) -> Any:
        if mass == 0:
            return 0
        if product == "":
            return min(MOST, mass / tank * content * 10 / weight)
        moles = mass / tank * look_up("fertilizers", column, product)
        return min(MOST, 1000 * moles / look_up("fertilizers", "molar_mass", product))

    return amount


def unlisted(product: Any, mass: Any) -> Any:
    """1 for a product that is used and known by its label only."""
    return 1 if mass > 0 and product == "" else 0


def unbearable(product: Any, mass: Any, ph: Any) -> Any:
    """1 where the tank is too acid for a product, 2 where it is not acid enough, else 0."""
    if mass == 0 or product == "":
        return 0
    lowest = look_up("fertilizers", "ph_low", product)
    if ph < lowest and lowest > 0:
        return 1
    return 2 if ph > look_up("fertilizers", "ph_high", product) else 0


# both together


def both(one: Any, two: Any) -> Any:
    return max(-MOST, min(MOST, one + two))


def with_water(weight: float) -> Any:
    """Both products and the mg/L in the water, for an ion of so many g/mol."""

    def amount(one: Any, two: Any, water: Any) -> Any:
        return min(MOST, one + two + water / weight)

    return amount


def tank_ph(
    by_label: Any,
    alkalinity: Any,
    temperature: Any,
    hydrogen: Any,
    bicarbonate: Any,
    phosphate: Any,
    ammonium: Any,
    sulfate: Any,
    silicate: Any,
    borate: Any,
    calcium: Any,
    magnesium: Any,
    strength: Any,
) -> Any:
    """By FERT.FEEDPH; LABEL_PH where a label is all there is."""
    if by_label > 0:
        return LABEL_PH
    return feed_ph(
        alkalinity,
        WATER_PH,
        temperature,
        hydrogen,
        bicarbonate,
        phosphate,
        ammonium,
        sulfate,
        silicate,
        borate,
        calcium,
        magnesium,
        strength,
    )


def near_lime_phosphate(calcium: Any, phosphate: Any, ph: Any, strength: Any) -> Any:
    """The index of calcium phosphate at the highest pH that the tank may have."""
    return dicalcium_near(calcium, phosphate, ph, "", strength)


def kinds_of(mass_1: Any, mass_2: Any) -> Any:
    first = 1 if mass_1 > 0 else 0
    return first + 1 if mass_2 > 0 else first


# verdicts


def fits_verdict(room_1: Any, room_2: Any, mass_1: Any, mass_2: Any, tank: Any) -> Any:
    if is_error(room_1) or is_error(room_2):
        return MEND
    if mass_1 + mass_2 == 0:
        return "not used: no product in the tank"
    if room_1 + room_2 > 100:
        heavy = shown((mass_1 + mass_2) / tank / 1000, 2)
        return (
            f"stop: {heavy} kg of fertilizer do not fit in each litre of tank; take a smaller ratio"
        )
    return "pass: the fertilizer fits in the tank"


@helper
def counted(share: Any) -> Any:
    return share if is_number(share) else 0


@helper
def smaller_ratio(ratio: Any, total: Any, crystals: Any) -> Any:
    """The largest ratio that is well clear, where all grows in step with the ratio; which the
    nearest salt of two products does not."""
    largest = floor(ratio * 85 / max(1, total) + 1e-9)
    if largest < 1 or crystals > 85:
        return "a smaller ratio"
    return f"set 1 : {shown(largest, 0)} at most"


def dissolves_verdict(
    share_1: Any, share_2: Any, crystals: Any, temperature: Any, ratio_set: Any
) -> Any:
    if is_error(share_1) or is_error(share_2) or is_error(temperature) or is_error(crystals):
        return MEND
    total = counted(share_1) + counted(share_2)
    said = f"{shown(total, 0)} % of what the stock holds at {shown(temperature, 1)} degrees C"
    if total > 100:
        return f"stop: {said}; {smaller_ratio(ratio_set, total, crystals)}, or a warmer tank"
    if crystals > 120:
        return (
            f"stop: a salt of both crystallizes, at {shown(crystals, 0)} % of its own saturation; "
            "two tanks, or a smaller ratio"
        )
    if not is_number(share_1):
        return "not checked: how much of product 1 dissolves; choose it from the list, or type it"
    if not is_number(share_2):
        return "not checked: how much of product 2 dissolves; choose it from the list, or type it"
    if total == 0:
        return "not used: no product in the tank"
    if max(total, crystals) > 85:
        cure = smaller_ratio(ratio_set, total, crystals)
        near = f"the nearest salt at {shown(crystals, 0)} %"
        return f"caution: {said}, {near}; mind a cold night: {cure}"
    return f"pass: {said}"


def clash_verdict(
    mass_1: Any, mass_2: Any, bears_1: Any, bears_2: Any, said: Any, by_label: Any, ph: Any
) -> Any:
    if is_error(mass_1) or is_error(mass_2) or is_error(ph) or is_error(said):
        return MEND
    if mass_1 + mass_2 == 0:
        return "not used: no product in the tank"
    if begins(said, "stop"):
        return said
    if max(bears_1, bears_2) > 0:
        return of_ph(bears_1, bears_2, ph)
    return unchecked_or_clear(min(mass_1, mass_2), said, by_label)


@helper
def of_ph(bears_1: Any, bears_2: Any, ph: Any) -> Any:
    """What the tank's pH does to a product."""
    if bears_1 == 1 or bears_2 == 1:
        return f"stop: at pH {shown(ph, 1)} the tank is too acid for a product in it; two tanks"
    return f"caution: a product does not hold at pH {shown(ph, 1)}; two tanks"


@helper
def unchecked_or_clear(less: Any, said: Any, by_label: Any) -> Any:
    if said != "":
        return said
    if less == 0:
        return "pass: one product alone"
    if by_label > 0:
        return (
            "not checked: what a label does not tell, such as acid, carbonate or chlorine; choose "
            "the products from the list"
        )
    return "pass: nothing settles, and they do not react"
