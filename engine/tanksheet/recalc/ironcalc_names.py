"""A copy of a workbook in which formulas name cells as cells.

IronCalc looks through all the names of a workbook for each name in a formula, when it reads the
formula and again whenever it calculates: with two thousand names that is nearly all of its time.
So where a name stands for cells, the copy that it gets has those cells in the formulas. The names
stay in the file, and whatever is not plainly a name of cells stays as it is written.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from html import unescape
from pathlib import Path
from xml.etree import ElementTree
from xml.sax.saxutils import escape

FEW = 100
"""Names that are looked through in no time."""
LARGEST = 100_000_000
"""Bytes, unpacked: the copy is made in memory."""
BOOK = "xl/workbook.xml"

_CELLS = re.compile(
    r"('(?:[^'\[\]]|'')+'|[^\W\d][\w.]*)!\$[A-Z]{1,3}\$\d{1,7}(?::\$[A-Z]{1,3}\$\d{1,7})?"
)
_FORMULA = re.compile(r"(<(?:\w+:)?f(?:\s[^<>]*)?>)([^<]+)(</)")
# Text and quoted sheets are passed over; a word beside a bracket, a sheet or a colon is no value.
_WORD = re.compile(
    r"""\"(?:[^"]|"")*\"|'(?:[^']|'')*'!?|(?<![\w.!\\$\#])[^\W\d][\w.\\?]*(?![\w.\\?]|\s*[(!:\[])"""
)
# Names of their own within a formula, and columns of a table.
_OTHERS = re.compile(r"\b(?:LET|LAMBDA)\s*\(|\[", re.IGNORECASE)


def names_as_cells(path: Path) -> Path:
    """The copy, beside the file; the file itself where there is nothing to gain, or where it is
    not as expected, for the engine to say what it makes of it."""
    beside = path.with_name(f"{path.stem}-cells{path.suffix}")
    try:
        with zipfile.ZipFile(path) as archive:
            if sum(entry.file_size for entry in archive.infolist()) > LARGEST:
                return path
            cells = _names_of_cells(archive.read(BOOK))
            if len(cells) <= FEW:
                return path
            with zipfile.ZipFile(beside, "w") as copy:
                for name in archive.namelist():
                    copy.writestr(name, _rewritten(name, archive.read(name), cells))
    except (KeyError, OSError, UnicodeDecodeError, ElementTree.ParseError, zipfile.BadZipFile):
        return path
    return beside


def _names_of_cells(part: bytes) -> dict[str, str]:
    """What each name stands for, in capitals, if it is cells and no sheet means otherwise by it."""
    sheets: set[str] = set()
    cells: dict[str, str] = {}
    local: set[str] = set()
    for element in ElementTree.fromstring(part).iter():
        kind, name = element.tag.rpartition("}")[2], element.get("name", "")
        if kind == "sheet":
            sheets.add(name.casefold())
        elif kind == "definedName" and element.get("localSheetId") is not None:
            local.add(name.upper())
        elif kind == "definedName":
            cells[name.upper()] = (element.text or "").strip()
    found = {name: _CELLS.fullmatch(text) for name, text in cells.items() if name not in local}
    return {
        name: match[0]
        for name, match in found.items()
        if match and match[1].strip("'").replace("''", "'").casefold() in sheets
    }


def _rewritten(name: str, part: bytes, cells: Mapping[str, str]) -> bytes:
    if not (name.startswith("xl/worksheets/") and name.endswith(".xml")):
        return part

    def formula(match: re.Match[str]) -> str:
        text = unescape(match[2])
        return (
            match[0] if _OTHERS.search(text) else match[1] + escape(_said(text, cells)) + match[3]
        )

    return _FORMULA.sub(formula, part.decode("utf-8")).encode("utf-8")


def _said(formula: str, cells: Mapping[str, str]) -> str:
    def word(match: re.Match[str]) -> str:
        is_end_of_range = formula[: match.start()].rstrip().endswith(":")
        return match[0] if is_end_of_range else cells.get(match[0].upper(), match[0])

    return _WORD.sub(word, formula)
