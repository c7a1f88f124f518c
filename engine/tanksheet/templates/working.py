"""Wordings that more than one workbook uses, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.subset import floor, helper, rounded, shown


@helper
def pounds_and_ounces(mass: Any) -> Any:
    """A mass in grams as "17 lb 5.1 oz"; 16.0 oz is carried over to the next pound."""
    ounces = rounded(convert(mass, "g", "oz"), 1)
    pounds = floor((ounces + 0.01) / 16)
    return f"{shown(pounds, 0)} lb {shown(ounces - 16 * pounds, 1)} oz"
