"""A calculation's Python body as a cell formula, a LAMBDA and array code.

``reading`` turns a body into a tree of nodes, ``text`` writes the tree as a formula, ``arrays``
runs it on NumPy arrays. Text in, text out: this room knows no workbook and no engine.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tanksheet.formula.lambdas import lambda_comment, lambda_text, named_calculations
from tanksheet.formula.nodes import Node, Ref
from tanksheet.formula.reading import read_calculation, read_call, read_function
from tanksheet.formula.text import formula_text

if TYPE_CHECKING:
    from tanksheet.formula.arrays import array_function

__all__ = [
    "Node",
    "Ref",
    "array_function",
    "formula_text",
    "lambda_comment",
    "lambda_text",
    "named_calculations",
    "read_calculation",
    "read_call",
    "read_function",
]


def __getattr__(name: str) -> Any:
    """NumPy is loaded with the first array, not with the first formula."""
    if name == "array_function":
        from tanksheet.formula import arrays

        return arrays.array_function
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
