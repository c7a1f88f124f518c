"""Workbooks small enough to check by eye, and the engines to open them in."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from engines_needed import need
from recalc_books import SHEET, Cells, MakeBook, OpenBook
from tanksheet.recalc import ENGINES, Engine, Session


@pytest.fixture
def make_book(tmp_path: Path) -> MakeBook:
    """Write cells (and other sheets, and names) to a file."""

    def make(
        cells: Cells,
        names: dict[str, str] | None = None,
        more: dict[str, Cells] | None = None,
        file: str = "small book.xlsx",
    ) -> Path:
        book = Workbook()
        book.active.title = SHEET
        for title, content in {SHEET: cells, **(more or {})}.items():
            sheet = book[title] if title in book.sheetnames else book.create_sheet(title)
            for cell, value in content.items():
                sheet[cell] = value
        for name, reference in (names or {}).items():
            book.defined_names[name] = DefinedName(name, attr_text=reference)
        book.save(tmp_path / file)
        return tmp_path / file

    return make


@pytest.fixture(params=list(ENGINES))
def any_engine(request: pytest.FixtureRequest) -> Engine:
    """Each engine in turn."""
    engine = ENGINES[request.param]
    need(engine)
    return engine


@pytest.fixture
def open_book(any_engine: Engine, make_book: MakeBook) -> Iterator[OpenBook]:
    """Make a book and open it in the engine; it is closed when the test ends."""
    sessions: list[Session] = []

    def open_it(cells: Cells, **more: object) -> Session:
        sessions.append(any_engine.open(make_book(cells, **more)))
        return sessions[-1]

    with warnings.catch_warnings():
        warnings.simplefilter("error")
        yield open_it
    for session in sessions:
        session.close()
