"""Edits to a workbook file such as a person makes in a spreadsheet program, done in its XML.

Libraries that rewrite a whole workbook lose validations or the order of names; here everything
else stays byte for byte as it was.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

from openpyxl.formula.tokenizer import Token, Tokenizer

from tanksheet.xlsx.address import Block, Value
from tanksheet.xlsx.placing import write_values
from tanksheet.xlsx.reading import MAIN, Package
from tanksheet.xlsx.writing import read_parts, sheet_parts, write_parts

# By name, and "us" for the US edition.
GetWorkbook = Callable[..., Path]
GetPackage = Callable[..., bytes]
BOOK = "xl/workbook.xml"


def cells_of(path: Path) -> dict[str, Block]:
    """Every name that means cells, the hidden ones too."""
    package = Package(path)
    return package.names | package.hidden_names


def edit_part(path: Path, part: str, change: Callable[[str], str]) -> None:
    """Change one part's text. Fails when the change changes nothing."""
    parts = read_parts(path.read_bytes())
    before = parts[part].decode()
    after = change(before)
    assert after != before, f"the edit of {part} found nothing to change"
    path.write_bytes(write_parts({**parts, part: after.encode()}))


def replace_once(path: Path, part: str, old: str, new: str) -> None:
    """Replace the one place where a text stands in a part."""

    def change(text: str) -> str:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {part}"
        return text.replace(old, new)

    edit_part(path, part, change)


def part_of(path: Path, sheet: str) -> str:
    """The part that holds a sheet."""
    return sheet_parts(read_parts(path.read_bytes()))[sheet]


def type_into(path: Path, name: str, value: Value) -> None:
    """Put a value into the first cell of a name, as a person would; None clears it."""
    cell = cells_of(path)[name][0]
    written = path.with_suffix(".written")
    write_values(Package(path), written, {cell: value})
    written.replace(path)


def formula_of(path: Path, name: str) -> str:
    """The formula text of a named cell, without "="."""
    cell = cells_of(path)[name][0]
    parts = read_parts(path.read_bytes())
    root = ElementTree.fromstring(parts[sheet_parts(parts)[cell.sheet]])
    text = root.findtext(f".//{{{MAIN}}}c[@r='{cell.cell}']/{{{MAIN}}}f")
    assert text is not None, f"{name} ({cell.a1}) holds no formula"
    return text


def set_formula(path: Path, name: str, formula: str) -> None:
    """Put a formula (without "=") into a named cell, whatever it held; the value stored stays."""
    cell = cells_of(path)[name][0]

    def change(markup: str) -> str:
        root = _tree(markup)
        node = root.find(f".//{{{MAIN}}}c[@r='{cell.cell}']")
        assert node is not None
        for child in node.findall(f"{{{MAIN}}}f"):
            node.remove(child)
        written = ElementTree.Element(f"{{{MAIN}}}f")
        written.text = formula
        node.insert(0, written)
        return _text(root)

    edit_part(path, part_of(path, cell.sheet), change)


def delete_name(path: Path, name: str) -> None:
    """Delete a defined name."""
    edit_part(
        path,
        BOOK,
        lambda text: re.sub(rf'<definedName name="{name}"[^>]*>[^<]*</definedName>', "", text),
    )


def add_name(path: Path, name: str, reference: str) -> None:
    """Define one more name."""
    tag = f'<definedName name="{name}">{reference}</definedName>'
    replace_once(path, BOOK, "</definedNames>", f"{tag}</definedNames>")


def delete_sheet(path: Path, sheet: str) -> None:
    """Delete a sheet; names that led to it lead nowhere, as spreadsheet programs leave them."""

    def change(text: str) -> str:
        text = re.sub(rf'<sheet [^>]*name="{sheet}"[^>]*/>', "", text)
        return text.replace(f"'{sheet}'!$", "#REF!$")

    edit_part(path, BOOK, change)


def rename_sheet(path: Path, old: str, new: str) -> None:
    """Rename a sheet, in every name and every formula that mentions it."""
    parts = read_parts(path.read_bytes())
    for part in [BOOK, *sheet_parts(parts).values()]:
        text = parts[part].decode()
        text = text.replace(f'name="{old}"', f'name="{new}"').replace(f"'{old}'!", f"'{new}'!")
        parts[part] = text.encode()
    path.write_bytes(write_parts(parts))


def add_sheet(path: Path, title: str, cells: str) -> None:
    """Put a sheet of the user's own behind the others; ``cells`` is the XML of its rows."""
    parts = read_parts(path.read_bytes())
    parts["xl/worksheets/own.xml"] = (
        f'<worksheet xmlns="{MAIN}"><sheetData>{cells}</sheetData></worksheet>'
    ).encode()
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
    link = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    new = {
        "[Content_Types].xml": (
            "</Types>",
            f'<Override PartName="/xl/worksheets/own.xml" ContentType="{kind}"/>',
        ),
        "xl/_rels/workbook.xml.rels": (
            "</Relationships>",
            f'<Relationship Id="rIdOwn" Type="{link}/worksheet" Target="worksheets/own.xml"/>',
        ),
        BOOK: ("</sheets>", f'<sheet xmlns:r="{link}" name="{title}" sheetId="99" r:id="rIdOwn"/>'),
    }
    for part, (end, text) in new.items():
        parts[part] = parts[part].decode().replace(end, text + end).encode()
    path.write_bytes(write_parts(parts))


def insert_rows_on_top(path: Path, sheet: str, count: int) -> None:
    """Insert rows at the top of a sheet: cells, formulas, merged cells and names move down.

    Validations and colours are taken off the sheet, since no calculation needs them.
    """
    edit_part(path, part_of(path, sheet), lambda markup: _moved_down(markup, count))
    parts = read_parts(path.read_bytes())
    for part in sheet_parts(parts).values():
        formulas = _formulas_moved(parts[part].decode(), sheet, count)
        parts = {**parts, part: formulas.encode()}
    path.write_bytes(write_parts(parts))
    quoted = re.escape(f"'{sheet}'!")
    edit_part(
        path,
        BOOK,
        lambda text: re.sub(
            rf"({quoted})(\$[A-Z]+\$\d+(?::\$[A-Z]+\$\d+)?)",
            lambda found: found[1] + _shifted(found[2], count),
            text,
        ),
    )


def _formulas_moved(markup: str, sheet: str, count: int) -> str:
    """A part whose formulas have the sheet's cells where they now stand."""
    root = _tree(markup)
    own = any("moved" in data.attrib for data in root.iter(f"{{{MAIN}}}sheetData"))
    for formula in root.iter(f"{{{MAIN}}}f"):
        formula.text = _moved_in(str(formula.text), sheet, own, count)
    for data in root.iter(f"{{{MAIN}}}sheetData"):
        data.attrib.pop("moved", None)
    return _text(root)


def _moved_in(text: str, sheet: str, own: bool, count: int) -> str:
    tokens = Tokenizer(f"={text}")
    for token in tokens.items:
        if token.type == Token.OPERAND and token.subtype == Token.RANGE:
            there, mark, cells = token.value.rpartition("!")
            is_cells = re.fullmatch(r"\$?[A-Z]+\$?\d+(:\$?[A-Z]+\$?\d+)?", cells)
            if is_cells and (own if not mark else there.strip("'") == sheet):
                token.value = there + mark + _rows_shifted(cells, count)
    return str(tokens.render()).removeprefix("=")


def _rows_shifted(cells: str, count: int) -> str:
    return re.sub(r"(?<=[A-Z$])\d+", lambda row: str(int(row[0]) + count), cells)


def _shifted(reference: str, count: int) -> str:
    return re.sub(r"\d+", lambda row: str(int(row[0]) + count), reference)


def _moved_down(markup: str, count: int) -> str:
    root = _tree(markup)
    for loose in ("dataValidations", "conditionalFormatting", "drawing"):
        for node in root.findall(f"{{{MAIN}}}{loose}"):
            root.remove(node)
    for row in root.iter(f"{{{MAIN}}}row"):
        row.set("r", _shifted(str(row.get("r")), count))
    for merged in root.iter(f"{{{MAIN}}}mergeCell"):
        merged.set("ref", _shifted(str(merged.get("ref")), count))
    for cell in root.iter(f"{{{MAIN}}}c"):
        cell.set("r", _shifted(str(cell.get("r")), count))
    for data in root.iter(f"{{{MAIN}}}sheetData"):
        data.set("moved", "1")
    return _text(root)


def _tree(markup: str) -> ElementTree.Element:
    ElementTree.register_namespace("", MAIN)
    return ElementTree.fromstring(markup)


def _text(root: ElementTree.Element) -> str:
    return ElementTree.tostring(root, encoding="unicode", xml_declaration=False)
