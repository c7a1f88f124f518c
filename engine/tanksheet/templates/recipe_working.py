"""The working of the recipe workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.conductivity import conductivity
from tanksheet.calc.convert import convert, unit_factor
from tanksheet.calc.mixing import (
    dicalcium_index,
    dicalcium_settling,
    gypsum_index,
    gypsum_settling,
    struvite_index,
)
from tanksheet.calc.water import alkalinity_meq, solubility
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import (
    check,
    count,
    dot,
    floor,
    helper,
    is_number,
    nth,
    position,
    shown,
    smallest,
    sum_where,
)
from tanksheet.tables import is_listed, look_up
from tanksheet.templates.wording import pounds_and_ounces

TANKS = ("A", "B", "C")
# Molar masses in g/mol, IUPAC abridged: from mg/L of a water report to mmol/L.
N, K, CA, MG, S, NA, CL = 14.007, 39.0983, 40.078, 24.305, 32.06, 22.98977, 35.45


# one product


def listed_product(product: Any) -> Any:
    """The product, a blank, or #N/A for a name that is in no table."""
    if product == "":
        return ""
    check(is_listed("fertilizers", product), "choose a product from the list", NotListed)
    return product


def grams(product: Any, amount: Any, unit: Any) -> Any:
    """What is put in the tank, whether weighed or poured."""
    if product == "" or amount == "":
        return 0
    check(is_number(amount), "the amount must be a number", NotANumber)
    check(amount >= 0 and amount <= 1e7, "the amount must be at least 0 and at most 10,000,000")
    if look_up("units", "kind", unit) == "mass":
        return amount * unit_factor(unit, "g")
    density = look_up("fertilizers", "density_kgL", product)
    check(density > 0, "a dry product is weighed: choose a unit of mass")
    return amount * unit_factor(unit, "L") * density * 1000


def in_tank(grams: Any, tank: Any, tank_a: Any, tank_b: Any, tank_c: Any) -> Any:
    """Grams in each litre of its tank."""
    if grams == 0:
        return 0
    check(tank in TANKS, "choose tank A, B or C", NotListed)
    if tank == "A":
        return grams / tank_a
    return grams / tank_b if tank == "B" else grams / tank_c


def in_feed(strength: Any, ratio: Any) -> Any:
    """Grams in each litre of feed."""
    return strength / ratio


def dissolves(product: Any, temperature: Any) -> Any:
    if product == "":
        return ""
    if is_listed("solubility", product):
        return solubility(product, temperature)
    return "no figure"


def share_of_limit(strength: Any, limit: Any) -> Any:
    return strength / limit * 100 if is_number(limit) else ""


def dissolves_verdict(product: Any, strength: Any, share: Any) -> Any:
    if product == "" or strength == 0:
        return ""
    if not is_number(share):
        return "no solubility figure: see its label"
    if share <= 70:
        return "pass: dissolves"
    if share <= 90:
        return "caution: near its limit; a cold night may bring it down"
    return f"stop: {shown(share, 0)} % of what dissolves at this temperature"


def content(column: str) -> Any:
    """What a product contains, percent, or which ions it gives: a column of the table."""

    def percent(product: Any) -> Any:
        return 0 if product == "" else look_up("fertilizers", column, product)

    return percent


def ions(column: str) -> Any:
    """mmol of an ion from each gram of a product."""

    def per_gram(product: Any) -> Any:
        if product == "":
            return 0
        moles = look_up("fertilizers", column, product)
        return 1000 * moles / look_up("fertilizers", "molar_mass", product)

    return per_gram


def times(strength: Any, per_gram: Any) -> Any:
    """mmol of an ion in each litre of the tank."""
    return strength * per_gram


def free_iron(product: Any, strength: Any, iron: Any) -> Any:
    """Iron that no chelate holds, mmol/L of the tank."""
    if product == "":
        return 0
    if look_up("fertilizers", "kind", product) == "chelate":
        return 0
    return strength * iron * 10 / 55.845


def tank_if(tank: Any, amount: Any) -> Any:
    """The tank's letter where there is some of an ion, to find the product by."""
    return tank if amount > 0 else ""


# the feed


def delivered_element(doses: Any, contents: Any) -> Any:
    return dot(doses, contents) * 10


def delivered_nitrogen(doses: Any, nitrate: Any, ammonium: Any, urea: Any) -> Any:
    return (dot(doses, nitrate) + dot(doses, ammonium) + dot(doses, urea)) * 10


def nothing() -> Any:
    return 0


def same(amount: Any) -> Any:
    return amount


def both(products: Any, water: Any) -> Any:
    return products + water


def off_target(total: Any, target: Any) -> Any:
    if target == "":
        return ""
    check(is_number(target), "a target must be a number", NotANumber)
    check(target >= 0, "a target must be at least 0")
    return "" if target == 0 else (total / target - 1) * 100


def target_verdict(target: Any, off: Any) -> Any:
    if target == "":
        return "no target"
    if not is_number(off):
        return "no target" if target == 0 else "stop: type a number, or leave it blank"
    if abs(off) <= 10:
        return "pass: on target"
    word = "over" if off > 0 else "under"
    if abs(off) <= 25:
        return f"caution: {shown(abs(off), 1)} % {word}"
    return f"stop: {shown(abs(off), 1)} % {word}"


def acid_given(doses: Any, hydrogen: Any) -> Any:
    """meq/L of acid (+) or base (-) that the products bring."""
    return dot(doses, hydrogen)


def alkalinity_left(water_alkalinity: Any, acid: Any) -> Any:
    return max(0, alkalinity_meq(water_alkalinity) - acid)


def feed_ion(doses: Any, per_gram: Any) -> Any:
    return dot(doses, per_gram)


def ec_of_products(
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
    return conductivity(
        calcium,
        magnesium,
        potassium,
        sodium,
        ammonium,
        nitrate,
        sulfate,
        chloride,
        bicarbonate,
        phosphate,
    )


def ec_of_water(
    water_n: Any,
    water_k: Any,
    water_ca: Any,
    water_mg: Any,
    water_s: Any,
    water_na: Any,
    water_cl: Any,
    water_alkalinity: Any,
) -> Any:
    return conductivity(
        water_ca / CA,
        water_mg / MG,
        water_k / K,
        water_na / NA,
        0,
        water_n / N,
        water_s / S,
        water_cl / CL,
        alkalinity_meq(water_alkalinity),
        0,
    )


def ec_of_feed(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    phosphate: Any,
    alkalinity: Any,
    water_n: Any,
    water_k: Any,
    water_ca: Any,
    water_mg: Any,
    water_s: Any,
    water_na: Any,
    water_cl: Any,
) -> Any:
    return conductivity(
        calcium + water_ca / CA,
        magnesium + water_mg / MG,
        potassium + water_k / K,
        sodium + water_na / NA,
        ammonium,
        nitrate + water_n / N,
        sulfate + water_s / S,
        chloride + water_cl / CL,
        alkalinity,
        phosphate,
    )


# the tanks


@helper
def ionic(calcium: Any, magnesium: Any, singles: Any, sulfate: Any, anions: Any) -> Any:
    """Half the sum of concentration times charge squared, mmol/L."""
    return (4 * (calcium + magnesium + sulfate) + singles + anions) / 2


def ionic_strength(calcium: Any, magnesium: Any, sulfate: Any, singles: Any, anions: Any) -> Any:
    return ionic(calcium, magnesium, singles, sulfate, anions)


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
    singles = potassium + sodium + ammonium
    return ionic(calcium, magnesium, singles, sulfate, nitrate + chloride + bicarbonate + phosphate)


def numbered(number: int) -> Any:
    opening = f"{number}  "

    def named(product: Any) -> Any:
        return f"{opening}{product}"

    return named


def no_pair() -> Any:
    return ""


def apart(
    one: Any,
    other: Any,
    tank_1: Any,
    tank_2: Any,
    calcium_1: Any,
    calcium_2: Any,
    sulfate_1: Any,
    sulfate_2: Any,
    phosphate_1: Any,
    phosphate_2: Any,
    iron_1: Any,
    iron_2: Any,
    strength_1: Any,
    strength_2: Any,
    ph_tank: Any,
) -> Any:
    """What two products would throw down if they shared a tank, each as strong as it is."""
    if one == "" or other == "":
        return ""
    calcium = calcium_1 + calcium_2
    strength = strength_1 + strength_2
    prefix = "stop: " if tank_1 == tank_2 else "apart: "
    if gypsum_index(calcium, sulfate_1 + sulfate_2, strength) > 0:
        return f"{prefix}gypsum"
    if dicalcium_index(calcium, phosphate_1 + phosphate_2, ph_tank, strength) > 0:
        return f"{prefix}phosphate"
    if (iron_1 + iron_2) * (phosphate_1 + phosphate_2) > 0:
        return f"{prefix}iron"
    return "ok"


def tank_sum(letter: str) -> Any:
    def total(tanks: Any, amounts: Any) -> Any:
        return sum_where(tanks, letter, amounts)

    return total


def tank_singles(letter: str) -> Any:
    def total(tanks: Any, potassium: Any, sodium: Any, ammonium: Any) -> Any:
        return (
            sum_where(tanks, letter, potassium)
            + sum_where(tanks, letter, sodium)
            + sum_where(tanks, letter, ammonium)
        )

    return total


def tank_anions(letter: str) -> Any:
    def total(tanks: Any, nitrate: Any, chloride: Any, bicarbonate: Any, phosphate: Any) -> Any:
        return (
            sum_where(tanks, letter, nitrate)
            + sum_where(tanks, letter, chloride)
            + sum_where(tanks, letter, bicarbonate)
            + sum_where(tanks, letter, phosphate)
        )

    return total


def tank_gypsum(calcium: Any, magnesium: Any, singles: Any, sulfate: Any, anions: Any) -> Any:
    return gypsum_settling(calcium, magnesium, singles, sulfate, anions)


def tank_phosphate(calcium: Any, phosphate: Any, ph_tank: Any, strength: Any) -> Any:
    if calcium * phosphate == 0:
        return 0
    return dicalcium_settling(calcium, phosphate, ph_tank, strength)


def tank_struvite(
    magnesium: Any, ammonium: Any, phosphate: Any, ph_tank: Any, strength: Any
) -> Any:
    return struvite_index(magnesium, ammonium, phosphate, ph_tank, strength)


def tank_verdict(letter: str) -> Any:
    def verdict(
        gypsum: Any,
        dicalcium: Any,
        struvite: Any,
        iron: Any,
        phosphate: Any,
        strength: Any,
        calcium_tanks: Any,
        sulfate_tanks: Any,
        phosphate_tanks: Any,
    ) -> Any:
        if strength == 0:
            return "empty"
        if gypsum > 0.1:
            return (
                f"stop: calcium from product {shown(position(letter, calcium_tanks), 0)} meets "
                f"sulfate from product {shown(position(letter, sulfate_tanks), 0)}: about "
                f"{shown(gypsum, 1)} g/L of gypsum would settle out"
            )
        if dicalcium > 0.1:
            return (
                f"stop: calcium from product {shown(position(letter, calcium_tanks), 0)} meets "
                f"phosphate from product {shown(position(letter, phosphate_tanks), 0)}: up to "
                f"{shown(dicalcium, 1)} g/L of calcium phosphate would settle out at this pH"
            )
        if struvite > 0:
            return "caution: magnesium, ammonium and phosphate may settle out; keep the tank acid"
        if iron * phosphate > 0:
            return "caution: iron without a chelate meets phosphate and may settle out"
        if strength > 1000:
            return "pass: nothing should settle; in so strong a stock this is only a rough guide"
        return "pass: nothing should settle"

    return verdict


# the cards


def card_head(letter: str) -> Any:
    opening = f"Tank {letter}"

    def head(tank: Any) -> Any:
        return (
            f"{opening}: {shown(tank, 1)} L ({shown(convert(tank, 'L', 'gal'), 1)} gal). Half "
            "fill with water, then add in this order, then fill up:"
        )

    return head


def order_code(letter: str, number: int) -> Any:
    """Acids first, then salts, liquids, chelates, each in the order of the list; blank if the
    product is not in this tank."""

    def code(product: Any, tank: Any, grams: Any) -> Any:
        if product == "" or grams == 0:
            return ""
        if tank != letter:
            return ""
        kind = look_up("fertilizers", "kind", product)
        if kind == "acid":
            return 100 + number
        if kind == "salt":
            return 200 + number
        return 300 + number if kind == "liquid" else 400 + number

    return code


def place_in_list(rank: int) -> Any:
    """Number of the product that goes in as the rank-th, or a blank."""

    def place(codes: Any) -> Any:
        if count(codes) < rank:
            return ""
        code = smallest(codes, rank)
        return code - 100 * floor(code / 100)

    return place


def card_line(rank: int) -> Any:
    opening = f"{rank}. "

    def line(place: Any, products: Any, masses: Any, densities: Any) -> Any:
        if place == "":
            return ""
        if nth(densities, place) > 0:
            litres = nth(masses, place) / nth(densities, place) / 1000
            return (
                f"{opening}{nth(products, place)}: pour {shown(litres, 2)} L "
                f"({shown(convert(litres, 'L', 'gal'), 2)} gal)"
            )
        return (
            f"{opening}{nth(products, place)}: weigh {shown(nth(masses, place), 1)} g "
            f"({pounds_and_ounces(nth(masses, place))})"
        )

    return line
