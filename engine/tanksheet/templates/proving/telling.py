"""What the proving workbook says besides its figures: steps, cautions, sources, its example."""

from __future__ import annotations

from tanksheet.sheets.page import Tile
from tanksheet.templates.proving import working as work

SAFETY = (
    "Backflow: test only behind the backflow preventer that the local code asks for, installed and "
    "tested by a licensed person. Let the pressure off before you open a fitting.",
    "Draw plain water or fertilizer stock for a test, never acid or chlorine from an open "
    "cylinder: goggles and gloves, clean water at hand. Water that lay in the sun may scald.",
)
STEPS = (
    "Let the injector draw from a measuring cylinder while the water meter runs. Type the date, "
    "the water that passed and the stock drawn; or the EC of the feed, when it has arrived.",
    "Say how far each reading may be off: half a mark of the cylinder, the meter's error. The "
    "verdict trusts no test further than that.",
    "The first readings, taken while all ran well, set the limits: 8 at least, more are better. "
    "After a repair or another setting begin a new copy.",
    "Read the verdict at the top, then the charts: single readings, the step from one to the next, "
    "and the average that shows a slow drift.",
    "Once a season catch water at 16 emitters or more while feed runs, on the sheet Catch test: "
    "how much in the same time, and its EC.",
)
SOURCES = (
    (
        "True ratio is water over stock; a dose is off by the setting over it, less 1.",
        "drawdown tests of chemigation bulletins (North Dakota State, 1996)",
    ),
    (
        "How sure a test is: relative variances of a quotient and variances of a difference add "
        "up, limits taken as rectangular, coverage factor 2.",
        "JCGM 100:2008 (GUM), 4.3.7, 5.1, 6.3.3",
    ),
    (
        "Limits of single readings (mean +- 3 mean range / 1.128) and of their steps (3.267 mean "
        "range).",
        "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2",
    ),
    (
        "Moving average with weight 0.2, limits at 3 standard deviations.",
        "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4",
    ),
    ("Within 5 % is good dosing, beyond 10 % asks for action.", "common practice, no source"),
    (
        "The first 8 readings at least set the limits; 20 and more are what handbooks ask for.",
        "common practice, no source",
    ),
    (
        "Low-quarter uniformity: 80 % and more passes, below 70 % is poor.",
        "Merriam and Keller 1978 (from memory)",
    ),
    ("At least 16 emitters are caught.", "common practice, no source"),
)
# Invented tests of an injector set to 1:100 whose seals wear: water and stock drawn.
DRAWN_ML = (497, 503, 495, 501, 506, 497, 500, 494, 497, 493, 490, 488, 486, 487, 485, 485)
FIRST_DAY = 46084.0  # 2026-03-03, and from then on every week
DAYS = tuple(FIRST_DAY + 7 * week for week in range(16))
READ_EC = (2.2, None, 2.18, None, 2.22, None, 2.2, None, 2.19, None, 2.16, None, 2.15, None, 2.14)
# Invented catches of 18 emitters, with the EC of each.
CATCHES = (102, 98, 105, 99, 96, 104, 101, 90, 97, 103, 100, 94, 106, 88, 99, 101, 92, 95)
CATCH_EC = (
    *(2.2, 2.19, 2.21, 2.2, 2.18, 2.2, 2.19, 2.17, 2.2),
    *(2.21, 2.2, 2.18, 2.2, 2.15, 2.19, 2.2, 2.17, 2.18),
)


def tiles() -> list[Tile]:
    return [
        Tile(
            1,
            "Set the injector to",
            work.tile_setting,
            {"latest": "latest_off", "setting": "new_ratio"},
        ),
        Tile(2, "Dose off, %", work.tile_off, {"latest": "latest_off"}),
        Tile(4, "Sure to, %", work.tile_plain, {"number": "latest_doubt"}),
        Tile(5, "True 1 :", work.tile_plain, {"number": "latest_ratio"}),
        Tile(6, "Poorest quarter, %", work.tile_plain, {"number": "fed_even"}),
    ]
