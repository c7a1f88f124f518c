"""Cells as a sheet's part holds them: places, types, texts and spellings that the format allows."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheet_files import SPACE, one_sheet
from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.xlsx import elements, values
from tanksheet.xlsx.address import Address, Block, Value
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import blank_numbers, bound_cells, cells, stored_values


def placed(path: Path) -> list[tuple[str, str, str | None]]:
    package = Package(path)
    found = cells(package, package.sheets["Mix"])
    return [(cell.place, cell.kind, cell.text) for cell in found]


def value(path: Path, cell: tuple[int, int] = (1, 1)) -> Value:
    where = Address("Mix", *cell)
    return stored_values(Package(path), [where])[where]


def test_implied_places(tmp_path: Path) -> None:
    """18.3.1.73 and 18.3.1.4: without "r" a row or a cell stands behind the one before it."""
    path = one_sheet(
        tmp_path,
        '<row><c><v>1</v></c><c/><c><v>2</v></c></row><row r="5"><c r="C5"><v>3</v></c>'
        '<c><v>4</v></c><c r="AA5"><v>5</v></c><c><v>6</v></c></row><row><c><v>7</v></c></row>',
    )
    assert placed(path) == [
        *(("A1", "", "1"), ("C1", "", "2")),
        *(("C5", "", "3"), ("D5", "", "4"), ("AA5", "", "5"), ("AB5", "", "6")),
        ("A6", "", "7"),
    ]


@pytest.mark.parametrize("prefix", ["", "x:"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_prefixes_and_encodings(prefix: str, encoding: str, tmp_path: Path) -> None:
    rows = '<row r="1"><c r="A1" t="str"><f>"x"</f><v>\u2603\U0001f9ea</v></c></row>'
    assert value(one_sheet(tmp_path, rows, prefix, encoding)) == "\u2603\U0001f9ea"


def test_elements_of_other_namespaces_are_no_cells(tmp_path: Path) -> None:
    path = one_sheet(
        tmp_path,
        '<row r="1"><c r="A1"><v>1</v><o:v xmlns:o="other">9</o:v></c></row>'
        '<o:row xmlns:o="other" r="1"><o:c r="A1"><o:v>8</o:v></o:c></o:row>',
    )
    assert placed(path) == [("A1", "", "1")]


INLINE = "<c r='A1' t='inlineStr'><is>{}</is></c>"


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        (INLINE.format("<t>plain</t>"), "plain"),
        (INLINE.format("<r><t>in </t></r><r><rPr><b/></rPr><t>runs</t></r>"), "in runs"),
        (INLINE.format("<t>kana</t><rPh sb='0' eb='1'><t>hint</t></rPh>"), "kana"),
        (INLINE.format(""), ""),
        (INLINE.format("<t>a</t>").replace("</is>", "</is><v>9</v>"), "a"),
        ("<c r='A1' t='inlineStr'><v>9</v><is><t>a</t></is></c>", "a"),
        ("<c r='A1' t='s'><v>0</v></c>", "first"),
        ("<c r='A1' t='s'><v> 1 </v></c>", "in runs"),
        ("<c r='A1' t='s'><v>2</v></c>", "base"),
        ("<c r='A1' t='s'><v>3</v></c>", ""),
        ("<c r='A1' t='s'><v>4</v></c>", "A\t<&>_x0041_"),
        ("<c r='A1' t='s'/>", None),
        ("<c r='A1' t='b'><v>1</v></c>", True),
        ("<c r='A1' t='b'><v>0</v></c>", False),
        ("<c r='A1' t='e'><v>#DIV/0!</v></c>", SheetError.DIV),
        ("<c r='A1' t='e'><v>#ODD!</v></c>", SheetError.UNKNOWN),
        ("<c r='A1'><v>1e-300</v></c>", 1e-300),
        ("<c r='A1'><v>1e999</v></c>", SheetError.NUM),
        ("<c r='A1'><f>B1</f></c>", ""),
        ("<c r='A1' t='str'><f>B1</f><v/></c>", ""),
        ("<c r='A1' s='0'/>", None),
        ("", None),
    ],
)
def test_values_of_every_type(cell: str, expected: Value, tmp_path: Path) -> None:
    strings = (
        "<si><t>first</t></si><si><r><t>in </t></r><r><t>runs</t></r></si>"
        "<si><t>base</t><rPh sb='0' eb='1'><t>hint</t></rPh></si><si/>"
        "<si><t>_x0041_\t&lt;&amp;&gt;_x005F_x0041_</t></si>"
    )
    found = value(one_sheet(tmp_path, f"<row r='1'>{cell}</row>", strings=strings))
    assert found == expected and type(found) is type(expected)


@pytest.mark.parametrize(
    ("cell", "says"),
    [
        ("<c r='A1' t='s'><v>5</v></c>", "Mix!A1 holds 'text number 5', which leads to no value"),
        ("<c r='A1' t='s'><v>-1</v></c>", "Mix!A1 holds '-1', which leads to no value"),
        ("<c r='A1' t='s'><v>x</v></c>", "Mix!A1 holds 'x', which leads to no value"),
        (f"<c r='A1' t='s'><v>{'9' * 5000}</v></c>", "Mix!A1 holds '999"),
        ("<c r='A1'><v>twelve</v></c>", "Mix!A1 holds 'twelve', which leads to no value"),
        ("<c r='1A'><v>1</v></c>", "'1A' is not the address of a cell"),
        ("<c r='A12345678'><v>1</v></c>", "'A12345678' is not the address of a cell"),
    ],
)
def test_cells_of_no_use(cell: str, says: str, tmp_path: Path) -> None:
    path = one_sheet(tmp_path, f"<row r='1'>{cell}</row>", strings="<si><t>a</t></si>")
    with pytest.raises(WorkbookProblem, match=r"^mix\.xlsx: ") as caught:
        value(path)
    assert says in str(caught.value)


def test_the_strings_are_found_by_their_link(tmp_path: Path) -> None:
    cell = "<row r='1'><c r='A1' t='s'><v>0</v></c></row>"
    path = one_sheet(tmp_path, cell, strings="<si><t>a</t></si>", strings_part="xl/Words.xml")
    assert value(path) == "a"


def test_bound_cells(tmp_path: Path) -> None:
    path = one_sheet(
        tmp_path,
        '<row r="1"><c r="B1"><f t="array" ref="B1:C3">1</f></c>'
        '<c r="D1"><f t="shared" ref="D1:D9" si="0">A1</f></c><c><f t="shared" si="0"/></c></row>',
    )
    assert bound_cells(Package(path)) == {
        "Mix": [
            Block(Address("Mix", 1, 2), Address("Mix", 3, 3)),
            Block(Address("Mix", 1, 4), Address("Mix", 1, 4)),
        ]
    }


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_blank_numbers_are_those_that_say_so(encoding: str, tmp_path: Path) -> None:
    rows = (
        '<row r="1"><c r="A1" t="n"/><c r="B1" s="0"/><c r="C1" t="n"><v>1</v></c>'
        '<c r="D1" t="n"><f>1</f></c><c t="n"><v/></c></row>'
    )
    package = Package(one_sheet(tmp_path, rows, encoding=encoding))
    assert blank_numbers(package) == [Address("Mix", 1, 1), Address("Mix", 1, 5)]


def test_a_formula_for_no_cells(tmp_path: Path) -> None:
    rows = '<row r="1"><c r="A1"><f t="array" ref="A1:XFD9999999">1</f></c></row>'
    with pytest.raises(WorkbookProblem, match=r"^mix\.xlsx: Sheet Mix"):
        bound_cells(Package(one_sheet(tmp_path, rows)))


# Bounds, each brought down so that a small file passes it


@pytest.mark.parametrize(
    ("where", "bound", "most", "says"),
    [
        (elements, "MOST_ELEMENTS", 20, "more elements than are taken"),
        (elements, "DEEPEST", 4, "more than 4 elements in each other"),
        (elements, "MOST_WORDS", 8, "more than 8 different names"),
        (elements, "LONGEST_TAG", 200, "a tag of more than 200 bytes"),
        (elements, "LONGEST_TEXT", 50, "a text of more than 50 characters"),
        (elements, "MOST_TEXT", 60, "more than 60 characters of text"),
        (values, "MOST_FOUND", 2, "more than 2 formulas that serve several cells"),
    ],
)
def test_bounds(
    where: object, bound: str, most: int, says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = {
        "LONGEST_TEXT": f"<c t='str'><v>{'x' * 51}</v></c>",
        "MOST_TEXT": f"<c t='str'><v>{'x' * 31}</v></c>" * 2,
        "LONGEST_TAG": f"<!-- {'x' * 200_000} -->",
        "MOST_FOUND": "<c><f t='array' ref='A1'>1</f></c>" * 3,
        "MOST_WORDS": "".join(f"<a{i}/>" for i in range(9)),
        "DEEPEST": "<a>" * 3 + " " * 200_000 + "</a>" * 3,
    }.get(bound, "<c/>" * 20)
    package = Package(one_sheet(tmp_path, f"<row r='1'>{rows}</row>"))
    monkeypatch.setattr(where, bound, most)
    with pytest.raises(WorkbookProblem, match=r"^mix\.xlsx: it holds ") as caught:
        bound_cells(package)
    assert says in str(caught.value)


def test_all_sheets_share_one_allowance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = one_sheet(tmp_path, "<row r='1'>" + "<c/>" * 60 + "</row>", more=("Two", "Three"))
    monkeypatch.setattr(elements, "MOST_ELEMENTS", 150)
    package = Package(path)
    for sheet in ("Mix", "Mix", "Two", "Mix"):  # read again, a part costs nothing more
        list(cells(package, package.sheets[sheet]))
    with pytest.raises(WorkbookProblem, match="more elements than are taken"):
        list(cells(package, package.sheets["Three"]))


def test_the_space_of_the_strict_flavour(tmp_path: Path) -> None:
    rows = "<row r='1'><c r='A1'><v>1</v></c></row>"
    path = one_sheet(tmp_path, rows, space="http://purl.oclc.org/ooxml/spreadsheetml/main")
    assert value(path) == 1.0
    assert SPACE != "http://purl.oclc.org/ooxml/spreadsheetml/main"
