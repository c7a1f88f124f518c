"""The working of the recipe workbook's sheet Cost, in the subset that compiles to formulas.

A total is a number only where every product in use has a price: else it is "not given". Money is
rounded to the hundredth, half up, as ``batch/money`` rounds it: packs are whole, each product's
packs times its price is a sum that somebody pays, and the bill adds those up. What a fill or a
litre of feed costs is nobody's bill, so it is rounded once, at the end.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import (
    among,
    before,
    check,
    dot,
    helper,
    is_error,
    is_number,
    nth,
    position,
    rounded,
    shown,
    sum_where,
)
from tanksheet.templates.recipe.working import is_words, mass_of
from tanksheet.units import QUANTITIES, Number, Quantity

PACK = Quantity(Number, "what a pack holds, in its unit", 0, 1e9, above=True)
PRICE = QUANTITIES["pack_price"]
PRICE_SHOWN = "#,##0.00##"
_METRIC, _US = ("kg", "g", "t", "L", "mL"), ("lb", "oz", "short ton", "gal", "fl oz")
PACK_UNITS = {"metric": (*_METRIC, *_US), "us": (*_US, *_METRIC)}
NOT_GIVEN = "not given"
MORE = 1 + 1e-14  # a half is rounded up, whatever the last bits of a product say
MOST_PRICE = PRICE.high
MOST_PACK = QUANTITIES["pack"].high  # kg


# the pack and the price of one


@helper
def price_typed(price: Any) -> Any:
    check(is_number(price), "a price must be a number", NotANumber)
    check(price >= 0 and price <= MOST_PRICE, "a price must be at least 0")
    return price


@helper
def pack_typed(size: Any, unit: Any, density: Any) -> Any:
    """Kilograms of a pack, whether by weight or, of a liquid, by volume."""
    check(is_number(size), "what a pack holds must be a number", NotANumber)
    check(size > 0, "what a pack holds must be above 0")
    check(unit != "", "choose a unit from the list", NotListed)
    held = mass_of(size, unit, density) / 1000
    check(held <= MOST_PACK, "no pack holds a thousand tonnes")
    return held


def own_price(price: Any) -> Any:
    """The price of an own product's pack; a blank stays one."""
    return "" if price == "" else price_typed(price)


def own_pack(size: Any, unit: Any, density: Any) -> Any:
    return "" if size == "" else pack_typed(size, unit, density)


def price_here(price: Any, size: Any, product: Any, own_names: Any, own_prices: Any) -> Any:
    """The price of a pack: as typed, else that of My products, which goes with the pack there."""
    if price != "":
        return price_typed(price)
    if size != "" or product == "":
        return ""
    return nth(own_prices, position(product, own_names)) if among(product, own_names) else ""


def pack_here(
    size: Any, unit: Any, product: Any, density: Any, own_names: Any, own_packs: Any
) -> Any:
    """Kilograms of a pack: as typed, else as on My products."""
    if product == "":
        return ""
    if size != "":
        return pack_typed(size, unit, density)
    return nth(own_packs, position(product, own_names)) if among(product, own_names) else ""


def price_of_kg(price: Any, pack: Any) -> Any:
    return "" if price == "" or pack == "" else price / pack


def priced_name(product: Any, kg_price: Any) -> Any:
    """The product of a row that gives its price."""
    if is_error(product) or is_error(kg_price):
        return ""
    return product if is_number(kg_price) else ""


def of_product(product: Any, priced: Any, figures: Any) -> Any:
    """The figure of the first row that prices this product, or a blank."""
    if product == "":
        return ""
    return nth(figures, position(product, priced)) if among(product, priced) else ""


# which rows count


def name_in_use(product: Any, mass: Any) -> Any:
    if is_error(product) or is_error(mass):
        return ""
    return product if mass > 0 else ""


def one_if_used(name: Any) -> Any:
    return 0 if name == "" else 1


def lacks(product: Any, mass: Any, name: Any, kg_price: Any, kg_used: Any) -> Any:
    """ "lacks" where a row is in use, or may be, and its price is not known."""
    if is_error(product) or is_error(mass):
        return "lacks"
    if name == "":
        return ""
    if is_error(kg_price) or not is_number(kg_used):
        return "lacks"
    if is_number(kg_price):
        return "" if kg_price == kg_used else "lacks"
    return ""


def called(row: int) -> Any:
    """What a row is called: its product, or its number where that is none."""

    def name(product: Any) -> Any:
        return f"row {shown(row, 0)}" if is_error(product) else product

    return name


def row_said(
    product: Any, mass: Any, name: Any, price: Any, pack: Any, kg_price: Any, kg_used: Any
) -> Any:
    """What a row's price lacks, beside it."""
    if is_error(product) or is_error(mass):
        return "not given: mend it on Recipe"
    if name == "":
        return ""
    if is_error(price):
        return "not given: price, 0 or more"
    if is_error(pack):
        return "not given: weight of a pack"
    if is_error(kg_price):
        return "not given: weight of a pack"
    if is_number(kg_used):
        if is_number(kg_price):
            return "" if kg_price == kg_used else "not given: two prices, above too"
        return ""
    if price == "":
        return "not given: price and pack" if pack == "" else "not given: price of this pack"
    return "not given: what a pack holds"


def cost_verdict(lacking: Any, ones: Any, used: Any, names: Any) -> Any:
    gaps = sum_where(lacking, "lacks", ones)
    if gaps > 1:
        return (
            f"not given: the price of {nth(names, position('lacks', lacking))} and of "
            f"{shown(gaps - 1, 0)} more; see their rows below"
        )
    if gaps > 0:
        return (
            f"not given: the price of {nth(names, position('lacks', lacking))}; see its row below"
        )
    if dot(used, used) == 0:
        return "not used: no product is in use"
    return "pass: every product in use has its price"


# what it costs


@helper
def as_money(amount: Any) -> Any:
    return rounded(amount * MORE, 2)


def fill_cost(name: Any, mass: Any, kg_used: Any) -> Any:
    """Of one product, or a blank."""
    if name == "" or not is_number(kg_used):
        return ""
    return as_money(mass / 1000 * kg_used)


@helper
def is_priced(verdict: Any) -> Any:
    return before(verdict, ":") == "pass"


def cost_of_fill(verdict: Any, masses: Any, kg_used: Any) -> Any:
    if not is_priced(verdict):
        return NOT_GIVEN
    return as_money(dot(masses, kg_used) / 1000)


def cost_of_litre(verdict: Any, doses: Any, kg_used: Any) -> Any:
    """Of a litre of feed, not rounded; a blank where a price is missing."""
    return dot(doses, kg_used) / 1000 if is_priced(verdict) else ""


def cost_of_volume(litres: float) -> Any:
    """Of a volume of feed."""

    def cost(a_litre: Any) -> Any:
        return as_money(a_litre * litres) if is_number(a_litre) else NOT_GIVEN

    return cost


CUBIC_METRE, THOUSAND_GALLONS = 1000.0, float(convert(1000, "gal", "L"))


def cost_of_season(a_litre: Any, season: Any) -> Any:
    if not is_number(a_litre) or not is_number(season):
        return NOT_GIVEN
    return as_money(a_litre * season)


# words


def currency_said(typed: Any) -> Any:
    """The word for money, or nothing."""
    if not is_words(typed):
        return ""
    return "" if typed == "" else typed


def tile_cost(overall: Any, cost: Any, currency: Any) -> Any:
    """What a fill costs, for the answer block; empty where nobody should mix it."""
    if is_error(overall) or not is_number(cost):
        return ""
    return "" if before(overall, ":") == "stop" else f"{shown(cost, 2)} {currency}"
