"""Copy an .xlsx file with some cells set, for an engine that recalculates it at once.

The new cells are put into the text of a sheet's part where they belong; every other byte stays. The
stored results of formulas stay too, and so are out of date.
"""

from __future__ import annotations

import zipfile
from collections.abc import Mapping
from pathlib import Path
from xml.parsers import expat
from xml.sax.saxutils import escape

from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.xlsx.address import Address, Value, address
from tanksheet.xlsx.markup import Edit, as_utf8, edited, end_of_tag, is_empty_tag
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import by_sheet


def write_values(package: Package, target: Path, inputs: Mapping[Address, Value]) -> None:
    """Writes the copy.

    Raises WorkbookProblem when a sheet is not in the file. Cells that ``bound_cells`` names must
    not be set.
    """
    changed = {}
    for sheet, places in by_sheet(package, inputs).items():
        part = package.sheets[sheet]
        markup = as_utf8(package.read(part), package.file)
        values = {where: inputs[where] for where in places}
        changed[part] = edited(markup, _Placer(package.file, sheet, markup, values).edits)
    with zipfile.ZipFile(target, "w") as copy:
        for part in package.parts:
            with copy.open(zipfile.ZipInfo(part), "w", force_zip64=True) as stream:
                if part in changed:
                    stream.write(changed[part])
                    continue
                for piece in package.pieces(part):
                    stream.write(piece)


class _Placer:
    """Finds where each cell stands, or would stand, in the markup of a sheet."""

    def __init__(
        self, file: str, sheet: str, markup: bytes, values: Mapping[Address, Value]
    ) -> None:
        self.sheet, self.markup, self.values = sheet, markup, values
        self.rows: dict[int, list[Address]] = {}
        for where in sorted(values):
            self.rows.setdefault(where.row, []).append(where)
        self.edits: list[Edit] = []
        self.prefix, self.row, self.column = "", 0, 0
        self.open: tuple[Address, int, str] | None = None
        self.row_tag = self.data_tag = 0
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self._begin
        self.parser.EndElementHandler = self._end
        self.parser.Parse(markup, True)
        if self.rows:
            raise WorkbookProblem(f"{file}: a sheet has no cells' part; open and save it again.")

    def _begin(self, name: str, facts: dict[str, str]) -> None:
        if name == f"{self.prefix}row":
            self.row = int(facts["r"]) if "r" in facts else self.row + 1
            self.column = 0
            self.row_tag = self.parser.CurrentByteIndex
            self._new_rows(self.row, self.row_tag)
        elif name == f"{self.prefix}c" and self.row in self.rows:
            here = address(self.sheet, facts["r"]).column if "r" in facts else self.column + 1
            self.column = here
            self._new_cells(here, self.parser.CurrentByteIndex)
            if self.rows[self.row][:1] == [Address(self.sheet, self.row, here)]:
                where = self.rows[self.row].pop(0)
                self.open = where, self.parser.CurrentByteIndex, facts.get("s", "")
        elif name == f"{self.prefix}sheetData":
            self.data_tag = self.parser.CurrentByteIndex
        elif not self.prefix and name.endswith(":worksheet"):
            self.prefix = name.removesuffix("worksheet")

    def _end(self, name: str) -> None:
        at = self.parser.CurrentByteIndex
        if name == f"{self.prefix}c" and self.open:
            where, start, style = self.open
            opened = end_of_tag(self.markup, start)
            empty = is_empty_tag(self.markup, opened)
            end = opened if empty else end_of_tag(self.markup, at)
            self.edits.append(Edit(start, end, self._cell(where, style)))
            self.open = None
        elif name == f"{self.prefix}row" and self.row in self.rows:
            cells = "".join(self._cell(where) for where in self.rows.pop(self.row))
            self.edits.append(self._inside(f"{self.prefix}row", self.row_tag, at, cells))
        elif name == f"{self.prefix}sheetData":
            rows = "".join(self._row(row) for row in sorted(self.rows))
            self.rows.clear()
            self.edits.append(self._inside(name, self.data_tag, at, rows))

    def _inside(self, name: str, start: int, at: int, text: str) -> Edit:
        """Text behind the content of the element that ends at ``at``, also of an empty one."""
        end = end_of_tag(self.markup, start)
        if is_empty_tag(self.markup, end):
            return Edit(end - 2, end, f">{text}</{name}>")
        return Edit(at, at, text)

    def _new_rows(self, before: int, at: int) -> None:
        for row in [row for row in self.rows if row < before]:
            self.edits.append(Edit(at, at, self._row(row)))
            del self.rows[row]

    def _new_cells(self, before: int, at: int) -> None:
        while self.rows[self.row] and self.rows[self.row][0].column < before:
            self.edits.append(Edit(at, at, self._cell(self.rows[self.row].pop(0))))

    def _row(self, row: int) -> str:
        cells = "".join(self._cell(where) for where in self.rows[row])
        return f'<{self.prefix}row r="{row}">{cells}</{self.prefix}row>'

    def _cell(self, where: Address, style: str = "") -> str:
        kind, inner = _content(self.values[where], self.prefix)
        facts = f' r="{where.cell}"' + (f' s="{style}"' if style else "") + kind
        return (
            f"<{self.prefix}c{facts}>{inner}</{self.prefix}c>"
            if inner
            else (f"<{self.prefix}c{facts}/>")
        )


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
        words = escape(value)
        return ' t="inlineStr"', (
            f'<{prefix}is><{prefix}t xml:space="preserve">{words}</{prefix}t></{prefix}is>'
        )
    if isinstance(value, bool):
        return ' t="b"', f"<{prefix}v>{int(value)}</{prefix}v>"
    return ' t="n"', f"<{prefix}v>{value!r}</{prefix}v>"
