"""Words beside what a person fills, as functions that compile to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.entries import Function, is_time
from tanksheet.subset import helper, is_error, is_number, shown

UNUSUAL = "unusual: check number and unit"
NO_DATE, ODD_DATE = "type a date: 2026-11-27", "unusual: check the year"
AS_TEXT = "held as text, read as a number: retype it"


def entry_message(
    complaint: str,
    usual: tuple[float, float],
    optional: bool,
    odd: str = UNUSUAL,
) -> Function:
    """Words beside an input: "unusual", or what is wrong; nothing where all is well.

    They are words for whatever is typed, errors among it. Where a blank is allowed, ``typed`` is
    what stands in the cell and ``number`` what it comes to.
    """
    low, high = usual

    @helper
    def required(number: Any) -> Any:
        if not is_number(number):
            return complaint
        return "" if number >= low and number <= high else odd

    def may_be_blank(typed: Any, number: Any) -> Any:
        if is_error(number):
            return complaint
        return "" if typed == "" else required(number)

    return may_be_blank if optional else required


def ratio_message(complaint: str, usual: tuple[float, float]) -> Function:
    """Words beside a ratio: as ``entry_message``, and what to type where 1:N became a time."""
    said = helper(entry_message(complaint, usual, False))

    def message(setting: Any, parts: Any) -> Any:
        if is_error(parts) and is_number(setting):
            if is_time(setting) or (setting > 1 / 24 and setting < 1):
                minutes = shown(setting * 1440 - 60, 0)
                return f"1:{minutes} became a time of day: type {minutes}"
        return said(parts)

    return message


def reading_message(complaint: str, which: int) -> Function:
    """Words beside one reading of a run: what is no number is called out in its own row."""

    is_text = f"reading {which} is text: retype it as a number"

    def message(typed: Any, worked: Any) -> Any:
        if is_error(typed) or is_error(worked):
            return complaint
        if typed == "":
            return ""
        return "" if is_number(typed) else is_text

    return message


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
        return "" if chosen in words else "choose a word from the list"

    return message


def unless_text(message: Function, arguments: int) -> Function:
    """The message behind a look at the cell: whether it holds a number as text, which was read.

    The function takes what stands in the cell and the number read, then the message's arguments.
    """
    said = helper(message)

    @helper
    def held(typed: Any, read: Any) -> Any:
        return is_number(read) if not is_number(typed) else False

    def one(typed: Any, read: Any, a: Any) -> Any:
        return AS_TEXT if held(typed, read) else said(a)

    def two(typed: Any, read: Any, a: Any, b: Any) -> Any:
        return AS_TEXT if held(typed, read) else said(a, b)

    def three(typed: Any, read: Any, a: Any, b: Any, c: Any) -> Any:
        return AS_TEXT if held(typed, read) else said(a, b, c)

    def four(typed: Any, read: Any, a: Any, b: Any, c: Any, d: Any) -> Any:
        return AS_TEXT if held(typed, read) else said(a, b, c, d)

    return (one, two, three, four)[arguments - 1]
