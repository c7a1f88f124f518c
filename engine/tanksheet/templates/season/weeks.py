"""The season's hidden sheets: each week's amounts, and how strong that makes mixes and line."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.field_event.line_working import STRONG_FEED, STRONGEST_FEED
from tanksheet.templates.recipe import working as recipe
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.recipe.feed_working import water_alkali
from tanksheet.templates.season import runs_working as runs
from tanksheet.templates.season import weeks_working as work
from tanksheet.templates.season.weeks_working import NUTRIENTS, PRODUCTS, WEEKS

LOW = tuple(nutrient.lower() for nutrient in NUTRIENTS)
LETTERS = tuple(letter.lower() for letter in recipe.TANKS)
# What the soil and the water give of a nutrient.
SOIL = {low: f"soil_{low}" for low in LOW}
IN_WATER = {"n": "nitrogen_in_water", "k2o": "water_k", "ca": "water_ca", "mg": "water_mg"}


class Column:
    """Columns of the hidden sheet Weeks, one beside the other."""

    def __init__(self, page: Page, head: int) -> None:
        self.page, self.head, self.at = page, head, 1
        self.table = Table(page, WEEKS)

    def add(self, key: str, make: Maker, words: bool = False, maybe: bool = False) -> None:
        """A column of numbers, of words, or of numbers that ``maybe`` are blank."""
        self.table.page.sheet.specs.append(self._head(key))
        known = TEXT if words else None if maybe else NUMBER
        self.table.computed(
            key, self.at, make, style="quiet", pattern="0.0####", known=known, hidden=True
        )
        self.at += 1

    def _head(self, key: str) -> Any:
        sheet, before = self.page.sheet, self.page.sheet.row
        sheet.row = self.head
        sheet.put(self.at, key.replace("_", " "), "table head")
        sheet.row = before
        return sheet.specs.pop()


def sizes(book: Book) -> None:
    """What one of each unit comes to, what a product holds, and which mix it is in."""
    page = add_page(book, "Shares", (28, *[12] * PRODUCTS), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("What products hold", "Percent by product. Nothing to type here.")
    _place(page, "rate_factor", work.rate_factor, ("rates_in", "area", "plants"))
    _place(page, "water_factor", work.water_factor, ("water_in", "area"))
    _place(page, "nitrogen_in_water", work.nitrogen_in_water, ("water_n", "water_nh4"))
    _place(page, "water_alkali", water_alkali, ("water_alkalinity",))
    _place(page, "week", runs.week_number, ("week_shown",))
    for nutrient, low in zip(NUTRIENTS, LOW, strict=True):
        _line(page, f"holds_{low}", each(work.holds_of(nutrient), "listed"))
    contents = tuple(f"holds_{low}" for low in LOW)
    _line(page, "own_content", each(work.of_choice, "chosen_for", *contents))
    _line(page, "share_used", each(work.share_of_need, "shares_typed"))
    for letter, low in zip(recipe.TANKS, LETTERS, strict=True):
        _line(page, f"mix_{low}", each(work.in_mix(letter), "used_tanks"))
    for k in range(1, PRODUCTS):
        made = each(work.of_choice, f":{part('chosen_for', k)}", *contents)
        _line(page, f"brings_{k + 1}", made, k)


def _place(page: Page, name: str, function: Any, keys: tuple[str, ...]) -> None:
    page.sheet.put(1, name.replace("_", " "), "row name")
    page.place(name, 2, function, keys, "0.0####")
    page.end_row()


def _line(page: Page, key: str, make: Maker, count: int = PRODUCTS) -> None:
    """A row with a cell for each of the first products."""
    page.sheet.put(1, key.replace("_", " "), "row name")
    keys = tuple(part(key, k) for k in range(count))
    for k, each_key in enumerate(keys):
        function, arguments = make(k)
        cell = page.sheet.at(2 + k)
        formula = Formula(each_key, cell, function, arguments, key, known=NUMBER)
        page.formula(formula, "quiet", "0.0###")
    page.book.add_range(key, keys, True)
    page.end_row()


def labels(book: Book) -> None:
    """What each week is called."""
    page = add_page(book, "Week names", (24,), working=True)
    page.sheet.hidden = True
    table = Table(page, WEEKS)
    names = lambda i: (runs.label_of(i + 1), (part("week_names", i),))  # noqa: E731
    table.computed("week_labels", 1, names, style="row name", known=TEXT, hidden=True)
    table.end()


def weeks(book: Book) -> None:
    """All that is worked out week by week."""
    page = add_page(book, "Weeks", tuple([11] * 60), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("Weeks", "kg, hours, L/h and g/L week by week. Nothing to type here.")
    page.end_row()  # for the season's credits, which the weeks share
    head = page.sheet.row
    page.end_row()
    column = Column(page, head)
    column.add("ones", lambda i: (work.one_each, ()))
    column.add("events", each(work.events_of, "week_events"))
    column.add("water", each(work.water_of, "week_water", ":water_factor"), maybe=True)
    _needs(column)
    _amounts(column)
    _runs(column)
    _off(column)
    column.table.end()


def _needs(column: Column) -> None:
    page = column.page
    for low in LOW:
        asked = each(work.asked_of, f"rates_{low}", ":rate_factor", ":rates_in_checked", "water")
        column.add(f"asked_{low}", asked)
    column.add("asked_all", each(runs.sum_of_five, *(f"asked_{low}" for low in LOW)))
    rates = tuple(f"rates_{low}" for low in LOW)
    column.add("lacking_water", each(work.lacks_water, *rates, "water"), words=True)
    below, page.sheet.row = page.sheet.row, column.head - 1
    for at, low in enumerate(LOW):
        _beside(page, 1 + 3 * at, f"soil_mass_{low}", work.soil_mass, (SOIL[low], "area"))
        keys: tuple[str, ...] = (f"soil_mass_{low}", f"asked_{low}", "ones")
        _beside(page, 2 + 3 * at, f"soil_share_{low}", work.soil_share, keys)
        nutrient = NUTRIENTS[at]
        made = work.water_credit(nutrient) if low in IN_WATER else work.nothing
        keys = (IN_WATER[low],) if low in IN_WATER else ()
        _beside(page, 3 + 3 * at, f"water_credit_{low}", made, keys)
    page.sheet.row = below
    for low in LOW:
        given = (f"asked_{low}", f":soil_share_{low}", f":water_credit_{low}", "water")
        column.add(f"credit_{low}", each(work.credit_of, *given))
        column.add(f"need_{low}", each(work.need_of, f"asked_{low}", f"credit_{low}"))


def _beside(page: Page, at: int, name: str, function: Any, keys: tuple[str, ...]) -> None:
    page.place(name, at, function, keys, "0.0####")


def _amounts(column: Column) -> None:
    book = column.page.book
    pounds = book.edition == "us"
    needs = tuple(f"need_{low}" for low in LOW)

    def maker(k: int) -> Maker:
        def make(i: int) -> tuple[Any, tuple[str, ...]]:
            keys = (
                part(f"by_hand_{k + 1}", i),
                *(part(name, k) for name in ("own_content", "share_used", "chosen_for")),
                *(part(need, i) for need in needs),
            )
            if k == 0:
                return work.first_amount(pounds), keys
            earlier = book.cells_of(tuple(part(f"kg_of_{j + 1}", i) for j in range(k)))
            return work.next_amount(pounds), (*keys, earlier, f"brings_{k + 1}")

        return make

    for k in range(PRODUCTS):
        column.add(f"kg_of_{k + 1}", maker(k))
    for low in LOW:
        column.add(f"given_{low}", _across(book, work.given_of, f"holds_{low}"))
    column.add("fed", _across(book, work.one_if_fed))
    masses = tuple(f"kg_of_{k + 1}" for k in range(PRODUCTS))
    column.add("week_masses_all", each(runs.sum_of_six, *masses))
    column.add("fed_events", each(work.product_of, "fed", "events"))
    for k in range(PRODUCTS):
        column.add(f"event_of_{k + 1}", each(work.each_event, f"kg_of_{k + 1}", "events"))


def _across(book: Book, function: Any, *more: str) -> Maker:
    """A function of a week's amounts, and of others."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        masses = tuple(part(f"kg_of_{k + 1}", i) for k in range(PRODUCTS))
        return function, (book.cells_of(masses), *more)

    return make


def _runs(column: Column) -> None:
    book, times = column.page.book, (":fill_time", ":flush_time")
    mixes = (*(f"mix_{low}" for low in LETTERS), *(f"tank_{low}" for low in LETTERS))
    column.add("stock", _across(book, runs.stock_of, *mixes))
    column.add("stock_least", _across(book, runs.least_stock, *mixes))
    column.add("run_hours", each(runs.run_of, "water", "events", ":flow"), maybe=True)
    injected = each(runs.inject_of, "run_hours", *times, ":inject_time")
    column.add("inject_hours", injected, maybe=True)
    timed = each(runs.time_kind, "fed", "run_hours", *times, "inject_hours")
    column.add("time_kinds", timed, words=True)
    column.add("draws", each(runs.draw_of, "stock", "inject_hours"), maybe=True)
    column.add("draws_least", each(runs.draw_of, "stock_least", "inject_hours"), maybe=True)
    column.add("draw_numbers", each(runs.number_or_none, "draws"))
    pumped = each(runs.pump_kind, "fed", "draws", "draws_least", ":pump_most", ":pump_least")
    column.add("pump_kinds", pumped, words=True)
    for k in range(PRODUCTS):
        made = each(runs.in_line, f"event_of_{k + 1}", ":flow", "inject_hours")
        column.add(f"line_of_{k + 1}", made)
    lines = tuple(f"line_of_{k + 1}" for k in range(PRODUCTS))
    column.add("in_line", each(runs.sum_of_six, *lines))
    made = each(runs.line_kind(STRONGEST_FEED, STRONG_FEED), "fed", "inject_hours", "in_line")
    column.add("line_kinds", made, words=True)


def _off(column: Column) -> None:
    for low in LOW:
        made = each(runs.off_of, f"asked_{low}", f"need_{low}", f"given_{low}")
        column.add(f"week_off_{low}", made)
    column.add("week_off", each(runs.farthest, *(f"week_off_{low}" for low in LOW)))
    column.add("off_kinds", each(runs.off_kind, "week_off"), words=True)
