"""Names and sheets read from files, and files that are no workbooks."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from small_cells import SHEET, MakeBook, at
from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.reading import named_cells, sheet_names

WORKBOOK = (
    '<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">'
    '<sheets><sheet name="Mix" sheetId="1" r:id="rId1"/></sheets>{}</workbook>'
)
OTHERS = {
    "xl/_rels/workbook.xml.rels": '<Relationships><Relationship Id="rId1" Target="a.xml"/>'
    "</Relationships>",
    "xl/a.xml": "<worksheet><sheetData/></worksheet>",
    "[Content_Types].xml": "<Types/>",
}


def zipped(path: Path, **parts: str) -> Path:
    """A file with these parts, and with what a workbook of one sheet needs besides."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, text in parts.items():
            file.writestr(name.replace("__", "/") + ".xml", text)
        for name, text in OTHERS.items():
            file.writestr(name, text)
    return path


def test_names_of_cells_and_rectangles(make_book: MakeBook) -> None:
    path = make_book(
        {"A1": 1},
        names={
            "target_n": f"'{SHEET}'!$B$12",
            "grid": "Mix!$B$3:$A$2",
            "quoted": "'Grower''s \"best\" mix'!$A$1",
            "other_case": "'STOCK tank'!$AA$1",
        },
        more={"Mix": {}, 'Grower\'s "best" mix': {}},
    )
    assert {name: list(cells) for name, cells in named_cells(path).items()} == {
        "target_n": [at("B12")],
        "grid": [Address("Mix", r, c) for r, c in ((2, 1), (2, 2), (3, 1), (3, 2))],
        "quoted": [Address('Grower\'s "best" mix', 1, 1)],
        "other_case": [Address(SHEET, 1, 27)],
    }
    assert sheet_names(path) == [SHEET, "Mix", 'Grower\'s "best" mix']


@pytest.mark.parametrize(
    "reference",
    [
        "_xlfn.LAMBDA(_xlpm.a,_xlpm.a*2)",
        "5",
        '"text"',
        "#REF!",
        f"'{SHEET}'!#REF!",
        f"'{SHEET}'!$A$1+1",
        f"SUM('{SHEET}'!$A$1:$A$2)",
        f"'{SHEET}'!$A$1,'{SHEET}'!$A$3",
        f"'{SHEET}'!A1",
        f"'{SHEET}'!$A:$A",
        f"'{SHEET}'!$XFE$1",
        f"'{SHEET}'!$A$1048577",
        "'No such sheet'!$A$1",
        "[1]Mix!$A$1",
        "'[other.xlsx]Mix'!$A$1",
    ],
)
def test_names_of_anything_else_are_left_out(make_book: MakeBook, reference: str) -> None:
    path = make_book({"A1": 1}, names={"odd": reference, "good": f"'{SHEET}'!$A$1"})
    assert {name: list(cells) for name, cells in named_cells(path).items()} == {"good": [at("A1")]}


def test_a_name_of_a_whole_sheet_is_kept_by_its_corners(make_book: MakeBook) -> None:
    path = make_book({"A1": 1}, names={"all": f"'{SHEET}'!$A$1:$XFD$1048576"})
    cells = named_cells(path)["all"]
    assert len(cells) == 2**34
    assert (cells[0], cells[16_384], cells[-1]) == (at("A1"), at("A2"), at("XFD1048576"))
    assert at("B7") in cells and Address("Mix", 1, 1) not in cells


def test_hidden_built_in_and_sheet_names_are_left_out(tmp_path: Path) -> None:
    marks = ("", ' hidden="1"', ' localSheetId="0"')
    names = [
        f'<definedName name="n{i}"{mark}>Mix!$A$1</definedName>' for i, mark in enumerate(marks)
    ]
    names.append('<definedName name="_xlnm.Print_Area">Mix!$A$1</definedName>')
    made = WORKBOOK.format(f"<definedNames>{''.join(names)}</definedNames>")
    assert list(named_cells(zipped(tmp_path / "a.xlsx", xl__workbook=made))) == ["n0"]


@pytest.mark.parametrize(
    ("address", "text"),
    [
        (Address("Stock tank", 12, 2), "'Stock tank'!B12"),
        (Address("Mix", 1, 16384), "Mix!XFD1"),
        (Address("Grower's", 1, 27), "'Grower''s'!AA1"),
        (Address("A1", 1, 26), "'A1'!Z1"),
        (Address("2024", 1, 1), "'2024'!A1"),
        (Address("R1C1", 1, 1), "'R1C1'!A1"),
    ],
)
def test_addresses_as_text(address: Address, text: str) -> None:
    assert address.a1 == str(address) == text


def test_addresses_outside_a_sheet() -> None:
    for row, column in ((0, 1), (1, 0), (1_048_577, 1), (1, 16_385)):
        with pytest.raises(WorkbookProblem, match="is outside a sheet"):
            Address("Mix", row, column)


def test_addresses_sort_by_sheet_row_column() -> None:
    assert sorted([at("B2"), at("A2"), at("C1")]) == [at("C1"), at("A2"), at("B2")]


def bad_file(kind: str, folder: Path, book: Path) -> Path:
    path = folder / "bad.xlsx"
    if kind == "folder":
        path.mkdir()
    elif kind == "truncated":
        path.write_bytes(book.read_bytes()[:-200])
    elif kind == "flipped":
        data = bytearray(book.read_bytes())
        spot = data.index(b"xl/workbook.xml") + 40
        data[spot : spot + 60] = bytes(60)
        path.write_bytes(data)
    elif kind == "doctype":
        entity = '<!DOCTYPE workbook [<!ENTITY a "aaaa">]>'
        zipped(path, xl__workbook=entity + WORKBOOK.format(""))
    elif kind in WRITTEN:
        path.write_bytes(WRITTEN[kind])
    elif kind in ZIPPED:
        zipped(path, **ZIPPED[kind])
    return path


WRITTEN = {
    "text": b"target_n,150\n",
    "empty": b"",
    "old": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600),
    "start": b"PK\x03\x04",
}
ZIPPED = {
    "other zip": {"content": "<a/>"},
    "not xml": {"xl__workbook": "<workbook"},
    "no sheets": {"xl__workbook": "<workbook/>"},
    "bomb": {"xl__workbook": WORKBOOK.format(""), "xl__bomb": " " * 30_000_000},
}


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("missing", "there is no such file"),
        ("folder", "this is a folder"),
        ("text", "this is not an .xlsx workbook"),
        ("empty", "the file is empty"),
        ("old", "this is an old .xls workbook or one locked with a password"),
        ("start", "the file is damaged or cut short"),
        ("truncated", "the file is damaged or cut short"),
        ("flipped", "the file is damaged or cut short"),
        ("other zip", "this is a zip file but not an .xlsx workbook"),
        ("not xml", "the workbook's XML is damaged"),
        ("no sheets", "the workbook has no sheets"),
        ("doctype", "its XML declares a document type"),
        ("bomb", "xl/bomb.xml would unpack to 30 MB"),
    ],
)
def test_bad_files(kind: str, said: str, tmp_path: Path, make_book: MakeBook) -> None:
    path = bad_file(kind, tmp_path, make_book({"A1": 1}))
    with pytest.raises(WorkbookProblem) as caught:
        named_cells(path)
    assert str(caught.value).startswith(f"bad.xlsx: {said}")
    assert "\n" not in str(caught.value)


def test_a_huge_file_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tanksheet.xlsx.refusals.MOST_BYTES", 1_000)
    path = zipped(tmp_path / "a.xlsx", xl__workbook=WORKBOOK.format(""), big="x" * 2_000)
    with pytest.raises(WorkbookProblem, match=r"^a\.xlsx: unpacked it would be"):
        named_cells(path)
