"""Copy an .xlsx file with some cells set, for an engine that recalculates it at once.

The new cells are put into the text of a sheet's part where they belong, piece by piece; every other
byte stays. The stored results of formulas stay too, and so are out of date.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.elements import Elements, utf8_pieces
from tanksheet.xlsx.markup import Edit, edited, end_of_tag, is_empty_tag
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import by_sheet, column_of

_KIND = re.compile(r"""\st\s*=\s*("[^"]*"|'[^']*')""")
_FORMULA = re.compile(r"(?s)<(?:\w+:)?f(?:\s[^>]*)?(?:/>|>.*?</(?:\w+:)?f\s*>)")
_STORED = re.compile(r"(?s)<(?:\w+:)?(v|is)(?:\s[^>]*)?(?:/>|>.*?</(?:\w+:)?\1\s*>)")
# What the format spells as _xHHHH_ (ECMA-376 part 1, 22.9.2.19), and an underscore that would be
# read as the beginning of that.
_SPELLED = re.compile(r"[\x00-\x08\x0b-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")


def write_values(package: Package, target: Path, inputs: Mapping[Address, Value]) -> None:
    """Writes the copy.

    Raises WorkbookProblem when a sheet is not in the file. Cells that ``bound_cells`` names must
    not be set.
    """
    copy_with(package, target, placed_parts(package, inputs))


def placed_parts(
    package: Package,
    inputs: Mapping[Address, Value],
    results: Mapping[Address, Value] | None = None,
) -> dict[str, Iterator[bytes]]:
    """The parts that change, each in pieces.

    ``results`` are what formulas give now: they take the place of the stored values, and the
    formulas stay; a cell without a formula takes none.

    Raises WorkbookProblem as ``write_values`` does.
    """
    given, results = dict(inputs), results or {}
    changed = {}
    for sheet, places in by_sheet(package, {**results, **given}).items():
        values = {where: given[where] for where in places if where in given}
        mine = {where: results[where] for where in places if where not in given}
        part = package.sheets[sheet]
        changed[part] = _placed(package, part, sheet, values, mine)
    return changed


def copy_with(package: Package, target: Path, changed: Mapping[str, Iterator[bytes]]) -> None:
    """Writes a copy, not packed, in which some parts have another content."""
    with zipfile.ZipFile(target, "w") as copy:
        for part in package.parts:
            with copy.open(zipfile.ZipInfo(part), "w", force_zip64=True) as stream:
                for piece in changed.get(part) or package.pieces(part):
                    stream.write(piece)


def _placed(
    package: Package,
    part: str,
    sheet: str,
    values: Mapping[Address, Value],
    results: Mapping[Address, Value],
) -> Iterator[bytes]:
    """A sheet's part with the values and results in it, in UTF-8."""
    placer = _Placer(package.file, sheet, values, results)
    for _ in package.parse(placer, part):
        yield placer.settled()
    yield placer.rest()


class _Placer(Elements):
    """Finds where each cell stands, or would stand, and keeps of the part what is not yet settled.

    Places are counted in bytes from the part's beginning; ``kept`` begins at ``at``.
    """

    def __init__(
        self,
        file: str,
        sheet: str,
        values: Mapping[Address, Value],
        results: Mapping[Address, Value],
    ) -> None:
        super().__init__(file)
        self.sheet, self.values = sheet, values
        self.results = {(where.row, where.column): value for where, value in results.items()}
        self.result: tuple[int, Value] | None = None
        self.rows: dict[int, list[Address]] = {}
        for where in sorted(values):
            self.rows.setdefault(where.row, []).append(where)
        self.edits: list[Edit] = []
        self.kept, self.at = bytearray(), 0
        self.row = self.column = 0
        self.open: tuple[Address, int, str] | None = None
        self.empty_row = self.empty_data = 0  # where such a tag ends; 0 for one with content

    def arriving(self, pieces: Iterator[bytes]) -> Iterator[bytes]:
        for piece in utf8_pieces(pieces):
            self.kept += piece
            yield piece

    def settled(self) -> bytes:
        """What will not change any more of the bytes that have come."""
        begun = self.open[1:2] if self.open else self.result[:1] if self.result else ()
        return self._taken(*begun) if begun else self._taken(self.parser.CurrentByteIndex)

    def rest(self) -> bytes:
        if self.rows:
            raise WorkbookProblem(
                f"{self.file}: sheet {self.sheet!r} has no place for cells; open and save it again."
            )
        return self._taken(self.at + len(self.kept))

    def _taken(self, end: int) -> bytes:
        if end <= self.at:
            return b""
        here = [Edit(e.start - self.at, e.end - self.at, e.text) for e in self.edits]
        done = edited(bytes(self.kept[: end - self.at]), here)
        del self.kept[: end - self.at]
        self.at = end
        self.edits.clear()
        return done

    # where things stand

    def begin_sheetData(self, _: dict[str, str]) -> None:  # noqa: N802 - the format's own name
        self.empty_data = self._end_if_empty()

    def begin_row(self, facts: dict[str, str]) -> None:
        self.row = int(facts["r"]) if "r" in facts else self.row + 1
        self.column = 0
        self.empty_row = self._end_if_empty()
        self._new_rows(self.row, self.parser.CurrentByteIndex)

    def begin_c(self, facts: dict[str, str]) -> None:
        self.column = column_of(facts["r"]) if "r" in facts else self.column + 1
        waiting = self.rows.get(self.row)
        if waiting:
            self._new_cells(self.column, self.parser.CurrentByteIndex)
        if (self.row, self.column) in self.results:
            value = self.results[self.row, self.column]
            self.result = self.parser.CurrentByteIndex, value
        if waiting and waiting[0].column == self.column:
            self.open = waiting.pop(0), self.parser.CurrentByteIndex, facts.get("s", "")

    def end_c(self) -> None:
        if self.result:
            self._put_result(*self.result)
            self.result = None
        if not self.open:
            return
        where, start, style = self.open
        opened = self._tag_end(start)
        empty = is_empty_tag(self.kept, opened - self.at)
        end = opened if empty else self._tag_end(self.parser.CurrentByteIndex)
        self.edits.append(Edit(start, end, self._cell(where, style)))
        self.open = None

    def end_row(self) -> None:
        waiting = self.rows.pop(self.row, None)
        if waiting:
            cells = "".join(self._cell(where) for where in waiting)
            self._put_inside("row", self.empty_row, cells)

    def end_sheetData(self) -> None:  # noqa: N802
        if self.rows:
            self._put_inside("sheetData", self.empty_data, "".join(map(self._row, self.rows)))
            self.rows.clear()

    def _tag_end(self, start: int) -> int:
        return self.at + end_of_tag(self.kept, start - self.at)

    def _end_if_empty(self) -> int:
        end = self._tag_end(self.parser.CurrentByteIndex)
        return end if is_empty_tag(self.kept, end - self.at) else 0

    def _put_inside(self, element: str, end_if_empty: int, text: str) -> None:
        """Text behind the content of the element that ends here, also of an empty one."""
        if end_if_empty:
            closed = f">{text}</{self.prefix}{element}>"
            self.edits.append(Edit(end_if_empty - 2, end_if_empty, closed))
        else:
            at = self.parser.CurrentByteIndex
            self.edits.append(Edit(at, at, text))

    def _new_rows(self, before: int, at: int) -> None:
        for row in [row for row in self.rows if row < before]:
            self.edits.append(Edit(at, at, self._row(row)))
            del self.rows[row]

    def _new_cells(self, before: int, at: int) -> None:
        waiting = self.rows[self.row]
        while waiting and waiting[0].column < before:
            self.edits.append(Edit(at, at, self._cell(waiting.pop(0))))

    def _put_result(self, start: int, value: Value) -> None:
        """Another stored value behind the formula of the cell that ends here."""
        end = self._tag_end(self.parser.CurrentByteIndex)
        opened = self._tag_end(start) - self.at
        tag = self.kept[start - self.at : opened].decode()
        if is_empty_tag(self.kept, opened):
            return
        inside = self.kept[opened : self.parser.CurrentByteIndex - self.at].decode()
        kind, stored = _result(value, self.prefix)
        formula, others = _FORMULA.search(inside), _STORED.sub("", _FORMULA.sub("", inside))
        if not formula:
            return
        tag = _KIND.sub("", tag)[:-1].rstrip()
        text = f"{tag}{kind}>{formula[0]}{stored}{others}</{self.prefix}c>"
        self.edits.append(Edit(start, end, text))

    # what is put there

    def _row(self, row: int) -> str:
        cells = "".join(self._cell(where) for where in self.rows[row])
        return f'<{self.prefix}row r="{row}">{cells}</{self.prefix}row>'

    def _cell(self, where: Address, style: str = "") -> str:
        kind, inner = _content(self.values[where], self.prefix)
        facts = f' r="{where.cell}"' + (f" s={quoteattr(style)}" if style else "") + kind
        closed = f">{inner}</{self.prefix}c>" if inner else "/>"
        return f"<{self.prefix}c{facts}{closed}"


def _result(value: Value, prefix: str) -> tuple[str, str]:
    """The type of a cell with a formula, and its stored value."""
    if isinstance(value, str) and not isinstance(value, SheetError):
        words = escape(_SPELLED.sub(lambda found: f"_x{ord(found[0]):04X}_", value))
        return ' t="str"', f"<{prefix}v>{words}</{prefix}v>"
    return _content(value, prefix)


def _content(value: Value, prefix: str) -> tuple[str, str]:
    """The type of a cell and what stands in it."""
    if value is None:
        return "", ""
    if isinstance(value, SheetError):
        return ' t="e"', f"<{prefix}v>{value}</{prefix}v>"
    if value == "":
        # A constant of no characters would be read back as an empty cell.
        return "", f'<{prefix}f>""</{prefix}f>'
    if isinstance(value, str):
        words = escape(_SPELLED.sub(lambda found: f"_x{ord(found[0]):04X}_", value))
        return ' t="inlineStr"', (
            f'<{prefix}is><{prefix}t xml:space="preserve">{words}</{prefix}t></{prefix}is>'
        )
    if isinstance(value, bool):
        return ' t="b"', f"<{prefix}v>{int(value)}</{prefix}v>"
    return ' t="n"', f"<{prefix}v>{value!r}</{prefix}v>"
