"""What a person sees and prints: one page a sheet, a Safety block, a Sources sheet."""

from __future__ import annotations

import io
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from engines_needed import need
from package_edits import GetPackage, GetWorkbook
from tanksheet.recalc import ENGINES, convert
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.reference import SOURCES, used_calculations
from tanksheet.templates import TEMPLATES, book

every_workbook = pytest.mark.parametrize("name", TEMPLATES)


def sheets(package: bytes) -> dict[str, Worksheet]:
    workbook = load_workbook(io.BytesIO(package))
    return {sheet.title: sheet for sheet in workbook}


def printed(package: bytes) -> dict[str, Worksheet]:
    """The sheets that a person sees; working and tables are hidden."""
    return {t: sheet for t, sheet in sheets(package).items() if sheet.sheet_state == "visible"}


def printed_width(sheet: Worksheet) -> float:
    """Millimetres, at 7 pixels a digit of Arial 10 and 5 beside them (ECMA-376, 18.3.1.13)."""
    widths = (each.width for each in sheet.column_dimensions.values())
    return sum(int(width * 7 + 5) for width in widths) * 25.4 / 96


def paper_width(sheet: Worksheet) -> float:
    """Millimetres between the margins: A4 of ISO 216, or US Letter."""
    portrait, turned = {9: (210.0, 297.0), 1: (215.9, 279.4)}[int(sheet.page_setup.paperSize)]
    return (turned if sheet.page_setup.orientation == "landscape" else portrait) - 24


def texts(sheet: Worksheet) -> list[str]:
    return [c.value for row in sheet.iter_rows() for c in row if isinstance(c.value, str)]


@every_workbook
def test_sheets_print_one_page_wide(name: str, package_of: GetPackage) -> None:
    assert len(printed(package_of(name))) >= 2
    for title, sheet in printed(package_of(name)).items():
        setup = sheet.page_setup
        if sheet.row_breaks.brk:  # Excel passes over the breaks of a sheet that is made to fit
            assert not sheet.sheet_properties.pageSetUpPr.fitToPage, title
            assert setup.scale and printed_width(sheet) * setup.scale / 100 <= paper_width(sheet)
        else:
            assert sheet.sheet_properties.pageSetUpPr.fitToPage, title
            assert (setup.fitToWidth, setup.fitToHeight) in ((1, 0), (1, 1)), title
        assert sheet.print_area, title


@every_workbook
def test_libreoffice_prints_no_more_pages_than_a_person_would_carry(
    name: str, workbook: GetWorkbook, package_of: GetPackage, tmp_path: Path
) -> None:
    need(ENGINES["libreoffice"])
    pdf = convert(workbook(name), tmp_path / "pages", "pdf")
    said = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    facts = dict(line.split(":", 1) for line in said.splitlines() if ":" in line)
    sheets_seen = len(printed(package_of(name)))
    assert sheets_seen <= int(facts["Pages"]) <= 3 * sheets_seen


@every_workbook
def test_the_print_area_holds_every_entry_and_result(name: str, package_of: GetPackage) -> None:
    """Cells in quiet letters stand outside it on purpose: they are working, not reading."""
    plan, pages = book(name), sheets(package_of(name))
    for sheet in (each for each in plan.sheets if not each.hidden):
        area = pages[sheet.title].print_area.rpartition("!")[2].replace("$", "")
        inside = {c.coordinate for row in pages[sheet.title][area] for c in row}
        shown = {spec.cell.cell for spec in sheet.specs if spec.style != "quiet"}
        assert shown <= inside
        assert shown


@every_workbook
def test_main_sheet_has_a_safety_block(name: str, package_of: GetPackage) -> None:
    said = texts(next(iter(sheets(package_of(name)).values())))
    assert "Safety" in said, "end the first sheet with page.safety((line, line, ...))"
    at = said.index("Safety")
    assert len(said[at + 1 :]) >= 2
    assert any("backflow" in line.lower() for line in said[at + 1 :]), "no line on backflow"


@every_workbook
def test_sources_has_a_row_for_every_calculation_used(name: str, package_of: GetPackage) -> None:
    rows = [
        tuple(cell.value for cell in row[:3])
        for row in sheets(package_of(name))[SOURCES].iter_rows(min_row=5)
    ]
    plan = book(name)
    used = used_calculations(plan)
    assert used, "no result comes from a calculation of tanksheet.calc"
    for calculation in used:
        assert (calculation.sheet_name, calculation.summary, calculation.source) in rows
    for what, source in plan.sources:
        assert ("this workbook", what, source) in rows
    assert all(all(cell for cell in row) for row in rows), "a row without a source"


@every_workbook
def test_a_note_stands_beside_every_entry(name: str) -> None:
    """At the defaults each is silent: what is right says nothing."""
    notes = {k: v for k, v in evaluate(book(name), {}).items() if k.endswith("_note")}
    assert notes
    assert set(notes.values()) <= {""}, notes


def test_the_mixing_card_is_a_page_of_words(package_of: GetPackage) -> None:
    card = sheets(package_of("stock-tank"))["Mixing card"]
    lines = [f for f in book("stock-tank").formulas.values() if f.cell.sheet == "Mixing card"]
    assert len([text for text in texts(card) if text.startswith("=")]) == len(lines) > 5
    assert not [c.coordinate for row in card.iter_rows() for c in row if c.column > 1 and c.value]
