"""What the field event workbook says first, and besides its figures: steps, cautions, sources."""

from __future__ import annotations

from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.measures import tile_in, tile_number, tile_words
from tanksheet.sheets.page import Tile

SAFETY = (
    "Backflow: inject only behind the backflow preventer that the local code asks for, tested by a "
    "licensed person, and with an interlock that stops the injector when the water stops.",
    "Concentrates burn skin and eyes: goggles, gloves, clean water at hand. Acid into water, never "
    "water into acid. Never chlorine with acid, ammonium or urea: poisonous gas.",
    "Only products whose label allows it go into irrigation water. Keep the tank bunded, away from "
    "wells and ditches. Labels, safety data sheets and local codes come before this page.",
)
STEPS = (
    "Type one dose: of a nutrient or of the product, on the area or a plant; and the area or the "
    "plants.",
    "Choose the product from the list, or leave it blank and type its label. Of a dry one type how "
    "strong the stock shall be; of a liquid how much water goes with it, 0 for none.",
    "Type flow and times of the zone; the workbook zone-flow tells how long the lines take to "
    "fill. Then injector, tank and water.",
    "Read the verdict at the top. What is wrong says so beside its row, with what to do. Where "
    "ions are not known, mix a jar at the ratio and type what it does.",
    "Print the card. Fill the lines with plain water, inject, flush at least as long as filling "
    "took, and read the EC at the far end.",
)
SOURCES = (
    (
        "Volume is dose times area over content and density; rate is volume over time.",
        "Washington State University FS035E; Fertigation Calculations, 2013 (injector discharge)",
    ),
    (
        "Contents, densities and ions of the products in the list.",
        "data/fertilizers.csv, a source on each row",
    ),
    (
        "Up to 85 % of what a saturated stock holds passes, above 100 % stops.",
        "data/saturation.csv, a source on each row; the limit of 85 % is common practice",
    ),
    (
        "Urea ammonium nitrate 32-0-0 salts out near 32 or 28 degrees F.",
        "Mississippi State Extension P1466; studylib.net/doc/18119690 (author not shown)",
    ),
    (
        "Flush at least as long as the lines take to fill, and inject no less long than that.",
        "common extension advice (from memory)",
    ),
    ("Within 10 % of what the injector gives is near its limit.", "common practice, no source"),
    (
        "Up to 2 g of product in a litre of the line passes, above 5 stops; EC 3 and 6 mS/cm.",
        "common practice, no source",
    ),
    (
        "Lime, phosphate, struvite, gypsum and pH in the line, at 25 degrees C; the product's ions "
        "and the water's calcium, magnesium and alkalinity.",
        "as the recipe workbook: FERT.FEEDPH, FERT.CALCITEINDEX, FERT.PHOSPHATEINDEX, against "
        "PHREEQC",
    ),
    (
        "EC while injecting: the water's reading, and what FERT.FEEDEC gives for water and product "
        "less what it gives for the water. Urea and chelates add almost nothing.",
        "FERT.FEEDEC; other ions of the water are left out",
    ),
    (
        "A jar of product and water at the ratio, watched for an hour or two.",
        "common extension advice (from memory)",
    ),
)


def tiles_of(edition: str) -> list[Tile]:
    rate, volume = shown_unit("L/h", edition), shown_unit("L", edition)
    return [
        Tile(1, f"Inject, {rate}", tile_in("L/h", rate), {"number": "injection_rate"}),
        Tile(2, f"To inject, {volume}", tile_in("L", volume), {"number": "stock_volume"}),
        Tile(3, "ppm", tile_number, {"number": "nutrient_ppm"}),
        Tile(4, "EC, mS/cm", tile_number, {"number": "ec_line"}),
        Tile(5, "Ratio 1 :", tile_number, {"number": "injection_ratio"}),
        Tile(6, "Inject for", tile_words, {"words": "inject_words"}),
    ]
