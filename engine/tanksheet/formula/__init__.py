"""A calculation's Python body as a cell formula, a LAMBDA and array code.

``reading`` turns a body into a tree of nodes, ``text`` writes the tree as a formula, ``arrays``
runs it on NumPy arrays. Text in, text out: this room knows no workbook and no engine.
"""

from __future__ import annotations

from tanksheet.formula.arrays import array_function
from tanksheet.formula.lambdas import lambda_comment, lambda_text
from tanksheet.formula.nodes import Node, Ref
from tanksheet.formula.reading import read_calculation, read_call, read_function
from tanksheet.formula.text import formula_text

__all__ = [
    "Node",
    "Ref",
    "array_function",
    "formula_text",
    "lambda_comment",
    "lambda_text",
    "read_calculation",
    "read_call",
    "read_function",
]
