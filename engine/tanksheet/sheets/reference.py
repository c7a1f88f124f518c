"""The two sheets that every workbook carries at its end: Sources, and Tables with its data."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from typing import Any

from tanksheet import definition, tables
from tanksheet.definition import Calculation
from tanksheet.formula.text import column_name
from tanksheet.sheets import advice
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Sheet
from tanksheet.xlsx.address import Address

SOURCES, TABLES = "Sources", "Tables"
ID_NAME = "workbook_id"


def sources_sheet(book: Book) -> Sheet:
    """What each figure rests on: the calculations that the book uses, then the book's own."""
    sheet = Sheet(SOURCES, (26, 62, 62), landscape=True)
    sheet.put(1, "Where the figures come from", "title", across=3)
    sheet.heights[sheet.row] = 28
    sheet.row += 1
    sheet.put(1, "Workbook", "label")
    sheet.put(2, book.name, "label")
    sheet.row += 2
    for column, text in enumerate(("Function", "What it does", "Source"), 1):
        sheet.put(column, text, "table head")
    sheet.row += 1
    for each in used_calculations(book):
        _row(sheet, each.sheet_name, each.summary, each.source)
    for what, source in book.sources:
        _row(sheet, "this workbook", what, source)
    _row(
        sheet,
        "data",
        "Units, oxides, products, acids and solubilities, with their sources.",
        f"the hidden sheet {TABLES}; long formulas in steps: the hidden sheet Working",
    )
    _row(sheet, "FERT functions", advice.OWN_CELLS, " ".join(advice.FOR_CELLS))
    return sheet


def id_cell() -> Address:
    return Address(SOURCES, 2, 2)


def _row(sheet: Sheet, *texts: str) -> None:
    for column, text in enumerate(texts, 1):
        sheet.put(column, text, "table")
    longest = max(len(text) for text in texts)
    sheet.heights[sheet.row] = 13.0 * (1 + longest // 66)
    sheet.row += 1


def tables_sheet() -> tuple[Sheet, dict[str, tuple[Address, ...]]]:
    """The data tables, side by side, with the defined name of each column."""
    sheet = Sheet(TABLES, (), landscape=True, printed=False)
    names: dict[str, tuple[Address, ...]] = {}
    widths: list[float] = []
    for table in tables.KEYS:
        rows = tables.rows(table)
        for column in rows[0]:
            position = len(widths) + 1
            widths.append(max(10.0, 1.1 * max(len(str(row[column])) for row in rows)))
            sheet.row = 1
            sheet.put(position, column, "table head")
            for i, row in enumerate(rows):
                sheet.row = 2 + i
                sheet.put(position, row[column], "table")
            names[column_name(table, column)] = tuple(
                sheet.at(position, 2 + i) for i in range(len(rows))
            )
        widths.append(3)
    sheet.widths = tuple(min(width, 60) for width in widths)
    return sheet, names


def used_calculations(book: Book) -> list[Calculation]:
    """The calculations behind a book's formulas, in the catalogue's order."""
    found: set[str] = set()
    for formula in book.formulas.values():
        found.update(each.name for each in _calculations(formula.function, set()))
    return [each for name, each in definition.catalogue().items() if name in found]


def _calculations(function: Callable[..., Any], seen: set[int]) -> Iterator[Calculation]:
    if id(function) in seen:
        return
    seen.add(id(function))
    record = definition.of(function)
    if record:
        yield record
        function = record.body
    world = inspect.getclosurevars(function)
    for value in (*world.globals.values(), *world.nonlocals.values()):
        if inspect.isfunction(value) and value.__module__.startswith("tanksheet."):
            yield from _calculations(value, seen)
