"""A user's own workbook stays as it was, part by part, whoever wrote it."""

from __future__ import annotations

import re
import subprocess
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest
from openpyxl import Workbook

from engines_needed import need
from lambda_files import (
    CALL,
    PRODUCERS,
    SECOND_CALL,
    SHEET,
    by_libreoffice,
    by_openpyxl,
    by_xlsxwriter,
)
from package_edits import BOOK, GetWorkbook, add_name, cells_of, edit_part, replace_once
from tanksheet.errors import WorkbookProblem
from tanksheet.formula import lambda_comment, lambda_text, named_calculations
from tanksheet.hosts.lambdas import data as lambda_data
from tanksheet.hosts.lambdas.names import write_functions
from tanksheet.recalc import ENGINES, convert
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import MAIN, sheet_names
from tanksheet.xlsx.writing import first_difference, read_parts, sheet_parts, write_parts

LINKS, TYPES = "xl/_rels/workbook.xml.rels", "[Content_Types].xml"
DATA = "xl/worksheets/fert_tables.xml"
# By hand: 150 mg/L x 100 x 200 L / (15.5 x 10) g, and 10 US gallons of 3.785411784 L.
WEIGH, LITRES = 150 * 100 * 200 / 155, 37.85411784
OURS = [
    r'<definedName name="(FERT\.|fert_)[^>]*>[^<]*</definedName>',
    r'<sheet xmlns:r="[^"]*" name="fert_tables" sheetId="\d+" state="hidden" r:id="rIdFert"/>',
    r'<Relationship Id="rIdFert" [^>]*/>',
    r'<Override PartName="/xl/worksheets/fert_tables.xml" [^>]*/>',
]


@pytest.fixture(params=list(PRODUCERS))
def farm(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    return PRODUCERS[request.param](tmp_path / "farm.xlsx")


def without_ours(part: bytes, old: bytes) -> bytes:
    """A changed part with what we put in taken out again, as text."""
    text = part.decode()
    for pattern in OURS:
        text = re.sub(pattern, "", text)
    if b"<definedNames" not in old:
        text = text.replace("<definedNames></definedNames>", "")
    if b"fullCalcOnLoad" not in old:
        text = text.replace('<calcPr fullCalcOnLoad="1"/>', "").replace(' fullCalcOnLoad="1"', "")
    return text.encode()


def names_of(path: Path) -> dict[str, tuple[str, str]]:
    """Text and comment of every name of the whole workbook, read by another parser than ours."""
    root = ElementTree.fromstring(read_parts(path.read_bytes())[BOOK])
    return {
        str(e.get("name")): (str(e.text), e.get("comment", ""))
        for e in root.iterfind("./{*}definedNames/{*}definedName")
        if e.get("localSheetId") is None
    }


def assert_all_names(path: Path) -> None:
    names = names_of(path)
    for record in named_calculations().values():
        assert names[record.sheet_name] == (lambda_text(record), lambda_comment(record))
    cells = cells_of(path)
    assert all(len(cells[name]) == len(v) for name, v in lambda_data.columns().items())


def test_only_the_lists_change_and_only_by_what_is_added(farm: Path) -> None:
    before = farm.read_bytes()
    report = write_functions(farm)
    assert farm.read_bytes() == before
    assert report.target.name == "farm-with-fert.xlsx"
    old, new = read_parts(before), read_parts(report.target.read_bytes())
    assert [name for name in new if name not in old] == [DATA]
    assert {name for name in old if old[name] != new[name]} == {BOOK, LINKS, TYPES}
    for part in (BOOK, LINKS, TYPES):
        assert without_ours(new[part], old[part]) == old[part], part
    assert_all_names(report.target)


def test_the_zip_keeps_order_and_dates(farm: Path) -> None:
    report = write_functions(farm)
    with zipfile.ZipFile(farm) as old, zipfile.ZipFile(report.target) as new:
        listed = [(i.filename, i.date_time, i.compress_type) for i in old.infolist()]
        assert [(i.filename, i.date_time, i.compress_type) for i in new.infolist()][:-1] == listed
        assert new.testzip() is None


def test_a_second_time_changes_nothing(farm: Path) -> None:
    first = write_functions(farm).target
    content = first.read_bytes()
    again = write_functions(first, force=True)
    assert (again.target, again.changed) == (first, [])
    assert first_difference(content, first.read_bytes()) is None


def test_names_stand_in_the_alphabet(tmp_path: Path) -> None:
    """Area, then ours, then zone: as the user's own were sorted, all are."""
    report = write_functions(by_xlsxwriter(tmp_path / "farm.xlsx"))
    keys = [name.casefold() for name in names_of(report.target)]
    assert keys == sorted(keys)
    assert (keys[0], keys[-1]) == ("area", "zone")
    assert len(keys) == len(set(keys)) == 2 + len(named_calculations()) + len(lambda_data.columns())


def calculated(path: Path, engine: str) -> list[Value]:
    need(ENGINES[engine])
    places = [Address(SHEET, row, 4) for row in (2, 3, 4)]
    with ENGINES[engine].open(path) as session:
        values = session.calculate({}, places)
    return [values[place] for place in places]


RIGHT = [pytest.approx(WEIGH), pytest.approx(LITRES), pytest.approx(WEIGH + LITRES)]


@pytest.mark.parametrize(
    ("producer", "engine"),
    [
        ("XlsxWriter", "ironcalc"),
        ("XlsxWriter", "formulas"),
        ("LibreOffice", "ironcalc"),
        ("LibreOffice", "formulas"),
        # IronCalc 0.9.1 looks for openpyxl's comments in the wrong folder, before and after.
        ("openpyxl", "formulas"),
    ],
)
def test_the_users_cells_calculate(producer: str, engine: str, tmp_path: Path) -> None:
    report = write_functions(PRODUCERS[producer](tmp_path / "farm.xlsx"))
    assert calculated(report.target, engine) == RIGHT


@pytest.mark.parametrize("engine", ["ironcalc", "formulas"])
def test_cells_of_a_file_by_gnumeric_calculate(engine: str, tmp_path: Path) -> None:
    """Neither engine can read Gnumeric's styles and comments, so the copy gets plain styles, and
    the file has cells only."""
    book = Workbook()
    book.active.title = SHEET
    for row in ([None] * 4, [None, 150, None, f"={CALL}"], [None, 10, None, f"={SECOND_CALL}"]):
        book.active.append(row)
    book.active["D4"] = "=SUM(D2:D3)"
    book.save(tmp_path / "cells.xlsx")
    by_gnumeric_from(tmp_path / "cells.xlsx", tmp_path / "farm.xlsx")
    target = write_functions(tmp_path / "farm.xlsx").target
    parts = read_parts(target.read_bytes()) | {"xl/styles.xml": plain_styles()}
    target.write_bytes(write_parts(parts))
    assert calculated(target, engine) == RIGHT


def plain_styles() -> bytes:
    """As many formats as a cell may ask for, all alike."""
    xf = '<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>'
    fill = '<fill><patternFill patternType="none"/></fill>'
    font = '<font><sz val="11"/><name val="Calibri"/></font>'
    border = "<border><left/><right/><top/><bottom/><diagonal/></border>"
    return (
        f'<styleSheet xmlns="{MAIN}"><fonts count="1">{font}</fonts><fills count="1">{fill}</fills>'
        f'<borders count="1">{border}</borders><cellStyleXfs count="1">{xf}</cellStyleXfs>'
        f'<cellXfs count="99">{xf * 99}</cellXfs><cellStyles count="1">'
        '<cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
    ).encode()


@pytest.mark.parametrize("producer", list(PRODUCERS))
def test_libreoffice_opens_the_copy(producer: str, tmp_path: Path) -> None:
    """The hidden sheet and the names of the data are as good to it as its own."""
    target = write_functions(PRODUCERS[producer](tmp_path / "farm.xlsx")).target
    name = "fert_units_factor"
    places = cells_of(target)[name]
    need(ENGINES["libreoffice"])
    with ENGINES["libreoffice"].open(target) as session:
        values = session.calculate({}, places)
    assert tuple(values[place] for place in places) == lambda_data.columns()[name]


HIDDEN, UNHIDDEN = 'state="hidden" r:id="rIdFert"', 'r:id="rIdFert"'


def older(path: Path) -> None:
    """Turns a file into one of an earlier edition: another body, another figure in the data."""
    edit_part(path, BOOK, lambda text: text.replace("*10),#NUM!)", "*11),#NUM!)"))
    edit_part(path, DATA, lambda text: text.replace("<v>3.785411784</v>", "<v>3.7</v>"))
    edit_part(
        path, BOOK, lambda text: text.replace('state="hidden" r:id="rIdFert"', 'r:id="rIdFert"')
    )


def test_an_earlier_edition_is_brought_up_to_date(tmp_path: Path) -> None:
    first = write_functions(by_xlsxwriter(tmp_path / "farm.xlsx")).target
    fresh = read_parts(first.read_bytes())
    older(first)
    report = write_functions(first, force=True)
    assert "FERT.STOCKMASS" in report.changed
    parts = read_parts(report.target.read_bytes())
    assert {name for name in parts if parts[name] != fresh[name]} == {BOOK}
    shown = parts[BOOK].decode().replace(UNHIDDEN, HIDDEN)
    assert shown.encode() == fresh[BOOK]  # a sheet that the user has unhidden stays so
    assert calculated(report.target, "ironcalc") == RIGHT


def test_a_deleted_name_or_sheet_comes_back(tmp_path: Path) -> None:
    first = write_functions(by_xlsxwriter(tmp_path / "farm.xlsx")).target
    fresh = first.read_bytes()
    edit_part(
        first, BOOK, lambda t: re.sub(r'<definedName name="FERT.EC"[^<]*</definedName>', "", t)
    )
    edit_part(first, BOOK, lambda t: re.sub(r'<sheet [^>]*name="fert_tables"[^>]*/>', "", t))
    edit_part(first, BOOK, lambda t: t.replace("'fert_tables'!", "#REF!"))
    report = write_functions(first, force=True)
    assert sheet_names(report.target) == [SHEET, "Hidden", "fert_tables"]
    assert_all_names(report.target)
    assert names_of(report.target).keys() == {*names_of_package(fresh, tmp_path)}


def names_of_package(package: bytes, folder: Path) -> dict[str, tuple[str, str]]:
    path = folder / "other.xlsx"
    path.write_bytes(package)
    return names_of(path)


@pytest.mark.parametrize("program", ["libreoffice", "gnumeric"])
def test_after_a_round_through_another_program(program: str, tmp_path: Path) -> None:
    """Both programs respell or break LAMBDA names and drop comments; upgrading mends them."""
    treated = write_functions(by_xlsxwriter(tmp_path / "before.xlsx")).target
    saved = tmp_path / "saved.xlsx"
    if program == "libreoffice":
        need(ENGINES["libreoffice"])
        convert(treated, tmp_path / "other", "xlsx").replace(saved)
    else:
        parts = by_gnumeric_from(treated, saved)
        assert "ERROR(" in parts[BOOK].decode()
    report = write_functions(saved)
    assert len(report.changed) >= len(named_calculations())
    assert sheet_names(report.target) == [SHEET, "Hidden", "fert_tables"]
    assert_all_names(report.target)
    if program == "libreoffice":
        assert calculated(report.target, "ironcalc") == RIGHT


def by_gnumeric_from(source: Path, target: Path) -> dict[str, bytes]:
    need(ENGINES["gnumeric"])
    call = ["ssconvert", str(source), str(target)]
    subprocess.run(call, check=True, timeout=60, capture_output=True)
    return read_parts(target.read_bytes())


def test_our_own_workbooks_carry_the_names_already(workbook: GetWorkbook) -> None:
    path = workbook("stock-tank")
    report = write_functions(path)
    assert report.changed == []
    assert first_difference(path.read_bytes(), report.target.read_bytes()) is None
    assert_all_names(path)


def test_a_workbook_of_ours_from_another_edition_says_so(workbook: GetWorkbook) -> None:
    path = workbook("stock-tank")
    part = sheet_parts(read_parts(path.read_bytes()))["Tables"]
    edit_part(path, part, lambda text: text.replace("<v>3.785411784</v>", "<v>3.7</v>"))
    with pytest.raises(WorkbookProblem, match="another edition.*make it afresh"):
        write_functions(path)


def test_macros_are_copied_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "farm.xlsm"
    before = read_parts(by_xlsxwriter(tmp_path / "farm.xlsx").read_bytes())
    kind = b"application/vnd.ms-excel.sheet.macroEnabled.main+xml"
    plain = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
    assert plain in before[TYPES]
    before[TYPES] = before[TYPES].replace(plain, kind)
    before["xl/vbaProject.bin"] = b"\xd0\xcf\x11\xe0 not really macros"
    path.write_bytes(write_parts(before))
    report = write_functions(path)
    assert report.target.name == "farm-with-fert.xlsm"
    assert report.notes[-1] == "its macros were copied as they are, and not run"
    after = read_parts(report.target.read_bytes())
    assert after["xl/vbaProject.bin"] == before["xl/vbaProject.bin"]
    assert kind in after[TYPES]


def test_a_protected_structure_stays_protected(tmp_path: Path) -> None:
    path = by_openpyxl(tmp_path / "farm.xlsx")
    lock = '<workbookProtection workbookPassword="CC1A" lockStructure="1"/>'
    replace_once(path, BOOK, "<workbookPr />", f"<workbookPr />{lock}")
    report = write_functions(path)
    assert report.notes == ["the workbook's structure is protected, and stays so"]
    assert lock.encode() in read_parts(report.target.read_bytes())[BOOK]
    assert calculated(report.target, "formulas") == RIGHT


# Spellings of the same markup that are rare but right (XML 1.0, Namespaces in XML 1.0).


def spelled_otherwise(path: Path, how: str) -> None:
    parts = read_parts(path.read_bytes())
    text = parts[BOOK].decode()
    if how == "prefixes":
        text = re.sub(r"<(/?)([A-Za-z]+)(?=[ >/])", r"<\1x:\2", text).replace("xmlns=", "xmlns:x=")
        links = parts[LINKS].decode().replace("xmlns=", "xmlns:p=")
        parts[LINKS] = re.sub(r"<(/?)(Relationship)", r"<\1p:\2", links).encode()
    elif how == "UTF-16":
        text = re.sub(r"<\?xml[^>]*\?>", "", text)
        parts[BOOK] = f'<?xml version="1.0" encoding="UTF-16"?>{text}'.encode("utf-16")
        path.write_bytes(write_parts(parts))
        return
    elif how == "no names":
        text = re.sub(r"<definedNames>.*</definedNames>", "", text, flags=re.DOTALL)
    elif how == "empty names":
        text = re.sub(r"<definedNames>.*</definedNames>", "<definedNames />", text, flags=re.DOTALL)
    elif how == "no calcPr":
        text = re.sub(r"<calcPr[^>]*/>", "", text)
    elif how == "quotes and signs":
        text = text.replace("<calcPr ", "<!-- <sheets> --><calcPr foo:bar='a > \"b\"' ")
        text = text.replace("<workbook ", "<workbook xmlns:foo='urn:foo' ")
    elif how == "mark":
        parts[BOOK] = b"\xef\xbb\xbf" + text.encode()
        path.write_bytes(write_parts(parts))
        return
    parts[BOOK] = text.encode()
    path.write_bytes(write_parts(parts))


@pytest.mark.parametrize(
    "how",
    ["prefixes", "UTF-16", "no names", "empty names", "no calcPr", "quotes and signs", "mark"],
)
def test_rare_spellings(how: str, tmp_path: Path) -> None:
    path = by_xlsxwriter(tmp_path / "farm.xlsx")
    spelled_otherwise(path, how)
    report = write_functions(path)
    root = ElementTree.fromstring(read_parts(report.target.read_bytes())[BOOK])
    order = [child.tag.rpartition("}")[2] for child in root]
    assert order[-3:] == ["sheets", "definedNames", "calcPr"]
    assert root[-1].get("fullCalcOnLoad") == "1"
    assert_all_names(report.target)
    assert calculated(report.target, "formulas") == RIGHT
    assert write_functions(report.target, force=True).changed == []


def test_the_strict_flavour_is_refused(tmp_path: Path) -> None:
    """ECMA-376 part 1, "strict": other namespaces, which few programs but Excel write."""
    path = by_xlsxwriter(tmp_path / "farm.xlsx")
    strict = "http://purl.oclc.org/ooxml/spreadsheetml/main"
    edit_part(path, BOOK, lambda text: text.replace(MAIN, strict))
    with pytest.raises(WorkbookProblem, match=r"strict flavour.*save it as a plain \.xlsx"):
        write_functions(path)


def test_a_workbook_without_calls_is_not_recalculated(tmp_path: Path) -> None:
    path = by_openpyxl(tmp_path / "farm.xlsx")
    part = sheet_parts(read_parts(path.read_bytes()))[SHEET]
    edit_part(path, part, lambda text: text.replace("FERT.", "OTHER."))
    edit_part(path, BOOK, lambda text: text.replace(' fullCalcOnLoad="1"', ""))
    assert b"fullCalcOnLoad" not in read_parts(write_functions(path).target.read_bytes())[BOOK]


def test_a_users_own_function_beside_ours_is_kept(tmp_path: Path) -> None:
    path = by_xlsxwriter(tmp_path / "farm.xlsx")
    add_name(path, "FERT.MYOWN", "_xlfn.LAMBDA(_xlpm.x,_xlpm.x*2)")
    target = write_functions(path).target
    assert names_of(target)["FERT.MYOWN"] == ("_xlfn.LAMBDA(_xlpm.x,_xlpm.x*2)", "")


def test_a_file_by_libreoffice_is_read_in_its_own_spelling(tmp_path: Path) -> None:
    """It writes the calls in small letters; names know no case, so they still find ours."""
    path = by_libreoffice(tmp_path / "farm.xlsx")
    part = sheet_parts(read_parts(path.read_bytes()))[SHEET]
    assert b"fert.stockmass(" in read_parts(path.read_bytes())[part]
    book = read_parts(write_functions(path).target.read_bytes())[BOOK]
    assert b'fullCalcOnLoad="1"' in book
