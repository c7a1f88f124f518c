"""The sheet Catch test: water and EC at up to 24 emitters."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.proving import catch_working as work
from tanksheet.templates.proving.telling import CATCH_EC, CATCHES
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.verdicts import Verdicts
from tanksheet.units import KgPerHa, MilliSiemens, Number, Quantity

EMITTERS = 24  # the poorest quarter of it is what ``low_sum`` can add up
CATCH = Quantity(Number, "water caught from one emitter", 0, 1e6)
METER = Quantity(MilliSiemens, "meter reading at one emitter", 0, 500)
PLANNED = Quantity(KgPerHa, "dose planned for the area", 0, 1e5, above=True)
LEAD = (
    "Catch the water of 16 emitters or more, near and far, high and low, for the same time while "
    "feed runs, and read the EC of each catch. Another unit of volume does as well, for all alike."
)


def catch_test(book: Book, page: Page, verdicts: Verdicts) -> None:
    """What is typed and seen on a sheet of its own, the verdicts on the first page."""
    _sheet(book)
    page.section("Emitters: see the sheet Catch test")
    verdicts.add(
        "water_check",
        "Is the water even?",
        work.water_verdict,
        even="water_even",
        emitters="emitters_caught",
        bad="first_bad_catch",
    )
    verdicts.add(
        "feed_check",
        "Is the feed even?",
        work.feed_verdict,
        even="fed_even",
        emitters="emitters_caught",
        fed_emitters="emitters_fed",
        bad="first_bad_catch",
    )


def _sheet(book: Book) -> None:
    page = add_page(book, "Catch test")
    page.heading("Catch test", LEAD)
    page.input(
        "planned_dose",
        "Dose planned",
        PLANNED,
        30,
        "kg/ha",
        usual=(1, 100),
        optional=True,
        us=(27, "lb/acre"),
    )
    results = page.keep_rows(4)
    page.gap()
    page.section("Emitter", "caught", "", "EC", "dose")
    table = _typed(page)
    _worked(table)
    table.end()
    below, page.sheet.row = page.sheet.row, results
    _results(page)
    page.sheet.row = below


def _typed(page: Page) -> Table:
    table = Table(page, EMITTERS)
    blank = [None] * EMITTERS
    table.labels(1, [f"Emitter {i + 1}" for i in range(EMITTERS)])
    table.filled(
        "catches",
        2,
        "Water caught",
        [*CATCHES, *blank][:EMITTERS],
        limits=CATCH,
        usual=(80, 110),
        pattern='General" mL"',
    )
    table.filled(
        "catch_ecs",
        4,
        "EC of the catch",
        [*CATCH_EC, *blank][:EMITTERS],
        limits=METER,
        usual=(2, 2.4),
        pattern='0.00 "EC"',
        style="typed narrow",
    )
    return table


def _worked(table: Table) -> None:
    hidden: dict[str, Any] = {"hidden": True, "behind": True}
    table.computed("caught", 7, each(work.caught, "catches"), **hidden)
    table.computed(
        "fed",
        5,
        each(work.fed, "catches", "catch_ecs", ":ec_water"),
        style="other system",
        pattern="0.0",
        hidden=True,
    )

    def bad(i: int) -> tuple[Any, tuple[str, ...]]:
        return work.bad_catch(i + 1), (part("caught", i), part("fed", i))

    table.computed("bad_catches", 8, bad, **hidden)
    notes = each(work.catch_note, "caught", "fed")
    table.computed("catch_notes", 6, notes, style="words", known=TEXT, hidden=True)


def _results(page: Page) -> None:
    maybe: dict[str, Any] = {"may_be_words": True}
    page.result(
        "emitters_caught", "Emitters caught", work.how_many, unit="", amounts="caught", pattern="0"
    )
    page.working_value("first_bad_catch", work.first_of, bads="bad_catches")
    page.result(
        "water_even", "Water: poorest quarter", work.evenness, unit="%", amounts="caught", **maybe
    )
    page.result(
        "fed_even", "Feed: poorest quarter", work.evenness, unit="%", amounts="fed", **maybe
    )
    page.working_value("emitters_fed", work.how_many, amounts="fed")
    page.result(
        "poorest_dose",
        "... gets of the dose",
        work.poorest_dose,
        unit="kg/ha",
        share="fed_even",
        planned="planned_dose",
        **maybe,
    )
