"""The working of the recipe workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.conductivity import conductivity
from tanksheet.calc.convert import unit_factor
from tanksheet.calc.water import alkalinity_meq, solubility
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import (
    check,
    dot,
    is_error,
    is_number,
    rounded,
    shown,
)
from tanksheet.tables import is_listed, look_up
from tanksheet.units import QUANTITIES

TANKS = ("A", "B", "C")
MOST = 1e7  # of any unit: more is a slip
MOST_WANTED = QUANTITIES["target"].high
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
    check(amount >= 0 and amount <= MOST, "the amount must be at least 0 and at most 10,000,000")
    check(unit != "", "choose a unit from the list", NotListed)
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
    if is_error(strength):
        return "stop: mend the product, its tank, amount or unit"
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
    check(target >= 0 and target <= MOST_WANTED, "a target must be from 0 to 1,000,000 mg/L")
    return "" if target == 0 else (total / target - 1) * 100


def target_verdict(target: Any, off: Any, tolerance: Any) -> Any:
    if is_error(off):
        return "stop: mend the target, or leave it blank, and the products"
    if target == "" or target == 0:
        return "no target"
    size = rounded(abs(off), 1)
    if size <= tolerance:
        return f"pass: within {shown(tolerance, 1)} %"
    word = "over" if off > 0 else "under"
    if size <= 2.5 * tolerance:
        return f"caution: {shown(size, 1)} % {word}"
    return f"stop: {shown(size, 1)} % {word}"


def acid_given(doses: Any, hydrogen: Any) -> Any:
    """meq/L of acid (+) or base (-) that the products bring."""
    return dot(doses, hydrogen)


def alkalinity_left(water_alkalinity: Any, feed_bicarbonate: Any, acid: Any) -> Any:
    return max(0, alkalinity_meq(water_alkalinity) + feed_bicarbonate - acid)


def feed_ion(doses: Any, per_gram: Any) -> Any:
    return dot(doses, per_gram)


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
