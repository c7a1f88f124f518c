"""Workbooks small enough to check by eye, and the engines to open them in."""

from __future__ import annotations

import warnings
from collections.abc import Iterator

import pytest

from engines_needed import need
from small_cells import Cells, MakeBook, OpenBook
from tanksheet.recalc import ENGINES, Engine, Session


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
