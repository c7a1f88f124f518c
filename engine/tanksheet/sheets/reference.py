"""The sheets that every workbook carries at its end: Help, Sources, and Tables with its data."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from typing import Any

from tanksheet import definition, tables
from tanksheet.definition import Calculation
from tanksheet.formula.text import column_name
from tanksheet.sheets import advice
from tanksheet.sheets.book import AddedRow, Book
from tanksheet.sheets.cells import Sheet
from tanksheet.xlsx.address import Address

HELP, SOURCES, TABLES = "Help", "Sources", "Tables"
ID_NAME, EDITION_NAME = "workbook_id", "workbook_edition"


SIGNS = (
    "What is straw-coloured with a line below is for you to type; a line alone may stay blank.",
    "What is right says nothing. stop: do not use it. caution: look again. not checked: a figure "
    "is missing, so nobody knows.",
    "Sheets are locked without a password, so that no formula is lost by a slip. Copy what you "
    "like; unlock a sheet only to build on it.",
)


def help_sheet(book: Book) -> Sheet:
    """What the workbook is for, and how it is used, in five steps."""
    sheet = Sheet(HELP, (5, 88))
    sheet.put(1, f"{book.title}: how it is used", "title", across=2)
    sheet.heights[sheet.row] = 28
    sheet.row += 1
    sheet.put(1, book.purpose, "lead", across=2)
    sheet.heights[sheet.row] = 30
    for number, text in enumerate(book.steps, 1):
        sheet.row += 1
        sheet.put(1, number, "step number")
        _told(sheet, text, "step")
    sheet.row += 1
    for text in SIGNS:
        sheet.row += 1
        _told(sheet, text, "note")
    return sheet


def _told(sheet: Sheet, text: str, style: str) -> None:
    sheet.put(2, text, style)
    sheet.heights[sheet.row] = 16.0 * (1 + len(text) // 84) + 6


def sources_sheet(book: Book) -> Sheet:
    """What each figure rests on: the calculations that the book uses, then the book's own."""
    sheet = Sheet(SOURCES, (26, 62, 62), landscape=True)
    sheet.put(1, "Where the figures come from", "title", across=3)
    sheet.heights[sheet.row] = 28
    sheet.row += 1
    sheet.put(1, "Workbook", "label")
    sheet.put(2, book.name, "label")
    sheet.put(3, book.edition, "label")
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


def edition_cell() -> Address:
    return Address(SOURCES, 2, 3)


def _row(sheet: Sheet, *texts: str) -> None:
    for column, text in enumerate(texts, 1):
        sheet.put(column, text, "table")
    longest = max(len(text) for text in texts)
    sheet.heights[sheet.row] = 13.0 * (1 + longest // 66)
    sheet.row += 1


def tables_sheet(book: Book | None = None) -> tuple[Sheet, dict[str, tuple[Address, ...]]]:
    """The data tables, side by side, with the defined name of each column.

    Rows that the book adds to a table stand below its own, and its names cover them too, so that
    every look-up and every list of choices does.
    """
    sheet = Sheet(TABLES, (), landscape=True, printed=False)
    names: dict[str, tuple[Address, ...]] = {}
    widths: list[float] = []
    for table in tables.KEYS:
        rows = tables.rows(table)
        added = [row for row in book.added if row.table == table] if book else []
        for column in rows[0]:
            position = len(widths) + 1
            widths.append(max(10.0, 1.1 * max(len(str(row[column])) for row in rows)))
            sheet.row = 1
            sheet.put(position, column, "table head")
            contents = [*(row[column] for row in rows), *(_added(book, e, column) for e in added)]
            for i, content in enumerate(contents):
                sheet.row = 2 + i
                sheet.put(position, content, "table")
            names[column_name(table, column)] = tuple(
                sheet.at(position, 2 + i) for i in range(len(contents))
            )
        widths.append(3)
    sheet.widths = tuple(min(width, 60) for width in widths)
    return sheet, names


def _added(book: Book | None, row: AddedRow, column: str) -> Any:
    """What stands in a column of an added row: a formula, or what is fixed."""
    if book is not None and column in row.computed:
        return book.formulas[row.computed[column]]
    return row.fixed[column]


def added_cell(table: str, column: str, place: int) -> Address:
    """Where the cell of an added row stands, counted from 0: ``tables_sheet`` puts it there."""
    position = 1
    for each in tables.KEYS:
        columns = list(tables.rows(each)[0])
        if each == table:
            row = 2 + len(tables.rows(table)) + place
            return Address(TABLES, row, position + columns.index(column))
        position += len(columns) + 1
    raise KeyError(table)


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
