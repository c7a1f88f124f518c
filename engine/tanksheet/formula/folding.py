"""Settles beforehand what constants decide, so that formulas stay short."""

from __future__ import annotations

import math
import operator
import re
from collections.abc import Callable
from typing import Any

from tanksheet.formula.nodes import Const, Facts, If, Node, Op, is_negation, is_number


def is_plain(node: Node) -> bool:
    return isinstance(node, Const) and isinstance(node.value, (int, float))


def is_plain_word(node: Node) -> bool:
    """Whether a word is written out and says the same as a criterion of SUMIF: letters first, and
    nothing that a criterion reads as a pattern, a comparison, a number or a truth value."""
    return (
        isinstance(node, Const)
        and isinstance(node.value, str)
        and re.fullmatch(r"[A-Za-z][A-Za-z _-]*", node.value) is not None
        and node.value.upper() not in ("TRUE", "FALSE")
    )


IDLE_RIGHT = (("+", 0), ("-", 0), ("*", 1), ("/", 1))
IDLE_LEFT = (("+", 0), ("*", 1))
FOLDED: dict[str, Callable[[Any, Any], Any]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "=": operator.eq,
}


def folded(symbol: str, left: Node, right: Node, facts: Facts) -> Node:
    """The operation, less what constants settle beforehand: 2 / 4, + 0, - 0, * 1 and / 1.

    An idle operation goes only where the other side is a number: text * 1 is an error.
    """
    if isinstance(left, Const) and isinstance(right, Const) and symbol in FOLDED:
        if not (symbol == "/" and right.value == 0):
            value = FOLDED[symbol](left.value, right.value)
            if isinstance(value, str) or math.isfinite(value):
                return Const(value)
    if isinstance(right, Const) and (symbol, right.value) in IDLE_RIGHT and is_number(left, facts):
        return left
    if isinstance(left, Const) and (symbol, left.value) in IDLE_LEFT and is_number(right, facts):
        return right
    return Op(symbol, left, right)


def chosen(test: Node, yes: Node, no: Node) -> Node:
    """A condition, less what a constant test settles beforehand."""
    if isinstance(test, Const):
        return yes if test.value else no
    if isinstance(test, If) and is_negation(test):
        return If(test.test, no, yes)
    return If(test, yes, no)
