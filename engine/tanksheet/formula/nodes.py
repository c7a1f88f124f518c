"""The tree between Python and a formula, and the few things that can be known about a node."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tanksheet.errors import SheetError
from tanksheet.tables import rows
from tanksheet.units import Number, Quantity

Literal = float | int | str | bool


@dataclass(frozen=True, eq=False)
class Node:
    """A part of a formula. Nodes are compared by identity, so shared parts are found cheaply."""


@dataclass(frozen=True, eq=False)
class Const(Node):
    value: Literal


@dataclass(frozen=True, eq=False)
class Ref(Node):
    """A parameter, a cell or a named range, by the text that stands for it."""

    name: str


@dataclass(frozen=True, eq=False)
class Op(Node):
    """A binary operator as spreadsheets spell it: + - * / ^ & = <> < <= > >=."""

    symbol: str
    left: Node
    right: Node


@dataclass(frozen=True, eq=False)
class Neg(Node):
    inner: Node


@dataclass(frozen=True, eq=False)
class If(Node):
    test: Node
    yes: Node
    no: Node


@dataclass(frozen=True, eq=False)
class Call(Node):
    """A function of ``subset`` (or a check such as "is_number"), by its Python name."""

    function: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True, eq=False)
class Lookup(Node):
    table: str
    column: str
    key: Node


@dataclass(frozen=True, eq=False)
class Fail(Node):
    """A spreadsheet error, written where the result would stand."""

    code: SheetError


ARITHMETIC = frozenset("+-*/^")
# Calls whose result is no number for certain.
TESTS = frozenset(("all", "any", "is_number", "is_error", "among", "begins"))
NO_NUMBERS = TESTS | {"shown", "nth", "literal", "number_held", "without_unit", "before", "after"}
COMPARISONS = frozenset(("=", "<>", "<", "<=", ">", ">="))
PATTERN = frozenset("*?~")
# What is known of cells and parameters: name -> glossary-like entry (range, kind).
Facts = Mapping[str, Quantity]
ANY_NUMBER = Quantity(Number, "any number")


def is_number(node: Node, facts: Facts) -> bool:
    """Whether a node, if it gives anything but an error, gives a number for certain."""
    if isinstance(node, Const):
        return isinstance(node.value, (int, float)) and not isinstance(node.value, bool)
    if isinstance(node, Ref):
        quantity = facts.get(node.name)
        return quantity is not None and not quantity.is_word and not quantity.is_readings
    if isinstance(node, If):
        return is_number(node.yes, facts) and is_number(node.no, facts)
    if isinstance(node, Op):
        return node.symbol in ARITHMETIC
    if isinstance(node, Lookup):
        return isinstance(rows(node.table)[0][node.column], float)
    if isinstance(node, Call):
        return node.function not in NO_NUMBERS
    return isinstance(node, (Neg, Fail))


def may_be_typed(node: Node, facts: Facts) -> bool:
    """Whether a word may hold whatever a person types: it then goes into no search as it stands,
    since a search reads ``*``, ``?`` and ``~`` as a pattern."""
    if isinstance(node, Const):
        return isinstance(node.value, str) and bool(PATTERN & set(node.value))
    if isinstance(node, Ref):  # a word known to be one of a list was compared with the list
        known = facts.get(node.name)
        return known is None or (known.is_word and not known.words)
    if isinstance(node, If):
        return may_be_typed(node.yes, facts) or may_be_typed(node.no, facts)
    return not isinstance(node, (Lookup, Fail))


def is_condition(node: Node) -> bool:
    """Whether a node is true or false, if it is not an error."""
    if isinstance(node, If):
        return is_condition(node.yes) and is_condition(node.no)
    if isinstance(node, Op):
        return node.symbol in COMPARISONS
    if isinstance(node, Call):
        return node.function in TESTS
    return isinstance(node, Fail) or (isinstance(node, Const) and isinstance(node.value, bool))


def lies_within(node: Node, wanted: Quantity, facts: Facts) -> bool:
    """Whether a node is known to stay inside a range."""
    if isinstance(node, Const):
        return isinstance(node.value, (int, float)) and wanted.holds(node.value)
    if isinstance(node, Ref) and node.name in facts:
        known = facts[node.name]
        low_fits = known.low > wanted.low or (
            known.low == wanted.low and (known.above or not wanted.above)
        )
        return low_fits and known.high <= wanted.high
    if isinstance(node, If):
        return lies_within(node.yes, wanted, facts) and lies_within(node.no, wanted, facts)
    return isinstance(node, Fail)


def is_positive(node: Node, facts: Facts) -> bool:
    """Whether a node is known to be above 0: enough to leave out a root's or power's check."""
    if isinstance(node, Op) and node.symbol in "*/+":
        return is_positive(node.left, facts) and is_positive(node.right, facts)
    if isinstance(node, Op) and node.symbol == "^":
        return is_positive(node.left, facts)
    return lies_within(node, Quantity(Number, "positive", low=0, above=True), facts)


def is_negation(node: If) -> bool:
    """Whether a condition is ``not`` of its test."""
    ends = (node.yes, node.no)
    return all(isinstance(end, Const) for end in ends) and [
        end.value for end in ends if isinstance(end, Const)
    ] == [False, True]


def fails_only_with(later: Node, first: Node, facts: Facts) -> bool:
    """Whether ``later`` can only be an error where ``first`` is one too: plain comparisons of
    cells that ``first`` also looks at, with no sums of what may be a word."""
    plain = (Const, Ref, Op)
    parts = list(_parts(later))
    if not all(isinstance(part, plain) for part in parts):
        return False
    if any(isinstance(part, Op) and part.symbol in "/^" for part in parts):
        return False
    sums = (part for part in parts if isinstance(part, Op) and part.symbol in ARITHMETIC)
    if not all(is_number(side, facts) for each in sums for side in children(each)):
        return False
    return _cells(later) <= _cells(first)


def _parts(node: Node) -> Iterator[Node]:
    yield node
    for inner in children(node):
        yield from _parts(inner)


def _cells(node: Node) -> set[str]:
    return {part.name for part in _parts(node) if isinstance(part, Ref)}


def always_read(node: Node) -> set[str]:
    """The cells that a formula looks at whichever branch it takes."""
    return _always_read(node, {})


def _always_read(node: Node, done: dict[int, set[str]]) -> set[str]:
    if id(node) not in done:
        parts = [_always_read(part, done) for part in children(node)]
        if (
            isinstance(node, If)
            and not isinstance(node.yes, Fail)
            and not isinstance(node.no, Fail)
        ):
            test, yes, no = parts
            done[id(node)] = test | (yes & no)
        else:  # where one branch is an error anyway, the other counts as taken
            own = {node.name} if isinstance(node, Ref) else set()
            done[id(node)] = own.union(*parts)
    return done[id(node)]


def children(node: Node) -> Iterator[Node]:
    for value in vars(node).values():
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Node):
                yield inner
