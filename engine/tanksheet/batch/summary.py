"""summary.xlsx: what the co-op owes and orders at a glance, and where the money goes."""

from __future__ import annotations

import copy
import io
from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from xml.etree import ElementTree

import numpy as np
from openpyxl import Workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.chart.data_source import AxDataSource, StrRef
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from tanksheet.batch.layout import GRAINS, NUTRIENTS
from tanksheet.batch.money import Bill, Use
from tanksheet.batch.outputs import left_over
from tanksheet.batch.priced import Priced
from tanksheet.batch.programs import Known
from tanksheet.sheets.style import FONT, LEAF, PAPER
from tanksheet.xlsx.writing import finished, read_parts, write_parts

KG, MONEY, COUNT = "#,##0.###", "#,##0.00", "#,##0"
CHARTED = 12  # products, those that cost most
MOST_MEMBERS = 500  # on the sheet; statements.csv has all
DRAWING = "xl/drawings/drawing1.xml"
_SPACES = {
    "xdr": "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing",
    "a": "http://schemas.openxmlformats.org/drawingml/2006/main",
    "c": "http://schemas.openxmlformats.org/drawingml/2006/chart",
    "r": "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
}

Row = Sequence[Any]


class _Book(Workbook):  # type: ignore[misc]
    """A workbook that remembers the looks of its cells, by pattern and boldness."""

    def __init__(self) -> None:
        super().__init__()
        self.looks: dict[tuple[str | None, int], Any] = {}


def summary(done: Priced, used: Use, owed: Bill, known: Known, names: Mapping[str, str]) -> bytes:
    """The workbook, the same for the same figures."""
    book = _Book()
    front = book.active
    front.title = "Summary"
    largest = _largest(owed, known.products)
    _front(front, done, largest)
    _table(book.create_sheet("Order"), f"The order, in {done.currency}", *_order(used, owed, known))
    _members(book.create_sheet("Members"), done, used, owed, known, names)
    nutrients = _nutrients(used, known)
    if nutrients:
        head = ("nutrient", "kg")
        told = "What the products used bring, by their labels"
        _table(book.create_sheet("Nutrients"), told, head, nutrients, (None, KG))
    if len(done.scenarios) > 1:
        _scenarios(book.create_sheet("Scenarios"), done)
    if done.reasons:
        rows = [(file, reason, count) for (file, reason), count in sorted(done.reasons.items())]
        told = "Rejected rows; rejects.csv has each of them"
        _table(
            book.create_sheet("Rejects"),
            told,
            ("file", "reason", "rows"),
            rows,
            (None, None, COUNT),
        )
    book.properties.title, book.properties.creator = "Tanksheet: co-op summary", "Tanksheet"
    stream = io.BytesIO()
    book.save(stream)
    return _with_words(finished(stream.getvalue(), {}), _chart_words(done, largest))


def _front(sheet: Worksheet, done: Priced, largest: list[tuple[str, float]]) -> None:
    scenario = f", scenario {done.scenario}" if done.scenario else ""
    how = "rounded up once for the co-op" if done.is_pooled else "rounded up for each member"
    saves = "pooling saves" if done.is_pooled else "pooling would save"
    lines: list[tuple[str, Any, str | None]] = [
        (f"cost ({done.currency}{scenario})", done.cost / 100, MONEY),
        (f"packs, {how}", done.packs, COUNT),
        (saves, done.saving / 100, MONEY),
        ("members with a statement", done.members, COUNT),
        ("products", done.products, COUNT),
        ("rows read", done.rows.read, COUNT),
        ("rows accepted", done.rows.accepted, COUNT),
        ("rows rejected (rejects.csv says why)", done.rows.rejected, COUNT),
    ]
    _title(sheet, "What the co-op owes")
    for place, (label, value, pattern) in enumerate(lines, 3):
        _put(sheet, place, 1, label)
        _put(sheet, place, 2, value, pattern, place == 3)
    first = len(lines) + 5
    _head(sheet, first - 1, ("product", f"cost, {done.currency}"))
    for place, (product, cost) in enumerate(largest, first):
        _put(sheet, place, 1, product)
        _put(sheet, place, 2, cost, MONEY)
    _widths(sheet, (44, 18))
    if largest:
        _chart(sheet, first, first + len(largest) - 1, done.currency)


def _largest(owed: Bill, products: Sequence[str]) -> list[tuple[str, float]]:
    costs = [(-cost, name) for cost, name in zip(owed.order_cents, products, strict=True) if cost]
    return [(name, -cost / 100) for cost, name in sorted(costs)[:CHARTED]]


def _chart(sheet: Worksheet, first: int, last: int, currency: str) -> None:
    chart = BarChart()
    chart.type, chart.gapWidth, chart.legend = "bar", 40, None
    chart.title = CHART_TITLE
    chart.x_axis.title, chart.y_axis.title = "product", f"cost, {currency}"
    chart.add_data(Reference(sheet, min_col=2, min_row=first, max_row=last))
    words = StrRef(f"'{sheet.title}'!$A${first}:$A${last}")
    chart.series[0].cat = AxDataSource(strRef=words)
    chart.series[0].graphicalProperties.solidFill = LEAF
    chart.x_axis.scaling.orientation = "maxMin"  # the largest on top
    chart.y_axis.number_format = COUNT
    chart.x_axis.delete = chart.y_axis.delete = False
    # Without a word on it a title may be drawn over the bars (ECMA-376, 21.2.2.132).
    for part in (chart.title, chart.x_axis.title, chart.y_axis.title):
        part.overlay = False
    chart.height, chart.width = 11, 20
    sheet.add_chart(chart, "D3")


CHART_TITLE = "Where the money goes: cost by product"


def _chart_words(done: Priced, largest: list[tuple[str, float]]) -> str:
    """What the chart shows, for those who do not see it."""
    told = "; ".join(f"{name} {cost:,.2f}" for name, cost in largest[:5])
    return f"Bar chart of cost by product in {done.currency}, largest first: {told}"


def _with_words(package: bytes, words: str) -> bytes:
    """The package with a text for the chart, which the library does not write."""
    parts = read_parts(package)
    if DRAWING not in parts:
        return package
    for prefix, space in _SPACES.items():
        ElementTree.register_namespace(prefix, space)
    root = ElementTree.fromstring(parts[DRAWING])
    for frame in root.iter(f"{{{_SPACES['xdr']}}}cNvPr"):
        frame.set("name", CHART_TITLE)
        frame.set("descr", words)
    parts[DRAWING] = ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True)
    return write_parts(parts)


def _order(used: Use, owed: Bill, known: Known) -> tuple[Row, list[Row], Row]:
    rows: list[Row] = []
    for at, name in enumerate(known.products):
        if len(used.groups[at]):
            left = left_over(owed.order_packs[at], known.made[name], used.sums[at])
            kg = used.sums[at] / GRAINS, left / GRAINS
            rows.append((name, kg[0], owed.order_packs[at], kg[1], owed.order_cents[at] / 100))
    head = ("product", "used_kg", "packs", "left_over_kg", "cost")
    return head, rows, (None, KG, COUNT, KG, MONEY)


def _members(
    sheet: Worksheet, done: Priced, used: Use, owed: Bill, known: Known, names: Mapping[str, str]
) -> None:
    """A line for each member; of many, those who owe most."""
    count = len(known.members)
    products = np.bincount(used.members, minlength=count)
    packs, cents = np.zeros(count, np.int64), np.zeros(count, np.int64)
    np.add.at(packs, used.members, owed.packs)
    np.add.at(cents, used.members, owed.cents)
    there = np.flatnonzero(products)
    told = f"What each member owes, in {done.currency}"
    if len(there) > MOST_MEMBERS:
        told += f": the {MOST_MEMBERS:,} who owe most of {len(there):,}; statements.csv has all"
        there = there[np.argsort(-cents[there], kind="stable")[:MOST_MEMBERS]]
    rows = [
        (known.members[at], names[known.members[at]], products[at], packs[at], cents[at] / 100)
        for at in there.tolist()
    ]
    head = ("member", "name", "products", "packs", "cost")
    _table(sheet, told, head, rows, (None, None, COUNT, COUNT, MONEY))


def _nutrients(used: Use, known: Known) -> list[Row]:
    rows: list[Row] = []
    for nutrient in NUTRIENTS:
        label = [known.made[name].label.get(nutrient, 0.0) for name in known.products]
        kg = sum(total / GRAINS * each / 100 for total, each in zip(used.sums, label, strict=True))
        if kg:
            rows.append((nutrient, kg))
    return rows


def _scenarios(sheet: Worksheet, done: Priced) -> None:
    rows = [
        (name or "(no scenario)", "a product has no price" if cost is None else cost / 100)
        for name, cost in done.scenarios.items()
    ]
    told = f"What the same packs cost at each scenario's prices, in {done.currency}"
    _table(sheet, told, ("scenario", "cost"), rows, (None, MONEY))


def _table(
    sheet: Worksheet, told: str, head: Row, rows: Iterable[Row], patterns: Sequence[str | None]
) -> None:
    _title(sheet, told)
    _head(sheet, 3, head)
    for place, row in enumerate(rows, 4):
        for column, (value, pattern) in enumerate(zip(row, patterns, strict=True), 1):
            _put(sheet, place, column, value, pattern)
    sheet.freeze_panes = "A4"
    _widths(sheet, [36 if pattern is None else 16 for pattern in patterns])


def _title(sheet: Worksheet, text: str) -> None:
    _put(sheet, 1, 1, text)
    sheet["A1"].font = Font(FONT, size=14, bold=True, color=LEAF)
    sheet.sheet_view.showGridLines = False
    sheet.page_setup.paperSize = 9
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def _head(sheet: Worksheet, row: int, words: Row) -> None:
    for column, text in enumerate(words, 1):
        cell = sheet.cell(row, column, text)
        cell.font = Font(FONT, bold=True, color=PAPER)
        cell.fill = PatternFill("solid", start_color=LEAF)
        cell.alignment = Alignment("left" if column == 1 else "right")


def _put(
    sheet: Worksheet, row: int, column: int, value: Any, pattern: str | None = None, strong: int = 0
) -> None:
    cell = sheet.cell(row, column, value.item() if isinstance(value, np.integer) else value)
    if isinstance(value, str):
        cell.data_type, pattern = "s", None  # a name that begins with = is no formula
    looks = sheet.parent.looks
    if (pattern, strong) in looks:  # one like it lends its own, since making looks is slow
        cell._style = copy.copy(looks[pattern, strong])
        return
    cell.font = Font(FONT, bold=bool(strong))
    if pattern:
        cell.number_format = pattern
    looks[pattern, strong] = cell._style


def _widths(sheet: Worksheet, widths: Sequence[float]) -> None:
    for column, width in enumerate(widths, 1):
        sheet.column_dimensions[get_column_letter(column)].width = width
