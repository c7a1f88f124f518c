"""The working of what a person weighs: amounts as their scales can show them, in the subset that
compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.errors import NotListed
from tanksheet.subset import among, check, is_error, is_number, nth, position, shown
from tanksheet.tables import look_up
from tanksheet.templates.recipe.target_working import MET_EXACTLY
from tanksheet.templates.recipe.working import TANKS
from tanksheet.templates.weight_working import (
    in_gallons,
    in_litres,
    large_words,
    small_words,
    to_marks,
    to_step,
    to_us_marks,
)

# Percent by which a scale may move an element without a word: common practice.
MOVED_FREELY = 2


def used_amount(
    product: Any,
    tank: Any,
    typed: Any,
    fixed: Any,
    worked: Any,
    scale: Any,
    scale_step: Any,
    small_step: Any,
    small_up_to: Any,
) -> Any:
    """Grams of a product for one fill: what is typed as it is, what is worked out to the step of
    the scale that it is weighed on, or to the marks of a jug."""
    if product == "":
        return 0
    check(tank in TANKS, "choose tank A, B or C", NotListed)
    if is_error(typed):
        return fixed
    if typed != "":
        return fixed
    if worked == 0:
        return 0
    density = look_up("fertilizers", "density_kgL", product)
    volume = worked / density / 1000 if density > 0 else 0
    if density > 0 and scale == "kg":
        return to_marks(volume) * density * 1000
    if density > 0:
        return to_us_marks(volume) * density * 1000
    if worked <= small_up_to:
        return to_step(worked, small_step)
    return to_step(worked, scale_step)


def weight_said(mass: Any, product: Any, scale: Any, small_scale: Any, small_up_to: Any) -> Any:
    """What to weigh, or to pour where it is a liquid, as the person's scales read."""
    if is_error(mass):
        return "?"
    if mass == 0:
        return ""
    density = look_up("fertilizers", "density_kgL", product)
    volume = mass / density / 1000 if density > 0 else 0
    if density > 0:
        return in_litres(volume) if scale == "kg" else in_gallons(volume)
    if mass <= small_up_to:
        return small_words(mass, small_scale)
    return large_words(mass, scale)


def moved_by_scale(weight: Any, miss: Any, off: Any) -> Any:
    """Percent by which rounding to the scale moves what arrives of an element, or a blank."""
    if weight == 0 or is_error(off):
        return ""
    if not is_number(off) or miss >= 1:
        return ""
    moved = abs((1 + off / 100) / (1 - miss) - 1) * 100 if miss < 1 else 0
    return 0 if moved < MET_EXACTLY else moved


def word_if_moved(moved: Any) -> Any:
    if not is_number(moved):
        return ""
    return "moved" if moved > MOVED_FREELY else "kept"


def weighed_verdict(moved: Any, words: Any, elements: Any) -> Any:
    """Whether the scales are fine enough for every target."""
    if not among("moved", words):
        if among("kept", words):
            return "pass: the scales are fine enough"
        return "not used: no target is weighed for"
    first = position("moved", words)
    return (
        f"caution: rounding to the scale moves {nth(elements, first)} by "
        f"{shown(nth(moved, first), 0)} %; too little for this scale: make 10 times as much "
        "premix, or take a finer scale"
    )
