"""The working of the recipe workbook's feed: what arrives, its pH, conductivity and clearness."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.acidity import calcite_index
from tanksheet.calc.meter import feed_conductivity
from tanksheet.calc.mixing import dicalcium_index
from tanksheet.calc.water import alkalinity_meq
from tanksheet.errors import NotANumber
from tanksheet.sheets.entries import nutrient_factor
from tanksheet.subset import (
    after,
    among,
    before,
    begins,
    check,
    count,
    dot,
    helper,
    is_error,
    is_number,
    nth,
    position,
    rounded,
    shown,
)
from tanksheet.templates.recipe.working import MOST_WANTED

# A pH below this etches metal and scorches roots; above the other, phosphate and metals fall out.
SOUR, ALKALINE = 4.5, 7.5
# Alkalinity, meq/L, that still holds the pH when the acid is a tenth off: common practice.
LITTLE_LEFT = 0.5
# Percent off a target below which it is met to the last figure that any meter shows.
MET_EXACTLY = 0.0001
# An index at which lime and calcium phosphate are certain to come out in the pipe, beyond what
# pH meters and speciation programs differ by; below 0 by this much they are certain not to.
CERTAIN_LIME, CERTAIN_PHOSPHATE, CLEARLY = 0.5, 0.5, -0.1

MEND = "not checked: mend the products and the water"


def delivered_element(doses: Any, contents: Any) -> Any:
    return dot(doses, contents) * 10


def delivered_nitrogen(doses: Any, nitrate: Any, ammonium: Any, urea: Any, other: Any) -> Any:
    known = dot(doses, nitrate) + dot(doses, ammonium) + dot(doses, urea)
    return (known + dot(doses, other)) * 10


def first_unsure(said: Any, products: Any) -> Any:
    """The first product in use whose ions nobody gave, or a blank."""
    return nth(products, position("unsure", said)) if among("unsure", said) else ""


def acidity_of_all(said: Any, unsure: Any) -> Any:
    """What is said of the acid, and of a product whose acidity nobody gave."""
    if unsure == "":
        return said
    if begins(said, "pass"):
        return f"not checked: nobody gave the acidity of {unsure}; measure the pH of the feed"
    return f"{said}; the acidity of {unsure} is not checked"


def clearness_of_all(said: Any, unsure: Any) -> Any:
    if unsure == "":
        return said
    if begins(said, "pass"):
        return f"not checked: nobody gave the ions of {unsure}; try a jar of the feed first"
    return f"{said}; what else {unsure} holds is not checked"


def off_said(off: Any, verdict: Any) -> Any:
    """How far off a target is, where it is not met."""
    if is_error(off) or is_error(verdict):
        return ""
    if begins(verdict, "pass") or not is_number(off):
        return ""
    return f"+{shown(off, 0)} %" if off > 0 else f"{shown(off, 0)} %"


def nothing() -> Any:
    return 0


def both(products: Any, water: Any) -> Any:
    return products + water


def target_in_mg(nutrient: str) -> Any:
    """A target in mg/L of the element, typed in any unit of ``choices.nutrient_units``."""
    factor = helper(nutrient_factor(nutrient))

    def target(typed: Any, unit: Any) -> Any:
        if typed == "":
            return ""
        check(is_number(typed), "a target must be a number", NotANumber)
        return typed * factor(unit)

    return target


def off_target(total: Any, target: Any) -> Any:
    if target == "":
        return ""
    check(target >= 0 and target <= MOST_WANTED, "a target must be from 0 to 1,000,000 mg/L")
    if target == 0:
        return ""
    # The last digits of a difference of numbers that are nearly equal say nothing.
    off = (total / target - 1) * 100 if target > 0 else 0
    return 0 if abs(off) < MET_EXACTLY else off


def target_verdict(target: Any, off: Any, tolerance: Any, why: Any) -> Any:
    if is_error(off):
        return "stop: mend the target, its unit or the products; or leave it blank"
    if target == "" or target == 0:
        return "no target"
    size = rounded(abs(off), 1)
    if size <= tolerance:
        return f"pass: within {shown(tolerance, 1)} %"
    word = "over" if off > 0 else "under"
    if size <= 2.5 * tolerance:
        return f"caution: {shown(size, 1)} % {word}; {why}"
    return f"stop: {shown(size, 1)} % {word}; {why}"


def named(element: str) -> Any:
    """An element's symbol in a cell, so that a verdict can name it."""

    def name() -> Any:
        return element

    return name


@helper
def missed(place: Any, verdicts: Any, elements: Any) -> Any:
    """The verdict of a target with its element, and why."""
    said = nth(verdicts, place)
    why = after(said, "; ")
    return f"{before(said, ';')}: {nth(elements, place)}; {why}; change products or targets"


def targets_verdict(kinds: Any, verdicts: Any, elements: Any, offs: Any) -> Any:
    """The first target that is missed most."""
    if among("stop", kinds):
        return missed(position("stop", kinds), verdicts, elements)
    if among("caution", kinds):
        return missed(position("caution", kinds), verdicts, elements)
    if count(offs) == 0:
        return "not used: no target is given"
    return "pass: every target is met within the tolerance"


# ions, mmol/L


def given(doses: Any, per_gram: Any) -> Any:
    """What the products bring to a litre of feed."""
    return dot(doses, per_gram)


def water_ion(weight: float) -> Any:
    """mmol/L of an ion of the water, from mg/L."""

    def ion(reported: Any) -> Any:
        return reported / weight

    return ion


def water_alkali(water_alkalinity: Any) -> Any:
    return alkalinity_meq(water_alkalinity)


def strength_of(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    bicarbonate: Any,
    phosphate: Any,
    thiosulfate: Any,
    metal: Any,
    hydrogen: Any,
) -> Any:
    """Ionic strength of the ions as they are brought, mmol/L."""
    singles = potassium + sodium + ammonium + nitrate + chloride + bicarbonate + phosphate
    doubles = calcium + magnesium + sulfate + thiosulfate + metal
    return (singles + abs(hydrogen) + 4 * doubles) / 2


def left_over(alkalinity: Any, carbonate: Any, acid: Any) -> Any:
    """Alkalinity that the acid leaves, meq/L; below 0 is acid beyond it."""
    return alkalinity + carbonate - acid


def alkalinity_verdict(
    typed: Any, target: Any, left: Any, tolerance: Any, why: Any, unsure: Any
) -> Any:
    """Whether the acids leave as much alkalinity as is asked for."""
    if is_error(typed):
        return "stop: mend the alkalinity asked for and its unit, or leave it blank"
    if typed == "":
        return "not used: no alkalinity is asked for"
    if is_error(left):
        return MEND
    if target == 0:
        return "stop: no alkalinity would hold the pH; ask for 25 ppm or more, or leave it blank"
    off = (left / target - 1) * 100
    size = rounded(abs(off), 1)
    if size <= tolerance and unsure != "":
        return f"not checked: nobody gave the acidity of {unsure}; measure the alkalinity left"
    if size <= tolerance:
        return f"pass: alkalinity within {shown(tolerance, 1)} %"
    word = "over" if off > 0 else "under"
    kind = "caution" if size <= 2.5 * tolerance else "stop"
    return f"{kind}: alkalinity {shown(size, 1)} % {word}; {why}; change the acid or the target"


def calcite(calcium: Any, left: Any, ph: Any, feed_temperature: Any, strength: Any) -> Any:
    """Calcite index of the feed; -9 where the acid took all alkalinity."""
    if left <= 0:
        return -9
    if ph < 4:
        return -9
    return calcite_index(calcium, min(100, left), min(10, ph), feed_temperature, strength)


def dicalcium(calcium: Any, phosphate: Any, ph: Any, strength: Any) -> Any:
    return dicalcium_index(calcium, phosphate, min(10, max(1, ph)), strength)


def clear_verdict(
    lime: Any, phosphate: Any, ph: Any, metal: Any, silicate: Any, hard: Any, also: Any
) -> Any:
    """Whether anything comes out of the feed in the pipe."""
    if is_error(ph) or is_error(lime) or is_error(phosphate):
        return MEND
    if phosphate > CERTAIN_PHOSPHATE:
        return (
            f"stop: calcium phosphate comes out in the pipe, index {shown(phosphate, 1)} at pH "
            f"{shown(ph, 1)}; acidify the water, or feed less phosphate"
        )
    if lime > CERTAIN_LIME:
        return (
            f"stop: lime comes out in the pipe, index {shown(lime, 1)} at pH {shown(ph, 1)}; "
            "acidify the water"
        )
    if begins(also, "stop"):
        return also
    if phosphate > CLEARLY:
        return (
            f"caution: calcium phosphate may come out, index {shown(phosphate, 1)} at pH "
            f"{shown(ph, 1)}; acidify the water, or feed less phosphate"
        )
    if lime > CLEARLY:
        return (
            f"caution: lime may come out, index {shown(lime, 1)} at pH {shown(ph, 1)}; "
            "acidify the water"
        )
    if ph > ALKALINE and metal > 0:
        return (
            f"caution: metals without a chelate fall out at pH {shown(ph, 1)}; acidify the water, "
            "or use chelates"
        )
    if ph > 8.5 and min(silicate, hard) > 0:
        return (
            f"caution: silicate may fall out with calcium or magnesium at pH {shown(ph, 1)}; "
            "acidify the water"
        )
    if also != "":
        return also
    return f"pass: nothing comes out at pH {shown(ph, 1)}"


def acidity_verdict(acid: Any, left: Any, ph: Any) -> Any:
    """Whether the water's alkalinity bears the acid."""
    if is_error(ph) or is_error(left):
        return MEND
    if ph < SOUR and left <= 0:
        return (
            f"stop: {shown(-left, 1)} meq/L of acid beyond the alkalinity, pH {shown(ph, 1)}; "
            "take less acid"
        )
    if ph < SOUR:
        return f"stop: pH {shown(ph, 1)}; take less acid"
    if acid > 0 and left <= 0:
        return (
            f"stop: the acid takes all alkalinity, {shown(-left, 2)} meq/L beyond, pH "
            f"{shown(ph, 1)}; take less acid"
        )
    if acid > 0 and left < LITTLE_LEFT:
        return (
            f"caution: {shown(left, 2)} meq/L of alkalinity left; a tenth more acid and the pH "
            "falls: measure, and take less acid"
        )
    if ph > ALKALINE:
        return (
            f"caution: pH {shown(ph, 1)}; iron, manganese and phosphate are poorly taken up: "
            "acidify the water"
        )
    return f"pass: {shown(left, 1)} meq/L of alkalinity left, pH {shown(ph, 1)}"


# conductivity


def ec_of_water(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    alkalinity: Any,
    water_ph: Any,
) -> Any:
    return feed_conductivity(
        calcium,
        magnesium,
        potassium,
        sodium,
        0,
        nitrate,
        sulfate,
        chloride,
        alkalinity,
        0,
        0,
        water_ph,
    )
