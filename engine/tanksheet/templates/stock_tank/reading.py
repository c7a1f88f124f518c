"""What a person reads of the stock tank first and carries to it: the weights and the card."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.measures import tile_in, tile_number, tile_setting
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.templates.stock_tank import working as work

SAFETY = (
    "Wear goggles and gloves. Fill the tank part-way with water, add the fertilizer slowly while "
    "stirring, then make up to the mark. If acid is used: acid into water, never water into acid.",
    "Never put chlorine products in a tank with acid or with ammonium or urea: poisonous gas. Keep "
    "calcium products apart from sulfates and phosphates in concentrates: they settle out.",
    "On a drinking-water supply, inject only behind the backflow preventer that the local code "
    "asks for, installed and tested by a licensed person. Labels and safety data sheets come "
    "first.",
)
SOURCES = (
    (
        "A feed within 5 % of the plan passes, beyond 10 % the injector needs attention.",
        "common practice, no source",
    ),
    ("Delivered within 10 % of a target passes.", "common practice, no source"),
    (
        "Contents, ions and the pH that a product of the list bears.",
        "data/fertilizers.csv, a source on each row",
    ),
    (
        "Up to 85 % of what a saturated stock holds passes, above 100 % stops; two products are "
        "added up.",
        "data/saturation.csv, a source on each row; the limit of 85 % is common practice",
    ),
    (
        "No dry fertilizer beyond 1.5 kg in a litre of stock.",
        "calcium nitrate tetrahydrate at 40 degrees C, data/saturation.csv",
    ),
    (
        "The tank's pH counts the water's alkalinity, its pH as 7.5; 6 is taken for products by "
        "label.",
        "FERT.FEEDPH; common practice, no source",
    ),
    (
        "Order of mixing, protective wear and what must not share a tank.",
        "common extension advice (from memory); UMass Extension, Adjusting Alkalinity with Acids",
    ),
)


STEPS = (
    "Choose up to two products from the list, or leave the product blank and type the label of the "
    "bag. Product 1 is worked out first; product 2 makes up what is still missing of its nutrient.",
    "Type what each is chosen for and the target at the emitter, then tank, injector and water.",
    "Read the verdict at the top. What is wrong says so beside its row, with what to do.",
    "Weigh or pour what the first table says; the sheet Mixing card says it in order.",
    "Read EC at the emitter, type it under the checks at the tap, and correct the setting.",
)


def weigh(page: Page, row: int) -> None:
    """The first table: what to weigh or pour for one tank."""
    below, page.sheet.row = page.sheet.row, row
    page.weigh_section("Weigh for one tank")
    for number, target in ((1, "target_1"), (2, "still_missing")):
        own = ("mass", "volume")
        uses: dict[str, Any] = {each: f"{each}_{number}" for each in own}
        names = (f"weigh_name_{number}", f"weigh_{number}")
        keys = {"product": f"product_{number}"}
        page.words(
            names[0],
            page.sheet.at(1),
            work.weigh_name(number),
            page.arguments(work.weigh_name(number), keys),
            "label",
            hidden=True,
        )
        made = work.weight_in(page.book.edition)
        page.words(
            names[1],
            page.sheet.at(2),
            made,
            page.arguments(made, {"target": target, **uses}),
            "weight",
            hidden=True,
        )
        page.soft_if_stopped((page.sheet.at(2),))
        page.end_row(19)
    page.sheet.row = below


def tiles_of(edition: str) -> list[Tile]:
    drawn = shown_unit("L/h", edition)
    return [
        Tile(1, "Set the injector to", tile_setting, {"ratio": "ratio_set"}),
        Tile(2, "EC, mS/cm", tile_number, {"number": "ec_target"}),
        Tile(3, "Lasts, h", tile_number, {"number": "hours_per_tank"}),
        Tile(4, f"Drawn, {drawn}", tile_in("L/h", drawn), {"number": "stock_per_hour"}),
    ]


def card(book: Book, safety: Sequence[str]) -> None:
    page = add_page(book, "Mixing card", widths=(86, 6))
    page.sheet.put(1, "Mixing card", "card title", across=2)
    page.end_row(30)
    page.line(
        "card_stop",
        work.first_stop,
        "card",
        34,
        fits="fits_check",
        dissolves="dissolves_check",
        clash="clash_check",
        target_1="target_1_check",
        target_2="target_2_check",
    )
    page.line("card_tank", work.card_tank)
    for number, target in ((1, "target_1"), (2, "still_missing")):
        own = ("product", "mass", "volume", "pounds")
        uses: dict[str, Any] = {each: f"{each}_{number}" for each in own}
        page.line(f"card_{number}", work.card_product(number), target=target, **uses)
    page.line("card_fill", work.card_fill)
    page.line("card_setting", work.card_setting, ratio="ratio_set")
    page.line("card_draw", work.card_draw)
    page.line("card_life", work.card_life)
    page.line("card_meter", work.card_meter, verdict="meter_check")
    page.gap()
    for line in safety:
        page.sheet.put(1, line, "safety", across=2)
        page.end_row(30)
