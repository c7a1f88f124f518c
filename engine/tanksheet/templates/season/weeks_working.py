"""The weeks of a season: what is asked for, what soil and water give, what each product is to
bring, and how it is injected; in the subset that compiles to formulas.

Products are sized in their order, each for its own nutrient after what the earlier ones bring of
it: subtraction and division, as it is done by hand. A typed amount stays.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert, element
from tanksheet.errors import NotListed
from tanksheet.subset import check, dot, helper, is_number
from tanksheet.tables import look_up
from tanksheet.templates.product_working import nitrogen_of
from tanksheet.templates.recipe.order_working import K_SHARE, P_SHARE
from tanksheet.templates.working import typed_number

WEEKS, PRODUCTS = 52, 6
NUTRIENTS = ("N", "P2O5", "K2O", "Ca", "Mg")
PPM = "ppm in the water"
RATES = ("kg/ha", "g a plant", PPM, "lb/acre", "oz a plant")
WATERS = ("m3", "mm", "gal", "in")
MOST_RATE, MOST_WATER, MOST_EVENTS, MOST_MASS = 1e6, 1e9, 100, 1e7
POUNDS_AN_ACRE = float(convert(1, "lb/acre", "kg/ha"))
OUNCE, POUND = float(convert(1, "oz", "kg")), float(convert(1, "lb", "kg"))
GALLON, INCH = float(convert(1, "gal", "m3")), float(convert(1, "in", "mm"))
# m3 of water that one millimetre is on one hectare.
MILLIMETRE = 10
LEAST_KG = 1e-9  # kg below which a difference is rounding noise


# what is asked for


def rate_factor(rates_in: Any, area: Any, plants: Any) -> Any:
    """Kilograms for one of the unit that rates are typed in; 0 where the size is not given, which
    is told elsewhere, or where they go by the water."""
    if rates_in == "kg/ha":
        return area if is_number(area) else 0
    if rates_in == "lb/acre":
        return area * POUNDS_AN_ACRE if is_number(area) else 0
    if rates_in == "g a plant":
        return plants / 1000 if is_number(plants) else 0
    if rates_in == "oz a plant":
        return plants * OUNCE if is_number(plants) else 0
    return 0


def water_factor(water_in: Any, area: Any) -> Any:
    """Cubic metres for one of the unit that water is typed in; 0 where the area is not given."""
    if water_in == "m3":
        return 1
    if water_in == "gal":
        return GALLON
    if not is_number(area):
        return 0
    return area * MILLIMETRE if water_in == "mm" else area * MILLIMETRE * INCH


def events_of(typed: Any) -> Any:
    """How many events a week has; a blank is one."""
    return 1 if typed == "" else typed_number(typed, 1, MOST_EVENTS)


def water_of(typed: Any, factor: Any) -> Any:
    """Cubic metres of a week, or a blank."""
    if typed == "":
        return ""
    return typed_number(typed, 0, MOST_WATER) * factor if factor > 0 else ""


def asked_of(rate: Any, factor: Any, rates_in: Any, water: Any) -> Any:
    """Kilograms of a nutrient that a week asks for; a blank asks for nothing."""
    if rate == "":
        return 0
    if rates_in == PPM:
        return typed_number(rate, 0, MOST_RATE) * cubic(water) / 1000
    return typed_number(rate, 0, MOST_RATE) * factor


def lacks_water(n: Any, p: Any, k: Any, ca: Any, mg: Any, water: Any) -> Any:
    """ "lacks" where a week asks for something and its water is not known."""
    if is_number(water):
        return ""
    if is_number(n) or is_number(p) or is_number(k) or is_number(ca) or is_number(mg):
        return "lacks"
    return ""


@helper
def cubic(water: Any) -> Any:
    return water if is_number(water) else 0


def soil_mass(credit: Any, area: Any) -> Any:
    """Kilograms that the soil gives the area; 0 without an area, which is told elsewhere."""
    return credit * area if is_number(area) else 0


def soil_share(soil: Any, asked: Any, ones: Any) -> Any:
    """The share of each week's rate that the soil gives: its credit is spread as the plan is."""
    total = dot(asked, ones)
    return min(1, soil / total) if total > 0 else 0


def water_credit(nutrient: str) -> Any:
    """mg/L of a nutrient in the water as labels count it, from mg/L of the element."""
    share = float(element("K2O", 100)) / 100 if nutrient == "K2O" else 1.0

    def credit(in_water: Any) -> Any:
        return in_water / share

    return credit


def nitrogen_in_water(nitrate: Any, ammonium: Any) -> Any:
    """Nitrate and ammonium, mg/L of nitrogen; where nobody looked for ammonium none counts."""
    return nitrate + ammonium if is_number(ammonium) else nitrate


def nothing() -> Any:
    return 0


def one_each() -> Any:
    return 1


def credit_of(asked: Any, share: Any, credit: Any, water: Any) -> Any:
    """Kilograms that soil and water give to a week that asks for the nutrient."""
    return asked * share + credit * cubic(water) / 1000 if asked > 0 else 0


def need_of(asked: Any, credits: Any) -> Any:
    """Kilograms that are left for products to bring."""
    return max(0, asked - credits)


# the products


def tank_chosen(product: Any, tank: Any) -> Any:
    if product == "":
        return ""
    check(tank == "A" or tank == "B" or tank == "C", "choose mix A, B or C", NotListed)
    return tank


def holds_of(nutrient: str) -> Any:
    """Percent of a nutrient in a product, as labels count it."""

    def nitrogen(product: Any) -> Any:
        return (
            0
            if product == ""
            else nitrogen_of(product) + look_up("fertilizers", "n_other", product)
        )

    def phosphate(product: Any) -> Any:
        return 0 if product == "" else look_up("fertilizers", "p", product) / P_SHARE

    def potash(product: Any) -> Any:
        return 0 if product == "" else look_up("fertilizers", "k", product) / K_SHARE

    def calcium(product: Any) -> Any:
        return 0 if product == "" else look_up("fertilizers", "ca", product)

    def magnesium(product: Any) -> Any:
        return 0 if product == "" else look_up("fertilizers", "mg", product)

    made = {"N": nitrogen, "P2O5": phosphate, "K2O": potash, "Ca": calcium, "Mg": magnesium}
    return made[nutrient]


@helper
def picked(choice: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    """What belongs to the nutrient that is chosen; 0 where none is."""
    if choice == "":
        return 0
    if choice == "N":
        return n
    if choice == "P2O5":
        return p
    if choice == "K2O":
        return k
    if choice == "Ca":
        return ca
    check(choice == "Mg", "choose a nutrient from the list", NotListed)
    return mg


def of_choice(choice: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    return picked(choice, n, p, k, ca, mg)


def share_of_need(typed: Any) -> Any:
    """Percent of what is still needed that a product is to bring; a blank is all of it."""
    return 100 if typed == "" else typed_number(typed, 0, 100)


def in_mix(letter: str) -> Any:
    def one_if(tank: Any) -> Any:
        return 1 if tank == letter else 0

    return one_if


def first_amount(pounds: bool) -> Any:
    """Kilograms of the first product in a week; typed in pounds in the US edition."""
    unit = POUND if pounds else 1

    def mass(
        own: Any,
        content: Any,
        share: Any,
        choice: Any,
        n: Any,
        p: Any,
        k: Any,
        ca: Any,
        mg: Any,
    ) -> Any:
        if own != "":
            return typed_number(own, 0, MOST_MASS) * unit
        if content == 0:
            return 0
        return sized(picked(choice, n, p, k, ca, mg), share, content)

    return mass


def next_amount(pounds: bool) -> Any:
    """The same of a later one: ``brings`` is percent of its nutrient in the earlier ones."""
    unit = POUND if pounds else 1

    def mass(
        own: Any,
        content: Any,
        share: Any,
        choice: Any,
        n: Any,
        p: Any,
        k: Any,
        ca: Any,
        mg: Any,
        earlier: Any,
        brings: Any,
    ) -> Any:
        if own != "":
            return typed_number(own, 0, MOST_MASS) * unit
        if content == 0:
            return 0
        left = picked(choice, n, p, k, ca, mg) - dot(earlier, brings) / 100
        return sized(left, share, content)

    return mass


@helper
def sized(left: Any, share: Any, content: Any) -> Any:
    return left * share / content if left > LEAST_KG else 0


def given_of(masses: Any, contents: Any) -> Any:
    """Kilograms of a nutrient that a week's products bring."""
    return dot(masses, contents) / 100


def each_event(mass: Any, events: Any) -> Any:
    return mass / events


def one_if_fed(masses: Any) -> Any:
    return 1 if dot(masses, masses) > 0 else 0


def product_of(fed: Any, events: Any) -> Any:
    return fed * events


def total_of(column: Any, ones: Any) -> Any:
    return dot(column, ones)
