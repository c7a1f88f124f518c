"""The recipe workbook's table of targets: what is wanted, what arrives, and what is off."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.measures import unless_pass
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import NUMBER, TABLE_HEIGHT, TEXT
from tanksheet.templates.recipe import feed_working as work_feed
from tanksheet.templates.recipe import target_working as work
from tanksheet.templates.recipe import weighing_working as weighing
from tanksheet.templates.recipe.feed import NITROGEN, TARGET_UNITS, TARGETS, WANTED, WATER, each
from tanksheet.templates.working import itself, kind_of

ELEMENT_NAMES = {
    "N": "Nitrogen",
    "P": "Phosphorus",
    "K": "Potassium",
    "Ca": "Calcium",
    "Mg": "Magnesium",
    "S": "Sulfur",
    "Fe": "Iron",
    "Mn": "Manganese",
    "Zn": "Zinc",
    "Cu": "Copper",
    "B": "Boron",
    "Mo": "Molybdenum",
    "Na": "Sodium",
    "Cl": "Chloride",
    "Si": "Silicon",
}


NAMES = tuple(TARGETS)
PATTERN = "[>=100]0;[>=10]0.0;0.0##"
HID: dict[str, Any] = {"hidden": True, "behind": True}
TARGET_ROWS = len(TARGETS) + 5  # with the heads and the alkalinity


def targets_table(page: Page) -> Table:
    """What is asked for; what arrives follows when the amounts are known."""
    page.section("Targets", "target", "unit", "arrives", "off, %")
    table = Table(page, len(TARGETS))
    names = NAMES
    table.labels(1, labels())
    label = "Target at the emitter"
    table.filled("targets", 2, label, list(TARGETS.values()), limits=WANTED, usual=(0, 300))
    units = ["ppm"] * len(names)
    table.filled("target_units", 3, "Unit", units, words=TARGET_UNITS, usual_words=("ppm",))
    table.computed("wanted", 7, _wanted(names), pattern=PATTERN, **HID)
    water = _from_water(names)
    table.computed("from_water", 9, water, pattern=PATTERN, known=NUMBER, **HID)
    table.computed("gaps", 16, _gaps(names), known=TEXT, **HID)
    table.computed("elements", 13, lambda i: (work.named(names[i]), ()), known=TEXT, **HID)
    for i in range(len(names)):
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()
    page.gap()
    _alkalinity(page)
    return table


def _alkalinity(page: Page) -> None:
    """What is left of the water's alkalinity is the target of acids."""
    page.section("Alkalinity, for acids", "target", "unit", "which is")
    page.input(
        "target_alkalinity",
        "Alkalinity left, as CaCO3",
        "alkalinity_as_caco3",
        30,
        "ppm",
        usual=(0, 120),
        optional=True,
    )
    page.gap()


def labels() -> list[str]:
    """What the rows of the targets are called."""
    return [f"{ELEMENT_NAMES[name]}, {name}" for name in NAMES]


def arrivals(table: Table) -> None:
    """What arrives of each element, and what is off."""
    names = NAMES
    table.computed("from_products", 8, _from_products(names), pattern=PATTERN, known=NUMBER, **HID)
    both = each(work_feed.both, "from_products", "from_water")
    table.computed("together", 4, both, pattern=PATTERN, known=NUMBER, style="worked out")
    offs = each(work.off_target, "together", "wanted")
    table.computed("off_targets", 10, offs, pattern="0.0", behind=True)
    judged = ("wanted", "off_targets", "tolerances_used", "why", "gaps")
    verdicts = each(work.target_verdict, *judged)
    table.computed("met", 11, verdicts, known=TEXT, behind=True)
    said = each(unless_pass, "met")
    table.computed("met_said", 6, said, style="grid said", known=TEXT, hidden=True)
    away = each(work.off_said, "off_targets", "met")
    table.computed("off_said", 5, away, style="said right", known=TEXT, hidden=True)
    table.computed("met_kinds", 12, each(kind_of, "met"), known=TEXT, **HID)
    moved = each(weighing.moved_by_scale, "weights_of", "misses", "off_targets")
    table.computed("moved", 14, moved, pattern="0.0", **HID)
    words = each(weighing.word_if_moved, "moved")
    table.computed("moved_words", 15, words, known=TEXT, **HID)


def _wanted(names: tuple[str, ...]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        keys = (part("targets", i), part("target_units", i))
        return work.target_in_mg(names[i]), keys

    return make


def _from_products(names: tuple[str, ...]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        if names[i] == "N":
            return work.delivered_nitrogen, ("doses", *(f"percent_{n}" for n in NITROGEN))
        return work.delivered_element, ("doses", f"percent_{names[i].lower()}")

    return make


def _from_water(names: tuple[str, ...]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        if names[i] == "N":
            return work.nitrogen_of_water, ("water_n", "water_nh4")
        key = names[i].lower()
        if key not in WATER:
            return work.nothing, ()
        return work.known_part if WATER[key].optional else itself, (f"water_{key}",)

    return make


def _gaps(names: tuple[str, ...]) -> Maker:
    """What the water's report lacks of which a target may hold some."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        key = "nh4" if names[i] == "N" else names[i].lower()
        if key not in WATER or not WATER[key].optional:
            return work.no_gap, ()
        line = WATER[key].label.partition(" ")[0].lower()
        return work.gap_of(line), (f"water_{key}",)

    return make
