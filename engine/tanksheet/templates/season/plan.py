"""The season's sheets to type in: the plan week by week, and amounts that are set by hand."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.season import runs_working as runs
from tanksheet.templates.season import weeks_working as work
from tanksheet.templates.season.weeks_working import MOST_EVENTS, MOST_MASS, MOST_RATE, MOST_WATER
from tanksheet.templates.working import itself
from tanksheet.units import Number, Quantity

EVENTS = Quantity(Number, "fertigations of a week", 1, MOST_EVENTS)
WATER = Quantity(Number, "irrigation of a week, in the unit chosen on Season", 0, MOST_WATER)
RATE = Quantity(Number, "nutrient of a week, in the unit chosen on Season", 0, MOST_RATE)
BY_HAND = Quantity(Number, "product for the whole week", 0, MOST_MASS)
PLAN_WIDTHS = (5, 16, 8, 12, 9, 12, 11, 9, 10, 24)
SAID = len(PLAN_WIDTHS)
HAND_WIDTHS = (18, *[13] * work.PRODUCTS, 20)
NAMES = ("bud break", "bloom", "fruit set", "harvest", "after harvest")
# Invented: ten weeks of drip tomatoes; events, mm of water, kg/ha of N, P2O5, K2O, Ca and Mg.
EXAMPLE: tuple[tuple[str, int, float, float, float, float, float, float], ...] = (
    ("transplants", 1, 10, 4, 4, 5, 2, 0.5),
    ("rooting", 2, 14, 6, 5, 7, 3, 1),
    ("growth", 2, 18, 8, 5, 10, 4, 1),
    ("growth", 2, 22, 10, 4, 14, 5, 1.5),
    ("first bloom", 3, 26, 12, 4, 18, 6, 2),
    ("fruit set", 3, 30, 12, 4, 20, 7, 2),
    ("swelling", 3, 34, 12, 3, 24, 7, 2.5),
    ("swelling", 3, 34, 12, 3, 24, 7, 2.5),
    ("ripening", 2, 30, 8, 2, 20, 5, 2),
    ("harvest", 2, 24, 5, 0, 12, 3, 1),
)
# The same in lb/acre and inches.
US_WATER, US_RATE = 0.04, 0.9


def _example(edition: str) -> list[list[Any]]:
    """Its columns, blank below."""
    us = edition == "us"
    rows: list[list[Any]] = []
    for name, events, water, *rates in EXAMPLE:
        wet = round(water * US_WATER, 2) if us else water
        fed = [round(rate * US_RATE, 1) if us else rate for rate in rates]
        rows.append([name, events, wet, *(rate or None for rate in fed)])
    rows += [[None] * len(EXAMPLE[0])] * (work.WEEKS - len(rows))
    return [list(column) for column in zip(*rows, strict=True)]


def plan(book: Book) -> Page:
    """The sheet Plan: what each week asks for. ``plan_words`` adds what is said of the weeks."""
    page = add_page(book, "Plan", PLAN_WIDTHS)
    page.heading(
        "Plan",
        "One row a week or a growth stage. Units of rates and water are chosen on Season; a blank "
        "rate asks for nothing, blank events are one.",
    )
    cell = page.sheet.at(1)
    keys = (page.book.key_for("rates_in"), page.book.key_for("water_in"))
    page.words("plan_units", cell, runs.units_said, keys, "section", hidden=True)
    page.end_row(20)
    head = page.sheet.row
    page.end_row(20)
    table = Table(page, work.WEEKS)
    table.heads(("no.", "name", "events", "water", *work.NUTRIENTS, ""), head)
    page.sheet.row = table.first
    for i in range(work.WEEKS):
        page.sheet.put(1, i + 1, "row name")
        page.end_row(18)
    page.sheet.row = table.first
    _typed(table)
    table.end()
    return page


def _typed(table: Table) -> None:
    """What a person types of each week."""
    names, events, water, *rates = _example(table.page.book.edition)
    table.filled("week_names", 2, "Name of the week", names, usual_words=NAMES, style="typed word")
    table.filled(
        "week_events", 3, "Events", events, limits=EVENTS, usual=(1, 7), pattern='0.##" x"'
    )
    table.filled(
        "week_water", 4, "Water", water, limits=WATER, usual=(5, 60), pattern='#,##0.####" water"'
    )
    for column, (nutrient, column_rates) in enumerate(zip(work.NUTRIENTS, rates, strict=True), 5):
        table.filled(
            f"rates_{nutrient.lower()}",
            column,
            f"{nutrient} of the week",
            column_rates,
            limits=RATE,
            usual=(0.5, 25),
            pattern=f'#,##0.####" {nutrient}"',
            like="" if nutrient in ("N", "K2O") else "rates_n",
        )


def plan_words(page: Page, first: int) -> None:
    """What is wrong with a week, in its row."""
    below, page.sheet.row = page.sheet.row, first
    table = Table(page, work.WEEKS)
    said = each(
        runs.week_said,
        *("events", "water"),
        *("asked_all", "week_masses_all", "time_kinds", "pump_kinds", "line_kinds", "off_kinds"),
        "week_off",
    )
    table.computed("weeks_said", SAID, said, style="grid said", known=TEXT, hidden=True)
    page.sheet.row = below


def by_hand(book: Book) -> None:
    """The sheet By hand: a week's amount of a product, which stays as it is typed."""
    page = add_page(book, "By hand", HAND_WIDTHS)
    unit = "lb" if book.edition == "us" else "kg"
    page.heading(
        "By hand",
        f"{unit} of a product for a whole week, in place of the worked amount; 0 for none of it. "
        "The others are worked out around it. Blank: as worked out. The command tanksheet solve "
        "fills this sheet with the cheapest amounts.",
    )
    page.sheet.put(1, "week", "table head")
    for k in range(work.PRODUCTS):
        page.sheet.put(2 + k, f"product {k + 1}", "table head")
    page.end_row(18)
    names = tuple(part("products", k) for k in range(work.PRODUCTS))
    for k, name in enumerate(names):
        cell = page.sheet.at(2 + k)
        page.words(f"hand_name_{k + 1}", cell, runs.name_or_blank, (name,), "table", hidden=True)
    page.end_row(54)
    _hands(page)


def _hands(page: Page) -> None:
    """The weeks, a column for each product, and what cannot be read of it."""
    unit = "lb" if page.book.edition == "us" else "kg"
    table = Table(page, work.WEEKS)
    labels = lambda i: (itself, (part("week_labels", i),))  # noqa: E731
    table.computed("hand_weeks", 1, labels, style="row name", known=TEXT, hidden=True)
    for k in range(work.PRODUCTS):
        table.filled(
            f"by_hand_{k + 1}",
            2 + k,
            f"Product {k + 1}",
            [None] * work.WEEKS,
            limits=BY_HAND,
            usual=(1, 100),
            rare=True,
            style="typed maybe",
            pattern=f'0.####" {unit}"',
            like="by_hand_2" if k > 1 else "",
        )
    said = each(runs.hand_said, *(f"by_hand_{k + 1}" for k in range(work.PRODUCTS)))
    table.computed(
        "hands_said", 2 + work.PRODUCTS, said, style="grid said", known=TEXT, hidden=True
    )
    for i in range(work.WEEKS):
        page.sheet.heights[table.first + i] = 18
    table.end()
