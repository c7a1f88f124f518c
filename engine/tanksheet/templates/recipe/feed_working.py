"""The working of the recipe workbook's feed: what arrives, its pH, conductivity and clearness."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.acidity import calcite_index
from tanksheet.calc.meter import feed_conductivity
from tanksheet.calc.mixing import dicalcium_index
from tanksheet.calc.water import alkalinity_meq
from tanksheet.subset import (
    among,
    begins,
    dot,
    is_error,
    nth,
    position,
    rounded,
    shown,
)

# A pH below this etches metal and scorches roots; above the other, phosphate and metals fall out.
SOUR, ALKALINE = 4.5, 7.5
# Alkalinity, meq/L, that still holds the pH when the acid is a tenth off: common practice.
LITTLE_LEFT = 0.5
# An index at which lime and calcium phosphate are certain to come out in the pipe, beyond what
# pH meters and speciation programs differ by; below 0 by this much they are certain not to.
CERTAIN_LIME, CERTAIN_PHOSPHATE, CLEARLY = 0.5, 0.5, -0.1

MEND = "not checked: mend the products and the water"


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


def clearness_of_all(said: Any, unsure: Any, gap: Any) -> Any:
    """What is said of the pipe, and what of it nobody can tell: ``gap`` is a line of the water's
    report, with the cure."""
    if unsure == "" and gap != "" and begins(said, "pass"):
        return f"not checked: {gap}"
    if unsure == "":
        return said
    if begins(said, "pass"):
        return f"not checked: nobody gave the ions of {unsure}; try a jar of the feed first"
    return f"{said}; what else {unsure} holds is not checked"


def both(products: Any, water: Any) -> Any:
    return products + water


# ions, mmol/L


def given(doses: Any, per_gram: Any) -> Any:
    """What the products bring to a litre of feed."""
    return dot(doses, per_gram)


def water_ion(weight: float) -> Any:
    """mmol/L of an ion of the water, from mg/L; none where nothing is given."""

    def ion(reported: Any) -> Any:
        return 0 if reported == "" else reported / weight

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
    ammonium: Any,
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
        ammonium,
        nitrate,
        sulfate,
        chloride,
        alkalinity,
        0,
        0,
        water_ph,
    )
