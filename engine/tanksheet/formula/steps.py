"""Splits a long formula into steps: parts that stand in several places are worked out once.

Written out in full, a calculation that uses its local names often would grow beyond what a cell
takes. Steps become names of a LET inside a LAMBDA, and cells of their own in a workbook.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass

from tanksheet.formula.nodes import Facts, Node, Ref, children, is_number

# A formula of up to this many parts is easier to read whole.
WHOLE = 300
SMALL = 6


@dataclass(frozen=True)
class Steps:
    """Named parts in the order in which they are needed, then the formula that uses them."""

    parts: tuple[tuple[str, Node], ...]
    result: Node


def in_steps(tree: Node, name: Callable[[int], str], facts: Facts) -> Steps:
    """The tree as steps; ``name`` gives the name of the n-th, from 1. Short trees stay whole.

    Only parts that are numbers for certain become steps.
    """
    sizes: dict[int, int] = {}
    if _size(tree, sizes) <= WHOLE:
        return Steps((), tree)
    tree = _merged(tree)
    sizes.clear()
    _size(tree, sizes)
    uses: dict[int, int] = {}
    _count(tree, uses)
    chosen = {key for key, times in uses.items() if times > 1 and sizes[key] >= SMALL}
    splitter = _Splitter(chosen, name, facts)
    result = splitter.split(tree)
    return Steps(tuple(splitter.parts), result)


def _size(node: Node, sizes: dict[int, int]) -> int:
    """How many parts the node has when written out in full."""
    if id(node) not in sizes:
        sizes[id(node)] = 1 + sum(_size(child, sizes) for child in children(node))
    return sizes[id(node)]


def _merged(tree: Node) -> Node:
    """The tree with equal parts made one, so that what is worked out twice becomes a step."""
    known: dict[object, Node] = {}
    done: dict[int, Node] = {}

    def merge(node: Node) -> Node:
        if id(node) not in done:
            parts: list[object] = [type(node)]
            fields: dict[str, object] = {}
            for key, value in vars(node).items():
                if isinstance(value, Node):
                    fields[key] = merge(value)
                elif isinstance(value, tuple):
                    fields[key] = tuple(merge(v) if isinstance(v, Node) else v for v in value)
                else:
                    fields[key] = value
                parts.append((type(value), fields[key]))
            done[id(node)] = known.setdefault(tuple(parts), dataclasses.replace(node, **fields))
        return done[id(node)]

    return merge(tree)


def _count(node: Node, uses: dict[int, int]) -> None:
    uses[id(node)] = uses.get(id(node), 0) + 1
    if uses[id(node)] == 1:
        for child in children(node):
            _count(child, uses)


class _Splitter:
    def __init__(self, chosen: set[int], name: Callable[[int], str], facts: Facts) -> None:
        self.chosen, self.name, self.facts = chosen, name, facts
        self.parts: list[tuple[str, Node]] = []
        self.done: dict[int, Node] = {}

    def split(self, node: Node) -> Node:
        if id(node) not in self.done:
            made = self.rebuilt(node)
            if id(node) in self.chosen and is_number(node, self.facts):
                self.parts.append((self.name(len(self.parts) + 1), made))
                made = Ref(self.parts[-1][0])
            self.done[id(node)] = made
        return self.done[id(node)]

    def rebuilt(self, node: Node) -> Node:
        fields: dict[str, object] = {}
        for key, value in vars(node).items():
            if isinstance(value, Node):
                fields[key] = self.split(value)
            elif isinstance(value, tuple):
                fields[key] = tuple(self.split(v) if isinstance(v, Node) else v for v in value)
        return dataclasses.replace(node, **fields) if fields else node
