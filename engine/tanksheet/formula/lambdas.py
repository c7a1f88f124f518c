"""A calculation as the text of a LAMBDA for a defined name, in the form that .xlsx files store."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Callable
from typing import Any

from tanksheet.definition import Calculation, catalogue, of
from tanksheet.formula.reading import read_calculation
from tanksheet.formula.steps import in_steps
from tanksheet.formula.text import formula_text
from tanksheet.units import Quantity

MARK = "(Tanksheet)"  # ends every comment, so that a later edition knows its own names
LONGEST_COMMENT = 255  # characters, Excel's limit
LONGEST_NAME = 7992  # characters of a defined name's text, Excel's limit
FEW = 3  # words that a comment spells out


def lambda_text(calculation: Calculation) -> str:
    """``_xlfn.LAMBDA(_xlpm.target,...,body)``: the whole body in place, no name calls another.

    Nothing nests because some engines do not evaluate a LAMBDA name inside another. A long body
    works out its repeated parts once, in a LET.
    """
    tree = read_calculation(calculation.function)
    steps = in_steps(tree, lambda n: f"s_{n}", calculation.parameters)
    known = [*calculation.parameters, *(name for name, _ in steps.parts)]
    names = {name: f"_xlpm.{name}" for name in known}
    body = formula_text(steps.result, names)
    if steps.parts:
        parts = (f"{names[name]},{formula_text(node, names)}" for name, node in steps.parts)
        body = f"_xlfn.LET({','.join(parts)},{body})"
    parameters = ",".join(names[name] for name in calculation.parameters)
    return f"_xlfn.LAMBDA({parameters},{body})"


def has_name(calculation: Calculation) -> bool:
    """Whether the calculation's LAMBDA is short enough for a defined name."""
    return _length(calculation.function) < LONGEST_NAME


@functools.cache
def _length(function: Callable[..., Any]) -> int:
    record = of(function)
    return len(lambda_text(record)) if record else 0


def named_calculations() -> dict[str, Calculation]:
    """The calculations that workbooks carry as LAMBDA names, by their names in the catalogue.

    The others are too long for a name. Cells have them in steps, and Python, xlwings and
    LibreOffice's extension as they are.
    """
    return {name: each for name, each in catalogue().items() if has_name(each)}


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
