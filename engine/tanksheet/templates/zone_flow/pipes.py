"""Zone flow's pipe, its pressures and the injector's nameplate."""

from __future__ import annotations

from tanksheet.sheets.page import Page
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.zone_flow import pressure_working as judge
from tanksheet.templates.zone_flow import working as work


def pipe(page: Page, verdicts: Verdicts) -> None:
    page.section("Pipe to the zone")
    page.input(
        "pipe_inside",
        "Inside diameter",
        "inside",
        52.5,
        "mm",
        usual=(12, 300),
        us=(2.067, "in"),
    )
    page.input("pipe_length", "Length", "length", 80, "m", usual=(1, 2000), us=(260, "ft"))
    page.input("pipe_c", "Hazen-Williams C", "roughness", 150, usual=(100, 155))
    page.input(
        "neck_inside",
        "Necked-down piece, inside",
        "inside",
        24,
        "mm",
        usual=(12, 300),
        us=(0.95, "in"),
    )
    page.input(
        "neck_length", "... its length, 0 for none", "length", 0.6, "m", usual=(0, 10), us=(2, "ft")
    )
    _main(page)
    _neck(page)
    page.result(
        "total_loss", "Pressure lost in all of it", work.both_losses, unit="kPa", may_be_words=True
    )
    verdicts.add("speed_check", "Is the water too fast?", work.speed_verdict)
    page.gap()


def _main(page: Page) -> None:
    page.result(
        "pipe_speed",
        "Speed in the pipe",
        work.speed_at,
        unit="m/s",
        may_be_words=True,
        inside="pipe_inside",
    )
    page.result(
        "pipe_loss",
        "Pressure lost in the pipe",
        work.loss_at,
        unit="kPa",
        may_be_words=True,
        inside="pipe_inside",
        length="pipe_length",
        roughness="pipe_c",
    )


def _neck(page: Page) -> None:
    page.result(
        "neck_speed",
        "Speed in necked-down piece",
        work.speed_at,
        unit="m/s",
        may_be_words=True,
        inside="neck_inside",
    )
    page.result(
        "neck_loss",
        "Lost in necked-down piece",
        work.loss_at,
        unit="kPa",
        may_be_words=True,
        inside="neck_inside",
        length="neck_length",
        roughness="pipe_c",
    )
    page.result(
        "neck_ends",
        "... and at its two ends",
        work.ends_loss,
        unit="kPa",
        may_be_words=True,
        inside="neck_inside",
        wide_inside="pipe_inside",
        length="neck_length",
        note="sharp; rounded lose less",
    )


def pressure(page: Page, verdicts: Verdicts) -> None:
    page.section("Pressure")
    page.input(
        "supply_pressure",
        "Supply while the zone runs",
        "supply_pressure",
        310,
        "kPa",
        usual=(100, 1000),
        optional=True,
        us=(45, "psi"),
    )
    page.input(
        "injector_loss",
        "Lost in the injector (chart)",
        "injector_loss",
        70,
        "kPa",
        usual=(5, 200),
        optional=True,
        us=(10, "psi"),
    )
    _pressure_needed(page)
    verdicts.add(
        "pressure_check",
        "Is there pressure enough?",
        judge.pressure_verdict,
        supply="supply_pressure",
        left="pressure_left",
        needed="pressure_needed",
        greatest="greatest_loss",
        text_at="text_catch",
    )
    page.gap()


def _pressure_needed(page: Page) -> None:
    page.input(
        "other_loss",
        "Lost in filter and valves",
        "other_loss",
        35,
        "kPa",
        usual=(0, 200),
        optional=True,
        us=(5, "psi"),
    )
    page.input("rise", "Emitters are higher by", "rise", 1, "m", usual=(-20, 20), us=(3, "ft"))
    page.input(
        "pressure_needed",
        "Emitters need",
        "pressure",
        100,
        "kPa",
        usual=(30, 400),
        optional=True,
        us=(14.5, "psi"),
    )
    page.result(
        "pressure_left",
        "Pressure left at the emitters",
        judge.left_over,
        unit="kPa",
        may_be_words=True,
        note="at the head of laterals",
    )
    page.working_value("greatest_loss", judge.greatest_loss)


def injector(page: Page, verdicts: Verdicts) -> None:
    page.section("Injector nameplate")
    page.input(
        "injector_low",
        "Lowest flow on the nameplate",
        "flow",
        10,
        "L/min",
        usual=(0.1, 50),
        optional=True,
        us=(2.6, "gpm"),
    )
    page.input(
        "injector_high",
        "Highest flow on the nameplate",
        "flow",
        150,
        "L/min",
        usual=(20, 2000),
        optional=True,
        us=(40, "gpm"),
    )
    verdicts.add(
        "injector_check",
        "Does the injector suit?",
        judge.injector_suits,
        low="injector_low",
        high="injector_high",
        left="pressure_left",
        needed="pressure_needed",
        text_at="text_catch",
    )
    page.gap()
