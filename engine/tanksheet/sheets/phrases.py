"""Reads what a person types for an entry: "150 ppm", "12 gpm", "1:128", "2 oz/gal", "0.8 %"."""

from __future__ import annotations

import datetime
import functools
import re
from collections.abc import Sequence
from typing import Any

from tanksheet.errors import NotANumber, NotListed
from tanksheet.sheets.choices import HARDNESS
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.sheets.numerals import RULE, UnclearNumber, number_in, split_number, tidy
from tanksheet.tables import look_up, rows
from tanksheet.units import serial_of
from tanksheet.xlsx.address import Value

# What people write for a unit of the lists; a grain in a gallon is one of calcium carbonate.
ALIKE = {
    **dict.fromkeys(("percent", "per cent", "pct"), "%"),
    **dict.fromkeys(("c", "celsius", "\u2103"), "degC"),
    **dict.fromkeys(("f", "fahrenheit", "\u2109"), "degF"),
    **{
        f"{grain}{per}{gallon}": "gpg"
        for grain in ("grain", "grains", "gr")
        for per in ("/", " / ", " per ")
        for gallon in ("gal", "gallon")
    },
}
# The degree sign, the ordinal sign that looks like it, and both signs for micro.
PLAIN_LETTERS = str.maketrans({"\u00b0": "", "\u00ba": "", "\u00b5": "u", "\u03bc": "u"})
# Alkalinity in plain mg/L may be counted as either, a fifth apart.
EITHER = ("mg/L as CaCO3", "mg/L as HCO3")
ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
# pint works out powers, and one such as 9**9**9 would keep it busy for good.
POWER, SMALL_POWER = re.compile(r"\^|\*\*"), re.compile(r"(?<=[A-Za-z])(\^|\*\*)-?[1-3](?!\d)")


def plain(text: str) -> Value:
    """A number where the text is one, otherwise the text; an empty text is a blank cell.

    Raises: UnclearNumber for digits whose marks can be read in two ways.
    """
    number = number_in(text)
    return (text.strip() or None) if number is None else number


def date_in(text: str) -> Value:
    """A date written as 2026-11-27 as a spreadsheet's number; an empty text is a blank cell.

    Raises: NotANumber for whatever else: 3/4/2026 is in March here and in April there.
    """
    text = tidy(text)
    if not text:
        return None
    try:
        if not ISO.fullmatch(text):
            raise ValueError(text)
        return serial_of(datetime.date.fromisoformat(text))
    except ValueError:
        raise NotANumber(f"{text!r} is no date; write year, month and day as 2026-11-27") from None


def plain_run(text: str) -> list[Value]:
    """Several values between semicolons, or numbers between commas and spaces.

    Raises: UnclearNumber where a comma may stand inside a number or between two.
    """
    return [plain(part) for part in run_parts(text)]


def run_parts(text: str) -> list[str]:
    """The same values as they were typed; words that are not numbers stay together.

    Raises: UnclearNumber where a comma may stand inside a number or between two.
    """
    lines = lines_of(text)
    if ";" in text or len(lines) > 1:
        return lines
    parts = re.split(r",[ \t]+|[ \t]+", lines[0])
    if not all(_is_meant_as_number(part) for part in parts):
        return lines
    _refuse_groups(lines[0])
    if len(parts) == 1 and "," in text:
        _refuse_commas(lines[0])
    return parts


def lines_of(text: str) -> list[str]:
    """What stands between semicolons or on lines of its own."""
    return [part.strip() for part in re.sub(r"\s*\n\s*", ";", text.strip()).split(";")]


def _is_meant_as_number(text: str) -> bool:
    try:
        return number_in(text) is not None
    except UnclearNumber:
        return True


def _refuse_groups(text: str) -> None:
    """Raises UnclearNumber for "1 505", which may be one number or two."""
    grouped = re.search(r"(?<![0-9.,])[1-9][0-9]{0,2}(?:[ \t]+[0-9]{3})+(?![0-9,])", text)
    if grouped:
        parts = grouped[0].split()
        raise UnclearNumber(
            f"{grouped[0]!r} may be one number or {len(parts)}: semicolons stand between several "
            f"numbers; write {''.join(parts)} or {'; '.join(parts)}"
        )


def _refuse_commas(text: str) -> None:
    """Raises UnclearNumber for "100,200", which may be one number or two."""
    several = [part.strip() for part in text.split(",")]
    if all(re.fullmatch(r"[-+]?[0-9.]+", part) for part in several):
        ways = [text.replace(",", ""), "; ".join(several)]
        if len(several) == 2:
            ways.append(".".join(several))
        written = " or ".join(way for way in ways if ";" in way or way.count(".") < 2)
        raise UnclearNumber(
            f"{text!r} may be one number or {len(several)}: {RULE}; write {written}"
        )


def with_unit(text: str, offered: Sequence[str]) -> tuple[Value, str | None]:
    """A value and one of the offered units; None for the unit when none was typed.

    A unit that is not offered is converted to the first that is; a ratio takes 1:N and % only.
    Raises: NotListed when the unit is unknown or measures something else, UnclearNumber for
    digits whose marks can be read in two ways.
    """
    ratio = re.fullmatch(r"1\s*:\s*(.*)", tidy(text))
    if ratio and RATIO_FORMS[0] in offered:
        return _parts(ratio[1]), RATIO_FORMS[0]
    number, unit = split_number(text)
    if number is None:
        return unit or None, None
    if not unit:
        return number, None
    unit = ALIKE.get(" ".join(_bare(unit).split()), unit)
    if unit == "ML" and "mL" in offered:
        raise NotListed("the unit 'ML' may be millilitres or megalitres; use mL or m3")
    for same in (str.lower, _bare):
        for known in offered:
            if same(known) == same(unit):
                return number, known
    return _converted(number, unit, offered), offered[0]


def _bare(unit: str) -> str:
    """A unit without what people write otherwise: "mg/L as P2O5" is "ppm P2O5"."""
    words = unit.lower().replace("mg/l", "ppm").translate(PLAIN_LETTERS).split()
    return " ".join(word for word in words if word not in ("as", "deg"))


def _parts(text: str) -> float:
    """The N of 1:N."""
    try:
        number = number_in(text)
    except UnclearNumber as problem:
        said = re.sub(r"^'", "'1:", str(problem)).replace("write ", "write 1:")
        raise UnclearNumber(re.sub(r" or (?=[-0-9.e]+$)", " or 1:", said)) from None
    if number is None:
        raise UnclearNumber(f"'1:{text}' is no ratio; write 1:100, or a percent such as 1 %")
    return number


def _converted(number: float, unit: str, offered: Sequence[str]) -> float:
    """By pint, which knows many spellings of a unit."""
    try:
        if offered[0] in RATIO_FORMS or POWER.search(SMALL_POWER.sub("", unit)):
            raise ValueError(unit)
        # Degrees of hardness and mg/L as NO3 are amounts of something else than is asked for here,
        # and a plain mg/L of alkalinity is of one thing or the other.
        if _bare(unit) in map(_bare, HARDNESS) or " as " in unit.lower():
            raise ValueError(unit)
        if set(EITHER) <= set(offered) and not {"ppm", "mg/L"} & set(offered):
            raise ValueError(unit)
        registry = _registry()
        target = str(look_up("units", "pint", offered[0]))
        given = registry.parse_expression(_spelled(unit))
        # "5 gal 3" is no unit, but a product to pint.
        if _spelled(unit) == unit and given.magnitude != 1:
            raise ValueError(unit)
        return float((number * given).to(registry.parse_units(target)).magnitude)
    except Exception as problem:  # pint raises many kinds, and Python's own for odd text
        ratio = "; write 1:100 or 1 %" if offered[0] in RATIO_FORMS else ""
        raise NotListed(
            f"the unit {unit!r} does not fit here; use one of: {', '.join(offered)}{ratio}"
        ) from problem


def _spelled(unit: str) -> str:
    """The trade's own spellings in pint's words; others pass through."""
    known = {str(row["unit"]).lower(): str(row["pint"]) for row in rows("units")}
    return known.get(unit.lower(), unit)


@functools.lru_cache(maxsize=1)
def _registry() -> Any:
    import pint

    registry: Any = pint.UnitRegistry()
    registry.define("ppm = milligram / liter = _ = ppm_in_water")
    registry.define("gpm = gallon / minute")
    registry.define("gph = gallon / hour")
    return registry
