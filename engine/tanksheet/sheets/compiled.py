"""The cell formula behind each Formula of a book: defined names where there are any."""

from __future__ import annotations

from tanksheet.formula import Node, Ref, formula_text, read_call
from tanksheet.recalc.record import Address
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.units import Quantity


def formula_texts(book: Book) -> dict[str, str]:
    """Formula text by key, each beginning with "="."""
    facts = _facts(book)
    return {key: _text(book, each, facts) for key, each in book.formulas.items()}


def _facts(book: Book) -> dict[str, Quantity]:
    return {key: each.known for key, each in book.formulas.items() if each.known is not None}


def _text(book: Book, formula: Formula, facts: dict[str, Quantity]) -> str:
    sheet = formula.cell.sheet
    arguments: list[Node] = [Ref(key) for key in formula.arguments]
    tree = read_call(formula.function, arguments, facts)
    names = {key: _spelling(book, key, sheet) for key in formula.arguments}
    return "=" + formula_text(tree, names)


def _spelling(book: Book, key: str, sheet: str) -> str:
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
