"""The season's sheet Charts: supply against plan, and cost to date."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula, Picture
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, NUMBER, TEXT
from tanksheet.templates.recipe.cost import MONEY
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.season import charts_working as work
from tanksheet.templates.season.runs_working import mass_in
from tanksheet.templates.season.weeks import LOW
from tanksheet.templates.season.weeks_working import PRODUCTS, WEEKS
from tanksheet.templates.working import itself

WIDTHS = (12, 16, 16, 16, 98)


def charts(book: Book) -> None:
    _worked(book)
    page = add_page(book, "Charts", WIDTHS, landscape=True)
    unit = "lb" if book.edition == "us" else "kg"
    page.heading(
        "To date",
        "What soil, water and products have brought by the end of each week, against the plan, of "
        "the nutrient that is chosen on Season; and what the products have cost.",
    )
    cell = page.sheet.at(LABEL)
    page.words("chart_said", cell, itself, ("chart_nutrient_checked",), "section", hidden=True)
    page.end_row(24)
    drawn = page.keep_rows(32)
    head = page.sheet.row
    page.end_row(20)
    table = Table(page, WEEKS)
    table.heads(("week", f"plan, {unit}", f"supply, {unit}", "cost", ""), head)
    numbers = lambda i: (work.week_of(i + 1), ())  # noqa: E731
    table.computed("charted_weeks", 1, numbers, style="quiet", known=NUMBER, hidden=True)
    names = each(itself, "week_labels")
    table.computed("charted_names", 5, names, style="row name", known=TEXT, hidden=True)
    pounds = book.edition == "us"
    for column, key in ((2, "plan"), (3, "supply")):
        made = each(mass_in(pounds), f"{key}_summed")
        table.computed(f"{key}_to_date", column, made, pattern="#,##0.0", known=NUMBER)
    cost = each(work.money_to_date, ":cost_check", "cost_summed")
    table.computed("cost_to_date", 4, cost, pattern=MONEY)
    table.end()
    below, page.sheet.row = page.sheet.row, drawn
    _picture(page, "Supply against plan", f"{unit} to date", head, ("plan", "supply"))
    _picture(page, "Cost to date", "money", head, ("cost",))
    page.sheet.row = below


def _picture(page: Page, title: str, up: str, head: int, keys: tuple[str, ...]) -> None:
    cells = page.book.named_cells()
    grids = [cells[f"{key}_to_date"] for key in keys]
    heading = page.sheet.at(grids[0][0].column, head)
    picture = Picture(
        page.sheet.at(LABEL),
        title,
        "week",
        up,
        (heading,),
        cells["charted_weeks"],
        (grids[0][0], grids[-1][-1]),
    )
    page.sheet.pictures.append(picture)
    page.sheet.row += picture.rows_tall + 1


def _worked(book: Book) -> None:
    """Hidden: what each week adds, and the sums up to it, in kg and money that is not rounded."""
    page = add_page(book, "To date", tuple([14] * 8), working=True)
    page.sheet.hidden = True
    prices = tuple(part("price_again", k) for k in range(PRODUCTS))
    for k, key in enumerate(prices):
        cell = page.sheet.at(1 + k)
        keys = (part("kg_used", k),)
        page.formula(Formula(key, cell, work.number_or_zero, keys, key, known=NUMBER), "quiet")
    book.add_range("price_again", prices, True)
    page.end_row()
    table = Table(page, WEEKS)
    known: dict[str, Any] = {"known": NUMBER, "style": "quiet"}
    asked = (":chart_nutrient_checked", *(f"asked_{low}" for low in LOW))
    table.computed("plan_added", 1, each(work.of_nutrient, *asked), **known)
    brought = (f"{key}_{low}" for key in ("credit", "given") for low in LOW)
    made = each(work.supplied, ":chart_nutrient_checked", *brought)
    table.computed("supply_added", 2, made, **known)
    table.computed("cost_added", 3, _cost(book), **known)
    for column, key in enumerate(("plan", "supply", "cost"), 4):
        table.computed(f"{key}_summed", column, _sum(key), **known)
    table.end()


def _cost(book: Book) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        masses = tuple(part(f"kg_of_{k + 1}", i) for k in range(PRODUCTS))
        return work.cost_of_week, (book.cells_of(masses), "price_again")

    return make


def _sum(key: str) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        if i == 0:
            return work.first_of_all, (part(f"{key}_added", 0),)
        return work.to_date, (part(f"{key}_added", i), part(f"{key}_summed", i - 1))

    return make
