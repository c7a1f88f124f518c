"""The stocks of a line: their products on the first page, what they hold and how much of each is
drawn on a hidden sheet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TABLE_HEIGHT, TEXT
from tanksheet.templates.products import NAMES
from tanksheet.templates.recipe import tank_working as mixing
from tanksheet.templates.recipe import target_working as target
from tanksheet.templates.recipe import working as recipe
from tanksheet.templates.recipe.amounts_working import alkalinity_wanted
from tanksheet.templates.recipe.feed import NITROGEN, contents_table, each, unsure_products
from tanksheet.templates.recipe.feed_working import water_alkali
from tanksheet.templates.recipe.own_products import NAMES as OWN_NAMES
from tanksheet.templates.series import setting_working as setting
from tanksheet.templates.series import stock_working as work
from tanksheet.templates.series.line_working import three_of
from tanksheet.templates.series.stock_working import PRODUCTS, STOCKS
from tanksheet.templates.series.telling import START
from tanksheet.templates.working import itself
from tanksheet.units import Number, Parts, Quantity

LOW = tuple(letter.lower() for letter in STOCKS)
EACH = range(len(STOCKS))
MASS = Quantity(Number, "product in its whole stock", 0, work.MOST_MASS)
OWN = Quantity(Parts, "setting of your own, the N of 1:N", 1, work.MOST_RATIO, above=True)
QUIET: dict[str, Any] = {"hidden": True, "behind": True}


# the first page


def products(page: Page) -> Table:
    us = page.book.edition == "us"
    page.section("Products", "lb in stock" if us else "kg in stock", "stock")
    table = Table(page, PRODUCTS)
    start = [*START, *[(None, None, "A")] * (PRODUCTS - len(START))]
    names, masses, stocks = (list(column) for column in zip(*start, strict=True))
    if us:
        masses = [_in_pounds(mass) for mass in masses]
    table.filled(
        "products",
        1,
        "Product",
        names,
        words=NAMES,
        usual_words=(*NAMES, *OWN_NAMES),
        list_name="fert_fertilizers_product",
        also="own_names",
    )
    pattern = 'General" lb"' if us else 'General" kg"'
    facts: dict[str, Any] = {"limits": MASS, "usual": (0.01, 100), "pattern": pattern}
    table.filled("masses", 2, "Product in the whole stock", masses, **facts)
    words: dict[str, Any] = {"optional": False, "style": "typed middle"}
    table.filled("stocks", 3, "Stock", stocks, words=STOCKS, **words)
    listed = each(recipe.listed_product, "products")
    table.computed("listed", 7, listed, known=replace(TEXT, words=NAMES), **QUIET)
    used = each(work.stock_chosen, "listed", "stocks")
    table.computed("used_tanks", 8, used, known=TEXT, **QUIET)
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()
    page.gap()
    return table


def _in_pounds(kilograms: float | None) -> float | None:
    """The example's masses as a scale in pounds would have them, for tanks of US size."""
    return None if kilograms is None else float(f"{kilograms * 2.085:.3g}")


def set_by(page: Page) -> Table:
    """What each stock is set by, or a setting of one's own."""
    page.section("Set by", "target of", "or 1 :", "", "", "")
    table = Table(page, len(STOCKS))
    table.labels(1, [f"Stock {letter}" for letter in STOCKS])
    leads: list[Any] = ["N", "P", work.ALKALINITY]
    table.filled("set_by", 2, "Set by the target of", leads, words=work.LEADS)
    facts: dict[str, Any] = {"limits": OWN, "usual": (30, 500), "style": "typed narrow"}
    facts["pattern"] = '"1 :" General'
    table.filled("own_settings", 3, "Setting of your own", [None] * 3, **facts)
    for i in EACH:
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()
    page.gap()
    return table


# behind it


def contents(book: Book) -> Table:
    page = add_page(book, "Contents", (32, *[8.5] * 41), landscape=True, working=True)
    return contents_table(page)


def strengths(table: Table, known: Table) -> None:
    """How strong each product stands in its stock, and what is said of it."""
    grams = each(work.grams_of(table.page.book.edition == "us"), "listed", "masses")
    table.computed("used_amounts", 9, grams, known=NUMBER, pattern="0.0", **QUIET)
    tanks = tuple(f":tank_{low}" for low in LOW)
    mixed = each(recipe.in_tank, "used_amounts", "used_tanks", *tanks)
    table.computed("strengths", 10, mixed, known=NUMBER, pattern="0.00", **QUIET)
    table.computed("limits", 11, each(recipe.holds, "listed", ":temperature"), **QUIET)
    shares = each(recipe.share_of_limit, "strengths", "limits")
    table.computed("shares", 12, shares, **QUIET)
    judged = ("products", "listed", ":own_cleaned", "strengths", "shares")
    said = each(recipe.dissolves_verdict, *judged)
    table.computed("dissolved", 13, said, known=TEXT, **QUIET)
    read = each(recipe.is_read, "listed", "strengths")
    table.computed("read", 14, read, known=TEXT, **QUIET)
    in_use = each(mixing.one_if_used, "strengths")
    table.computed("in_use", 15, in_use, known=NUMBER, **QUIET)
    unsure_products(known)


def settings(book: Book) -> None:
    """The hidden sheet of the equations, from what a stock holds to litres of it in the feed."""
    page = add_page(book, "Settings", (30, *[13] * 12), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("Settings", "What each stock is set to. Nothing to type here.")
    _single(page, "water_alkali", water_alkali, "water_alkalinity")
    _single(page, "alkalinity_wanted", alkalinity_wanted, "target_alkalinity", number=False)
    _in_each_stock(page)
    _what_they_hold(page)
    _places(page)
    _parts(page)
    _equations(page)
    _rates(page)


def _single(
    page: Page, name: str, function: Any, *keys: str, number: bool = True, words: bool = False
) -> None:
    """A value in a row of its own."""
    page.sheet.put(1, name.replace("_", " "), "row name")
    found = tuple(page.book.key_for(key) for key in keys)
    known = TEXT if words else NUMBER if number else None
    page.back(2, name, function, found, known=known, pattern="0.0####")
    page.end_row()


def _in_each_stock(page: Page) -> None:
    """g/L of each product in each of the stocks."""
    table = Table(page, PRODUCTS)
    table.computed("products_in_stocks", 1, each(itself, "listed"), known=TEXT, style="row name")
    for column, (letter, low) in enumerate(zip(STOCKS, LOW, strict=True), 2):
        here = each(work.of_stock(letter), "used_tanks", "strengths")
        table.computed(f"strengths_{low}", column, here, known=NUMBER)
    table.end()
    page.gap()


def _what_they_hold(page: Page) -> None:
    """What a litre of each stock brings of each target, and what is left to bring."""
    table = Table(page, len(work.LEADS))
    names = lambda i: (target.named(work.LEADS[i]), ())  # noqa: E731
    table.computed("leads", 1, names, known=TEXT, style="row name")
    for column, low in enumerate(LOW, 2):
        table.computed(f"holds_{low}", column, _holds(low), known=NUMBER)
    table.computed("goals", 5, _goals)
    table.end()
    page.gap()


def _holds(low: str) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        name, here = work.LEADS[i], f"strengths_{low}"
        if name == work.ALKALINITY:
            return work.acid_less_carbonate, (here, "ion_hydrogen", "ion_bicarbonate")
        if name == "N":
            return target.delivered_nitrogen, (here, *(f"percent_{n}" for n in NITROGEN))
        return target.delivered_element, (here, f"percent_{name.lower()}")

    return make


def _goals(i: int) -> tuple[Any, tuple[str, ...]]:
    if work.LEADS[i] == work.ALKALINITY:
        return work.alkalinity_goal, ("alkalinity_wanted", "water_alkali")
    return work.goal_of, (part("wanted", i), part("from_water", i))


def _places(page: Page) -> None:
    """Where along the line each stock enters."""
    for letter, low in zip(STOCKS, LOW, strict=True):
        _single(page, f"place_{low}", setting.place_of(letter), "order")
    for one in EACH:
        for other in EACH:
            if one != other:
                name, keys = f"{LOW[one]}_before_{LOW[other]}", (one, other)
                _single(page, name, setting.stands_before, *(f"place_{LOW[k]}" for k in keys))


def _parts(page: Page) -> None:
    """Stock by stock: whether it is used, what it is set by, its own setting."""
    table = Table(page, len(STOCKS))
    names = lambda i: (target.named(STOCKS[i]), ())  # noqa: E731
    table.computed("stock_names", 1, names, known=TEXT, style="row name")
    counts = lambda i: (mixing.total(STOCKS[i]), ("used_tanks", "in_use"))  # noqa: E731
    table.computed("counts", 2, counts, known=NUMBER)
    table.computed("ones_used", 8, each(mixing.one_if_used, "counts"), known=NUMBER)
    places = each(work.lead_place, "set_by", ":leads")
    table.computed("lead_places", 3, places, known=NUMBER)
    parts = each(work.own_parts, "own_settings", ":reading")
    table.computed("own_parts", 4, parts)
    table.computed("through_parts", 5, each(work.share_through, "shares_through"), known=NUMBER)
    held = lambda i: (work.of_row, (part("lead_places", i), f"holds_{LOW[i]}"))  # noqa: E731
    table.computed("lead_contents", 6, held)
    table.computed("lead_goals", 7, each(work.of_row, "lead_places", ":goals"))
    table.end()
    page.gap()


def _equations(page: Page) -> None:
    """Three rows of three, each over its largest number."""
    raw, table = Table(page, len(STOCKS)), Table(page, len(STOCKS))
    known: dict[str, Any] = {"known": NUMBER, "pattern": "0.0####"}
    for j in EACH:

        def row(k: int, j: int = j) -> tuple[Any, tuple[str, ...]]:
            is_behind = f"{LOW[k]}_before_{LOW[j]}" if j != k else part("counts", k)
            own = tuple(part(key, k) for key in ("counts", "own_parts", "through_parts"))
            keys = (*own, part("lead_places", k), f"holds_{LOW[j]}", is_behind)
            return setting.coefficient(j == k), keys

        raw.computed(f"coefficients_{LOW[j]}", 2 + j, row, **known)
    sides = each(setting.right_side, "counts", "own_parts", "lead_goals")
    raw.computed("right_sides", 5, sides, **known)
    columns = tuple(f"coefficients_{low}" for low in LOW)
    table.computed("largest", 6, each(setting.largest_of, *columns), **known)
    for j, low in enumerate(LOW):
        scaled = each(setting.over, f"coefficients_{low}", "largest")
        table.computed(f"scaled_{low}", 7 + j, scaled, **known)
    table.computed("scaled_sides", 10, each(setting.over, "right_sides", "largest"), **known)
    table.end()
    page.gap()
    _single(page, "whole", setting.determinant, *_square(None))
    for k, low in enumerate(LOW):
        _single(page, f"with_{low}", setting.determinant, *_square(k))


def _square(replaced: int | None) -> tuple[str, ...]:
    """Keys of the nine numbers, the right sides in one column's place."""
    return tuple(
        part("scaled_sides" if j == replaced else f"scaled_{LOW[j]}", k) for k in EACH for j in EACH
    )


def _rates(page: Page) -> None:
    """Litres of each stock in a litre of feed, the flows, and the setting."""
    table = Table(page, len(STOCKS))
    known: dict[str, Any] = {"known": NUMBER, "pattern": "0.0######"}
    raw = lambda k: (setting.solved, (f"with_{LOW[k]}", "whole"))  # noqa: E731
    table.computed("raw_rates", 2, raw, **known)
    judged = ("counts", "own_settings", "own_parts", "lead_places", "lead_contents", "lead_goals")
    kinds = each(setting.set_kind, *judged, ":whole", "raw_rates")
    table.computed("set_kinds", 3, kinds, known=TEXT)
    table.computed("good", 4, each(setting.one_if_good, "set_kinds"), known=NUMBER)
    table.computed("rates", 5, each(setting.rate_of, "raw_rates"), **known)
    table.end()
    _single(page, "found", setting.one_if_all, "good")
    _single(page, "total_flow", work.all_flow, "flow", *(part("rates", k) for k in EACH))
    _single(page, "stocks_used", three_of, *(part("ones_used", k) for k in EACH))
    _single(page, "ready", work.ready_of, "stocks_used", "found")
    flows = Table(page, len(STOCKS))
    flows.computed("stock_flows", 2, each(work.stock_flow, "rates", ":total_flow"), **known)
    flows.computed("inflows", 3, _inflow, **known)
    flows.computed("through", 4, each(work.part_of, "inflows", "through_parts"), **known)
    least = each(work.least_through, "through", ":flow", ":flow_low")
    flows.computed("through_least", 5, least, **known)
    set_to = each(work.setting_of, ":found", "through", "stock_flows", ":reading")
    flows.computed("settings", 6, set_to)
    flows.computed("percents", 7, each(work.percent_of, "settings"))
    flows.computed("drawn", 8, each(work.an_hour, ":found", "stock_flows"))
    flows.end()
    page.gap()


def _inflow(k: int) -> tuple[Any, tuple[str, ...]]:
    one, other = (j for j in EACH if j != k)
    keys = (part("stock_flows", one), f"{LOW[one]}_before_{LOW[k]}")
    return work.flow_before, ("flow", *keys, part("stock_flows", other), _before(other, k))


def _before(one: int, other: int) -> str:
    return f"{LOW[one]}_before_{LOW[other]}"


def doses(table: Table) -> None:
    """g of each product in a litre of feed."""
    rates = tuple(f":{part('rates', k)}" for k in EACH)
    made = each(work.dose_of, "strengths", "used_tanks", *rates)
    table.computed("doses", 16, made, known=NUMBER, pattern="0.0000", **QUIET)
