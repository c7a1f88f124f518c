"""Every workbook in every engine: random entries and bad ones, every formula cell compared.

The other side is the spreadsheet engines themselves, which are outside the project; that Python's
own arithmetic is right is shown by the published rows (tests/published).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from engines_needed import need
from harness_runs import RUN_PROPERTY, row
from package_edits import GetWorkbook, cells_of
from tanksheet.recalc import ENGINES, child_session, listing, table
from tanksheet.recalc.package_engine import MOST_BYTES, PackageEngine
from tanksheet.sheets.cases import edge_settings
from tanksheet.sheets.verify import edges_for, random_count, verify
from tanksheet.templates import TEMPLATES, book


@pytest.fixture(scope="module", autouse=True)
def room_to_grow() -> Iterator[None]:
    """An engine gets less memory than it may take: ours are not to come near the limit, and a
    person's workbook may be larger."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(child_session, "MOST_BYTES", MOST_BYTES * 5 // 8)
        _end_children()
        yield
    _end_children()


def _end_children() -> None:
    for each in ENGINES.values():
        if isinstance(each, PackageEngine):
            each.close()


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("name", TEMPLATES)
def test_workbook_agrees(
    name: str,
    engine: str,
    workbook: GetWorkbook,
    record_property: Callable[[str, object], None],
) -> None:
    need(ENGINES[engine])
    path, plan = workbook(name), book(name)
    cases = random_count(plan, engine)
    [run] = verify(path, plan, [engine], cases)
    edges = len(edges_for(plan, engine))
    record_property(RUN_PROPERTY, row(name, edges, run))
    assert run.verdict == "agrees", f"{table([run])}\n{listing(run, cells_of(path))}"
    assert run.cases == cases + edges
    assert run.cells == run.cases * len(plan.formulas) > 0
    assert run.worst is not None and run.worst <= 1e-9


def test_every_engine_gets_its_share() -> None:
    """Together at least 500 random cases a workbook, and at least 5 in each engine."""
    for name in TEMPLATES:
        shares = [random_count(book(name), engine) for engine in ENGINES]
        assert min(shares) >= 2 and sum(shares) >= 500, (name, shares)


@pytest.mark.parametrize("name", TEMPLATES)
def test_shares_of_bad_entries(name: str) -> None:
    """IronCalc sees them all; the slow engines see some of every kind, drawn alike each time."""
    plan = book(name)
    every = list(edge_settings(plan))
    assert edges_for(plan, "ironcalc") == every
    for engine in ENGINES:
        share = edges_for(plan, engine)
        assert len(share) >= min(6, len(every))
        assert all(each in every for each in share)
        assert share == edges_for(plan, engine)


@pytest.mark.parametrize("engine", ["ironcalc", "libreoffice"])
@pytest.mark.parametrize("name", TEMPLATES)
def test_us_edition_agrees(name: str, engine: str, workbook: GetWorkbook) -> None:
    """Its formulas are those of the metric edition but for the units that are shown."""
    need(ENGINES[engine])
    path, plan = workbook(name, "us"), book(name, "us")
    [run] = verify(path, plan, [engine], 5, edges=False)
    assert run.verdict == "agrees", f"{table([run])}\n{listing(run, cells_of(path))}"
    assert run.cells == 5 * len(plan.formulas)
