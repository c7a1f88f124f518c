"""What stocks do to each other undiluted, should the line stand and check valves leak; in the
subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import begins, helper, is_error
from tanksheet.templates.working import BLANK


def standing_said(one: Any, other: Any, at_once: Any) -> Any:
    """What two stocks do undiluted, or a blank."""
    if one == 0 or other == 0:
        return ""
    return at_once


def spoils_chlorine(acid: Any, ammonium: Any, of_water: Any, urea: Any) -> Any:
    """mmol/L in a stock of what makes poisonous gas of chlorine, the water's ammonium apart."""
    return acid + max(0, ammonium - of_water) + urea


def chlorine_meets(
    chlorine_a: Any, chlorine_b: Any, chlorine_c: Any, harm_a: Any, harm_b: Any, harm_c: Any
) -> Any:
    """Above 0 where one stock has chlorine and another what makes gas of it."""
    of_a = min(chlorine_a, harm_b + harm_c)
    of_b = min(chlorine_b, harm_a + harm_c)
    return of_a + of_b + min(chlorine_c, harm_a + harm_b)


def standing_verdict(count: Any, ab: Any, ac: Any, bc: Any, unsure: Any, chlorine: Any) -> Any:
    if (
        is_error(unsure)
        or is_error(chlorine)
        or is_error(count)
        or is_error(ab)
        or is_error(ac)
        or is_error(bc)
    ):
        return BLANK
    if count < 2:
        return "not used"
    if chlorine > 0:
        return (
            "stop: chlorine, and acid, ammonium or urea on one line: poisonous gas, should they "
            "meet; feed chlorine apart, with plain water"
        )
    if begins(ab, "poisonous"):
        return gas_of("A and B")
    if begins(ac, "poisonous"):
        return gas_of("A and C")
    if begins(bc, "poisonous"):
        return gas_of("B and C")
    if unsure != "":
        return f"not checked: nobody gave the ions of {unsure}; ask for its data sheet"
    return "pass: undiluted the stocks would give no poisonous gas"


@helper
def gas_of(two: str) -> Any:
    return (
        f"caution: {two} undiluted give poisonous gas, should the line stand and check valves "
        "leak; shut both valves at every stop, and test the check valves"
    )
