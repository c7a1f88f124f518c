"""What an .xlsx file says about itself without being calculated: its sheets and defined names.

``xl/workbook.xml`` is read straight from the zip (ECMA-376 part 1, 18.2), because loading all the
cells to learn a few names would be slow. Files come from anywhere, so size and markup are checked
before anything is parsed.
"""

from __future__ import annotations

import re
import zipfile
import zlib
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree
from xml.parsers import expat

from tanksheet.errors import WorkbookProblem
from tanksheet.recalc.record import LAST_COLUMN, LAST_ROW, Address, column_number

MOST_BYTES = 200_000_000
MOST_PARTS = 10_000
MOST_NAMED_CELLS = 100_000
# Deflate cannot do better than about 1030:1. Real sheets of repeated rows come near 100:1, and a
# small part may well be one long run, so only large parts are judged.
MOST_RATIO, RATIO_COUNTS_FROM = 400, 1_000_000

DAMAGE = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError)
_OLD_FILE = b"\xd0\xcf\x11\xe0"
_REFERENCE = re.compile(
    r"(?:'(?P<quoted>(?:[^']|'')+)'|(?P<plain>[^'!\[\]():,\s]+))!"
    r"\$(?P<left>[A-Za-z]{1,3})\$(?P<top>\d{1,7})"
    r"(?::\$(?P<right>[A-Za-z]{1,3})\$(?P<bottom>\d{1,7}))?"
)


class Contents(NamedTuple):
    """A workbook's sheets in order, and its defined names."""

    sheets: list[str]
    names: dict[str, list[Address]]


def named_cells(path: Path) -> dict[str, list[Address]]:
    """Defined names of the whole workbook that mean one cell or one rectangle of cells.

    A rectangle is listed row by row. Left out: names of one sheet only, hidden and built-in names,
    constants, formulas, LAMBDAs, broken references, references without dollar signs (they mean
    another cell wherever they are used), and rectangles of more than 100,000 cells.

    Raises WorkbookProblem, in one sentence that starts with the file's name, when the file cannot
    be used as a workbook.
    """
    return contents(path).names


def sheet_names(path: Path) -> list[str]:
    """The workbook's sheets in order. Raises WorkbookProblem as ``named_cells`` does."""
    return contents(path).sheets


def contents(path: Path) -> Contents:
    """Sheets and named cells. Raises WorkbookProblem as ``named_cells`` does."""
    path = Path(path)
    tree = safe_tree(_workbook_part(path), path.name)
    # Excel's strict flavour has other namespaces but the same element names.
    sheets = [str(e.get("name")) for e in tree.iterfind("./{*}sheets/{*}sheet")]
    if not sheets:
        raise WorkbookProblem(f"{path.name}: the workbook has no sheets; save it again as .xlsx.")
    names = {}
    for element in tree.iterfind("./{*}definedNames/{*}definedName"):
        cells = _cells(element.text or "", sheets) if _is_open_name(element) else []
        if cells:
            names[str(element.get("name"))] = cells
    return Contents(sheets, names)


def safe_tree(markup: bytes, file: str) -> ElementTree.Element:
    """Parse XML that may come from anyone: document types, and so all entities, are refused."""
    guard = expat.ParserCreate()

    def refuse(*_: object) -> None:
        raise WorkbookProblem(
            f"{file}: its XML declares a document type, which no .xlsx file does; "
            "do not trust this file."
        )

    guard.StartDoctypeDeclHandler = refuse
    try:
        guard.Parse(markup, True)
        return ElementTree.fromstring(markup)
    except (expat.ExpatError, ElementTree.ParseError, LookupError, ValueError) as problem:
        raise WorkbookProblem(
            f"{file}: the workbook's XML is damaged ({problem}); open and save it again."
        ) from None


def _is_open_name(element: ElementTree.Element) -> bool:
    name = str(element.get("name"))
    hidden = element.get("hidden") in ("1", "true")
    return element.get("localSheetId") is None and not hidden and not name.startswith("_xl")


def _cells(reference: str, sheets: list[str]) -> list[Address]:
    match = _REFERENCE.fullmatch(reference.strip().removeprefix("="))
    if not match:
        return []
    written = match["plain"] or match["quoted"].replace("''", "'")
    sheet = {s.casefold(): s for s in sheets}.get(written.casefold())
    if sheet is None:
        return []
    rows = sorted((int(match["top"]), int(match["bottom"] or match["top"])))
    columns = sorted(column_number(match[side] or match["left"]) for side in ("left", "right"))
    if rows[0] < 1 or rows[1] > LAST_ROW or columns[1] > LAST_COLUMN:
        return []
    if (rows[1] - rows[0] + 1) * (columns[1] - columns[0] + 1) > MOST_NAMED_CELLS:
        return []
    return [
        Address(sheet, row, column)
        for row in range(rows[0], rows[1] + 1)
        for column in range(columns[0], columns[1] + 1)
    ]


def _workbook_part(path: Path) -> bytes:
    if path.is_dir():
        raise WorkbookProblem(f"{path.name}: this is a folder, not an .xlsx file.")
    try:
        with path.open("rb") as file:
            start = file.read(4)
        if start[:2] != b"PK":
            raise WorkbookProblem(_not_a_zip(path.name, start))
        with zipfile.ZipFile(path) as parts:
            _refuse_bombs(path.name, parts.infolist())
            return parts.read("xl/workbook.xml")
    except FileNotFoundError:
        raise WorkbookProblem(f"{path.name}: there is no such file ({path}).") from None
    except OSError as problem:
        raise WorkbookProblem(f"{path.name}: cannot be read ({problem.strerror}).") from None
    except KeyError:
        raise WorkbookProblem(
            f"{path.name}: this is a zip file but not an .xlsx workbook; "
            "open it in a spreadsheet program and save it as .xlsx."
        ) from None
    except DAMAGE as problem:
        raise damaged(path.name, problem) from None


def damaged(file: str, problem: BaseException) -> WorkbookProblem:
    """What is said of a file whose parts cannot be unpacked, or are not all there."""
    said = str(problem.args[0] if problem.args else problem)
    return WorkbookProblem(
        f"{file}: the file is damaged or cut short ({said}); fetch or save it again."
    )


def _not_a_zip(file: str, start: bytes) -> str:
    if not start:
        return f"{file}: the file is empty; fetch or save it again."
    if start == _OLD_FILE:
        return (
            f"{file}: this is an old .xls workbook or one locked with a password; "
            "save it as .xlsx without a password."
        )
    return f"{file}: this is not an .xlsx workbook; save it as .xlsx in a spreadsheet program."


def _refuse_bombs(file: str, parts: list[zipfile.ZipInfo]) -> None:
    size = sum(part.file_size for part in parts)
    if size > MOST_BYTES or len(parts) > MOST_PARTS:
        raise WorkbookProblem(
            f"{file}: unpacked it would be {size / 1e6:.0f} MB in {len(parts)} parts, and the most "
            f"taken is {MOST_BYTES / 1e6:.0f} MB in {MOST_PARTS}; delete what it does not need."
        )
    for part in parts:
        if part.file_size > max(RATIO_COUNTS_FROM, MOST_RATIO * part.compress_size):
            raise WorkbookProblem(
                f"{file}: {part.filename} would unpack to {part.file_size / 1e6:.0f} MB from "
                f"{part.compress_size} bytes, which no real workbook does; do not trust this file."
            )
