"""Proving: drawdown tests and EC readings of an injector over time, and a catch test."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.proving import chart_working as chart
from tanksheet.templates.proving import working as work
from tanksheet.templates.proving.catch import catch_test
from tanksheet.templates.proving.charts import charts
from tanksheet.templates.proving.lines import drift, each_reading
from tanksheet.templates.proving.telling import (
    DAYS,
    DRAWN_ML,
    READ_EC,
    SAFETY,
    SOURCES,
    STEPS,
    tiles,
)
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import DATES, MilliSiemens, Number, Percent, Quantity
from tanksheet.xlsx.address import Value

ROWS = 24
AMOUNT = Quantity(Number, "what was measured", 0, 1e6, above=True)
FIRST = Quantity(Number, "readings that set the limits", 8, ROWS)
BAND = Quantity(Percent, "how far the dose may be off", 0.1, 100)
METER = Quantity(MilliSiemens, "meter reading of the feed", 0, 500)


def make(edition: str = "metric") -> Book:
    book = Book(
        "proving",
        "Proving",
        "Tests of an injector over time: true ratio, how sure, drift, and a catch test.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Proving")
    page.opening("Proving")
    verdicts = verdicts_of(page)
    _injector(page)
    readings = _readings(page)
    _sureness(page)
    each_reading(book, ROWS)
    _newest(page, verdicts)
    _limits(page)
    drift(book, ROWS)
    _steady(page, verdicts)
    _beside(readings)
    catch_test(book, page, verdicts)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*tiles())
    charts(book, ROWS)
    book.sources += SOURCES
    return book


def _injector(page: Page) -> None:
    page.section("Injector and target")
    page.input("ratio", "Injector is set to", "ratio", 100, "1:N", usual=(20, 500))
    page.choice("way", "Judge by", work.WAYS, work.DRAWN)
    page.input("ec_water", "EC of the water", "ec_water", 0.4, "mS/cm", usual=(0, 3), optional=True)
    page.input(
        "ec_target",
        "EC that the feed should read",
        "ec_target",
        2.2,
        "mS/cm",
        usual=(0.6, 6),
        optional=True,
    )
    page.gap()


def _readings(page: Page) -> Table:
    page.section("Readings, oldest first", "stock drawn", "water", "EC", "off, %")
    table = Table(page, ROWS)
    table.filled(
        "dates",
        1,
        "Day of the test",
        filled(DAYS),
        limits=DATES,
        usual=(46000.0, 46350.0),
        style="typed maybe",
        pattern="yyyy-mm-dd",
    )
    _amounts(table)
    _days(table)
    table.end()
    page.gap()
    return table


def _days(table: Table) -> None:
    """Behind the readings: the latest day so far, and what is wrong with a day."""
    quiet: dict[str, Any] = {"hidden": True, "behind": True}

    def latest(i: int) -> tuple[Any, tuple[str, ...]]:
        if i == 0:
            return work.first_day, (part("dates", 0),)
        return work.latest_day, (part("latest_days", i - 1), part("dates", i))

    table.computed("latest_days", 7, latest, known=NUMBER, **quiet)
    kinds = each(work.day_kind, "dates", "latest_days")
    table.computed("day_kinds", 8, kinds, known=TEXT, **quiet)


def _amounts(table: Table) -> None:
    us = table.page.book.edition == "us"
    water, stock = work.UNITS[table.page.book.edition]
    litres = (13.0 if us else 50.0,) * len(DRAWN_ML)
    # Of 13 gal as much as of 50 L, in fluid ounces of which a gallon has 128.
    drawn = [round(ml * 13 * 128 / 50000, 2) if us else ml for ml in DRAWN_ML]
    usual = (12.0, 18.0) if us else (450.0, 550.0)
    table.filled(
        "stocks",
        2,
        "Stock drawn",
        filled(drawn),
        limits=AMOUNT,
        usual=usual,
        pattern=f'General" {stock}"',
    )
    table.filled(
        "waters",
        3,
        "Water",
        filled(litres),
        limits=AMOUNT,
        usual=(12.0, 14.0) if us else (40.0, 60.0),
        pattern=f'General" {water}"',
        style="typed narrow",
    )
    table.filled(
        "ecs",
        4,
        "EC of the feed",
        filled(READ_EC),
        limits=METER,
        usual=(2, 2.4),
        pattern='0.00 "EC"',
        style="typed narrow",
    )


def filled(given: Sequence[Value]) -> list[Value]:
    """A column's examples, and blanks below them."""
    return [*given, *[None] * ROWS][:ROWS]


def _sureness(page: Page) -> None:
    page.section("How far a reading may be off")
    page.input(
        "water_error",
        "Water misread by at most",
        "water_error",
        0.25,
        "L",
        usual=(0.01, 1),
        us=(0.07, "gal"),
    )
    page.input(
        "stock_error",
        "Stock misread by at most",
        "stock_error",
        2.5,
        "mL",
        usual=(0.0005, 0.02),
    )
    page.input("ec_error", "EC misread by at most", "ec_error", 0.02, "mS/cm", usual=(0.001, 0.1))
    page.input("good", "Good dosing is within", BAND, 5, "%", usual=(2, 8))
    page.input("act", "Act beyond", BAND, 10, "%", usual=(8, 20))
    page.input("baseline", "Readings that set the limits", FIRST, 8, usual=(8, 12))
    page.gap()


def _maybe(page: Page, name: str, label: str, function: Any, unit: str, **uses: Any) -> None:
    """A result that is blank until there is something to tell."""
    page.result(name, label, function, unit=unit, may_be_words=True, **uses)


def _newest(page: Page, verdicts: Verdicts) -> None:
    last = ROWS - 1
    page.section("What the newest reading says")
    _maybe(page, "latest_off", "Dose is off by", work.held, "%", value=part("lasts", last))
    _maybe(
        page, "latest_doubt", "... sure to, either way", work.held, "%", value=part("sures", last)
    )
    _maybe(page, "latest_ratio", "Ratio found", work.latest_ratio, "parts", latest="latest_off")
    _maybe(page, "new_ratio", "Setting to dose right", work.new_ratio, "parts", latest="latest_off")
    _maybe(page, "new_percent", "... in percent", work.new_percent, "%", setting="new_ratio")
    page.working_value("first_bad", work.first_bad, bads="bad_rows")
    verdicts.add(
        "dose_check",
        "Does it dose right?",
        chart.dose_verdict,
        latest="latest_off",
        doubt="latest_doubt",
        bad="first_bad",
        setting="new_ratio",
        percent="new_percent",
    )
    verdicts.add("order_check", "Oldest first?", work.order_verdict, kinds="day_kinds")
    verdicts.add(
        "ways_check",
        "Do EC and drawdown agree?",
        chart.ways_verdict,
        apart=part("gap_lasts", last),
        drawn_sure=part("gap_drawn", last),
        read_sure=part("gap_read", last),
    )
    page.gap()


def _limits(page: Page) -> None:
    page.section("Control limits, from the first readings")
    _maybe(page, "centre", "Mean of the first", chart.centre_of, "%", firsts="first_offs")
    _maybe(page, "spread", "Mean step to the next", chart.mean_range, "%", ranges="first_ranges")
    _maybe(page, "low_limit", "Lowest to expect", chart.lower, "%")
    _maybe(page, "high_limit", "Highest to expect", chart.upper, "%")
    _maybe(page, "step_limit", "Largest step to expect", chart.range_limit, "%")
    so_far = part("counts", ROWS - 1)
    page.working_value("waiting", chart.not_ready, bad="first_bad", so_far=so_far)


def _steady(page: Page, verdicts: Verdicts) -> None:
    last = ROWS - 1
    _maybe(page, "average_now", "Moving average now", work.held, "%", value=part("averages", last))
    page.working_value("outsides", chart.how_many, marks="outside_rows")
    _maybe(page, "average_far", "... may stray by", work.held, "%", value=part("reaches", last))
    page.working_value("jumps", chart.how_many, marks="jump_rows")
    verdicts.add(
        "steady_check",
        "Is it steady?",
        chart.steady_verdict,
        latest="latest_off",
        low="low_limit",
        high="high_limit",
        average="average_now",
        far="average_far",
    )
    page.gap()


def _beside(readings: Table) -> None:
    """Beside each reading: by how much it is off, and what is odd about it."""
    offs = each(work.held, "offs")
    readings.computed("dose_offs", 5, offs, style="worked out", pattern="0.0")
    notes = each(work.row_note, "drawn_offs", "read_offs", "outside_rows", "day_kinds")
    readings.computed("row_notes", 6, notes, style="words", known=TEXT, hidden=True)
