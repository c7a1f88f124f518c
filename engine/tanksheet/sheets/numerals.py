"""Reads a number as a person types it, and refuses one that can be read in two ways.

A point is the decimal sign. Commas, apostrophes and spaces stand only between groups of three
digits: "1,505" and "1 505" are 1505. Whatever else has such a mark in it could be ten or a
thousand times too much ("150,5" without its comma), so it is refused with its readings.
"""

from __future__ import annotations

import re
import unicodedata

from tanksheet.errors import NotANumber

# Blanks of all widths that writing programs put between groups, apostrophes, a true minus, the sign
# of a ratio, Arabic marks of decimals and of groups, and all signs of full width.
_ALIKE = str.maketrans(
    {
        **dict.fromkeys("\u00a0\u2007\u2009\u202f\u3000", " "),
        **{chr(0xFEE0 + code): chr(code) for code in range(0x21, 0x7F)},
        **{"\u2019": "'", "\u2212": "-", "\u2236": ":", "\u066b": ".", "\u066c": ","},
    }
)
_EXPONENT = r"(?:[eE][-+]?[0-9]+)?"
# Groups begin with 1 to 9: nobody writes "0,125" for 125.
_GROUPED = "|".join(rf"[1-9][0-9]{{0,2}}(?:{mark}[0-9]{{3}})+" for mark in (",", "'", " "))
_NUMBER = re.compile(rf"[-+]?(?:(?:{_GROUPED}|[0-9]+)(?:\.[0-9]*)?|\.[0-9]+){_EXPONENT}")
# Whatever a person may mean as one number: digits with marks before, between or behind them.
_LOOKS_LIKE = re.compile(rf"[-+]?[.,]*[0-9](?:[0-9., ']*[0-9.,])?{_EXPONENT}")
_MARK = re.compile("[., ']")
_POINTS = re.compile(r"[0-9]+(?:\.[0-9]+){2,}")  # a date or a version, and no number
RULE = "a point is the decimal sign, and commas stand only between groups of three digits"
LARGEST = 1e300


class UnclearNumber(NotANumber):
    """Digits with marks that can be read in more than one way, or in none."""


def number_in(text: str) -> float | None:
    """The number that a text is, or None where it is none.

    Raises: UnclearNumber for digits whose marks can be read in two ways.
    """
    text = tidy(text)
    if _POINTS.fullmatch(text) or not _LOOKS_LIKE.fullmatch(text):
        return None
    return split_number(text)[0]


def split_number(text: str) -> tuple[float | None, str]:
    """The number that begins a text, None where there is none, and the text behind it.

    Raises: UnclearNumber for digits whose marks can be read in two ways.
    """
    text = tidy(text)
    looks = _LOOKS_LIKE.match(text)
    if not looks:
        return None, text
    digits, rest = looks[0], text[looks.end() :].strip()
    if not _NUMBER.fullmatch(digits) or _MARK.match(rest):
        raise UnclearNumber(_complaint(text, digits, rest))
    number = float(re.sub("[, ']", "", digits))
    if abs(number) > LARGEST:
        raise UnclearNumber(f"{text!r} is too large a number")
    return number, rest


def tidy(text: str) -> str:
    """A text with the digits 0 to 9, and one sign for each of those that look alike."""
    plain = text.translate(_ALIKE).strip()
    if plain.isascii():
        return plain
    return "".join(str(unicodedata.decimal(each, each)) for each in plain)


def _complaint(text: str, digits: str, rest: str) -> str:
    ways = [] if _MARK.match(rest) else _readings(digits)
    if len(ways) < 2:
        return f"{text!r} is not one number: {RULE}, semicolons between several numbers"
    shown = " or ".join(f"{way} {rest}".strip() for way in ways)
    return f"{text!r} can be read in two ways: {RULE}; write {shown}"


def _readings(digits: str) -> list[str]:
    """What may be meant: the last mark is the decimal sign, or no mark but a point is one."""
    number, exponent = re.split(f"({_EXPONENT}$)", digits)[:2]
    sign = "-" if number[0] == "-" else ""
    number = number.lstrip("-+")
    last = list(_MARK.finditer(number))[-1]
    whole, part = _MARK.sub("", number[: last.start()]), number[last.end() :]
    without = re.sub("[, ']", "", number)
    ways = []
    if part and last[0] not in number[: last.start()]:
        ways.append(f"{int(whole or 0)}.{part}")
    if without.count(".") <= 1:
        ways.append(f"{float(without):.15g}" if "." in without else f"{int(without)}")
    if "." in number:
        ways.append(f"{int(_MARK.sub('', number))}")
    return [f"{sign}{way}{exponent}" for way in dict.fromkeys(ways)][:2]
