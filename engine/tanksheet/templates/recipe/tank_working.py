"""The working of the recipe workbook's tanks: what each holds, its pH, what it could throw down."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.acidity import at_temperature, log_single
from tanksheet.calc.crystals import crystal_share
from tanksheet.calc.feed import AMMONIUM, AMMONIUM_HEAT
from tanksheet.calc.mixing import (
    dicalcium_index,
    dicalcium_settling,
)
from tanksheet.calc.struvite import struvite_settling
from tanksheet.subset import (
    among,
    dot,
    helper,
    is_error,
    is_number,
    nth,
    position,
    power,
    smallest,
    sum_where,
)
from tanksheet.tables import look_up
from tanksheet.templates.recipe.ph_working import ROUGH

# How far the pH of a tank that is worked out may be off, up to ROUGH and beyond, and the range of
# the settling functions.
PH_DOUBT, ROUGH_DOUBT, LOWEST, HIGHEST = 0.25, 0.4, 1, 10
AMMONIA_MASS = 0.01703  # g/mmol


def ionic_of_product(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    bicarbonate: Any,
    phosphate: Any,
) -> Any:
    """Half the sum of concentration times charge squared, mmol/L."""
    singles = potassium + sodium + ammonium + nitrate + chloride + bicarbonate + phosphate
    return (4 * (calcium + magnesium + sulfate) + singles) / 2


def total(letter: str) -> Any:
    """What the products of a tank bring of something."""

    def tank_total(tanks: Any, amounts: Any) -> Any:
        return sum_where(tanks, letter, amounts)

    return tank_total


def total_with_water(letter: str) -> Any:
    """What a tank holds of an ion, mmol/L: its products', and that of the water that fills it."""

    def tank_total(tanks: Any, amounts: Any, water: Any) -> Any:
        return sum_where(tanks, letter, amounts) + water

    return tank_total


def singles_of(potassium: Any, sodium: Any, ammonium: Any) -> Any:
    return potassium + sodium + ammonium


def anions_of(nitrate: Any, chloride: Any, carbonate: Any, phosphate: Any) -> Any:
    return nitrate + chloride + carbonate + phosphate


@helper
def within(ph: Any) -> Any:
    return min(HIGHEST, max(LOWEST, ph))


@helper
def lime_of(alkalinity: Any, bicarbonate: Any, alkali: Any, acid: Any) -> Any:
    """Carbonate that can settle, mmol/L: two bicarbonates make one, and acid takes it away."""
    carbonate = alkalinity + bicarbonate
    return max(0, min(carbonate, (carbonate + alkali - acid) / 2))


def nitric_of(acid: Any, nitrate: Any) -> Any:
    return min(acid, nitrate)


def dicalcium_of(calcium: Any, phosphate: Any, ph: Any, strength: Any) -> Any:
    if min(calcium, phosphate) == 0:
        return 0
    return dicalcium_settling(calcium, phosphate, within(ph), strength)


@helper
def dicalcium_near(calcium: Any, phosphate: Any, ph: Any, typed: Any, strength: Any) -> Any:
    """The index at the highest pH that the tank may have."""
    doubt = ROUGH_DOUBT if strength > ROUGH else PH_DOUBT
    highest = ph + doubt if typed == "" else ph
    return dicalcium_index(calcium, phosphate, within(highest), strength)


def struvite_of(magnesium: Any, ammonium: Any, phosphate: Any, ph: Any, strength: Any) -> Any:
    """Struvite, g/L."""
    return struvite_settling(magnesium, ammonium, phosphate, within(ph), strength) / 1000


def ammonia_of(ammonium: Any, ph: Any, temperature: Any, strength: Any) -> Any:
    """Free ammonia, g/L. Cold and salts hold ammonium together."""
    held = log_single(strength / 1000, temperature)
    pk = at_temperature(AMMONIUM, AMMONIUM_HEAT, temperature) - held
    return AMMONIA_MASS * ammonium / (1 + power(10, pk - ph))


@helper
def crystals_of(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    carbonate: Any,
    phosphate: Any,
    urea: Any,
    borate: Any,
    thiosulfate: Any,
    temperature: Any,
    kinds: Any,
) -> Any:
    """How near a tank of several products is to settling its nearest salt, percent; one product
    alone is judged by its own solubility."""
    if kinds <= 1:
        return 0
    return crystal_share(
        calcium,
        magnesium,
        potassium,
        sodium,
        ammonium,
        nitrate,
        sulfate,
        chloride + 2 * thiosulfate,
        carbonate,
        phosphate,
        urea,
        borate,
        temperature,
    )


# of each product in its tank


def one_if_used(strength: Any) -> Any:
    """1 for a product that is in a tank."""
    if is_error(strength):
        return 0
    return 1 if strength > 0 else 0


def one_if_faulty(strength: Any) -> Any:
    return 1 if is_error(strength) else 0


def letter_if_faulty(tank: Any, faulty: Any) -> Any:
    return tank if faulty > 0 else ""


def one_if_unknown(enough: float) -> Any:
    """1 for a product in a tank whose ions nobody gave, or its solubility where there is enough
    of it."""

    def unknown(strength: Any, known: Any, share: Any) -> Any:
        if is_error(strength):
            return 0
        if strength == 0:
            return 0
        if is_error(known):
            return 1
        if known == 0:
            return 1
        if is_number(share):
            return 0
        return 1 if strength > enough else 0

    return unknown


def share_or_nothing(share: Any) -> Any:
    return share if is_number(share) else 0


def share_of_trace(share: Any, metal: Any, complex_metal: Any, borate: Any, silicate: Any) -> Any:
    """The share of a product that is outside FERT.CRYSTALSHARE."""
    if not is_number(share):
        return 0
    return share if metal + complex_metal + borate + silicate > 0 else 0


def liquid_share(strength: Any, density: Any) -> Any:
    """Share of its tank that a liquid fills, percent."""
    return strength / (10 * density) if density > 0 else 0


def ph_here(tank: Any, ph_a: Any, ph_b: Any, ph_c: Any) -> Any:
    """The pH of the tank that a product is in."""
    if tank == "A":
        return ph_a
    return ph_b if tank == "B" else ph_c


def one_if_too_acid(product: Any, used: Any, ph: Any) -> Any:
    """1 for a chelate in a tank more acid than it bears; thiosulfate and chlorine, which bear no
    acid either, have rules of their own."""
    if used == 0:
        return 0
    if look_up("fertilizers", "complex", product) == 0:
        return 0
    bound = look_up("fertilizers", "ph_low", product)
    return 1 if ph < bound and bound > 0 else 0


def one_if_too_alkaline(product: Any, used: Any, ph: Any) -> Any:
    """1 for a product in a tank more alkaline than it bears; 14 as its upper bound is none."""
    if used == 0:
        return 0
    bound = look_up("fertilizers", "ph_high", product)
    return 1 if ph > bound and bound < 14 else 0


def letter_if_over(limit: float) -> Any:
    """The tank's letter where an amount is above a limit, to find the product by."""

    def letter(tank: Any, amount: Any) -> Any:
        if is_error(amount):
            return ""
        if not is_number(amount):
            return ""
        return tank if amount > limit else ""

    return letter


def first_with(letter: str) -> Any:
    """The first product of a tank that brings something, or the water."""

    def named(letters: Any, products: Any) -> Any:
        if among(letter, letters):
            return nth(products, position(letter, letters))
        return "the water"

    return named


def faults_of(letter: str) -> Any:
    """Faults among a tank's products and the water; a product in no tank counts in each."""

    def faults(tanks: Any, faulty: Any, strength: Any) -> Any:
        found = dot(faulty, faulty)
        found = found - sum_where(tanks, "A", faulty) - sum_where(tanks, "B", faulty)
        found = found - sum_where(tanks, "C", faulty) + sum_where(tanks, letter, faulty)
        return max(1, found) if is_error(strength) else found

    return faults


def share_in(letter: str) -> Any:
    """A product's share of its saturated stock if it is in this tank, else 0."""

    def share_here(tank: Any, share: Any) -> Any:
        if not is_number(share):
            return 0
        return share if tank == letter else 0

    return share_here


def largest(count: int) -> Any:
    """The largest of so many numbers."""

    def greatest(shares: Any) -> Any:
        return smallest(shares, count)

    return greatest
