"""The cell formulas behind a book: defined names where there are any, and working cells for the
steps of formulas that would be too long in one cell."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from tanksheet.formula import Node, Ref, formula_text, read_call
from tanksheet.formula.steps import in_steps
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.units import Quantity
from tanksheet.xlsx.address import Address

WORKING = "Working"
FIRST_ROW = 4


@dataclass(frozen=True)
class Step:
    """One working cell: a part of the formula behind ``key``."""

    key: str
    name: str
    cell: Address
    node: Node
    text: str


@dataclass
class Compiled:
    """Formula text by key, each beginning with "=", and the working cells in order."""

    texts: dict[str, str] = field(default_factory=dict)
    steps: list[Step] = field(default_factory=list)

    def whole_texts(self) -> Iterator[tuple[str, str]]:
        """Each key with the text of its formula, its steps behind it."""
        behind: dict[str, list[str]] = {}
        for step in self.steps:
            behind.setdefault(step.key, []).append(step.text)
        for key, text in self.texts.items():
            yield key, " ".join([text, *behind.get(key, ())])


def compiled(book: Book) -> Compiled:
    """Compiles every formula of a book."""
    facts = {key: each.known for key, each in book.formulas.items() if each.known is not None}
    whole = Compiled()
    for formula in book.formulas.values():
        _add(whole, book, formula, facts)
    return whole


def _add(whole: Compiled, book: Book, formula: Formula, facts: Mapping[str, Quantity]) -> None:
    arguments: list[Node] = [Ref(key) for key in formula.arguments]
    tree = read_call(formula.function, arguments, facts)
    steps = in_steps(tree, lambda n: f"{_stem(formula.key)}_step_{n}", facts)
    away = {key: _spelling(book, key, WORKING) for key in formula.arguments}
    for name, node in steps.parts:
        away[name] = name
        cell = Address(WORKING, FIRST_ROW + len(whole.steps), 2)
        whole.steps.append(Step(formula.key, name, cell, node, "=" + formula_text(node, away)))
    here = {key: _spelling(book, key, formula.cell.sheet) for key in formula.arguments}
    whole.texts[formula.key] = "=" + formula_text(steps.result, {**away, **here})


def _stem(key: str) -> str:
    """A key as the beginning of a defined name: "mix[2,3]" gives "mix_2_3"."""
    return key.replace("[", "_").replace(",", "_").replace("]", "")


def _spelling(book: Book, key: str, sheet: str) -> str:
    if key in book.nameless:
        first, last = (book.formulas[book.ranges[key][end]].cell for end in (0, -1))
        return f"{first.cell if first.sheet == sheet else first.a1}:{last.cell}"
    if key in book.entries or key in book.ranges:
        return key
    if key in book.formulas and book.formulas[key].name:
        return book.formulas[key].name
    cell = book.formulas[key].cell if key in book.formulas else _part_cell(book, key)
    return cell.cell if cell.sheet == sheet else cell.a1


def _part_cell(book: Book, key: str) -> Address:
    name = key.partition("[")[0]
    cells = book.entries[name].cells
    return next(cell for i, cell in enumerate(cells) if part(name, i) == key)
