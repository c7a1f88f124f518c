"""Ratio table: what if the ratio were another, or the target? Stock strength for every pair."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.entries import READINGS
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.templates.products import STRENGTH, product_choice
from tanksheet.templates.ratio_table import working as work
from tanksheet.templates.verdicts import Verdicts, verdicts_of

RATIOS = (16, 32, 50, 64, 100, 128, 200, 500, *[None] * 8)
TARGETS = (50, 75, 100, 150, 200, 250, None, None)
SAFETY = (
    "A stock beyond the solubility limit leaves sludge that clogs injector and emitters. The limit "
    "falls in cold water: use the figure for the coldest morning.",
    "Concentrates are corrosive and salty: goggles and gloves. On a drinking-water supply, inject "
    "only behind the backflow preventer that the local code asks for.",
)


STEPS = (
    "Choose the product, or leave it blank and type what its label says.",
    "Type the ratio and the target that you ask about, and the coldest temperature of the stock.",
    "Read the answer at the top: the largest ratio that still dissolves, and what to weigh.",
    "The sheet Stock strength has the same for up to 16 ratios and 8 targets; change its heads and "
    "leave blank what you do not need.",
    "What is marked as too much does not dissolve: take a smaller ratio or a larger tank.",
)


def make(edition: str = "metric") -> Book:
    book = Book(
        "ratio-table",
        "Ratio table",
        "How strong the stock must be for each ratio and target, and whether it still dissolves.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Ratio table")
    page.opening("Ratio table")
    verdicts = verdicts_of(page)
    _asked(page)
    _fertilizer(page, verdicts)
    _answer(page, verdicts)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*_tiles(edition))
    _tables(book)
    book.sources.append(
        (
            "Grams in a litre of saturated stock, where a product is chosen; else typed by the "
            "user for the coldest temperature of the tank.",
            "data/saturation.csv, a source on each row",
        )
    )
    return book


def _asked(page: Page) -> None:
    page.section("What if")
    page.input("ratio", "Injector setting", "ratio", 100, "1:N", usual=(10, 500))
    page.choice("ratio_reading", "What 1:N means", READINGS, READINGS[0])
    page.input("target", "Target at the emitter", "target", 150, "ppm", usual=(10, 400))
    page.input("tank", "Stock the tank holds", "tank", 200, "L", usual=(5, 20000), us=(50, "gal"))
    page.gap()


def _fertilizer(page: Page, verdicts: Verdicts) -> None:
    page.section("Fertilizer")
    product_choice(
        page, "fertilizer", "Product, if in the list", default="calcium nitrate 15.5-0-0"
    )
    page.input("content", "The nutrient, as element", "content", 15.5, "%", usual=(1, 62))
    page.input(
        "temperature",
        "Coldest the stock gets",
        "table_celsius",
        10,
        "degC",
        usual=(2, 35),
        us=(50, "degF"),
    )
    page.input(
        "solubility",
        "Not in the list: dissolves",
        STRENGTH,
        600,
        "g/L",
        usual=(20, 1500),
        us=(80, "oz/gal"),
    )
    page.note(
        "In a litre of finished stock, which is less than dissolves in a litre of added water."
    )
    page.unit_choice("mass_unit", "Weights for the tank in", "g", "kg")
    verdicts.add("content_check", "Content of the product", work.content_verdict)
    page.gap()


def _answer(page: Page, verdicts: Verdicts) -> None:
    page.section("For this ratio and target")
    page.result("limit", "A saturated stock holds", work.limit, unit="g/L", may_be_words=True)
    page.result("strength", "The stock must hold", work.strength_here, unit="g/L")
    page.result("mass", "Weigh for the tank", work.mass_here, unit="g")
    page.result(
        "largest_ratio", "Largest ratio, 1 :", work.largest_ratio, unit="parts", may_be_words=True
    )
    page.result(
        "largest_target",
        "Largest target at this ratio",
        work.largest_target,
        unit="mg/L",
        may_be_words=True,
    )
    verdicts.add("dissolves_check", "Does it dissolve?", work.dissolves_verdict)


def _tiles(edition: str) -> list[Tile]:
    return [
        Tile(1, "Largest ratio that dissolves", work.tile_ratio, {}),
        Tile(2, "Target, ppm", work.tile_target, {}),
        Tile(6, "Weigh for a tank", work.tile_mass(edition), {"mass": "mass"}),
    ]


def _tables(book: Book) -> None:
    page = add_page(book, "Stock strength", widths=(16, *[10] * len(TARGETS), 26), landscape=True)
    page.heading(
        "Strength of the stock",
        "Ratios run down, targets at the emitter run across. Change the yellow heads to ask other "
        "questions; a head left blank leaves its row or column out.",
    )
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


def _per_volume(page: Page) -> None:
    page.section_words("Grams in each litre of stock", 10)
    page.axes(
        ("ratios", "ratio", RATIOS),
        ("targets", "target", TARGETS),
        "ratio; ppm",
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
    page.section_words("Ounces in each US gallon of stock", 10)
    page.grid(
        "ounces_per_gallon",
        work.ounces_per_gallon,
        "ratios",
        "targets",
        pattern="#,##0.00",
        title="ratio; ppm",
    )
    page.gap()


def _per_tank(page: Page) -> None:
    page.section_words("For the whole tank, in the unit chosen on the first sheet", 10)
    page.grid(
        "mass_per_tank",
        work.mass_per_tank,
        "ratios",
        "targets",
        pattern="#,##0.00",
        title="ratio; ppm",
    )
    for name, pattern in (
        ("grams_per_litre", "#,##0"),
        ("ounces_per_gallon", "#,##0.0"),
        ("mass_per_tank", "#,##0.0"),
    ):
        page.mark_over(name, "grams_per_litre", "limit", f'{pattern}" !"')
    page.note("What is marked, with a sign of exclamation, is more than dissolves.")
    page.gap()
