"""Reads the body of a calculation and refuses, by file and line, what no formula can say."""

from __future__ import annotations

import ast
import builtins
import functools
import inspect
import textwrap
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NoReturn

from tanksheet import definition, subset, tables
from tanksheet.errors import Fault, NotCompilable, SheetError
from tanksheet.formula.guards import guarded
from tanksheet.formula.nodes import (
    Call,
    Const,
    Fail,
    Facts,
    If,
    Lookup,
    Neg,
    Node,
    Op,
    Ref,
)

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
        "sqrt exp log log10 power ceil floor rounded shown "
        "count mean mean_deviation standard_deviation lowest_total"
    ).split()
}
BUILTINS = {"min": min, "max": max, "abs": abs}


def read_calculation(function: Callable[..., Any]) -> Node:
    """A calculation's tree over its own parameters, with every check on them in it."""
    record = definition.of(function)
    if record is None:
        raise TypeError(f"{function!r} is not a calculation")
    arguments: list[Node] = [Ref(name) for name in record.parameters]
    return read_call(function, arguments, {})


def read_call(function: Callable[..., Any], arguments: Sequence[Node], facts: Facts) -> Node:
    """The tree of a call: a calculation with its checks, any other function as it stands."""
    record = definition.of(function)
    if record is None:
        return read_function(function, arguments, facts)
    # Inside the checks every argument lies in the parameter's range, so nested calls may know it.
    known = dict(facts)
    for argument, entry in zip(arguments, record.parameters.values(), strict=True):
        if isinstance(argument, Ref):
            known[argument.name] = entry
    body = read_function(record.body, arguments, known)
    return guarded(body, list(zip(arguments, record.parameters.values(), strict=True)), facts)


def read_function(function: Callable[..., Any], arguments: Sequence[Node], facts: Facts) -> Node:
    """The tree of a function's body with nodes in the place of its parameters."""
    syntax, file, first_line = _syntax(function)
    names = [argument.arg for argument in syntax.args.args]
    reader = _Reader(function, file, first_line, facts)
    if len(names) != len(arguments):
        reader.refuse(syntax, f"takes {len(names)} arguments, got {len(arguments)}")
    known = dict(zip(names, arguments, strict=True))
    if isinstance(syntax, ast.Lambda):
        return reader.expression(syntax.body, known)
    return reader.block(syntax.body, known)


@functools.lru_cache(maxsize=None)
def _syntax(function: Callable[..., Any]) -> tuple[ast.FunctionDef | ast.Lambda, str, int]:
    file = inspect.getsourcefile(function) or "<unknown>"
    lines, first = inspect.getsourcelines(function)
    tree = ast.parse(textwrap.dedent("".join(lines)))
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.Lambda)):
            return node, file, first
    raise NotCompilable(file, first, "no function found here")


class _Reader:
    def __init__(
        self, function: Callable[..., Any], file: str, first_line: int, facts: Facts
    ) -> None:
        self.file, self.first_line, self.facts = file, first_line, facts
        self.world = inspect.getclosurevars(function)

    def refuse(self, node: ast.AST, reason: str) -> NoReturn:
        line = self.first_line + getattr(node, "lineno", 1) - 1
        raise NotCompilable(self.file, line, f"no formula for this: {reason}")

    # statements

    def block(self, statements: Sequence[ast.stmt], known: dict[str, Node]) -> Node:
        if not statements:
            raise NotCompilable(self.file, self.first_line, "a path through it returns nothing")
        head, rest = statements[0], statements[1:]
        if isinstance(head, ast.Return) and head.value is not None:
            return self.expression(head.value, known)
        if isinstance(head, ast.Assign):
            return self.block(rest, self.assigned(head, known))
        if isinstance(head, ast.If):
            yes = self.block([*head.body, *rest], dict(known))
            no = self.block([*head.orelse, *rest], dict(known))
            return If(self.expression(head.test, known), yes, no)
        if isinstance(head, ast.Expr):
            return self.statement(head.value, rest, known)
        self.refuse(head, f"a {type(head).__name__.lower()} statement")

    def assigned(self, statement: ast.Assign, known: dict[str, Node]) -> dict[str, Node]:
        target = statement.targets[0]
        if len(statement.targets) != 1 or not isinstance(target, ast.Name):
            self.refuse(statement, "only one plain name can be assigned")
        return {**known, target.id: self.expression(statement.value, known)}

    def statement(self, value: ast.expr, rest: Sequence[ast.stmt], known: dict[str, Node]) -> Node:
        if isinstance(value, ast.Constant):
            return self.block(rest, known)  # the docstring
        if isinstance(value, ast.Call) and self.named(value.func) is subset.check:
            code = self.fault(value.args[2]) if len(value.args) > 2 else SheetError.NUM
            condition = self.expression(value.args[0], known)
            return If(condition, self.block(rest, known), Fail(code))
        self.refuse(value, "a statement that returns nothing")

    def fault(self, node: ast.expr) -> SheetError:
        kind = self.named(node)
        if not (isinstance(kind, type) and issubclass(kind, Fault)):
            self.refuse(node, "the third argument of check() is a kind of Fault")
        return kind.code

    # expressions

    def expression(self, node: ast.expr, known: Mapping[str, Node]) -> Node:
        method = getattr(self, f"read_{type(node).__name__.lower()}", None)
        if method is None:
            self.refuse(node, f"a {type(node).__name__.lower()} expression")
        result: Node = method(node, known)
        return result

    def read_constant(self, node: ast.Constant, known: Mapping[str, Node]) -> Node:
        if not isinstance(node.value, (int, float, str)):
            self.refuse(node, f"the constant {node.value!r}")
        return Const(node.value)

    def read_name(self, node: ast.Name, known: Mapping[str, Node]) -> Node:
        if node.id in known:
            return known[node.id]
        value = self.named(node)
        if isinstance(value, (int, float, str)):
            return Const(value)
        self.refuse(node, f"the name {node.id!r}")

    def read_unaryop(self, node: ast.UnaryOp, known: Mapping[str, Node]) -> Node:
        inner = self.expression(node.operand, known)
        if isinstance(node.op, ast.USub):
            return Const(-inner.value) if _plain(inner) else Neg(inner)  # type: ignore[attr-defined]
        if isinstance(node.op, ast.Not):
            return If(inner, Const(False), Const(True))
        self.refuse(node, "this sign")

    def read_binop(self, node: ast.BinOp, known: Mapping[str, Node]) -> Node:
        symbol = OPERATORS.get(type(node.op))
        if symbol is None:
            self.refuse(node, f"the operator {type(node.op).__name__}")
        left, right = self.expression(node.left, known), self.expression(node.right, known)
        if symbol == "^":
            return self.powered(node, left, right)
        return _folded(symbol, left, right)

    def powered(self, node: ast.BinOp, base: Node, exponent: Node) -> Node:
        # Engines disagree on 0^-1 and on powers of negative numbers, so only what all agree on
        # is written with ^; power() covers the rest with its own check.
        if not (isinstance(exponent, Const) and isinstance(exponent.value, int)):
            self.refuse(node, "** with anything but a whole number; use power(base, exponent)")
        if exponent.value < 1:
            self.refuse(node, "** with a number below 1; divide instead")
        return Op("^", base, exponent)

    def read_boolop(self, node: ast.BoolOp, known: Mapping[str, Node]) -> Node:
        # Written as IF, since a sheet's AND and OR run every part and Python stops early.
        parts = [self.expression(value, known) for value in node.values]
        stop = isinstance(node.op, ast.Or)
        whole = parts[-1]
        for part in reversed(parts[:-1]):
            whole = If(part, Const(True), whole) if stop else If(part, whole, Const(False))
        return whole

    def read_compare(self, node: ast.Compare, known: Mapping[str, Node]) -> Node:
        sides = [self.expression(side, known) for side in (node.left, *node.comparators)]
        pairs = []
        for operator, left, right in zip(node.ops, sides, sides[1:]):
            symbol = OPERATORS.get(type(operator))
            if symbol is None:
                self.refuse(node, f"the comparison {type(operator).__name__}")
            pairs.append(Op(symbol, left, right))
        whole: Node = pairs[-1]
        for pair in reversed(pairs[:-1]):
            whole = If(pair, whole, Const(False))
        return whole

    def read_ifexp(self, node: ast.IfExp, known: Mapping[str, Node]) -> Node:
        test = self.expression(node.test, known)
        return If(test, self.expression(node.body, known), self.expression(node.orelse, known))

    def read_joinedstr(self, node: ast.JoinedStr, known: Mapping[str, Node]) -> Node:
        whole: Node | None = None
        for part in node.values:
            piece = self.piece(part, known)
            whole = piece if whole is None else Op("&", whole, piece)
        return whole or Const("")

    def piece(self, part: ast.expr, known: Mapping[str, Node]) -> Node:
        if not isinstance(part, ast.FormattedValue):
            return self.expression(part, known)
        if part.format_spec is not None or part.conversion != -1:
            self.refuse(part, "a format in braces; use shown(number, digits)")
        return self.expression(part.value, known)

    def read_call(self, node: ast.Call, known: Mapping[str, Node]) -> Node:
        function = self.named(node.func)
        if node.keywords:
            self.refuse(node, "arguments by keyword; give them in order")
        if function is tables.look_up:
            return self.looked_up(node, known)
        arguments = [self.expression(argument, known) for argument in node.args]
        if definition.of(function) or getattr(function, "helper", False):
            return read_call(function, arguments, self.facts)
        for name, word in {**WORDS, **BUILTINS}.items():
            if function is word:
                return Call(name, tuple(arguments))
        self.refuse(node, f"a call of {ast.unparse(node.func)}")

    def looked_up(self, node: ast.Call, known: Mapping[str, Node]) -> Node:
        table, column, key = (self.expression(argument, known) for argument in node.args)
        if not (isinstance(table, Const) and isinstance(column, Const)):
            self.refuse(node, "look_up() with a table or column that is not written out")
        if isinstance(key, Const):
            return Const(tables.look_up(str(table.value), str(column.value), str(key.value)))
        return Lookup(str(table.value), str(column.value), key)

    def named(self, node: ast.expr) -> Any:
        """What a plain name stands for in the body's module."""
        if not isinstance(node, ast.Name):
            return None
        for scope in (self.world.nonlocals, self.world.globals, self.world.builtins):
            if node.id in scope:
                return scope[node.id]
        return getattr(builtins, node.id, None)


def _plain(node: Node) -> bool:
    return isinstance(node, Const) and isinstance(node.value, (int, float))


def _folded(symbol: str, left: Node, right: Node) -> Node:
    """The operation, less what constants make idle: + 0, - 0, * 1 and / 1."""
    if isinstance(right, Const) and (symbol, right.value) in (
        ("+", 0),
        ("-", 0),
        ("*", 1),
        ("/", 1),
    ):
        return left
    return Op(symbol, left, right)
