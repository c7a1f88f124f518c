"""Cells put into a copy: where they belong, every other byte kept, and readable for everybody."""

from __future__ import annotations

import random
import tracemalloc
import zipfile
from pathlib import Path

import pytest
from openpyxl import load_workbook

from engines_needed import need
from sheet_files import one_sheet
from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.xlsx import reading
from tanksheet.xlsx.address import Address, Value, address
from tanksheet.xlsx.completing import named_styles_added
from tanksheet.xlsx.placing import copy_with, placed_parts, write_values
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import computed_cells, stored_values


def placed(path: Path, cells: dict[str, Value]) -> str:
    """The sheet's part after these cells were set."""
    target = path.with_name("copy.xlsx")
    write_values(Package(path), target, {address("Mix", cell): v for cell, v in cells.items()})
    with zipfile.ZipFile(target) as parts:
        return parts.read("xl/worksheets/s0.xml").decode()


@pytest.mark.parametrize(
    ("before", "cells", "after"),
    [
        ("<row r='1'><c r='A1'><v>1</v></c></row>", {"A1": 2.0}, "<row r='1'>{A1=2.0}</row>"),
        ("<row r='1'><c r='B1'/></row>", {"A1": 1.0}, "<row r='1'>{A1=1.0}<c r='B1'/></row>"),
        ("<row r='1'><c r='A1'/></row>", {"B1": 1.0}, "<row r='1'><c r='A1'/>{B1=1.0}</row>"),
        ("<row r='2'/>", {"A2": 1.0, "C2": 2.0}, "<row r='2'>{A2=1.0}{C2=2.0}</row>"),
        ("<row r='2' ></row>", {"A2": 1.0}, "<row r='2' >{A2=1.0}</row>"),
        ("<row r='2'/>", {"A1": 1.0}, '<row r="1">{A1=1.0}</row><row r=\'2\'/>'),
        ("<row r='2'/>", {"A3": 1.0}, '<row r=\'2\'/><row r="3">{A3=1.0}</row>'),
        (
            "<row r='1'/><row r='9'/>",
            {"B4": 1.0, "A4": 2.0, "A10": 3.0},
            "<row r='1'/><row r=\"4\">{A4=2.0}{B4=1.0}</row>"
            "<row r='9'/><row r=\"10\">{A10=3.0}</row>",
        ),
        ("<row><c/><c/></row><row/>", {"B1": 1.0}, "<row><c/>{B1=1.0}</row><row/>"),
        ("<row/><row><c/></row>", {"A2": 1.0}, "<row/><row>{A2=1.0}</row>"),
        ("<row r='1'><c r='C1'/><c/></row>", {"D1": 1.0}, "<row r='1'><c r='C1'/>{D1=1.0}</row>"),
        ("<row r='1'><c r='A1'/></row>", {"A1": None}, "<row r='1'><c r=\"A1\"/></row>"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("size", [1, 7, 1 << 16])
def test_cells_go_where_they_belong(
    before: str,
    cells: dict[str, Value],
    after: str,
    size: int,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Also where the part comes in pieces that end anywhere."""
    monkeypatch.setattr(reading, "PIECE", size)
    markup = placed(one_sheet(tmp_path, before), cells)
    expected = after
    for cell, value in cells.items():
        expected = expected.replace(
            f"{{{cell}={value}}}", f'<c r="{cell}" t="n"><v>{value}</v></c>'
        )
    assert f"<sheetData>{expected}</sheetData>" in markup


@pytest.mark.parametrize("data", ["<sheetData/>", "<sheetData />", "<sheetData></sheetData>"])
def test_a_sheet_without_rows(data: str, tmp_path: Path) -> None:
    markup = placed(one_sheet(tmp_path, "", data=data), {"B2": 1.0, "A3": 2.0})
    rows = (
        '<row r="2"><c r="B2" t="n"><v>1.0</v></c></row>'
        '<row r="3"><c r="A3" t="n"><v>2.0</v></c></row>'
    )
    assert f">{rows}</sheetData>" in markup


def test_a_sheet_without_a_place_for_cells(tmp_path: Path) -> None:
    path = one_sheet(tmp_path, "", data="<sheetViews/>")
    with pytest.raises(WorkbookProblem, match=r"^mix\.xlsx: sheet 'Mix' has no place for cells"):
        placed(path, {"A1": 1.0})


def test_looks_stay_and_all_else_too(tmp_path: Path) -> None:
    tail = '<c r="B1" s="3" cm="1"><f>A1</f><v>7</v></c></row><!-- <c r="A1"/> -->'
    markup = placed(
        one_sheet(tmp_path, f'<row r="1" ht="9"><c r="A1" s="5"><f>1+1</f><v>2</v></c>{tail}'),
        {"A1": "x"},
    )
    kept = '<row r="1" ht="9"><c r="A1" s="5" t="inlineStr"><is><t xml:space="preserve">x</t></is>'
    assert f"{kept}</c>{tail}" in markup


def test_a_style_that_is_no_number(tmp_path: Path) -> None:
    """A quote in it must not end the attribute: what comes behind would be a cell's own facts."""
    row = "<row r='1'><c r='A1' s='1\" t=\"b'/></row>"
    assert "s='1\" t=\"b'" in placed(one_sheet(tmp_path, row), {"A1": 1.0})


VALUES: dict[str, Value] = {
    "A1": 0.1 + 0.2,
    "B1": -1e-300,
    "C1": "text <&> \"'",
    "D1": "",
    "E1": True,
    "F1": SheetError.NA,
    "G1": " spaced ",
    "H1": "_x0041_ and _xyz",
    "B3": "tab\tand line\nend",
    "C7": "\u2603\U0001f9ea",
    "AA7": False,
}


@pytest.mark.parametrize("prefix", ["", "x:"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-be"])
def test_what_is_put_is_read(prefix: str, encoding: str, tmp_path: Path) -> None:
    rows = '<row r="1"><c r="A1"/><c r="C1"><v>5</v></c></row><row r="7"/>'
    path = one_sheet(tmp_path, rows, prefix, encoding)
    inputs = {address("Mix", cell): value for cell, value in VALUES.items()}
    target = tmp_path / "copy.xlsx"
    write_values(Package(path), target, inputs)
    assert stored_values(Package(target), inputs) == inputs
    sheet = load_workbook(target)["Mix"]
    for cell in ("A1", "B1", "C1", "E1", "G1", "B3", "C7", "AA7"):
        assert sheet[cell].value == VALUES[cell]
    assert sheet["F1"].value == "#N/A"
    assert sheet["D1"].value == '=""'


@pytest.mark.parametrize("engine", ["gnumeric", "libreoffice"])
def test_what_is_put_is_read_by_an_engine(engine: str, tmp_path: Path) -> None:
    need(ENGINES[engine])
    target = tmp_path / "copy.xlsx"
    # H1's spelling and a tab are read otherwise by one of them.
    inputs = {address("Mix", c): value for c, value in VALUES.items() if c not in ("H1", "B3")}
    write_values(Package(one_sheet(tmp_path, '<row r="7"/>', "x:")), target, inputs)
    with ENGINES[engine].open(target) as session:
        assert session.calculate({}, list(inputs)) == inputs


def _row(row: int, places: list[tuple[int, int]]) -> str:
    cells = (Address("Mix", *at).cell for at in places if at[0] == row)
    return f'<row r="{row}">' + "".join(f'<c r="{c}"><v>1</v></c>' for c in cells) + "</row>"


def test_many_cells_at_random(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Against a plain table of what must stand where."""
    monkeypatch.setattr(reading, "PIECE", 50)
    chance = random.Random(7)
    for _ in range(30):
        places = sorted({(chance.randint(1, 9), chance.randint(1, 9)) for _ in range(12)})
        rows = "".join(_row(row, places) for row in sorted({row for row, _ in places}))
        inputs: dict[Address, Value] = {
            Address("Mix", chance.randint(1, 11), chance.randint(1, 11)): float(n)
            for n in range(2, 12)
        }
        path, target = one_sheet(tmp_path, rows), tmp_path / "copy.xlsx"
        write_values(Package(path), target, inputs)
        expected = {Address("Mix", *at): 1.0 for at in places} | inputs
        found = {
            Address("Mix", cell.row, cell.column): float(cell.value)
            for row in load_workbook(target)["Mix"].iter_rows()
            for cell in row
            if cell.value is not None
        }
        assert found == expected
        markup = zipfile.ZipFile(target).read("xl/worksheets/s0.xml").decode()
        in_order = [address("Mix", text.split('"')[0]) for text in markup.split('<c r="')[1:]]
        assert in_order == sorted(expected)


def test_memory_does_not_grow_with_the_part(tmp_path: Path) -> None:
    rows = "".join(f'<row r="{i}"><c r="A{i}"><v>{i}</v></c></row>' for i in range(1, 40_001))
    path, target = one_sheet(tmp_path, rows), tmp_path / "copy.xlsx"
    package = Package(path)
    tracemalloc.start()
    write_values(package, target, {Address("Mix", 20_000, 2): 1.0})
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 1_000_000 < package.size("xl/worksheets/s0.xml")


# Results behind formulas


def with_results(path: Path, results: dict[str, Value], inputs: dict[str, Value]) -> Path:
    target, package = path.with_name("copy.xlsx"), Package(path)
    new = {address("Mix", cell): value for cell, value in results.items()}
    given = {address("Mix", cell): value for cell, value in inputs.items()}
    copy_with(package, target, placed_parts(package, given, new))
    return target


@pytest.mark.parametrize(
    ("cell", "value", "after"),
    [
        ("<c r='A1'><f>1+1</f></c>", 2.0, "<c r='A1' t=\"n\"><f>1+1</f><v>2.0</v></c>"),
        ("<c r='A1' t='str' s='4'><f>B1</f><v>old</v></c>", 2.5,
         "<c r='A1' s='4' t=\"n\"><f>B1</f><v>2.5</v></c>"),
        ('<c r="A1" t = "e"><f ca="1">B1</f><v>#N/A</v></c>', "a<b",
         '<c r="A1" t="str"><f ca="1">B1</f><v>a&lt;b</v></c>'),
        ("<c r='A1'><f t='shared' si='0'/><v/></c>", True,
         "<c r='A1' t=\"b\"><f t='shared' si='0'/><v>1</v></c>"),
        ("<c r='A1'><f>B1</f><v>1</v><extLst/></c>", SheetError.NUM,
         "<c r='A1' t=\"e\"><f>B1</f><v>#NUM!</v><extLst/></c>"),
        ("<c r='A1'><f>B1</f><v>1</v></c>", "", "<c r='A1' t=\"str\"><f>B1</f><v></v></c>"),
        ("<c r='A1'><v>7</v></c>", 2.0, "<c r='A1'><v>7</v></c>"),
        ("<c r='A1'/>", 2.0, "<c r='A1'/>"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("size", [1, 9, 1 << 16])
def test_a_result_takes_the_place_of_the_old_one(
    cell: str, value: Value, after: str, size: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "PIECE", size)
    path = one_sheet(tmp_path, f"<row r='1'>{cell}<c r='D1'/></row>")
    target = with_results(path, {"A1": value}, {"C1": 5.0, "A2": 6.0})
    markup = zipfile.ZipFile(target).read("xl/worksheets/s0.xml").decode()
    row = f"<row r='1'>{after}<c r=\"C1\" t=\"n\"><v>5.0</v></c><c r='D1'/></row>"
    assert f'<sheetData>{row}<row r="2">' in markup


def test_an_input_before_a_result_and_one_over_it(tmp_path: Path) -> None:
    row = "<row r='1'><c r='B1'><f>C1</f><v>0</v></c><c r='C1'><f>D1</f><v>0</v></c></row>"
    target = with_results(
        one_sheet(tmp_path, row, "x:", "utf-16"), {"B1": 3.0, "C1": 9.0}, {"A1": 1.0, "C1": 3.0}
    )
    wanted = [address("Mix", cell) for cell in ("A1", "B1", "C1")]
    assert list(stored_values(Package(target), wanted).values()) == [1.0, 3.0, 3.0]
    assert computed_cells(Package(target), wanted) == {address("Mix", "B1")}


# What an engine cannot do without


def test_named_styles_are_added_where_none_are(tmp_path: Path) -> None:
    path = one_sheet(tmp_path, '<row r="1"><c r="A1"/></row>')
    assert not named_styles_added(path)  # no styles at all
    space = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    inside = "<fonts/><cellXfs count='1'><xf/></cellXfs><dxfs/>"
    with zipfile.ZipFile(path, "a") as parts:
        parts.writestr("xl/styles.xml", f'<styleSheet xmlns="{space}">{inside}</styleSheet>')
    assert named_styles_added(path)
    markup = zipfile.ZipFile(path).read("xl/styles.xml").decode()
    assert '</cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0"' in markup
    assert not named_styles_added(path)
    assert sorted(tmp_path.iterdir()) == [path]
