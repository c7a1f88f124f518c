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
from tanksheet.templates.field_event.dose_working import DRY
from tanksheet.templates.field_event.time_working import VOLUME_WORDS, sure
from tanksheet.templates.product_working import NO_FIGURE
from tanksheet.templates.recipe.feed_working import (
    CERTAIN_LIME,
    CERTAIN_PHOSPHATE,
    CLEARLY,
    SOUR,
)
from tanksheet.templates.recipe.pipe_working import CERTAIN_GYPSUM, GYPSUM_NEAR
from tanksheet.templates.stock_tank.tank_working import MOST
from tanksheet.templates.working import BLANK

# Percent of a saturated stock that passes: common practice.
SAFE_SHARE = 85
# degC near which it salts out: 32 and 28 degF in two sources.
SALTS_OUT, SALTING = 0, "urea ammonium nitrate 32-0-0"
# Calcium with polyphosphate settles by rules of its own, which no calculation here knows.
POLYPHOSPHATE = "ammonium polyphosphate 10-34-0"
# Grams of product in a litre of feed, and mS/cm of it: common practice, no source.
STRONG_FEED, STRONGEST_FEED = 2, 5
STRONG_EC, STRONGEST_EC = 3, 6
LIMY = 8.5  # pH of a jar above which lime comes out of hard water: common practice
JARS = ("not tried", "stayed clear", "turned cloudy")
NO_FEED = "not checked: no amounts yet; the lines above say what is missing"


# the stock


def stock_strength(needed: Any, stock: Any) -> Any:
    """Grams of product in a litre of stock."""
    return needed * 1000 / stock if is_number(needed) and is_number(stock) else ""


def limit_if_dry(limit: Any, density_used: Any) -> Any:
    """Grams of a dry product in a litre of saturated stock, or that nobody has a figure."""
    return limit if density_used == DRY else ""


def share_of(strength: Any, limit: Any) -> Any:
    """Percent of what a saturated stock holds."""
    if not is_number(strength) or not is_number(limit):
        return ""
    return strength / limit * 100


def least_stock(needed: Any, limit: Any) -> Any:
    """Litres in which the product dissolves with some to spare."""
    if not is_number(needed) or not is_number(limit):
        return ""
    return needed * 1000 / (limit * SAFE_SHARE / 100)


def litres_or_none(least: Any) -> Any:
    """A number in any case, so that the steps of a verdict have one."""
    return least if is_number(least) else 0


@helper
def liquid_verdict(product: Any, temperature: Any, water_parts: Any) -> Any:
    """A liquid mixes with water; what salts out in the cold is told."""
    if product == SALTING and temperature <= SALTS_OUT + 2 and water_parts == 0:
        return "caution: it salts out near 0 degrees C (32 F); keep it warmer, or add water to it"
    if product == "":
        return "pass: a liquid mixes with water"
    if look_up("fertilizers", "kind", product) == "acid":
        return acid_in_tank(water_parts)
    return "pass: a liquid mixes with water"


@helper
def acid_in_tank(water_parts: Any) -> Any:
    if water_parts > 0:
        return "not checked: the heat of acid with water; the workbook acid tells it; water first"
    return "caution: acid as it comes: ask whether injector, hose and seals stand it; add water"


def dissolves_verdict(edition: str) -> Any:
    said = VOLUME_WORDS[edition]

    def verdict(
        product: Any,
        density_used: Any,
        temperature: Any,
        water_parts: Any,
        strength: Any,
        limit: Any,
        share: Any,
        least: Any,
    ) -> Any:
        if is_error(share) or is_error(temperature) or is_error(limit) or is_error(water_parts):
            return BLANK
        if not is_number(strength):
            return NO_FEED
        if is_number(density_used):
            return liquid_verdict(product, temperature, water_parts)
        if limit == NO_FIGURE:
            return (
                "not checked: how much of it dissolves; choose it from the list, or type what a "
                "saturated stock holds"
            )
        cold = shown(temperature, 1)
        told = f"{shown(sure(share), 0)} % of what dissolves at {cold} degrees C"
        if share > 100:
            return f"stop: {told}; make {said(least)} of stock or more"
        if share > SAFE_SHARE:
            return f"caution: {told}: a cold night brings it down; make {said(least)} of stock"
        return f"pass: {told}"

    return verdict


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


def stock_verdict(
    product: Any,
    density_used: Any,
    water_parts: Any,
    strength: Any,
    settler: Any,
    known: Any,
    lime: Any,
    phosphate: Any,
    gypsum: Any,
) -> Any:
    """Whether product and water settle in the tank, where the stock is made with water."""
    if is_error(strength) or is_error(density_used) or is_error(water_parts):
        return BLANK
    if is_error(lime) or is_error(phosphate) or is_error(gypsum) or is_error(known):
        return BLANK
    if not is_number(strength):
        return NO_FEED
    if is_number(density_used) and water_parts == 0:
        return "pass: no water is added in the tank"
    if product == "":
        return "not checked: a label tells no ions; watch a jar of the stock for an hour or two"
    if settler == 0:
        return "pass: nothing in it settles with the water"
    if known == 0:
        return "not given: calcium, magnesium, alkalinity and pH of the water; type them"
    return in_the_tank(lime, phosphate, gypsum)


@helper
def in_the_tank(lime: Any, phosphate: Any, gypsum: Any) -> Any:
    """By the indices of the product's ions with the water's."""
    if phosphate > CERTAIN_PHOSPHATE:
        return (
            f"stop: calcium phosphate settles in the tank, index {shown(phosphate, 1)}; make the "
            "stock with soft or acidified water"
        )
    if lime > CERTAIN_LIME:
        return (
            f"stop: lime settles in the tank, index {shown(lime, 1)}; make the stock with soft or "
            "acidified water"
        )
    if gypsum > CERTAIN_GYPSUM:
        return (
            f"stop: gypsum settles in the tank, index {shown(gypsum, 1)}; make the stock with "
            "softer water, or weaker"
        )
    if max(phosphate, lime) > CLEARLY or gypsum > GYPSUM_NEAR:
        return (
            f"caution: the water's calcium may settle in the tank, index "
            f"{shown(max(phosphate, lime, gypsum), 1)}; try a jar of the stock first"
        )
    return "pass: nothing settles in the tank"


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
