"""The workbooks, a folder each: ``page`` says what stands where, ``working`` computes."""

from __future__ import annotations

import functools
import importlib
from pathlib import Path

from tanksheet.errors import WorkbookProblem
from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import EDITIONS
from tanksheet.sheets.reference import EDITION_NAME, ID_NAME
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values

# Workbook name -> its folder here.
TEMPLATES = {
    "zone-flow": "zone_flow",
    "stock-tank": "stock_tank",
    "ratio-table": "ratio_table",
    "water-report": "water_report",
    "acid": "acid",
    "recipe": "recipe",
    "field-event": "field_event",
    "injector": "injector",
    "series": "series",
    "proving": "proving",
    "season": "season",
    "timing": "timing",
    "fault-finder": "fault_finder",
    "upkeep": "upkeep",
    "commissioning": "commissioning",
}


def book(name: str, edition: str = "metric") -> Book:
    """A workbook's plan by name, in the metric or the US edition.

    Raises: WorkbookProblem for a name that is no workbook.
    """
    if name not in TEMPLATES:
        known = ", ".join(TEMPLATES)
        raise WorkbookProblem(f"no workbook is called {name!r}; there are: {known}")
    return _made(name, edition)


@functools.cache
def _made(name: str, edition: str) -> Book:
    made: Book = importlib.import_module(f"{__name__}.{TEMPLATES[name]}.page").make(edition)
    return made


def book_of(file: Path | Package) -> Book | None:
    """The plan behind a workbook file, or None for a file that is not one of ours.

    Raises: WorkbookProblem when the file cannot be read as a workbook.
    """
    package = file if isinstance(file, Package) else Package(file)
    cells = (package.names | package.hidden_names).get(ID_NAME)
    if cells is None:
        return None
    name = stored_values(package, cells[:1])[cells[0]]
    if not isinstance(name, str) or name not in TEMPLATES:
        return None
    # Files from before there were editions have none.
    where = package.hidden_names.get(EDITION_NAME)
    edition = stored_values(package, where[:1])[where[0]] if where else "metric"
    return book(name, edition if edition in EDITIONS else "metric")
