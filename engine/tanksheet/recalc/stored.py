"""Read and write values as an .xlsx file stores them (ECMA-376 part 1, 18.3.1.4 and 18.18.11).

openpyxl turns numbers with a date or time format into dates rounded to the millisecond, too coarse
for a comparison at one part in a thousand million. Here numbers keep every digit.
"""

from __future__ import annotations

import contextlib
import posixpath
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from xml.etree import ElementTree

from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.recalc.names import DAMAGE, damaged, safe_tree
from tanksheet.recalc.record import Address, Value, address, as_error, as_number

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_LINK = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


@contextlib.contextmanager
def _opened(path: Path, file: str) -> Iterator[zipfile.ZipFile]:
    try:
        with zipfile.ZipFile(path) as parts:
            yield parts
    except (KeyError, *DAMAGE) as problem:
        raise damaged(file, problem) from None


def stored_values(path: Path, wanted: Iterable[Address]) -> dict[Address, Value]:
    """The stored value of each wanted cell; a formula with no stored value gives "".

    Raises WorkbookProblem when a sheet is not in the file, or the file is damaged.
    """
    values: dict[Address, Value] = {}
    with _opened(path, path.name) as parts:
        strings = _shared_strings(parts, path.name)
        homes = _sheet_parts(parts, path.name)
        for sheet, places in _by_sheet(wanted, homes, path.name).items():
            cells = _cells(safe_tree(parts.read(homes[sheet]), path.name))
            values.update({where: _value(cells.get(where.cell), strings) for where in places})
    return values


def bound_cells(path: Path, file: str = "") -> dict[str, list[str]]:
    """For each sheet, the ranges ("B1:B9") whose one formula serves several cells.

    That is every array formula, and the first cell of a formula that is stored once and shared. A
    value in such a cell would be ignored by one engine, change its neighbours in another, and be
    refused by a third. ``file`` is what messages call a file that is a copy of another.

    Raises WorkbookProblem when the file is damaged.
    """
    file = file or path.name
    bound: dict[str, list[str]] = {}
    with _opened(path, file) as parts:
        for sheet, home in _sheet_parts(parts, file).items():
            tree = safe_tree(parts.read(home), file)
            for cell in tree.iterfind("./{*}sheetData/{*}row/{*}c"):
                formula = cell.find("./{*}f")
                if formula is not None and formula.get("ref"):
                    array = formula.get("t") == "array"
                    reach = formula.get("ref") if array else cell.get("r")
                    bound.setdefault(sheet, []).append(str(reach))
    return bound


def typed_blanks(path: Path) -> list[Address]:
    """Cells that say "number" and hold nothing, as some libraries write an empty cell."""
    found = []
    with _opened(path, path.name) as parts:
        for sheet, home in _sheet_parts(parts, path.name).items():
            tree = safe_tree(parts.read(home), path.name)
            for cell in tree.iterfind("./{*}sheetData/{*}row/{*}c[@t='n']"):
                if not "".join(cell.itertext()):
                    found.append(address(sheet, str(cell.get("r"))))
    return found


def write_values(path: Path, target: Path, inputs: Mapping[Address, Value]) -> None:
    """Copy an .xlsx file with some cells set; the stored results of its formulas stay as they are.

    The copy is meant for an engine that recalculates it at once, not for Excel: new cells stand
    behind the others of their row, and marks for extensions may be lost.

    Raises WorkbookProblem when a sheet is not in the file. Cells that ``bound_cells`` names must
    not be set.
    """
    with _opened(path, path.name) as parts, zipfile.ZipFile(target, "w") as copy:
        homes = _sheet_parts(parts, path.name)
        changed = {
            homes[sheet]: _changed_sheet(parts.read(homes[sheet]), path.name, places, inputs)
            for sheet, places in _by_sheet(inputs, homes, path.name).items()
        }
        for part in parts.namelist():
            copy.writestr(part, changed.get(part) or parts.read(part))


def _changed_sheet(
    markup: bytes, file: str, places: list[Address], inputs: Mapping[Address, Value]
) -> bytes:
    tree = safe_tree(markup, file)
    namespace = tree.tag.partition("}")[0] + "}"
    data = tree.find(f"./{namespace}sheetData")
    if data is None:
        raise WorkbookProblem(f"{file}: a sheet has no cells' part; open and save it again.")
    rows = {row.get("r"): row for row in data}
    cells = _cells(tree)
    for where in places:
        cell = cells.get(where.cell)
        if cell is None:
            row = rows.get(str(where.row))
            if row is None:
                row = rows[str(where.row)] = ElementTree.SubElement(
                    data, f"{namespace}row", r=str(where.row)
                )
            cell = ElementTree.SubElement(row, f"{namespace}c", r=where.cell)
        _put(cell, inputs[where], namespace)
    return bytes(ElementTree.tostring(tree, encoding="utf-8", xml_declaration=True))


def _put(cell: ElementTree.Element, value: Value, namespace: str) -> None:
    style = cell.get("s")
    place = str(cell.get("r"))
    cell.clear()
    cell.attrib.update({"r": place, **({"s": style} if style else {})})
    if value is None:
        return
    if value == "" and not isinstance(value, SheetError):
        # A constant of no characters would be read back as an empty cell.
        ElementTree.SubElement(cell, f"{namespace}f").text = '""'
    elif isinstance(value, str) and not isinstance(value, SheetError):
        cell.set("t", "inlineStr")
        inline = ElementTree.SubElement(cell, f"{namespace}is")
        text = ElementTree.SubElement(inline, f"{namespace}t")
        text.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
        text.text = value
    else:
        kind, stored = _stored(value)
        cell.set("t", kind)
        ElementTree.SubElement(cell, f"{namespace}v").text = stored


def _stored(value: Value) -> tuple[str, str]:
    if isinstance(value, SheetError):
        return "e", str(value)
    if isinstance(value, bool):
        return "b", "1" if value else "0"
    return "n", repr(value)


def _by_sheet(
    places: Iterable[Address], homes: Mapping[str, str], file: str
) -> dict[str, list[Address]]:
    sorted_out: dict[str, list[Address]] = {}
    for where in places:
        if where.sheet not in homes:
            raise WorkbookProblem(f"{file}: there is no sheet {where.sheet!r}.")
        sorted_out.setdefault(where.sheet, []).append(where)
    return sorted_out


def _cells(sheet: ElementTree.Element) -> dict[str | None, ElementTree.Element]:
    return {e.get("r"): e for e in sheet.iterfind("./{*}sheetData/{*}row/{*}c")}


def _sheet_parts(parts: zipfile.ZipFile, file: str) -> dict[str, str]:
    links = safe_tree(parts.read("xl/_rels/workbook.xml.rels"), file)
    targets = {e.get("Id"): str(e.get("Target")) for e in links}
    book = safe_tree(parts.read("xl/workbook.xml"), file)
    return {
        str(e.get("name")): posixpath.normpath(
            posixpath.join("/xl", targets[e.get(_LINK)])  # a target may be absolute or not
        ).lstrip("/")
        for e in book.iterfind("./{*}sheets/{*}sheet")
    }


def _shared_strings(parts: zipfile.ZipFile, file: str) -> list[str]:
    if "xl/sharedStrings.xml" not in parts.namelist():
        return []
    return [_text(e) for e in safe_tree(parts.read("xl/sharedStrings.xml"), file)]


def _text(element: ElementTree.Element) -> str:
    # Phonetic hints (rPh) also hold <t>; only plain text and rich-text runs count.
    pieces = [*element.iterfind("./{*}t"), *element.iterfind("./{*}r/{*}t")]
    return _unescaped("".join(piece.text or "" for piece in pieces))


def _unescaped(text: str) -> str:
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)


def _value(cell: ElementTree.Element | None, strings: list[str]) -> Value:
    if cell is None:
        return None
    kind, inline = cell.get("t", "n"), cell.find("./{*}is")
    if inline is not None:
        return _text(inline)
    stored = cell.findtext("./{*}v") or ""
    if not stored:
        return "" if kind == "str" or cell.find("./{*}f") is not None else None
    if kind == "s":
        return strings[int(stored)]
    if kind == "str":
        return _unescaped(stored)
    if kind == "e":
        return as_error(stored)
    return stored == "1" if kind == "b" else as_number(float(stored))
