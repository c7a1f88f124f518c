"""The working of the ratio table, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert, unit_factor
from tanksheet.calc.saturation import saturation
from tanksheet.calc.stock import delivered, stock_mass
from tanksheet.errors import NotListed
from tanksheet.sheets.entries import dilution_of
from tanksheet.sheets.measures import figure, stopped
from tanksheet.subset import check, floor, helper, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.product_working import NO_FIGURE, contents_of, nitrogen_of
from tanksheet.templates.weight_working import in_kilograms, in_pounds_and_ounces
from tanksheet.units import QUANTITIES

# Stands under a heading that is text, so that nothing is reckoned from it and it is seen.
TEXT = "text?"
diluted = helper(dilution_of(QUANTITIES["ratio"]))


def grams_per_litre(row: Any, column: Any, content: Any, ratio_reading: Any) -> Any:
    if row == "" or column == "":
        return ""
    if not is_number(row) or not is_number(column):
        return TEXT
    return stock_mass(column, content, diluted(row, ratio_reading), 1)


def ounces_per_gallon(row: Any, column: Any, content: Any, ratio_reading: Any) -> Any:
    if row == "" or column == "":
        return ""
    if not is_number(row) or not is_number(column):
        return TEXT
    strength = stock_mass(column, content, diluted(row, ratio_reading), 1)
    return convert(strength, "g/L", "oz/gal")


def mass_per_tank(
    row: Any, column: Any, content: Any, tank: Any, mass_unit: Any, ratio_reading: Any
) -> Any:
    if row == "" or column == "":
        return ""
    if not is_number(row) or not is_number(column):
        return TEXT
    # Asking the cell first hands an error in it on: one engine's MATCH would swallow it.
    check(mass_unit != "", "choose a unit from the list", NotListed)
    mass = stock_mass(column, content, diluted(row, ratio_reading), tank)
    return mass * unit_factor("g", mass_unit)


def strength_here(target: Any, content: Any, ratio: Any, ratio_reading: Any) -> Any:
    """Grams in each litre of stock for the ratio and target that are asked about."""
    return stock_mass(target, content, diluted(ratio, ratio_reading), 1)


def mass_here(strength: Any, tank: Any) -> Any:
    return strength * tank


def largest_ratio(limit: Any, target: Any, content: Any, ratio_reading: Any) -> Any:
    """The setting at which the stock is saturated: above it nothing more dissolves."""
    if limit == NO_FIGURE:
        return NO_FIGURE
    if target == 0:
        return NO_FIGURE
    factor = limit * content * 10 / target
    return factor - 1 if ratio_reading == "1 to N" else factor


def largest_target(limit: Any, ratio: Any, content: Any, ratio_reading: Any) -> Any:
    if limit == NO_FIGURE:
        return NO_FIGURE
    return delivered(limit, content, diluted(ratio, ratio_reading), 1)


def dissolves_verdict(strength: Any, limit: Any, temperature: Any) -> Any:
    if is_error(strength) or is_error(limit) or is_error(temperature):
        return "not given: an entry is blank or no number; the note beside it says which"
    if limit == NO_FIGURE:
        return "not checked: no solubility figure; see the label of the product"
    share = strength / limit * 100
    said = f"{shown(share, 0)} % of what a stock at {shown(temperature, 1)} degrees C holds"
    if share > 100:
        return f"stop: {said}; a smaller ratio, a lower target, or a warmer tank"
    if share > 85:
        return f"caution: {said}; a cold night may bring it down"
    return f"pass: {said}"


def tile_ratio(largest_ratio: Any) -> Any:
    """Rounded down, so that it still dissolves."""
    if is_error(largest_ratio) or not is_number(largest_ratio):
        return "?"
    if largest_ratio < 1:
        return "none"
    return f"1 : {shown(floor(largest_ratio), 0)}"


def tile_target(target: Any) -> Any:
    return "" if is_error(target) else figure(target)


def tile_mass(edition: str) -> Any:
    """What to weigh, in the words of an edition."""
    words = in_kilograms if edition == "metric" else in_pounds_and_ounces

    def weigh(overall: Any, mass: Any) -> Any:
        if stopped(overall) or is_error(mass):
            return ""
        return words(mass)

    return weigh


def limit(fertilizer: Any, temperature: Any, solubility: Any) -> Any:
    """Grams in a litre of saturated stock, from the table where a product is chosen."""
    if fertilizer == "":
        return solubility
    if look_up("saturation", "at_20", fertilizer) == 0:
        return NO_FIGURE
    return saturation(fertilizer, temperature)


@helper
def near(content: Any, listed: Any) -> Any:
    """Whether a content is that of the table, within 5 %."""
    return listed > 0 and abs(content - listed) <= 0.05 * listed


def content_verdict(fertilizer: Any, content: Any) -> Any:
    if fertilizer == "":
        return "not checked: no product of the list is chosen"
    if (
        near(content, nitrogen_of(fertilizer))
        or near(content, look_up("fertilizers", "p", fertilizer))
        or near(content, look_up("fertilizers", "k", fertilizer))
        or near(content, look_up("fertilizers", "ca", fertilizer))
        or near(content, look_up("fertilizers", "mg", fertilizer))
        or near(content, look_up("fertilizers", "s", fertilizer))
    ):
        return f"pass: the table has {contents_of(fertilizer)}"
    return f"caution: not what the table has: {contents_of(fertilizer)}"


def dissolves_up_to(row: Any, content: Any, limit: Any, ratio_reading: Any) -> Any:
    if is_error(row):
        return "not checked: no ratio"
    if row == "":
        return ""
    if not is_number(row):
        return "not checked: text; type 100 for 1:100"
    if row < 1:
        return "stop: below 1; type 100 for 1:100"
    if limit == NO_FIGURE:
        return "not checked: no figure"
    most = delivered(limit, content, diluted(row, ratio_reading), 1)
    return f"dissolves up to {shown(most, 0)} ppm"
