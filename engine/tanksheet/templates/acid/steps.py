"""The acid workbook's second sheet: dose and nutrients for one pH after another, and the curve."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Picture
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL
from tanksheet.templates.acid import working as work
from tanksheet.units import QUANTITIES

# Column of the table of acids, and the element that it counts.
NUTRIENTS = (("n", "N"), ("p", "P"), ("s", "S"), ("cl", "Cl"))
HEADS = (
    "pH wanted",
    "need, meq/L",
    "acid, mmol/L",
    "mL per m3",
    "fl oz/1000 gal",
    "left, meq/L",
    "N, mg/L",
    "P, mg/L",
    "S, mg/L",
    "Cl, mg/L",
)
STEPS = tuple(7.5 - 0.25 * i for i in range(13))


def add_steps(book: Book) -> None:
    page = add_page(book, "Step by step", widths=(13.5,) * 10, landscape=True)
    page.heading(
        "Acid step by step",
        "From the pH of the water downwards, with the water and the "
        "acid of the first sheet. The yellow pH may be changed. Above the water's own pH "
        "no acid is needed.",
    )
    row = page.sheet.row
    page.end_row(19)
    table = Table(page, len(STEPS))
    table.heads(HEADS, row)
    table.filled(
        "steps",
        1,
        "pH wanted",
        STEPS,
        limits=QUANTITIES["ph_target"],
        usual=(STEPS[-1], STEPS[0]),
        optional=False,
        style="typed",
        pattern='"pH "0.0#',
    )
    _computed(table)
    table.end()
    page.gap()
    _curve(page)


def _computed(table: Table) -> None:
    table.computed(
        "step_need",
        2,
        each(work.step_need, "steps", "alkalinity", "ph_now", "temperature"),
        pattern="0.00",
    )
    table.computed(
        "step_moles",
        3,
        each(work.step_moles, "steps", "alkalinity", "ph_now", "temperature", "acid"),
        pattern="0.00",
    )
    table.computed("step_dose", 4, each(work.step_dose, "step_moles", "acid"), pattern="#,##0.0")
    table.computed("step_fluid", 5, each(work.step_fluid, "step_dose"), pattern="#,##0.00")
    table.computed("step_left", 6, each(work.step_left, "step_need", "alkalinity"), pattern="0.00")
    for column, (name, _) in enumerate(NUTRIENTS, 7):
        maker = each(work.step_adds(name), "step_moles", "acid")
        table.computed(f"step_{name}", column, maker, pattern="0.0")


def _curve(page: Page) -> None:
    cells = page.book.named_cells()
    doses = cells["step_dose"]
    heading = page.sheet.at(doses[0].column, doses[0].row - 1)
    picture = Picture(
        page.sheet.at(LABEL),
        "Acid against the pH wanted",
        "pH wanted",
        "acid, mL per m3 of water",
        (heading,),
        cells["steps"],
        doses,
    )
    page.sheet.pictures.append(picture)
    page.sheet.row += picture.rows_tall


def each(function: Any, column: str, *others: str) -> Maker:
    """The function of a row's cell in another column, and of cells that all rows share."""

    def make_row(i: int) -> tuple[Any, tuple[str, ...]]:
        return function, (f"{column}[{i}]", *others)

    return make_row
