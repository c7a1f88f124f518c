"""A calculation as the text of a LAMBDA for a defined name, in the form that .xlsx files store."""

from __future__ import annotations

from tanksheet.definition import Calculation
from tanksheet.formula.reading import read_calculation
from tanksheet.formula.text import formula_text


def lambda_text(calculation: Calculation) -> str:
    """``_xlfn.LAMBDA(_xlpm.target,...,body)``: the whole body in place, no name calls another.

    Nothing nests because some engines do not evaluate a LAMBDA name inside another.
    """
    names = {name: f"_xlpm.{name}" for name in calculation.parameters}
    body = formula_text(read_calculation(calculation.function), names)
    return f"_xlfn.LAMBDA({','.join(names.values())},{body})"
