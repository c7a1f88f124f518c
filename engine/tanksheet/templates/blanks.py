"""Our workbooks without their examples."""

from __future__ import annotations

from tanksheet.sheets.blank import without_example
from tanksheet.sheets.book import Book
from tanksheet.templates import book

# What is no part of the example but of the workbook: constants, and the headings of tables.
STAYS: dict[str, tuple[str, ...]] = {
    "zone-flow": ("emitter_exponent", "pipe_c"),
    "ratio-table": ("ratios", "targets"),
    "acid": ("steps",),
    "recipe": ("tolerance",),
}
# Choices that nobody should take over unseen.
GOES: dict[str, tuple[str, ...]] = {
    "acid": ("acid",),
    "timing": ("chlorine_source", "acid", "feeding", "near_end"),
    "fault-finder": ("symptom",),
}


def blank_book(name: str, edition: str = "metric") -> Book:
    """A workbook's plan with nothing typed in.

    Raises: WorkbookProblem for a name that is no workbook.
    """
    return without_example(book(name, edition), STAYS.get(name, ()), GOES.get(name, ()))
