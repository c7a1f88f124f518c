"""The recipe workbook's sheet Cost: packs and their prices, what a fill, a volume and a season of
feed cost, and what to buy."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.sheets.rows import BASE, LABEL, NUMBER, TEXT, TYPED, UNIT, Function
from tanksheet.sheets.rules import text_rule
from tanksheet.templates.recipe import cost_working as work
from tanksheet.templates.recipe import order_working as order
from tanksheet.templates.recipe.feed import NITROGEN, PRODUCTS, each
from tanksheet.templates.recipe.own_working import nitrogen_of
from tanksheet.templates.working import itself, one
from tanksheet.units import Litre, Quantity

# What is used of each product, in grams; of the recipe in one fill of each tank.
USED = "used_amounts"
SEASON = Quantity(Litre, "feed of a season", 0, 1e10, above=True)
CURRENCIES = ("EUR", "USD", "kr", "pesos")
MONEY = "#,##0.00"
COST_WIDTHS = (29, 13, 8.5, 9.5, 9, 26)  # the longest names of products, and small pounds
# Invented prices of a pack, with what it holds: metric, then US.
Pack = tuple[float, float, str]
EXAMPLE: dict[str, tuple[Pack, Pack]] = {
    "calcium nitrate 15.5-0-0": ((16.5, 25, "kg"), (24, 50, "lb")),
    "potassium nitrate": ((36, 25, "kg"), (52, 50, "lb")),
    "iron DTPA 11 %": ((62, 5, "kg"), (95, 10, "lb")),
    "potassium sulfate": ((27, 25, "kg"), (41, 50, "lb")),
    "monopotassium phosphate": ((48, 25, "kg"), (71, 50, "lb")),
    "magnesium sulfate heptahydrate": ((11, 25, "kg"), (18.5, 50, "lb")),
    "manganese sulfate monohydrate": ((14, 5, "kg"), (15, 5, "lb")),
    "boric acid": ((17, 5, "kg"), (18, 5, "lb")),
    "zinc sulfate heptahydrate": ((15, 5, "kg"), (16, 5, "lb")),
    "copper sulfate pentahydrate": ((21, 5, "kg"), (22, 5, "lb")),
    "sodium molybdate dihydrate": ((38, 1, "kg"), (24, 1, "lb")),
    "nitric acid 60 %": ((29, 20, "L"), (46, 5, "gal")),
    "monoammonium phosphate": ((39, 25, "kg"), (57, 50, "lb")),
    "urea ammonium nitrate 32-0-0": ((640, 1000, "L"), (610, 275, "gal")),
}
LEAD = (
    "What a pack costs and holds. A product in two rows is priced in one of them; one of your own "
    "may be priced on My products. Blank is not free: no total leaves a product out."
)


def cost(book: Book) -> None:
    page = add_page(book, "Cost", COST_WIDTHS)
    page.heading("Cost", LEAD)
    results = page.keep_rows(7)
    page.gap()
    _season(page)
    prices = prices_table(page, "a fill")
    rows_in_use(prices, "fill_costs")
    _order(page)
    below, page.sheet.row = page.sheet.row, results
    _results(page)
    page.sheet.row = below


def cost_tile() -> Tile:
    uses = {"cost": "cost_per_fill", "currency": "currency_word"}
    return Tile(6, "A fill costs", work.tile_cost, uses)


def _season(page: Page) -> None:
    page.section("What is counted")
    page.input(
        "season_volume",
        "Feed of a season",
        SEASON,
        500,
        "m3",
        usual=(1000, 1e7),
        optional=True,
        us=(100000, "gal"),
    )
    currency(page)
    page.choice("compare_by", "Compare prices by", order.COMPARED, order.COMPARED[0])
    page.gap()


def currency(page: Page) -> None:
    """Any word: it stands beside the sums and is no part of them."""
    label, cell = "Currency, in a word", page.sheet.at(TYPED)
    word = "EUR" if page.book.edition == "metric" else "USD"
    page.sheet.put(LABEL, label, "label")
    page.sheet.put(TYPED, word, "typed maybe word")
    entry = Entry("currency", (cell,), (word,), label, optional=True, usual_words=CURRENCIES)
    page.book.add_entry(entry)
    page.sheet.rules.append(text_rule(entry))
    page.back(BASE, "currency_word", work.currency_said, ("currency",), label=label, known=TEXT)
    page.end_row(18)


def prices_table(page: Page, used: str) -> Table:
    """What a person types of each product of ``listed``, and what follows of the pack; ``used`` is
    the head of what its use costs."""
    page.section("Prices of packs", "a pack holds", "unit", "its price", used)
    table = Table(page, len(page.book.ranges["listed"]))
    names = lambda i: (work.called(i + 1), (part("listed", i),))  # noqa: E731
    table.computed("cost_names", 1, names, style="row name", known=TEXT, hidden=True)
    _typed(table)
    quiet: dict[str, Any] = {"hidden": True, "behind": True}
    own = (":mine_product", ":own_pack_prices", ":own_pack_kgs")
    table.computed(
        "prices_here",
        7,
        each(work.price_here, "prices", "pack_sizes", "listed", own[0], own[1]),
        **quiet,
    )
    packs = each(work.pack_here, "pack_sizes", "pack_units", "listed", "densities", own[0], own[2])
    table.computed("packs_here", 8, packs, **quiet)
    table.computed("kg_prices", 9, each(work.price_of_kg, "prices_here", "packs_here"), **quiet)
    priced = each(work.priced_name, "listed", "kg_prices")
    table.computed("priced_names", 10, priced, known=TEXT, **quiet)
    for column, (name, figures) in enumerate(
        (("prices_used", "prices_here"), ("packs_used", "packs_here"), ("kg_used", "kg_prices")), 11
    ):
        found = each(work.of_product, "listed", ":priced_names", f":{figures}")
        table.computed(name, column, found, **quiet)
    return table


def _typed(table: Table) -> None:
    book = table.page.book
    kind, units = 0 if book.edition == "metric" else 1, work.PACK_UNITS[book.edition]
    shown: dict[str, Pack] = {}
    for name in book.entries["products"].default:
        if name in EXAMPLE:
            shown.setdefault(str(name), EXAMPLE[str(name)][kind])
    blank = (None, None, units[0])
    packs = [shown.pop(str(n), blank) for n in book.entries["products"].default]
    prices, sizes, first = (list(column) for column in zip(*packs, strict=True))
    money: dict[str, Any] = {"limits": work.PRICE, "usual": (1, 200), "pattern": work.PRICE_SHOWN}
    table.filled("prices", 4, "Price of a pack", prices, **money)
    table.filled("pack_sizes", 2, "A pack holds", sizes, limits=work.PACK, usual=(0.5, 50))
    table.filled(
        "pack_units",
        3,
        "Unit of the pack",
        first,
        words=units,
        usual_words=(units[0],),
        optional=False,
    )


def rows_in_use(table: Table, costs: str, words: Function = work.row_said) -> None:
    """Which rows count, what their prices lack in ``words``, and what their use ``costs``."""
    quiet: dict[str, Any] = {"hidden": True, "behind": True}
    used = each(work.name_in_use, "listed", USED)
    table.computed("names_in_use", 14, used, known=TEXT, **quiet)
    ones = each(work.one_if_used, "names_in_use")
    table.computed("ones_in_use", 15, ones, known=NUMBER, **quiet)
    lacking = each(work.lacks, "listed", USED, "names_in_use", "kg_prices", "kg_used")
    table.computed("lacking", 16, lacking, known=TEXT, **quiet)
    table.computed("lacking_ones", 17, each(one, "lacking"), known=NUMBER, **quiet)
    said = each(
        words,
        *("listed", USED, "names_in_use", "prices_here", "packs_here", "kg_prices", "kg_used"),
    )
    table.computed("prices_said", 6, said, style="grid said", known=TEXT, hidden=True)
    made = each(work.fill_cost, "names_in_use", USED, "kg_used")
    table.computed(costs, 5, made, style="worked out", pattern=MONEY)
    for i in range(table.rows):
        table.page.sheet.heights[table.first + i] = 18
    table.end()
    table.page.gap()


def _order(page: Page) -> None:
    """Packs to buy for the season, and what a nutrient costs in each product."""
    page.section("To buy for the season", "packs", "over", "uses", "costs", "the nutrient costs")
    table, book = Table(page, PRODUCTS), page.book
    table.computed(
        "bought", 1, each(itself, "cost_names"), style="row name", known=TEXT, hidden=True
    )
    _needs(table)
    quiet: dict[str, Any] = {"hidden": True, "style": "other system", "known": TEXT}
    uses = ("names_in_use", "counted", "needs", "densities")
    table.computed("needs_said", 4, each(order.need_words(book.edition), *uses), **quiet)
    packs = each(order.packs_to_buy, "needs", "packs_used")
    table.computed("packs", 2, packs, style="worked out", pattern="#,##0")
    left = each(order.left_mass, "needs", "packs_used", "packs")
    table.computed("left_masses", 11, left, known=NUMBER, hidden=True, behind=True)
    left = each(order.left_over, "left_masses")
    table.computed("leftovers", 14, left, pattern="0.0##", behind=True)
    over = each(order.left_words(book.edition), "left_masses", "densities")
    table.computed("leftovers_said", 3, over, **quiet | {"style": "unit"})
    costs = each(order.packs_cost, "packs", "prices_used")
    table.computed("pack_costs", 5, costs, style="worked out", pattern=MONEY)
    _compared(table)
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = 18
    table.end()


def _needs(table: Table) -> None:
    quiet: dict[str, Any] = {"hidden": True, "behind": True}
    masses = each(order.season_mass, "names_in_use", "doses", ":season_volume")
    table.computed("season_masses", 7, masses, **quiet)
    table.computed("counted", 8, _counted, known=NUMBER, **quiet)
    uses = ("names_in_use", "counted", "season_masses", ":names_in_use", ":season_masses")
    needs = each(order.needed, *uses)
    table.computed("needs", 9, needs, pattern="0.0##", known=NUMBER, **quiet)


def _counted(i: int) -> tuple[Function, tuple[str, ...]]:
    return order.counted_here(i + 1), (part("names_in_use", i), "names_in_use")


def _compared(table: Table) -> None:
    quiet: dict[str, Any] = {"hidden": True, "behind": True}
    forms = each(nitrogen_of, *(f"percent_{form}" for form in NITROGEN))
    table.computed("percent_n", 13, forms, known=NUMBER, **quiet)
    contents = [f"percent_{element}" for element in "n p k ca mg s fe mn zn cu b mo".split()]
    compared = each(order.compared_content, ":compare_by", *contents)
    table.computed("compared", 10, compared, **quiet)
    prices = each(order.nutrient_price, "prices_used", "packs_used", "compared")
    table.computed("nutrient_prices", 12, prices, pattern="0.00", behind=True)
    said = each(
        order.nutrient_words(table.page.book.edition),
        *("nutrient_prices", ":currency_word", ":compare_by"),
    )
    table.computed("nutrient_said", 6, said, style="grid words", known=TEXT, hidden=True)


def _results(page: Page) -> None:
    page.section("What the feed costs")
    verdict = {"lacking": "lacking", "ones": "lacking_ones", "used": "ones_in_use"}
    verdict |= {"names": "cost_names"}
    page.verdict("cost_check", "Is every price known?", work.cost_verdict, tall=26, **verdict)
    page.working_value(
        "cost_of_litre", work.cost_of_litre, verdict="cost_check", doses="doses", kg_used="kg_used"
    )
    fill = {"verdict": "cost_check", "masses": USED, "kg_used": "kg_used"}
    money_row(page, "cost_per_fill", "All tanks filled once", work.cost_of_fill, fill)
    litre = {"a_litre": "cost_of_litre"}
    volumes = [
        ("cost_per_m3", "1000 L of feed", work.cost_of_volume(work.CUBIC_METRE)),
        ("cost_per_1000_gal", "1000 gal of feed", work.cost_of_volume(work.THOUSAND_GALLONS)),
    ]
    for name, label, function in volumes if page.book.edition == "metric" else volumes[::-1]:
        money_row(page, name, label, function, litre)
    season = litre | {"season": "season_volume"}
    money_row(page, "cost_per_season", "The feed of a season", work.cost_of_season, season)
    bill = {"verdict": "cost_check", "season": "season_volume", "costs": "pack_costs"}
    bill |= {"counted": "counted"}
    money_row(page, "cost_of_packs", "... in whole packs", order.cost_of_order, bill)


def money_row(page: Page, name: str, label: str, function: Function, uses: dict[str, str]) -> None:
    """A sum of money with its currency beside it."""
    page.sheet.put(LABEL, label, "label")
    arguments = page.arguments(function, uses)
    page.number(name, function, arguments, "money", label=label, pattern=MONEY, known=None)
    cell = page.sheet.at(UNIT)
    page.words(f"{name}_word", cell, itself, ("currency_word",), "unit", hidden=True)
    page.end_row(18)
