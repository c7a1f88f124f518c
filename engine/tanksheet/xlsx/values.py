"""Read values as an .xlsx file stores them (ECMA-376 part 1, 18.3.1.4 and 18.18.11).

openpyxl turns numbers with a date or time format into dates rounded to the millisecond, too coarse
for a comparison at one part in a thousand million. Here numbers keep every digit. Sheets and texts
are read in pieces, so that a large file takes time but not memory.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.address import (
    Address,
    Block,
    Value,
    address,
    as_error,
    as_number,
    block,
    column_letters,
    column_number,
)
from tanksheet.xlsx.elements import Elements
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.refusals import too_much

MOST_FOUND = 200_000  # cells that are kept in a list because something about them is odd
_PLACE = re.compile(r"([A-Z]{1,3})[0-9]{1,7}")
_NUMBER_SAID = re.compile(rb"""\st\s*=\s*["']n["']""")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


class Cell(NamedTuple):
    """A cell as its sheet's part holds it.

    ``kind`` is its type, "" where none is written, which means a number, and "words" for an inline
    string. ``text`` is that of its value, or of its inline string, which may be there and empty;
    None stands for no value. ``array`` and ``shared`` are the range of a formula for several cells.
    """

    place: str
    kind: str
    text: str | None
    has_formula: bool
    array: str
    shared: str


def stored_values(package: Package, wanted: Iterable[Address]) -> dict[Address, Value]:
    """The stored value of each wanted cell; a formula with no stored value gives "".

    Raises WorkbookProblem when a sheet is not in the file, or the file is damaged.
    """
    found: dict[Address, Cell | None] = {}
    for sheet, places in by_sheet(package, wanted).items():
        found.update(_found(package, package.sheets[sheet], places))
    shared = {where: _number_of(package, where, c) for where, c in found.items() if _is_shared(c)}
    strings = _strings(package, set(shared.values()))
    return {
        where: _shared(package, where, strings, shared[where])
        if where in shared
        else _value(package, where, cell)
        for where, cell in found.items()
    }


def computed_cells(package: Package, wanted: Iterable[Address]) -> set[Address]:
    """Those of the wanted cells that hold a formula. Raises WorkbookProblem as above."""
    found: dict[Address, Cell | None] = {}
    for sheet, places in by_sheet(package, wanted).items():
        found.update(_found(package, package.sheets[sheet], places))
    return {where for where, cell in found.items() if cell is not None and cell.has_formula}


def bound_cells(package: Package) -> dict[str, list[Block]]:
    """For each sheet, the cells whose one formula serves several cells.

    That is every array formula, and the first cell of a formula that is stored once and shared. A
    value in such a cell would be ignored by one engine, change its neighbours in another, and be
    refused by a third.
    """
    bound: dict[str, list[Block]] = {}
    count = 0
    for sheet, part in package.sheets.items():
        for cell in cells(package, part):
            if cell.array or cell.shared:
                bound.setdefault(sheet, []).append(_reach(package, sheet, cell))
                count = _counted(package, count, "formulas that serve several cells")
    return bound


def blank_numbers(package: Package) -> list[Address]:
    """Cells that say "number" and hold nothing, as some libraries write an empty cell.

    Those that say nothing of their type, as Excel writes them, are not among them.
    """
    found: list[Address] = []
    for sheet, part in package.sheets.items():
        if not _says_number(package, part):
            continue
        for cell in cells(package, part):
            if cell.kind == "n" and not cell.text and not cell.has_formula:
                found.append(_place(package, sheet, cell.place))
                _counted(package, len(found), "empty cells that are said to hold a number")
    return found


def _says_number(package: Package, part: str) -> bool:
    """Whether any cell of a sheet may do so; most files leave this to be understood."""
    before = b""
    for piece in package.pieces(part):
        if b"\0" in piece or _NUMBER_SAID.search(before + piece):  # UTF-16 is looked at anyway
            return True
        before = piece[-10:]
    return False


def _counted(package: Package, count: int, of_what: str) -> int:
    if count >= MOST_FOUND:
        raise too_much(package.file, f"more than {MOST_FOUND:,} {of_what}")
    return count + 1


def _reach(package: Package, sheet: str, cell: Cell) -> Block:
    try:
        return block(sheet, cell.array or cell.place)
    except WorkbookProblem as problem:
        raise WorkbookProblem(f"{package.file}: {problem}") from None


def _place(package: Package, sheet: str, place: str) -> Address:
    try:
        return address(sheet, place)
    except WorkbookProblem as problem:
        raise WorkbookProblem(f"{package.file}: {problem}") from None


def by_sheet(package: Package, places: Iterable[Address]) -> dict[str, list[Address]]:
    """Addresses sheet by sheet. Raises WorkbookProblem for a sheet that is not there."""
    sorted_out: dict[str, list[Address]] = {}
    for where in places:
        if where.sheet not in package.sheets:
            raise WorkbookProblem(f"{package.file}: there is no sheet {where.sheet!r}.")
        sorted_out.setdefault(where.sheet, []).append(where)
    return sorted_out


def cells(package: Package, part: str) -> Iterator[Cell]:
    """The cells of a sheet's part in their order, without those that have only a look.

    Raises WorkbookProblem for one of no use.
    """
    reader = _Cells(package.file)
    for _ in package.parse(reader, part):
        yield from reader.found
        reader.found.clear()


def _found(package: Package, part: str, places: list[Address]) -> dict[Address, Cell | None]:
    missing = {where.cell: where for where in places}
    found: dict[Address, Cell | None] = dict.fromkeys(places)
    for cell in cells(package, part):
        if cell.place in missing:
            found[missing.pop(cell.place)] = cell
            if not missing:
                break
    return found


def _strings(package: Package, wanted: Collection[int]) -> dict[int, str]:
    """The shared strings of these numbers, counted from 0."""
    if not wanted or not package.strings:
        return {}
    reader = _Strings(package.file, set(wanted))
    for _ in package.parse(reader, package.strings):
        if reader.place > max(wanted):
            break
    return reader.found


class _Cells(Elements):
    def __init__(self, file: str) -> None:
        super().__init__(file)
        self.found: list[Cell] = []
        self.row = self.column = 0
        self.facts: dict[str, str] = {}
        self.formula: dict[str, str] | None = None
        self.has_text = self.in_words = self.aside = False

    def begin_row(self, facts: dict[str, str]) -> None:
        self.row = int(facts["r"]) if "r" in facts else self.row + 1
        self.column = 0

    def begin_c(self, facts: dict[str, str]) -> None:
        self.facts, self.formula = facts, None
        self.has_text = self.in_words = self.aside = False
        self.column = column_of(facts["r"]) if "r" in facts else self.column + 1

    def begin_f(self, facts: dict[str, str]) -> None:
        self.formula = facts

    def begin_v(self, facts: dict[str, str]) -> None:
        if not self.in_words:
            self.has_text = True
            self.listen()

    def end_v(self) -> None:
        self.deafen()

    def begin_is(self, facts: dict[str, str]) -> None:
        self.heard()  # an inline string comes before a value that may stand beside it
        self.has_text = self.in_words = True

    def begin_rPh(self, facts: dict[str, str]) -> None:  # noqa: N802 - the format's own name
        self.aside = True  # phonetic hints also hold <t>

    def end_rPh(self) -> None:  # noqa: N802
        self.aside = False

    def begin_t(self, facts: dict[str, str]) -> None:
        if self.in_words and not self.aside:
            self.listen()

    def end_t(self) -> None:
        self.deafen()

    def end_c(self) -> None:
        kind = "words" if self.in_words else self.facts.get("t", "")
        if not (self.has_text or kind or self.formula is not None):
            return  # a look and nothing else
        formula = self.formula or {}
        reach, is_array = formula.get("ref", ""), formula.get("t") == "array"
        text = self.heard()
        self.found.append(
            Cell(
                self.facts.get("r") or f"{column_letters(self.column)}{self.row}",
                kind,
                text if self.has_text else None,
                self.formula is not None,
                reach if is_array else "",
                "" if is_array else reach,
            )
        )


class _Strings(Elements):
    def __init__(self, file: str, wanted: set[int]) -> None:
        super().__init__(file)
        self.wanted, self.place = wanted, 0
        self.found: dict[int, str] = {}
        self.aside = False

    def begin_rPh(self, facts: dict[str, str]) -> None:  # noqa: N802 - the format's own name
        self.aside = True

    def end_rPh(self) -> None:  # noqa: N802
        self.aside = False

    def begin_t(self, facts: dict[str, str]) -> None:
        if self.place in self.wanted and not self.aside:
            self.listen()

    def end_t(self) -> None:
        self.deafen()

    def end_si(self) -> None:
        if self.place in self.wanted:
            self.found[self.place] = _unescaped(self.heard())
        self.place += 1


def _unescaped(text: str) -> str:
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)


@functools.lru_cache(maxsize=20_000)
def _column(letters: str) -> int:
    return column_number(letters)


def column_of(place: str) -> int:
    """The column of a cell as a sheet writes it. Raises ValueError for any other text."""
    match = _PLACE.fullmatch(place)
    if not match:
        raise ValueError(f"{place[:20]!r} is not the address of a cell")
    return _column(match[1])


def _is_shared(cell: Cell | None) -> bool:
    return cell is not None and cell.kind == "s" and bool(cell.text)


def _number_of(package: Package, where: Address, cell: Cell | None) -> int:
    """The number of a shared string."""
    text = str(cell.text).strip() if cell else ""
    if not text.isdecimal() or len(text) > 10:
        raise _unreadable(package, where, text)
    return int(text)


def _shared(package: Package, where: Address, strings: dict[int, str], number: int) -> str:
    if number not in strings:
        raise _unreadable(package, where, f"text number {number}")
    return strings[number]


def _unreadable(package: Package, where: Address, text: str) -> WorkbookProblem:
    return WorkbookProblem(
        f"{package.file}: {where.a1} holds {text[:30]!r}, which leads to no value; "
        "type its value again in a spreadsheet program."
    )


def _value(package: Package, where: Address, cell: Cell | None) -> Value:
    if cell is None:
        return None
    if cell.kind == "words":
        return _unescaped(cell.text or "")
    if not cell.text:
        return "" if cell.kind == "str" or cell.has_formula else None
    if cell.kind == "str":
        return _unescaped(cell.text)
    if cell.kind == "e":
        return as_error(cell.text)
    if cell.kind == "b":
        return cell.text.strip() in ("1", "true")
    try:
        return as_number(float(cell.text))
    except ValueError:
        raise _unreadable(package, where, cell.text) from None
