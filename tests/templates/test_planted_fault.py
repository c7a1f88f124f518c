"""The comparison can fail: one wrong factor in one formula of a built file is found and named."""

from __future__ import annotations

from pathlib import Path

import pytest

from package_edits import GetWorkbook, cells_of, formula_of, set_formula, type_into
from tanksheet.cli import main
from tanksheet.recalc import ENGINES, listing
from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.verify import closing_line, verify
from tanksheet.templates import TEMPLATES, book

# One result that nothing else in its workbook uses, so that one cell differs and no other; what
# its formula says, and what it is made to say.
RESULTS = {
    "zone-flow": ("tile_2", '="stop"', '="caut"'),
    "stock-tank": ("new_percent", "100/", "101/"),
    "ratio-table": ("reach_8", "*10/", "*11/"),
}


@pytest.fixture(params=RESULTS)
def spoiled(request: pytest.FixtureRequest, workbook: GetWorkbook) -> tuple[Path, str]:
    """A built file with one formula changed, and the name of its cell."""
    name, right, wrong = RESULTS[request.param]
    path = workbook(request.param)
    formula = formula_of(path, name)
    assert formula.count(right) == 1, formula
    set_formula(path, name, formula.replace(right, wrong))
    return path, name


def test_the_fault_is_found_and_named(spoiled: tuple[Path, str]) -> None:
    path, name = spoiled
    [run] = verify(path, book(path.stem), ["ironcalc"], 10, edges=False)
    cell = cells_of(path)[name][0]
    assert run.verdict == "differs"
    assert {miss.difference.address for miss in run.misses} == {cell}
    assert f"{cell.a1} ({name})" in listing(run, cells_of(path))
    assert closing_line([run]) == "Not confirmed in any engine."


def test_the_command_line_says_so(
    spoiled: tuple[Path, str], capsys: pytest.CaptureFixture[str]
) -> None:
    path, name = spoiled
    code = main(["verify", str(path), "--engines", "ironcalc", "--cases", "10"])
    said = capsys.readouterr().out
    assert code == 1
    assert "differs" in said
    assert f"({name})" in said


def last_numbers(plan: Book) -> list[str]:
    """Named cells that hold a number and that no other formula uses."""
    used = {key for each in plan.formulas.values() for key in each.arguments}
    used |= {key for keys in plan.ranges.values() for key in keys}
    values = evaluate(plan, {})
    return [
        each.name
        for key, each in plan.formulas.items()
        if each.name and key not in used and isinstance(values[key], float) and values[key]
    ]


@pytest.mark.parametrize("name", TEMPLATES)
def test_one_percent_too_much_is_found_in_every_workbook(name: str, workbook: GetWorkbook) -> None:
    path, plan = workbook(name), book(name)
    for cell in last_numbers(plan)[:1] or [next(iter(plan.aliases.values()))]:
        set_formula(path, cell, f"({formula_of(path, cell)})*1.01")
        [run] = verify(path, plan, ["ironcalc"], 3, edges=False)
        assert run.verdict == "differs"
        assert f"({cell})" in listing(run, cells_of(path))


def test_a_small_fault_is_found(workbook: GetWorkbook) -> None:
    """Two parts in a hundred million: still twenty times the tolerance."""
    path = workbook("stock-tank")
    set_formula(path, "mass_1", f"({formula_of(path, 'mass_1')})*1.00000002")
    [run] = verify(path, book("stock-tank"), ["ironcalc"], 3, edges=False)
    assert run.verdict == "differs"


def test_an_entry_that_a_person_changed_is_no_fault(workbook: GetWorkbook) -> None:
    path = workbook("stock-tank")
    type_into(path, "tank", 333.0)
    [run] = verify(path, book("stock-tank"), ["ironcalc"], 3)
    assert run.verdict == "agrees"


def test_nothing_run_is_not_a_pass(
    workbook: GetWorkbook, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = str(workbook("stock-tank"))
    assert main(["verify", path, "--engines", "ironcalc", "--cases", "0", "--no-edges"]) == 1
    monkeypatch.setattr(ENGINES["gnumeric"], "missing", lambda: "It is not installed.")
    assert main(["verify", path, "--engines", "gnumeric", "--cases", "1"]) == 1
    said = capsys.readouterr().out
    assert "not run" in said
    assert "Not confirmed in any engine." in said
