"""Series: two or three injectors on one line, each one's setting from one list of targets."""

from __future__ import annotations

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.entries import READINGS
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.recipe.at_hand import TOLERANCE, water
from tanksheet.templates.recipe.elements import TARGET_ROWS, targets_table
from tanksheet.templates.recipe.feed import each, feed_sheet
from tanksheet.templates.recipe.own_products import own_products
from tanksheet.templates.recipe.reasons import reasons
from tanksheet.templates.recipe.tanks import tank_sheets
from tanksheet.templates.series import result_working as result
from tanksheet.templates.series import setting_working as setting
from tanksheet.templates.series import stocks
from tanksheet.templates.series.arrivals import arrivals
from tanksheet.templates.series.card import card
from tanksheet.templates.series.line import entering, lines
from tanksheet.templates.series.mixing_working import MIXERS
from tanksheet.templates.series.nameplates import bears, nameplates
from tanksheet.templates.series.results import (
    feed_rows,
    meeting_verdicts,
    mixing_rows,
    places,
    verdicts_on,
)
from tanksheet.templates.series.stock_working import STOCKS
from tanksheet.templates.series.stocks import LOW
from tanksheet.templates.series.telling import SAFETY, STEPS, finish, tiles
from tanksheet.templates.verdicts import verdicts_of
from tanksheet.units import Kilopascal, LitrePerMinute, Metre, Millimetre, Quantity

FLOW = Quantity(LitrePerMinute, "least flow of the line", 0, 1e6, above=True)
PRESSURE = Quantity(Kilopascal, "pressure in the line", 0, 1e5)
NECK = Quantity(Kilopascal, "pressure lost beside the injector, at each", 0, 1e4)
BORE = Quantity(Millimetre, "inside of the pipe behind the injectors", 5, 2000)
GAP = Quantity(Metre, "pipe between two injectors", 0, 1e4)
LINES = ("Tunnel line", "Bench line", "Orchard, east")


def make(edition: str = "metric") -> Book:
    book = Book(
        "series",
        "Series",
        "Two or three injectors on one line: each one's setting from one list of targets.",
        edition=edition,
        steps=STEPS,
    )
    own_products(book, priced=False)
    page = add_page(book, "Series")
    page.named_opening("Series", "line_name", "Name of the line", LINES)
    verdicts = verdicts_of(page)
    found = page.keep_rows(2 * len(STOCKS) + 4)
    products = stocks.products(page)
    wanted = page.keep_rows(TARGET_ROWS)
    set_by = stocks.set_by(page)
    _stocks(page)
    _line(page)
    water(page)
    below, page.sheet.row = page.sheet.row, wanted
    targets = targets_table(page)
    page.sheet.row = below
    nameplates(book)
    dangerous = _behind(book, products)
    _said(products, set_by)
    arrivals(targets)
    verdicts_on(verdicts)
    feed_rows(page)
    mixing_rows(page)
    meeting_verdicts(verdicts, dangerous)
    below, page.sheet.row = page.sheet.row, found
    places(page)
    page.sheet.row = below
    page.safety(SAFETY)
    verdicts.close(*tiles(edition))
    card(book)
    finish(book)
    return book


def _behind(book: Book, products: Table) -> int:
    """Settings, stocks and lines on hidden sheets; gives how many rules are about poison."""
    known = stocks.contents(book)
    stocks.strengths(products, known)
    stocks.settings(book)
    stocks.doses(products)
    feed_sheet(book)
    tank_sheets(book)
    reasons(book)
    lines(book)
    bears(book)
    return entering(book)


def _stocks(page: Page) -> None:
    page.section("Stocks")
    page.choice("reading", "What 1:N means", READINGS, READINGS[0])
    page.input("tolerance", "Tolerance on each target", TOLERANCE, 10, "%", usual=(2, 25))
    for letter, low in zip(STOCKS, LOW, strict=True):
        page.input(
            f"tank_{low}",
            f"Stock {letter}, its tank",
            "tank",
            200,
            "L",
            usual=(50, 5000),
            us=(50, "gal"),
        )
    page.input(
        "temperature",
        "Coldest the stocks get",
        "table_celsius",
        10,
        "degC",
        usual=(2, 35),
        us=(50, "degF"),
    )
    for letter, low in zip(STOCKS, LOW, strict=True):
        page.input(
            f"ph_{low}",
            f"pH measured in stock {letter}",
            "ph_tank",
            None,
            usual=(3, 7),
            optional=True,
        )
    page.gap()


def _line(page: Page) -> None:
    page.section("Line")
    page.choice("order", "Order along the line", setting.ORDERS, setting.ORDERS[4])
    page.input("flow", "Largest flow", "flow", 60, "L/min", usual=(10, 1000), us=(16, "gpm"))
    page.input(
        "flow_low",
        "Least flow, if less",
        FLOW,
        40,
        "L/min",
        usual=(5, 500),
        optional=True,
        us=(10, "gpm"),
    )
    for name, label, default, psi in (
        ("pressure_before", "Pressure before the first", 300, 44),
        ("pressure_needed", "... needed behind the last", 150, 22),
    ):
        page.input(
            name,
            label,
            PRESSURE,
            default,
            "kPa",
            usual=(50, 600),
            optional=True,
            us=(psi, "psi"),
        )
    page.input(
        "neck_loss", "Valves and neck, at each", NECK, 5, "kPa", usual=(0, 20), us=(0.7, "psi")
    )
    page.input("inside", "Inside of the pipe", BORE, 40, "mm", usual=(15, 200), us=(1.5, "in"))
    page.choice("mixer", "Behind each injector", MIXERS, MIXERS[1])
    for name, label in (("gap_first", "Pipe, 1st to 2nd"), ("gap_second", "Pipe, 2nd to 3rd")):
        page.input(name, label, GAP, 1.5, "m", usual=(0.2, 20), optional=True, us=(5, "ft"))
    page.gap()


def _said(products: Table, set_by: Table) -> None:
    """What is wrong with a product, or with what a stock is set by, beside it."""
    said = each(result.dissolved_said, "dissolved")
    products.computed("products_said", 6, said, style="grid said", known=TEXT, hidden=True)
    kinds = lambda k: (setting.stock_said, (part("set_kinds", k),))  # noqa: E731
    set_by.computed("set_said", 6, kinds, style="grid said", known=TEXT, hidden=True)
