"""What the commissioning workbook says: its steps, cautions and sources."""

from __future__ import annotations

from tanksheet.sheets.page import Tile
from tanksheet.templates.commissioning import working as work

SAFETY = (
    "Backflow: without the preventer that the local code asks for, tested by a licensed person, do "
    "not inject at all. An interlock stops the injector when the water stops.",
    "Open valves slowly: trapped air and surges burst pipes. Water that lay in the sun in a pipe "
    "may scald at the test port; let it run off first. Pressure off before a fitting is opened.",
    "First run with plain water, then stock; acid last, in goggles and gloves. Acid into water, "
    "never water into acid; never chlorine with acid, ammonium or urea: poisonous gas.",
)
STEPS = (
    "Print the first sheet, or keep it on a phone. Choose done, not done or does not apply for "
    "each step, from top to bottom.",
    "Set the ratio a little leaner than planned and type what both scales of the injector read.",
    "Run, wait until feed arrives, and type the first readings: flow, a drawdown test, EC of water "
    "and feed, pH.",
    "Read the verdict at the top. A step that is not ticked and a reading that is blank are never "
    "a pass.",
    "When all is well, keep this copy as the record, and go on with the workbook proving.",
)
SOURCES = (
    (
        "True ratio is water over stock; a dose is off by the setting over it, less 1.",
        "drawdown tests of chemigation bulletins (North Dakota State, 1996)",
    ),
    ("100 over the ratio is the percent setting: 1 : 100 is 1 %.", "definition"),
    (
        "New setting from EC: what the fertilizer adds to the reading is proportional to the dose.",
        "common practice, no source",
    ),
    (
        "Within 5 % of the dose is good, beyond 10 % asks for action (EC: 20 %); scales alike "
        "within 1 %; pH within 0.3, beyond 0.7 asks for action; start 5 to 20 % leaner.",
        "common practice, no source",
    ),
    ("The steps of the list.", "common practice, no source; the manual and local code come first"),
)
# Step, whether every injector needs it, what to look at.
LIST = (
    ("Flow arrow", True, "The arrow on the body points the way the water runs."),
    ("Level and support", False, "It stands level and firm; pipes do not pull at it."),
    ("Unions, isolation valves", True, "On both sides, so that it comes out without cutting."),
    ("Bypass", False, "Its valve is shut while the injector works, and seals."),
    ("Filter ahead of it", True, "As fine as its manual asks, clean, flow arrow right."),
    ("Backflow prevention", True, "As the local code requires, tested by a licensed person."),
    ("Interlock or check valve", True, "Injection stops when the water stops; no stock runs on."),
    (
        "Pickup off the bottom",
        True,
        "A hand's width above the sludge, screen clean, hose weighted.",
    ),
    ("Tank level, siphoning", True, "Stock cannot run by itself into the line, nor water into it."),
    ("Suction hose", True, "Short, whole, no sag or kink, clamps tight: no air."),
    ("Pressure let in slowly", True, "Open valves slowly; air out at the far end; no leak."),
    ("Primed at the top", True, "At the top of its scale until no bubble comes."),
    ("Back to the set ratio", True, "After priming; read it again from straight ahead."),
    ("A little leaner first", False, "Start 5 to 20 % leaner than planned: more can be added."),
    ("Both scales alike", False, "Percent and ratio scale tell the same; typed below."),
    ("Test port run off", True, "Sun-heated water may scald: let it run off, then sample."),
    ("Tank labelled", True, "What it holds, strength, hazard; no drinking water."),
    ("Manual, label, phone no.", False, "At hand at the unit, with the emergency number."),
)
# As on a day when half of the list is ticked; what is blank is no pass.
TICKED = 10
TICKS = ("done",) * TICKED + (None,) * (len(LIST) - TICKED)


def tiles() -> list[Tile]:
    left = {"undone": "undone_rows", "unticked": "unticked_rows", "wrong": "wrong_rows"}
    return [
        Tile(1, "Steps left", work.tile_left, left),
        Tile(2, "True 1 :", work.tile_figure, {"number": "found"}),
        Tile(4, "Dose off, %", work.tile_percent, {"number": "dose_off"}),
        Tile(5, "EC off, %", work.tile_percent, {"number": "ec_miss"}),
        Tile(6, "Setting for the target EC", work.tile_setting, {"setting": "new_setting"}),
    ]
