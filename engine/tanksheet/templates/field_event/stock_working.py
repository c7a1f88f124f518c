"""Whether the stock dissolves and stays clear in its tank, in the subset that compiles."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import helper, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.field_event.dose_working import DRY
from tanksheet.templates.field_event.line_working import NO_FEED
from tanksheet.templates.field_event.time_working import VOLUME_WORDS, sure
from tanksheet.templates.product_working import NO_FIGURE
from tanksheet.templates.recipe.feed_working import CERTAIN_LIME, CERTAIN_PHOSPHATE, CLEARLY
from tanksheet.templates.recipe.pipe_working import CERTAIN_GYPSUM, GYPSUM_NEAR
from tanksheet.templates.working import BLANK

# Percent of a saturated stock that passes: common practice.
SAFE_SHARE = 85
# degC near which it salts out: 32 and 28 degF in two sources.
SALTS_OUT, SALTING = 0, "urea ammonium nitrate 32-0-0"


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


# the tank


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
