"""A comparison as a workbook: what differs, side by side, and a chart of the results."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any
from xml.etree import ElementTree

from openpyxl import Workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter

from tanksheet.errors import SheetError
from tanksheet.sheets.compare import Comparison, Line
from tanksheet.subset import is_number
from tanksheet.xlsx.writing import finished, read_parts, write_parts

SHEET, CHART = "Comparison", "Chart"
FONT, INK, LEAF = "Arial", "FF22302B", "FF24604A"
NAME, UNIT, FIRST = 1, 2, 3  # columns: a name with its meaning, its unit, then the files
MOST_BARS = 20
LETTERS = 24  # that a column of values holds in a line
# Of the files in their order; they differ in lightness, so that grey print tells them apart.
BARS = ("22302B", "4F9A7A", "C9DDD3", "8A5A00", "E0A83C", "F6E3B8")
DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"


def comparison_bytes(found: Comparison) -> bytes:
    """The package, the same on every machine; a chart in it has a title and a text in its place."""
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = SHEET
    _put(sheet, 1, NAME, f"Comparison: {found.title}".removesuffix(": "), bold=True, size=16)
    row = 2
    for title, lines, same in (
        ("Inputs", found.inputs, found.same_inputs),
        ("Results", found.results, found.same_results),
    ):
        row = _section(sheet, row + 1, title, lines, same, found.files)
    _looks(sheet, found)
    charted = _charted(found.results)
    text = _chart(workbook.create_sheet(CHART), charted, found.files) if charted else ""
    if not charted:
        _put(sheet, row + 1, NAME, "No number among the results differs, so there is no chart.")
    workbook.properties.title = f"Tanksheet: comparison of {', '.join(found.files)}"
    workbook.properties.creator = "Tanksheet"
    stream = io.BytesIO()
    workbook.save(stream)
    return _described(finished(stream.getvalue(), {}), text)


def _section(
    sheet: Any, row: int, title: str, lines: Sequence[Line], same: int, files: Sequence[str]
) -> int:
    """A table of what differs; gives the row below it."""
    heads = [f"{title}: {len(lines) or 'none'} of {len(lines) + same} differ", "Unit", *files]
    heads += [f"{file}: change, %" for file in files[1:]]
    for column, head in enumerate(heads, 1):
        cell = _put(sheet, row, column, head, bold=True, ink="FFFFFFFF")
        cell.fill = PatternFill("solid", start_color=LEAF)
        cell.alignment = Alignment("right" if column >= FIRST else "left", "center", wrap_text=True)
    sheet.row_dimensions[row].height = 27
    for line in lines:
        row += 1
        meaning = f"{line.name}: {line.meaning}" if line.meaning else line.name
        shared = line.units[0] if len(set(line.units)) == 1 else ""
        _put(sheet, row, NAME, meaning)
        _put(sheet, row, UNIT, shared)
        for i, value in enumerate(line.values):
            _put(sheet, row, FIRST + i, value if shared or not line.units[i] else line.said()[i])
        for i, change in enumerate(line.changes()[1:]):
            _put(sheet, row, FIRST + len(files) + i, change, pattern="+0.0;-0.0;0")
        longest = max(len(meaning) / 2, *(len(str(value)) for value in line.values))
        sheet.row_dimensions[row].height = 13.5 * (1 + longest // LETTERS)
    return row + 1


def _put(
    sheet: Any,
    row: int,
    column: int,
    value: Any,
    *,
    bold: bool = False,
    size: float = 10,
    ink: str = INK,
    pattern: str = "",
) -> Any:
    cell = sheet.cell(row, column)
    cell.value = str(value) if isinstance(value, SheetError) else value
    if isinstance(value, str):
        cell.data_type = "s"  # words that begin with = stay words
    cell.font = Font(FONT, size=size, bold=bold, color=ink)
    plain = is_number(value)
    cell.alignment = Alignment("right" if plain else "left", "top", wrap_text=not plain)
    if plain:
        cell.number_format = pattern or "#,##0.####"
    return cell


def _looks(sheet: Any, found: Comparison) -> None:
    files = len(found.files)
    sheet.column_dimensions["A"].width = 46
    sheet.column_dimensions["B"].width = 11
    for column in range(FIRST, FIRST + 2 * files - 1):
        is_change = column >= FIRST + files
        sheet.column_dimensions[get_column_letter(column)].width = 12 if is_change else LETTERS + 2
    sheet.cell(1, NAME).alignment = Alignment("left", "center")
    sheet.row_dimensions[1].height = 26
    sheet.freeze_panes = sheet.cell(2, FIRST)
    _printing(sheet, 0)


def _printing(sheet: Any, pages_high: int) -> None:
    sheet.page_setup.orientation, sheet.page_setup.paperSize = "landscape", 9
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, pages_high
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.sheet_view.showGridLines = False


def _charted(lines: Sequence[Line]) -> list[Line]:
    """The numbers that a chart can hold against the first file, those that differ most."""
    able = [
        line
        for line in lines
        if all(is_number(v) for v in line.values)
        and line.values[0] != 0
        and any(change is not None for change in line.changes())
    ]
    able.sort(key=lambda line: -max(abs(change or 0) for change in line.changes()))
    return able[:MOST_BARS]


def _chart(sheet: Any, lines: Sequence[Line], files: Sequence[str]) -> str:
    """Bars for each result, the first file being 100; gives the words that stand for the chart."""
    sheet.column_dimensions["A"].width = 30
    for column, head in enumerate(["Result, % of the first file", *files], 1):
        _put(sheet, 1, column, head, bold=True)
        if column > 1:
            sheet.column_dimensions[get_column_letter(column)].width = 16
    for i, line in enumerate(lines, 2):
        _put(sheet, i, 1, line.name)
        for j, change in enumerate(line.changes(), 2):
            _put(sheet, i, j, 100 + (change or 0), pattern="0.0")
    last = len(lines) + 1
    chart = BarChart()
    chart.type = "bar"
    chart.title = f"Results as a share of {files[0]} (100 %)"
    chart.x_axis.title, chart.y_axis.title = "Result", "%"
    data = Reference(sheet, min_col=2, max_col=1 + len(files), min_row=1, max_row=last)
    chart.add_data(data, titles_from_data=True)
    chart.set_categories(Reference(sheet, min_col=1, min_row=2, max_row=last))
    for i, bars in enumerate(chart.series):
        bars.graphicalProperties.solidFill = BARS[i % len(BARS)]
        bars.graphicalProperties.line.solidFill = BARS[0]
    chart.x_axis.scaling.orientation = "maxMin"  # the first result stands at the top
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.y_axis.number_format = "0"
    # Without a word on it a title or legend may be drawn over the bars (ECMA-376, 21.2.2.132).
    for part in (chart.title, chart.x_axis.title, chart.y_axis.title, chart.legend):
        part.overlay = False
    chart.legend.position = "b"
    chart.height, chart.width = 5 + 0.4 * len(lines) * len(files), 26
    sheet.add_chart(chart, f"A{last + 2}")
    _printing(sheet, 1)
    return _words(lines, files)


def _words(lines: Sequence[Line], files: Sequence[str]) -> str:
    """What the chart shows, for whoever cannot see it."""
    told = []
    for line in lines[:3]:
        shares = [
            f"{100 + (change or 0):.0f} % in {file}"
            for file, change in zip(files[1:], line.changes()[1:], strict=True)
        ]
        told.append(f"{line.name} {', '.join(shares)}")
    return (
        f"Bars for {len(lines)} results that differ, {files[0]} being 100 %. "
        f"The largest changes: {'; '.join(told)}."
    )


def _described(package: bytes, text: str) -> bytes:
    """The package with words in the place of its chart."""
    parts = read_parts(package)
    for name in [each for each in parts if each.startswith("xl/drawings/drawing")]:
        ElementTree.register_namespace("xdr", DRAWING)
        for prefix, space in _spaces(parts[name]):
            ElementTree.register_namespace(prefix, space)
        root = ElementTree.fromstring(parts[name])
        for shape in root.iter(f"{{{DRAWING}}}cNvPr"):
            shape.set("descr", text)
        parts[name] = bytes(ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True))
    return write_parts(parts)


def _spaces(part: bytes) -> list[tuple[str, str]]:
    return [each for _, each in ElementTree.iterparse(io.BytesIO(part), ["start-ns"]) if each[0]]
