"""The working of the recipe workbook's targets: what arrives of each, and whether it is met."""

from __future__ import annotations

from typing import Any

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

# Percent off a target below which it is met to the last figure that any meter shows.
MET_EXACTLY = 0.0001


def delivered_element(doses: Any, contents: Any) -> Any:
    return dot(doses, contents) * 10


def delivered_nitrogen(doses: Any, nitrate: Any, ammonium: Any, urea: Any, other: Any) -> Any:
    known = dot(doses, nitrate) + dot(doses, ammonium) + dot(doses, urea)
    return (known + dot(doses, other)) * 10


def off_said(off: Any, verdict: Any) -> Any:
    """How far off a target is, where it is not met."""
    if is_error(off) or is_error(verdict):
        return ""
    if begins(verdict, "pass") or begins(verdict, "not") or not is_number(off):
        return ""
    return f"+{shown(off, 0)} %" if off > 0 else f"{shown(off, 0)} %"


def nothing() -> Any:
    return 0


def known_part(reported: Any) -> Any:
    """What the water is known to bring of an element."""
    return 0 if reported == "" else reported


def nitrogen_of_water(nitrate: Any, ammonium: Any) -> Any:
    return nitrate if ammonium == "" else nitrate + ammonium


def no_gap() -> Any:
    return ""


def gap_of(line: str) -> Any:
    """What a line of the water's report lacks, and the cure, where it is blank."""

    def gap(reported: Any) -> Any:
        return f"{line} of the water not given; type 0 if none" if reported == "" else ""

    return gap


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


def tolerance_of(typed: Any, tolerance: Any) -> Any:
    """The tolerance of a line, percent: its own, or that of all where it is blank."""
    if typed == "":
        return tolerance
    check(is_number(typed), "a tolerance must be a number", NotANumber)
    check(typed > 0 and typed <= 100, "a tolerance must be above 0 and at most 100 %")
    return typed


def target_verdict(target: Any, off: Any, tolerance: Any, why: Any, gap: Any) -> Any:
    """``gap`` is what nobody gave, and the cure, of which the target may hold some too."""
    if is_error(off):
        return "stop: mend the target, its unit or the products; or leave it blank"
    if target == "" or target == 0:
        return "no target"
    if is_error(tolerance):
        return "stop: mend the tolerance of this line; or leave it blank"
    size = rounded(abs(off), 1)
    if size <= tolerance and gap != "":
        return f"not checked: {gap}"
    if size <= tolerance:
        return f"pass: within {shown(tolerance, 1)} %"
    word = "over" if off > 0 else "under"
    share = shown(size, 1) if size < 100 else shown(abs(off), 0)
    kind = "caution" if size <= 2.5 * tolerance else "stop"
    return f"{kind}: {share} % {word}; {why}"


def named(element: str) -> Any:
    """An element's symbol in a cell, so that a verdict can name it."""

    def name() -> Any:
        return element

    return name


@helper
def told(said: Any, name: Any) -> Any:
    """The verdict of a target with its name, why, and what to do."""
    why = after(said, "; ")
    cure = "" if begins(said, "not") or begins(why, "or ") else "; change products or targets"
    return f"{before(said, ';')}: {name}; {why}{cure}"


@helper
def missed(place: Any, verdicts: Any, elements: Any) -> Any:
    return told(nth(verdicts, place), nth(elements, place))


def targets_verdict(kinds: Any, verdicts: Any, elements: Any, offs: Any) -> Any:
    """The first target that is missed most."""
    if among("stop", kinds):
        return missed(position("stop", kinds), verdicts, elements)
    if among("caution", kinds):
        return missed(position("caution", kinds), verdicts, elements)
    if among("open", kinds):
        return missed(position("open", kinds), verdicts, elements)
    if count(offs) == 0:
        return "not used: no target is given"
    return "pass: every target is met within the tolerance"
