"""Recipe: up to twelve products over tanks A, B and C, from labels to what arrives and settles."""

from __future__ import annotations

from dataclasses import replace

from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.columns import Table
from tanksheet.sheets.measures import tile_in, tile_number, tile_setting
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.sheets.rows import LABEL, NOTE, OFF, OTHER, TABLE_HEIGHT, TEXT, TYPED
from tanksheet.tables import rows
from tanksheet.templates.recipe import ph_working as acidity
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.amounts import amounts_sheet
from tanksheet.templates.recipe.at_hand import tanks_and_injector, water
from tanksheet.templates.recipe.cards import cards
from tanksheet.templates.recipe.cost import cost, cost_tile
from tanksheet.templates.recipe.elements import TARGET_ROWS, arrivals, labels, targets_table
from tanksheet.templates.recipe.feed import (
    PRODUCTS,
    TARGETS,
    contents_table,
    each,
    feed_rows,
    feed_sheet,
    readings,
    unsure_products,
)
from tanksheet.templates.recipe.forms import (
    FORM_ROWS,
    forms_arrive,
    forms_table,
    forms_verdict,
    tolerance_table,
)
from tanksheet.templates.recipe.instead import instead, would_pass
from tanksheet.templates.recipe.misses import misses_sheet
from tanksheet.templates.recipe.own_products import NAMES as OWN_NAMES
from tanksheet.templates.recipe.own_products import own_products
from tanksheet.templates.recipe.placing import balance, places
from tanksheet.templates.recipe.placing_working import AUTO, told
from tanksheet.templates.recipe.reasons import keep_apart, reasons
from tanksheet.templates.recipe.tanks import clear_verdicts, tank_sheets
from tanksheet.templates.recipe.telling import SAFETY, STEPS, finish
from tanksheet.templates.recipe.weighing import fixed_amounts, scales, weighed
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import Number, Quantity

TANKS = work.TANKS
AMOUNT = Quantity(Number, "amount of a product for one tank, in its unit", 0, work.MOST)
PRINTED = 97  # percent: what both papers hold
UNITS = ("g", "kg", "oz", "lb", "L", "mL", "gal", "fl oz")
NAMES = tuple(str(row["product"]) for row in rows("fertilizers"))
# Invented: a tomato feed for 100 L tanks at 1:100, and the unit that an amount of each is typed in.
START: tuple[tuple[str, str, str], ...] = (
    ("calcium nitrate 15.5-0-0", "A", "kg"),
    ("potassium nitrate", "A", "kg"),
    ("iron DTPA 11 %", "A", "g"),
    ("potassium sulfate", "B", "kg"),
    ("monopotassium phosphate", "B", "kg"),
    ("magnesium sulfate heptahydrate", "B", "kg"),
    ("manganese sulfate monohydrate", "B", "g"),
    ("boric acid", "B", "g"),
    ("zinc sulfate heptahydrate", "B", "g"),
    ("copper sulfate pentahydrate", "B", "g"),
    ("sodium molybdate dihydrate", "B", "g"),
    ("nitric acid 60 %", "C", "L"),
)
US_UNITS = {"kg": "lb", "L": "gal"}


def make(edition: str = "metric") -> Book:
    book = Book(
        "recipe",
        "Recipe for tanks A, B and C",
        "A whole feed from its targets: what to weigh, what arrives, what settles, what it costs.",
        edition=edition,
        steps=STEPS,
    )
    own_products(book)
    page = add_page(book, "Recipe")
    _opening(page)
    verdicts = verdicts_of(page)
    weigh, targets = page.keep_rows(PRODUCTS + 2), page.keep_rows(TARGET_ROWS + FORM_ROWS)
    page.sheet.breaks.append(targets + len(TARGETS) + 1)  # a page holds weights and targets
    water(page)
    tanks_and_injector(page)
    scales(page)
    page.sheet.breaks.append(page.sheet.row - 1)
    tolerance_table(page, labels())
    below, page.sheet.row = page.sheet.row, weigh
    products = _products(page)
    page.sheet.row = targets
    elements, forms = targets_table(page), forms_table(page)
    page.sheet.row = below
    _from_targets_to_feed(book, products, elements)
    _feed(page, verdicts, forms)
    _behind(book)
    _clear(page, verdicts)
    verdicts.close(*_tiles(edition))
    below, page.sheet.row = page.sheet.row, weigh
    page.weigh_section("Weigh for one fill", "", "tank", "or fix at", "unit", "")
    page.sheet.row = below
    cards(book)
    page.gap()
    page.safety(SAFETY)
    finish(book)
    return book


def _from_targets_to_feed(book: Book, products: Table, elements: Table) -> None:
    """From what is asked for to amounts, to what is weighed, and to what arrives of it."""
    contents = add_page(book, "Contents", (32, *[8.5] * 41), landscape=True, working=True)
    known = contents_table(contents)
    placing = places(book)
    amounts_sheet(book, tuple(TARGETS))
    balance(placing)
    misses_sheet(book, tuple(TARGETS))
    weighed(products)
    _product_verdicts(products)
    unsure_products(known)
    feed_sheet(book)
    arrivals(elements)


def _behind(book: Book) -> None:
    """What happens in the tanks, what would pass instead, and what it all costs."""
    tank_sheets(book)
    reasons(book)
    keep_apart(book)
    instead(book)
    cost(book)


def _feed(page: Page, verdicts: Verdicts, forms: tuple[Table, Table]) -> None:
    """What arrives, and what is to be said of it."""
    forms_arrive(page, *forms, len(TARGETS) + 1)
    feed_rows(page, verdicts)
    forms_verdict(page, verdicts)
    readings(page)


def _opening(page: Page) -> None:
    """The top of the page, with name and version, which stand on cards and labels too."""
    page.opening("Recipe", across=1)
    page.sheet.scale = PRINTED
    below, page.sheet.row = page.sheet.row, 1
    names = ("Tomato, from week 6", "Lettuce, gutters 1 to 4", "Rose, winter")
    page.typed_text("recipe_name", TYPED, "Name of this recipe", names[0], names, OTHER - LABEL)
    page.sheet.put(OFF, "version", "other system")
    page.typed_text("recipe_version", NOTE, "Version of this recipe", 3, ("3", "4 b"), 1)
    page.sheet.row = below


def _tiles(edition: str) -> list[Tile]:
    drawn = shown_unit("L/h", edition)
    return [
        Tile(1, "Set all injectors to", tile_setting, {"ratio": "ratio_set"}),
        Tile(2, "EC, mS/cm", tile_number, {"number": "ec_feed"}),
        Tile(3, "pH", tile_number, {"number": "feed_ph"}),
        Tile(4, "A lasts, h", tile_number, {"number": "hours_a"}),
        Tile(5, f"Drawn, {drawn}", tile_in("L/h", drawn), {"number": "stock_per_hour"}),
        cost_tile(),
    ]


def _products(page: Page) -> Table:
    page.sheet.row += 1  # its head is written when the verdict is known
    table = Table(page, PRODUCTS)
    _typed_products(table)
    listed = each(work.listed_product, "products")
    names = replace(TEXT, words=NAMES)
    table.computed("listed", 7, listed, known=names, hidden=True, behind=True)
    fixed_amounts(table)
    limits = each(work.holds, "listed", ":temperature")
    table.computed("limits", 11, limits, pattern="#,##0", behind=True, hidden=True)
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()
    page.gap()
    return table


def _typed_products(table: Table) -> None:
    start = [*START, *[("", "A", "g")] * (PRODUCTS - len(START))]
    products, tanks, units = (list(column) for column in zip(*start, strict=True))
    if table.page.book.edition == "us":
        units = [US_UNITS.get(unit, unit) for unit in units]
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
    letters = (*TANKS, AUTO)
    table.filled("tanks", 3, "Tank", tanks, words=letters, optional=False, style="typed middle")
    blank = [None] * PRODUCTS
    table.filled(
        "amounts",
        4,
        "Amount that stays as typed",
        blank,
        limits=AMOUNT,
        usual=(0.05, 6),
        rare=True,
        style="typed maybe",
    )
    table.filled(
        "amount_units", 5, "Unit", units, words=UNITS, usual_words=("g", "kg"), optional=False
    )


def _product_verdicts(table: Table) -> None:
    shares = each(work.share_of_limit, "strengths", "limits")
    table.computed("shares", 12, shares, pattern="0", behind=True)
    judged = ("products", "listed", ":own_cleaned", "strengths", "shares")
    verdicts = each(work.dissolves_verdict, *judged)
    table.computed("dissolved", 13, verdicts, known=TEXT, behind=True)
    read = each(work.is_read, "listed", "strengths")
    table.computed("rows_read", 18, read, known=TEXT, hidden=True, behind=True)
    said = each(told, "tanks", "used_tanks", "dissolved")
    table.computed("dissolved_said", 6, said, style="grid said", known=TEXT, hidden=True)


def _clear(page: Page, verdicts: Verdicts) -> None:
    page.section("Does each tank stay clear?")
    verdicts.add(
        "products_check",
        "Can every product be read?",
        work.products_verdict,
        first=True,
        read="rows_read",
        products="listed",
        said="dissolved",
    )
    would_pass(page)
    clear_verdicts(verdicts)
    for letter in TANKS:
        low = letter.lower()
        page.verdict(
            f"ph_said_{low}",
            f"pH in tank {letter}",
            acidity.ph_said,
            ph=f"used_ph_{low}",
            words=f"ph_words_{low}",
        )
