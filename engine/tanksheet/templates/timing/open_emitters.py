"""The sheet Open emitters: chlorine, acid, flushing and filter, cautions first."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.timing import filter_working as sieve
from tanksheet.templates.timing import open_working as work
from tanksheet.templates.timing.telling import OPEN_CAUTIONS
from tanksheet.templates.verdicts import Verdicts
from tanksheet.units import (
    PH,
    Hour,
    LitrePerMinute,
    MgPerL,
    Micrometre,
    Millimetre,
    Number,
    Quantity,
)

WANTED = Quantity(MgPerL, "free chlorine", 0, 1000)
RESIDUAL = Quantity(MgPerL, "free chlorine that a kit reads at the last emitter", 0, 1000)
STANDING = Quantity(Hour, "time that chlorine stands in the line", 0, 100)
TREATING = Quantity(Hour, "time of injecting the treatment", 0, 100, above=True)
OUT = Quantity(LitrePerMinute, "flow out of one open end", 0, 1e5, above=True)
ENDS = Quantity(Number, "ends open at once", 1, 1e4)
OPENING = Quantity(Micrometre, "opening of the filter", 1, 1e5)
PASSAGE = Quantity(Millimetre, "smallest passage of the emitter", 0, 1000, above=True)
READ_PH = Quantity(PH, "pH that a meter reads at the last emitter", 0, 14)
SOME: dict[str, Any] = {"optional": True}
MAYBE: dict[str, Any] = {"may_be_words": True}
LEAD = (
    "What keeps emitters open, reckoned for the block of the sheet Timing. Leave a treatment at "
    '"none" if you do not use it.'
)


def open_emitters(book: Book, verdicts: Verdicts) -> None:
    page = add_page(book, "Open emitters")
    page.heading("Keeping emitters open", LEAD)
    page.safety(OPEN_CAUTIONS)
    page.gap()
    _water(page, verdicts)
    _chlorine(page, verdicts)
    _acid(page, verdicts)
    _flush(page, verdicts)
    _filter(page, verdicts)


def _judge(
    page: Page, verdicts: Verdicts, name: str, label: str, function: Any, **uses: Any
) -> None:
    """A verdict on this sheet that counts at the top of the first one too."""
    page.verdict(name, label, function, **uses)
    verdicts.names.append(name)


def _drawn(page: Page, name: str, rate: str) -> None:
    """What a pump should draw from a measuring cylinder, alike in both editions."""
    label = "... by the cylinder"
    page.result(name, label, work.in_a_minute, unit="mL/min", pattern="0.0", **MAYBE, rate=rate)


def _water(page: Page, verdicts: Verdicts) -> None:
    page.section("Water treated")
    page.choice("chlorine_source", "Chlorine from", work.SOURCES, work.LIQUID)
    page.choice("acid", "Acid", work.ACIDS, work.NONE)
    page.choice("feeding", "Injected besides", work.BESIDE, work.WATER)
    page.input(
        "treat_flow",
        "Flow of the block",
        "flow",
        320,
        "L/min",
        usual=(20, 900),
        us=(85, "gpm"),
        **SOME,
    )
    page.input(
        "treat_celsius",
        "Temperature",
        "celsius",
        20,
        "degC",
        usual=(5, 35),
        us=(68, "degF"),
        **SOME,
    )
    _judge(
        page,
        verdicts,
        "meeting_check",
        "May they meet?",
        work.meeting_verdict,
        source="chlorine_source",
    )
    page.gap()


def _chlorine(page: Page, verdicts: Verdicts) -> None:
    page.section("Chlorine")
    page.input(
        "chlorine_wanted", "Free, at the last emitter", WANTED, 5, "mg/L", usual=(1, 20), **SOME
    )
    page.input("chlorine_demand", "Used up by the water", WANTED, 3, "mg/L", usual=(0, 10), **SOME)
    page.input("available", "Available chlorine", "available", 10, "%", usual=(3, 75), **SOME)
    page.input("chlorine_ph", "pH of the water", "ph_water", 7.2, usual=(5, 8.5), **SOME)
    page.input("treat_time", "Inject it for", TREATING, 40, "min", usual=(0.2, 4), **SOME)
    page.input("contact", "Let it stand for", STANDING, 60, "min", usual=(0.2, 24), **SOME)
    page.input(
        "residual", "A kit reads at the last emitter", RESIDUAL, 4, "mg/L", usual=(0, 20), **SOME
    )
    _chlorine_worked(page)
    _chlorine_judged(page, verdicts)
    page.gap()


def _chlorine_worked(page: Page) -> None:
    page.result("active_share", "Share of it that works", work.active_share, unit="%", **MAYBE)
    page.result(
        "chlorine_total",
        "Chlorine to inject",
        work.chlorine_total,
        unit="mg/L",
        **MAYBE,
        wanted="chlorine_wanted",
        demand="chlorine_demand",
    )
    page.result(
        "hypochlorite_rate",
        "Liquid hypochlorite",
        work.liquid_rate,
        unit="L/h",
        pattern="0.00",
        **MAYBE,
        source="chlorine_source",
        total="chlorine_total",
    )
    _drawn(page, "hypochlorite_drawn", "hypochlorite_rate")
    page.result("water_treated", "Water treated", work.volume_hours, unit="L", **MAYBE)
    page.result(
        "hypochlorite_mass",
        "Dry hypochlorite in all",
        work.dry_mass,
        unit="g",
        **MAYBE,
        source="chlorine_source",
        total="chlorine_total",
        treated="water_treated",
    )


def _chlorine_judged(page: Page, verdicts: Verdicts) -> None:
    _judge(
        page,
        verdicts,
        "chlorine_check",
        "Is the dose sound?",
        work.chlorine_verdict,
        source="chlorine_source",
        total="chlorine_total",
        rate="hypochlorite_rate",
        mass="hypochlorite_mass",
        active="active_share",
        wanted="chlorine_wanted",
    )
    _judge(
        page,
        verdicts,
        "contact_check",
        "Does it stand and arrive?",
        work.contact_verdict,
        source="chlorine_source",
        wanted="chlorine_wanted",
        clear="clear_needed",
    )


def _acid(page: Page, verdicts: Verdicts) -> None:
    page.section("Acid")
    page.input(
        "acid_alkalinity",
        "Alkalinity, as CaCO3",
        "alkalinity_as_caco3",
        150,
        "ppm",
        usual=(20, 400),
        **SOME,
    )
    page.input("acid_ph", "pH of the water", "ph_now", 7.6, usual=(6, 9), **SOME)
    page.input("acid_target", "pH wanted in the line", "ph_target", 5.5, usual=(4.2, 7), **SOME)
    page.input("acid_read", "A meter reads at the last one", READ_PH, None, usual=(4, 8), **SOME)
    _acid_worked(page, verdicts)
    page.gap()


def _acid_worked(page: Page, verdicts: Verdicts) -> None:
    page.result(
        "acid_moles",
        "Acid for each litre",
        work.acid_moles,
        unit="mmol/L",
        **MAYBE,
        alkalinity="acid_alkalinity",
        ph_now="acid_ph",
        ph_target="acid_target",
        celsius="treat_celsius",
    )
    page.result(
        "acid_rate",
        "Acid as sold",
        work.acid_rate,
        unit="L/h",
        pattern="0.00",
        **MAYBE,
        moles="acid_moles",
    )
    _drawn(page, "acid_drawn", "acid_rate")
    _judge(
        page,
        verdicts,
        "acid_check",
        "Is the acid sound?",
        work.acid_verdict,
        rate="acid_rate",
        ph_target="acid_target",
        ph_read="acid_read",
    )


def _flush(page: Page, verdicts: Verdicts) -> None:
    page.section("Flushing lateral ends")
    page.input(
        "end_flow",
        "Flow out of one open end",
        OUT,
        3.2,
        "L/min",
        usual=(0.5, 10),
        us=(0.85, "gpm"),
        **SOME,
    )
    page.input("ends", "Ends open at once", ENDS, 8, usual=(1, 30), **SOME)
    _flush_worked(page, verdicts)
    page.gap()


def _flush_worked(page: Page, verdicts: Verdicts) -> None:
    page.result(
        "flush_flow",
        "Flow that one end needs",
        sieve.flush_needed,
        unit="L/min",
        **MAYBE,
        bore="lateral_bore",
    )
    page.result(
        "flush_flow_all",
        "... all open ends",
        sieve.all_ends,
        unit="L/min",
        **MAYBE,
        needed="flush_flow",
    )
    page.result(
        "end_speed",
        "Speed at the open end",
        sieve.end_speed,
        unit="m/s",
        **MAYBE,
        bore="lateral_bore",
        measured="end_flow",
    )
    _judge(
        page,
        verdicts,
        "flushing_check",
        "Does it carry dirt out?",
        sieve.flushing_verdict(page.book.edition),
        speed="end_speed",
        bore="lateral_bore",
    )


def _filter(page: Page, verdicts: Verdicts) -> None:
    page.section("Filter against emitter")
    page.choice("screen", "Screen of the filter", sieve.SCREENS, "mesh 120")
    page.input(
        "opening_typed", "... its opening, if told", OPENING, None, "um", usual=(50, 400), **SOME
    )
    page.input(
        "passage",
        "Emitter's smallest passage",
        PASSAGE,
        1.1,
        "mm",
        usual=(0.4, 2),
        us=(0.043, "in"),
        **SOME,
    )
    page.input(
        "passage_part", "Opening is a part of it, one in", "passage_part", 8, usual=(5, 10), **SOME
    )
    _filter_judged(page, verdicts)


def _filter_judged(page: Page, verdicts: Verdicts) -> None:
    page.result("mesh", "Mesh number", sieve.mesh_of, unit="", pattern="0", **MAYBE)
    page.result(
        "filter_opening",
        "Opening of the filter",
        sieve.opening_of,
        unit="um",
        **MAYBE,
        typed="opening_typed",
    )
    page.result(
        "opening_wanted", "Opening that guards it", sieve.opening_wanted, unit="um", **MAYBE
    )
    _judge(
        page,
        verdicts,
        "filter_check",
        "Does it guard the emitter?",
        sieve.filter_verdict,
        opening="filter_opening",
        wanted="opening_wanted",
    )
