"""The recipe workbook's rows on what may come out of the feed in the pipe."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.feed import feed_ph
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import EXACT, TEXT
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import pipe_working as work
from tanksheet.templates.working import itself


def acid_rows(page: Page, acid: str, left: str, ph: str, notes: tuple[str, str] = ("", "")) -> None:
    """What the acid leaves, and the pH of that, named ``ph``; ``notes`` beside the last two."""
    page.result("acid_given", acid, itself, unit="meq/L", verdict="given_hydrogen")
    page.result(
        "alkalinity_left",
        left,
        feed.left_over,
        unit="meq/L",
        alkalinity="water_alkali",
        carbonate="given_bicarbonate",
        acid="given_hydrogen",
        note=notes[0],
    )
    ions = ("ammonium", "sulfate", "silicate", "borate", "calcium", "magnesium")
    sums: dict[str, Any] = {ion: f"feed_{ion}" for ion in ions}
    page.result(
        ph,
        "pH in the closed pipe",
        feed_ph,
        alkalinity="water_alkali",
        ph_water="water_ph",
        celsius="feed_temperature",
        net_acid="given_hydrogen",
        carbonate="given_bicarbonate",
        strength_mmol="feed_strength",
        phosphate="feed_dihydrogen_phosphate",
        note=notes[1],
        **sums,
    )
    page.working_value(
        "acidity_said", feed.acidity_verdict, acid="acid_given", left="alkalinity_left", ph=ph
    )


def indices(page: Page) -> None:
    page.result(
        "lime_index",
        "Calcite index",
        feed.calcite,
        unit="index",
        calcium="feed_calcium",
        left="alkalinity_left",
        ph="feed_ph",
        strength="feed_strength",
        note="above 0, lime comes out",
    )
    page.result(
        "phosphate_index",
        "Calcium phosphate index",
        feed.dicalcium,
        unit="index",
        calcium="feed_calcium",
        phosphate="feed_dihydrogen_phosphate",
        ph="feed_ph",
        strength="feed_strength",
        note="above 0, it comes out",
    )
    _of_struvite_and_gypsum(page)


def _of_struvite_and_gypsum(page: Page) -> None:
    page.result(
        "struvite_index",
        "Struvite index",
        work.struvite,
        unit="index",
        magnesium="feed_magnesium",
        ammonium="feed_ammonium",
        phosphate="feed_dihydrogen_phosphate",
        ph="feed_ph",
        strength="feed_strength",
        note="above 0, struvite comes out",
    )
    page.result(
        "gypsum_index",
        "Gypsum index",
        work.gypsum,
        unit="index",
        calcium="feed_calcium",
        sulfate="feed_sulfate",
        strength="feed_strength",
        note="above 0.3, it comes out",
    )
    page.working_value(
        "also_in_pipe",
        work.also,
        struvite="struvite_index",
        gypsum="gypsum_index",
        spoiled="feed_spoiled",
        silicate="feed_silicate",
        ph="feed_ph",
    )
    _unknown_ammonium(page)


def _unknown_ammonium(page: Page) -> None:
    """Where ammonium that nobody looked for in the water would matter in the pipe."""
    key = page.book.key_for("water_nh4")
    ions = ("feed_magnesium", "feed_ammonium", "feed_dihydrogen_phosphate", "feed_chlorine")
    arguments = (key, *ions, "feed_ph", "feed_strength")
    after, page.sheet.row = page.sheet.row, page.sheet.row - 1
    page.back(EXACT, "pipe_gap", work.ammonium_gap, arguments, known=TEXT)
    page.sheet.row = after
