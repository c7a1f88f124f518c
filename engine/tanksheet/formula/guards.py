"""The checks on a calculation's arguments, written into its formula.

They follow the order in which Python checks: first that no number is an error from elsewhere, then
that numbers are numbers (#VALUE!), then that they lie in range (#NUM!), then that words are listed
(#N/A). What is already known of an argument
is left out, so that a cell formula stays short enough to read.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from tanksheet.errors import SheetError
from tanksheet.formula.nodes import (
    Call,
    Const,
    Facts,
    Fail,
    If,
    Node,
    Op,
    Ref,
    always_read,
    is_number,
    is_positive,
    lies_within,
)
from tanksheet.units import Quantity

Pairs = Sequence[tuple[Node, Quantity]]


def guarded(body: Node, pairs: Pairs, facts: Facts) -> Node:
    """The body behind the checks that the facts do not already settle."""
    body = _behind(_word_checks(pairs), body, Fail(SheetError.NA))
    ranges = _range_checks(pairs, facts)
    body = _behind([*ranges, *_touches(body, ranges, pairs)], body, Fail(SheetError.NUM))
    suspects = [node for node, quantity in pairs if _unsure(node, quantity, facts)]
    numbers = [Call("is_number", (node,)) for node in suspects if not _readings(node, pairs)]
    runs = [_all_numbers(node) for node in suspects if _readings(node, pairs)]
    return _behind([*numbers, *runs], body, _carried(suspects, pairs))


def _touches(body: Node, checks: Sequence[Node], pairs: Pairs) -> list[Node]:
    """Checks that only let an error through, for arguments that need no other check.

    A cell known to hold a number in range may still hold an error. Python refuses it before the
    body runs, so the formula must not skip it in a branch that leaves it out.
    """
    seen = always_read(body).union(*(always_read(check) for check in checks))
    numbers = [node for node, quantity in pairs if not quantity.is_word and isinstance(node, Ref)]
    return [Op("=", node, node) for node in numbers if node.name not in seen]


def _behind(checks: list[Node], body: Node, otherwise: Node) -> Node:
    if not checks:
        return body
    test = checks[0] if len(checks) == 1 else Call("all", tuple(checks))
    return If(test, body, otherwise)


def _unsure(node: Node, quantity: Quantity, facts: Facts) -> bool:
    return not quantity.is_word and not is_number(node, facts)


def _readings(node: Node, pairs: Pairs) -> bool:
    return any(node is other and quantity.is_readings for other, quantity in pairs)


def _all_numbers(node: Node) -> Node:
    return Op("=", Call("filled", (node,)), Call("count", (node,)))


def _carried(suspects: list[Node], pairs: Pairs) -> Node:
    # An error among the arguments is handed on; text and blanks give #VALUE!.
    cells = tuple(node for node in suspects if not _readings(node, pairs))
    return Call("not_numbers", cells) if cells else Fail(SheetError.VALUE)


def _range_checks(pairs: Pairs, facts: Facts) -> list[Node]:
    checks: list[Node] = []
    for node, quantity in pairs:
        if quantity.is_word or lies_within(node, quantity, facts):
            continue
        if quantity.is_readings:
            checks.append(Op(">=", Call("count", (node,)), Const(quantity.at_least)))
            checks += _limits(Call("min", (node,)), Call("max", (node,)), quantity)
        else:
            checks += _limits(node, node, quantity)
    return checks


def _limits(lowest: Node, highest: Node, quantity: Quantity) -> list[Node]:
    checks: list[Node] = []
    if not math.isinf(quantity.low):
        checks.append(Op(">" if quantity.above else ">=", lowest, Const(quantity.low)))
    if not math.isinf(quantity.high):
        checks.append(Op("<=", highest, Const(quantity.high)))
    return checks


def _word_checks(pairs: Pairs) -> list[Node]:
    checks: list[Node] = []
    for node, quantity in pairs:
        if quantity.is_word and quantity.words and not _listed(node, quantity):
            known = [Op("=", node, Const(word)) for word in quantity.words]
            checks.append(Call("any", tuple(known)))
    return checks


def _listed(node: Node, quantity: Quantity) -> bool:
    return isinstance(node, Const) and node.value in quantity.words


def in_domain(function: str, arguments: tuple[Node, ...], facts: Facts) -> Node:
    """A call of a root, logarithm or power behind its own check; other calls as they are.

    Engines disagree on the error outside the domain, so the formula says #NUM! itself.
    """
    call: Node = Call(function, arguments)
    if function == "power":
        call = Op("^", *arguments)
    fail = Fail(SheetError.NUM)
    if function not in ("sqrt", "log", "log10", "power") or is_positive(arguments[0], facts):
        return call
    base, zero = arguments[0], Const(0)
    if function == "sqrt":
        return If(Op(">=", base, zero), call, fail)
    if function in ("log", "log10"):
        return If(Op(">", base, zero), call, fail)
    if is_positive(arguments[1], facts):
        return If(Op(">=", base, zero), call, fail)
    at_zero = If(Call("all", (Op("=", base, zero), Op(">", arguments[1], zero))), zero, fail)
    return If(Op(">", base, zero), call, at_zero)
