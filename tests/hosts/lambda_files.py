"""Workbooks such as people have, from four programs, each with all that is easily lost."""

from __future__ import annotations

import struct
import subprocess
import zlib
from collections.abc import Callable
from pathlib import Path

import xlsxwriter
from openpyxl import Workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.formatting.rule import CellIsRule
from openpyxl.packaging.relationship import Relationship
from openpyxl.styles import PatternFill
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.workbook.external_link.external import ExternalBook, ExternalLink
from openpyxl.worksheet.datavalidation import DataValidation

from engines_needed import need
from tanksheet.recalc import ENGINES, convert

SHEET = "My farm"
CALL = "FERT.STOCKMASS(B2,15.5,100,200)"  # in cell D2; B2 is 150
SECOND_CALL = 'FERT.CONVERT(B3,"gal","L")'  # in cell D3; B3 is 10


def picture() -> bytes:
    """A PNG of four by four grey dots (ISO/IEC 15948)."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        check = zlib.crc32(kind + content)
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", check)

    header = struct.pack(">IIBBBBB", 4, 4, 8, 0, 0, 0, 0)
    dots = zlib.compress((b"\0" + b"\x80" * 4) * 4)
    signature = b"\x89PNG\r\n\x1a\n"
    return signature + chunk(b"IHDR", header) + chunk(b"IDAT", dots) + chunk(b"IEND", b"")


def by_xlsxwriter(path: Path) -> Path:
    """Charts, a picture, comments, a table, sparklines, validations, formats, names, protection."""
    image = path.with_name("dots.png")
    image.write_bytes(picture())
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet(SHEET)
    bold = book.add_format({"bold": True, "bg_color": "#FFEEAA", "num_format": "0.00"})
    sheet.write_row("A1", ["block", "ppm", "note", "weigh"], bold)
    sheet.write_row("A2", ["north", 150, "Ä & <b> \u2603"])
    sheet.write_row("A3", ["south", 10])
    sheet.write_formula("D2", f"={CALL}", bold)
    sheet.write_formula("D3", f"={SECOND_CALL}")
    sheet.write_formula("D4", "=SUM(D2:D3)")
    sheet.write_array_formula("D5:D6", "{=B2:B3*2}")
    sheet.write_comment("B2", "as the adviser said")
    sheet.data_validation("B2", {"validate": "decimal", "criteria": ">", "value": 0})
    scale = {"type": "2_color_scale"}
    sheet.conditional_format("B2:B3", scale)
    sheet.insert_image("F1", str(image))
    sheet.write_url("A8", "https://example.org/", string="a link")
    sheet.merge_range("A9:C9", "merged", bold)
    sheet.add_table("H1:I3", {"name": "Blocks", "data": [["a", 1], ["b", 2]]})
    sheet.add_sparkline("E2", {"range": f"'{SHEET}'!B2:B3"})
    chart = book.add_chart({"type": "column"})
    chart.add_series({"values": f"='{SHEET}'!$B$2:$B$3"})
    sheet.insert_chart("K1", chart)
    sheet.protect("secret")
    sheet.set_landscape()
    sheet.print_area("A1:D9")
    book.add_worksheet("Hidden").hide()
    book.define_name("area", f"='{SHEET}'!$B$3")
    book.define_name("zone", f"='{SHEET}'!$B$2")
    book.set_properties({"title": "My farm", "author": "a grower"})
    book.close()
    return path


def by_openpyxl(path: Path) -> Path:
    """Also a link to another workbook, and a name that holds on one sheet only."""
    book = Workbook()
    sheet = book.active
    sheet.title = SHEET
    for row in (["block", "ppm", "note", "weigh"], ["north", 150, "x"], ["south", 10, "y"]):
        sheet.append(row)
    sheet["D2"], sheet["D3"], sheet["D4"] = f"={CALL}", f"={SECOND_CALL}", "=SUM(D2:D3)"
    sheet["E2"] = "=[1]Prices!$A$1"
    sheet["B2"].comment = Comment("as the adviser said", "a grower")
    check = DataValidation("list", formula1='"a,b"')
    check.add("C2")
    sheet.add_data_validation(check)
    fill = PatternFill(bgColor="FFFF0000", fill_type="solid")
    sheet.conditional_formatting.add("B2", CellIsRule("greaterThan", ["100"], fill=fill))
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=2, min_row=1, max_row=3), titles_from_data=True)
    sheet.add_chart(chart, "G1")
    sheet.print_title_rows = "1:1"
    book.defined_names["zone"] = DefinedName("zone", attr_text=f"'{SHEET}'!$B$2")
    link = ExternalLink(externalBook=ExternalBook())
    link.file_link = Relationship(
        type="externalLinkPath", Target="prices.xlsx", TargetMode="External"
    )
    book._external_links.append(link)
    book.save(path)
    return path


def by_libreoffice(path: Path) -> Path:
    """The first file, opened and saved by LibreOffice."""
    need(ENGINES["libreoffice"])
    made = convert(by_xlsxwriter(path.with_name("before.xlsx")), path.parent / "saved", "xlsx")
    return made.replace(path)


def by_gnumeric(path: Path) -> Path:
    """The first file, opened and saved by Gnumeric."""
    need(ENGINES["gnumeric"])
    before = by_xlsxwriter(path.with_name("before.xlsx"))
    call = ["ssconvert", str(before), str(path)]
    subprocess.run(call, check=True, timeout=60, capture_output=True)
    return path


PRODUCERS: dict[str, Callable[[Path], Path]] = {
    "openpyxl": by_openpyxl,
    "XlsxWriter": by_xlsxwriter,
    "LibreOffice": by_libreoffice,
    "Gnumeric": by_gnumeric,
}
