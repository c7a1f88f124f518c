"""Season: up to 52 weeks by nutrient, from the plan to products, mixes, order and cost."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TABLE_HEIGHT, TEXT
from tanksheet.templates.field_event.page import (
    INJECTING,
    LEAST_RATE,
    MOST_RATE,
    PART_OF_RUN,
    PLANTS,
)
from tanksheet.templates.products import NAMES
from tanksheet.templates.recipe import working as recipe
from tanksheet.templates.recipe.at_hand import water
from tanksheet.templates.recipe.feed import contents_table, each, unsure_products
from tanksheet.templates.recipe.own_products import NAMES as OWN_NAMES
from tanksheet.templates.recipe.own_products import own_products
from tanksheet.templates.season import judge_working as judge
from tanksheet.templates.season import runs_working as runs
from tanksheet.templates.season import supply_working as supply
from tanksheet.templates.season import weeks_working as work
from tanksheet.templates.season.card import card, shown_amounts
from tanksheet.templates.season.charts import charts
from tanksheet.templates.season.judge import (
    behind,
    line_rows,
    strongest,
    totals,
    verdicts_on,
)
from tanksheet.templates.season.order import cost_verdict, prices, sums
from tanksheet.templates.season.plan import by_hand, plan, plan_words
from tanksheet.templates.season.telling import SAFETY, STEPS, finish, tiles_of
from tanksheet.templates.season.weeks import LETTERS, LOW, labels, sizes, weeks
from tanksheet.templates.season.weeks_working import NUTRIENTS, PRODUCTS, WEEKS
from tanksheet.templates.season.whatif import what_if
from tanksheet.templates.verdicts import verdicts_of
from tanksheet.units import KgPerHa, Number, Percent, Quantity

WEEK = Quantity(Number, "week to show, by its number on Plan", 1, WEEKS)
SHARE = Quantity(Percent, "share of what is still needed", 0, 100)
SOIL = Quantity(KgPerHa, "nutrient that the soil gives in the season", 0, 1e4)
# Invented: product, mix, and what it is for.
START: tuple[tuple[str | None, str, str | None], ...] = (
    ("monoammonium phosphate", "B", "P2O5"),
    ("potassium nitrate", "A", "K2O"),
    ("calcium nitrate 15.5-0-0", "A", "Ca"),
    ("magnesium sulfate heptahydrate", "B", "Mg"),
    ("urea ammonium nitrate 32-0-0", "A", "N"),
)
FARMS = ("Tomatoes, field 3", "Almonds, block 4", "Peppers under net")


def make(edition: str = "metric") -> Book:
    book = Book(
        "season",
        "Season",
        "Up to 52 weeks of feeding: plan, credits, products, mixes, order and cost.",
        edition=edition,
        steps=STEPS,
    )
    own_products(book)
    page = add_page(book, "Season")
    page.named_opening("Season", "season_name", "Name of this season", FARMS)
    verdicts = verdicts_of(page)
    weigh = page.keep_rows(PRODUCTS + 2)
    _asked(page)
    _credits(page)
    _injection(page)
    water(page)
    plan_page = plan(book)
    labels(book)
    below, page.sheet.row = page.sheet.row, weigh
    products = _products(page)
    page.sheet.row = below
    _behind(book, page, plan_page, products)
    order, row = prices(book)
    verdicts_on(verdicts)
    cost_verdict(verdicts)
    page.gap()
    page.safety(SAFETY)
    sums(order, row)
    shown_amounts(products)
    verdicts.close(*tiles_of(edition))
    below, page.sheet.row = page.sheet.row, weigh
    page.weigh_section("Weigh for an event", "", "mix", "is for", "share, %", "")
    page.sheet.row = below
    card(book)
    what_if(book)
    charts(book)
    finish(book)
    return book


def _behind(book: Book, page: Page, plan_page: Page, products: Table) -> None:
    """Week by week, and what it comes to."""
    by_hand(book)
    contents = add_page(book, "Contents", (32, *[8.5] * 41), landscape=True, working=True)
    known = contents_table(contents)
    sizes(book)
    weeks(book)
    plan_words(plan_page, plan_page.sheet.row - WEEKS)
    strongest(book)
    unsure_products(known)
    behind(book)
    _said(products)
    totals(page)
    line_rows(page)
    page.gap()
    _sums_of_plan(page)


def _products(page: Page) -> Table:
    page.sheet.row += 1  # its head is written when the verdict is known
    table = Table(page, PRODUCTS)
    start = [*START, *[(None, "A", None)] * (PRODUCTS - len(START))]
    products, tanks, chosen = (list(column) for column in zip(*start, strict=True))
    table.filled(
        "products",
        1,
        "Product",
        products,
        words=NAMES,
        usual_words=(*NAMES, *OWN_NAMES),
        list_name="fert_fertilizers_product",
        also="own_names",
    )
    letters: dict[str, Any] = {"optional": False, "style": "typed middle"}
    table.filled("tanks", 3, "Mix", tanks, words=recipe.TANKS, **letters)
    table.filled("chosen_for", 4, "Is for", chosen, words=NUTRIENTS, style="typed middle")
    blank = [None] * PRODUCTS
    shares: dict[str, Any] = {"limits": SHARE, "usual": (20, 100), "style": "typed maybe"}
    shares["pattern"] = '0.##" %"'
    table.filled("shares_typed", 5, "Share of what is still needed", blank, **shares)
    known = replace(TEXT, words=NAMES)
    listed = each(recipe.listed_product, "products")
    table.computed("listed", 7, listed, known=known, hidden=True, behind=True)
    used = each(work.tank_chosen, "listed", "tanks")
    table.computed("used_tanks", 8, used, known=TEXT, hidden=True, behind=True)
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()
    page.gap()
    return table


def _said(table: Table) -> None:
    """What is wrong with a product, beside it."""
    judged = ("products", "listed", ":own_cleaned", "strengths", "shares")
    quiet: dict[str, Any] = {"known": TEXT, "hidden": True, "behind": True}
    table.computed("dissolved", 9, each(recipe.dissolves_verdict, *judged), **quiet)
    said = each(
        supply.chosen_said,
        *("listed", "chosen_for", "own_content", "used_tanks", "strengths", "dissolved"),
    )
    table.computed("products_said", 6, said, style="grid said", known=TEXT, hidden=True)
    table.computed("product_kinds", 10, each(supply.first_word, "products_said"), **quiet)


def _asked(page: Page) -> None:
    page.section("What is asked for")
    page.input("week_shown", "Week to show", WEEK, 7, usual=(1, 10))
    us = page.book.edition == "us"
    page.choice("rates_in", "Rates on Plan are", work.RATES, work.RATES[3 if us else 0])
    page.choice("water_in", "Water on Plan is in", work.WATERS, work.WATERS[3 if us else 1])
    page.input("area", "Area", "area", 4, "ha", usual=(0.1, 200), optional=True, us=(10, "acre"))
    page.input("plants", "Plants", PLANTS, None, usual=(10, 200000), optional=True)
    page.choice("chart_nutrient", "Nutrient in the chart", NUTRIENTS, NUTRIENTS[0])
    page.gap()


def _credits(page: Page) -> None:
    page.section("The soil gives in the season")
    for nutrient, low in zip(NUTRIENTS, LOW, strict=True):
        page.input(
            f"soil_{low}",
            nutrient,
            SOIL,
            {"N": 15, "K2O": 20}.get(nutrient, 0),
            "kg/ha",
            usual=(0, 60),
            us=({"N": 13, "K2O": 18}.get(nutrient, 0), "lb/acre"),
        )
    page.gap()


def _injection(page: Page) -> None:
    page.section("Mixes and injectors")
    for letter, low in zip(recipe.TANKS, LETTERS, strict=True):
        page.input(
            f"tank_{low}",
            f"Mix {letter}, each event",
            "tank",
            500,
            "L",
            usual=(50, 5000),
            us=(150, "gal"),
        )
    page.input(
        "flow", "Water flow of the zone", "flow", 1200, "L/min", usual=(20, 20000), us=(350, "gpm")
    )
    page.input("fill_time", "Fill and pressurise, before", PART_OF_RUN, 30, "min", usual=(0.05, 2))
    page.input("flush_time", "Flush, after", PART_OF_RUN, 40, "min", usual=(0.05, 2))
    page.input(
        "inject_time",
        "Inject for, if not all between",
        INJECTING,
        None,
        "h",
        usual=(0.2, 20),
        optional=True,
    )
    _pumps(page)
    _stock(page)
    page.gap()


def _pumps(page: Page) -> None:
    limits = (
        ("pump_most", "An injector gives at most", MOST_RATE, 300, (5, 3000), 80),
        ("pump_least", "... and no less than", LEAST_RATE, 10, (0, 100), 2.5),
    )
    for name, label, quantity, default, usual, gallons in limits:
        page.input(
            name,
            label,
            quantity,
            default,
            "L/h",
            usual=usual,
            optional=True,
            us=(gallons, "gph"),
        )


def _stock(page: Page) -> None:
    page.input(
        "temperature",
        "Coldest the mixes get",
        "table_celsius",
        15,
        "degC",
        usual=(2, 35),
        us=(60, "degF"),
    )
    for letter, low in zip(recipe.TANKS, LETTERS, strict=True):
        page.input(
            f"ph_{low}",
            f"pH measured in mix {letter}",
            "ph_tank",
            None,
            usual=(3, 7),
            optional=True,
        )


def _sums_of_plan(page: Page) -> None:
    """Hidden sums that the verdicts ask for."""
    names = tuple(f"rates_{low}" for low in LOW)
    soil = tuple(page.book.key_for(f"soil_{low}") for low in LOW)
    for name, function, keys in (
        ("rates_typed", supply.typed_rates, names),
        ("soil_in_all", supply.soil_typed, soil),
        ("asked_in_all", work.total_of, ("asked_all", "ones")),
        ("shown_label", runs.of_week, ("week_labels", "week")),
        ("shown_events", runs.of_week, ("events", "week")),
        ("off_season", supply.first_off, ("off_total_kinds", "off_percent")),
        ("off_nutrient", supply.first_name, ("off_total_kinds", "total_names")),
        ("off_week", supply.first_off, ("off_kinds", "week_off")),
        ("off_label", supply.first_name, ("off_kinds", "week_labels")),
        ("over_drawn", judge.first_with("over"), ("pump_kinds", "draw_numbers")),
        ("under_drawn", judge.first_with("under"), ("pump_kinds", "draws_least")),
    ):
        known = TEXT if name in ("shown_label", "off_nutrient", "off_label") else NUMBER
        page.back(2, name, function, keys, known=known)
        page.end_row(1)
