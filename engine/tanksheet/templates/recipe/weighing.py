"""The recipe workbook's scales, and what is weighed on them of each product."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import weighing_working as weighing
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.amounts import TANKS as AMOUNTS_READ
from tanksheet.templates.recipe.amounts_working import grams_of, litres_of_feed
from tanksheet.templates.recipe.feed import PRODUCTS, each
from tanksheet.templates.weight_working import SCALES
from tanksheet.templates.working import itself
from tanksheet.units import Gram, Quantity

STEP = Quantity(Gram, "step of a scale", 0.0001, 10000)
UP_TO = Quantity(Gram, "largest weight for the small scale", 0, 100000)
SMALL_SCALES = ("g", "oz")


def scales(page: Page) -> None:
    """The scales that a person has: what they read, and how finely."""
    home = SCALES[1] if page.book.edition == "us" else SCALES[0]
    page.section("Scales")
    page.choice("scale", "My scale reads", SCALES, home)
    page.input("scale_step", "Its step", STEP, 10, "g", usual=(1, 50), us=(0.1, "oz"))
    page.choice("small_scale", "My small scale reads", SMALL_SCALES, "g")
    page.input("small_step", "Its step", STEP, 0.1, "g", usual=(0.01, 1))
    page.input("small_up_to", "Used up to", UP_TO, 500, "g", usual=(100, 2000), us=(1, "lb"))
    page.gap()


def fixed_amounts(table: Table) -> None:
    """Grams of what a person typed."""
    fixed = each(work.grams, "listed", "amounts", "amount_units")
    table.computed("fixed_amounts", 8, fixed, pattern="0.0", known=NUMBER, hidden=True, behind=True)


def weighed(table: Table) -> None:
    """What goes into the tanks, and how strong that makes each tank and the feed."""
    quiet: dict[str, Any] = {"known": NUMBER, "behind": True}
    steps = (":scale", ":scale_step", ":small_step", ":small_up_to")
    amounts = ("amounts", "fixed_amounts", "worked_amounts")
    table.computed("used_tanks", 15, each(itself, "chosen_tanks"), known=TEXT, behind=True)
    feeds = each(litres_of_feed, "used_tanks", *(f":{key}" for key in AMOUNTS_READ))
    table.computed("feeds_of_a_fill", 16, feeds, pattern="#,##0", hidden=True, **quiet)
    worked = each(grams_of, "worked_doses", "feeds_of_a_fill")
    table.computed("worked_amounts", 17, worked, pattern="0.0####", **quiet)
    used = each(weighing.used_amount, "listed", "used_tanks", *amounts, *steps)
    table.computed("used_amounts", 14, used, pattern="0.0", **quiet)
    words = (":scale", ":small_scale", ":small_up_to")
    weights = each(weighing.weight_said, "used_amounts", "listed", *words)
    table.computed("weights", 2, weights, style="weight", known=TEXT, hidden=True)
    cells = [table.page.sheet.at(2, table.first + i) for i in range(PRODUCTS)]
    table.page.soft_if_stopped(cells)
    strengths = each(work.in_tank, "used_amounts", "used_tanks", ":tank_a", ":tank_b", ":tank_c")
    table.computed("strengths", 9, strengths, pattern="#,##0.00", **quiet)
    doses = each(work.in_feed, "strengths", ":ratio")
    table.computed("doses", 10, doses, pattern="0.0000", hidden=True, **quiet)
