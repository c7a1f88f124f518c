"""Read values as an .xlsx file stores them (ECMA-376 part 1, 18.3.1.4 and 18.18.11).

openpyxl turns numbers with a date or time format into dates rounded to the millisecond, too coarse
for a comparison at one part in a thousand million. Here numbers keep every digit. Sheets and texts
are read in pieces, so that a large file takes time but not memory.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator
from typing import Any, NamedTuple
from xml.parsers import expat

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
)
from tanksheet.xlsx.reading import Package

# A sheet of two million cells with formulas has about as many; no engine here calculates more in
# the memory that it is given.
MOST_ELEMENTS = 6_000_000
LONGEST_TEXT = 1_000_000  # characters of one cell; Excel takes 32,767
STRINGS = "xl/sharedStrings.xml"
_NUMBER_SAID = re.compile(rb"""\st\s*=\s*["']n["']""")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


class Cell(NamedTuple):
    """A cell as its sheet's part holds it.

    ``text`` is that of its value, or of its inline string, which may be there and empty; None
    stands for no value. ``array`` and ``shared`` are the range of a formula for several cells.
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
    kept = [cell for cell in found.values() if cell is not None]
    strings = _strings(package, {int(cell.text or 0) for cell in kept if cell.kind == "s"})
    return {where: _value(cell, strings) for where, cell in found.items()}


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
    for sheet, part in package.sheets.items():
        for cell in cells(package, part):
            if cell.array or cell.shared:
                bound.setdefault(sheet, []).append(block(sheet, cell.array or cell.place))
    return bound


def blank_numbers(package: Package) -> list[Address]:
    """Cells that say "number" and hold nothing, as some libraries write an empty cell."""
    return [
        address(sheet, cell.place)
        for sheet, part in package.sheets.items()
        if _says_number(package, part)
        for cell in cells(package, part)
        if cell.kind == "n" and not cell.text and not cell.has_formula
    ]


def _says_number(package: Package, part: str) -> bool:
    """Whether any cell of a sheet does; most files leave this to be understood."""
    before = b""
    for piece in package.pieces(part):
        if _NUMBER_SAID.search(before + piece):
            return True
        before = piece[-10:]
    return False


def by_sheet(package: Package, places: Iterable[Address]) -> dict[str, list[Address]]:
    """Addresses sheet by sheet. Raises WorkbookProblem for a sheet that is not there."""
    sorted_out: dict[str, list[Address]] = {}
    for where in places:
        if where.sheet not in package.sheets:
            raise WorkbookProblem(f"{package.file}: there is no sheet {where.sheet!r}.")
        sorted_out.setdefault(where.sheet, []).append(where)
    return sorted_out


def cells(package: Package, part: str) -> Iterator[Cell]:
    """The cells of a sheet's part in their order. Raises WorkbookProblem for one of no use."""
    reader = _Cells(package.file)
    for _ in package.parse(reader.parser, part):
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
    if not wanted or STRINGS not in package.parts:
        return {}
    reader = _Strings(package.file, set(wanted))
    for _ in package.parse(reader.parser, STRINGS):
        if reader.count > max(wanted):
            break
    return reader.found


class _Elements:
    """What both readers do: count elements, know the prefix, gather the text of one element."""

    def __init__(self, file: str) -> None:
        self.file, self.count_of_elements = file, 0
        self.prefix = ""
        self.pieces: list[str] = []
        self.length = 0
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._root
        self.parser.EndElementHandler = self._end

    def _root(self, name: str, facts: dict[str, str]) -> None:
        self.prefix = name[: name.find(":") + 1]
        self.parser.StartElementHandler = self._begin

    def _begin(self, name: str, facts: dict[str, str]) -> None:
        self.count_of_elements += 1
        if self.count_of_elements > MOST_ELEMENTS:
            raise WorkbookProblem(
                f"{self.file}: one of its parts has more than {MOST_ELEMENTS:,} elements; "
                "delete what it does not need."
            )
        begin: Callable[[Any, dict[str, str]], None] | None
        begin = getattr(self, f"begin_{name.removeprefix(self.prefix)}", None)
        if begin is not None:
            begin(facts)

    def _end(self, name: str) -> None:
        end: Callable[[], None] | None = getattr(
            self, f"end_{name.removeprefix(self.prefix)}", None
        )
        if end is not None:
            end()

    def listen(self) -> None:
        self.parser.CharacterDataHandler = self._hear

    def _hear(self, text: str) -> None:
        self.pieces.append(text)
        self.length += len(text)
        if self.length > LONGEST_TEXT:
            raise WorkbookProblem(
                f"{self.file}: a cell holds more than {LONGEST_TEXT:,} characters; shorten it."
            )

    def deafen(self) -> None:
        self.parser.CharacterDataHandler = None

    def heard(self) -> str:
        text = "".join(self.pieces)
        self.pieces.clear()
        self.length = 0
        return text


class _Cells(_Elements):
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
        self.column += 1
        self.facts, self.formula = facts, None
        self.has_text = self.in_words = self.aside = False

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
        formula = self.formula or {}
        reach, is_array = formula.get("ref", ""), formula.get("t") == "array"
        text = self.heard()
        self.found.append(
            Cell(
                self.facts.get("r") or f"{column_letters(self.column)}{self.row}",
                "words" if self.in_words else self.facts.get("t", "n"),
                text if self.has_text else None,
                self.formula is not None,
                reach if is_array else "",
                "" if is_array else reach,
            )
        )


class _Strings(_Elements):
    def __init__(self, file: str, wanted: set[int]) -> None:
        super().__init__(file)
        self.wanted, self.count = wanted, 0
        self.found: dict[int, str] = {}
        self.aside = False

    def begin_rPh(self, facts: dict[str, str]) -> None:  # noqa: N802 - the format's own name
        self.aside = True

    def end_rPh(self) -> None:  # noqa: N802
        self.aside = False

    def begin_t(self, facts: dict[str, str]) -> None:
        if self.count in self.wanted and not self.aside:
            self.listen()

    def end_t(self) -> None:
        self.deafen()

    def end_si(self) -> None:
        if self.count in self.wanted:
            self.found[self.count] = _unescaped(self.heard())
        self.count += 1


def _unescaped(text: str) -> str:
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)


def _value(cell: Cell | None, strings: dict[int, str]) -> Value:
    if cell is None:
        return None
    if cell.kind == "words":
        return _unescaped(cell.text or "")
    if not cell.text:
        return "" if cell.kind == "str" or cell.has_formula else None
    if cell.kind == "s":
        return strings.get(int(cell.text), "")
    if cell.kind == "str":
        return _unescaped(cell.text)
    if cell.kind == "e":
        return as_error(cell.text)
    return cell.text == "1" if cell.kind == "b" else as_number(float(cell.text))
