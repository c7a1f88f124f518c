"""``tanksheet compare``: what differs between files of one workbook, side by side."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from openpyxl import load_workbook

from engines_needed import need
from package_edits import GetPackage, cells_of, type_into
from small_cells import SHEET, MakeBook
from tanksheet.cli import main
from tanksheet.recalc import ENGINES, convert
from tanksheet.sheets.contents import files_apart
from tanksheet.sheets.run import run
from tanksheet.templates import book
from tanksheet.xlsx.writing import first_difference, read_parts

Capture = pytest.CaptureFixture[str]
DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
TEXT = "{http://schemas.openxmlformats.org/drawingml/2006/main}"


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


@pytest.fixture
def three(tmp_path: Path, package_of: GetPackage) -> list[Path]:
    """The same tank, one with twice the ratio, one with the first tank in other units."""
    paths = [tmp_path / f"{name}.xlsx" for name in ("first", "wide", "litres")]
    for path in paths:
        path.write_bytes(package_of("stock-tank"))
        type_into(path, "tank", 200.0)
        type_into(path, "ratio", 100.0)
    type_into(paths[1], "ratio", 200.0)
    type_into(paths[2], "tank", 0.2)
    type_into(paths[2], "tank_unit", "m3")
    return paths


def compared(paths: list[Path], capsys: Capture) -> dict[str, Any]:
    assert main(["compare", *map(str, paths), "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def refused(arguments: list[str], capsys: Capture) -> str:
    assert main(arguments) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1
    return said.err


def by_name(lines: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {each["name"]: each for each in lines}


def test_what_differs(three: list[Path], capsys: Capture) -> None:
    """By hand: at twice the ratio the stock is twice as strong and half as much is drawn. The same
    volume in another unit is no difference."""
    before = [path.read_bytes() for path in three]
    found = compared(three, capsys)
    assert found["files"] == [path.name for path in three]
    inputs, results = by_name(found["inputs"]), by_name(found["results"])
    assert list(inputs) == ["ratio"]
    assert inputs["ratio"]["values"] == [100, 200, 100]
    assert inputs["ratio"]["percent"] == [None, 100, None]
    mass = results["mass_1"]["values"]
    assert mass == [mass[0], pytest.approx(2 * mass[0]), pytest.approx(mass[0])]
    assert results["mass_1"]["units"] == ["g"] * 3
    drawn = results["stock_per_hour"]["percent"]
    assert drawn == [None, pytest.approx(-50), None]
    expected = run(three[1], book("stock-tank"), {})
    assert {name: each["values"][1] for name, each in results.items()} == {
        name: expected[name] for name in results
    }
    assert "target_1" not in inputs and "delivered_n" not in results
    assert found["same"]["inputs"] > 20 and found["same"]["results"] > 5
    assert [path.read_bytes() for path in three] == before


def test_for_people(three: list[Path], capsys: Capture) -> None:
    assert main(["compare", *map(str, three[:2])]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"{book('stock-tank').title}: first.xlsx | wide.xlsx"
    [ratio] = [line for line in lines if line.startswith("  ratio ")]
    assert ratio.split() == "ratio 1:100 1:200 (+100 %) Injector setting".split()
    heads = next(line for line in lines if line.split() == ["first.xlsx", "wide.xlsx"])
    assert heads.index("wide.xlsx") == ratio.index("1:200"), "side by side"
    assert "Inputs: 1 differs, " in "\n".join(lines)
    long = lines.index("  card_1")
    assert lines[long + 1].startswith("      first.xlsx: Product 1: weigh ")
    assert lines[long + 2].startswith("      wide.xlsx: Product 1: weigh ")


def test_files_that_are_alike(three: list[Path], capsys: Capture) -> None:
    found = compared([three[0], three[0]], capsys)
    assert (found["inputs"], found["results"]) == ([], [])
    assert main(["compare", str(three[0]), str(three[0])]) == 0
    out = capsys.readouterr().out
    assert "Inputs: none differ, " in out and "Results: none differ, " in out


def test_rows_of_tables_and_blanks(tmp_path: Path, package_of: GetPackage, capsys: Capture) -> None:
    """A blank is not zero; a row is told by its number, and one unit for all rows counts."""
    paths = [tmp_path / f"{name}.xlsx" for name in "ab"]
    for path in paths:
        path.write_bytes(package_of("zone-flow"))
    type_into(paths[1], "bucket_time", 30.0)
    type_into(paths[0], "stroke_count", None)
    type_into(paths[1], "stroke_count", 0.0)
    found = by_name(compared(paths, capsys)["inputs"])
    first = book("zone-flow").entries["bucket_time"].default[0]
    assert list(found) == ["bucket_time[1]", "stroke_count"]
    assert found["bucket_time[1]"]["values"] == [first, 30]
    assert found["bucket_time[1]"]["units"] == ["s", "s"]
    assert found["stroke_count"]["values"] == [None, 0]


def test_a_table_with_a_unit_in_each_row(make_book: MakeBook, capsys: Capture) -> None:
    """In people's own workbooks: 2 kg and 2,000 g are the same."""
    names = {"amounts": "A$1:$A$3", "amount_units": "B$1:$B$3", "kind": "C$1", "total": "D$1"}
    places = {name: f"'{SHEET}'!${place}" for name, place in names.items()}
    cells: dict[str, object] = {"A1": 2, "A2": 5, "B1": "kg", "B2": "g", "C1": "Dry"}
    one = make_book({**cells, "D1": "=A1+A2"}, places, file="one.xlsx")
    cells |= {"A1": 2000, "B1": "g", "A2": 6, "C1": "dry", "D1": "=A1*A2"}
    other = make_book(cells, {k: v for k, v in places.items() if k != "kind"}, file="two.xlsx")
    found = compared([one, other], capsys)
    inputs = by_name(found["inputs"])
    assert inputs["amounts[2]"]["values"] == [5, 6]
    assert inputs["amounts[2]"]["units"] == ["g", "g"]
    assert inputs["kind"]["values"] == ["Dry", "(not there)"]
    assert list(inputs) == ["amounts[2]", "kind"]
    assert by_name(found["results"])["total"]["values"] == [7, 12000]


def test_other_workbooks_are_refused(
    three: list[Path], tmp_path: Path, package_of: GetPackage, make_book: MakeBook, capsys: Capture
) -> None:
    acid = tmp_path / "acid.xlsx"
    acid.write_bytes(package_of("acid"))
    line = refused(["compare", str(three[0]), str(acid)], capsys)
    assert "first.xlsx is stock-tank and acid.xlsx is acid; only files of one workbook" in line
    own = make_book({"A1": 1}, {"a": f"'{SHEET}'!$A$1"}, file="own.xlsx")
    line = refused(["compare", str(three[0]), str(own)], capsys)
    assert "own.xlsx is no workbook of Tanksheet" in line
    assert "name two workbook files or more" in refused(["compare", str(acid)], capsys)
    type_into(three[1], "tank", -1.0)
    line = refused(["compare", *map(str, three)], capsys)
    assert line.startswith("tanksheet: wide.xlsx: 'Stock tank'!") and "(tank) is -1 L" in line
    type_into(three[1], "mass_1", 1.0)
    assert "(mass_1) has lost its formula" in refused(["compare", *map(str, three)], capsys)


def test_files_of_one_name_are_told_apart() -> None:
    paths = [Path(text) for text in ("north/a.xlsx", "south/a.xlsx", "b.xlsx")]
    assert files_apart(paths) == ["north/a.xlsx", "south/a.xlsx", "b.xlsx"]
    assert files_apart([Path("x/a.xlsx"), Path("x/b.xlsx")]) == ["a.xlsx", "b.xlsx"]
    assert files_apart([Path("x/a.xlsx"), Path("x/a.xlsx")]) == ["a.xlsx", "a.xlsx"]


# the workbook


def test_the_workbook_with_its_chart(three: list[Path], tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "comparison.xlsx"
    assert main(["compare", *map(str, three), "--out", str(out)]) == 0
    assert capsys.readouterr().out.startswith(f"wrote {out}\n")
    sheet = load_workbook(out)["Comparison"]
    rows = {str(row[0].value): [cell.value for cell in row] for row in sheet.iter_rows()}
    mass = run(three[0], book("stock-tank"), {}, ["mass_1"])["mass_1"]
    [line] = [row for name, row in rows.items() if name.startswith("mass_1: ")]
    assert line[1] == "g"
    assert line[2:5] == [pytest.approx(mass), pytest.approx(2 * mass), pytest.approx(mass)]
    assert line[5] == pytest.approx(100)
    chart = load_workbook(out)["Chart"]
    assert chart["B1"].value == "first.xlsx"
    assert [chart.cell(2, column).value for column in (2, 3, 4)] in (
        [100, pytest.approx(200), 100],
        [100, pytest.approx(50), 100],
    )


def test_the_chart_has_a_title_and_words_in_its_place(
    three: list[Path], tmp_path: Path, capsys: Capture
) -> None:
    out = tmp_path / "comparison.xlsx"
    main(["compare", *map(str, three), "--out", str(out)])
    parts = read_parts(out.read_bytes())
    drawing = ElementTree.fromstring(parts["xl/drawings/drawing1.xml"])
    [shape] = drawing.iter(f"{DRAWING}cNvPr")
    words = str(shape.get("descr"))
    assert words.startswith("Bars for ") and "first.xlsx being 100 %" in words
    assert "200 % in wide.xlsx, 100 % in litres.xlsx" in words
    chart = ElementTree.fromstring(parts["xl/charts/chart1.xml"])
    titles = [text.text for text in chart.iter(f"{TEXT}t")]
    assert titles == ["Results as a share of first.xlsx (100 %)", "Result", "%"]


def test_other_programs_read_it(three: list[Path], tmp_path: Path, capsys: Capture) -> None:
    """LibreOffice keeps the chart and its title when it saves the file again."""
    need(ENGINES["libreoffice"])
    out = tmp_path / "comparison.xlsx"
    main(["compare", *map(str, three[:2]), "--out", str(out)])
    saved = convert(out, tmp_path / "saved", "xlsx")
    with zipfile.ZipFile(saved) as parts:
        charts = [parts.read(n).decode() for n in parts.namelist() if "charts/chart" in n]
    assert any("Results as a share of first.xlsx" in each for each in charts)
    assert load_workbook(saved)["Comparison"]["A1"].value == "Comparison: Stock tank"


def test_no_chart_where_no_number_differs(
    three: list[Path], tmp_path: Path, capsys: Capture
) -> None:
    out = tmp_path / "comparison.xlsx"
    assert main(["compare", str(three[0]), str(three[0]), "--out", str(out)]) == 0
    words = [cell.value for row in load_workbook(out)["Comparison"].iter_rows() for cell in row]
    assert "No number among the results differs, so there is no chart." in words
    assert not [name for name in read_parts(out.read_bytes()) if "chart" in name]


def test_it_is_built_alike_and_never_over_a_file(
    three: list[Path], tmp_path: Path, capsys: Capture
) -> None:
    out, again = tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    call = ["compare", *map(str, three[:2]), "--out"]
    for each in (out, again):
        assert main([*call, str(each)]) == 0
    capsys.readouterr()
    assert first_difference(out.read_bytes(), again.read_bytes()) is None
    out.write_text("mine")
    assert "is there already; say --force to replace it" in refused([*call, str(out)], capsys)
    assert out.read_text() == "mine"
    line = refused([*call, str(three[0]), "--force"], capsys)
    assert "is one of the files that are read" in line
    assert main([*call, str(out), "--force"]) == 0
    assert cells_of(out) == {}


def test_words_never_become_formulas(tmp_path: Path, make_book: MakeBook, capsys: Capture) -> None:
    """What a file says is shown as it says it."""
    places = {"note": f"'{SHEET}'!$A$1"}
    files = [
        make_book({"A1": text}, places, file=f"{i}.xlsx")
        for i, text in enumerate(("plain", "'=1+1"))
    ]
    type_into(files[1], "note", "=HYPERLINK(1)")
    out = tmp_path / "out.xlsx"
    assert main(["compare", *map(str, files), "--out", str(out)]) == 0
    assert "<f>" not in read_parts(out.read_bytes())["xl/worksheets/sheet1.xml"].decode()
