"""What the stock tank asks of the table of clashes, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import floor, is_error, nth
from tanksheet.templates.recipe.reason_working import NOTHING
from tanksheet.templates.recipe.working import copper_of, iron_of, urea_of
from tanksheet.templates.working import MEND


def urea_in(product: Any, mass: Any, tank: Any) -> Any:
    """mmol/L of urea."""
    return 0 if mass == 0 else mass / tank * urea_of(product)


def iron_in(product: Any, mass: Any, tank: Any) -> Any:
    """mmol/L of iron that no chelate holds."""
    return 0 if mass == 0 else mass / tank * iron_of(product)


def copper_in(product: Any, mass: Any, tank: Any) -> Any:
    """mmol/L of copper that no chelate holds."""
    return 0 if mass == 0 else mass / tank * copper_of(product)


# What the list tells only in percent.
BY_FUNCTION = {"urea": urea_in, "iron": iron_in, "copper": copper_in}


def first_with(amount_in_1: Any, amount_in_2: Any, product_1: Any, product_2: Any) -> Any:
    """Which of the two brings something, by its name in the list or its number; or the water."""
    if is_error(amount_in_1) or is_error(amount_in_2):
        return "product 1"
    if amount_in_1 > 0:
        return "product 1" if product_1 == "" else product_1
    if amount_in_2 > 0:
        return "product 2" if product_2 == "" else product_2
    return "the water"


def said_of(worst: Any, words: Any) -> Any:
    """What the worst rule of the table says, or a blank."""
    if is_error(worst):
        return MEND
    if worst == NOTHING:
        return ""
    return nth(words, worst - 100 * floor(worst / 100))
