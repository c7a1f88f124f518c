"""The working of the recipe workbook's products, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import unit_factor
from tanksheet.calc.saturation import saturation
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import (
    among,
    before,
    check,
    helper,
    is_error,
    is_number,
    nth,
    position,
    shown,
)
from tanksheet.tables import is_listed, look_up
from tanksheet.units import QUANTITIES

TANKS = ("A", "B", "C")
MOST = 1e7  # of any unit: more is a slip
OWN_LABEL = "own label"  # basis of a product that a person typed from its label
MOST_WANTED = QUANTITIES["target"].high
# Molar masses in g/mol, IUPAC abridged: from mg/L of a water report to mmol/L.
N, K, CA, MG, S, NA, CL = 14.007, 39.0983, 40.078, 24.305, 32.06, 22.98977, 35.45
P, FE, CU = 30.97376, 55.845, 63.546
# g/L of a product without a solubility figure that passes without a word: common practice.
NO_FIGURE_NEEDED = 20
# mg in a gram by which ions may differ from the label: its rounding, and traces not counted.
ODD_IONS = 12


# one product


def listed_product(product: Any) -> Any:
    """The product, a blank, or #N/A for a name that is in no table."""
    if product == "":
        return ""
    check(is_listed("fertilizers", product), "choose a product from the list", NotListed)
    return product


@helper
def mass_of(amount: Any, unit: Any, density: Any) -> Any:
    """Grams of an amount, weighed or, of a liquid, poured."""
    if look_up("units", "kind", unit) == "mass":
        return amount * unit_factor(unit, "g")
    check(density > 0, "a dry product is weighed: choose a unit of mass")
    return amount * unit_factor(unit, "L") * density * 1000


def grams(product: Any, amount: Any, unit: Any) -> Any:
    """What is put in the tank, whether weighed or poured."""
    if product == "" or amount == "":
        return 0
    check(is_number(amount), "the amount must be a number", NotANumber)
    check(amount >= 0 and amount <= MOST, "the amount must be at least 0 and at most 10,000,000")
    check(unit != "", "choose a unit from the list", NotListed)
    return mass_of(amount, unit, look_up("fertilizers", "density_kgL", product))


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


def holds(product: Any, temperature: Any) -> Any:
    """Grams of a product in a litre of its saturated stock."""
    if product == "":
        return ""
    if not is_listed("saturation", product):
        return "no figure"
    if look_up("saturation", "at_0", product) > 0:
        return saturation(product, temperature)
    return "no figure"


NO_PRODUCT = "not used: no product is chosen"


def share_of_limit(strength: Any, limit: Any) -> Any:
    return strength / limit * 100 if is_number(limit) else ""


@helper
def is_words(typed: Any) -> Any:
    """Whether a cell holds words that a sentence can repeat."""
    if is_error(typed) or is_number(typed):
        return False
    return before(typed, "*") == typed


def dissolves_verdict(typed: Any, product: Any, own: Any, strength: Any, share: Any) -> Any:
    """Whether a product dissolves; a name that is in no list is called by what was typed."""
    if is_error(product):
        if not is_words(typed):
            return "stop: choose a product from the list"
        if among(typed, own):
            return f"stop: mend '{typed}' on My products"
        return f"stop: '{typed}' is not in the list; see My products"
    if is_error(strength):
        return "stop: mend the tank, amount or unit of this product"
    if product == "" or strength == 0:
        return ""
    if not is_number(share):
        return "not checked: no solubility figure; see its label"
    if share <= 85:
        return "pass: dissolves"
    if share <= 100:
        return f"caution: {shown(share, 0)} % of what it may; a cold night may bring it down"
    return f"stop: {shown(share, 0)} % of what dissolves at this temperature"


def is_read(product: Any, strength: Any) -> Any:
    """Whether a row can be read; a blank for an empty one."""
    if is_error(product) or is_error(strength):
        return "no"
    return "" if product == "" else "yes"


def products_verdict(read: Any, products: Any, said: Any) -> Any:
    """Whether every product can be read: what its row says, since all else follows from it."""
    if among("no", read):
        here = position("no", read)
        found = nth(products, here)
        if is_error(found):
            return nth(said, here)
        return f"stop: mend the tank, amount or unit of {found}; or leave its row blank"
    return "pass: every product can be read" if among("yes", read) else NO_PRODUCT


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


@helper
def urea_of(product: Any) -> Any:
    """mmol of urea from each gram of a product."""
    return 0 if product == "" else look_up("fertilizers", "n_urea", product) * 10 / (2 * N)


@helper
def iron_of(product: Any) -> Any:
    """mmol of iron that no chelate holds from each gram of a product."""
    if product == "" or look_up("fertilizers", "metal", product) == 0:
        return 0
    return look_up("fertilizers", "fe", product) * 10 / FE


@helper
def copper_of(product: Any) -> Any:
    """mmol of copper that no chelate holds from each gram of a product."""
    if product == "" or look_up("fertilizers", "metal", product) == 0:
        return 0
    return look_up("fertilizers", "cu", product) * 10 / CU


def acid_part(amount: Any) -> Any:
    return max(0, amount)


def alkali_part(amount: Any) -> Any:
    return max(0, -amount)


def ions_known(
    product: Any,
    nitrate_n: Any,
    ammonium_n: Any,
    potassium: Any,
    calcium: Any,
    magnesium: Any,
    phosphorus: Any,
    sulfur: Any,
    nitrate: Any,
    ammonium: Any,
    potassium_ion: Any,
    calcium_ion: Any,
    magnesium_ion: Any,
    phosphate: Any,
    sulfate: Any,
    thiosulfate: Any,
) -> Any:
    """1 if the ions of a product are those of its label, mg of each element in a gram of it; 0 if
    some of them are unknown: of a label on the sheet My products, which tells no acidity, and of a
    row that was typed over with a label alone."""
    if product == "":
        return 1
    if look_up("fertilizers", "basis", product) == OWN_LABEL:
        return 0
    off = (
        abs(nitrate_n * 10 - nitrate * N)
        + abs(ammonium_n * 10 - ammonium * N)
        + abs(potassium * 10 - potassium_ion * K)
        + abs(calcium * 10 - calcium_ion * CA)
        + abs(magnesium * 10 - magnesium_ion * MG)
        + abs(phosphorus * 10 - phosphate * P)
        + abs(sulfur * 10 - (sulfate + 2 * thiosulfate) * S)
    )
    return 1 if off <= ODD_IONS else 0


def one_if_unsure(strength: Any, known: Any) -> Any:
    """1 for a product in a tank whose ions nobody gave."""
    if is_error(strength):
        return 0
    if strength == 0:
        return 0
    if is_error(known):
        return 1
    return 1 - known


def word_if_unsure(unsure: Any) -> Any:
    return "unsure" if unsure > 0 else ""


def tank_if(tank: Any, amount: Any) -> Any:
    """The tank's letter where there is some of an ion, to find the product by."""
    return tank if amount > 0 else ""
