"""The working of the acid workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.water import acid_need, acid_volume, as_caco3
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import check, helper, is_number, shown
from tanksheet.tables import look_up
from tanksheet.units import QUANTITIES

LOWEST_PH, HIGHEST_PH = QUANTITIES["ph_target"].low, QUANTITIES["ph_target"].high
# UMass Extension: at most 2.25 US fl oz of phosphoric acid in 100 gal, and 5 % acid by volume.
PHOSPHORIC_LIMIT, PERCENT_LIMIT = 2.25, 5


@helper
def of_acid(column: Any, acid: Any) -> Any:
    """A figure of the acid. Asking the cell first hands an error in it on as it is: one engine's
    MATCH would swallow it."""
    check(acid != "", "choose an acid from the list", NotListed)
    return look_up("acids", column, acid)


@helper
def volume_of(need: Any, acid: Any, litres: Any) -> Any:
    check(acid != "", "choose an acid from the list", NotListed)
    return acid_volume(need, acid, litres)


@helper
def brings(need: Any, column: Any, acid: Any) -> Any:
    return need * of_acid(column, acid)


def carbonate_of(alkalinity: Any) -> Any:
    return as_caco3(alkalinity)


def hazard_of(acid: Any) -> Any:
    return f"caution: {of_acid('hazard', acid)}"


def need_of(alkalinity: Any, ph_now: Any, ph_target: Any, celsius: Any) -> Any:
    return 0 if ph_target >= ph_now else acid_need(alkalinity, ph_now, ph_target, celsius)


def dose_of(need: Any, acid: Any) -> Any:
    return volume_of(need, acid, 1000)


def exactness(acid: Any) -> Any:
    formula = of_acid("formula", acid)
    if formula == "H3PO4":
        return "caution: weak acid, up to 12 % less may do; begin with nine tenths and use a meter"
    if formula == "C6H8O7":
        return "caution: weak acid, right near pH 6; below 5.5 it takes more; use a meter"
    return "pass: strong acid; as exact as the alkalinity; still check with a meter"


def target_verdict(ph_now: Any, ph_target: Any) -> Any:
    if ph_target >= ph_now:
        return "not needed: the water is already at the pH wanted, or below it"
    if ph_target < 5:
        return "stop: below 5.0 roots, metal and concrete suffer, and a slip ends far lower"
    if ph_target < 5.5:
        return "caution: below 5.5 a little too much acid sends the pH far down"
    if ph_target > 6.5:
        return "caution: above 6.5 most of the alkalinity stays and works on the root zone"
    return "pass: 5.5 to 6.5 suits most crops"


def phosphorus_verdict(acid: Any, need: Any, dose: Any) -> Any:
    phosphorus = brings(need, "p", acid)
    if phosphorus == 0:
        return "not a matter here: no phosphorus comes with the acid"
    said = f"{shown(convert(dose, 'mL/m3', 'fl oz/100 gal'), 2)} fl oz in 100 US gal"
    if convert(dose, "mL/m3", "fl oz/100 gal") > PHOSPHORIC_LIMIT:
        return f"caution: {said}, over 2.25: {shown(phosphorus, 0)} mg/L P is more than crops use"
    return f"pass: {said}, not over 2.25; count its {shown(phosphorus, 0)} mg/L P as fertilizer"


def strength_of(dose: Any, ratio: Any) -> Any:
    return dose * ratio / 1000


def percent_of(strength: Any) -> Any:
    return strength / 10


def tankful_of(strength: Any, tank: Any) -> Any:
    return strength * tank / 1000


def seals_verdict(percent_acid: Any) -> Any:
    if percent_acid > 100:
        return "stop: more acid than the stock has room for; set the injector to a lower ratio"
    if percent_acid > PERCENT_LIMIT:
        return f"caution: {shown(percent_acid, 1)} %, over 5 %: check the injector's seals"
    return f"pass: {shown(percent_acid, 2)} % by volume, not over 5 %"


def hourly_of(need: Any, acid: Any, flow: Any) -> Any:
    return volume_of(need, acid, flow * 60) / 1000


def daily_of(acid_per_hour: Any, hours: Any) -> Any:
    return acid_per_hour * hours


def left_of(alkalinity: Any, need: Any) -> Any:
    return alkalinity - need


def carbonate_left(left: Any) -> Any:
    return as_caco3(left)


def left_verdict(left: Any) -> Any:
    if left < 0.6:
        return f"caution: {shown(left, 2)} meq/L left, under 0.6: the pH will swing; use less acid"
    if left > 2:
        return f"caution: {shown(left, 2)} meq/L left, over 2: the root zone's pH may creep up"
    return f"pass: {shown(left, 2)} meq/L left, from 0.6 to 2"


def added(element: str) -> Any:
    def added_by(need: Any, acid: Any) -> Any:
        return brings(need, element, acid)

    return added_by


# Step by step.


def step_need(step: Any, alkalinity: Any, ph_now: Any, celsius: Any) -> Any:
    if step == "":
        return ""
    check(is_number(step), "the pH wanted must be a number", NotANumber)
    check(step >= LOWEST_PH and step <= HIGHEST_PH, "the pH wanted must be from 4 to 10")
    return 0 if step >= ph_now else acid_need(alkalinity, ph_now, step, celsius)


def step_dose(step_need: Any, acid: Any) -> Any:
    return "" if step_need == "" else volume_of(step_need, acid, 1000)


def step_fluid(step_dose: Any) -> Any:
    return "" if step_dose == "" else convert(step_dose, "mL/m3", "fl oz/1000 gal")


def step_left(step_need: Any, alkalinity: Any) -> Any:
    return "" if step_need == "" else alkalinity - step_need


def step_adds(element: str) -> Any:
    def step_brings(step_need: Any, acid: Any) -> Any:
        return "" if step_need == "" else brings(step_need, element, acid)

    return step_brings
