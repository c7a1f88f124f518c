"""Plans small enough to check by eye."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from openpyxl import Workbook

from tanksheet.definition import evaluated
from tanksheet.errors import FAULTS, CarriedFault, Fault, SheetError
from tanksheet.formula import Ref, formula_text, read_call
from tanksheet.recalc import ENGINES
from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.reference import tables_sheet
from tanksheet.sheets.writer import add_names, write_sheet
from tanksheet.xlsx.address import Address, Value

Case = tuple[Any, tuple[Value, ...]]


def small_book() -> Book:
    """Two inputs, a choice, and results that use them."""
    book = Book("small", "Small", "To try the writer.")
    page = add_page(book, "Main")
    page.section("In")
    page.input("tank", "Tank", "tank", 200, "L", usual=(5, 2000))
    page.input("flow", "Flow", "flow", None, "L/min", usual=(1, 100), optional=True)
    page.choice("method", "Way", ("one", "two"), "one")
    page.result("doubled", "Twice the tank", doubled, unit="L", volume="tank")
    page.result("minutes", "Minutes", minutes, may_be_words=True, unit="min")
    page.verdict("way_check", "Which way", way)
    return book


def page_of(book: Book) -> Page:
    """A page that goes on below the rows of the book's first sheet."""
    return Page(book, book.sheets[0])


def doubled(volume: Any) -> Any:
    return volume * 2


def minutes(tank: Any, flow: Any) -> Any:
    return "no flow" if flow == "" else tank / flow


def way(method: Any) -> Any:
    return "pass: one" if method == "one" else "caution: two"


def in_python(cases: Sequence[Case]) -> list[Value]:
    """What each function gives for values as they stand in cells; a fault as its error."""
    return [_python(function, values) for function, values in cases]


def _python(function: Any, values: tuple[Value, ...]) -> Value:
    given = [
        CarriedFault(FAULTS[v]("in a cell")) if isinstance(v, SheetError) else _plain(v)
        for v in values
    ]
    try:
        result: Any = evaluated(function, given)
    except Fault as fault:
        return fault.code
    if isinstance(result, CarriedFault):
        return result.fault.code
    known: Value = result
    return known


def _plain(value: Value) -> Value:
    return "" if value is None else value


def in_ironcalc(cases: Sequence[Case], path: Path) -> list[Value]:
    """What the compiled formulas give in IronCalc, one row a case, its values in columns B on."""
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = "Cases"
    inputs: dict[Address, Value] = {}
    for row, (function, values) in enumerate(cases, 1):
        cells = [Address("Cases", row, 2 + i) for i in range(len(values))]
        inputs.update(zip(cells, values, strict=True))
        tree = read_call(function, [Ref(cell.cell) for cell in cells], {})
        sheet.cell(row, 1, "=" + formula_text(tree))
    tables, names = tables_sheet()
    write_sheet(workbook.create_sheet(tables.title), tables, {})
    add_names(workbook, names)
    workbook.save(path)
    wanted = [Address("Cases", row, 1) for row in range(1, len(cases) + 1)]
    with ENGINES["ironcalc"].open(path) as session:
        return list(session.calculate(inputs, wanted).values())
