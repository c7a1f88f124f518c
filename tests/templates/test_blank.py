"""Workbooks without their examples: nothing typed in, nothing judged well, all of it working."""

from __future__ import annotations

from pathlib import Path

import pytest

from engines_needed import need
from package_edits import GetPackage
from tanksheet.cli import main
from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES, differences
from tanksheet.sheets.blank import without_example
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.refreshed import formula_cells
from tanksheet.sheets.run import run
from tanksheet.sheets.verify import verify
from tanksheet.templates import TEMPLATES, book
from tanksheet.templates.blanks import GOES, STAYS, blank_book
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values
from tanksheet.xlsx.writing import first_difference, read_parts

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


@pytest.mark.parametrize("name", TEMPLATES)
def test_it_holds_nothing_of_the_example(name: str, tmp_path: Path, capsys: Capture) -> None:
    assert main(["make", name, "--blank", "--out", str(tmp_path)]) == 0
    path, plan = tmp_path / f"{name}.xlsx", book(name)
    package = Package(path)
    cells = {key: list(entry.cells) for key, entry in plan.entries.items()}
    held = stored_values(package, [cell for each in cells.values() for cell in each])
    for key, entry in plan.entries.items():
        values = [held[cell] for cell in cells[key]]
        kept = [value for value in values if value not in (None, "")]
        if key in STAYS.get(name, ()):
            assert values == list(entry.default), key
        elif key.endswith(("_unit", "_units")):
            assert set(values) == {entry.default[0]}, key
        elif entry.single and entry.words and not entry.optional and key not in GOES.get(name, ()):
            assert values == list(entry.default), key
        else:
            assert set(kept) <= {0.0}, key
    results = [f for f in plan.formulas.values() if f.name and f.name not in plan.hidden]
    shown = stored_values(package, [each.cell for each in results])
    assert [f"{cell.a1}: {v}" for cell, v in shown.items() if str(v).startswith("pass")] == []
    # What the file shows is what a spreadsheet works out.
    places = formula_cells(package)
    with ENGINES["ironcalc"].open(path) as session:
        assert differences(session.calculate({}, places), stored_values(package, places)) == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_it_is_the_same_workbook(name: str, tmp_path: Path, package_of: GetPackage) -> None:
    """It verifies against the same plan, asks for what it needs, and no other part has changed."""
    main(["make", name, "--blank", "--out", str(tmp_path)])
    path, plan = tmp_path / f"{name}.xlsx", book(name)
    [checked] = verify(path, plan, ["ironcalc"], 2, edges=False)
    assert checked.verdict == "agrees"
    blank, full = read_parts(path.read_bytes()), read_parts(package_of(name))
    assert blank.keys() == full.keys()
    for part in blank.keys() - {"xl/sharedStrings.xml"}:
        assert part.startswith("xl/worksheets/") or blank[part] == full[part], part
    if name not in ("water-report", "zone-flow", "ratio-table"):
        with pytest.raises(WorkbookProblem, match=r"is blank; it must be"):
            run(path, plan, {})


def test_a_water_report_may_stay_blank(tmp_path: Path) -> None:
    """All of its lines are optional, and nothing of a blank one is judged."""
    main(["make", "water-report", "--blank", "--out", str(tmp_path)])
    found = run(tmp_path / "water-report.xlsx", book("water-report"), {})
    words = [value for value in found.values() if isinstance(value, str) and ":" in value]
    assert words and not [each for each in words if each.startswith(("pass", "stop", "caution"))]


def test_it_can_be_filled(tmp_path: Path) -> None:
    """With the example typed in again it gives what the example gives."""
    main(["make", "acid", "--blank", "--out", str(tmp_path)])
    plan = book("acid")
    typed = {
        key: entry.default[0] if entry.single else list(entry.default)
        for key, entry in plan.entries.items()
    }
    filled = run(tmp_path / "acid.xlsx", plan, typed, ["dose"])["dose"]
    assert filled == pytest.approx(evaluate(plan, {})["dose"], rel=1e-12)


def test_it_is_built_alike_and_never_over_a_file(tmp_path: Path, capsys: Capture) -> None:
    for folder in ("a", "b"):
        assert main(["make", "ratio-table", "--blank", "--out", str(tmp_path / folder)]) == 0
    one, other = ((tmp_path / each / "ratio-table.xlsx") for each in "ab")
    assert one.read_bytes() == other.read_bytes()
    assert first_difference(one.read_bytes(), other.read_bytes()) is None
    one.write_text("mine")
    assert main(["make", "ratio-table", "--blank", "--out", str(tmp_path / "a")]) == 2
    assert "is there already; say --force to replace it" in capsys.readouterr().err
    assert one.read_text() == "mine"


def test_what_stays_is_in_the_plans() -> None:
    """Else a renamed entry would lose its constant without a word."""
    for table in (STAYS, GOES):
        for name, keys in table.items():
            assert set(keys) <= book(name).entries.keys()
    with pytest.raises(KeyError):
        without_example(book("acid"), ["no_such_entry"])
    for name in TEMPLATES:
        assert blank_book(name).entries.keys() == book(name).entries.keys()
