"""Reads what a person types for an entry: "150 ppm", "12 gpm", "1:128", "2 oz/gal", "0.8 %"."""

from __future__ import annotations

import functools
import re
from collections.abc import Sequence
from typing import Any

from tanksheet.errors import NotListed
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.tables import look_up, rows
from tanksheet.xlsx.address import Value

NUMBER = r"[-+]?(?:\d[\d,]*\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"


PERCENT = {"percent": "%", "per cent": "%", "pct": "%"}
# pint works out powers, and one such as 9**9**9 would keep it busy for good.
POWER, SMALL_POWER = re.compile(r"\^|\*\*"), re.compile(r"(?<=[A-Za-z])(\^|\*\*)-?[1-3](?!\d)")


def plain(text: str) -> Value:
    """A number where the text is one, otherwise the text; an empty text is a blank cell."""
    text = text.strip()
    if re.fullmatch(NUMBER, text):
        return float(text.replace(",", ""))
    return text or None


def plain_run(text: str) -> list[Value]:
    """Several values between semicolons, or between commas and spaces."""
    parts = text.split(";") if ";" in text else re.split(r",\s*|\s+", text.strip())
    return [plain(part) for part in parts]


def with_unit(text: str, offered: Sequence[str]) -> tuple[Value, str | None]:
    """A value and one of the offered units; None for the unit when none was typed.

    A unit that is not offered is converted to the first that is; a ratio takes 1:N and % only.
    Raises: NotListed when the unit is unknown or measures something else.
    """
    text = text.strip()
    ratio = re.fullmatch(rf"1\s*:\s*({NUMBER})", text)
    if ratio and RATIO_FORMS[0] in offered:
        return plain(ratio[1]), RATIO_FORMS[0]
    found = re.fullmatch(rf"({NUMBER})\s*(\S.*)?", text)
    if not found or not found[2]:
        return plain(text), None
    number, unit = float(found[1].replace(",", "")), found[2].strip()
    unit = PERCENT.get(unit.lower(), unit)
    for known in offered:
        if known.lower() == unit.lower():
            return number, known
    return _converted(number, unit, offered), offered[0]


def _converted(number: float, unit: str, offered: Sequence[str]) -> float:
    """By pint, which knows many spellings of a unit."""
    try:
        if offered[0] in RATIO_FORMS or POWER.search(SMALL_POWER.sub("", unit)):
            raise ValueError(unit)
        registry = _registry()
        target = str(look_up("units", "pint", offered[0]))
        given = registry.parse_expression(_spelled(unit))
        return float((number * given).to(registry.parse_units(target)).magnitude)
    except Exception as problem:  # pint raises many kinds, and Python's own for odd text
        raise NotListed(
            f"the unit {unit!r} does not fit here; use one of: {', '.join(offered)}"
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
