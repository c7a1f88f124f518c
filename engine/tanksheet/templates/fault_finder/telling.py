"""What the fault finder says besides its checks: steps, cautions, sources."""

from __future__ import annotations

from tanksheet.sheets.page import Tile
from tanksheet.templates.fault_finder import working as work

SAFETY = (
    "Backflow: where water runs back into the tank, stock may run into drinking water. Shut the "
    "supply and the tank valve first; a licensed person tests the preventer, as local code asks.",
    "Check with plain water and gloves. Never feel for suction, open a fitting or shake a jar with "
    "acid, chlorine or any concentrate in it; goggles, and rinse the unit first.",
    "Water off and pressure let off before you open anything; water that lay in the sun may scald. "
    "Labels, safety data sheets and the unit's own sheet come before this page.",
)
STEPS = (
    "Choose the symptom that you see first. If water runs back into the tank, choose that one: it "
    "stops everything else.",
    "The line below it names the check to try, and what to look for. Try it with plain water and "
    "gloves.",
    "Answer yes or no beside that check in the list; leave blank what you have not tried. The next "
    "check appears at the top.",
    "Where the answers end, the verdict says what is found and what to do. Do it, then test again "
    "by drawdown, in the workbook proving.",
    "Clear the answers before another symptom. The list prints for use without a screen; the sheet "
    "Actions has all that it may end in.",
)
SOURCES = (
    (
        "Symptoms, checks and actions, in the order in which they are cheap to try.",
        "data/faults.csv: common practice, no source",
    ),
    ("A drawdown more than 10 % off asks for action.", "common practice, no source"),
    ("Three drawdowns alike within 5 %.", "common practice, no source"),
)


def tiles() -> list[Tile]:
    return [Tile(1, "Check to try next", work.tile_step, {"found": "found_step"})]
