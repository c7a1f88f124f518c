"""The workbooks, one file each, reading like the plan it makes."""

from __future__ import annotations

import functools
import importlib

from tanksheet.errors import WorkbookProblem
from tanksheet.sheets.book import Book

# Workbook name -> module of this folder.
TEMPLATES = {"zone-flow": "zone_flow", "stock-tank": "stock_tank", "ratio-table": "ratio_table"}


@functools.lru_cache(maxsize=None)
def book(name: str) -> Book:
    """A workbook's plan by name.

    Raises: WorkbookProblem for a name that is no workbook.
    """
    if name not in TEMPLATES:
        known = ", ".join(TEMPLATES)
        raise WorkbookProblem(f"no workbook is called {name!r}; there are: {known}")
    made: Book = importlib.import_module(f"{__name__}.{TEMPLATES[name]}").make()
    return made
