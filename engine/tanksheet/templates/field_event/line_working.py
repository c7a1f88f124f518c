"""What the stock and the water in the line do: dissolving, strength, settling, acid, conductivity.

In the subset that compiles to formulas. Settling and acid are judged by the functions of the recipe
workbook.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.meter import feed_conductivity
from tanksheet.sheets.measures import figure
from tanksheet.subset import begins, helper, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.field_event.time_working import sure
from tanksheet.templates.recipe.feed_working import (
    SOUR,
)
from tanksheet.templates.stock_tank.tank_working import MOST
from tanksheet.templates.working import BLANK

# Calcium with polyphosphate settles by rules of its own, which no calculation here knows.
POLYPHOSPHATE = "ammonium polyphosphate 10-34-0"
# Grams of product in a litre of feed, and mS/cm of it: common practice, no source.
STRONG_FEED, STRONGEST_FEED = 2, 5
STRONG_EC, STRONGEST_EC = 3, 6
LIMY = 8.5  # pH of a jar above which lime comes out of hard water: common practice
JARS = ("not tried", "stayed clear", "turned cloudy")
NO_FEED = "not checked: no amounts yet; the lines above say what is missing"


# ions of the line, mmol/L


def ion_of(column: str) -> Any:
    """What the product brings to a litre of the line."""

    def amount(product: Any, in_feed: Any) -> Any:
        if product == "" or not is_number(in_feed):
            return 0
        moles = in_feed * look_up("fertilizers", column, product)
        return max(-MOST, min(MOST, 1000 * moles / look_up("fertilizers", "molar_mass", product)))

    return amount


def water_ion(weight: float) -> Any:
    """mmol/L of an ion of the water; a blank counts as none and is told elsewhere."""

    def ion(reported: Any) -> Any:
        return 0 if reported == "" else min(MOST, reported / weight)

    return ion


def both(product: Any, water: Any) -> Any:
    return min(MOST, product + water)


def nothing() -> Any:
    return 0


def reported_alkalinity(water_alkalinity: Any) -> Any:
    """mg/L as CaCO3; a blank counts as none and is told elsewhere."""
    return 0 if water_alkalinity == "" else water_alkalinity


def reported_ph(water_ph: Any) -> Any:
    return 7 if water_ph == "" else water_ph


def line_celsius() -> Any:
    """The line in the sun: warm water throws down the most."""
    return 25


def is_settler(
    calcium: Any,
    phosphate: Any,
    hydrogen: Any,
    bicarbonate: Any,
    silicate: Any,
    sulfate: Any,
    metal: Any,
) -> Any:
    """1 for a product that may settle with what is in the water, or turn its pH."""
    most = max(calcium, phosphate, bicarbonate, silicate, sulfate, metal)
    return 1 if max(most, abs(hydrogen)) > 0 else 0


def water_known(ca: Any, mg: Any, alkalinity: Any, ph: Any) -> Any:
    """1 where the water is told as far as settling asks."""
    if ca == "" or mg == "" or alkalinity == "" or ph == "":
        return 0
    return 1


@helper
def without_water(jar: Any) -> Any:
    if jar == "stayed clear":
        return "pass: a jar of it stayed clear"
    return (
        "not given: calcium, magnesium, alkalinity and pH of the water, with which it may settle; "
        "type them, or try a jar"
    )


@helper
def by_the_jar(jar: Any, unchecked: Any) -> Any:
    return "pass: a jar of it stayed clear" if jar == "stayed clear" else unchecked


def clear_verdict(product: Any, in_feed: Any, settler: Any, known: Any, said: Any, jar: Any) -> Any:
    """Whether anything comes out in the line; ``said`` is by the ions of product and water."""
    if is_error(product) or is_error(in_feed) or is_error(jar) or is_error(known):
        return BLANK
    if is_error(said) or is_error(settler):
        return BLANK
    if jar == "turned cloudy":
        return "stop: the jar turned cloudy; acidify the water, or choose another product"
    if not is_number(in_feed):
        return NO_FEED
    if product == "":
        return by_the_jar(jar, "not checked: a label tells no ions; try a jar of it first")
    if settler == 0:
        return "pass: nothing in it settles with the water"
    if known == 0:
        return without_water(jar)
    if product == POLYPHOSPHATE and begins(said, "pass"):
        return by_the_jar(
            jar, "not checked: polyphosphate with the water's calcium; try a jar of it first"
        )
    return said


def acid_verdict(
    product: Any, in_feed: Any, hydrogen: Any, known: Any, said: Any, jar_ph: Any
) -> Any:
    """Whether the water bears the acid of a product."""
    if is_error(product) or is_error(in_feed) or is_error(jar_ph) or is_error(known):
        return BLANK
    if is_error(hydrogen) or is_error(said):
        return BLANK
    if not is_number(in_feed):
        return NO_FEED
    if jar_ph != "":
        return jar_said(jar_ph)
    if product == "":
        return "not checked: a label tells no acid; read the pH of a jar and type it"
    if hydrogen == 0:
        return "pass: it brings no acid"
    if known == 0:
        return "not given: alkalinity and pH of the water, which its acid or base turns; type them"
    return said


@helper
def jar_said(jar_ph: Any) -> Any:
    told = f"the jar reads pH {shown(sure(jar_ph), 1)}"
    if jar_ph < SOUR:
        return f"stop: {told}, under 4.5; take less acid"
    if jar_ph > LIMY:
        return f"caution: {told}, over 8.5: lime may come out; acidify the water"
    return f"pass: {told}"


# strength


def strength_verdict(in_feed: Any, ratio: Any) -> Any:
    if is_error(in_feed) or is_error(ratio):
        return BLANK
    if is_number(ratio) and ratio < 1:
        return "stop: more stock than water in the line; inject for longer, or fewer hectares"
    if not is_number(in_feed):
        return NO_FEED
    told = f"{shown(sure(in_feed), 1)} g of product in each litre of the line"
    if in_feed > STRONGEST_FEED:
        return f"stop: {told}, over 5: roots and leaves burn; inject longer, or split the dose"
    if in_feed > STRONG_FEED:
        return f"caution: {told}, over 2; inject longer, or split the dose"
    return f"pass: {told}"


# conductivity


def water_conductivity(calcium: Any, magnesium: Any, alkalinity: Any, ph: Any) -> Any:
    """mS/cm that the model gives the water's own ions, to be taken off that of both."""
    return feed_conductivity(calcium, magnesium, 0, 0, 0, 0, 0, 0, alkalinity, 0, 0, ph)


def added_conductivity(product: Any, in_feed: Any, line: Any, water: Any) -> Any:
    """mS/cm that the product adds; a blank where its ions are not known."""
    if product == "" or not is_number(in_feed):
        return ""
    return max(0, line - water)


def line_conductivity(ec_added: Any, ec_water: Any, jar_ec: Any) -> Any:
    """mS/cm to read while injecting: as a jar of it reads, else water and product."""
    if jar_ec != "":
        return jar_ec
    return ec_water + ec_added if is_number(ec_added) and is_number(ec_water) else ""


def ec_verdict(product: Any, in_feed: Any, ec_added: Any, ec_water: Any, ec_line: Any) -> Any:
    if is_error(ec_line) or is_error(ec_water) or is_error(ec_added) or is_error(in_feed):
        return BLANK
    if is_error(product):
        return BLANK
    if not is_number(in_feed):
        return NO_FEED
    if not is_number(ec_line):
        if product == "":
            return "not checked: a label tells no ions; read the EC of a jar and type it"
        return f"not given: EC of the water; the product adds {figure(sure(ec_added))} mS/cm"
    told = f"EC {figure(sure(ec_line))} mS/cm while injecting"
    if ec_line > STRONGEST_EC:
        return f"stop: {told}, over 6: roots and leaves burn; inject longer, or split the dose"
    if ec_line > STRONG_EC:
        return f"caution: {told}, over 3: harms salt-sensitive crops; inject longer"
    return f"pass: {told}"
