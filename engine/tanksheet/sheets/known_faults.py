"""Tells an engine's known fault from a wrong cell: an error that its SUMIF, say, passes over.

A difference is excused only where it begins at a cell that uses such a function, at which an error
was expected and something else came; and then in the cells that depend on that one. Everything
else counts against the workbook or the engine as ever.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from tanksheet.errors import SheetError
from tanksheet.recalc import Difference, Engine
from tanksheet.sheets.book import Book
from tanksheet.sheets.compiled import compiled
from tanksheet.xlsx.address import Address

Excuse = Callable[[Sequence[Difference]], set[Address]]


def excuse_for(engine: Engine, book: Book, moved: Mapping[Address, Address]) -> Excuse | None:
    """Which of a case's differences are the engine's known fault; None if it has none.

    ``moved`` tells where each cell of the book stands in the file.
    """
    functions = engine.skips_errors_in
    if not functions:
        return None
    plan: list[_Plan] = []

    def excused(found: Sequence[Difference]) -> set[Address]:
        if not plan:  # made when it is first needed, which is mostly never
            plan.append(_Plan(book, functions))
        skipped = {
            each.address
            for each in found
            if isinstance(each.expected, SheetError) and not isinstance(each.got, SheetError)
        }
        reached = {moved[cell] for cell in plan[0].reached(skipped, moved) if cell in moved}
        return {each.address for each in found if each.address in reached}

    return excused


class _Plan:
    """Which formulas use the functions, and which cells each formula depends on."""

    def __init__(self, book: Book, functions: Sequence[str]) -> None:
        self.book = book
        called = re.compile(rf"\b({'|'.join(map(re.escape, functions))})\(")
        self.users = {key for key, text in compiled(book).whole_texts() if called.search(text)}

    def reached(self, skipped: set[Address], moved: Mapping[Address, Address]) -> set[Address]:
        """The cells at which an error was skipped, and all that depend on them."""
        keys: set[str] = set()
        for key, formula in self.book.formulas.items():
            here = key in self.users and moved.get(formula.cell) in skipped
            if here or any(self._in(argument, keys) for argument in formula.arguments):
                keys.add(key)
        return {self.book.formulas[key].cell for key in keys}

    def _in(self, argument: str, keys: set[str]) -> bool:
        return any(key in keys for key in self.book.ranges.get(argument, (argument,)))
