"""Hostile and odd workbooks: a clear message, or it simply works; nothing is run.

Whatever happens, memory stays bounded, the user's file keeps its bytes, and no half-written file
is left behind.
"""

from __future__ import annotations

import io
import re
import time
import tracemalloc
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from openpyxl import Workbook

from engines_needed import need
from lambda_files import by_openpyxl, by_xlsxwriter
from package_edits import add_name, edit_part, part_of
from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.hosts.lambdas.names import write_functions
from tanksheet.recalc import ENGINES
from tanksheet.xlsx import refusals
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.markup import Edit, as_utf8, at_the_end_of, edited, tags
from tanksheet.xlsx.reading import BOOK, LINKS, MAIN, TYPES, sheet_names
from tanksheet.xlsx.writing import read_parts, write_parts


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return by_xlsxwriter(tmp_path / "farm.xlsx")


def refused(path: Path, words: str) -> None:
    """One clear sentence or two, and nothing is changed or left behind."""
    before = path.read_bytes()
    files = sorted(path.parent.iterdir())
    with pytest.raises(WorkbookProblem, match=words) as caught:
        write_functions(path)
    assert str(caught.value).startswith(path.name)
    assert "\n" not in str(caught.value)
    assert path.read_bytes() == before
    assert sorted(path.parent.iterdir()) == files


# Files that are no workbooks


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("a.xlsx", b"", "is empty"),
        ("a.xlsx", b"a,b\n1,2\n", "not an .xlsx workbook"),
        ("a.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "locked with a password"),
        ("a.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "save it as .xlsx"),
        ("a.xlsb", b"PK\x03\x04", "only .xlsx and .xlsm"),
        ("a.ods", b"PK\x03\x04", "save it as .xlsx"),
        ("a.csv", b"a,b", "only .xlsx and .xlsm"),
        ("a.xlsx", b"PK\x03\x04" + b"\0" * 50, "damaged or cut short"),
    ],
)
def test_no_workbook(name: str, content: bytes, words: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    refused(path, words)


def test_no_file(tmp_path: Path) -> None:
    with pytest.raises(WorkbookProblem, match="there is no such file"):
        write_functions(tmp_path / "none.xlsx")
    with pytest.raises(WorkbookProblem, match="only .xlsx"):
        write_functions(tmp_path)


@pytest.mark.parametrize("share", [0.3, 0.7, 0.95, 0.999])
def test_cut_short(share: float, farm: Path) -> None:
    content = farm.read_bytes()
    farm.write_bytes(content[: int(len(content) * share)])
    refused(farm, "damaged or cut short")


def test_a_flipped_byte_in_a_part_that_is_only_copied(farm: Path) -> None:
    with zipfile.ZipFile(farm) as parts:
        info = parts.getinfo("xl/media/image1.png")
    content = bytearray(farm.read_bytes())
    content[info.header_offset + 30 + len(info.filename) + 20] ^= 0xFF
    farm.write_bytes(bytes(content))
    refused(farm, "damaged or cut short")


def test_a_zip_of_something_else(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    with zipfile.ZipFile(path, "w") as parts:
        parts.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        parts.writestr("content.xml", "<office/>")
    refused(path, "not an .xlsx workbook")


@pytest.mark.parametrize("missing", [BOOK, TYPES, LINKS])
def test_a_missing_part(missing: str, farm: Path) -> None:
    parts = read_parts(farm.read_bytes())
    del parts[missing]
    farm.write_bytes(write_parts(parts))
    refused(farm, "not an .xlsx workbook|damaged or cut short")


# Zip tricks


def with_part(path: Path, name: str, content: bytes = b"x", kind: int = zipfile.ZIP_STORED) -> None:
    with zipfile.ZipFile(path, "a") as parts:
        parts.writestr(zipfile.ZipInfo(name), content, kind)


@pytest.mark.parametrize(
    "name",
    ["../evil.xml", "/etc/passwd", "xl/../../evil.xml", "..\\evil.xml", "\\evil.xml", "C:evil.xml"],
)
def test_parts_that_lead_outside(name: str, farm: Path) -> None:
    with_part(farm, name)
    refused(farm, "a place outside it.*do not trust")
    assert not (farm.parent.parent / "evil.xml").exists()


@pytest.mark.parametrize("name", [BOOK, "XL/Workbook.xml", "xl\\workbook.xml"])
@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_parts_of_one_name(name: str, farm: Path) -> None:
    with_part(farm, name)
    refused(farm, "two parts called|damaged")


def test_a_zip_bomb(farm: Path) -> None:
    with_part(farm, "xl/media/bomb.bin", bytes(50_000_000), zipfile.ZIP_DEFLATED)
    refused(farm, "no real workbook does; do not trust")


def test_too_much_altogether(farm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each part is plausible, but together they would fill the memory (with a limit of 3 MB)."""
    monkeypatch.setattr(refusals, "MOST_BYTES", 3_000_000)
    for number in range(4):
        with_part(farm, f"xl/media/{number}.bin", bytes(900_000), zipfile.ZIP_DEFLATED)
    refused(farm, "unpacked it would be 4 MB.*the most taken is 3 MB")


def test_a_bomb_that_lies_about_its_size(farm: Path) -> None:
    with_part(farm, "xl/media/bomb.bin", bytes(3_000_000), zipfile.ZIP_DEFLATED)
    content = farm.read_bytes()
    size = (3_000_000).to_bytes(4, "little")
    assert content.count(size) == 2
    farm.write_bytes(content.replace(size, (900).to_bytes(4, "little")))
    refused(farm, "damaged or cut short")


def test_a_locked_part(farm: Path) -> None:
    with zipfile.ZipFile(farm) as parts:
        at = parts.getinfo("xl/theme/theme1.xml").header_offset
    content = bytearray(farm.read_bytes())
    content[at + 6] |= 1
    central = content.rindex(b"xl/theme/theme1.xml") - 46
    content[central + 8] |= 1
    farm.write_bytes(bytes(content))
    refused(farm, "locked with a password")


def test_a_signed_workbook(farm: Path) -> None:
    with_part(farm, "_xmlsignatures/sig1.xml", b"<Signature/>")
    refused(farm, "digitally signed.*remove the signature")


@pytest.mark.parametrize("part", [BOOK, TYPES, LINKS])
def test_a_very_large_list(part: str, farm: Path) -> None:
    """It is refused by its size, before anything in it is read."""
    blank = " ".join(str(number) for number in range(3_100_000))
    edit_part(farm, part, lambda text: f"{text}<!-- {blank} --")
    refused(farm, "has 2. MB, and the most taken is 20 MB")


# XML tricks

DOCTYPES = {
    "laughs": '<!DOCTYPE a [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>',
    "file": '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
    "net": '<!DOCTYPE a SYSTEM "http://127.0.0.1:9/evil.dtd">',
    "parameter": '<!DOCTYPE a [<!ENTITY % p SYSTEM "file:///etc/passwd"> %p;]>',
}


@pytest.mark.parametrize("trick", list(DOCTYPES))
@pytest.mark.parametrize("part", [BOOK, TYPES, LINKS])
def test_document_types(part: str, trick: str, farm: Path) -> None:
    edit_part(farm, part, lambda text: re.sub(r"(<\?xml[^>]*\?>)", rf"\1{DOCTYPES[trick]}", text))
    refused(farm, "declares a document type")


def test_an_entity_in_a_sheet(farm: Path) -> None:
    sheet = part_of(farm, "My farm")
    edit_part(farm, sheet, lambda t: re.sub(r"(<\?xml[^>]*\?>)", rf"\1{DOCTYPES['laughs']}", t))
    refused(farm, "declares a document type")


@pytest.mark.parametrize("part", [BOOK, TYPES, LINKS])
def test_broken_markup(part: str, farm: Path) -> None:
    edit_part(farm, part, lambda text: text[:-20])
    refused(farm, "XML is damaged")


def test_an_encoding_that_packages_do_not_use(farm: Path) -> None:
    edit_part(farm, BOOK, lambda text: text.replace('encoding="UTF-8"', 'encoding="ISO-8859-1"'))
    refused(farm, "encoded as ISO-8859-1")


def test_very_deep_markup(farm: Path) -> None:
    deep = "<extLst>" * 50_000 + "</extLst>" * 50_000
    edit_part(farm, BOOK, lambda text: text.replace("</workbook>", f"{deep}</workbook>"))
    target = write_functions(farm).target
    assert deep.encode() in read_parts(target.read_bytes())[BOOK]


def test_a_sheet_that_leads_nowhere(farm: Path) -> None:
    edit_part(farm, BOOK, lambda text: text.replace('r:id="rId2"', 'r:id="rId99"'))
    refused(farm, "'Hidden' leads to no part")


# Names that collide


@pytest.mark.parametrize(
    ("name", "reference"),
    [
        ("FERT.STOCKMASS", "'My farm'!$A$1"),
        ("fert.stockmass", "'My farm'!$A$1"),
        ("FERT.EC", "_xlfn.LAMBDA(_xlpm.x,_xlpm.x*2)"),
        ("fert_units_factor", "'My farm'!$A$1:$A$9"),
        ("Fert_Units_Factor", "42"),
        ("fert_units_factor", "[1]Tables!$C$2:$C$79"),
    ],
)
def test_a_users_name_like_ours(name: str, reference: str, farm: Path) -> None:
    add_name(farm, name, reference)
    refused(farm, f"(?i){re.escape(name)}.*Name Manager.*nothing was changed")


def test_a_name_of_one_sheet_like_ours(farm: Path) -> None:
    mine = '<definedName name="FERT.EC" localSheetId="0">42</definedName>'
    edit_part(farm, BOOK, lambda text: text.replace("</definedNames>", f"{mine}</definedNames>"))
    refused(farm, "FERT.EC on sheet 'My farm'")


def test_a_table_like_ours(farm: Path) -> None:
    edit_part(farm, "xl/tables/table1.xml", lambda t: t.replace('"Blocks"', '"fert_units_factor"'))
    refused(farm, "a table that is called as one of our names")


def test_a_sheet_like_ours(tmp_path: Path) -> None:
    book = Workbook()
    book.active.title = "Fert_Tables"
    book.active["A1"] = "my own"
    book.create_sheet("fert_tables_2")
    book.save(tmp_path / "farm.xlsx")
    report = write_functions(tmp_path / "farm.xlsx")
    assert report.sheet == "fert_tables_3"
    assert sheet_names(report.target) == ["Fert_Tables", "fert_tables_2", "fert_tables_3"]
    assert write_functions(report.target, force=True).changed == []


def test_parts_and_links_like_ours(farm: Path) -> None:
    parts = read_parts(farm.read_bytes())
    parts["xl/worksheets/FERT_tables.xml"] = b"<mine/>"
    parts[LINKS] = parts[LINKS].replace(b'"rId2"', b'"rIdFert"')
    parts[BOOK] = parts[BOOK].replace(b'"rId2"', b'"rIdFert"')
    farm.write_bytes(write_parts(parts))
    after = read_parts(write_functions(farm).target.read_bytes())
    assert after["xl/worksheets/FERT_tables.xml"] == b"<mine/>"
    assert "xl/worksheets/fert_tables_2.xml" in after
    assert b'Id="rIdFert_2"' in after[LINKS]


# Odd but honest workbooks


def result(path: Path, row: int, sheet: str = "Sheet") -> object:
    need(ENGINES["ironcalc"])
    place = Address(sheet, row, 1)
    with ENGINES["ironcalc"].open(path) as session:
        return session.calculate({}, [place])[place]


def cells_of(path: Path, *formulas: str) -> Path:
    book = Workbook()
    for row, formula in enumerate(formulas, 1):
        book.active.cell(row, 1, formula)
    book.save(path)
    return path


def test_links_to_other_workbooks_stay_and_are_not_followed(tmp_path: Path) -> None:
    path = by_openpyxl(tmp_path / "farm.xlsx")
    after = read_parts(write_functions(path).target.read_bytes())
    before = read_parts(path.read_bytes())
    links = [name for name in before if "externalLink" in name]
    assert len(links) == 2
    assert all(after[name] == before[name] for name in links)
    assert after[BOOK].index(b"<externalReferences>") < after[BOOK].index(b"<definedNames>")


def test_circles(tmp_path: Path) -> None:
    path = cells_of(
        tmp_path / "farm.xlsx", "=FERT.PERCENT(A2)", "=FERT.RATIO(A1)", "=FERT.PERCENT(128)"
    )
    target = write_functions(path).target
    assert result(target, 1) == SheetError.CIRCULAR
    assert result(target, 3) == pytest.approx(0.78125)


def test_very_long_strings(tmp_path: Path) -> None:
    """32,767 characters fill a cell and 8,192 a formula."""
    long_call = "=" + "+".join(["FERT.PERCENT(128)"] * 440)
    word, title = "x" * 32_767, "T" * 31
    path = cells_of(tmp_path / "farm.xlsx", word, "=FERT.ELEMENT(A1,50)", long_call)
    edit_part(path, BOOK, lambda text: text.replace('name="Sheet"', f'name="{title}"'))
    target = write_functions(path).target
    assert result(target, 1, title) == word
    assert result(target, 2, title) == SheetError.NA
    assert result(target, 3, title) == pytest.approx(440 * 0.78125)


@pytest.fixture(scope="module")
def many_calls(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """100,000 rows, each with a call on the number beside it."""
    path = tmp_path_factory.mktemp("many") / "many.xlsx"
    path.write_bytes(package_of_rows(rows_of_calls(100_000)))
    return path


def rows_of_calls(count: int) -> Iterator[str]:
    for row in range(1, count + 1):
        call = f"FERT.STOCKMASS(B{row},15.5,100,200)"
        yield f'<row r="{row}"><c r="A{row}"><f>{call}</f></c><c r="B{row}"><v>{row}</v></c></row>'


def package_of_rows(rows: Iterator[str]) -> bytes:
    stream = io.BytesIO()
    Workbook().save(stream)
    parts = read_parts(stream.getvalue())
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{"".join(rows)}</sheetData></worksheet>'
    parts["xl/worksheets/sheet1.xml"] = sheet.encode()
    return write_parts(parts)


def test_many_calls_within_bounded_memory_and_time(many_calls: Path) -> None:
    """The sheet has some 10 MB; what is held at a time is the packed copy and little more."""
    write_functions(many_calls, force=True)  # what is loaded once is not counted
    unpacked = len(read_parts(many_calls.read_bytes())["xl/worksheets/sheet1.xml"])
    assert unpacked > 9_000_000
    tracemalloc.start()
    start = time.perf_counter()
    target = write_functions(many_calls, force=True).target
    seconds, (_, most) = time.perf_counter() - start, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 4_000_000 + 2 * target.stat().st_size < unpacked
    assert seconds < 30


def test_many_calls_give_the_right_numbers(many_calls: Path) -> None:
    target = write_functions(many_calls, force=True).target
    need(ENGINES["ironcalc"])
    rows = (1, 777, 100_000)
    places = [Address("Sheet", row, 1) for row in rows]
    with ENGINES["ironcalc"].open(target) as session:
        values = session.calculate({}, places)
    # By hand: row mg/L x 100 x 200 L / (15.5 x 10) g.
    assert [values[p] for p in places] == [pytest.approx(row * 20_000 / 155) for row in rows]


# The editor of markup


def test_edits_keep_their_order_and_the_rest() -> None:
    text = b"<a><b x='>'/><c>old</c></a>"
    a, b, c = tags(text)
    edits = [
        Edit(c.start, c.end, "<c>new</c>"),
        Edit(c.start, c.start, "1"),
        Edit(c.start, c.start, "2"),
        at_the_end_of(text, b, "in"),
        at_the_end_of(text, a, "<d/>"),
    ]
    assert edited(text, edits) == b"<a><b x='>'>in</b>12<c>new</c><d/></a>"
    assert edited(text, []) == text


def test_markup_in_utf_16_is_converted() -> None:
    text = '<?xml version="1.0" encoding="UTF-16"?><a b="\u2603"/>'
    for encoding in ("utf-16", "utf-16-be"):
        markup = text.encode(encoding)
        if encoding == "utf-16-be":
            markup = b"\xfe\xff" + markup
        assert as_utf8(markup, "a") == text.replace("UTF-16", "UTF-8").encode()
