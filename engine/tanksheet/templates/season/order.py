"""The season's sheet Order: packs and their prices, what is on hand, what to buy, what it costs."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import cost_working as money
from tanksheet.templates.recipe import order_working as recipe_order
from tanksheet.templates.recipe.cost import MONEY, currency, money_row, prices_table, rows_in_use
from tanksheet.templates.recipe.feed import NITROGEN, each
from tanksheet.templates.recipe.own_working import nitrogen_of
from tanksheet.templates.season import order_working as work
from tanksheet.templates.season import supply_working as supply
from tanksheet.templates.season.weeks_working import PRODUCTS
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself
from tanksheet.units import Number, Quantity

WIDTHS = (29, 14, 8.5, 10.5, 11, 26, 10)
ON_HAND = Quantity(Number, "packs on hand, parts of one too", 0, work.MOST_PACKS)
LEAD = (
    "What a pack costs and holds, what is in the shed, and what to buy for the season. A product "
    "in two rows is priced in one of them. Blank is not free: no total leaves a product out."
)
QUIET: dict[str, Any] = {"hidden": True, "behind": True}


def prices(book: Book) -> tuple[Page, int]:
    """All but the sums, whose verdict needs the plan's; gives the page and the row for them."""
    page = add_page(book, "Order", WIDTHS)
    page.heading("Order", LEAD)
    results = page.keep_rows(7)
    page.gap()
    page.section("What is counted")
    currency(page)
    page.choice("compare_by", "Compare prices by", recipe_order.COMPARED, recipe_order.COMPARED[0])
    page.gap()
    rows_in_use(prices_table(page, "its use"), "use_costs", work.row_said_here)
    _order(page)
    return page, results


def _order(page: Page) -> None:
    page.section_words("To buy for the season", len(WIDTHS))
    table = Table(page, PRODUCTS)
    heads = ("To buy for the season", "on hand", "buy", "costs", "uses")
    table.heads((*heads, "the nutrient costs", "left"), page.sheet.row - 1)
    names = each(itself, "cost_names")
    table.computed("bought_names", 1, names, style="row name", known=TEXT, hidden=True)
    table.filled(
        "packs_on_hand",
        2,
        "Packs on hand",
        [None] * PRODUCTS,
        limits=ON_HAND,
        usual=(0, 20),
        style="typed maybe",
        pattern='0.##" packs"',
    )
    _needs(table)
    packs = each(work.bought, "needs", "kgs_on_hand", "packs_used")
    table.computed("packs", 3, packs, style="worked out", pattern="#,##0")
    left = each(work.left_over, "needs", "kgs_on_hand", "packs_used", "packs")
    table.computed("left_masses", 11, left, known=NUMBER, **QUIET)
    left = each(work.left_or_blank, "left_masses")
    table.computed("leftovers", 12, left, pattern="0.0##", behind=True)
    costs = each(recipe_order.packs_cost, "packs", "prices_used")
    table.computed("pack_costs", 4, costs, style="worked out", pattern=MONEY)
    _words(table)
    _compared(table)
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = 18
    table.end()


def _needs(table: Table) -> None:
    def counted(i: int) -> tuple[Any, tuple[str, ...]]:
        return recipe_order.counted_here(i + 1), (part("names_in_use", i), "names_in_use")

    table.computed("counted", 8, counted, known=NUMBER, **QUIET)
    masses = each(work.mass_if_used, "names_in_use", "season_kgs")
    table.computed("season_masses", 7, masses, **QUIET)
    uses = ("names_in_use", "counted", "season_masses", ":names_in_use", ":season_masses")
    needs = each(work.need_of_season, *uses)
    table.computed("needs", 9, needs, pattern="0.0##", known=NUMBER, **QUIET)
    table.computed("hands", 13, each(work.hand_typed, "packs_on_hand"), known=NUMBER, **QUIET)
    uses = ("names_in_use", "counted", "packs_used", ":names_in_use", ":hands")
    table.computed("kgs_on_hand", 10, each(work.on_hand, *uses), known=NUMBER, **QUIET)


def _words(table: Table) -> None:
    edition = table.page.book.edition
    quiet: dict[str, Any] = {"hidden": True, "style": "other system", "known": TEXT}
    uses = ("names_in_use", "counted", "needs", "densities")
    table.computed("needs_said", 5, each(recipe_order.need_words(edition), *uses), **quiet)
    over = each(work.left_said(edition), "packs_on_hand", "left_masses", "densities")
    table.computed("leftovers_said", 7, over, **quiet)


def _compared(table: Table) -> None:
    forms = each(nitrogen_of, *(f"percent_{form}" for form in NITROGEN))
    table.computed("percent_n", 14, forms, known=NUMBER, **QUIET)
    contents = [f"percent_{element}" for element in "n p k ca mg s fe mn zn cu b mo".split()]
    compared = each(recipe_order.compared_content, ":compare_by", *contents)
    table.computed("compared", 15, compared, **QUIET)
    costs = each(recipe_order.nutrient_price, "prices_used", "packs_used", "compared")
    table.computed("nutrient_prices", 16, costs, pattern="0.00", behind=True)
    said = each(
        work.compared_said(table.page.book.edition),
        *("packs_on_hand", "nutrient_prices", ":currency_word", ":compare_by"),
    )
    table.computed("nutrient_said", 6, said, style="grid words", known=TEXT, hidden=True)


def cost_verdict(verdicts: Verdicts) -> None:
    """On the first page: whether every product that is used has its price."""
    verdicts.add(
        "cost_check",
        "Is every price known?",
        supply.cost_verdict_of,
        plan="plan_check",
        lacking="lacking",
        ones="lacking_ones",
        used="ones_in_use",
        names="cost_names",
    )


def sums(page: Page, row: int) -> None:
    """What the season costs, at the top of the sheet."""
    edition = page.book.edition
    area, mass = ("acre", "lb") if edition == "us" else ("ha", "kg")
    below, page.sheet.row = page.sheet.row, row
    page.section("What the season costs")
    uses = {"verdict": "cost_check", "masses": "used_amounts", "kg_used": "kg_used"}
    money_row(page, "cost_per_season", "What is used", money.cost_of_fill, uses)
    total = {"total": "cost_per_season"}
    money_row(page, "cost_per_area", f"... on each {area}", work.cost_of_area(edition), total)
    given = total | {"given": "given_kg"}
    label = f"... a {mass} of N, P2O5 and K2O"
    money_row(page, "cost_per_nutrient", label, work.cost_of_nutrient(edition), given)
    bill = {"verdict": "cost_check", "season": "weeks_fed", "costs": "pack_costs"}
    bill |= {"counted": "counted"}
    money_row(page, "cost_of_packs", "To buy, in whole packs", recipe_order.cost_of_order, bill)
    counts: dict[str, Any] = {"verdict": "cost_check", "counts": "packs", "ones": "counted"}
    page.result(
        "packs_to_buy",
        "Packs to buy",
        work.packs_in_all,
        unit="",
        may_be_words=True,
        pattern="#,##0",
        **counts,
    )
    page.sheet.row = below
