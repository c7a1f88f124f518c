"""Wordings that more than one workbook uses, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.errors import NotANumber
from tanksheet.subset import (
    after,
    among,
    before,
    begins,
    check,
    floor,
    helper,
    is_error,
    is_number,
    nth,
    position,
    rounded,
    shown,
    sum_where,
)

MEND = "stop: an entry cannot be used; mend it where its note says so"
BLANK = "not given: an entry above is blank or no number; the note beside it says which"


@helper
def typed_number(typed: Any, least: Any, most: Any) -> Any:
    """What a person typed into a cell of a table, if it is a number within its range."""
    check(is_number(typed), "type a number", NotANumber)
    check(typed >= least and typed <= most, "the number is out of its range")
    return typed


@helper
def pounds_and_ounces(mass: Any) -> Any:
    """A mass in grams as "17 lb 5.1 oz"; 16.0 oz is carried over to the next pound."""
    ounces = rounded(convert(mass, "g", "oz"), 1)
    pounds = floor((ounces + 0.01) / 16)
    return f"{shown(pounds, 0)} lb {shown(ounces - 16 * pounds, 1)} oz"


def kind_of(verdict: Any) -> Any:
    """The word that a verdict counts as; "unused" is what was not asked for."""
    if is_error(verdict):
        return "unread"
    if begins(verdict, "stop"):
        return "stop"
    if begins(verdict, "caution"):
        return "caution"
    if begins(verdict, "not given") or begins(verdict, "not checked"):
        return "open"
    return "unused" if begins(verdict, "not used") else "pass"


def one(kind: Any) -> Any:
    return 1 if kind != "" else 0


def worst_kind(kinds: Any) -> Any:
    """Of what kind the worst verdict is."""
    if among("unread", kinds):
        return "unread"
    if among("stop", kinds):
        return "stop"
    if among("caution", kinds):
        return "caution"
    if among("open", kinds):
        return "open"
    return "pass" if among("pass", kinds) else "unused"


UNREAD = "not checked: an entry is blank or no number; the note beside it says what to type"
MEETS = " meets "  # stands between two that clash; after them a colon, and what comes of it
CLEAR = "pass: every line below passes, and nothing was left unchecked"


def worst_of(kind: Any, kinds: Any, verdicts: Any, ones: Any) -> Any:
    """The first verdict of the worst kind, then how many of each kind there are."""
    if kind == "unread":
        return UNREAD
    if kind == "pass":
        return CLEAR
    if kind == "unused":
        return "not used: nothing is asked for yet"
    stops = shown(sum_where(kinds, "stop", ones), 0)
    cautions = shown(sum_where(kinds, "caution", ones), 0)
    gaps = shown(sum_where(kinds, "open", ones), 0)
    counted = f"in all {stops} stop, {cautions} caution, {gaps} not given"
    return f"{nth(verdicts, position(kind, kinds))} ({counted})"


def headline(kind: Any, kinds: Any, verdicts: Any, ones: Any) -> Any:
    """The worst verdict up to its cure, and how much is unknown besides; of two that clash what
    comes of it, for their names stand beside the cure."""
    if kind == "unread":
        return before(UNREAD, ";")
    if kind == "pass":
        return "pass: all is well"
    if kind == "unused":
        return "not used: nothing is asked for yet"
    reason = before(nth(verdicts, position(kind, kinds)), ";")
    comes = after(after(reason, MEETS), ": ")
    said = reason if comes == "" else f"{before(reason, ':')}: {comes}"
    gaps = sum_where(kinds, "open", ones)
    if gaps == 0 or kind == "open":
        return said
    things = "thing" if gaps == 1 else "things"
    return f"{said}; {shown(gaps, 0)} {things} not checked"


def advice(kind: Any, kinds: Any, verdicts: Any, ones: Any) -> Any:
    """What to do about the worst verdict, and how many more of its kind there are."""
    if kind == "unread":
        return "The note beside the entry says what to type."
    if kind == "pass":
        return "Nothing was left unchecked."
    if kind == "unused":
        return ""
    more = sum_where(kinds, kind, ones) - 1
    said = nth(verdicts, position(kind, kinds))
    reason = before(said, ";")
    comes = after(after(reason, MEETS), ": ")
    cure = after(said, "; ")
    full = cure if comes == "" else f"{before(after(reason, ': '), ': ')}: {cure}"
    return full if more == 0 else f"{full} (and {shown(more, 0)} more below)"


def itself(verdict: Any) -> Any:
    return verdict
