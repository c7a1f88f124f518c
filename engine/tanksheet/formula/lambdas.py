"""A calculation as the text of a LAMBDA for a defined name, in the form that .xlsx files store."""

from __future__ import annotations

import itertools

from tanksheet.definition import Calculation
from tanksheet.formula.reading import read_calculation
from tanksheet.formula.steps import in_steps
from tanksheet.formula.text import formula_text
from tanksheet.units import Quantity

MARK = "(Tanksheet)"  # ends every comment, so that a later edition knows its own names
LONGEST_COMMENT = 255  # characters, Excel's limit
FEW = 3  # words that a comment spells out


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


def lambda_comment(calculation: Calculation) -> str:
    """The comment of the defined name, which Excel shows as help: at most 255 characters.

    It says what the function does, its arguments in order with their units, and the result's unit.
    """
    words = [f"Arguments: {_arguments(calculation)}."]
    if calculation.unit.symbol not in ("", "word"):
        words.append(f"Result: {calculation.unit.symbol}.")
    tail = " ".join([*words, MARK])
    room = LONGEST_COMMENT - len(tail) - 1
    summary = calculation.summary
    if len(summary) > room:
        summary = summary[: room - 3].rpartition(" ")[0] + "..."
    return f"{summary} {tail}"


def _arguments(calculation: Calculation) -> str:
    """``target [mg/L], content [%]``; neighbours with one unit share it."""
    runs = itertools.groupby(calculation.parameters.items(), lambda item: _kind(item[1]))
    return ", ".join(f"{', '.join(name for name, _ in run)} [{kind}]" for kind, run in runs)


def _kind(quantity: Quantity) -> str:
    if quantity.is_word and 0 < len(quantity.words) <= FEW:
        return " or ".join(f'"{word}"' for word in quantity.words)
    return "range" if quantity.is_readings else quantity.unit.symbol or "number"
