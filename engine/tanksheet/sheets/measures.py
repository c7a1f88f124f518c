"""Numbers as words for people, in the subset that compiles to formulas."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.ratio import percent_injected
from tanksheet.calc.water import alkalinity_meq
from tanksheet.subset import begins, helper, is_error, is_number, rounded, shown

Function = Callable[..., Any]


@helper
def figure(number: Any) -> Any:
    """About three significant figures, with no zeros behind that say nothing."""
    if abs(number) >= 100:
        return shown(number, 0)
    if number != 0 and abs(number) < 0.1:
        return shown(number, 4)
    if abs(number) >= 10 or rounded(number, 2) == rounded(number, 1):
        return shown(number, 1)
    return shown(number, 2)


def in_words(base: str, unit: str) -> Function:
    """A number in a base unit as words in another unit, blank where there is none."""

    def words(number: Any) -> Any:
        return f"{figure(convert(number, base, unit))} {unit}" if is_number(number) else ""

    return words


def meaning(base: str, home: str, other: str) -> Function:
    """What a typed number means: beside the edition's own unit that of the other system, beside
    any other unit the edition's own."""

    def words(number: Any, unit: Any) -> Any:
        if not is_number(number):
            return ""
        if unit == home:
            return f"{figure(convert(number, base, other))} {other}"
        return f"{figure(convert(number, base, home))} {home}"

    return words


def meaning_at_home(base: str, home: str) -> Function:
    """The same where the other system has no unit of its own: silent beside the usual unit."""

    def words(number: Any, unit: Any) -> Any:
        if not is_number(number) or unit == home or unit == base:
            return ""
        return f"{figure(convert(number, base, home))} {home}"

    return words


def meaning_as_element(element: str) -> Function:
    """Beside an amount of an ion, whose own mass is another one: that of the element."""
    plain = f"mg/L as {element}"

    def words(number: Any, unit: Any) -> Any:
        if not is_number(number) or unit == plain:
            return ""
        return f"{figure(number)} ppm {element}"

    return words


def ratio_meaning(parts: Any, unit: Any) -> Any:
    """A ratio in percent, a percent as a ratio."""
    if not is_number(parts):
        return ""
    if unit == "%":
        return f"1 : {figure(parts)}"
    return f"{shown(percent_injected(parts), 2)} %"


def alkalinity_meaning(number: Any, unit: Any) -> Any:
    """Alkalinity in mg/L as CaCO3 beside any other unit, in meq/L beside that one."""
    if not is_number(number):
        return ""
    if unit == "meq/L":
        return f"{figure(number)} ppm"
    return f"{shown(alkalinity_meq(number), 2)} meq/L"


@helper
def unless_pass(verdict: Any) -> Any:
    """A verdict, unless it passes or nothing was asked: what is right says nothing."""
    if is_error(verdict):
        return "not checked: an entry is blank or no number"
    if begins(verdict, "pass") or begins(verdict, "not used") or begins(verdict, "not measured"):
        return ""
    if begins(verdict, "no target"):
        return ""
    return verdict


def weigh_head(word: str) -> Function:
    """The head of a column of amounts, which a stop turns into a warning."""

    def head(overall: Any) -> Any:
        if is_error(overall):
            return "do not mix"
        return "do not mix" if begins(overall, "stop") else word

    return head


# figures of the answer block, empty where the verdict is a stop


@helper
def stopped(overall: Any) -> Any:
    return True if is_error(overall) else begins(overall, "stop")


def tile_number(overall: Any, number: Any) -> Any:
    if stopped(overall) or is_error(number):
        return ""
    return figure(number) if is_number(number) else ""


def tile_in(base: str, unit: str) -> Function:
    """A number of a base unit in another one."""

    def words(overall: Any, number: Any) -> Any:
        if stopped(overall) or is_error(number):
            return ""
        return figure(convert(number, base, unit)) if is_number(number) else ""

    return words


def tile_setting(overall: Any, ratio: Any) -> Any:
    if stopped(overall) or is_error(ratio):
        return "none"
    return f"1 : {figure(ratio)}"


def tile_words(overall: Any, words: Any) -> Any:
    return "" if stopped(overall) or is_error(words) else words
