"""Files built to deceive or to exhaust: refused in the same sentence by run, verify and addin."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from package_edits import GetWorkbook, add_name, add_sheet, edit_part, part_of
from tanksheet.cli import main
from tanksheet.xlsx.reading import BOOK, LINKS, TYPES
from tanksheet.xlsx.writing import read_parts, write_parts

Spoil = Callable[[Path], object]
STYLES, CORE, PARTS_LINKS = "xl/styles.xml", "docProps/core.xml", "_rels/.rels"
DOCTYPE = '<!DOCTYPE a [<!ENTITY a "ha">]>'


def with_doctype(part: str) -> Spoil:
    return lambda path: edit_part(path, part, lambda text: behind_declaration(text, DOCTYPE))


def behind_declaration(text: str, more: str) -> str:
    end = text.index("?>") + 2 if text.startswith("<?xml") else 0
    return text[:end] + more + text[end:]


def doctype_in_a_sheet(path: Path) -> None:
    with_doctype(part_of(path, "Ratio table"))(path)


def doctype_in_a_sheet_of_another_name(path: Path) -> None:
    """Whoever looks at names that end in .xml only would not see it."""
    part = part_of(path, "Ratio table")
    parts = {
        name.replace(part, "xl/odd.bin"): text
        for name, text in read_parts(path.read_bytes()).items()
    }
    for index in (LINKS, TYPES):
        text = parts[index].decode().replace(f"/{part}", "/xl/odd.bin")
        parts[index] = text.encode()
    parts["xl/odd.bin"] = behind_declaration(parts["xl/odd.bin"].decode(), DOCTYPE).encode()
    path.write_bytes(write_parts(parts))


def doctype_behind_comments(path: Path) -> None:
    comments = f"<!-- {'long ' * 10_000} -->" * 3 + DOCTYPE
    edit_part(path, STYLES, lambda text: behind_declaration(text, comments))


def doctype_in_wide_letters(path: Path) -> None:
    parts = read_parts(path.read_bytes())
    text = behind_declaration(parts[STYLES].decode(), DOCTYPE)
    parts[STYLES] = re.sub(r"<\?xml[^>]*\?>", "", text).encode("utf-16")
    path.write_bytes(write_parts(parts))


def numbered(number: str) -> Spoil:
    return lambda path: edit_part(
        path, BOOK, lambda text: text.replace('sheetId="1"', f'sheetId="{number}"', 1)
    )


def linked(target: str, more: str = "") -> Spoil:
    link = f'<Relationship Id="rIdOdd" Type="odd" Target="{target}"{more}/>'
    return lambda path: edit_part(
        path, LINKS, lambda text: text.replace("</Relationships>", f"{link}</Relationships>")
    )


def linked_from_a_sheet(path: Path) -> None:
    parts = read_parts(path.read_bytes())
    parts["xl/worksheets/_rels/odd.xml.rels"] = (
        b'<Relationships><Relationship Id="r" Target="../../../../etc/passwd"/></Relationships>'
    )
    path.write_bytes(write_parts(parts))


def two_titles(path: Path) -> None:
    add_sheet(path, "RATIO table", "")


def sheet_link(target: str) -> Spoil:
    """The first sheet's link leads elsewhere."""

    def spoil(path: Path) -> None:
        part = part_of(path, "Ratio table").removeprefix("xl/")
        edit_part(
            path, LINKS, lambda text: text.replace(f'Target="/xl/{part}"', f'Target="{target}"')
        )

    return spoil


def encoded(path: Path) -> None:
    declared = '<?xml version="1.0" encoding="ISO-8859-1"?>'
    edit_part(path, BOOK, lambda text: declared + re.sub(r"<\?xml[^>]*\?>", "", text))


def many_links(path: Path) -> None:
    parts = read_parts(path.read_bytes())
    links = "".join(f'<Relationship Id="r{i}" Target="a"/>' for i in range(200_001))
    parts["xl/worksheets/_rels/big.xml.rels"] = f"<Relationships>{links}</Relationships>".encode()
    path.write_bytes(write_parts(parts))


def many_names(path: Path) -> None:
    edit_part(
        path,
        BOOK,
        lambda text: text.replace("</definedNames>", "<a/>" * 200_000 + "</definedNames>"),
    )


CASES: dict[str, tuple[Spoil, str]] = {
    **{
        f"doctype in {part}": (with_doctype(part), "its XML declares a document type")
        for part in (BOOK, LINKS, TYPES, STYLES, CORE, PARTS_LINKS)
    },
    "doctype in a sheet": (doctype_in_a_sheet, "its XML declares a document type"),
    "doctype in xl/odd.bin": (doctype_in_a_sheet_of_another_name, "declares a document type"),
    "doctype behind comments": (doctype_behind_comments, "its XML declares a document type"),
    "doctype in UTF-16": (doctype_in_wide_letters, "its XML declares a document type"),
    "number x": (numbered("x"), "sheet 'Ratio table' has the number 'x'"),
    "no number": (numbered(""), "sheet 'Ratio table' has the number ''"),
    "number -1": (numbered("-1"), "sheet 'Ratio table' has the number '-1'"),
    "a very long number": (numbered("9" * 5_000), "sheet 'Ratio table' has the number '9999"),
    "target above": (linked("../../evil.xml"), "leads to '../../evil.xml', a place outside it"),
    "target with backslashes": (linked("..\\..\\evil"), "a place outside it"),
    "target on the net": (linked("http://127.0.0.1:9/a"), "a place outside it"),
    "target on a share": (linked("//host/a"), "leads to '//host/a', a place outside it"),
    "target on a disk": (linked("file:///etc/passwd"), "a place outside it"),
    "target of another part": (linked_from_a_sheet, "'../../../../etc/passwd', a place outside it"),
    "sheet that leads nowhere": (sheet_link("/xl/none.xml"), "'Ratio table' leads to no part"),
    "two titles": (two_titles, "two sheets are called 'RATIO table'"),
    "encoding": (encoded, "its XML is encoded as ISO-8859-1"),
    "many links": (many_links, "more elements than are taken"),
    "many names": (many_names, "more elements than are taken"),
}


@pytest.mark.parametrize("kind", CASES)
def test_refused_alike(
    kind: str, workbook: GetWorkbook, capsys: pytest.CaptureFixture[str]
) -> None:
    path = workbook("ratio-table")
    spoil, says = CASES[kind]
    spoil(path)
    before, beside = path.read_bytes(), sorted(path.parent.iterdir())
    lines = set()
    commands = (["run", str(path)], ["verify", str(path)], ["addin", "lambda", "--into", str(path)])
    for call in commands:
        assert main(call) == 2, call
        said = capsys.readouterr()
        assert said.out == ""
        lines.add(said.err)
    [line] = lines
    assert line.startswith("tanksheet: ratio-table.xlsx: ") and line.count("\n") == 1
    assert says in line
    assert (path.read_bytes(), sorted(path.parent.iterdir())) == (before, beside)


@pytest.mark.parametrize(
    ("target", "more"),
    [
        ("http://example.org/a", ' TargetMode="External"'),
        ("mailto:a@example.org", ' TargetMode="external"'),
        ("#'Ratio table'!A1", ""),
        ("/xl/media/none.png", ""),
        ("../docProps/core.xml", ""),
    ],
)
def test_links_that_do_no_harm(
    target: str, more: str, workbook: GetWorkbook, capsys: pytest.CaptureFixture[str]
) -> None:
    path = workbook("ratio-table")
    linked(target, more)(path)
    assert main(["addin", "lambda", "--into", str(path), "--force"]) == 0


def test_a_name_that_is_very_long(
    workbook: GetWorkbook, capsys: pytest.CaptureFixture[str]
) -> None:
    """It means no cell, and nobody waits for the search to find that out."""
    path = workbook("ratio-table")
    add_name(path, "long", "'" + "''" * 100_000 + "'!$A$1")
    assert main(["addin", "lambda", "--into", str(path), "--force"]) == 0
