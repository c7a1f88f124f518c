"""An engine's known fault is told from a wrong cell, and hides no other difference."""

from __future__ import annotations

from pathlib import Path

import pytest

from engines_needed import need
from package_edits import GetWorkbook, set_formula
from tanksheet.errors import OutOfTime, SheetError
from tanksheet.recalc import ENGINES, Case, Difference, EngineRun, run_cases, table
from tanksheet.sheets.book import Book
from tanksheet.sheets.compiled import compiled
from tanksheet.sheets.evaluate import cell_values, entry_cells
from tanksheet.sheets.known_faults import excuse_for
from tanksheet.sheets.verify import closing_line, moved_cells, verify
from tanksheet.templates import book
from tanksheet.xlsx.reading import named_cells
from typed_recipe import typed_recipe

FAULTY = "formualizer"


@pytest.fixture
def plan() -> Book:
    return book("recipe")


def users(plan: Book) -> list[str]:
    return [key for key, text in compiled(plan).whole_texts() if "SUMIF(" in text]


def one_case(path: Path, plan: Book, engine: str, excused: bool = True) -> EngineRun:
    """A word where an amount belongs: an error in every sum over the tank."""
    need(ENGINES[engine])
    settings = typed_recipe(amounts=["twelve", *typed_recipe()["amounts"][1:]])
    case = Case(entry_cells(plan, settings), cell_values(plan, settings))
    excuse = excuse_for(ENGINES[engine], plan, moved_cells(path, plan)) if excused else None
    return run_cases(ENGINES[engine], path, [case], excused=excuse)


def test_the_fault_is_seen_and_counted(plan: Book, workbook: GetWorkbook) -> None:
    path = workbook("recipe")
    run = one_case(path, plan, FAULTY)
    assert run.verdict == "agrees" and run.known and run.known_cases == 1
    sums = {plan.formulas[key].cell for key in users(plan)}
    known = {miss.difference.address for miss in run.known}
    assert known & sums and known - sums, "sums that skip an error, and what hangs on them"
    assert f"formualizer: {len(known)} cells in 1 cases differ by a known fault" in table([run])
    compared = run.cells - len(known)
    assert f"{compared:,} cells compared" in closing_line([run])
    assert f"not counted: formualizer {len(known)} cells." in closing_line([run])


def test_without_the_excuse_it_differs(plan: Book, workbook: GetWorkbook) -> None:
    path = workbook("recipe")
    assert len(one_case(path, plan, FAULTY, excused=False).misses) == len(
        one_case(path, plan, FAULTY).known
    )


def test_a_sound_engine_needs_no_excuse(plan: Book, workbook: GetWorkbook) -> None:
    run = one_case(workbook("recipe"), plan, "ironcalc")
    assert (run.verdict, run.known) == ("agrees", [])
    assert excuse_for(ENGINES["ironcalc"], plan, {}) is None


def test_another_fault_in_the_same_case_is_not_excused(plan: Book, workbook: GetWorkbook) -> None:
    path = workbook("recipe")
    set_formula(path, "ec_feed", "1+1")
    run = one_case(path, plan, FAULTY)
    wrong = named_cells(path)["ec_feed"][0]
    assert wrong in {miss.difference.address for miss in run.misses}
    assert run.verdict == "differs" and run.known


def test_only_a_skipped_error_is_excused(plan: Book) -> None:
    """Not a wrong number, not another error, and not an error skipped anywhere else."""
    here = {cell: cell for cell in cell_values(plan, {})}
    excuse = excuse_for(ENGINES[FAULTY], plan, here)
    assert excuse is not None
    user = plan.formulas[users(plan)[0]].cell
    other = next(f.cell for key, f in plan.formulas.items() if key not in users(plan))
    skipped = Difference(user, SheetError.VALUE, 0.0, "type")
    assert excuse([skipped]) == {user}
    for found in (
        Difference(user, 1.0, 2.0, "number"),
        Difference(user, SheetError.VALUE, SheetError.NUM, "error"),
        Difference(other, SheetError.VALUE, 0.0, "type"),
    ):
        assert excuse([found]) == set()


def test_no_time_at_all_is_said(workbook: GetWorkbook) -> None:
    path = workbook("ratio-table")
    with pytest.raises(OutOfTime, match=r"ratio-table\.xlsx: no engine worked out one case in 0 s"):
        verify(path, book("ratio-table"), ["ironcalc", "formulas"], 2, seconds=0.0)


def test_an_engine_has_at_least_one_case(workbook: GetWorkbook) -> None:
    need(ENGINES["formualizer"])
    path, plan = workbook("ratio-table"), book("ratio-table")
    [run] = verify(path, plan, ["formualizer"], 400, seconds=50.0)
    assert run.verdict == "agrees" and run.cases >= 1
    whole = 300
    assert run.cases >= whole or run.why == "its time was up before all cases had run."
