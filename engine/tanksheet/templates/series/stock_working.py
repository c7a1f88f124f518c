"""The stocks of a line, what they bring, and how much of each is drawn; in the subset that compiles
to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.ratio import measured_ratio, percent_injected
from tanksheet.errors import NotANumber, NotListed
from tanksheet.sheets.entries import READINGS
from tanksheet.subset import check, dot, is_error, is_number, nth, position
from tanksheet.templates.recipe.feed import TARGETS
from tanksheet.templates.working import BLANK

PRODUCTS = 12
STOCKS = ("A", "B", "C")
ALKALINITY = "alkalinity"
LEADS = (*TARGETS, ALKALINITY)
MOST_MASS, MOST_RATIO = 1e5, 1e6
POUND = float(convert(1, "lb", "g"))
IN_N = READINGS[0]


# stocks


def stock_chosen(product: Any, stock: Any) -> Any:
    if product == "":
        return ""
    check(stock == "A" or stock == "B" or stock == "C", "choose stock A, B or C", NotListed)
    return stock


def grams_of(pounds: bool) -> Any:
    """Grams of a product, typed in kilograms, or in pounds."""
    unit = POUND if pounds else 1000

    def grams(product: Any, typed: Any) -> Any:
        if product == "" or typed == "":
            return 0
        check(is_number(typed), "type a number", NotANumber)
        check(typed >= 0 and typed <= MOST_MASS, "the number is out of its range")
        return typed * unit

    return grams


def of_stock(letter: str) -> Any:
    """g/L of a product if it is in this stock, else 0."""

    def strength_here(stock: Any, strength: Any) -> Any:
        return strength if stock == letter else 0

    return strength_here


def acid_less_carbonate(strengths: Any, hydrogen: Any, bicarbonate: Any) -> Any:
    """meq of alkalinity that a litre of stock takes away."""
    return dot(strengths, hydrogen) - dot(strengths, bicarbonate)


def goal_of(wanted: Any, from_water: Any) -> Any:
    """What the stocks are to bring to a litre of feed, or a blank."""
    return "" if wanted == "" else wanted - from_water


def lead_place(by: Any, leads: Any) -> Any:
    """The row of what a stock is set by; 0 for nothing."""
    return position(by, leads) if by != "" else 0


def of_row(place: Any, column: Any) -> Any:
    return nth(column, place) if place > 0 else ""


def share_through(percent: Any) -> Any:
    """The part of the line's flow that runs through the unit; a blank is all of it."""
    if percent == "":
        return 1
    check(is_number(percent), "type a percent", NotANumber)
    check(percent >= 1 and percent <= 100, "a percent is from 1 to 100")
    return percent / 100


def own_parts(typed: Any, reading: Any) -> Any:
    """Parts of water to one of stock of a setting that was typed, or a blank."""
    if typed == "":
        return ""
    check(is_number(typed), "type a number", NotANumber)
    check(typed > 1 and typed <= MOST_RATIO, "the number is out of its range")
    return typed - 1 if reading == IN_N else typed


# flows and settings


def all_flow(flow: Any, rate_a: Any, rate_b: Any, rate_c: Any) -> Any:
    """L/min behind the last injector."""
    return flow / (1 - rate_a - rate_b - rate_c)


def stock_flow(rate: Any, total: Any) -> Any:
    return rate * total


def flow_before(flow: Any, one: Any, one_is: Any, other: Any, other_is: Any) -> Any:
    """L/min that come to an injector: the water, and the stocks that are in it already."""
    return flow + one * one_is + other * other_is


def part_of(flow: Any, share: Any) -> Any:
    return flow * share


def least_through(through: Any, flow: Any, flow_low: Any) -> Any:
    """The same where the line runs at its least."""
    return through if flow_low == "" else through * flow_low / flow


def setting_of(found: Any, through: Any, stock: Any, reading: Any) -> Any:
    """The N of 1:N that the unit is set to, or a blank."""
    if is_error(found) or is_error(through) or is_error(stock):
        return ""
    if found == 0 or stock == 0:
        return ""
    parts = measured_ratio(through, stock)
    return parts + 1 if reading == IN_N else parts


def percent_of(setting: Any) -> Any:
    return percent_injected(setting) if is_number(setting) else ""


def an_hour(found: Any, stock: Any) -> Any:
    """L/h of stock, or a blank."""
    if is_error(found) or is_error(stock):
        return ""
    if found == 0:
        return ""
    return stock * 60 if stock > 0 else ""


def dose_of(strength: Any, stock: Any, rate_a: Any, rate_b: Any, rate_c: Any) -> Any:
    """g of a product in a litre of feed."""
    if strength == 0:
        return 0
    if stock == "A":
        return strength * rate_a
    return strength * rate_b if stock == "B" else strength * rate_c


def brought_of(rate: Any, strengths: Any, per_gram: Any) -> Any:
    """mmol/L of an ion that a stock brings to the feed."""
    return dot(strengths, per_gram) * rate


def flow_verdict(count: Any, flow_low: Any, flow: Any) -> Any:
    if is_error(count) or is_error(flow_low) or is_error(flow):
        return BLANK
    if count == 0:
        return "not used"
    if flow_low == "":
        return "pass: the line runs at one flow"
    if flow_low > flow:
        return "stop: the least flow of the line is above its largest; exchange them"
    return "pass: the flows can be read"


def alkalinity_goal(wanted: Any, alkalinity: Any) -> Any:
    """meq/L that acid is to take away, or a blank."""
    return "" if wanted == "" else alkalinity - wanted


def ready_of(used: Any, found: Any) -> Any:
    """How many stocks are used, -1 where a setting is not found."""
    return used if found == 1 else -1
