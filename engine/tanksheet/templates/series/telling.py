"""What the workbook of injectors in series says besides its figures: steps, cautions, sources, its
example."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Tile
from tanksheet.sheets.style import LEAF, SOFT
from tanksheet.templates.series import result_working as result

SAFETY = (
    "Backflow: the whole row of injectors stands behind the backflow preventer that the local code "
    "asks for, put in and tested by a licensed person, with an interlock that stops all of them "
    "when the water stops.",
    "Acid and chlorine never on one line at one time, nor one after the other without a rinse: "
    "poisonous gas. Goggles, gloves and clean water at the row. Acid into water, never water into "
    "acid.",
    "Each injector has its own check valve and can be shut off on both sides. Never open a unit "
    "under pressure. Labels, nameplates, safety data sheets and local codes come before this page.",
)
STEPS = (
    "Type what is in each stock, for the whole tank, and which stock it belongs to.",
    "Type the targets, and choose what each stock is set by; or type a setting of your own and see "
    "what comes of it.",
    "Type the line: flow, pressure, pipe, and in which order the injectors stand. On Nameplates "
    "type what each unit prints, and the part of the flow through it beside a bypass.",
    "Read the verdict at the top, then each setting, and what the EC and pH behind each injector "
    "should be. Mend the first line that says stop.",
    "Print Line card and hang it at the row. Start one injector after the other and measure behind "
    "each; prove it by the workbook proving.",
)
SOURCES = (
    (
        "Settings: as many equations as stocks, each stock's target beside what the others bring.",
        "mass balance, solved by determinants (Cramer's rule)",
    ),
    (
        "Each injector draws by what runs through it: the water, and the stocks that are in it.",
        "mass balance; a bypass makes the setting richer by its share",
    ),
    (
        "Contents and ions of products; what must not meet.",
        "data/fertilizers.csv, data/clashes.csv, a source on each row",
    ),
    (
        "Where a stock enters, one part of it in nine of the line is judged by the rules for a "
        "tank. What settles there but not behind is a caution, gas is a stop.",
        "one in ten stands for the middle of the mixing: common practice, no source",
    ),
    (
        "The order that keeps the pipe between the injectors farthest from settling is best; "
        "silicate goes first.",
        "indices of lime and calcium phosphate as in the recipe workbook, against PHREEQC; labels "
        "of potassium silicate",
    ),
    (
        "Mixed is within 5 % over the cross-section, of a stock that enters at the wall.",
        "FERT.MIXINGLENGTH",
    ),
    (
        "What a unit loses goes with the square of the flow; within 10 % of a limit it is near.",
        "Crane Technical Paper 410 for fittings; for injectors common practice, no source",
    ),
    ("What seals bear: data/seals.csv.", "common practice, no source; the maker's list decides"),
    ("EC above 3 mS/cm a caution, above 6 a stop.", "common practice, no source"),
)
# Invented: product, kg in a stock of 200 L, stock.
START: tuple[tuple[str | None, float | None, str], ...] = (
    ("calcium nitrate 15.5-0-0", 15.5, "A"),
    ("potassium nitrate", 9.8, "A"),
    ("iron DTPA 11 %", 0.36, "A"),
    ("potassium sulfate", 0.26, "B"),
    ("monopotassium phosphate", 3.5, "B"),
    ("magnesium sulfate heptahydrate", 8.1, "B"),
    ("manganese sulfate monohydrate", 0.034, "B"),
    ("boric acid", 0.034, "B"),
    ("zinc sulfate heptahydrate", 0.022, "B"),
    ("copper sulfate pentahydrate", 0.0048, "B"),
    ("sodium molybdate dihydrate", 0.004, "B"),
    ("nitric acid 60 %", 2.5, "C"),
)
# Invented nameplates of the injectors of stock A, B and C: flow from, to, ratio from, to, pressure
# from, to, loss, at a flow, coldest, hottest, seals.
UNITS: dict[str, tuple[tuple[Any, ...], ...]] = {
    "metric": (
        (10, 100, 50, 500, 0.3, 6, 0.5, 100, 4, 40, "EPDM"),
        (10, 100, 50, 500, 0.3, 6, 0.5, 100, 4, 40, "EPDM"),
        (10, 100, 50, 500, 0.3, 6, 0.5, 100, 4, 40, "FKM"),
    ),
    "us": (
        (2.6, 26, 50, 500, 5, 85, 7, 26, 40, 104, "EPDM"),
        (2.6, 26, 50, 500, 5, 85, 7, 26, 40, 104, "EPDM"),
        (2.6, 26, 50, 500, 5, 85, 7, 26, 40, 104, "FKM"),
    ),
}
ORDER = ("Series", "Nameplates", "Line card", "My products")
TYPED_IN = ("Series", "Nameplates", "My products")


def tiles(edition: str) -> list[Tile]:
    settings = {f"set_{place}": f"set_to[{place - 1}]" for place in (1, 2, 3)}
    return [
        Tile(1, "Set along the line, 1 :", result.tile_settings, settings),
        Tile(2, "In this order", result.tile_order, {"order": "order"}),
        Tile(4, "EC, mS/cm", result.tile_ec, {"ready": "ready", "ec": "ec_feed"}),
        Tile(5, "pH", result.tile_ph, {"ready": "ready", "ph": "feed_ph"}),
        Tile(6, "Pressure left", result.pressure_words(edition), {"pressure": "behind_3"}),
    ]


def finish(book: Book) -> None:
    """Sources, and the sheets in the order in which they are turned to, with their tabs."""
    book.sources += SOURCES
    book.sheets.sort(key=lambda sheet: ORDER.index(sheet.title) if sheet.title in ORDER else 99)
    for sheet in book.sheets:
        if sheet.title == "Line card":
            sheet.tab = SOFT
        elif sheet.title in TYPED_IN:
            sheet.tab = LEAF
