"""What stands in one cell: text to a number, a unit or a word, or the reason why not.

The kernel reads columns of good numbers at once (``kernel``); whatever that does not take comes
here, so this is the rule.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Any

_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]{1,9})?")
_SHOWN = 200  # characters of a value in a reject
_MOST_EXPONENT = 400  # of ten: what is beyond is no amount, and a fraction of it would be huge


class BadCell(Exception):
    """A cell that cannot be used: its column, what stands there, and why."""

    def __init__(self, column: str, value: Any, reason: str) -> None:
        super().__init__(reason)
        self.column, self.value, self.reason = column, cut(text_of(value)), reason


def text_of(value: Any) -> str:
    """A cell's content as text; "" for a blank one."""
    if type(value) is str:
        return value
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value)


def cut(text: str) -> str:
    """A text no longer than a reject shows."""
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "..."


def word(column: str, value: Any) -> str:
    """The text of a cell without blanks around it. Raises: BadCell for a blank one."""
    text = value.strip() if type(value) is str else text_of(value).strip()
    if not text:
        raise BadCell(column, value, "blank")
    return text


def number(column: str, value: Any) -> float:
    """The number, at least 0, in a cell. Raises: BadCell."""
    if type(value) is str and value.isascii() and value.replace(".", "", 1).isdigit():
        found = float(value)  # as most are
    else:
        found = float(_digits(column, value))
    if math.isinf(found):
        raise BadCell(column, value, "too large a number")
    return abs(found)  # of -0


def exact(column: str, value: Any) -> Fraction:
    """The number, at least 0, in a cell, to the last digit. Raises: BadCell."""
    text = _digits(column, value)
    exponent = re.split("[eE]", text)[1:]
    if exponent and abs(int(exponent[0])) > _MOST_EXPONENT:
        raise BadCell(column, value, "too large or too small a number")
    return abs(Fraction(text))


def _digits(column: str, value: Any) -> str:
    text = word(column, value)
    if not _NUMBER.fullmatch(text):
        raise BadCell(column, value, "not a number; write digits, and a point as the decimal sign")
    if text[0] == "-" and float(text) != 0:
        raise BadCell(column, value, "below 0")
    return text


def above_zero(column: str, value: Any, most: float) -> float:
    """A number above 0 and at most ``most``. Raises: BadCell."""
    found = number(column, value)
    if found == 0:
        raise BadCell(column, value, "must be above 0")
    if found > most:
        raise BadCell(column, value, f"must be at most {most:,.12g}")
    return found


def choice(column: str, value: Any, known: Mapping[str, str] | Collection[str]) -> str:
    """One of the words of a list, in any case. Raises: BadCell."""
    text = word(column, value)
    names = known if isinstance(known, Mapping) else {each.casefold(): each for each in known}
    if text.casefold() not in names:
        raise BadCell(column, value, f"unknown; use {', '.join(names.values())}")
    return names[text.casefold()]
