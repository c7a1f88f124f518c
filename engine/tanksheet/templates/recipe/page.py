"""Recipe: up to twelve products over tanks A, B and C, from labels to what arrives and settles."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tanksheet.calc.ratio import feed_rate, percent_injected, tank_life
from tanksheet.sheets.book import Book
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.tables import rows
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.feed import (
    PRODUCTS,
    WATER,
    conductivity_rows,
    contents_table,
    each,
    elements_table,
)
from tanksheet.templates.recipe.tanks import cards, keep_apart
from tanksheet.units import Number, Percent, Quantity

TANKS = work.TANKS
AMOUNT = Quantity(Number, "amount of a product for one tank, in its unit", 0, work.MOST)
TOLERANCE = Quantity(Percent, "how far off a target may be", 0, 100, above=True)
UNITS = ("g", "kg", "oz", "lb", "L", "mL", "gal", "fl oz")
NAMES = tuple(str(row["product"]) for row in rows("fertilizers"))
# Invented: a tomato feed for 100 L tanks at 1:100.
START: tuple[tuple[str, str, float, str], ...] = (
    ("calcium nitrate 15.5-0-0", "A", 8.0, "kg"),
    ("potassium nitrate", "A", 2.0, "kg"),
    ("iron DTPA 11 %", "A", 180.0, "g"),
    ("potassium nitrate", "B", 3.0, "kg"),
    ("monopotassium phosphate", "B", 1.8, "kg"),
    ("magnesium sulfate heptahydrate", "B", 4.5, "kg"),
    ("manganese sulfate monohydrate", "B", 17.0, "g"),
    ("boric acid", "B", 17.0, "g"),
    ("zinc sulfate heptahydrate", "B", 11.0, "g"),
    ("copper sulfate pentahydrate", "B", 2.0, "g"),
    ("sodium molybdate dihydrate", "B", 1.2, "g"),
)
SAFETY = (
    "Goggles and gloves. Fill each tank half with water, add the products one by one while "
    "stirring, then make up to the mark. Acid into water, never water into acid; face shield, "
    "apron, eyewash.",
    "Never bring chlorine products together with acid, ammonium or urea: poisonous gas. On a "
    "drinking-water supply, inject only behind the backflow preventer that the local code asks "
    "for. Labels and safety data sheets come first.",
)
SOURCES = (
    ("Contents and ions of the products.", "data/fertilizers.csv, a source on each row"),
    (
        "Up to 70 % of the solubility passes, up to 90 % is near the limit.",
        "common practice, no source",
    ),
    (
        "Amounts that settle out.",
        "closed forms checked against PHREEQC 3.8; in concentrates "
        "beyond an ionic strength of 1 mol/L speciation programs themselves differ by 5 to 10 %",
    ),
    (
        "Conductivity counts what is dissolved as free ions and pairs; chelates and urea add "
        "almost nothing.",
        "common practice, no source",
    ),
)


def make() -> Book:
    book = Book(
        "recipe",
        "Recipe for tanks A, B and C",
        "A whole feed from up to twelve products: what arrives, what dissolves, what settles.",
    )
    page = add_page(book, "Recipe", widths=(34, 11, 10, 11, 11, 11, 9, 44, 9))
    page.heading(
        "Recipe for tanks A, B and C",
        f"{book.purpose} Type in the yellow cells and "
        "watch the verdicts; a product left blank is not used.",
    )
    _tanks(page)
    products = _products(page)
    _water(page)
    contents = add_page(book, "Contents", (32, *[8.5] * 36), landscape=True, working=True)
    contents_table(contents)
    elements_table(page)
    conductivity_rows(page)
    keep_apart(book, products)
    page.gap()
    _clear(page)
    cards(book, SAFETY)
    page.gap()
    page.safety(SAFETY)
    book.sources += SOURCES
    return book


def _tanks(page: Page) -> None:
    page.section("Tanks and injector")
    for letter in TANKS:
        page.input(
            f"tank_{letter.lower()}",
            f"Stock that tank {letter} holds",
            "tank",
            100,
            "L",
            usual=(100, 5000),
        )
    page.input("ratio", "Setting of all the injectors", "ratio", 100, "1:N", usual=(50, 300))
    page.input("flow", "Water flow through them", "flow", 30, "L/min", usual=(1, 3000))
    page.input("temperature", "Coldest the tanks get", "table_celsius", 10, "degC", usual=(2, 35))
    page.input("ph_tank", "pH in the tanks", "ph_tank", 5, usual=(3, 7))
    page.input("tolerance", "Tolerance on each target", TOLERANCE, 10, "%", usual=(2, 25))
    page.result("percent_setting", "Setting in percent", percent_injected, pattern="0.000")
    page.result("stock_per_hour", "Drawn from each tank", feed_rate)
    page.result("hours_per_tank", "Tank A lasts", tank_life, tank="tank_a", note="hours of running")
    page.gap()


def _products(page: Page) -> Table:
    page.section("Products", "words")
    table = Table(page, PRODUCTS)
    titles = "Products,tank,amount,unit,g/L of stock,dissolves,% of it,verdict"
    table.heads(titles.split(","), page.sheet.row - 1)
    _typed_products(table)
    _product_masses(table)
    _product_verdicts(table)
    table.end()
    page.gap()
    return table


def _typed_products(table: Table) -> None:
    start = [*START, *[("", "A", None, "g")] * (PRODUCTS - len(START))]
    products, tanks, amounts, units = (list(column) for column in zip(*start, strict=True))
    products = [each or None for each in products]
    table.filled(
        "products", 1, "Product", products, words=NAMES, list_name="fert_fertilizers_product"
    )
    table.filled("tanks", 2, "Tank", tanks, words=TANKS, optional=False)
    table.filled("amounts", 3, "Amount for one tank", amounts, limits=AMOUNT, usual=(0.05, 6))
    table.filled(
        "amount_units", 4, "Unit", units, words=UNITS, usual_words=("g", "kg"), optional=False
    )


def _product_masses(table: Table) -> None:
    """What each product weighs, and how strong that makes its tank and the feed."""
    listed = each(work.listed_product, "products")
    names = replace(TEXT, words=NAMES)
    table.computed("listed", 10, listed, style="quiet", known=names, hidden=True)
    masses = each(work.grams, "listed", "amounts", "amount_units")
    quiet: dict[str, Any] = {"style": "quiet", "known": NUMBER, "hidden": True}
    table.computed("masses", 11, masses, pattern="0.0", **quiet)
    strengths = each(work.in_tank, "masses", "tanks", ":tank_a", ":tank_b", ":tank_c")
    table.computed("strengths", 5, strengths, pattern="#,##0.00", known=NUMBER)
    doses = each(work.in_feed, "strengths", ":ratio")
    table.computed("doses", 12, doses, pattern="0.0000", **quiet)


def _product_verdicts(table: Table) -> None:
    limits = each(work.dissolves, "listed", ":temperature")
    table.computed("limits", 6, limits, pattern="#,##0")
    shares = each(work.share_of_limit, "strengths", "limits")
    table.computed("shares", 7, shares, pattern="0")
    verdicts = each(work.dissolves_verdict, "listed", "strengths", "shares")
    table.computed("dissolved", 8, verdicts, style="grid words", known=TEXT)


def _water(page: Page) -> None:
    page.section("What the water brings")
    for name, (label, default) in WATER.items():
        page.input(f"water_{name}", label, "target", default, "ppm", usual=(0, 200))
    page.input(
        "water_alkalinity", "Alkalinity, as CaCO3", "alkalinity_as_caco3", 60, "ppm", usual=(0, 300)
    )
    page.gap()


def _clear(page: Page) -> None:
    page.section("Does each tank stay clear?", "words")
    for letter in TANKS:
        page.verdict(
            f"clear_{letter.lower()}",
            f"Tank {letter}",
            work.same,
            amount=f"verdict_{letter.lower()}",
        )
