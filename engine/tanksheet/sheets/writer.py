"""Writes a book as .xlsx: the only room that writes with openpyxl."""

from __future__ import annotations

import copy
import io
import zlib
from collections.abc import Collection, Iterable
from typing import Any

from openpyxl import Workbook
from openpyxl.chart import LineChart, Reference
from openpyxl.chart.reference import DummyWorksheet
from openpyxl.formatting.rule import Rule as FormatRule
from openpyxl.styles import (
    Alignment,
    Border,
    Font,
    NamedStyle,
    PatternFill,
    Protection,
    Side,
)
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.utils import get_column_letter
from openpyxl.utils.indexed_list import IndexedList
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from tanksheet.formula import lambda_comment, lambda_text, named_calculations
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Formula, Mark, Picture, Rule, Sheet, Spec, begins_with
from tanksheet.sheets.compiled import compiled
from tanksheet.sheets.evaluate import Settings
from tanksheet.sheets.protection import protect
from tanksheet.sheets.reference import (
    EDITION_NAME,
    ID_NAME,
    edition_cell,
    help_sheet,
    id_cell,
    sources_sheet,
    tables_sheet,
)
from tanksheet.sheets.style import FONT, INK, LOOKS, MARKS, RULE, VERDICTS, Look, opaque, style_name
from tanksheet.sheets.working import cached_values, working_sheet
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.writing import finished


def workbook_bytes(book: Book, settings: Settings | None = None) -> bytes:
    """The finished file: formulas, names, looks and cached values, the same on every machine."""
    workbook = Workbook()
    workbook.remove(workbook.active)
    _count_widths_in_our_font(workbook)
    made = compiled(book)
    texts = made.texts | {step.name: step.text for step in made.steps}
    tables, table_names = tables_sheet(book)
    working = [working_sheet(made)] if made.steps else []
    seen = [sheet for sheet in book.sheets if not sheet.hidden]
    unseen = [sheet for sheet in book.sheets if sheet.hidden]
    for sheet in (*seen, help_sheet(book), sources_sheet(book), *unseen, *working, tables):
        write_sheet(workbook.create_sheet(sheet.title), sheet, texts, book.edition)
    # Too wide or too long to print, and of no use to the person at the tank.
    for sheet in (*unseen, *working, tables):
        workbook[sheet.title].sheet_state = "hidden"
    step_names = {step.name: (step.cell,) for step in made.steps}
    own = table_names | step_names | {ID_NAME: (id_cell(),), EDITION_NAME: (edition_cell(),)}
    add_names(workbook, book.named_cells() | own, book.hidden | own.keys())
    add_lambdas(workbook)
    _properties(workbook, book)
    protect(workbook)
    stream = io.BytesIO()
    workbook.save(stream)
    return finished(stream.getvalue(), cached_values(book, made, settings or {}))


def _count_widths_in_our_font(workbook: Workbook) -> None:
    """Widths of columns are counted in digits of the file's first font (ECMA-376, 18.3.1.13).

    The font that is there belongs to the library and to all other workbooks of the process.
    """
    first = copy.copy(workbook._fonts[0])
    first.name, first.sz, first.scheme = FONT, 10, None
    workbook._fonts = IndexedList([first])
    workbook._named_styles["Normal"].font = copy.copy(first)


def write_sheet(
    target: Worksheet, sheet: Sheet, texts: dict[str, str], edition: str = "metric"
) -> None:
    looks: dict[tuple[str, str], Any] = {}
    _have_styles(target.parent)
    for spec in sheet.specs:
        _write_cell(target, spec, texts, looks)
    for column, width in enumerate(sheet.widths, 1):
        target.column_dimensions[get_column_letter(column)].width = width
    for row, height in sheet.heights.items():
        target.row_dimensions[row].height = height
    for rule in sheet.rules:
        _validate(target, rule)
    for mark in [*sheet.marks, *_verdict_marks(sheet)]:
        _mark(target, mark)
    for picture in sheet.pictures:
        _chart(target, picture)
    _printing(target, sheet, edition)


def _write_cell(
    target: Worksheet, spec: Spec, texts: dict[str, str], looks: dict[tuple[str, str], Any]
) -> None:
    cell = target.cell(spec.cell.row, spec.cell.column)
    content = spec.content
    cell.value = texts[content.key] if isinstance(content, Formula) else content
    if isinstance(content, str) and content.startswith("="):
        cell.data_type = "s"
    _dress(cell, spec, looks)
    if spec.across > 1 or spec.down > 1:
        target.merge_cells(
            start_row=cell.row,
            end_row=cell.row + spec.down - 1,
            start_column=cell.column,
            end_column=cell.column + spec.across - 1,
        )


def _have_styles(workbook: Workbook) -> None:
    """The named styles of the file: whoever dislikes one changes it once."""
    there = set(workbook.named_styles)
    for key, look in LOOKS.items():
        if style_name(key) in there:
            continue
        style = NamedStyle(style_name(key))
        style.font = Font(FONT, size=look.size, bold=look.bold, color=opaque(look.ink))
        style.alignment = Alignment(
            look.align,
            look.vertical,
            wrap_text=look.wrap,
            shrink_to_fit=look.shrink,
            indent=look.indent,
        )
        style.protection = Protection(locked=not look.unlocked)
        if look.fill:
            style.fill = PatternFill("solid", start_color=opaque(look.fill))
        style.border = _border(look)
        workbook.add_named_style(style)


def _border(look: Look) -> Border:
    sides = {
        name: Side(given[0], opaque(given[1]))
        for name in ("left", "right", "top", "bottom")
        if (given := getattr(look, name))
    }
    return Border(**sides)


def _dress(cell: Any, spec: Spec, looks: dict[tuple[str, str], Any]) -> None:
    """Gives a cell its look; one like it before lends its own, since making looks is slow."""
    key = spec.style, spec.pattern
    if key in looks:
        cell._style = copy.copy(looks[key])
        return
    cell.style = style_name(spec.style)
    if spec.pattern:
        cell.number_format = spec.pattern
    looks[key] = cell._style


def _span(cells: tuple[Address, ...]) -> str:
    first, last = cells[0].cell, cells[-1].cell
    return first if len(cells) == 1 else f"{first}:{last}"


def _validate(target: Worksheet, rule: Rule) -> None:
    if rule.list_name:
        validation = DataValidation("list", formula1=rule.list_name, allow_blank=True)
    elif rule.words:
        formula = '"' + ",".join(rule.words) + '"'
        validation = DataValidation("list", formula1=formula, allow_blank=True)
    else:
        validation = DataValidation("custom", formula1=rule.formula, allow_blank=rule.blank)
    validation.errorTitle, validation.error = rule.title, rule.message
    validation.promptTitle, validation.prompt = rule.title, rule.message
    validation.showErrorMessage = validation.showInputMessage = True
    validation.add(_span(rule.cells))
    target.add_data_validation(validation)


def _verdict_marks(sheet: Sheet) -> Iterable[Mark]:
    for spec in sheet.specs:
        cell = spec.cell.cell
        if spec.style == "verdict":
            row = spec.cell.row
            whole = tuple(Address(sheet.title, row, i + 1) for i in range(len(sheet.widths)))
            for word, look in VERDICTS.items():
                yield Mark(whole, begins_with(f"$A${row}", word), look)
        if spec.style in ("said", "said right", "card", "grid words", "grid said"):
            for word, look in VERDICTS.items():
                yield Mark((spec.cell,), begins_with(cell, word), look)
        if spec.style == "words" and isinstance(spec.content, Formula):
            # What is only odd first: of two looks the first one holds.
            yield Mark((spec.cell,), begins_with(cell, "unusual"), "caution")
            yield Mark((spec.cell,), f"LEN({cell})>0", "wrong")


def _mark(target: Worksheet, mark: Mark) -> None:
    marking = MARKS[mark.style]
    # Each format has a number of its own; those from 164 on are free.
    number = 200 + zlib.crc32(mark.pattern.encode()) % 700
    coded = NumberFormat(numFmtId=number, formatCode=mark.pattern)
    side = Side(marking.outline, opaque(INK)) if marking.outline else None
    below = Side(marking.below, opaque(RULE)) if marking.below else side
    style = DifferentialStyle(
        font=Font(color=opaque(marking.ink)),
        fill=PatternFill(bgColor=opaque(marking.fill), fill_type="solid") if marking.fill else None,
        border=Border(side, side, side, below) if below else None,
        numFmt=coded if mark.pattern else None,
    )
    rule = FormatRule("expression", dxf=style, formula=[mark.formula], stopIfTrue=True)
    target.conditional_formatting.add(_span(mark.cells), rule)


def _chart(target: Worksheet, picture: Picture) -> None:
    chart = LineChart()
    chart.title, chart.x_axis.title, chart.y_axis.title = picture.title, picture.across, picture.up
    first, last = picture.grid_cells[0], picture.grid_cells[-1]
    # The sheet that holds what is drawn may be written later: its title is enough.
    held = target if first.sheet == target.title else DummyWorksheet(first.sheet)
    data = Reference(
        held,
        min_col=first.column,
        max_col=last.column,
        min_row=picture.heading_cells[0].row,
        max_row=last.row,
    )
    chart.add_data(data, titles_from_data=True)
    rows = picture.row_cells
    chart.set_categories(
        Reference(held, min_col=rows[0].column, min_row=rows[0].row, max_row=rows[-1].row)
    )
    for line in chart.series:
        line.smooth = False
    if picture.limits:
        _against_limits(chart)
    # Lines that begin near nothing and end in the hundreds are told apart by their powers.
    chart.y_axis.scaling.logBase = 10 if picture.by_powers else None
    chart.y_axis.number_format = picture.numbers
    chart.visible_cells_only = held is target  # what is drawn may stand on a hidden sheet
    chart.x_axis.delete = chart.y_axis.delete = False
    # Without a word on it a title or legend may be drawn over the lines (ECMA-376, 21.2.2.132).
    for part in (chart.title, chart.x_axis.title, chart.y_axis.title, chart.legend):
        part.overlay = False
    chart.legend.position = "r"
    chart.height, chart.width = 0.53 * picture.rows_tall, picture.wide
    target.add_chart(chart, picture.cell.cell)


def _against_limits(chart: LineChart) -> None:
    """What was found in ink, its limits broken: told apart in grey too."""
    chart.x_axis.tickLblPos = "low"  # the rows may run below 0
    for number, line in enumerate(chart.series):
        drawn = line.graphicalProperties.line
        drawn.solidFill, drawn.width = INK if number == 0 else RULE, 19050
        drawn.dashStyle = "dash" if number else None
        line.marker.symbol = "none"  # a line held level over missing rows is no row of points


# Paper by edition: A4 or Letter, as the file format numbers them.
PAPERS = {"metric": 9, "us": 1}
MARGIN, FOOT = 12 / 25.4, 14 / 25.4  # inches


def _printing(target: Worksheet, sheet: Sheet, edition: str) -> None:
    columns = [spec.cell.column + spec.across - 1 for spec in sheet.specs if spec.style != "quiet"]
    last_row = max(max(s.cell.row + s.down - 1 for s in sheet.specs), sheet.row - 1)
    if sheet.printed and not sheet.hidden:
        target.print_area = f"A1:{get_column_letter(max(columns))}{last_row}"
    target.page_setup.orientation = "landscape" if sheet.landscape else "portrait"
    target.page_setup.paperSize = PAPERS[edition]
    if sheet.scale:
        target.page_setup.scale = sheet.scale
    else:
        target.page_setup.fitToWidth = 1
        target.page_setup.fitToHeight = 1 if sheet.one_page else 0
        target.sheet_properties.pageSetUpPr.fitToPage = True
    target.print_options.horizontalCentered = True
    for side in ("left", "right", "top", "bottom"):
        setattr(target.page_margins, side, FOOT if side == "bottom" else MARGIN)
    target.oddFooter.left.text, target.oddFooter.right.text = "&A", "page &P of &N"
    for part in (target.oddFooter.left, target.oddFooter.right):
        part.size, part.font = 9, FONT
    target.page_margins.footer = target.page_margins.header = 0.2
    target.sheet_view.showGridLines = False
    if sheet.frozen:
        target.freeze_panes = f"A{sheet.frozen + 1}"
        target.print_title_rows = f"1:{sheet.frozen}"
    for row in sheet.breaks:
        target.row_breaks.append(Break(row))
    if sheet.tab:
        target.sheet_properties.tabColor = opaque(sheet.tab)


def add_names(
    workbook: Workbook, names: dict[str, tuple[Address, ...]], hidden: Collection[str] = ()
) -> None:
    """Defines names; a program keeps the hidden ones out of the list that people read."""
    for name, cells in sorted(names.items()):
        first, last = cells[0], cells[-1]
        sheet = "'" + first.sheet.replace("'", "''") + "'"
        text = f"{sheet}!{_absolute(first)}"
        if len(cells) > 1:
            text += f":{_absolute(last)}"
        workbook.defined_names[name] = DefinedName(
            name, hidden=True if name in hidden else None, attr_text=text
        )


def _absolute(cell: Address) -> str:
    return f"${get_column_letter(cell.column)}${cell.row}"


def add_lambdas(workbook: Workbook) -> None:
    for calculation in named_calculations().values():
        workbook.defined_names[calculation.sheet_name] = DefinedName(
            calculation.sheet_name,
            attr_text=lambda_text(calculation),
            comment=lambda_comment(calculation),
        )


def _properties(workbook: Workbook, book: Book) -> None:
    workbook.properties.title = f"Tanksheet: {book.title}"
    workbook.properties.creator = "Tanksheet"
    workbook.properties.description = book.purpose
    workbook.calculation.fullCalcOnLoad = True
