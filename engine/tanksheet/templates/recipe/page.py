"""Recipe: up to twelve products over tanks A, B and C, from labels to what arrives and settles."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tanksheet.calc.ratio import feed_rate, percent_injected, tank_life
from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.columns import Table
from tanksheet.sheets.measures import tile_in, tile_number, tile_setting, unless_pass
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.sheets.rows import LABEL, NOTE, NUMBER, OFF, OTHER, TEXT, TYPED
from tanksheet.tables import rows
from tanksheet.templates.recipe import ph_working as acidity
from tanksheet.templates.recipe import reason_working as reason
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.cards import cards
from tanksheet.templates.recipe.elements import elements_table
from tanksheet.templates.recipe.feed import (
    PRODUCTS,
    TARGETS,
    WATER,
    contents_table,
    each,
    feed_rows,
    feed_sheet,
)
from tanksheet.templates.recipe.own_products import NAMES as OWN_NAMES
from tanksheet.templates.recipe.own_products import own_products
from tanksheet.templates.recipe.reasons import keep_apart, reasons
from tanksheet.templates.recipe.tanks import tank_sheets
from tanksheet.templates.recipe.wording import LANGUAGES
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import Number, Percent, Quantity

TANKS = work.TANKS
AMOUNT = Quantity(Number, "amount of a product for one tank, in its unit", 0, work.MOST)
PRINTED = 97  # percent: what both papers hold
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
    ("nitric acid 60 %", "C", 0.5, "L"),
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
    ("What must not share a tank.", "data/clashes.csv, a source on each row"),
    ("Grams in a litre of saturated stock.", "data/saturation.csv, a source on each row"),
    (
        "Up to 85 % of what dissolves passes, up to 100 % is near the limit.",
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
    ("Signal and hazard words of cards and labels.", "data/hazards.csv, a source on each row"),
    (
        "A card stops feeding at 10 % off the EC or 0.5 off the pH, either way.",
        "common practice, no source",
    ),
)


STEPS = (
    "Type the targets that you want at the emitter, each in its unit; a blank is not judged.",
    "Choose up to twelve products and the tank of each: calcium apart from sulfate and phosphate.",
    "Type the water as the laboratory reports it, then tanks, injectors and the coldest night.",
    "Read the verdict at the top. What is wrong says so beside its row, with what to do.",
    "Print cards and labels, weigh in their order, and prove the feed with EC and pH meters.",
)


def make(edition: str = "metric") -> Book:
    book = Book(
        "recipe",
        "Recipe for tanks A, B and C",
        "A whole feed from up to twelve products: what arrives, what dissolves, what settles.",
        edition=edition,
        steps=STEPS,
    )
    own_products(book)
    page = add_page(book, "Recipe")
    _opening(page)
    verdicts = verdicts_of(page)
    weigh, targets = page.keep_rows(PRODUCTS + 2), page.keep_rows(len(TARGETS) + 2)
    page.sheet.breaks.append(page.sheet.row - 1)
    _water(page)
    _tanks(page)
    below, page.sheet.row = page.sheet.row, weigh
    _products(page)
    page.sheet.row = below
    contents = add_page(book, "Contents", (32, *[8.5] * 41), landscape=True, working=True)
    contents_table(contents)
    feed_sheet(book)
    below, page.sheet.row = page.sheet.row, targets
    elements_table(page)
    page.sheet.row = below
    feed_rows(page, verdicts)
    tank_sheets(book)
    reasons(book)
    keep_apart(book)
    _clear(page, verdicts)
    verdicts.close(*_tiles(edition))
    below, page.sheet.row = page.sheet.row, weigh
    page.weigh_section("Weigh for one fill", "", "tank", "amount", "unit", "")
    page.sheet.row = below
    cards(book)
    book.sheets.append(book.sheets.pop(0))  # My products: worked out first, shown last
    page.gap()
    page.safety(SAFETY)
    book.sources += SOURCES
    return book


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
    ]


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
            us=(25, "gal"),
        )
    page.input("ratio", "Setting of the injectors", "ratio", 100, "1:N", usual=(50, 300))
    page.ratio_reading("ratio")
    page.input("flow", "Water flow", "flow", 30, "L/min", usual=(1, 3000), us=(8, "gpm"))
    page.input(
        "temperature",
        "Coldest the tanks get",
        "table_celsius",
        10,
        "degC",
        usual=(2, 35),
        us=(50, "degF"),
    )
    _settings(page)
    page.gap()


def _settings(page: Page) -> None:
    for letter in TANKS:
        page.input(
            f"ph_{letter.lower()}",
            f"pH measured in tank {letter}",
            "ph_tank",
            None,
            usual=(3, 7),
            optional=True,
        )
    page.input("tolerance", "Tolerance on each target", TOLERANCE, 10, "%", usual=(2, 25))
    page.result(
        "percent_setting",
        "Setting in percent",
        percent_injected,
        pattern="0.000",
        ratio="ratio_set",
    )
    page.result("stock_per_hour", "Drawn from each tank", feed_rate)
    for letter in TANKS:
        low = letter.lower()
        page.result(f"hours_{low}", f"Tank {letter} lasts", tank_life, tank=f"tank_{low}")
    page.choice("card_language", "Language of the cards", LANGUAGES, LANGUAGES[0])


def _products(page: Page) -> Table:
    page.sheet.row += 1  # its head is written when the verdict is known
    table = Table(page, PRODUCTS)
    _typed_products(table)
    _product_masses(table)
    _product_verdicts(table)
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = 19
    table.end()
    page.gap()
    return table


def _typed_products(table: Table) -> None:
    start = [*START, *[("", "A", None, "g")] * (PRODUCTS - len(START))]
    products, tanks, amounts, units = (list(column) for column in zip(*start, strict=True))
    products = [each or None for each in products]
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
    table.filled("tanks", 3, "Tank", tanks, words=TANKS, optional=False, style="typed middle")
    table.filled("amounts", 4, "Amount for one tank", amounts, limits=AMOUNT, usual=(0.05, 6))
    table.filled(
        "amount_units", 5, "Unit", units, words=UNITS, usual_words=("g", "kg"), optional=False
    )


def _product_masses(table: Table) -> None:
    """What each product weighs, and how strong that makes its tank and the feed."""
    listed = each(work.listed_product, "products")
    names = replace(TEXT, words=NAMES)
    table.computed("listed", 7, listed, known=names, hidden=True, behind=True)
    masses = each(work.grams, "listed", "amounts", "amount_units")
    quiet: dict[str, Any] = {"known": NUMBER, "hidden": True, "behind": True}
    table.computed("masses", 8, masses, pattern="0.0", **quiet)
    weights = each(work.weight_in(table.page.book.edition), "masses", "listed")
    table.computed("weights", 2, weights, style="weight", known=TEXT, hidden=True)
    cells = [table.page.sheet.at(2, table.first + i) for i in range(PRODUCTS)]
    table.page.soft_if_stopped(cells)
    strengths = each(work.in_tank, "masses", "tanks", ":tank_a", ":tank_b", ":tank_c")
    quiet["hidden"] = False
    table.computed("strengths", 9, strengths, pattern="#,##0.00", **quiet)
    doses = each(work.in_feed, "strengths", ":ratio")
    table.computed("doses", 10, doses, pattern="0.0000", **quiet | {"hidden": True})


def _product_verdicts(table: Table) -> None:
    limits = each(work.holds, "listed", ":temperature")
    table.computed("limits", 11, limits, pattern="#,##0", behind=True)
    shares = each(work.share_of_limit, "strengths", "limits")
    table.computed("shares", 12, shares, pattern="0", behind=True)
    judged = ("products", "listed", ":own_cleaned", "strengths", "shares")
    verdicts = each(work.dissolves_verdict, *judged)
    table.computed("dissolved", 13, verdicts, known=TEXT, behind=True)
    said = each(unless_pass, "dissolved")
    table.computed("dissolved_said", 6, said, style="grid words", known=TEXT, hidden=True)


def _water(page: Page) -> None:
    page.section("Water")
    page.input("water_ph", "pH of the water", "ph_water", 7.4, usual=(6, 8.5))
    page.input(
        "feed_temperature",
        "Temperature of the feed",
        "celsius",
        20,
        "degC",
        usual=(5, 35),
        us=(68, "degF"),
    )
    for name, (label, default, _, _) in WATER.items():
        page.input(
            f"water_{name}",
            label,
            "target",
            default,
            "ppm",
            usual=(0, 200),
            nutrient=name.capitalize(),
        )
    page.input(
        "water_alkalinity", "Alkalinity, as CaCO3", "alkalinity_as_caco3", 60, "ppm", usual=(0, 300)
    )
    page.gap()


def _clear(page: Page, verdicts: Verdicts) -> None:
    page.section("Does each tank stay clear?")
    for letter in TANKS:
        low = letter.lower()
        verdicts.add(
            f"clear_{low}",
            f"Tank {letter}",
            reason.clear_verdict,
            kinds=f"kinds_{low}",
            faults=f"sum_faulty_{low}",
            worst=f"worst_{low}",
            second=f"second_{low}",
            words=f"words_{low}",
        )
    for letter in TANKS:
        low = letter.lower()
        page.verdict(
            f"ph_said_{low}",
            f"pH in tank {letter}",
            acidity.ph_said,
            ph=f"used_ph_{low}",
            words=f"ph_words_{low}",
        )
