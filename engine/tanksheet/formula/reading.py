"""Reads the body of a calculation and refuses, by file and line, what no formula can say."""

from __future__ import annotations

import ast
import builtins
import contextlib
import inspect
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NoReturn

from tanksheet import definition, subset, tables
from tanksheet.errors import Fault, NotCompilable, SheetError
from tanksheet.formula.folding import chosen, folded, is_plain, is_plain_word
from tanksheet.formula.guards import guarded, in_domain
from tanksheet.formula.nodes import (
    ANY_NUMBER,
    Call,
    Const,
    Facts,
    Fail,
    If,
    Lookup,
    Neg,
    Node,
    Op,
    Ref,
    fails_only_with,
    is_condition,
    is_negation,
    is_number,
    may_be_typed,
)
from tanksheet.formula.source import syntax_of
from tanksheet.formula.vocabulary import BUILTINS, OPERATORS, WORDS
from tanksheet.units import Quantity


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
        if isinstance(argument, Ref) and not _is_listed(argument.name, entry, facts):
            known[argument.name] = entry
    body = read_function(record.body, arguments, known)
    return guarded(body, list(zip(arguments, record.parameters.values(), strict=True)), facts)


def _is_listed(name: str, entry: Quantity, facts: Facts) -> bool:
    """Whether more is known of a word already than that it is a word: the list that it is from."""
    return entry.is_word and not entry.words and name in facts and bool(facts[name].words)


def read_function(function: Callable[..., Any], arguments: Sequence[Node], facts: Facts) -> Node:
    """The tree of a function's body with nodes in the place of its parameters."""
    syntax, file, first_line = syntax_of(function)
    names = [argument.arg for argument in syntax.args.args]
    reader = _Reader(function, file, first_line, facts)
    if len(names) != len(arguments):
        reader.refuse(syntax, f"takes {len(names)} arguments, got {len(arguments)}")
    known = dict(zip(names, arguments, strict=True))
    if isinstance(syntax, ast.Lambda):
        return reader.expression(syntax.body, known)
    return reader.block(syntax.body, known)


class _Reader:
    def __init__(
        self, function: Callable[..., Any], file: str, first_line: int, facts: Facts
    ) -> None:
        self.file, self.first_line, self.facts = file, first_line, facts
        self.world = inspect.getclosurevars(function)

    def refuse(self, node: ast.AST, reason: str) -> NoReturn:
        line = self.first_line + getattr(node, "lineno", 1) - 1
        raise NotCompilable(self.file, line, f"no formula for this: {reason}")

    def refuse_unless(self, node: ast.AST, condition: bool, reason: str) -> None:
        if not condition:
            self.refuse(node, reason)

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
            test = self.condition(head.test, known)
            with self.learning(test, True):
                yes = self.block([*head.body, *rest], dict(known))
            with self.learning(test, False):
                no = self.block([*head.orelse, *rest], dict(known))
            return chosen(test, yes, no)
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
            self.refuse_unless(value, not value.keywords, "check() by keyword; give them in order")
            code = self.fault(value.args[2]) if len(value.args) > 2 else SheetError.NUM
            condition = self.condition(value.args[0], known)
            with self.learning(condition, True):
                return chosen(condition, self.block(rest, known), Fail(code))
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

    def condition(self, node: ast.expr, known: Mapping[str, Node]) -> Node:
        """A test: Python takes any value for true or false, and sheets do not agree on which."""
        test = self.expression(node, known)
        self.refuse_unless(node, is_condition(test), "a value as a test; compare it with something")
        return test

    def read_constant(self, node: ast.Constant, known: Mapping[str, Node]) -> Node:
        return self.constant(node, node.value, f"the constant {node.value!r}")

    def constant(self, node: ast.expr, value: Any, what: str) -> Node:
        self.refuse_unless(node, isinstance(value, (int, float, str)), what)
        self.refuse_unless(node, isinstance(value, str) or math.isfinite(value), what)
        return Const(value)

    def read_name(self, node: ast.Name, known: Mapping[str, Node]) -> Node:
        if node.id in known:
            return known[node.id]
        return self.constant(node, self.named(node), f"the name {node.id!r}")

    def read_unaryop(self, node: ast.UnaryOp, known: Mapping[str, Node]) -> Node:
        if isinstance(node.op, ast.Not):
            return If(self.condition(node.operand, known), Const(False), Const(True))
        inner = self.expression(node.operand, known)
        if isinstance(node.op, ast.USub):
            return Const(-inner.value) if is_plain(inner) else Neg(inner)  # type: ignore[attr-defined]
        self.refuse(node, "this sign")

    def read_binop(self, node: ast.BinOp, known: Mapping[str, Node]) -> Node:
        symbol = OPERATORS.get(type(node.op))
        if symbol is None:
            self.refuse(node, f"the operator {type(node.op).__name__}")
        left, right = self.expression(node.left, known), self.expression(node.right, known)
        if symbol == "^":
            return self.powered(node, left, right)
        return folded(symbol, left, right, self.facts)

    def powered(self, node: ast.BinOp, base: Node, exponent: Node) -> Node:
        # Engines disagree on 0^-1 and on powers of negative numbers, so only what all agree on
        # is written with ^; power() covers the rest with its own check.
        if not (isinstance(exponent, Const) and isinstance(exponent.value, int)):
            self.refuse(node, "** with anything but a whole number; use power(base, exponent)")
        if exponent.value < 1:
            self.refuse(node, "** with a number below 1; divide instead")
        return Op("^", base, exponent)

    def read_boolop(self, node: ast.BoolOp, known: Mapping[str, Node]) -> Node:
        # Written as IF where it matters: a sheet's AND and OR run every part, Python stops early.
        parts = [self.condition(value, known) for value in node.values]
        stop = isinstance(node.op, ast.Or)
        if all(fails_only_with(part, parts[0], self.facts) for part in parts[1:]):
            return Call("any" if stop else "all", tuple(parts))
        whole = parts[-1]
        for part in reversed(parts[:-1]):
            whole = If(part, Const(True), whole) if stop else If(part, whole, Const(False))
        return whole

    def read_compare(self, node: ast.Compare, known: Mapping[str, Node]) -> Node:
        if isinstance(node.ops[0], ast.In):
            return self.one_of(node, known)
        sides = [self.expression(side, known) for side in (node.left, *node.comparators)]
        pairs: list[Node] = []
        for sign, left, right in zip(node.ops, sides, sides[1:], strict=False):
            symbol = OPERATORS.get(type(sign))
            if symbol is None:
                self.refuse(node, f"the comparison {type(sign).__name__}")
            pairs.append(folded(symbol, left, right, self.facts))
        whole: Node = pairs[-1]
        for pair in reversed(pairs[:-1]):
            whole = If(pair, whole, Const(False))
        return whole

    def one_of(self, node: ast.Compare, known: Mapping[str, Node]) -> Node:
        words = self.named(node.comparators[0])
        if len(node.ops) > 1 or not isinstance(words, tuple):
            self.refuse(node, "`in` with anything but a named tuple of words")
        value = self.expression(node.left, known)
        return Call("any", tuple(Op("=", value, Const(word)) for word in words))

    def read_ifexp(self, node: ast.IfExp, known: Mapping[str, Node]) -> Node:
        test = self.condition(node.test, known)
        with self.learning(test, True):
            yes = self.expression(node.body, known)
        with self.learning(test, False):
            no = self.expression(node.orelse, known)
        return chosen(test, yes, no)

    @contextlib.contextmanager
    def learning(self, test: Node, outcome: bool) -> Iterator[None]:
        """While a branch of ``is_number(cell)`` is read, the cell is known to be a number."""
        before = self.facts
        if isinstance(test, If) and is_negation(test):
            test, outcome = test.test, not outcome
        if outcome and isinstance(test, Call) and test.function == "is_number":
            cell = test.arguments[0]
            if isinstance(cell, Ref) and not is_number(cell, before):
                self.facts = {**before, cell.name: ANY_NUMBER}
        yield
        self.facts = before

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
        value = self.expression(part.value, known)
        # Python writes 10.0 where a sheet writes 10.
        number = is_number(value, self.facts)
        self.refuse_unless(part, not number, "a bare number in braces; use shown(number, digits)")
        return value

    def read_call(self, node: ast.Call, known: Mapping[str, Node]) -> Node:
        function = self.named(node.func)
        if node.keywords:
            self.refuse(node, "arguments by keyword; give them in order")
        if function is tables.look_up:
            return self.looked_up(node, known)
        if function is tables.is_listed:
            return self.listed(node, known)
        arguments = [self.expression(argument, known) for argument in node.args]
        self.counted(node, function, len(arguments))
        if definition.of(function) or getattr(function, "helper", False):
            return self.called(node, function, arguments)
        for name, word in {**WORDS, **BUILTINS}.items():
            if function is word:
                return self.word_call(node, name, tuple(arguments))
        self.refuse(node, f"a call of {ast.unparse(node.func)}")

    def word_call(self, node: ast.Call, name: str, arguments: tuple[Node, ...]) -> Node:
        if name == "position":
            return Call(name, (self.literal(arguments[0]), arguments[1]))
        if name == "sum_where" and not is_plain_word(arguments[1]):
            words, word, amounts = arguments
            return Call("dot", (Call("same", (words, word)), amounts))
        return in_domain(name, arguments, self.facts)

    def counted(self, node: ast.Call, function: Any, given: int) -> None:
        record = definition.of(function)
        if record or getattr(function, "helper", False) or function in WORDS.values():
            wanted = len(inspect.signature(record.body if record else function).parameters)
            reason = f"{ast.unparse(node.func)} takes {wanted} arguments, got {given}"
            self.refuse_unless(node, given == wanted, reason)

    def called(self, node: ast.Call, function: Any, arguments: list[Node]) -> Node:
        try:
            return read_call(function, arguments, self.facts)
        except RecursionError:
            self.refuse(node, "a calculation that calls itself")

    def looked_up(self, node: ast.Call, known: Mapping[str, Node]) -> Node:
        self.refuse_unless(node, len(node.args) == 3, "look_up() takes table, column and key")
        table, column, key = (self.expression(argument, known) for argument in node.args)
        if not (isinstance(table, Const) and isinstance(column, Const)):
            self.refuse(node, "look_up() with a table or column that is not written out")
        where = str(table.value), str(column.value)
        listed = where[0] in tables.KEYS and where[1] in tables.rows(where[0])[0]
        self.refuse_unless(node, listed, f"no column {where[1]!r} in a table {where[0]!r}")
        if not isinstance(key, Const):
            return Lookup(*where, self.literal(key))
        try:
            return Const(tables.look_up(*where, str(key.value)))
        except Fault as fault:
            self.refuse(node, str(fault))

    def listed(self, node: ast.Call, known: Mapping[str, Node]) -> Node:
        table, key = (self.expression(argument, known) for argument in node.args)
        if not isinstance(table, Const) or table.value not in tables.KEYS:
            self.refuse(node, "is_listed() with a table that is not written out")
        name = str(table.value)
        column = next(c for c, entry in tables.rows(name)[0].items() if isinstance(entry, float))
        return Call("is_number", (Lookup(name, column, self.literal(key)),))

    def literal(self, key: Node) -> Node:
        """A word to search for, with what a search would read as a pattern taken literally."""
        return Call("literal", (key,)) if may_be_typed(key, self.facts) else key

    def named(self, node: ast.expr) -> Any:
        """What a plain name stands for in the body's module."""
        if not isinstance(node, ast.Name):
            return None
        for scope in (self.world.nonlocals, self.world.globals, self.world.builtins):
            if node.id in scope:
                return scope[node.id]
        return getattr(builtins, node.id, None)
