"""Targets as a person types them: "N=150", "K=180..200", "S<=60", "NO3-N of N>=80", "EC<=2.2"."""

from __future__ import annotations

import math
import re

from tanksheet.errors import NotANumber, OutOfRange
from tanksheet.recipes.feed import Target
from tanksheet.sheets.numerals import number_in

_FORM = re.compile(r"\s*([\w-]+)(?:\s+of\s+([\w-]+))?\s*(<=|>=|=)\s*(.+?)\s*")
_HOW = 'write "N=150", "K=180..200", "S<=60" or "NO3-N of N>=80"'


def target_of(text: str) -> Target:
    """One target: mg/L, alkalinity in meq/L, EC in mS/cm, a share in percent.

    Raises: Fault for what cannot be read.
    """
    found = _FORM.fullmatch(text)
    if not found:
        raise NotANumber(f"target {text!r} is not understood; {_HOW}")
    what, of, sign, rest = found[1], found[2] or "", found[3], found[4]
    ends = rest.split("..") if sign == "=" else [rest]
    if len(ends) > 2:
        raise NotANumber(f"target {text!r} is not understood; {_HOW}")
    values = [_number(text, end) for end in ends]
    if values[0] > values[-1]:
        raise OutOfRange(f"target {text!r}: {ends[0]} is above {ends[-1]}")
    low = -math.inf if sign == "<=" else values[0]
    high = math.inf if sign == ">=" else values[-1]
    return Target(what, low, high, of)


def _number(text: str, end: str) -> float:
    value = number_in(end.strip().removesuffix("%"))
    if value is None:
        raise NotANumber(f"target {text!r}: {end.strip()!r} is no number; {_HOW}")
    return value
