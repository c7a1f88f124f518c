"""What the injector workbook says besides its figures: steps, cautions, sources, its example."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.page import Tile
from tanksheet.templates.injector import choice_working as choice

SAFETY = (
    "Backflow: every injector stands behind the backflow preventer that the local code asks for, "
    "put in and tested by a licensed person; on a bypass too.",
    "Acid, chlorine and solvents ask for seals and a body that the maker names for them, goggles "
    "and gloves at the unit, and never one after another without a rinse.",
    "No unit above its pressure on the nameplate: a regulator, slow valves. Labels, nameplates and "
    "local codes come before this page.",
)
STEPS = (
    "Type each zone: its least and largest flow, the pressure where the injector stands, what the "
    "emitters need, how warm the water gets.",
    "Type the duty: the richest and the leanest ratio, what is injected, how thick it is, how high "
    "it is lifted and through how much hose.",
    "On the sheet Injectors type what the nameplates print. A blank is not checked, never a pass.",
    "Read the choice at the top: one alone, two in parallel, or one on a bypass; and what it says "
    "of each zone. The sheet Every pair has all units.",
    "Prove what was chosen on the workbook commissioning, and from then on by proving.",
)
SOURCES = (
    (
        "What a unit loses goes with the square of the flow, from its nameplate.",
        "Crane Technical Paper 410 for fittings; for injectors common practice, no source",
    ),
    (
        "Within 10 % of a limit a unit is marginal; water of 4 to 40 degrees C (40 to 104 F) where "
        "the nameplate says nothing.",
        "common practice, no source",
    ),
    (
        "A thin syrup is taken as 60 mPa s, honey as 2,000, stock as 1.25 kg/L.",
        "common practice, no source",
    ),
    ("What seals bear: data/seals.csv.", "common practice, no source; the maker's list decides"),
    (
        "On a bypass a unit is left 90 % of its largest flow; its setting is richer by the share.",
        "mass balance; 90 % is common practice, no source",
    ),
)
# Invented zones: name, flow from, to, pressure there, needed, water.
ZONES: dict[str, tuple[tuple[Any, ...], ...]] = {
    "metric": (
        ("tunnel 1", 40, 70, 3, 1.5, 16),
        ("tunnel 2", 45, 80, 3, 1.5, 16),
        ("herbs", 25, 30, 3.2, 1.2, 16),
        ("nursery", 30, 55, 2.8, 1.5, 18),
    ),
    "us": (
        ("tunnel 1", 11, 18, 44, 22, 61),
        ("tunnel 2", 12, 21, 44, 22, 61),
        ("herbs", 7, 8, 46, 17, 61),
        ("nursery", 8, 15, 41, 22, 64),
    ),
}
# Invented nameplates, by duty: flow from, to, ratio from, to, pressure from, to, loss, at a flow,
# coldest, hottest, lift, seals, bore of the hose.
UNITS: dict[str, tuple[tuple[Any, ...], ...]] = {
    "metric": (
        ("small beds", 0.2, 42, 20, 200, 0.3, 6, 0.5, 40, 4, 40, 4, "EPDM", 8),
        ("tunnels", 8, 170, 50, 500, 0.3, 6, 0.9, 170, 4, 40, 4, "EPDM", 10),
        ("tunnels, for acid", 8, 170, 50, 500, 0.3, 6, 0.9, 170, 4, 40, 4, "FKM", 10),
        ("field", 130, 330, 60, 500, 0.5, 8, 1.1, 330, 4, 40, 4, "EPDM", 16),
    ),
    "us": (
        ("small beds", 0.05, 11, 20, 200, 5, 85, 7, 10.5, 40, 104, 13, "EPDM", 0.31),
        ("tunnels", 2, 45, 50, 500, 5, 85, 13, 45, 40, 104, 13, "EPDM", 0.39),
        ("tunnels, for acid", 2, 45, 50, 500, 5, 85, 13, 45, 40, 104, 13, "FKM", 0.39),
        ("field", 34, 87, 60, 500, 7, 115, 16, 87, 40, 104, 13, "EPDM", 0.63),
    ),
}


def tiles(edition: str) -> list[Tile]:
    unit = "gpm" if edition == "us" else "L/min"
    flow = choice.tile_flow(edition)
    return [
        Tile(1, "Take", choice.tile_name, {"name": "chosen"}),
        Tile(2, "Built in", choice.way_said, {"way": "way"}),
        Tile(4, f"{unit} from", flow, {"flow": "smallest_flow"}),
        Tile(5, "to", flow, {"flow": "largest_flow"}),
    ]
