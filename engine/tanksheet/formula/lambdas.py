"""A calculation as the text of a LAMBDA for a defined name, in the form that .xlsx files store."""

from __future__ import annotations

from tanksheet.definition import Calculation
from tanksheet.formula.reading import read_calculation
from tanksheet.formula.steps import in_steps
from tanksheet.formula.text import formula_text


def lambda_text(calculation: Calculation) -> str:
    """``_xlfn.LAMBDA(_xlpm.target,...,body)``: the whole body in place, no name calls another.

    Nothing nests because some engines do not evaluate a LAMBDA name inside another. A long body
    works out its repeated parts once, in a LET.
    """
    tree = read_calculation(calculation.function)
    steps = in_steps(tree, lambda n: f"step_{n}", calculation.parameters)
    known = [*calculation.parameters, *(name for name, _ in steps.parts)]
    names = {name: f"_xlpm.{name}" for name in known}
    body = formula_text(steps.result, names)
    if steps.parts:
        parts = (f"{names[name]},{formula_text(node, names)}" for name, node in steps.parts)
        body = f"_xlfn.LET({','.join(parts)},{body})"
    parameters = ",".join(names[name] for name in calculation.parameters)
    return f"_xlfn.LAMBDA({parameters},{body})"


def uses_let(calculation: Calculation) -> bool:
    """Whether the LAMBDA needs LET, which not every engine evaluates inside a LAMBDA."""
    return "_xlfn.LET(" in lambda_text(calculation)
