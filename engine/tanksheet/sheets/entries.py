"""From what a person types to a number in the base unit, as functions that compile to formulas."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from tanksheet.calc.convert import convert, element, unit_factor
from tanksheet.calc.ratio import dilution, ratio_of_percent
from tanksheet.calc.water import MG_CACO3_PER_MEQ, equivalents, ion_mmol, mass_as_element
from tanksheet.errors import NotANumber, NotListed
from tanksheet.sheets.choices import nutrient_units, reported_units
from tanksheet.subset import begins, check, helper, is_number, number_held, rounded, without_unit
from tanksheet.tables import look_up
from tanksheet.units import Quantity

Function = Callable[..., Any]
RATIO_FORMS = ("1:N", "%")
# What 1:N means: one part of stock in N parts of feed, or added to N parts of water.
READINGS = ("1 in N", "1 to N")


def factor_to(base: str) -> Function:
    def factor(unit: Any) -> Any:
        # Asking the cell first hands an error in it on: one engine's MATCH would swallow it.
        check(unit != "", "choose a unit from the list", NotListed)
        return unit_factor(unit, base)

    return factor


def ion_factor(ion: str, base: str) -> Function:
    """From a unit of a water report to mmol/L, meq/L, or mg/L of the element."""

    def amount(unit: Any) -> Any:
        return ion_mmol(1, ion, unit)

    def charges(unit: Any) -> Any:
        return equivalents(ion_mmol(1, ion, unit), ion)

    def element(unit: Any) -> Any:
        return mass_as_element(ion_mmol(1, ion, unit), ion)

    return {"mmol/L": amount, "meq/L": charges, "mg/L": element}[base]


def nutrient_factor(nutrient: str) -> Function:
    """From a unit of ``choices.nutrient_units`` to mg/L of the element."""
    mass, charge = (float(look_up("nutrients", each, nutrient)) for each in ("mass", "charge"))
    oxide = str(look_up("nutrients", "oxide", nutrient))
    share = 0.0 if oxide == "none" else element(oxide, 100) / 100
    as_oxide = f"ppm {oxide}"

    def factor(unit: Any) -> Any:
        check(unit != "", "choose a unit from the list", NotListed)
        if unit == "mmol/L":
            return mass
        if unit == "umol/L":
            return mass / 1000
        if unit == "meq/L":
            check(charge > 0, f"{nutrient} carries no charge; choose ppm", NotListed)
            return mass / charge
        if unit == "ug/L":
            return 0.001
        if unit == as_oxide:
            check(share > 0, f"{nutrient} has no oxide; choose ppm", NotListed)
            return share
        return unit_factor(unit, "mg/L")

    plain = helper(factor)

    def hard_factor(unit: Any) -> Any:
        """Calcium and magnesium in units of hardness too."""
        if unit == "mg/L as CaCO3" or unit == "gpg":
            return mass_as_element(ion_mmol(1, nutrient, unit), nutrient)
        if unit == "dH" or unit == "fH" or unit == "e":
            return mass_as_element(ion_mmol(1, nutrient, unit), nutrient)
        return plain(unit)

    return hard_factor if nutrient in ("Ca", "Mg") else factor


def reported_factor(nutrient: str, ion: str) -> Function:
    """From a unit of ``choices.reported_units`` to mg/L of the element."""
    plain = helper(nutrient_factor(nutrient))
    printed = tuple(
        unit for unit in reported_units(nutrient, ion) if unit not in nutrient_units(nutrient)
    )

    def factor(unit: Any) -> Any:
        if unit in printed:
            return mass_as_element(ion_mmol(1, ion, unit), ion)
        return plain(unit)

    return factor if printed else nutrient_factor(nutrient)


def chosen_nutrient_factor(unit: Any, nutrient: Any) -> Any:
    """From a unit of ``choices.units_of_nutrients`` to mg/L of the element, for a nutrient in a
    cell; an oxide must be the nutrient's own."""
    check(unit != "", "choose a unit from the list", NotListed)
    if unit == "mmol/L":
        return look_up("nutrients", "mass", nutrient)
    if unit == "meq/L":
        return look_up("nutrients", "mass", nutrient) / look_up("nutrients", "charge", nutrient)
    if begins(unit, "ppm "):
        oxide = look_up("nutrients", "oxide", nutrient)
        check(unit == f"ppm {oxide}", "choose the oxide of the nutrient, or ppm", NotListed)
        return element(oxide, 100) / 100
    return unit_factor(unit, "mg/L")


def alkalinity_factor(unit: Any) -> Any:
    """From a unit of ``choices.ALKALINITY_UNITS`` to mg/L as CaCO3; mmol are those of HCO3."""
    check(unit != "", "choose a unit from the list", NotListed)
    if unit == "meq/L" or unit == "mmol/L":
        return MG_CACO3_PER_MEQ
    if unit == "mg/L as HCO3":
        return MG_CACO3_PER_MEQ * ion_mmol(1, "HCO3", unit)
    return unit_factor(unit, "mg/L")


def read_number(typed: Any) -> Any:
    """What stands in a cell, a number held as text as the number."""
    return number_held(typed)


def read_with_unit(typed: Any, unit: Any) -> Any:
    """The same where a unit stands beside it: text that ends in that very unit is read too."""
    if typed == "":
        return ""
    return typed if is_number(typed) else number_held(without_unit(typed, unit))


def _inside(limits: Quantity) -> Function:
    low, high = limits.low, limits.high

    @helper
    def above(number: Any) -> Any:
        return number > low and number <= high

    @helper
    def from_low(number: Any) -> Any:
        return number >= low and number <= high

    return above if limits.above else from_low


def _based(limits: Quantity) -> Function:
    within, message = _inside(limits), f"must be {limits.allowed}"

    @helper
    def based(number: Any, factor: Any) -> Any:
        check(is_number(number), message, NotANumber)
        check(within(number * factor), message)
        return number * factor

    return based


def fits(limits: Quantity, form: str) -> Function:
    """Whether what is typed may stay: a number that lies within the limits in the base unit.

    ``form`` is "plain", "factor" (its unit's factor is the second argument), "temperature" or
    "ratio" (its unit is). Not an error but FALSE where the unit is none, since a validation whose
    formula is an error is not read alike everywhere.
    """
    within = _inside(limits)
    to_celsius = float(look_up("units", "factor", "degF"))
    shift = float(look_up("units", "offset", "degF")) - float(look_up("units", "offset", "degC"))
    lowest_percent, highest_percent = 100 / limits.high, 100 / (limits.low or math.inf)

    def plain(number: Any) -> Any:
        return within(number) if is_number(number) else False

    def factor(number: Any, factor: Any) -> Any:
        if is_number(number) and is_number(factor):
            return within(number * factor)
        return False

    def temperature(number: Any, unit: Any) -> Any:
        if not is_number(number):
            return False
        if unit == "degF":
            return within(number * to_celsius + shift)
        return within(number) if unit == "degC" else False

    def ratio(number: Any, form: Any) -> Any:
        if not is_number(number):
            return False
        if form == "%":
            return number >= lowest_percent and number <= highest_percent
        return within(number) if form == "1:N" else False

    forms: dict[str, Function] = {
        "plain": plain,
        "factor": factor,
        "temperature": temperature,
        "ratio": ratio,
    }
    return forms[form]


def in_base(limits: Quantity, optional: bool) -> Function:
    """The typed number times its unit's factor, inside the limits; blank stays blank."""
    based = _based(limits)

    def required(number: Any, factor: Any) -> Any:
        return based(number, factor)

    def may_be_blank(number: Any, factor: Any) -> Any:
        return "" if number == "" else based(number, factor)

    return may_be_blank if optional else required


def temperature(limits: Quantity, optional: bool) -> Function:
    """A temperature in degrees Celsius from either scale, inside the limits; blank stays blank."""
    within, message = _inside(limits), f"must be {limits.allowed}"

    @helper
    def based(number: Any, unit: Any) -> Any:
        check(is_number(number), message, NotANumber)
        check(unit != "", "choose a unit from the list", NotListed)
        celsius = convert(number, unit, "degC")
        check(within(celsius), message)
        return celsius

    def required(number: Any, unit: Any) -> Any:
        return based(number, unit)

    def may_be_blank(number: Any, unit: Any) -> Any:
        return "" if number == "" else based(number, unit)

    return may_be_blank if optional else required


def or_zero(limits: Quantity) -> Function:
    """As ``in_base``, but a blank counts as 0."""
    based = _based(limits)

    def number_or_zero(number: Any, factor: Any) -> Any:
        return 0 if number == "" else based(number, factor)

    return number_or_zero


def plain_number(limits: Quantity, optional: bool) -> Function:
    """For quantities without a unit: the typed number inside the limits."""
    based = _based(limits)

    def required(number: Any) -> Any:
        return based(number, 1)

    def may_be_blank(number: Any) -> Any:
        return "" if number == "" else based(number, 1)

    return may_be_blank if optional else required


@helper
def is_time(setting: Any) -> Any:
    """Whether 1:N was typed where a sheet takes it for a time of day: N + 60 minutes as a share of
    a day. A percent that somebody types ends after four decimals, as few such times do."""
    minutes = setting * 1440
    digits = setting * 10000
    whole = rounded(minutes, 0)
    if whole < 61 or whole > 11520 or setting == rounded(setting, 0):
        return False
    return abs(minutes - whole) < 1e-9 and abs(digits - rounded(digits, 0)) > 1e-6


def ratio_in_parts(limits: Quantity) -> Function:
    """A setting typed as 1:N or as a percent, in parts."""
    within, message = _inside(limits), f"must be {limits.allowed}"

    def parts(setting: Any, form: Any) -> Any:
        check(is_number(setting), message, NotANumber)
        check(form in RATIO_FORMS, "choose 1:N or %", NotListed)
        check(not is_time(setting), "1:N was taken for a time of day; type 100 for 1:100")
        if form == "%":
            return ratio_of_percent(setting)
        check(within(setting), message)
        return setting

    return parts


def dilution_of(limits: Quantity) -> Function:
    """The exact dilution factor behind a setting in parts and what 1:N means, one of READINGS.

    It stays within the limits of a ratio, so that at the end of the range the one part is dropped.
    """
    most, other = limits.high, READINGS[1]

    def factor(parts: Any, reading: Any) -> Any:
        exact = dilution(parts, "to") if reading == other else dilution(parts, "in")
        return min(exact, most)

    return factor


def listed(words: tuple[str, ...]) -> Function:
    """A chosen word, or #N/A when it is not in the list."""

    def word(chosen: Any) -> Any:
        check(chosen in words, "choose from the list", NotListed)
        return chosen

    return word


def in_unit(base: str, unit: str, may_be_words: bool) -> Function:
    """A result in another unit; words and blanks pass through."""

    def converted(number: Any) -> Any:
        return convert(number, base, unit)

    def passed_on(number: Any) -> Any:
        return convert(number, base, unit) if is_number(number) else ""

    return passed_on if may_be_words else converted
