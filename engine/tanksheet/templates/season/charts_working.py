"""Supply against plan and cost to date, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import dot, is_number
from tanksheet.templates.recipe.cost_working import as_money, is_priced
from tanksheet.templates.season.weeks_working import picked


def week_of(number: int) -> Any:
    def week() -> Any:
        return number

    return week


def of_nutrient(choice: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    return picked(choice, n, p, k, ca, mg)


def supplied(
    choice: Any,
    n: Any,
    p: Any,
    k: Any,
    ca: Any,
    mg: Any,
    given_n: Any,
    given_p: Any,
    given_k: Any,
    given_ca: Any,
    given_mg: Any,
) -> Any:
    """Credits and products of a week."""
    credits = picked(choice, n, p, k, ca, mg)
    return credits + picked(choice, given_n, given_p, given_k, given_ca, given_mg)


def first_of_all(amount: Any) -> Any:
    return amount


def to_date(amount: Any, before_it: Any) -> Any:
    return before_it + amount


def number_or_zero(price: Any) -> Any:
    return price if is_number(price) else 0


def cost_of_week(masses: Any, prices: Any) -> Any:
    return dot(masses, prices)


def money_to_date(verdict: Any, amount: Any) -> Any:
    return as_money(amount) if is_priced(verdict) else ""
