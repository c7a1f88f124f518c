"""Ratio table: what if the ratio were another, or the target? Stock strength for every pair."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.ratio_table import working as work
from tanksheet.units import GramPerL, Quantity

RATIOS = (16, 32, 50, 64, 100, 128, 200, 500)
# The limit of solubility, per volume of stock.
STRENGTH = Quantity(GramPerL, "fertilizer in a volume of stock", 0, 10_000, above=True)
TARGETS = (50, 75, 100, 150, 200, 250)
SAFETY = (
    "A stock beyond the solubility limit leaves sludge that clogs injector and emitters. The limit "
    "falls in cold water: use the figure for the coldest morning.",
    "Concentrates are corrosive and salty: goggles and gloves. On a drinking-water supply, inject "
    "only behind the backflow preventer that the local code asks for.",
)


def make() -> Book:
    book = Book(
        "ratio-table",
        "Ratio table",
        "How strong the stock must be for each ratio and target, and whether it still dissolves.",
    )
    page = add_page(book, "Ratio table", widths=(36, 13, 13, 13, 13, 13, 13, 31, 9))
    page.heading(
        "Ratio table",
        f"{book.purpose} Change the yellow headings to ask other questions: "
        "ratios run down, targets at the emitter run across.",
    )
    _fertilizer(page)
    _per_volume(page)
    _per_tank(page)
    page.chart(
        "grams_per_litre",
        "ratios",
        "targets",
        "Strength of the stock",
        "injection ratio, 1 : N",
        "g per L of stock",
    )
    page.gap()
    page.safety(SAFETY)
    book.sources.append(
        (
            "The solubility limit is typed by the user: from the label or a handbook, at the "
            "coldest temperature of the tank.",
            "common practice, no source",
        )
    )
    return book


def _fertilizer(page: Page) -> None:
    page.section("Fertilizer")
    page.input("content", "The nutrient, as the element", "content", 15.5, "%", usual=(1, 62))
    page.input(
        "solubility",
        "It dissolves up to, per volume of stock",
        STRENGTH,
        600,
        "g/L",
        usual=(20, 1500),
    )
    page.input("tank", "Tank for the last table", "tank", 50, "gal", usual=(5, 20000))
    page.unit_choice("mass_unit", "Weights in the last table in", "g", "kg")
    page.gap()


def _per_volume(page: Page) -> None:
    page.section("Grams in each litre of stock", holds="words")
    page.axes(
        ("ratios", "ratio", RATIOS),
        ("targets", "target", TARGETS),
        "ratio, down; ppm at the emitter, across",
        ('"1 : "0.###', '0.##" ppm"'),
    )
    page.grid(
        "grams_per_litre",
        work.grams_per_litre,
        "ratios",
        "targets",
        pattern="#,##0.0",
        words=("reach", work.dissolves_up_to),
    )
    page.gap()
    page.section("Ounces in each US gallon of stock", holds="words")
    page.grid(
        "ounces_per_gallon",
        work.ounces_per_gallon,
        "ratios",
        "targets",
        pattern="#,##0.00",
        title="ratio, down; ppm at the emitter, across",
    )
    page.gap()


def _per_tank(page: Page) -> None:
    page.section("For the whole tank, in the unit chosen above", holds="words")
    page.grid(
        "mass_per_tank",
        work.mass_per_tank,
        "ratios",
        "targets",
        pattern="#,##0.00",
        title="ratio, down; ppm at the emitter, across",
    )
    for name, pattern in (
        ("grams_per_litre", "#,##0"),
        ("ounces_per_gallon", "#,##0.0"),
        ("mass_per_tank", "#,##0.0"),
    ):
        page.mark_over(name, "grams_per_litre", "solubility_in_gL", f'{pattern}" too much"')
    page.gap()
