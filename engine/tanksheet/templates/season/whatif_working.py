"""What a season would cost at other prices, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import dot, helper, is_number, nth, sum_where
from tanksheet.templates.recipe.cost_working import as_money, is_priced
from tanksheet.templates.working import typed_number

MOST_PRICE, MOST_PERCENT = 1e12, 1000
ROWS = tuple(f"product {number}" for number in range(1, 7))


@helper
def row_of(choice: Any) -> Any:
    if choice == "product 1":
        return 1
    if choice == "product 2":
        return 2
    if choice == "product 3":
        return 3
    if choice == "product 4":
        return 4
    return 5 if choice == "product 5" else 6


def place_of(choice: Any) -> Any:
    """The row of a product, from 1."""
    return row_of(choice)


def at_place(place: Any, column: Any) -> Any:
    return nth(column, place)


def season_mass(name: Any, names: Any, masses: Any) -> Any:
    """Kilograms of a product in all its rows; 0 for one that is not in use."""
    return 0 if name == "" else sum_where(names, name, masses)


def cost_of_rest(
    verdict: Any,
    first: Any,
    second: Any,
    masses: Any,
    kg_used: Any,
    place_1: Any,
    place_2: Any,
    first_kg: Any,
    second_kg: Any,
) -> Any:
    """What all other products cost, not rounded; a blank where a price is missing, a product is
    not in use, or both are the same."""
    if not is_priced(verdict) or first == "" or second == "":
        return ""
    if first == second:
        return ""
    both = first_kg * nth(kg_used, place_1) + second_kg * nth(kg_used, place_2)
    return dot(masses, kg_used) - both


def cost_at(
    row: Any, column: Any, rest: Any, first_kg: Any, second_kg: Any, pack_1: Any, pack_2: Any
) -> Any:
    """The season at a price of the one in the row and of the other in the column."""
    if row == "" or column == "" or not is_number(rest):
        return ""
    return as_money(
        rest
        + first_kg / pack_1 * typed_number(row, 0, MOST_PRICE)
        + second_kg / pack_2 * typed_number(column, 0, MOST_PRICE)
    )


def cost_of_one(mass: Any, price: Any) -> Any:
    """What the season's use of one product costs; a blank where its price is not known."""
    return mass * price if is_number(price) else ""


def cost_of_rates(row: Any, column: Any, rest: Any, first_cost: Any, second_cost: Any) -> Any:
    """The season at percents of the rate of the one in the row and of the other in the column."""
    if row == "" or column == "" or not is_number(rest):
        return ""
    return as_money(
        rest
        + typed_number(row, 0, MOST_PERCENT) / 100 * first_cost
        + typed_number(column, 0, MOST_PERCENT) / 100 * second_cost
    )


def head_of(place: Any, name: Any) -> Any:
    return "a product that is not used" if name == "" else name


def what_is_asked(down: Any, across: Any) -> Any:
    return f"{down} down, {across} across"
