"""What the pages say of each place of the line, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import before, begins, helper, is_error, is_number, nth, shown
from tanksheet.templates.field_event.time_working import RATE_WORDS
from tanksheet.templates.injector.working import FACTORS, NAMES

PLACES = ("1st", "2nd", "3rd")


# tiles


def tile_settings(set_1: Any, set_2: Any, set_3: Any) -> Any:
    """The settings of the places that are used, in their order."""
    two = joined(tile_setting(set_1), tile_setting(set_2))
    return joined(two, tile_setting(set_3))


@helper
def tile_setting(setting: Any) -> Any:
    return figure(setting) if is_number(setting) else ""


@helper
def joined(one: Any, other: Any) -> Any:
    if one == "":
        return other
    return one if other == "" else f"{one}, {other}"


def tile_ec(ready: Any, ec: Any) -> Any:
    if is_error(ready) or is_error(ec):
        return "?"
    return shown(ec, 2) if ready > 0 else ""


def tile_ph(ready: Any, ph: Any) -> Any:
    if is_error(ready) or is_error(ph):
        return "?"
    return shown(ph, 1) if ready > 0 else ""


def tile_order(order: Any) -> Any:
    return "?" if is_error(order) else order


# the places of the line


def place_name(place: str) -> Any:
    """Which stock enters at a place."""

    def name(number: Any, names: Any, counts: Any) -> Any:
        if is_error(number):
            return place
        if is_error(nth(counts, number)):
            return place
        used = "" if nth(counts, number) > 0 else ", not used"
        return f"{place}: stock {nth(names, number)}{used}"

    return name


def of_place(number: Any, column: Any) -> Any:
    """What belongs to the stock at a place; a blank where it cannot be told."""
    if is_error(number):
        return ""
    return "" if is_error(nth(column, number)) else nth(column, number)


def scale_words(setting: Any) -> Any:
    return f"1 : {figure(setting)}" if is_number(setting) else ""


def percent_words(percent: Any) -> Any:
    return f"{shown(percent, 2)} %" if is_number(percent) else ""


def drawn_words(edition: str) -> Any:
    said = RATE_WORDS[edition]

    def words(drawn: Any) -> Any:
        return said(drawn) if is_number(drawn) else ""

    return words


def pressure_words(edition: str) -> Any:
    factor, unit = FACTORS[edition]["pressure"], NAMES[edition]["pressure"]

    def words(pressure: Any) -> Any:
        if is_error(pressure):
            return ""
        return f"{figure(pressure / factor)} {unit}" if is_number(pressure) else ""

    return words


def ec_behind(ready: Any, column: Any, row: Any, counts: Any, number: Any) -> Any:
    """EC or pH behind a place, where a stock enters there; else a blank."""
    if is_error(ready) or is_error(row) or is_error(number):
        return ""
    if ready < 0:
        return ""
    if is_error(nth(column, row)) or is_error(nth(counts, number)):
        return ""
    return nth(column, row) if nth(counts, number) > 0 else ""


def two_digits(number: Any) -> Any:
    return shown(number, 2) if is_number(number) else ""


def one_digit(number: Any) -> Any:
    return shown(number, 1) if is_number(number) else ""


def place_said(verdict: Any) -> Any:
    """A word of what is wrong with the unit there."""
    if is_error(verdict):
        return ""
    if begins(verdict, "pass") or begins(verdict, "not used"):
        return ""
    return f"{before(verdict, ':')}: see below"


def dissolved_said(said: Any) -> Any:
    """What is said of a product beside it: nothing of one that dissolves."""
    if is_error(said):
        return ""
    return "" if begins(said, "pass") else said


def number_or_blank(number: Any) -> Any:
    if is_error(number):
        return ""
    return number


def verdict_there(number: Any, of_a: Any, of_b: Any, of_c: Any) -> Any:
    """The verdict on the unit at a place."""
    if is_error(number):
        return ""
    if number == 1:
        return of_a
    return of_b if number == 2 else of_c
