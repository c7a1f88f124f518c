"""``tanksheet list FILE``: what a workbook takes and gives, with what stands in it now."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from package_edits import GetWorkbook, add_name, delete_name, type_into
from small_cells import SHEET, MakeBook
from tanksheet.cli import main
from tanksheet.recalc import ENGINES
from tanksheet.sheets.run import default_names, run
from tanksheet.sheets.target import Target
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.reading import Package

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


def listed(path: Path, capsys: Capture) -> dict[str, Any]:
    assert main(["list", str(path), "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def by_name(lines: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {each["name"]: each for each in lines}


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_input_and_result_with_its_value(
    name: str, workbook: GetWorkbook, capsys: Capture
) -> None:
    path, plan = workbook(name), book(name)
    before = path.read_bytes()
    found = listed(path, capsys)
    inputs, results = by_name(found["inputs"]), by_name(found["results"])
    units = {entry.unit_key for entry in plan.entries.values()}
    assert (found["file"], found["workbook"]) == (f"{name}.xlsx", name)
    assert list(inputs) == [key for key in plan.entries if key not in units]
    assert list(results) == default_names(Target.of(Package(path), plan))
    expected = run(path, plan, {})
    for key, value in expected.items():
        assert results[key]["value"] == value, key
    for key, each in inputs.items():
        default = plan.entries[key].default
        assert each["value"] == (default[0] if len(default) == 1 else list(default)), key
        assert each["meaning"] and each["allowed"] and each["fault"] is None
        assert each["cell"].startswith(("'", *(sheet.title for sheet in plan.sheets)))
    assert path.read_bytes() == before


def test_for_people(workbook: GetWorkbook, capsys: Capture) -> None:
    path = workbook("stock-tank")
    type_into(path, "tank_unit", "gal")
    type_into(path, "tank", 50.0)
    assert main(["list", str(path)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    lines = said.out.splitlines()
    assert lines[0].startswith("stock-tank.xlsx: ")
    at = lines.index("  tank = 50 gal   (Stock the tank holds)")
    limits = lines[at + 1].strip()
    assert limits.startswith("above 0 L and at most 10,000,000 L; units: L, mL, ")
    assert "  ratio = 1:100   (Injector setting)" in lines
    assert any(line.startswith("  ec_measured = ") for line in lines)
    inputs, results = lines.index("Inputs"), lines.index("Results")
    assert inputs < at < results
    assert [line for line in lines[results:] if line.startswith("  mass_1 = ")]


def test_a_table_with_a_unit_for_each_row(workbook: GetWorkbook, capsys: Capture) -> None:
    path, plan = workbook("recipe"), book("recipe")
    cell = plan.entries["amounts"].cells[2]
    add_name(path, "third_amount", f"{cell.sheet}!{cell.absolute}")
    type_into(path, "third_amount", 180.0)
    found = by_name(listed(path, capsys)["inputs"])
    assert found["amounts"]["unit"] == list(plan.entries["amount_units"].default)
    assert main(["list", str(path)]) == 0
    [line] = [each for each in capsys.readouterr().out.splitlines() if "  amounts = " in each]
    assert line.startswith("  amounts = blank; blank; 180 g   (")


def test_what_is_wrong_is_said_and_the_rest_is_listed(
    workbook: GetWorkbook, capsys: Capture
) -> None:
    path = workbook("stock-tank")
    type_into(path, "tank", -5.0)
    assert main(["list", str(path), "--json"]) == 0
    said = capsys.readouterr()
    [line] = said.err.splitlines()
    assert line.startswith("tanksheet: stock-tank.xlsx: 'Stock tank'!B")
    assert "(tank) is -5 L; it must be above 0 L" in line
    found = json.loads(said.out)
    assert f"tanksheet: {by_name(found['inputs'])['tank']['fault']}" == line
    assert by_name(found["results"])["mass_1"]["value"] == "#NUM!"
    assert main(["list", str(path)]) == 0
    assert "  tank = -5 L " in capsys.readouterr().out


def test_values_are_worked_out_anew(workbook: GetWorkbook, capsys: Capture) -> None:
    """Not what the file holds from the last time that it was saved: a ratio twice as wide, twice
    the mass."""
    path = workbook("stock-tank")
    first = by_name(listed(path, capsys)["results"])["mass_1"]["value"]
    type_into(path, "ratio", 200.0)
    assert by_name(listed(path, capsys)["results"])["mass_1"]["value"] == pytest.approx(2 * first)


def test_a_users_own_workbook(make_book: MakeBook, capsys: Capture) -> None:
    names = {"volume": "A$1", "volume_unit": "B$1", "doubled": "A$2", "kind": "A$3"}
    path = make_book(
        {"A1": 12, "B1": "L", "A2": "=A1*2", "A3": "wet"},
        {name: f"'{SHEET}'!${place}" for name, place in names.items()},
    )
    found = listed(path, capsys)
    assert found["workbook"] is None
    assert [(each["name"], each["value"], each["unit"]) for each in found["inputs"]] == [
        ("kind", "wet", ""),
        ("volume", 12, "L"),
    ]
    assert [(each["name"], each["value"]) for each in found["results"]] == [("doubled", 24)]


def test_what_cannot_be_listed_is_one_line(
    workbook: GetWorkbook, tmp_path: Path, capsys: Capture
) -> None:
    path = workbook("stock-tank")
    delete_name(path, "tank")
    for file, says in ((path, "'tank'"), (tmp_path / "none.xlsx", "there is no such file")):
        assert main(["list", str(file)]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert said.err.startswith(f"tanksheet: {file.name}: ") and says in said.err
        assert said.err.count("\n") == 1
