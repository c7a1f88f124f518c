"""The season's sheet What if: its cost across prices, and across rates, of two products, live."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, NUMBER, TEXT
from tanksheet.templates.season import whatif_working as work
from tanksheet.units import Percent, Quantity

WIDTHS = (27, 15, 12, 12, 12, 26)
PRICES_1 = {"metric": (30.0, 33.0, 36.0, 39.0, 42.0), "us": (44.0, 48.0, 52.0, 56.0, 60.0)}
PRICES_2 = {"metric": (560.0, 600.0, 640.0, 680.0), "us": (530.0, 570.0, 610.0, 650.0)}
RATES_1, RATES_2 = (80.0, 90.0, 100.0, 110.0, 120.0), (80.0, 90.0, 100.0, 110.0)
RATE = Quantity(Percent, "rate of a product, of what the season uses", 0, work.MOST_PERCENT)
DOWN, ACROSS = 1, 4  # rows of the example's products


def what_if(book: Book) -> None:
    page = add_page(book, "What if", WIDTHS)
    page.heading(
        "What if",
        "What the season's use costs at other prices of two products, each by the pack of Order, "
        "and at other rates of them. The heads may be changed; packs on hand count as bought.",
    )
    page.section("Which two")
    page.choice("whatif_down", "Prices down are those of", work.ROWS, work.ROWS[DOWN])
    page.choice("whatif_across", "Prices across are those of", work.ROWS, work.ROWS[ACROSS])
    _worked(page)
    page.gap()
    page.section_words("Cost of what the season uses", len(WIDTHS))
    cell = page.sheet.at(LABEL)
    keys = ("whatif_name_1", "whatif_name_2")
    page.words("whatif_said", cell, work.what_is_asked, keys, "note", len(WIDTHS), hidden=True)
    page.end_row(18)
    page.axes(
        ("prices_down", "pack_price", PRICES_1[book.edition]),
        ("prices_across", "pack_price", PRICES_2[book.edition]),
        "price of a pack",
        ("#,##0.00", "#,##0.00"),
    )
    page.grid(
        "cost_what_if",
        work.cost_at,
        "prices_down",
        "prices_across",
        pattern="#,##0.00",
        rest="whatif_rest",
        first_kg="whatif_kg_1",
        second_kg="whatif_kg_2",
        pack_1="whatif_pack_1",
        pack_2="whatif_pack_2",
    )
    page.gap()
    _rates(page)


def _rates(page: Page) -> None:
    """The same two at other rates, at the prices of Order."""
    page.section_words("Cost at other rates of them, % of what the season uses", len(WIDTHS))
    page.axes(
        ("rates_down", RATE, RATES_1),
        ("rates_across", RATE, RATES_2),
        "rate, %",
        ('0.## " %"', '0.## " %"'),
    )
    page.grid(
        "cost_of_rates",
        work.cost_of_rates,
        "rates_down",
        "rates_across",
        pattern="#,##0.00",
        rest="whatif_rest",
        first_cost="whatif_cost_1",
        second_cost="whatif_cost_2",
    )
    page.gap()


def _worked(page: Page) -> None:
    """Behind the page: which two, how much of each is used, and what the others cost."""
    for number, choice in ((1, "whatif_down"), (2, "whatif_across")):
        end = f"_{number}"
        place, found = f"whatif_place{end}", f"whatif_found{end}"
        page.back(2, place, work.place_of, (page.book.key_for(choice),), known=NUMBER)
        page.back(3, found, work.at_place, (place, "names_in_use"), known=TEXT)
        page.back(4, f"whatif_name{end}", work.head_of, (place, found), known=TEXT)
        masses = (found, "names_in_use", "season_masses")
        page.back(5, f"whatif_kg{end}", work.season_mass, masses, known=NUMBER)
        page.back(6, f"whatif_pack{end}", work.at_place, (place, "packs_used"))
        page.back(7, f"whatif_kg_price{end}", work.at_place, (place, "kg_used"))
        costs = (f"whatif_kg{end}", f"whatif_kg_price{end}")
        page.back(8, f"whatif_cost{end}", work.cost_of_one, costs)
        page.end_row(4)
    keys: tuple[str, ...] = (
        "cost_check",
        "whatif_found_1",
        "whatif_found_2",
        "season_masses",
        "kg_used",
    )
    keys += ("whatif_place_1", "whatif_place_2", "whatif_kg_1", "whatif_kg_2")
    page.back(2, "whatif_rest", work.cost_of_rest, keys)
    page.end_row(4)
