"""What a season takes to buy, in the subset that compiles to formulas: money and packs by the rules
of the recipe workbook's sheet Cost."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.cost import packs as whole_packs
from tanksheet.subset import dot, helper, is_error, is_number, nth, rounded, sum_where
from tanksheet.templates.recipe.cost_working import NOT_GIVEN, as_money, is_priced, row_said
from tanksheet.templates.recipe.order_working import left_words, needed, nutrient_words

MOST_PACKS = 1e6
ACRE = float(convert(1, "acre", "ha"))
POUND = float(convert(1, "lb", "kg"))
_needed, _row_said = helper(needed), helper(row_said)


def hand_typed(typed: Any) -> Any:
    """Packs on hand; what is no number counts as none and is told: too much is bought then, not
    too little."""
    return typed if is_packs(typed) else 0


@helper
def is_packs(typed: Any) -> Any:
    if is_error(typed) or not is_number(typed):
        return False
    return typed >= 0 and typed <= MOST_PACKS


def compared_said(edition: str) -> Any:
    """What the nutrient costs in words, or that what is on hand cannot be read."""
    said = helper(nutrient_words(edition))

    def words(typed: Any, price: Any, currency: Any, compared: Any) -> Any:
        if is_error(typed):
            return "stop: type packs on hand"
        if typed != "" and not is_packs(typed):
            return "stop: type packs on hand"
        return said(price, currency, compared)

    return words


def left_said(edition: str) -> Any:
    """What is left over in words, or that nobody can read what is on hand."""
    said = helper(left_words(edition))

    def words(typed: Any, left: Any, density: Any) -> Any:
        if is_error(typed):
            return "on hand?"
        if typed != "" and not is_packs(typed):
            return "on hand?"
        return said(left, density)

    return words


def mass_if_used(name: Any, mass: Any) -> Any:
    """Kilograms of a row's product in the season; a blank where it is not used, or an error."""
    if name == "" or not is_number(mass):
        return ""
    return mass


def need_of_season(name: Any, counted: Any, mass: Any, names: Any, masses: Any) -> Any:
    return _needed(name, counted, mass, names, masses)


def on_hand(name: Any, counted: Any, pack: Any, names: Any, hands: Any) -> Any:
    """Kilograms there are of a product, in the row that counts it; 0 where nobody knows its pack,
    so that too much is bought rather than too little."""
    if counted == 0 or not is_number(pack):
        return 0
    return sum_where(names, name, hands) * pack


def bought(need: Any, there: Any, pack: Any) -> Any:
    """Whole packs to buy; a blank where nothing is used, or nobody knows the pack."""
    if need == 0 or not is_number(pack):
        return ""
    return whole_packs(max(0, need - there), pack)


def left_over(need: Any, there: Any, pack: Any, count: Any) -> Any:
    """Kilograms left at the end, to the gram; below 0 where nothing is told."""
    if not is_number(count):
        return -1
    return max(0, rounded(there + count * pack - need, 3))


def left_or_blank(left: Any) -> Any:
    return "" if left < 0 else left


def row_said_here(
    product: Any, mass: Any, name: Any, price: Any, pack: Any, kg_price: Any, kg_used: Any
) -> Any:
    """What a row's price lacks, beside it."""
    if is_error(product) or is_error(mass):
        return "not given: mend it on Season"
    return _row_said(product, mass, name, price, pack, kg_price, kg_used)


def packs_in_all(verdict: Any, counts: Any, ones: Any) -> Any:
    return dot(counts, ones) if is_priced(verdict) else ""


def cost_of_area(edition: str) -> Any:
    """Of a hectare, or of an acre."""
    unit = ACRE if edition == "us" else 1.0

    def cost(total: Any, area: Any) -> Any:
        if not is_number(total) or not is_number(area):
            return NOT_GIVEN
        return as_money(total / area * unit)

    return cost


def cost_of_nutrient(edition: str) -> Any:
    """Of a kilogram, or a pound, of N, P2O5 and K2O together."""
    unit = POUND if edition == "us" else 1.0

    def cost(total: Any, given: Any) -> Any:
        if not is_number(total):
            return NOT_GIVEN
        major = nth(given, 1) + nth(given, 2) + nth(given, 3)
        return as_money(total / major * unit) if major > 0 else NOT_GIVEN

    return cost
