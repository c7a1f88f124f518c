"""From what a person types to a number in the base unit, as functions that compile to formulas."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from tanksheet.calc.convert import convert, unit_factor
from tanksheet.calc.ratio import ratio_of_percent
from tanksheet.calc.water import equivalents, ion_mmol, mass_as_element
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import check, helper, is_error, is_number
from tanksheet.tables import look_up
from tanksheet.units import Quantity

Function = Callable[..., Any]
RATIO_FORMS = ("1:N", "%")


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


def ratio_in_parts(limits: Quantity) -> Function:
    """A setting typed as 1:N or as a percent, in parts."""
    within, message = _inside(limits), f"must be {limits.allowed}"

    def parts(setting: Any, form: Any) -> Any:
        check(is_number(setting), message, NotANumber)
        check(form in RATIO_FORMS, "choose 1:N or %", NotListed)
        if form == "%":
            return ratio_of_percent(setting)
        check(within(setting), message)
        return setting

    return parts


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


def entry_message(complaint: str, usual: tuple[float, float], optional: bool) -> Function:
    """Words beside an input: "ok", "unusual", what is wrong, or that a blank is fine.

    They are words for whatever is typed, errors among it. Where a blank is allowed, ``typed`` is
    what stands in the cell and ``number`` what it comes to.
    """
    low, high = usual

    @helper
    def required(number: Any) -> Any:
        if not is_number(number):
            return complaint
        return "ok" if number >= low and number <= high else "unusual: check number and unit"

    def may_be_blank(typed: Any, number: Any) -> Any:
        if is_error(number):
            return complaint
        return "left blank" if typed == "" else required(number)

    return may_be_blank if optional else required


def with_factor(message: Function) -> Function:
    """The message for an input that may be blank, with a word on its unit while it is."""
    said = helper(message)

    def or_unit(typed: Any, number: Any, factor: Any) -> Any:
        return said(typed, number) if is_number(factor) else "choose a unit from the list"

    return or_unit


def choice_message(words: tuple[str, ...]) -> Function:
    def message(chosen: Any) -> Any:
        if is_error(chosen):
            return "choose a word from the list"
        return "ok" if chosen in words else "choose a word from the list"

    return message
