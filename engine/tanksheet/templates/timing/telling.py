"""What the timing workbook says besides its figures: steps, cautions, sources, its example."""

from __future__ import annotations

from tanksheet.sheets.measures import tile_number
from tanksheet.sheets.page import Tile
from tanksheet.templates.timing import clock_working as clock

SAFETY = (
    "Backflow: inject only behind the backflow preventer that the local code asks for, tested by a "
    "licensed person, and with an interlock that stops the injector when the water stops.",
    "Never bring chlorine together with acid, ammonium, urea or other feed, in a tank, a pump or a "
    "line: poisonous gas. Acid into water, never water into acid. Goggles, gloves, clean water.",
    "Nobody drinks from or washes at these lines. Water that lay in the sun may scald; let the "
    "pressure off before you open an end. Labels, local codes and safety data sheets come first.",
)
OPEN_CAUTIONS = (
    "Cautions first: chlorine and acid in one tank, pump or line give chlorine gas, which kills. "
    "Chlorine and ammonium or urea give chloramine gas. Days and a rinse between them.",
    "Face shield, gloves, apron; outdoors, wind at your back, clean water at hand. Acid into "
    "water, calcium hypochlorite into water, never the other way round.",
    "Label, local rules and the crop's adviser say whether and how much: they stand above any "
    "figure here. Discharge of treated water has rules too.",
)
STEPS = (
    "Type the pipes from the injector to the head of the lateral, a row for each bore or flow. "
    "Where laterals leave a pipe along its way, say how many.",
    "Type the lateral that is farthest off, and after which stretch the nearest emitter drinks.",
    "Type how long the set runs, how long the lines take to fill, and how long you inject; a blank "
    "takes all that filling and clearing leave.",
    "Read the verdict at the top, then the clock and the chart: when a meter at the last emitter "
    "should rise and fall. Hold a real one against it.",
    "Print the card. For chlorine, acid, flushing and filter go to the sheet Open emitters; its "
    "cautions come first.",
)
SOURCES = (
    (
        "Travel is volume over flow, piece by piece along a line whose flow falls.",
        "FERT.TRAVELTIME, FERT.LATERALTIME (plug flow)",
    ),
    (
        "The front is smeared by dispersion in turbulent flow, D = 10.1 radius x friction "
        "velocity.",
        "Taylor 1954; FERT.DISPERSION, FERT.FRONTSPREAD, FERT.FRONT (Ogata and Banks 1961)",
    ),
    (
        "Pieces between branches or emitters, and pipes too slow to be turbulent, count as vessels "
        "mixed through: broad rather than sharp.",
        "tanks in series, Levenspiel (from memory); FERT.LATERALSPREAD",
    ),
    ("Share of the last emitter: mass balance over the front.", "FERT.PULSESHARE"),
    (
        "The last emitter should get 95 % of its share before the valve closes, below 90 % stops.",
        "common practice, no source",
    ),
    (
        "A meter rises from 5 % on and is up at 95 %; inject no less long than feed travels.",
        "normal distribution; common extension advice (from memory)",
    ),
    ("Velocity up to 1.5 m/s (5 ft/s) in mains.", "ASAE S376 (from memory)"),
    (
        "Free chlorine, its active share by pH, and what brings it.",
        "FERT.HOCL (Morris 1966), FERT.CHLORINERATE, FERT.CHLORINEMASS (mass balance)",
    ),
    (
        "Up to 30 mg/L of free chlorine passes, above 50 stops; it stands 30 min or more; at least "
        "half of it is read at the last emitter.",
        "common practice, no source",
    ),
    (
        "Chlorine works up to pH 7.5; below 6 gas may come off, below 5 it does.",
        "FERT.HOCL; White's Handbook of Chlorination (from memory)",
    ),
    ("Acid for a pH, all protons solved.", "FERT.ACIDDOSE, data/acids.csv"),
    (
        "Flush at 0.3 m/s (1 ft/s) or more at the open end.",
        "University of California, maintenance of microirrigation systems; FERT.FLUSHFLOW",
    ),
    (
        "Filter opening an eighth of the passage, a fifth with regular chlorination.",
        "Victoria DPI note AG0136; FERT.FILTEROPENING; openings of sieves by ASTM E11",
    ),
)
# Invented example: a main, a submain in two bores with laterals off it, in the edition's units.
EXAMPLE = {
    "metric": (
        (79.4, 240.0, 320.0, None),
        (73.8, 60.0, 320.0, None),
        (52.0, 66.0, 160.0, 16.0),
        (None, None, None, None),
    ),
    "us": (
        (3.1, 790.0, 85.0, None),
        (2.95, 200.0, 85.0, None),
        (2.05, 216.0, 42.5, 16.0),
        (None, None, None, None),
    ),
}


def tiles() -> list[Tile]:
    return [
        Tile(1, "Feed reaches the last in", clock.tile_clock, {"total": "far_travel"}),
        Tile(2, "Inject for", clock.tile_clock, {"total": "inject_minutes"}),
        Tile(4, "Flush", clock.tile_clock, {"total": "flush_minutes"}),
        Tile(5, "Last, %", tile_number, {"number": "far_share"}),
        Tile(6, "The last clears in", clock.tile_clock, {"total": "clear_needed"}),
    ]
