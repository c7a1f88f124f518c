"""What the upkeep workbook says besides its figures: its example, lists, cautions, sources."""

from __future__ import annotations

from tanksheet.sheets.page import Tile
from tanksheet.templates.upkeep import due_working as told

SAFETY = (
    "Backflow: upkeep never opens the way from stock to drinking water. Have the preventer tested "
    "as often as the local code says, by a licensed person; until it passes, do not inject.",
    "Before you open anything: water off, pressure let off, pump locked out, lines flushed with "
    "plain water. Water that lay in the sun may scald. Goggles and gloves; acid lines above all.",
    "Never let chlorine meet acid, ammonium or urea on parts, in tanks or in rinse water: "
    "poisonous gas. Labels, the maker's manual and local codes come before this page.",
)
STEPS = (
    "Type today's date, how many hours a week the injector runs and the flow, what it draws, and "
    "the days on which the season begins and ends.",
    "Type the tasks and when each was last done. Their intervals in days, hours and volume stand "
    "on the sheet Intervals: what comes first counts, blank is not counted.",
    "Hours and volume since then follow from dates and weekly use; where a meter tells them, type "
    "its figures on Intervals instead.",
    "Read the verdict at the top, then print Due list, Winter list or Spring list and tick by "
    "hand. Write what was found on Log, type the new date here.",
    "Count the kits on Spares. Type what each tank holds on Tanks and print Tank labels, one page.",
)
SOURCES = (
    (
        "Days to service: what is left of each interval over its use in a day; the first counts.",
        "definition",
    ),
    (
        "Thick, flaky and organic products halve the intervals of screen and valve.",
        "common practice, no source",
    ),
    (
        "Intervals of the example: seals once a year in the off-season, screen weekly to monthly, "
        "check valve and dose test monthly. The maker's manual comes first.",
        "common practice, no source",
    ),
    ("New seals go in softened in warm water, greased as the manual says.", "common practice"),
    (
        "Dates count in the system that begins in 1900; 2000-01-01 is 36526.",
        "documentation of DATE",
    ),
)
# Name, last done, days, hours, volume in m3, part, if late, when; invented.
TASKS = (
    ("Annual seals, O-rings", 46035, 365, 1500, 60000, 1, 1, 0),
    ("Backflow preventer test", 46140, 365, None, None, 1, 0, 1),
    ("Suction screen, clean", 46345, 30, 60, None, 0, 1, 1),
    ("Check valve, clean and test", 46331, 90, 250, None, 0, 0, 1),
    ("Water filter, clean", 46347, 14, None, 4000, 1, 1, 1),
    ("Dose test (drawdown)", 46335, 30, None, None, 1, 1, 1),
    ("EC, pH meters, calibrate", 46340, 30, None, None, 1, 1, 1),
    ("Lubricate seals, pistons", 46200, 180, 500, None, 1, 1, 1),
    ("Suction hose, cracks", 46200, 180, None, None, 1, 1, 1),
    ("Freeze storage, drain", 46330, 365, None, None, 1, 0, 1),
)
KITS = (
    ("Seal kit", 1, 1),
    ("Check valve with spring", 0, 1),
    ("Suction screen", 2, 1),
    ("Suction hose, m or ft", 3, 3),
    ("O-rings of the unions", 4, 4),
    ("Filter element", 1, 1),
)
WINTER = (
    "Run plain water through suction hose and injector until no salt is left.",
    "Water off, pressure let off, unions open: drain injector, filter, hoses and low points.",
    "Take the injector in, where it cannot freeze; keep it wet or dry as its manual says.",
    "Open it: look at seals, pistons, screen and check valve; write down what to order.",
    "Annual seals: lay the new ones in warm (not hot) water until they are soft, then fit and "
    "grease them as the manual says.",
    "Rinse the tanks, lids on; keep acid apart, dry salts dry, and no stock in the frost.",
    "Drain and cap the backflow preventer as the local code asks.",
    "Take meters in; keep probes in their storage solution.",
    "Order the kits on the sheet Spares.",
)
SPRING = (
    "Backflow preventer tested by a licensed person, paper filed.",
    "Injector back by its flow arrow, level, unions hand-tight; no frost cracks.",
    "Suction hose, screen and check valve clean; hose end off the tank's bottom.",
    "Filter element new or clean; mains flushed before the injector is opened.",
    "Open valves slowly; look for leaks under pressure.",
    "Meters of EC and pH calibrated with fresh solutions.",
    "Prime, then set the ratio; dose test with plain water, see the workbook proving.",
    "Labels on the tanks fit what is in them.",
    "Dates of all this typed on the sheet Upkeep.",
)
# Tank, holds, strength, injector, hazard; invented.
TANKS = (
    ("A", "calcium nitrate 15.5-0-0", "150 g/L", "1 : 100", "irritates eyes; keep from B"),
    ("B", "potassium sulfate, MAP, trace elements", "90 g/L", "1 : 100", "keep from A"),
    ("C", None, None, None, None),
)
# The same strengths in a US edition.
IN_OUNCES = {"150 g/L": "20 oz/gal", "90 g/L": "12 oz/gal"}


def tiles() -> list[Tile]:
    return [
        Tile(1, "First due", told.tile_text, {"text": "first_due"}),
        Tile(2, "in days", told.tile_days, {"days": "first_days"}),
        Tile(4, "Overdue", told.tile_count, {"codes": "late_all"}),
        Tile(6, "Spare parts to order", told.tile_days, {"days": "parts_to_order"}),
    ]
