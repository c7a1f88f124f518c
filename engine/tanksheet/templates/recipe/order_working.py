"""The working of what a season's feed takes: packs to buy, what is left over, and what a nutrient
costs in each product; in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert, element
from tanksheet.calc.cost import nutrient_cost
from tanksheet.calc.cost import packs as whole_packs
from tanksheet.errors import NotListed
from tanksheet.sheets.measures import figure
from tanksheet.subset import check, dot, helper, is_number, position, rounded, shown, sum_where
from tanksheet.templates.recipe.cost_working import NOT_GIVEN, is_priced

COMPARED = ("N", "P2O5", "K2O", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "Cu", "B", "Mo")
P_SHARE, K_SHARE = float(element("P2O5", 100)) / 100, float(element("K2O", 100)) / 100
# A half is told as more, whatever the last bit of a product says: an order that falls short stops
# the work, and engines would differ in that bit.
HALF_IS_MORE = 1 + 1e-9


# packs for a season


def season_mass(name: Any, dose: Any, season: Any) -> Any:
    """Kilograms of a row's product in the feed of a season."""
    if name == "" or not is_number(dose) or not is_number(season):
        return ""
    return dose * season / 1000


def counted_here(row: int) -> Any:
    """1 in the first row that uses a product: packs are bought for all its rows together."""

    def counted(name: Any, names: Any) -> Any:
        if name == "":
            return 0
        return 1 if position(name, names) == row else 0

    return counted


def needed(name: Any, counted: Any, mass: Any, names: Any, masses: Any) -> Any:
    """Kilograms of a product for the season in the row that counts it, else 0: a number in any
    case, since steps of the words beside it are worked out whether they are shown or not."""
    if counted == 0 or not is_number(mass):
        return 0
    return sum_where(names, name, masses)


def packs_to_buy(need: Any, pack: Any) -> Any:
    if need == 0 or not is_number(pack):
        return ""
    return whole_packs(need, pack)


def left_mass(need: Any, pack: Any, count: Any) -> Any:
    """Kilograms left over, to the gram; below 0 where nothing is bought."""
    if not is_number(count):
        return -1
    return max(0, rounded(count * pack - need, 3))


def left_over(left: Any) -> Any:
    return "" if left < 0 else left


def packs_cost(count: Any, price: Any) -> Any:
    """Not ``as_money``: whole packs at a price in cents are whole cents but for the last bits, and
    its push for halves would add a cent to a bill of some thousand million."""
    if not is_number(count) or not is_number(price):
        return ""
    return rounded(count * price, 2)


def cost_of_order(verdict: Any, season: Any, costs: Any, counted: Any) -> Any:
    """The bill: each product's packs are whole cents already."""
    if not is_priced(verdict) or not is_number(season):
        return NOT_GIVEN
    return rounded(dot(costs, counted), 2)


def season_words(edition: str) -> Any:
    """A weight, or a volume of a liquid, to three figures: it is for the order, not the scale."""
    poured = helper(poured_in("L", "mL") if edition == "metric" else poured_in("gal", "fl oz"))
    weighed = helper(in_kilograms if edition == "metric" else in_pounds)

    def words(kilograms: Any, density: Any) -> Any:
        if kilograms <= 0:
            return ""
        need = kilograms * HALF_IS_MORE
        if density > 0:
            return poured(need / (density if density > 0 else 1))
        return weighed(need)

    return words


def poured_in(unit: str, small: str) -> Any:
    def words(litres: Any) -> Any:
        if litres < 1:
            return f"{figure(convert(litres, 'L', small))} {small}"
        return f"{figure(convert(litres, 'L', unit))} {unit}"

    return words


def in_kilograms(kilograms: Any) -> Any:
    return f"{figure(kilograms * 1000)} g" if kilograms < 1 else f"{figure(kilograms)} kg"


def in_pounds(kilograms: Any) -> Any:
    return f"{figure(convert(kilograms, 'kg', 'lb'))} lb"


def left_words(edition: str) -> Any:
    said = helper(season_words(edition))

    def words(left: Any, density: Any) -> Any:
        return "none" if left == 0 else said(left, density)

    return words


def need_words(edition: str) -> Any:
    said = helper(season_words(edition))

    def words(name: Any, counted: Any, need: Any, density: Any) -> Any:
        if name != "" and counted == 0:
            return "as above"
        return said(need, density)

    return words


# the price of a nutrient


@helper
def content_of_trace(
    nutrient: Any, iron: Any, manganese: Any, zinc: Any, copper: Any, boron: Any, molybdenum: Any
) -> Any:
    if nutrient == "Fe":
        return iron
    if nutrient == "Mn":
        return manganese
    if nutrient == "Zn":
        return zinc
    if nutrient == "Cu":
        return copper
    if nutrient == "B":
        return boron
    check(nutrient == "Mo", "choose a nutrient from the list", NotListed)
    return molybdenum


def compared_content(
    nutrient: Any,
    nitrogen: Any,
    phosphorus: Any,
    potassium: Any,
    calcium: Any,
    magnesium: Any,
    sulfur: Any,
    iron: Any,
    manganese: Any,
    zinc: Any,
    copper: Any,
    boron: Any,
    molybdenum: Any,
) -> Any:
    """Percent of the nutrient by which prices are compared."""
    if nutrient == "N":
        return nitrogen
    if nutrient == "P2O5":
        return phosphorus / P_SHARE
    if nutrient == "K2O":
        return potassium / K_SHARE
    if nutrient == "P":
        return phosphorus
    if nutrient == "K":
        return potassium
    if nutrient == "Ca":
        return calcium
    if nutrient == "Mg":
        return magnesium
    if nutrient == "S":
        return sulfur
    return content_of_trace(nutrient, iron, manganese, zinc, copper, boron, molybdenum)


def nutrient_price(price: Any, pack: Any, content: Any) -> Any:
    """Money for a kilogram of the nutrient; a blank where there is none of it, or no price."""
    if not is_number(price) or not is_number(pack) or not is_number(content):
        return ""
    if content <= 0 or content > 100:
        return ""
    return nutrient_cost(price, pack, content)


def nutrient_words(edition: str) -> Any:
    unit = "kg" if edition == "metric" else "lb"
    kilograms = float(convert(1, unit, "kg"))

    def words(cost: Any, currency: Any, nutrient: Any) -> Any:
        if not is_number(cost):
            return ""
        return f"{shown(cost * kilograms, 2)} {currency} a {unit} of {nutrient}"

    return words
