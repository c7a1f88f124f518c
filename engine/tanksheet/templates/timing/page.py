"""Timing: when feed reaches the emitters, whether a set has room for it, and open emitters."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.timing import clock_working as clock
from tanksheet.templates.timing import pipe_working as pipe
from tanksheet.templates.timing import way_working as way
from tanksheet.templates.timing.card import card
from tanksheet.templates.timing.chart import chart
from tanksheet.templates.timing.open_emitters import open_emitters
from tanksheet.templates.timing.pipes import ROWS, lateral, reckoned, stretches
from tanksheet.templates.timing.telling import SAFETY, SOURCES, STEPS, tiles
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import Hour, Quantity

RUN = Quantity(Hour, "time from opening to closing the valve", 0, 1000, above=True)
FILL = Quantity(Hour, "time until the lines are full", 0, 1000)
INJECTING = Quantity(Hour, "time of injecting", 0, 1000, above=True)
BLOCKS = ("Block 3, drip tape", "Almonds, north valve", "Bench 2")


def make(edition: str = "metric") -> Book:
    book = Book(
        "timing",
        "Timing",
        "When feed reaches the emitters, and whether the set has room; keeping emitters open.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Timing")
    page.named_opening("Timing", "block_name", "Name of the block", BLOCKS)
    verdicts = verdicts_of(page)
    _set(page)
    table = stretches(page)
    lateral(page)
    reckoned(book, table)
    _way(book, page, verdicts)
    _clock(book, page, verdicts)
    chart(page)
    open_emitters(book, verdicts)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*tiles())
    card(book)
    book.sources += SOURCES
    return book


def _set(page: Page) -> None:
    page.section("Irrigation set")
    some: dict[str, Any] = {"optional": True}
    page.input("set_time", "The valve is open for", RUN, 150, "min", usual=(0.5, 12))
    page.input(
        "fill_time", "Lines fill, before injecting", FILL, 40, "min", usual=(0.05, 2), **some
    )
    page.input(
        "inject_time", "Inject for, if not all of it", INJECTING, 60, "min", usual=(0.1, 6), **some
    )
    page.gap()


def _held(page: Page, name: str, function: Any, **uses: str) -> None:
    """A value of the working, in a row of its own on a hidden sheet."""
    page.back(2, name, function, page.arguments(function, uses), label=name)
    page.end_row()


def _way(book: Book, page: Page, verdicts: Verdicts) -> None:
    """Sums over the stretches and the lateral; what a person reads of them on the page."""
    last = ROWS - 1
    hidden = add_page(book, "Way", widths=(30.0, 16.0), working=True)
    hidden.sheet.hidden = True
    bore = {"inside": "lateral_bore", "length": "lateral_length"}
    _held(hidden, "near_place", way.near_place)
    _held(hidden, "stretches_told", pipe.how_many, amounts="stretch_minutes")
    _held(hidden, "first_bad", pipe.first_of, rows="bad_stretches")
    _held(hidden, "first_half", pipe.first_of, rows="half_stretches")
    _held(hidden, "first_slow", pipe.first_of, rows="slow_stretches")
    _held(hidden, "first_rising", pipe.first_of, rows="rising_stretches")
    _held(hidden, "fastest", way.fastest_of, speeds="speeds")
    _held(hidden, "lateral_told", pipe.lateral_state, **bore)
    _held(hidden, "lateral_takes", pipe.lateral_flow, state="lateral_told")
    _held(hidden, "pipe_minutes", way.itself, total=part("minutes_so_far", last))
    _held(hidden, "pipe_variance", way.itself, total=part("variance_so_far", last))
    _held(hidden, "near_minutes", way.near_of, place="near_place", sums="minutes_so_far")
    _held(hidden, "near_variance", way.near_of, place="near_place", sums="variance_so_far")
    _held(hidden, "near_spread", way.near_spread, variance="near_variance")
    _held(hidden, "along_minutes", pipe.lateral_minutes, state="lateral_told", **bore)
    _held(hidden, "along_variance", pipe.lateral_variance, state="lateral_told", **bore)
    told: dict[str, Any] = {"counted": "stretches_told", "half": "first_half", "bad": "first_bad"}
    told["lateral"] = "lateral_told"
    sums = {"pipes": "pipe_minutes", "along": "along_minutes"}
    _held(hidden, "far_minutes", pipe.far_minutes, **told, **sums)
    sums = {"pipes": "pipe_variance", "along": "along_variance"}
    _held(hidden, "far_spread", pipe.far_spread, **told, **sums)
    _travel(page)
    verdicts.add(
        "pipes_check",
        "Are the pipes told?",
        pipe.pipes_verdict(book.edition),
        **told,
        rising="first_rising",
        last=part("flows_so_far", last),
        one="lateral_takes",
    )
    page.gap()


def _travel(page: Page) -> None:
    page.section("Travel from the injector")
    _minutes(page, "near_travel", "To the nearest emitter", "near_minutes")
    _minutes(page, "main_travel", "To the head of the lateral", "pipe_minutes")
    _minutes(page, "lateral_travel", "Along the lateral", "along_minutes")
    _minutes(page, "far_travel", "To the last emitter", "far_minutes")
    _minutes(page, "far_smear", "Its front is smeared by", "far_spread", "standard deviation")


def _minutes(page: Page, name: str, label: str, key: str, note: str = "") -> None:
    page.result(name, label, way.itself, unit="min", may_be_words=True, note=note, total=key)


def _hours(page: Page, name: str, label: str, function: Any, **uses: Any) -> None:
    """A time in minutes, which is how a set is run; its name holds minutes."""
    page.result(name, label, function, unit="min", may_be_words=True, **uses)


def _clock(book: Book, page: Page, verdicts: Verdicts) -> None:
    page.section("Window for injecting")
    far = {"minutes": "far_minutes", "spread": "far_spread"}
    _hours(page, "clear_needed", "The last emitter clears in", clock.full_at, **far)
    _hours(page, "inject_window", "Left for injecting", clock.window_of, full="clear_needed")
    _hours(page, "inject_minutes", "Inject for", clock.injecting, window="inject_window")
    _hours(page, "flush_minutes", "Flush that is left", clock.flush_of)
    for name, label, place in (
        ("near_share", "Nearest emitter gets", "near"),
        ("far_share", "Last emitter gets", "far"),
    ):
        page.result(
            name,
            label,
            clock.share_at,
            unit="%",
            may_be_words=True,
            note="of its share, in the set",
            flush="flush_minutes",
            minutes=f"{place}_minutes",
            spread=f"{place}_spread",
        )
    _clock_judged(page, verdicts)
    _meter(page, far)


def _clock_judged(page: Page, verdicts: Verdicts) -> None:
    verdicts.add(
        "set_check",
        "Does it fit the set?",
        clock.set_verdict,
        window="inject_window",
        flush="flush_minutes",
        minutes="far_minutes",
    )
    flushed: dict[str, Any] = {
        "flush": "flush_minutes",
        "minutes": "far_minutes",
        "full": "clear_needed",
    }
    verdicts.add("flush_check", "Is the flush long enough?", clock.flush_verdict, **flushed)
    shares: dict[str, Any] = {"near": "near_share", "far": "far_share"}
    verdicts.add("share_check", "Does the last get its share?", clock.share_verdict, **shares)
    verdicts.add(
        "front_check",
        "Is the front sharp?",
        clock.front_verdict,
        spread="far_spread",
        slow="first_slow",
    )
    page.gap()


def _meter(page: Page, far: dict[str, str]) -> None:
    page.section("Meter at the last emitter, from opening the valve")
    _hours(page, "start_at", "Start the injector", clock.start_of)
    rise = {**far, "start": "start_at"}
    _hours(page, "far_rises", "EC begins to rise", clock.rises_at, **rise)
    _hours(
        page, "far_half", "... is half up", clock.half_at, minutes="far_minutes", start="start_at"
    )
    _hours(page, "far_full", "... reads nearly all of it", clock.up_at, **rise)
    _hours(page, "stop_at", "Stop the injector", clock.stop_of, start="start_at")
    fall = {**far, "start": "stop_at"}
    _hours(page, "far_falls", "EC begins to fall", clock.rises_at, **fall)
    _hours(page, "far_clear", "... is back to plain water", clock.up_at, **fall)
    _hours(page, "close_at", "Close the valve", clock.start_of, fill_time="set_time")
    page.gap()
