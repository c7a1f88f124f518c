"""Every part of every file that the project writes is what ECMA-376 and Excel ask for.

Excel itself is not at hand. ``format_check`` holds the parts against the standard's order and types
of elements, ``excel_limits`` against what Excel asks besides; each is shown to see planted faults.
"""

from __future__ import annotations

import functools
import re
import tempfile
from pathlib import Path

import pytest

import lambda_files
from excel_limits import broken_limits
from format_check import TYPES, faults
from tanksheet.cli import main
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.reading import BOOK, LINKS
from tanksheet.xlsx.writing import read_parts

Parts = dict[str, bytes]
INTO = {"openpyxl": lambda_files.by_openpyxl, "XlsxWriter": lambda_files.by_xlsxwriter}
ADDED = "xl/worksheets/fert_tables.xml"
FIRST, STYLES = "xl/worksheets/sheet1.xml", "xl/styles.xml"


@functools.cache
def made(name: str) -> Parts:
    """The parts of a workbook as ``make`` and ``scripts/build`` write it; "functions" is the list
    of functions that ``addin lambda`` writes."""
    if name in TEMPLATES:
        return read_parts(workbook_bytes(book(name)))
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "functions.xlsx"
        assert main(["addin", "lambda", "--out", str(target)]) == 0
        return read_parts(target.read_bytes())


@pytest.mark.parametrize("name", [*TEMPLATES, "functions"])
def test_every_part_is_as_the_standard_says(name: str) -> None:
    parts = made(name)
    assert {TYPES, BOOK, LINKS, STYLES, FIRST, "docProps/core.xml"} <= parts.keys()
    assert faults(parts) == []


@pytest.mark.parametrize("name", [*TEMPLATES, "functions"])
def test_excel_takes_it_as_it_is(name: str) -> None:
    assert broken_limits(made(name)) == []


def test_charts_are_among_the_parts() -> None:
    parts = {part for name in TEMPLATES for part in made(name)}
    assert {"xl/charts/chart1.xml", "xl/drawings/drawing1.xml", "xl/theme/theme1.xml"} <= parts


def test_what_make_writes_is_what_was_held_against_the_standard(tmp_path: Path) -> None:
    assert main(["make", "acid", "--out", str(tmp_path)]) == 0
    assert read_parts((tmp_path / "acid.xlsx").read_bytes()) == made("acid")


@pytest.mark.parametrize("library", INTO)
def test_a_users_file_with_the_functions_in_it(library: str, tmp_path: Path) -> None:
    """What we changed or added is held against the table; all else is byte for byte as it was."""
    source, target = INTO[library](tmp_path / "farm.xlsx"), tmp_path / "farm-with-fert.xlsx"
    before = read_parts(source.read_bytes())
    assert main(["addin", "lambda", "--into", str(source), "--out", str(target)]) == 0
    after = read_parts(target.read_bytes())
    ours = {name: part for name, part in after.items() if before.get(name) != part}
    assert set(ours) == {TYPES, LINKS, BOOK, ADDED}
    assert faults(ours) == []
    assert broken_limits(after) == broken_limits(before) == []


# what the checks see


def spoiled(parts: Parts, part: str, pattern: str, new: str) -> Parts:
    """The parts with the first match in one of them replaced."""
    text, count = re.subn(pattern, new, parts[part].decode(), count=1, flags=re.DOTALL)
    assert count == 1, f"nothing in {part} looks like {pattern}"
    return {**parts, part: text.encode()}


MARGINS = '<pageMargins left="1" right="1" top="1" bottom="1" header="1" footer="1"/>'
FAULTS: dict[str, tuple[str, str, str, str]] = {
    "order in a sheet": (FIRST, r"(?=<sheetData>)", MARGINS, "out of order"),
    "order in the book": (
        BOOK,
        r"(<sheets>.*</sheets>)(<definedNames>.*</definedNames>)",
        r"\2\1",
        "out of order",
    ),
    "order of styles": (STYLES, r"(<fills.*</fills>)(<borders.*</borders>)", r"\2\1", "out of"),
    "too many": (FIRST, r'(<dimension ref="[^"]*" ?/>)', r"\1\1", "too many"),
    "unknown element": (FIRST, r"(?=<sheetData>)", "<strange/>", "unknown"),
    "unknown attribute": (FIRST, r"<row ", '<row colour="red" ', "does not list"),
    "attribute of a type": (TYPES, r"<Override ", '<Override Note="x" ', "does not list"),
    "missing attribute": (BOOK, r' sheetId="1"', "", "lacks its attribute sheetId"),
    "missing link": (BOOK, r' r:id="rId1"', "", "lacks its attribute r:id"),
    "missing name": (BOOK, r'<definedName name="[^"]*"', "<definedName", "lacks its attribute"),
    "bad number": (BOOK, r'sheetId="1"', 'sheetId="one"', "no uint"),
    "number too large": (FIRST, r'workbookViewId="0"', 'workbookViewId="4294967296"', "no uint"),
    "bad yes or no": (FIRST, r'fitToPage="1"', 'fitToPage="yes"', "no bool"),
    "bad cell": (FIRST, r'<c r="A1"', '<c r="A0"', "no cell"),
    "bad cell beyond the sheet": (FIRST, r'<c r="A1"', '<c r="XFE1"', "no cell"),
    "bad kind of cell": (FIRST, r't="inlineStr"', 't="words"', "which is no {b|n"),
    "bad colour": (STYLES, r'rgb="FF', 'rgb="#FF', "no argb"),
    "words between": (FIRST, r"(?=<sheetData>)", "stray", "holds the words"),
    "grouping of a chart": ("xl/charts/chart1.xml", r"<grouping[^>]*/>", "", "c:lineChart has"),
    "legend": ("xl/charts/chart1.xml", r'legendPos val="r"', 'legendPos val="x"', "which is no"),
    "drawing": ("xl/drawings/drawing1.xml", r"<(\w+:)?clientData ?/>", "", "oneCellAnchor has"),
    "theme": ("xl/theme/theme1.xml", r"<a:lin ", "<a:line ", "a:gradFill has"),
    "date": ("docProps/core.xml", r"2026-01-01T", "01.01.2026 ", "holds the words"),
    "program": ("docProps/app.xml", r"<Application>", "<Strange/><Application>", "ep:Properties"),
    "kind of link": (LINKS, r' Type="[^"]*worksheet"', "", "lacks its attribute Type"),
    "a content type": (TYPES, r"\.styles\+xml", ".style+xml", "styles.xml: its content type"),
    "another root": (STYLES, r"<styleSheet (.*)</styleSheet>", r"<sst \1</sst>", "begins with"),
}


@pytest.mark.parametrize("title", FAULTS)
def test_the_check_of_the_standard_sees(title: str) -> None:
    part, pattern, new, said = FAULTS[title]
    found = faults(spoiled(made("acid"), part, pattern, new))
    assert any(said in each for each in found), found


NAME = '<definedNames><definedName name="'
LONG_CELL = "+".join(["1"] * 4_097)
LIMITS: dict[str, tuple[str, str, str, str]] = {
    "a name like a cell": (BOOK, r"<definedNames>", f'{NAME}nh4">1</definedName>', "cannot be"),
    "a name with a blank": (BOOK, r"<definedNames>", f'{NAME}a b">1</definedName>', "cannot be"),
    "a name twice": (BOOK, r"<definedNames>", f'{NAME}DOSE">1</definedName>', "two of the kind"),
    "a long comment": (
        BOOK,
        r"<definedNames>",
        f'{NAME}x_y" comment="{"x" * 256}">1</definedName>',
        "comment",
    ),
    "a long name": (BOOK, r"<definedNames>", f'{NAME}x_y">{"1" * 7_993}</definedName>', "7993"),
    "a sheet's name": (BOOK, r'<sheet([^>]*) name="[^"]*"', rf'<sheet\1 name="{"x" * 32}"', "xxx"),
    "a sheet's sign": (BOOK, r'<sheet([^>]*) name="[^"]*"', r'<sheet\1 name="a/b"', "a/b"),
    "a sheet's link": (BOOK, r'r:id="rId1"', 'r:id="rId99"', "no link of this part"),
    "a part that is gone": (LINKS, r"styles\.xml", "styled.xml", "not there"),
    "a long formula": (FIRST, r"<f>[^<]*</f>", f"<f>{LONG_CELL}</f>", "8193 characters"),
    "a deep formula": (FIRST, r"<f>[^<]*</f>", f"<f>{'(' * 65}1{')' * 65}</f>", "65 levels"),
    "a style": (FIRST, r'<c r="A1" s="\d+"', '<c r="A1" s="999"', "has style 999"),
    "a string": (
        FIRST,
        r'<c r="A1"([^>]*) t="inlineStr"><is>.*?</is>',
        r'<c r="A1"\1 t="s"><v>0</v>',
        "shared string 0",
    ),
    "a conditional look": (FIRST, r'dxfId="\d+"', 'dxfId="99"', "dxfId 99"),
    "a format": (STYLES, r'<numFmt numFmtId="164"', '<numFmt numFmtId="163"', "numFmtId 164"),
    "a font": (STYLES, r'(<xf [^>]*fontId=")\d+', r"\g<1>99", "fontId 99"),
    "a count": (STYLES, r'<fonts count="\d+"', '<fonts count="1"', "fonts says"),
    "a column": (FIRST, r'<col width="\d+"', '<col width="256"', "256 wide"),
    "a row": (FIRST, r'ht="24"', 'ht="410"', "410 high"),
    "a row out of order": (FIRST, r'<row r="2"', '<row r="1"', "out of order"),
    "a merged range": (
        FIRST,
        r'<mergeCell ref="([A-Z]+\d+):([^"]*)" ?/>',
        r'\g<0><mergeCell ref="\1:\1"/>',
        "overlaps",
    ),
    "a prompt": (FIRST, r' prompt="', f' prompt="{"x" * 256}', "its prompt has"),
    "an error message": (FIRST, r' error="', f' error="{"x" * 226}', "its error has"),
    "a rule's title": (FIRST, r' promptTitle="', f' promptTitle="{"x" * 33}', "its promptTitle"),
    "a rule's list": (
        FIRST,
        r'(type="list"[^>]*><formula1>").*?"<',
        r"\g<1>" + "x" * 256 + '"<',
        "a rule has 256",
    ),
}


@pytest.mark.parametrize("title", LIMITS)
def test_the_check_of_excels_limits_sees(title: str) -> None:
    part, pattern, new, said = LIMITS[title]
    found = broken_limits(spoiled(made("acid"), part, pattern, new))
    assert any(said in each for each in found), found


def test_what_stands_at_a_limit_is_taken() -> None:
    name = f'{NAME}x_y">"{"1" * 7_990}"</definedName>'
    parts = spoiled(made("acid"), BOOK, r"<definedNames>", name)
    parts = spoiled(parts, FIRST, r'ht="24"', 'ht="409"')
    parts = spoiled(parts, FIRST, r"<f>[^<]*</f>", f"<f>{'(' * 64}1{')' * 64}</f>")
    assert broken_limits(parts) == []
