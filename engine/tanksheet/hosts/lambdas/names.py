"""The functions in Excel with nothing installed: LAMBDA names in a workbook, new or a user's own.

A user's file is never read into a library and written out again, which would lose what the library
does not know. The names, one hidden sheet with data, and the three lists that mention them are put
into the package's own text; every other part is copied as it is.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from tanksheet.errors import WorkbookProblem
from tanksheet.formula import lambda_comment, lambda_text, named_calculations
from tanksheet.formula.lambdas import MARK
from tanksheet.hosts.lambdas import data as lambda_data
from tanksheet.hosts.lambdas.links import new_sheet, replaced_sheet
from tanksheet.sheets.functions import functions_workbook
from tanksheet.sheets.reference import ID_NAME
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.markup import Tag
from tanksheet.xlsx.reading import BOOK
from tanksheet.xlsx.user_package import UserPackage
from tanksheet.xlsx.values import stored_values
from tanksheet.xlsx.workbook_part import Name, WorkbookPart
from tanksheet.xlsx.writing import replace_file

NEW_FILE = "fert-functions.xlsx"
ENDING = "-with-fert"
LARGEST_DATA = 5_000_000  # bytes; a sheet beyond this is not read in search of our data
SHOWN = 5
_CALLS = re.compile(rb"(?i)\bFERT\.[A-Z]")


class Report(NamedTuple):
    """What was done: names that are new or changed, the sheet with the data, and remarks."""

    target: Path
    changed: list[str]
    sheet: str
    notes: list[str]


class Data(NamedTuple):
    """The data in a file: the sheet that has it ("" for none) and what is to be done."""

    sheet: str
    is_current: bool = False


def write_functions(source: Path | None, target: Path | None = None, force: bool = False) -> Report:
    """Writes a copy of a workbook that has the functions, or a new workbook with a list of them.

    The copy is called ``<name>-with-fert`` beside the original unless ``target`` says otherwise. A
    file that is there is replaced only when ``force`` is true, and this holds for the user's own
    file too: name it as the target as well.

    Raises: WorkbookProblem; then no file has been written or changed.
    """
    chosen = target or _default_target(source)
    kind = source.suffix if source else ".xlsx"
    if chosen.suffix.lower() != kind.lower():
        raise WorkbookProblem(f"{chosen}: its content is {kind}, so call it {chosen.stem}{kind}")
    if chosen.exists() and not force:
        raise WorkbookProblem(f"{chosen} is there already; say --force to replace it")
    if source:
        content, report = with_functions(source, chosen)
    else:
        content, report = _new_workbook(chosen)
    replace_file(chosen, content)
    return report


def _default_target(source: Path | None) -> Path:
    if source is None:
        return Path(NEW_FILE)
    return source.with_name(f"{source.stem.removesuffix(ENDING)}{ENDING}{source.suffix}")


def _new_workbook(target: Path) -> tuple[bytes, Report]:
    with tempfile.TemporaryDirectory() as folder:
        plain = Path(folder) / NEW_FILE
        plain.write_bytes(functions_workbook())
        return with_functions(plain, target)


def with_functions(source: Path, target: Path) -> tuple[bytes, Report]:
    """The content of the copy, and what was done. Raises WorkbookProblem."""
    package = UserPackage(source)
    book = WorkbookPart(package)
    data = _data_in(package)
    _refuse_collisions(package, book, data)
    changes: dict[str, bytes] = {}
    sheet = data.sheet
    if not sheet:
        sheet = new_sheet(package, book, changes)
    elif not data.is_current:
        replaced_sheet(package, sheet, changes)
    changed = book.set_names(_meanings() | ({} if data.is_current else _references(sheet)))
    if (changed or changes) and _is_called(package, book):
        book.recalculate_on_load()
    if book.edits:
        changes[BOOK] = book.finished()
    notes = list(_notes(package, book))
    return package.copied(changes), Report(target, changed, sheet, notes)


def _meanings() -> dict[str, Name]:
    return {
        each.sheet_name: Name(lambda_text(each), lambda_comment(each))
        for each in named_calculations().values()
    }


def _references(sheet: str) -> dict[str, Name]:
    return {
        name: Name(lambda_data.reference(name, sheet), hidden=True)
        for name in lambda_data.columns()
    }


def _is_called(package: UserPackage, book: WorkbookPart) -> bool:
    own = any(_CALLS.search(tag.text.encode()) for tag in book.listed("definedName"))
    return own or package.mentions(_CALLS, "xl/worksheets/")


def _notes(package: UserPackage, book: WorkbookPart) -> Iterator[str]:
    if book.is_protected:
        yield "the workbook's structure is protected, and stays so"
    if any(name.casefold().endswith("vbaproject.bin") for name in package.parts):
        yield "its macros were copied as they are, and not run"


def _data_in(package: UserPackage) -> Data:
    """Which sheet holds our data: the one that the names lead to, or one with our note."""
    cells = package.names | package.hidden_names
    known = lambda_data.columns()
    placed = {name: cells[name] for name in known if name in cells}
    small = [s for s, part in package.sheets.items() if package.size(part) <= LARGEST_DATA]
    led_to = dict.fromkeys(place.sheet for places in placed.values() for place in places[:1])
    if len(led_to) == 1 and len(placed) == len(known) and set(led_to) <= set(small):
        if _is_equal(package, placed):
            return Data(next(iter(led_to)), True)
    named = [s for s in small if s.casefold().startswith(lambda_data.TITLE)]
    for sheet in dict.fromkeys([*led_to, *named]):
        if sheet in small and _has_note(package, sheet):
            return Data(sheet)
    if placed and ID_NAME in cells:
        raise WorkbookProblem(
            f"{package.file}: this is a Tanksheet workbook with the data of another edition, on "
            "which its own formulas rest; make it afresh with 'tanksheet make'."
        )
    return Data("")


def _is_equal(package: UserPackage, placed: Mapping[str, Sequence[Address]]) -> bool:
    known = lambda_data.columns()
    if any(len(places) != len(known[name]) for name, places in placed.items()):
        return False
    values = stored_values(package, [place for places in placed.values() for place in places])
    return all(
        [values[place] for place in places] == list(known[name]) for name, places in placed.items()
    )


def _has_note(package: UserPackage, sheet: str) -> bool:
    place = lambda_data.note_cell(sheet)
    return stored_values(package, [place])[place] == lambda_data.NOTE


def _refuse_collisions(package: UserPackage, book: WorkbookPart, data: Data) -> None:
    """Names of ours that mean something else in the file stop everything."""
    cells = package.names | package.hidden_names
    there = book.names()
    is_marked = bool(data.sheet)
    found = []
    for name, meaning in _meanings().items():
        tag = there.get(name.casefold())
        if tag is not None and not _is_ours(tag, meaning, is_marked):
            found.append(f"{name} ({_shortened(tag.text)})")
    for name in lambda_data.columns():
        tag = there.get(name.casefold())
        if tag is None or data.is_current or "#REF!" in tag.text:
            continue
        if {place.sheet for place in cells.get(name, ())[:1]} != {data.sheet}:
            found.append(f"{name} ({_shortened(tag.text)})")
    found += _local_collisions(book, is_marked)
    if not found and package.mentions(_table_names(), "xl/tables/"):
        found.append("a table that is called as one of our names")
    if found:
        more = f" and {len(found) - SHOWN} more" if len(found) > SHOWN else ""
        raise WorkbookProblem(
            f"{package.file}: names that the functions need mean something else in it: "
            f"{', '.join(found[:SHOWN])}{more}. Rename or delete them (Formulas, Name Manager), "
            "then try again; nothing was changed."
        )


def _is_ours(tag: Tag, meaning: Name, is_marked: bool) -> bool:
    """By the text, or our mark in the comment; other programs drop comments and respell the text,
    so in a file that has our data any LAMBDA under one of our names is ours."""
    text = _spelled(tag.text)
    if text == _spelled(meaning.text) or MARK in tag.attributes.get("comment", ""):
        return True
    return is_marked and "_xlfn.lambda(" in text


def _spelled(text: str) -> str:
    return "".join(text.split()).casefold()


def _shortened(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:37]}..."


def _local_collisions(book: WorkbookPart, is_marked: bool) -> Iterator[str]:
    """A name of one sheet hides the workbook's name there."""
    meanings = {name.casefold(): meaning for name, meaning in _meanings().items()}
    data_names = {name.casefold() for name in lambda_data.columns()}
    for sheet, tag in book.local_names():
        key = tag.attributes.get("name", "").casefold()
        hides = key in meanings and not _is_ours(tag, meanings[key], is_marked)
        if hides or key in data_names:
            yield f"{tag.attributes['name']} on sheet {sheet!r} ({_shortened(tag.text)})"


def _table_names() -> re.Pattern[bytes]:
    names = "|".join(re.escape(name) for name in (*_meanings(), *lambda_data.columns()))
    return re.compile(rf"""(?i)\bdisplayName\s*=\s*["']({names})["']""".encode())
