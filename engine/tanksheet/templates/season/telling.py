"""What the season workbook says first, and besides its figures: steps, cautions, sources."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.measures import tile_number, tile_words
from tanksheet.sheets.page import Tile
from tanksheet.sheets.style import LEAF, SOFT
from tanksheet.templates.recipe.cost_working import tile_cost

SAFETY = (
    "Backflow: inject only behind the backflow preventer that the local code asks for, tested by a "
    "licensed person, and with an interlock that stops the injectors when the water stops.",
    "Concentrates burn skin and eyes: goggles, gloves, clean water at hand. Acid into water, never "
    "water into acid. Never chlorine with acid, ammonium or urea: poisonous gas.",
    "Only products whose label allows it go into irrigation water. Rates and timing follow the "
    "local adviser, soil and leaf tests. Labels, safety data sheets and local codes come first.",
)
STEPS = (
    "Say on Season in which units rates and water are typed, how large the area is, and what soil "
    "and water give; then type the weeks on Plan.",
    "Choose up to six products, what each is for, and its mix. They are sized in their order, each "
    "after what those above it bring; a share leaves some for the next, By hand sets a week.",
    "Type tanks, injectors and times. Each mix is made up to the mark for every event and has its "
    "own injector.",
    "Read the verdict at the top and the words beside the weeks on Plan, then show the week that "
    "you want and print its card.",
    "Price the packs on Order, type what is in the shed, and order the rest; What if and Charts "
    "follow by themselves.",
)
SOURCES = (
    (
        "A dose over the content, each product after what earlier ones bring of its nutrient.",
        "mass balance; for price by one nutrient less the other's worth: New Mexico State "
        "University Guide A-133",
    ),
    (
        "Soil credits are spread over the weeks as the plan is; water counts in the weeks that ask "
        "for the nutrient, as its volume times its content.",
        "volume times content; the spread is common practice, no source",
    ),
    (
        "Contents, densities and ions of the products; what must not share a mix; saturated stock.",
        "data/fertilizers.csv, data/clashes.csv, data/saturation.csv, a source on each row",
    ),
    (
        "Mixes and line are judged with every product as strong as it gets in any week, settling "
        "at the higher of the water's pH and the feed's.",
        "as the recipe workbook, against PHREEQC",
    ),
    (
        "A nutrient up to 10 % off its plan passes, above 50 % stops; up to 2 g of product in a "
        "litre of the line passes, above 5 stops; EC 3 and 6 mS/cm.",
        "common practice, no source",
    ),
    ("Within 10 % of what the injector gives is near its limit.", "common practice, no source"),
    (
        "Packs are whole, each product's packs times its price is rounded to the cent, half up.",
        "common practice, no source",
    ),
)
ORDER = ("Season", "Plan", "By hand", "Week card", "Order", "What if", "Charts", "My products")
TYPED_IN = ("Season", "Plan", "By hand", "Order", "My products")


def tiles_of(edition: str) -> list[Tile]:
    area = "an acre" if edition == "us" else "a ha"
    cost = {"cost": "cost_per_season", "currency": "currency_word"}
    return [
        Tile(1, "The season costs", tile_cost, cost),
        Tile(2, f"Cost {area}", tile_number, {"number": "cost_per_area"}),
        Tile(3, "Packs", tile_number, {"number": "packs_to_buy"}),
        Tile(4, "Weeks fed", tile_number, {"number": "weeks_fed"}),
        Tile(5, "Events", tile_number, {"number": "events_in_all"}),
        Tile(6, "Week shown", tile_words, {"words": "shown_label"}),
    ]


def finish(book: Book) -> None:
    """Sources, and the sheets in the order in which they are turned to, with their tabs."""
    book.sources += SOURCES
    book.sheets.sort(key=lambda sheet: ORDER.index(sheet.title) if sheet.title in ORDER else 99)
    for sheet in book.sheets:
        if sheet.title == "Week card":
            sheet.tab = SOFT
        elif sheet.title in TYPED_IN:
            sheet.tab = LEAF
