"""Commissioning: steps to tick when an injector starts, and the first readings, judged."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.commissioning import working as work
from tanksheet.templates.commissioning.telling import (
    LIST,
    SAFETY,
    SOURCES,
    STEPS,
    TICKS,
    tiles,
)
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import Percent, Quantity

SCALE = Quantity(Percent, "what the percent scale reads", 0, 100, above=True)
TALL = 17


def make(edition: str = "metric") -> Book:
    book = Book(
        "commissioning",
        "Commissioning",
        "The list to tick when an injector starts, and its first readings, judged.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Commissioning")
    page.opening("Commissioning")
    verdicts = verdicts_of(page)
    _steps(page, verdicts)
    _setting(page, verdicts)
    _flow(page, verdicts)
    _drawdown(page, verdicts)
    _feed(page, verdicts)
    page.safety(SAFETY)
    verdicts.close(*tiles())
    book.sources += SOURCES
    return book


def _steps(page: Page, verdicts: Verdicts) -> None:
    page.section("Step", "", "what to look at")
    table = Table(page, len(LIST))
    table.labels(1, [step for step, _, _ in LIST])
    table.filled("steps", 2, "Step", TICKS, words=work.STATES, style="typed maybe word")
    for i, (_, _, look) in enumerate(LIST):
        page.sheet.row = table.first + i
        page.sheet.put(3, look, "note", across=4)
        page.sheet.heights[page.sheet.row] = TALL
    page.sheet.row = table.first
    quiet: dict[str, Any] = {"hidden": True, "behind": True}

    def state(i: int) -> tuple[Any, tuple[str, ...]]:
        return each(work.ticked(LIST[i][1]), "steps")(i)

    table.computed("step_states", 2, state, known=TEXT, **quiet)

    def named(i: int) -> tuple[Any, tuple[str, ...]]:
        return work.named(LIST[i][0]), ()

    table.computed("step_names", 3, named, known=TEXT, **quiet)
    for name, column, words in (
        ("undone_rows", 7, (work.NOT_DONE,)),
        ("wrong_rows", 8, (work.WRONG, "needed")),
        ("unticked_rows", 9, (work.OPEN,)),
    ):
        table.computed(name, column, _rows_of(words), **quiet)
    table.end()
    uses = {"undone": "undone_rows", "wrong": "wrong_rows", "unticked": "unticked_rows"}
    verdicts.add(
        "steps_check", "Is every step done?", work.steps_verdict, names="step_names", **_any(uses)
    )
    page.gap()


def _any(uses: dict[str, str]) -> dict[str, Any]:
    return dict(uses)


def _rows_of(words: tuple[str, ...]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        return each(work.row_if(i + 1, *words), "step_states")(i)

    return make


def _setting(page: Page, verdicts: Verdicts) -> None:
    page.section("Setting")
    page.input("planned", "Ratio planned", "ratio", 100, "1:N", usual=(20, 500))
    page.input("ratio", "Ratio set", "ratio", 110, "1:N", usual=(20, 550))
    page.input(
        "percent_scale",
        "Percent scale reads",
        SCALE,
        0.91,
        "%",
        usual=(0.2, 5),
        optional=True,
    )
    page.result(
        "scale_apart",
        "Scales differ by",
        work.scale_off,
        unit="%",
        may_be_words=True,
        percent="percent_scale",
    )
    verdicts.add(
        "scales_check",
        "Do both scales agree?",
        work.scales_verdict,
        percent="percent_scale",
        off="scale_apart",
    )
    verdicts.add("lean_check", "Does it start lean?", work.lean_verdict, minor=True)
    page.gap()


def _flow(page: Page, verdicts: Verdicts) -> None:
    page.section("First readings")
    for name, label, litres, gallons in (
        ("flow", "Water flow", 120, 32),
        ("flow_low", "... nameplate, lowest", 10, 3),
        ("flow_high", "... nameplate, highest", 200, 50),
    ):
        page.input(
            name,
            label,
            "flow",
            litres,
            "L/min",
            usual=(2, 1000),
            optional=True,
            us=(gallons, "gpm"),
        )
    verdicts.add(
        "flow_check",
        "Is the flow in its range?",
        work.flow_verdict(shown_unit("L/min", page.book.edition)),
        low="flow_low",
        high="flow_high",
    )


def _drawdown(page: Page, verdicts: Verdicts) -> None:
    page.input(
        "water",
        "Drawdown: water passed",
        "water",
        50,
        "L",
        usual=(5, 500),
        optional=True,
        us=(13, "gal"),
    )
    page.input(
        "stock",
        "... stock drawn",
        "stock",
        450,
        "mL",
        usual=(0.01, 10),
        optional=True,
        us=(443, "mL"),
    )
    maybe: dict[str, Any] = {"may_be_words": True}
    page.result("found", "Ratio found", work.found_ratio, unit="parts", **maybe)
    page.result("dose_off", "Dose is off by", work.drawn_off, unit="%", **maybe)
    verdicts.add("dose_check", "Does it draw its dose?", work.drawn_verdict, off="dose_off")


def _feed(page: Page, verdicts: Verdicts) -> None:
    maybe: dict[str, Any] = {"may_be_words": True}
    for name, label, quantity, default in (
        ("ec_water", "EC of the water", "ec_water", 0.4),
        ("ec_feed", "EC of the feed", "ec_measured", 2.02),
        ("ec_target", "... target at this setting", "ec_target", 2.04),
    ):
        page.input(name, label, quantity, default, "mS/cm", usual=(0.2, 4), optional=True)
    ecs = {"feed": "ec_feed", "water": "ec_water", "target": "ec_target"}
    page.result("ec_miss", "EC misses by", work.ec_off, unit="%", **maybe, **_any(ecs))
    page.result(
        "new_setting",
        "Setting for it",
        work.new_ratio,
        unit="parts",
        **maybe,
        off="ec_miss",
        **_any(ecs),
    )
    verdicts.add(
        "ec_check",
        "Is the feed as strong?",
        work.ec_verdict,
        off="ec_miss",
        setting="new_setting",
        **_any(ecs),
    )
    page.input("ph_feed", "pH of the feed", "ph_now", 6.0, usual=(5, 7.5), optional=True)
    page.input("ph_wanted", "... target", "ph_target", 6.0, usual=(5, 7), optional=True)
    verdicts.add(
        "ph_check", "Is the pH right?", work.ph_verdict, read="ph_feed", target="ph_wanted"
    )
    page.gap()
