"""The working of the acid workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.acidity import SALTS_PER_ALKALINITY, acid_dose, acid_heat
from tanksheet.calc.convert import convert
from tanksheet.calc.mixing import dicalcium_index
from tanksheet.calc.water import acid_need, as_caco3
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import check, helper, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.working import BLANK
from tanksheet.units import QUANTITIES

LOWEST_PH, HIGHEST_PH = QUANTITIES["ph_target"].low, QUANTITIES["ph_target"].high
# UMass Extension: at most 2.25 US fl oz of phosphoric acid in 100 gal, and 5 % acid by volume.
PHOSPHORIC_LIMIT, PERCENT_LIMIT = 2.25, 5
# Polyethylene tanks take no more than 60 degC; a stock of more than half acid is hardly one:
# common practice, no source.
HOTTEST, WARM, STRONGEST = 60, 40, 50
# mg/L in the whole nutrient solution of Hoagland and Arnon 1950: 1 mmol/L P and 2 mmol/L S.
FEED_P, FEED_S = 31, 64
# meq/L left that steady the pH (common practice), and by how much an injector may be off, as a
# drawdown test that passes allows.
LITTLE, MUCH, OFF = 0.6, 2, 0.05
# By how much the index of dicalcium phosphate may be off (FERT.PHOSPHATEINDEX).
INDEX_DOUBT = 0.2
NOT_NEEDED = "not needed: the water is already at the pH wanted, or below it"


@helper
def of_acid(column: Any, acid: Any) -> Any:
    """A figure of the acid. Asking the cell first hands an error in it on as it is: one engine's
    MATCH would swallow it."""
    check(acid != "", "choose an acid from the list", NotListed)
    return look_up("acids", column, acid)


@helper
def volume_of(moles: Any, acid: Any, litres: Any) -> Any:
    """Commercial acid for some water, mL; moles in mmol/L. Its strength counts ``protons``."""
    return moles * of_acid("protons", acid) * litres / of_acid("eq_per_L", acid)


@helper
def brings(moles: Any, column: Any, acid: Any) -> Any:
    """An element that comes with the acid, mg/L."""
    return moles * of_acid("protons", acid) * of_acid(column, acid)


def carbonate_of(alkalinity: Any) -> Any:
    return as_caco3(alkalinity)


def hazard_of(acid: Any) -> Any:
    """Words that stand whatever the verdicts say."""
    return f"{of_acid('hazard', acid)}; the label comes first"


def need_of(alkalinity: Any, ph_now: Any, ph_target: Any, celsius: Any) -> Any:
    return 0 if ph_target >= ph_now else acid_need(alkalinity, ph_now, ph_target, celsius)


def moles_of(alkalinity: Any, ph_now: Any, ph_target: Any, celsius: Any, acid: Any) -> Any:
    return 0 if ph_target >= ph_now else acid_dose(alkalinity, ph_now, ph_target, celsius, acid)


def dose_of(moles: Any, acid: Any) -> Any:
    return volume_of(moles, acid, 1000)


def exactness(moles: Any, acid: Any) -> Any:
    if is_error(moles):
        return BLANK
    formula = of_acid("formula", acid)
    if formula == "H3PO4":
        return "caution: weak acid, 11 % low in soft soda water, to 8 % high in salty; use a meter"
    if formula == "C6H8O7":
        return "caution: weak acid, 27 % low in soft soda water, to 8 % high in salty; use a meter"
    return "pass: strong acid; as exact as the alkalinity; still check with a meter"


def target_verdict(ph_now: Any, ph_target: Any) -> Any:
    if is_error(ph_now) or is_error(ph_target):
        return BLANK
    if ph_target >= ph_now:
        return NOT_NEEDED
    if ph_target < 5:
        return "stop: below 5.0 roots, metal and concrete suffer, and a slip ends far lower"
    if ph_target < 5.5:
        return "caution: below 5.5 a little too much acid sends the pH far down"
    if ph_target > 6.5:
        return "caution: above 6.5 most of the alkalinity stays and works on the root zone"
    return "pass: 5.5 to 6.5 suits most crops"


# What the acid brings, judged.


def nitrogen_verdict(brought: Any) -> Any:
    if is_error(brought):
        return BLANK
    if brought == 0:
        return "pass: no nitrogen comes with the acid"
    limit = look_up("water_limits", "low", "nitrate")
    said = f"{shown(brought, 1)} mg/L N"
    if brought >= limit:
        return f"caution: {said}, over {shown(limit, 0)}: take it off the nitrogen of the feed"
    return f"pass: {said}, under {shown(limit, 0)}; count it as fertilizer"


def phosphorus_verdict(brought: Any, dose: Any) -> Any:
    if is_error(brought):
        return BLANK
    if brought == 0:
        return "pass: no phosphorus comes with the acid"
    ounces = convert(dose, "mL/m3", "fl oz/100 gal")
    said = f"{shown(brought, 0)} mg/L P"
    if ounces > PHOSPHORIC_LIMIT:
        return f"caution: {said} ({shown(ounces, 2)} fl oz in 100 gal, over 2.25): another acid"
    if brought > FEED_P:
        return (
            f"caution: {said}, as much as a whole feed: leave other phosphate out, or blend acids"
        )
    return f"pass: {said}, under {shown(FEED_P, 0)}; count it as fertilizer"


def sulfur_verdict(brought: Any) -> Any:
    if is_error(brought):
        return BLANK
    if brought == 0:
        return "pass: no sulfur comes with the acid"
    said = f"{shown(brought, 0)} mg/L S"
    if brought > FEED_S:
        return f"caution: {said}, as much as a whole feed: take sulfates off the feed"
    return f"pass: {said}, not over {shown(FEED_S, 0)}; count it as fertilizer"


def chloride_verdict(brought: Any, water_typed: Any, water: Any) -> Any:
    """Of the acid and the water together, against the limits of roots and of sprinkled leaves."""
    if is_error(brought) or is_error(water):
        return BLANK
    if brought == 0:
        return "pass: no chloride comes with the acid"
    low = look_up("water_limits", "low", "chloride")
    high = look_up("water_limits", "high", "chloride")
    leaves = look_up("water_limits", "high", "overhead")
    total = brought / look_up("ions", "molar_mass", "Cl") + water
    said = f"{shown(brought, 0)} mg/L Cl from the acid, {shown(total, 1)} meq/L with the water's"
    if total > high:
        return f"stop: {said}, over {shown(high, 0)}: for tolerant crops only; another acid"
    if total >= low:
        return f"caution: {said}, over {shown(low, 0)}: harms sensitive crops; another acid"
    if total > leaves:
        return f"caution: {said}, over {shown(leaves, 0)}: burns sprinkled leaves; another acid"
    if water_typed == "":
        return f"not given: the water's chloride; the acid alone adds {shown(brought, 0)} mg/L"
    return f"pass: {said}, under {shown(leaves, 0)}"


def settling_verdict(
    moles: Any, brought: Any, calcium_typed: Any, calcium: Any, alkalinity: Any, ph_target: Any
) -> Any:
    """Whether the acid's phosphate settles with the water's calcium, in the pipe."""
    if is_error(brought) or is_error(calcium):
        return BLANK
    if brought == 0:
        return "pass: no phosphate comes with the acid"
    if calcium_typed == "":
        return "not given: the water's calcium, with which the acid's phosphate may settle"
    index = dicalcium_index(calcium, moles, ph_target, SALTS_PER_ALKALINITY * alkalinity)
    said = f"calcium phosphate index {shown(index, 1)}"
    if index > INDEX_DOUBT:
        return f"stop: {said}, above 0: it settles in pipe and drippers; another acid or a lower pH"
    if index > -INDEX_DOUBT:
        return f"caution: {said}, 0.2 either way: it may settle; another acid or a lower pH"
    return f"pass: {said}, below 0: phosphate and calcium stay dissolved"


# The stock.


def strength_of(dose: Any, ratio: Any) -> Any:
    return dose * ratio / 1000


def percent_of(strength: Any) -> Any:
    return strength / 10


def tankful_of(strength: Any, tank: Any) -> Any:
    return strength * tank / 1000


@helper
def warmed(percent_acid: Any, acid: Any, celsius: Any) -> Any:
    check(acid != "", "choose an acid from the list", NotListed)
    return celsius + acid_heat(acid, percent_acid)


def mixing_temperature(percent_acid: Any, acid: Any, celsius: Any) -> Any:
    return "" if percent_acid > 100 else warmed(percent_acid, acid, celsius)


def seals_verdict(percent_acid: Any, acid: Any, celsius: Any) -> Any:
    if is_error(percent_acid):
        return BLANK
    if percent_acid > 100:
        return "stop: more acid than the stock has room for; set the injector to a lower ratio"
    said = f"{shown(percent_acid, 1)} % by volume"
    hot = warmed(percent_acid, acid, celsius)
    if hot > 100:
        return f"stop: {said}: mixing boils and spits; a lower ratio, or weaker acid"
    if hot > HOTTEST:
        return f"stop: {said}: mixing heats it to {shown(hot, 0)} degC, over 60; a lower ratio"
    if percent_acid > STRONGEST:
        return f"stop: {said}, over 50: no stock but acid; a lower ratio, or an acid pump"
    if hot > WARM and percent_acid > PERCENT_LIMIT:
        return f"caution: {said}: mixing heats it to {shown(hot, 0)} degC; slowly; ask about seals"
    if percent_acid > PERCENT_LIMIT:
        return f"caution: {said}, over 5 %: ask whether the injector's seals stand it"
    return f"pass: {shown(percent_acid, 2)} % by volume, not over 5 %"


def hourly_of(moles: Any, acid: Any, flow: Any) -> Any:
    return volume_of(moles, acid, flow * 60) / 1000


def daily_of(acid_per_hour: Any, hours: Any) -> Any:
    return acid_per_hour * hours


def amounts_verdict(
    acid_per_tank: Any, stock_per_hour: Any, acid_per_day: Any, tank: Any, hours: Any, moles: Any
) -> Any:
    """Whether the amounts can be used, and whether the stock lasts for the day."""
    if is_error(acid_per_tank) or is_error(stock_per_hour) or is_error(acid_per_day):
        return BLANK
    if moles == 0:
        return "not used: no acid is needed"
    if stock_per_hour * hours > tank:
        return (
            f"caution: a tank lasts {shown(tank / stock_per_hour, 1)} h of {shown(hours, 1)} h; "
            "then the water goes untreated: a larger tank, or mix again"
        )
    return f"pass: a tank lasts {shown(tank / stock_per_hour, 1)} h"


# What is left.


def left_of(alkalinity: Any, need: Any) -> Any:
    return alkalinity - need


def carbonate_left(left: Any) -> Any:
    return as_caco3(left)


def left_verdict(left: Any, need: Any) -> Any:
    if is_error(left):
        return BLANK
    said = f"{shown(left, 2)} meq/L left"
    if left <= 0 and need > 0:
        return (
            f"stop: no alkalinity left, {shown(-left, 2)} meq/L of free acid; raise the pH wanted"
        )
    if left < OFF * need:
        return f"stop: {said}: an injector 5 % high leaves none; raise the pH wanted"
    if left < LITTLE:
        return f"caution: {said}, under 0.6: the pH will swing; use less acid"
    if left > MUCH:
        return f"caution: {said}, over 2: the root zone's pH may creep up"
    return f"pass: {said}, from 0.6 to 2"


def added(element: str) -> Any:
    def added_by(moles: Any, acid: Any) -> Any:
        return brings(moles, element, acid)

    return added_by


# Step by step.

STEP_TYPED, STEP_RANGE = "the pH wanted must be a number", "the pH wanted must be from 4 to 10"


def step_need(step: Any, alkalinity: Any, ph_now: Any, celsius: Any) -> Any:
    if step == "":
        return ""
    check(is_number(step), STEP_TYPED, NotANumber)
    check(step >= LOWEST_PH and step <= HIGHEST_PH, STEP_RANGE)
    return 0 if step >= ph_now else acid_need(alkalinity, ph_now, step, celsius)


def step_moles(step: Any, alkalinity: Any, ph_now: Any, celsius: Any, acid: Any) -> Any:
    if step == "":
        return ""
    check(is_number(step), STEP_TYPED, NotANumber)
    check(step >= LOWEST_PH and step <= HIGHEST_PH, STEP_RANGE)
    return 0 if step >= ph_now else acid_dose(alkalinity, ph_now, step, celsius, acid)


def step_dose(step_moles: Any, acid: Any) -> Any:
    return "" if step_moles == "" else volume_of(step_moles, acid, 1000)


def step_fluid(step_dose: Any) -> Any:
    return "" if step_dose == "" else convert(step_dose, "mL/m3", "fl oz/1000 gal")


def step_left(step_need: Any, alkalinity: Any) -> Any:
    return "" if step_need == "" else alkalinity - step_need


def step_adds(element: str) -> Any:
    def step_brings(step_moles: Any, acid: Any) -> Any:
        return "" if step_moles == "" else brings(step_moles, element, acid)

    return step_brings
