"""What the recipe workbook tells besides its figures: safety, sources, help, and its sheets."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.style import LEAF, SOFT

SAFETY = (
    "Goggles and gloves. Fill each tank half with water, add the products one by one while "
    "stirring, then make up to the mark. Acid into water, never water into acid; face shield, "
    "apron, eyewash.",
    "Never bring chlorine products together with acid, ammonium or urea: poisonous gas. On a "
    "drinking-water supply, inject only behind the backflow preventer that the local code asks "
    "for. Labels and safety data sheets come first.",
)
SOURCES = (
    ("Contents and ions of the products.", "data/fertilizers.csv, a source on each row"),
    ("What must not share a tank.", "data/clashes.csv, a source on each row"),
    ("Grams in a litre of saturated stock.", "data/saturation.csv, a source on each row"),
    (
        "Up to 85 % of what dissolves passes, up to 100 % is near the limit.",
        "common practice, no source",
    ),
    (
        "Amounts that settle out.",
        "closed forms checked against PHREEQC 3.8; in concentrates "
        "beyond an ionic strength of 1 mol/L speciation programs themselves differ by 5 to 10 %",
    ),
    (
        "Conductivity counts what is dissolved as free ions and pairs; chelates and urea add "
        "almost nothing.",
        "common practice, no source",
    ),
    (
        "A share of the nitrogen beyond its limit by no more than the tolerance is a caution, by "
        "more a stop.",
        "common practice, no source",
    ),
    (
        "Where nobody looked for ammonium in the water the pipe is judged as if it had 50 mg/L of "
        "nitrogen, as in strong sewage.",
        "from memory",
    ),
    ("Signal and hazard words of cards and labels.", "data/hazards.csv, a source on each row"),
    (
        "A card stops feeding at 10 % off the EC or 0.5 off the pH, either way.",
        "common practice, no source",
    ),
)


STEPS = (
    "Type the targets that you want at the emitter, each in its unit, nitrogen by form too; a "
    "blank is not judged.",
    "Choose up to twelve products, and for each a tank or auto; amounts follow, typed ones stay.",
    "Type the water as the laboratory reports it, then tanks, injectors and the coldest night.",
    "Read the verdict at the top. What is wrong says so beside its row, with what to do.",
    "Print cards and labels, weigh in their order, and prove the feed with EC and pH meters.",
)
# What is printed, and what is typed in; all in the order in which a person turns to it.
PRINTED = ("Card A", "Card B", "Card C", "Card page 2", "Cards", "Labels", "Large labels")
TYPED_IN = ("Recipe", "Cost", "My products")
ORDER = ("Recipe", *PRINTED, "Cost", "My products", "Contents", "Keep apart")


def finish(book: Book) -> None:
    """Sources, and the sheets in the order in which they are turned to, with their tabs."""
    book.sources += SOURCES
    book.sheets.sort(key=lambda sheet: ORDER.index(sheet.title) if sheet.title in ORDER else 99)
    for sheet in book.sheets:
        if sheet.title in PRINTED:
            sheet.tab = SOFT
        elif sheet.title in TYPED_IN:
            sheet.tab = LEAF
