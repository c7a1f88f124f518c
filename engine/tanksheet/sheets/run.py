"""Treats a workbook file as a function: set names, recalculate, read names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from tanksheet.recalc import Session, engine
from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import pattern
from tanksheet.sheets.present import present
from tanksheet.sheets.settings import Typed, as_date
from tanksheet.sheets.target import Target

DATE = pattern("date")
Result = dict[str, Any]


def run(
    path: Path,
    book: Book | None,
    settings: Mapping[str, Typed],
    wanted: Sequence[str] = (),
    engine_name: str = "ironcalc",
) -> Result:
    """Sets names in a private copy of the file, recalculates it, and reads names.

    The file itself is never written to. Without ``wanted``, every result of the book is read.
    Raises: WorkbookProblem with one line an unusable entry, naming its cell.
    """
    with engine(engine_name).begin(path) as session:
        return run_in(session, book, settings, wanted)


def run_in(
    session: Session,
    book: Book | None,
    settings: Mapping[str, Typed],
    wanted: Sequence[str] = (),
) -> Result:
    """As ``run``, in a workbook that is open in an engine; each call starts from the file."""
    target = Target.of(session.package, book)
    names = list(wanted) or default_names(target)
    now = present(session, target, settings, names)
    now.refuse_bad()
    return {name: now.value(name) for name in names}


def dates_spelled(book: Book | None, values: Result) -> Result:
    """Results for people: those of cells that show dates as 2026-11-27."""
    if book is None:
        return values
    specs = [spec for sheet in book.sheets for spec in sheet.specs if spec.pattern == DATE]
    cells = {spec.cell for spec in specs}
    named = book.named_cells()
    dates = {name for name in values if name in named and named[name][0] in cells}
    return values | {name: _spelled(values[name]) for name in dates}


def _spelled(value: Any) -> Any:
    if isinstance(value, list):
        return [_spelled(each) for each in value]
    return as_date(value) if isinstance(value, float) else value


def default_names(target: Target) -> list[str]:
    """Every result worth reading: the book's, less hidden ones; else all named single cells."""
    if target.book is None:
        return [name for name in target.listed if len(target.names[name]) == 1]
    plan = [each.name for each in target.book.formulas.values() if each.name]
    unread = target.book.hidden | target.book.nameless
    return [name for name in [*plan, *target.book.ranges] if name not in unread]
