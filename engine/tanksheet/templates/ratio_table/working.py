"""The working of the ratio table, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert, unit_factor
from tanksheet.calc.stock import delivered, stock_mass
from tanksheet.subset import is_number, shown


def grams_per_litre(row: Any, column: Any, content: Any) -> Any:
    if row == "" or column == "":
        return ""
    return stock_mass(column, content, row, 1)


def ounces_per_gallon(row: Any, column: Any, content: Any) -> Any:
    if row == "" or column == "":
        return ""
    return convert(stock_mass(column, content, row, 1), "g/L", "oz/gal")


def mass_per_tank(row: Any, column: Any, content: Any, tank: Any, mass_unit: Any) -> Any:
    if row == "" or column == "":
        return ""
    return stock_mass(column, content, row, tank) * unit_factor("g", mass_unit)


def dissolves_up_to(row: Any, content: Any, solubility: Any) -> Any:
    if not is_number(row):
        return "no ratio"
    return f"dissolves up to {shown(delivered(solubility, content, row, 1), 0)} ppm"
