"""The operators and functions that a body may use, as Python knows them."""

from __future__ import annotations

import ast

from tanksheet import subset

OPERATORS: dict[type[ast.AST], str] = {
    ast.Add: "+",
    ast.Sub: "-",
    ast.Mult: "*",
    ast.Div: "/",
    ast.Pow: "^",
    ast.Eq: "=",
    ast.NotEq: "<>",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
}
WORDS = {
    name: getattr(subset, name)
    for name in (
        "sqrt exp log log10 power ceil floor rounded shown number_held without_unit "
        "is_number is_error count mean mean_deviation standard_deviation lowest_total "
        "dot sum_where position among smallest nth begins before after"
    ).split()
}
BUILTINS = {"min": min, "max": max, "abs": abs}
