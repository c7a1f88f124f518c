"""Random bodies of calculations as Python source, with a walker that says when to keep away.

A body is drawn as a tree and printed by ``ast.unparse``, so brackets are Python's own. The walker
runs the same tree step by step to learn what the result alone does not show:

- the size of the largest intermediate number, to which an absolute tolerance is tied: where large
  numbers cancel, the last digits of the result are noise in any engine;
- whether a step is *shaky*: two of its parts fail with different errors (Excel shows the left one,
  LibreOffice the right one), it overflows or sinks towards 0 beyond what floats carry (Python goes
  on with inf or 0 where a sheet gives #NUM!), cancels nearly all digits, or decides or rounds on
  a hair's breadth. Engines round INT and ROUND within about 1e-15 of an edge differently, and
  IronCalc takes two numbers for equal that are within 2e-16 of each other, however small they are
  (1E-16>0 is FALSE), so such cases say nothing and are passed over.

Kept out by construction: TRUE or FALSE as a number (LibreOffice takes it for 1), and comparisons
of computed numbers for equality.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Mapping
from typing import Any

from hypothesis import strategies as st

from tanksheet import subset
from tanksheet.errors import Fault

LARGEST, SMALLEST, HAIR, TINY = 1e300, 1e-300, 1e-9, 1e-14
WORDS = ("alkaline", "acid")
Values = Mapping[str, Any]


class Shaky(Exception):
    """A step on whose result engines may rightly differ."""


# Drawing


def _name(word: str) -> ast.Name:
    return ast.Name(word, ast.Load())


def _call(function: str, *arguments: ast.expr) -> ast.Call:
    return ast.Call(_name(function), list(arguments), [])


def _binary(operator: ast.operator) -> Callable[[ast.expr, ast.expr], ast.expr]:
    return lambda left, right: ast.BinOp(left, operator, right)


CONSTANTS = st.sampled_from([0, 1, 2, 3, 5, 10, 60, 1000, 0.5, 0.1, 2.75, 1e-9, 1e12]).map(
    ast.Constant
)
SMALL = st.sampled_from([0, 1, 2]).map(ast.Constant)
EXPONENTS = st.integers(1, 3).map(ast.Constant)
DIGITS = st.integers(-1, 4).map(
    lambda n: ast.Constant(n) if n >= 0 else ast.UnaryOp(ast.USub(), ast.Constant(-n))
)
ORDERINGS = st.sampled_from([ast.Lt(), ast.LtE(), ast.Gt(), ast.GtE()])


def _same(node: ast.expr) -> ast.expr:
    return node


def numbers(names: list[str], word: bool) -> st.SearchStrategy[ast.expr]:
    """Expressions that give a number."""
    variables = st.sampled_from([_name(name) for name in names])
    # Each in its own right, so that names outnumber constants: a constant tests little.
    leaves: st.SearchStrategy[ast.expr] = st.one_of(variables, variables.map(_same), CONSTANTS)

    def larger(inner: st.SearchStrategy[ast.expr]) -> st.SearchStrategy[ast.expr]:
        plain = [ast.Add(), ast.Sub(), ast.Mult(), ast.Div(), ast.Sub(), ast.Div()]
        return st.one_of(
            *[st.builds(_binary(operator), inner, inner) for operator in plain],
            # Small constants beside names: what the compiler settles beforehand must be right.
            *[st.builds(_binary(operator), variables, SMALL) for operator in plain[:4]],
            st.builds(lambda a, op, b: ast.BinOp(a, op, b), SMALL, st.sampled_from(plain), inner),
            st.builds(_binary(ast.Pow()), inner, EXPONENTS),
            st.builds(lambda operand: ast.UnaryOp(ast.USub(), operand), inner),
            st.builds(ast.IfExp, conditions(inner, word), inner, inner),
            st.builds(lambda *a: _call("min", *a), inner, inner),
            st.builds(lambda *a: _call("max", *a), inner, inner, inner),
            *[
                st.builds(lambda a, function=function: _call(function, a), inner)
                for function in ("abs", "ceil", "floor", "sqrt", "log", "exp", "log10")
            ],
            st.builds(lambda *a: _call("rounded", *a), inner, DIGITS),
            st.builds(lambda *a: _call("power", *a), inner, inner),
        )

    return st.recursive(leaves, larger, max_leaves=9)


def conditions(inner: st.SearchStrategy[ast.expr], word: bool) -> st.SearchStrategy[ast.expr]:
    """Expressions that are true or false."""
    single = st.builds(lambda a, op, b: ast.Compare(a, [op], [b]), inner, ORDERINGS, inner)
    chained = st.builds(
        lambda a, op, b, other, c: ast.Compare(a, [op, other], [b, c]),
        *(inner, ORDERINGS, inner, ORDERINGS, inner),
    )
    simple = single | chained
    if word:
        operator = st.sampled_from([ast.Eq(), ast.NotEq()])
        listed = st.sampled_from(WORDS).map(ast.Constant)
        simple |= st.builds(lambda op, c: ast.Compare(_name("word"), [op], [c]), operator, listed)
    joined = st.sampled_from([ast.And(), ast.Or()])
    return st.one_of(
        simple,
        st.builds(lambda a: ast.UnaryOp(ast.Not(), a), simple),
        st.builds(lambda op, *parts: ast.BoolOp(op, list(parts)), joined, simple, simple),
    )


@st.composite
def statements(draw: Any, names: list[str], word: bool) -> list[ast.stmt]:
    """A whole body: local names, early returns, and a last return.

    A local name holds arithmetic that cannot fail. Python runs it at once, a formula only where it
    is used, so an error in it could show in one and not in the other.
    """
    body: list[ast.stmt] = []
    known = list(names)
    for number in range(draw(st.integers(0, 2))):
        local = f"local_{number}"
        left, right = draw(st.sampled_from(known)), draw(st.sampled_from(known))
        operator = draw(st.sampled_from([ast.Add(), ast.Sub(), ast.Mult()]))
        value = ast.BinOp(_name(left), operator, _name(right))
        body.append(ast.Assign([ast.Name(local, ast.Store())], value))
        known.append(local)
    for _ in range(draw(st.integers(0, 2))):
        inner = numbers(known, word)
        early: list[ast.stmt] = [ast.Return(draw(inner))]
        body.append(ast.If(draw(conditions(inner, word)), early, []))
    body.append(ast.Return(draw(numbers(known, word))))
    return body


def source(name: str, parameters: list[str], body: list[ast.stmt]) -> str:
    """The text of a function with this body."""
    lines = [ast.unparse(ast.fix_missing_locations(statement)) for statement in body]
    text = "\n".join(lines).replace("\n", "\n    ")
    return f"def {name}({', '.join(parameters)}):\n    {text}\n"


# Walking


class Walker:
    """Runs a body step by step. Raises Shaky, Fault or ZeroDivisionError as the step does."""

    def __init__(self, values: Values) -> None:
        self.values = dict(values)
        self.largest = 0.0

    def run(self, body: list[ast.stmt]) -> float:
        for statement in body:
            if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
                self.values[statement.targets[0].id] = self.number(statement.value)
            elif isinstance(statement, ast.If):
                if self.condition(statement.test):
                    return self.run(statement.body)
            elif isinstance(statement, ast.Return) and statement.value:
                return self.number(statement.value)
        raise AssertionError("a drawn body always returns")

    def number(self, node: ast.expr) -> float:
        value = float(self.step(node))
        if not math.isfinite(value) or abs(value) > LARGEST or 0 < abs(value) < SMALLEST:
            raise Shaky
        self.largest = max(self.largest, abs(value))
        return value

    def step(self, node: ast.expr) -> float:
        if isinstance(node, ast.Constant):
            return float(node.value)  # type: ignore[arg-type]
        if isinstance(node, ast.Name):
            return float(self.values[node.id])
        if isinstance(node, ast.UnaryOp):
            return -self.number(node.operand)
        if isinstance(node, ast.IfExp):
            return self.number(node.body if self.condition(node.test) else node.orelse)
        if isinstance(node, ast.BinOp):
            return self.binary(node.op, *self.all(node.left, node.right))
        assert isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        return self.call(node.func.id, self.all_of_call(node.func.id, node.args))

    def all_of_call(self, function: str, nodes: list[ast.expr]) -> list[float]:
        try:
            return self.all(*nodes)
        except (Fault, ZeroDivisionError):
            # Two things wrong at once: the exponent is an error and the base is out of domain.
            # IronCalc's AND stops at its first FALSE, other engines' AND hands the error on.
            if function == "power" and self.number(nodes[0]) <= 0:
                raise Shaky from None
            raise

    def all(self, *nodes: ast.expr) -> list[float]:
        values: list[float] = []
        failures: list[Exception] = []
        for node in nodes:
            try:
                values.append(self.number(node))
            except (Fault, ZeroDivisionError) as failure:
                failures.append(failure)
        if len({type(failure) for failure in failures}) > 1:
            raise Shaky
        if failures:
            raise failures[0]
        return values

    def binary(self, operator: ast.operator, left: float, right: float) -> float:
        if isinstance(operator, (ast.Add, ast.Sub)):
            result = left + right if isinstance(operator, ast.Add) else left - right
            if abs(result) < HAIR * max(abs(left), abs(right)) and result != 0:
                raise Shaky
            return result
        if isinstance(operator, ast.Div):
            return self.kept(left / right, left)
        if isinstance(operator, ast.Pow):
            return self.kept(self.raised(left, right), left)
        return self.kept(left * right, left and right)

    def raised(self, base: float, exponent: float) -> float:
        try:
            return float(base**exponent)
        except OverflowError:
            raise Shaky from None

    def kept(self, result: float, origin: float) -> float:
        if result == 0 and origin != 0:  # lost everything
            raise Shaky
        return result

    def call(self, function: str, arguments: list[float]) -> float:
        first = arguments[0]
        if function in ("ceil", "floor", "rounded"):
            digits = arguments[1] if function == "rounded" else 0
            self.away_from_edges(first * 10**digits, 0.5 if function == "rounded" else 0)
        if function in ("sqrt", "log", "log10", "power") and 0 < abs(first) < TINY:
            raise Shaky  # their checks compare with 0
        if function in ("exp", "power"):
            # The argument's own rounding is magnified: keep to where it stays below 1e-9.
            log = first if function == "exp" else _log_of_power(*arguments)
            if abs(log) > 300:
                raise Shaky
        if function in ("log", "log10") and 0 < abs(first - 1) < HAIR:
            raise Shaky
        word: Any = {"min": min, "max": max, "abs": abs}.get(function)
        if function == "rounded":
            return subset.rounded(first, int(arguments[1]))
        return float((word or getattr(subset, function))(*arguments))

    def away_from_edges(self, scaled: float, edge: float) -> None:
        if abs(scaled) > 1e12:
            raise Shaky
        distance = abs((scaled - edge) - round(scaled - edge))
        if distance < HAIR * max(1.0, abs(scaled)) and not self.exact(scaled):
            raise Shaky

    @staticmethod
    def exact(scaled: float) -> bool:
        return scaled == round(scaled) and abs(scaled) < 1e6

    def condition(self, node: ast.expr) -> bool:
        if isinstance(node, ast.UnaryOp):
            return not self.condition(node.operand)
        if isinstance(node, ast.BoolOp):
            stop = isinstance(node.op, ast.Or)
            return stop if any(self.condition(v) is stop for v in node.values) else not stop
        assert isinstance(node, ast.Compare)
        if isinstance(node.ops[0], (ast.Eq, ast.NotEq)):
            assert isinstance(node.comparators[0], ast.Constant)
            same = self.values["word"].lower() == node.comparators[0].value
            return same is isinstance(node.ops[0], ast.Eq)
        sides = [node.left, *node.comparators]
        return all(
            self.ordered(operator, *self.all(one, other))
            for operator, one, other in zip(node.ops, sides, sides[1:], strict=False)
        )

    def ordered(self, operator: ast.cmpop, left: float, right: float) -> bool:
        if 0 < abs(left - right) <= max(HAIR * max(abs(left), abs(right)), TINY):
            raise Shaky
        if isinstance(operator, (ast.Lt, ast.LtE)):
            return left < right or (left == right and isinstance(operator, ast.LtE))
        return left > right or (left == right and isinstance(operator, ast.GtE))


def _log_of_power(base: float, exponent: float) -> float:
    return exponent * math.log(base) if base > 0 else 0.0


def walked(body: list[ast.stmt], values: Values) -> tuple[float | None, float]:
    """The result (None for an error) and the largest intermediate. Raises Shaky."""
    walker = Walker(values)
    try:
        return walker.run(body), walker.largest
    except (Fault, ZeroDivisionError):
        return None, walker.largest
