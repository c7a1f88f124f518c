"""Zone flow: how much water runs through the injector, measured in up to three ways."""

from __future__ import annotations

from tanksheet.calc.flow import lateral_time
from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.measures import tile_in
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.templates.zone_flow import pipes
from tanksheet.templates.zone_flow import working as work

METHODS = ("bucket", "emitters", "strokes")


STEPS = (
    "Fill a bucket of known size at the end of the line, three times or more, and type the times. "
    "Leave blank what you did not measure.",
    "Or count the emitters and read the pressure; or count the strokes of the injector. Two ways "
    "that agree are worth more than one.",
    "Choose the flow to plan with, then type pipe, pressures and the injector's nameplate.",
    "Read the verdict at the top. What is wrong says so beside its row, with what to do.",
    "Run clean water at least as long as the last line says, so that no feed stays in the pipe.",
)


def make(edition: str = "metric") -> Book:
    book = Book(
        "zone-flow",
        "Zone flow",
        "Measure a zone's flow, see whether an injector suits it, and how long feed travels.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Zone flow")
    page.opening("Zone flow")
    verdicts = verdicts_of(page)
    _bucket(page, verdicts)
    _emitters(page)
    _strokes(page)
    _comparison(page, verdicts)
    pipes.pipe(page, verdicts)
    pipes.pressure(page, verdicts)
    pipes.injector(page, verdicts)
    _travel(page, verdicts)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*_tiles(edition))
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
    (
        "Pressure left within 10 % of what the emitters need is near the limit.",
        "common practice, no source",
    ),
    (
        "Above three times the pressure that the emitters need, ask for a regulator; feed that "
        "travels over an hour reaches the far end late.",
        "common practice, no source",
    ),
    ("Readings spread by more than 5 % are worth repeating.", "common practice, no source"),
)


def _tiles(edition: str) -> list[Tile]:
    flow, speed = shown_unit("L/min", edition), shown_unit("m/s", edition)
    lost = shown_unit("kPa", edition)

    def tile(column: int, label: str, base: str, unit: str, name: str) -> Tile:
        return Tile(column, f"{label}, {unit}", tile_in(base, unit), {"number": name})

    return [
        tile(1, "Flow to plan with", "L/min", flow, "flow"),
        tile(2, "Speed", "m/s", speed, "pipe_speed"),
        tile(4, "Arrives", "min", "min", "main_minutes"),
        tile(5, "Flush", "min", "min", "rinse_minutes"),
        tile(6, "Pressure lost", "kPa", lost, "total_loss"),
    ]


def _bucket(page: Page, verdicts: Verdicts) -> None:
    page.section("Bucket and timer", "", "", "flow")
    page.input(
        "bucket",
        "Water caught each time",
        "volume",
        20,
        "L",
        usual=(1, 1000),
        optional=True,
        us=(5, "gal"),
    )
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
    _catches(page, verdicts)
    page.gap()


def _catches(page: Page, verdicts: Verdicts) -> None:
    page.result(
        "mean_time",
        "Mean time",
        work.mean_seconds,
        unit="s",
        may_be_words=True,
        readings="bucket_time",
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
        "flow_by_bucket",
        "Flow by bucket",
        work.flow_from_bucket,
        unit="L/min",
        may_be_words=True,
        volume="bucket",
        seconds="mean_time",
    )
    page.working_value("text_catch", work.text_catch, catch_flows="bucket_time_worked")
    verdicts.add("bucket_check", "Are the catches alike?", work.catches_alike, text_at="text_catch")


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
        "rated_flow",
        "Flow of one emitter, as rated",
        "nominal_flow",
        1.6,
        "L/h",
        usual=(0.5, 100),
        us=(0.42, "gph"),
    )
    page.input(
        "rated_pressure",
        "... at a pressure of",
        "nominal_pressure",
        100,
        "kPa",
        usual=(50, 400),
        us=(14.5, "psi"),
    )
    _pressure_at_the_emitters(page)
    page.gap()


def _pressure_at_the_emitters(page: Page) -> None:
    page.input(
        "zone_pressure",
        "Pressure measured in the zone",
        "pressure",
        103,
        "kPa",
        usual=(40, 400),
        us=(15, "psi"),
    )
    page.input(
        "emitter_exponent",
        "Emitter exponent",
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


def _strokes(page: Page) -> None:
    page.section("Strokes of the injector")
    page.input("stroke_count", "Strokes counted", "strokes", None, usual=(5, 200), optional=True)
    page.input(
        "stroke_water",
        "Water that one stroke takes",
        "stroke_volume",
        0.53,
        "L",
        usual=(0.05, 5),
        us=(0.14, "gal"),
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


def _comparison(page: Page, verdicts: Verdicts) -> None:
    page.section("The flow to plan with")
    page.choice("method", "Plan with the flow by", METHODS, "bucket")
    page.result("flow", "Zone flow", work.chosen_flow, unit="L/min", may_be_words=True)
    page.working_value("furthest_off", work.furthest_off)
    verdicts.add("emitters_check", "Emitters against it", work.compared, other="flow_by_emitters")
    verdicts.add("strokes_check", "Strokes against it", work.compared, other="flow_by_strokes")
    verdicts.add(
        "flow_check",
        "Can the flow be planned with?",
        work.flow_verdict,
        text_at="text_catch",
        furthest="furthest_off",
    )
    page.gap()


def _travel(page: Page, verdicts: Verdicts) -> None:
    page.section("How long the feed travels")
    page.input(
        "lateral_length",
        "Length of the longest lateral",
        "length",
        100,
        "m",
        usual=(5, 400),
        us=(330, "ft"),
    )
    page.input(
        "lateral_inside",
        "Inside diameter of the lateral",
        "inside",
        13.6,
        "mm",
        usual=(8, 40),
        us=(0.536, "in"),
    )
    page.input("lateral_emitters", "Emitters on it", "emitters", 333, usual=(5, 2000))
    _minutes(page)
    verdicts.add(
        "rinse_check",
        "Does the feed arrive in time?",
        work.rinse_verdict,
        rinse="rinse_minutes",
        text_at="text_catch",
    )


def _minutes(page: Page) -> None:
    page.result(
        "main_minutes",
        "From injector to zone",
        work.plug_minutes,
        unit="min",
        may_be_words=True,
        length="pipe_length",
        inside="pipe_inside",
    )
    page.result(
        "lateral_minutes",
        "Along the lateral to its end",
        lateral_time,
        length="lateral_length",
        inside="lateral_inside",
        emitters="lateral_emitters",
        emitter_flow="rated_flow",
    )
    page.result(
        "rinse_minutes",
        "Clean water after feeding",
        work.both_minutes,
        unit="min",
        may_be_words=True,
        note="feed at least as long too",
    )
