"""Zone flow: how much water runs through the injector, measured in up to three ways."""

from __future__ import annotations

from tanksheet.calc.flow import (
    bucket_flow,
    head_loss,
    lateral_time,
    travel_time,
    velocity,
)
from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.zone_flow import working as work

METHODS = ("bucket", "emitters", "strokes")


def make() -> Book:
    book = Book(
        "zone-flow",
        "Zone flow",
        "Measure a zone's flow, see whether an injector suits it, and how long feed travels.",
    )
    page = add_page(book, "Zone flow")
    page.heading(
        "Zone flow",
        f"{book.purpose} Type in the yellow cells; leave blank what you "
        "did not measure. Any unit in a list will do.",
    )
    _bucket(page)
    _emitters(page)
    _strokes(page)
    _comparison(page)
    _injector(page)
    _pipe(page)
    _travel(page)
    page.gap()
    page.safety(SAFETY)
    book.sources += SOURCES
    return book


SAFETY = (
    "Backflow: an injector on a drinking-water supply needs the backflow preventer that the local "
    "code asks for, installed and tested by a licensed person. Do not inject without it.",
    "Shut the water and let the pressure off before you open any pipe, filter or fitting.",
)
SOURCES = (
    (
        "Flow measurements that agree within 10 % pass, within 20 % need a second look.",
        "common practice, no source",
    ),
    (
        "An injector within 10 % of the end of its range is near its limit.",
        "common practice, no source",
    ),
    ("Velocity up to 1.5 m/s (5 ft/s) in mains.", "ASAE S376 (from memory)"),
    ("Readings spread by more than 5 % are worth repeating.", "common practice, no source"),
)


def _bucket(page: Page) -> None:
    page.section("Bucket and timer")
    page.input("bucket", "Water caught each time", "volume", 5, "gal", usual=(1, 1000))
    page.readings(
        "bucket_time",
        "Time to fill, catch",
        "seconds",
        [25.2, 24.8, 25.6, None, None],
        "s",
        work.one_catch,
        usual=(5, 300),
        result_unit="L/min",
        volume="bucket",
    )
    page.result(
        "mean_time",
        "Mean time",
        work.mean_seconds,
        unit="s",
        repeats="bucket_time",
        factor="bucket_time_factor",
    )
    page.result(
        "time_spread",
        "Spread of the times",
        work.spread_of,
        unit="%",
        may_be_words=True,
        readings="bucket_time",
        note="coefficient of variation",
    )
    page.result(
        "flow_by_bucket", "Flow by bucket", bucket_flow, volume="bucket", seconds="mean_time"
    )
    page.verdict("bucket_check", "Are the catches alike?", work.catches_alike)
    page.gap()


def _emitters(page: Page) -> None:
    page.section("Emitters and pressure")
    page.input(
        "emitter_count",
        "Emitters running in the zone",
        "emitter_count",
        1700,
        usual=(50, 20000),
        optional=True,
    )
    page.input(
        "rated_flow", "Flow of one emitter, as rated", "nominal_flow", 1.6, "L/h", usual=(0.5, 100)
    )
    page.input(
        "rated_pressure", "... at a pressure of", "nominal_pressure", 1.0, "bar", usual=(50, 400)
    )
    page.input(
        "zone_pressure", "Pressure measured in the zone", "pressure", 15, "psi", usual=(40, 400)
    )
    page.input(
        "emitter_exponent",
        "Emitter exponent (0.5 plain, 0 compensating)",
        "exponent",
        0.5,
        usual=(0, 1),
    )
    page.result(
        "flow_by_emitters",
        "Flow by emitters",
        work.flow_from_emitters,
        may_be_words=True,
        unit="L/min",
        nominal_flow="rated_flow",
        nominal_pressure="rated_pressure",
        pressure="zone_pressure",
        exponent="emitter_exponent",
    )
    page.gap()


def _strokes(page: Page) -> None:
    page.section("Strokes of the injector")
    page.input("stroke_count", "Strokes counted", "strokes", None, usual=(5, 200), optional=True)
    page.input(
        "stroke_water", "Water that one stroke takes", "stroke_volume", 0.53, "L", usual=(0.05, 5)
    )
    page.input("stroke_time", "Counted over", "seconds", 1, "min", usual=(15, 600))
    page.result(
        "flow_by_strokes",
        "Flow by strokes",
        work.flow_from_strokes,
        may_be_words=True,
        unit="L/min",
        strokes="stroke_count",
        stroke_volume="stroke_water",
        seconds="stroke_time",
    )
    page.gap()


def _comparison(page: Page) -> None:
    page.section("The flow to plan with")
    page.choice("method", "Plan with the flow by", METHODS, "bucket")
    page.result("flow", "Zone flow", work.chosen_flow, unit="L/min")
    page.verdict("emitters_check", "Emitters against it", work.compared, other="flow_by_emitters")
    page.verdict("strokes_check", "Strokes against it", work.compared, other="flow_by_strokes")
    page.gap()


def _injector(page: Page) -> None:
    page.section("Injector nameplate")
    page.input("injector_low", "Lowest flow on the nameplate", "flow", 10, "L/min", usual=(0.1, 50))
    page.input(
        "injector_high", "Highest flow on the nameplate", "flow", 40, "gpm", usual=(20, 2000)
    )
    page.verdict(
        "injector_check",
        "Does the injector suit?",
        work.injector_suits,
        low="injector_low",
        high="injector_high",
    )
    page.gap()


def _pipe(page: Page) -> None:
    page.section("Pipe to the zone")
    page.input("pipe_inside", "Inside diameter", "inside", 2.067, "in", usual=(12, 300))
    page.input("pipe_length", "Length", "length", 80, "m", usual=(1, 2000))
    page.input(
        "pipe_c", "Hazen-Williams C (150 smooth plastic)", "roughness", 150, usual=(100, 155)
    )
    page.input(
        "neck_inside", "Necked-down piece, inside diameter", "inside", 24, "mm", usual=(12, 300)
    )
    page.input(
        "neck_length", "Necked-down piece, length (0 for none)", "length", 0.6, "m", usual=(0, 10)
    )
    page.result("pipe_speed", "Speed in the pipe", velocity, inside="pipe_inside")
    page.result(
        "pipe_loss",
        "Pressure lost in the pipe",
        head_loss,
        inside="pipe_inside",
        length="pipe_length",
        roughness="pipe_c",
    )
    page.result("neck_speed", "Speed in the necked-down piece", velocity, inside="neck_inside")
    page.result(
        "neck_loss",
        "Pressure lost in the necked-down piece",
        head_loss,
        inside="neck_inside",
        length="neck_length",
        roughness="pipe_c",
        note="friction only; its fittings lose more",
    )
    page.result("total_loss", "Pressure lost in both", work.both_losses, unit="kPa")
    page.verdict("speed_check", "Is the water too fast?", work.speed_verdict)
    page.gap()


def _travel(page: Page) -> None:
    page.section("How long the feed travels")
    page.input(
        "lateral_length", "Length of the longest lateral", "length", 100, "m", usual=(5, 400)
    )
    page.input(
        "lateral_inside", "Inside diameter of the lateral", "inside", 13.6, "mm", usual=(8, 40)
    )
    page.input("lateral_emitters", "Emitters on it", "emitters", 333, usual=(5, 2000))
    page.result(
        "main_minutes",
        "From injector to zone",
        travel_time,
        length="pipe_length",
        inside="pipe_inside",
    )
    page.result(
        "lateral_minutes",
        "Along the lateral to its last emitter",
        lateral_time,
        length="lateral_length",
        inside="lateral_inside",
        emitters="lateral_emitters",
        emitter_flow="rated_flow",
    )
    page.result(
        "rinse_minutes",
        "Run clean water after feeding, at least",
        work.both_minutes,
        unit="min",
        note="and feed for at least as long, so that all emitters get a share",
    )
