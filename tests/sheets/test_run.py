"""A workbook as a function, also after a person has rearranged it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from engines_needed import need
from package_edits import (
    GetWorkbook,
    add_name,
    add_sheet,
    delete_name,
    delete_sheet,
    edit_part,
    formula_of,
    insert_rows_on_top,
    part_of,
    rename_sheet,
    set_formula,
    type_into,
)
from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.run import default_names, run
from tanksheet.sheets.target import Target
from tanksheet.sheets.verify import verify
from tanksheet.templates import TEMPLATES, book, book_of
from tanksheet.xlsx.reading import Package, named_cells
from tanksheet.xlsx.values import stored_values

MASS = 150 * 100 * 200 / 155  # by hand: 150 mg/L from 15.5 %, 1:100, 200 L
TYPED = {"nutrient_1": "N", "target_1": "150 ppm", "label_n_1": "15.5", "tank": "200 L"}


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


@pytest.fixture
def tank(workbook: GetWorkbook) -> Path:
    return workbook("stock-tank")


def mass(path: Path, plan_name: str = "stock-tank", **more: str) -> object:
    """Product 1 for the typed example."""
    return run(path, book(plan_name), {**TYPED, **more}, ["mass_1"])["mass_1"]


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_fresh_file_gives_its_defaults(name: str, workbook: GetWorkbook) -> None:
    """Nothing set, everything read: what Python computes for the defaults, blanks and all."""
    plan = book(name)
    values = run(workbook(name), plan, {})
    expected = evaluate(plan, {})
    assert values
    for key, value in values.items():
        if key in expected:
            same = expected[key]
            assert value == (pytest.approx(same, rel=1e-9) if isinstance(same, float) else same)
    assert not [value for value in values.values() if isinstance(value, SheetError)]
    json.dumps(values)


def test_setting_and_reading(tank: Path) -> None:
    before = tank.read_bytes()
    assert mass(tank) == pytest.approx(MASS, rel=1e-12)
    assert mass(tank, ratio="1:200") == pytest.approx(2 * MASS, rel=1e-12)
    assert mass(tank, ratio="0.5 %") == pytest.approx(2 * MASS, rel=1e-12)
    assert mass(tank, tank="0.2 m3") == pytest.approx(MASS, rel=1e-12)
    assert tank.read_bytes() == before
    assert list(tank.parent.iterdir()) == [tank]


def test_a_unit_keeps_standing_when_none_is_typed(tank: Path) -> None:
    type_into(tank, "tank_unit", "gal")
    assert mass(tank, tank="200") == pytest.approx(MASS * 3.785411784, rel=1e-12)
    assert mass(tank, tank="200 L") == pytest.approx(MASS, rel=1e-12)


def test_readings_and_grids(workbook: GetWorkbook) -> None:
    path = workbook("zone-flow")
    values = run(path, book("zone-flow"), {"bucket_time": "30; ; 30"}, ["bucket_time", "mean_time"])
    assert values == {"bucket_time": [30.0, None, 30.0, None, None], "mean_time": 30.0}
    path = workbook("ratio-table")
    typed = {"ratios": "100;200", "targets": "100;", "content": "10"}
    grid = run(path, book("ratio-table"), typed, ["grams_per_litre"])["grams_per_litre"]
    across = len(book("ratio-table").entries["targets"].cells)
    assert grid[0] == pytest.approx(100.0)
    assert grid[across] == pytest.approx(200.0)
    assert {grid[1], grid[2 * across]} == {""}


def test_what_is_read_when_nothing_is_asked(tank: Path) -> None:
    names = default_names(Target.of(Package(tank), book("stock-tank")))
    assert {"mass_1", "delivered_n", "meter_check", "card_1"} <= set(names)
    assert not {"tank", "tank_in_L", "tank_note", "tank_factor", "nutrient_1_checked"} & set(names)


# files that a person has changed


def test_rows_inserted_on_top(tank: Path) -> None:
    before = named_cells(tank)["mass_1"][0]
    insert_rows_on_top(tank, "Stock tank", 7)
    assert named_cells(tank)["mass_1"][0].row == before.row + 7
    assert mass(tank) == pytest.approx(MASS, rel=1e-12)
    [checked] = verify(tank, book("stock-tank"), ["ironcalc"], 20)
    assert checked.verdict == "agrees"


def test_rows_inserted_above_a_grid(workbook: GetWorkbook) -> None:
    path = workbook("ratio-table")
    insert_rows_on_top(path, "Ratio table", 3)
    [checked] = verify(path, book("ratio-table"), ["ironcalc"], 20)
    assert checked.verdict == "agrees"


def test_an_entry_that_was_moved(tank: Path) -> None:
    """Cut and pasted to the foot of the page: the name goes with the cell."""
    old = named_cells(tank)["tank"][0]
    edit_part(
        tank,
        "xl/workbook.xml",
        lambda text: text.replace(
            f"name=\"tank\">'Stock tank'!$B${old.row}<", "name=\"tank\">'Stock tank'!$B$150<"
        ),
    )
    assert mass(tank) == pytest.approx(MASS, rel=1e-12)
    with pytest.raises(WorkbookProblem, match=r"'Stock tank'!B150 \(tank\) is blank"):
        run(tank, book("stock-tank"), {}, ["mass_1"])


def test_a_renamed_sheet(tank: Path) -> None:
    rename_sheet(tank, "Stock tank", "North house")
    assert named_cells(tank)["tank"][0].sheet == "North house"
    assert mass(tank) == pytest.approx(MASS, rel=1e-12)
    with pytest.raises(WorkbookProblem, match="'North house'!B"):
        mass(tank, tank="-3")


def test_sheets_and_names_of_the_users_own(tank: Path) -> None:
    """A cell of the user's doubles product 1 and can be read; one can be set."""
    add_sheet(
        tank,
        "My own",
        '<row r="1"><c r="A1"><f>mass_1*2+extra</f></c><c r="B1"><v>5</v></c></row>',
    )
    add_name(tank, "twice", "'My own'!$A$1")
    add_name(tank, "extra", "'My own'!$B$1")
    plan = book("stock-tank")
    assert run(tank, plan, TYPED, ["twice"])["twice"] == pytest.approx(2 * MASS + 5)
    assert run(tank, plan, {**TYPED, "extra": "7"}, ["twice"])["twice"] == pytest.approx(
        2 * MASS + 7
    )
    assert "twice" not in run(tank, plan, TYPED)
    [checked] = verify(tank, plan, ["ironcalc"], 3)
    assert checked.verdict == "agrees"


def test_a_formula_typed_into_an_entry(tank: Path) -> None:
    set_formula(tank, "tank", "40*5")
    assert mass(tank, tank="200 L") == pytest.approx(MASS, rel=1e-12)
    typed = {name: text for name, text in TYPED.items() if name != "tank"}
    assert run(tank, book("stock-tank"), typed, ["mass_1"])["mass_1"] == pytest.approx(MASS)


def test_a_formula_typed_into_an_entry_that_fails(tank: Path) -> None:
    set_formula(tank, "tank", "40/0")
    with pytest.raises(WorkbookProblem, match=r"\(tank\) is '#DIV/0!' L; it must be above 0 L"):
        run(tank, book("stock-tank"), {}, ["mass_1"])


def test_a_deleted_name_is_one_clear_line(tank: Path) -> None:
    delete_name(tank, "tank")
    for call in (
        lambda: run(tank, book("stock-tank"), {}, ["mass_1"]),
        lambda: run(tank, book("stock-tank"), TYPED, ["mass_1"]),
        lambda: verify(tank, book("stock-tank"), ["ironcalc"], 1),
    ):
        with pytest.raises(WorkbookProblem) as caught:
            call()
        said = str(caught.value)
        assert "\n" not in said
        assert said.startswith("stock-tank.xlsx: ")
        assert "'tank'" in said


def test_a_name_that_covers_too_few_cells(workbook: GetWorkbook) -> None:
    path = workbook("ratio-table")
    last = named_cells(path)["ratios"][-1].row
    edit_part(
        path,
        "xl/workbook.xml",
        lambda text: text.replace(f":$A${last}</", f":$A${last - 1}</", 1),
    )
    with pytest.raises(WorkbookProblem, match="'ratios' covers 15 cells; it must cover 16"):
        verify(path, book("ratio-table"), ["ironcalc"], 1)


def test_a_deleted_sheet(tank: Path) -> None:
    delete_sheet(tank, "Stock tank")
    with pytest.raises(WorkbookProblem) as caught:
        run(tank, book("stock-tank"), {}, ["mass_1"])
    assert "\n" not in str(caught.value)


def test_an_unknown_name_suggests_near_ones(tank: Path) -> None:
    with pytest.raises(WorkbookProblem, match="no name 'mas_1'; did you mean mass_1"):
        run(tank, book("stock-tank"), {}, ["mas_1"])
    with pytest.raises(WorkbookProblem, match="no name 'tnak'"):
        run(tank, book("stock-tank"), {"tnak": "3"})


def test_a_result_cannot_be_set(tank: Path) -> None:
    with pytest.raises(
        WorkbookProblem, match=r"[BD]\d+ \(mass_1\) is computed; set one of its inputs"
    ):
        run(tank, book("stock-tank"), {"mass_1": "3"})


def test_too_many_readings(workbook: GetWorkbook) -> None:
    with pytest.raises(WorkbookProblem, match="bucket_time has room for 5 values, 6 were given"):
        run(workbook("zone-flow"), book("zone-flow"), {"bucket_time": "1;2;3;4;5;6"})


def test_an_unknown_engine(tank: Path) -> None:
    with pytest.raises(EngineProblem, match="no engine 'abacus'"):
        run(tank, book("stock-tank"), {}, ["mass_1"], "abacus")


def test_a_workbook_that_is_not_ours(tank: Path) -> None:
    """Without the workbook's id its names still work, and nothing is known of its entries."""
    delete_name(tank, "workbook_id")
    assert book_of(tank) is None
    cells = {"nutrient_1": "N", "target_1": "150 ppm", "label_n_1": "15.5 %", "tank": "200 L"}
    assert run(tank, None, cells, ["mass_1"])["mass_1"] == pytest.approx(MASS)
    assert run(tank, None, {"tank": "-3 L"}, ["mass_1"])["mass_1"] is SheetError.NUM


def test_the_plan_behind_a_file(tank: Path) -> None:
    assert book_of(tank) is book("stock-tank")
    type_into(tank, "workbook_id", "another thing")
    assert book_of(tank) is None


def test_the_edits_do_what_they_say(tank: Path) -> None:
    """The tools of this file are checked too: an edit that changes nothing would prove nothing."""
    type_into(tank, "tank", 333.0)
    cell = named_cells(tank)["tank"][0]
    assert stored_values(Package(tank), [cell])[cell] == 333.0
    type_into(tank, "tank", None)
    assert stored_values(Package(tank), [cell])[cell] is None
    set_formula(tank, "mass_1", "1+1")
    assert formula_of(tank, "mass_1") == "1+1"
    assert part_of(tank, "Sources").startswith("xl/worksheets/")
    with pytest.raises(AssertionError, match="nothing to change"):
        delete_name(tank, "no_such_name")
