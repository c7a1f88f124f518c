"""What ``help(tanksheet.stock_mass)`` shows, written from the register and the glossary."""

from __future__ import annotations

import inspect
import textwrap

from tanksheet.definition import Calculation
from tanksheet.units import Quantity

WIDTH = 96
KINDS = """\
Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
raises ValueError and names the row; errors="nan" gives NaN there instead."""
READINGS = "Readings lie along the last axis: each row of a table is one range."


class Plain(str):
    """A text that a signature shows without quotes."""

    __slots__ = ()
    __repr__ = str.__str__


def shown_signature(record: Calculation) -> inspect.Signature:
    """The parameters with their units in the place of types."""
    kinds = inspect.Parameter
    parameters = [
        kinds(name, kinds.POSITIONAL_OR_KEYWORD, annotation=Plain(unit_in_words(quantity)))
        for name, quantity in record.parameters.items()
    ]
    errors = kinds("errors", kinds.KEYWORD_ONLY, default="raise")
    result = Plain(record.unit.symbol or "number")
    return inspect.Signature([*parameters, errors], return_annotation=result)


def unit_in_words(quantity: Quantity) -> str:
    return quantity.unit.symbol or "number"


def help_text(record: Calculation) -> str:
    """The docstring in the source, then parameters, result, example, kinds and source."""
    text, _, _ = (inspect.getdoc(record.body) or "").partition("Source: ")
    call, result = example(record)
    parts = [
        text.strip(),
        "Parameters\n" + "\n".join(map(_parameter, record.parameters.items())),
        f"Result: {record.unit.symbol or 'a number'}",
        f"Example: {call} gives {result}".rstrip(),
        KINDS + ("\n" + READINGS if any(q.is_readings for q in record.parameters.values()) else ""),
        _wrapped(f"Source: {record.source}"),
        f"In a sheet: {record.sheet_name}",
    ]
    return "\n\n".join(parts) + "\n"


def example(record: Calculation) -> tuple[str, str]:
    """The record's example as a call, and its result with the unit."""
    arguments, result = record.example
    call = f"tanksheet.{record.body.__name__}({', '.join(map(repr, arguments))})"
    return call, f"{result} {record.unit.symbol}".rstrip()


def _parameter(item: tuple[str, Quantity]) -> str:
    name, quantity = item
    lines = [f"    {name} : {unit_in_words(quantity)}"]
    lines += textwrap.wrap(_meaning(quantity), WIDTH - 8)
    return "\n        ".join(lines)


def _meaning(quantity: Quantity) -> str:
    wanted = f"at least {quantity.at_least} numbers, each " if quantity.is_readings else ""
    return f"{quantity.meaning}; {wanted}{quantity.allowed}"


def _wrapped(text: str) -> str:
    return textwrap.fill(text, WIDTH, subsequent_indent="    ")
