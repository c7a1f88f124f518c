"""The upkeep workbook: dates against Python, where its verdicts turn, what is no pass."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.units import serial_of
from tanksheet.xlsx.address import Value

ROWS = 14
TODAY = datetime.date(2026, 11, 27)


def ago(days: int) -> float:
    return serial_of(TODAY - datetime.timedelta(days))


def column(*values: Any) -> list[Value]:
    return [*values, *[None] * ROWS][:ROWS]


def results(edition: str = "metric", **settings: Any) -> dict[str, Value]:
    """One task alone, a screen that is done every 30 days; settings change it."""
    alone: dict[str, Any] = {
        "this_day": serial_of(TODAY),
        "week_hours": 14.0,
        "flow": 100.0,
        "tasks": column("Screen"),
        "last_dates": column(ago(10)),
        "every_days": column(30.0),
        "every_hours": column(),
        "every_volume": column(),
        "parts_kind": column("other part"),
        "if_late": column("caution"),
        "when_done": column("any time"),
        "season_begins": None,
        "season_ends": None,
    }
    return evaluate(book("upkeep", edition), alone | settings)


def kind(value: Value) -> str:
    return str(value).partition(":")[0]


def test_example() -> None:
    for edition in ("metric", "us"):
        found = evaluate(book("upkeep", edition), {})
        assert kind(found["headline"]) == "caution"
        assert kind(found["late_check"]) == kind(found["season_check"]) == "pass"
        assert not [key for key, said in found.items() if isinstance(said, SheetError)]


def test_next_date_by_the_calendar() -> None:
    """Leap years and turns of the year, against Python's calendar."""
    for last, every in (("2024-02-15", 30), ("2026-11-20", 60), ("2025-12-31", 365)):
        day = datetime.date.fromisoformat(last)
        found = results(last_dates=column(serial_of(day)), every_days=column(float(every)))
        due = day + datetime.timedelta(every)
        assert found["due_days[0]"] == serial_of(due)
        assert found["days_left[0]"] == (due - TODAY).days


@pytest.mark.parametrize(
    ("settings", "left"),
    [
        ({}, 20),
        # 10 days at 2 h a day are 20 h of 50: 30 h last 15 days.
        ({"every_hours": column(50.0)}, 15),
        # A meter that ran 44 h leaves 6: 3 days.
        ({"every_hours": column(50.0), "ran": column(44.0)}, 3),
        # 100 L/min in 2 h a day are 12 m3: 120 of 180 are gone, 60 last 5 days.
        ({"every_volume": column(180.0)}, 5),
        ({"every_volume": column(180.0), "passed": column(60.0)}, 10),
        ({"every_volume": column(1000.0), "every_hours": column(50.0)}, 15),
        ({"every_hours": column(50.0), "every_days": column()}, 15),
    ],
)
def test_whichever_comes_first(settings: Any, left: int) -> None:
    assert results(**settings)["days_left[0]"] == left


def test_us_units() -> None:
    """50 gpm in 2 h a day are 6000 gal: 60 of 90 thousand are gone."""
    found = results("us", flow=50.0, every_volume=column(90.0))
    assert found["days_left[0]"] == 5


@pytest.mark.parametrize("drawn", ["thick product", "flaky product", "organic product"])
def test_products_that_clog_halve_screen_and_valve(drawn: str) -> None:
    screen = column("screen or valve")
    assert results(drawn=drawn, parts_kind=screen)["days_left[0]"] == 5
    assert results(drawn=drawn)["days_left[0]"] == 20
    assert results(parts_kind=screen)["days_left[0]"] == 20


def test_overdue() -> None:
    late = results(last_dates=column(ago(42)))
    assert str(late["due_check"]).startswith("caution: Screen is overdue by 12 days")
    assert late["task_notes[0]"] == "overdue by 12 days"
    stop = results(last_dates=column(ago(42)), if_late=column("stop"))
    assert str(stop["headline"]) == "stop: Screen is overdue by 12 days"
    assert results(last_dates=column(ago(30)))["task_notes[0]"] == "due today"
    soon = results(last_dates=column(ago(25)))
    assert str(soon["due_check"]).startswith("caution: Screen is due in 5 days")
    assert kind(results()["due_check"]) == "pass"


@pytest.mark.parametrize(
    ("settings", "wanted"),
    [
        ({"last_dates": column()}, "not checked"),
        ({"every_days": column()}, "not checked"),
        ({"if_late": column()}, "not checked"),
        ({"every_hours": column(50.0), "week_hours": None}, "not checked"),
        ({"every_volume": column(50.0), "flow": None}, "not checked"),
        ({"last_dates": column(ago(-1))}, "stop"),
        ({"last_dates": column("27 Nov. 2026")}, "stop"),
        ({"last_dates": column(SheetError.NA)}, "stop"),
        ({"every_days": column("monthly")}, "stop"),
        ({"every_hours": column(-5.0)}, "stop"),
        ({"ran": column("much")}, "stop"),
        ({"this_day": None}, "stop"),
        ({"this_day": "27/11/2026"}, "stop"),
        ({"flow": "much", "every_volume": column(50.0)}, "stop"),
        ({"tasks": column(), "last_dates": column(), "every_days": column()}, "not given"),
    ],
)
def test_what_is_missing_or_wrong_is_no_pass(settings: Any, wanted: str) -> None:
    found = results(**settings)
    assert kind(found["late_check"]) == wanted, found["late_check"]
    assert kind(found["due_check"]) != "pass" and kind(found["headline"]) != "pass"


def test_off_season_work() -> None:
    season: dict[str, Any] = {"season_begins": ago(-10), "season_ends": ago(-200)}
    inside = results(when_done=column("off-season"), **season)
    assert str(inside["season_check"]).startswith("caution: Screen falls due in the season")
    assert kind(results(**season)["season_check"]) == "pass"
    before = results(when_done=column("off-season"), last_dates=column(ago(25)), **season)
    assert kind(before["season_check"]) == "pass"
    turned = results(season_begins=ago(-200), season_ends=ago(-10))
    assert kind(turned["season_check"]) == "stop"
    assert kind(results(season_begins=ago(-10))["season_check"]) == "not given"
    assert kind(results()["season_check"]) == "not used"
    over = results(season_begins=ago(200), season_ends=ago(10))
    assert kind(over["season_check"]) == "not checked"


def test_first_due_names_the_task() -> None:
    found = results(
        tasks=column("Seals", "Screen", "Valve"),
        last_dates=column(ago(10), ago(10), ago(10)),
        every_days=column(90.0, 20.0, 40.0),
        parts_kind=column(*["other part"] * 3),
        if_late=column(*["caution"] * 3),
        when_done=column(*["any time"] * 3),
    )
    assert found["first_due"] == found["tile_1"] == "Screen"
    assert [found[f"list_task_{i}"] for i in (1, 2, 3, 4)] == ["Screen", "Valve", "Seals", ""]
    assert found["list_due_1"] == "in 10 days"
    assert found["first_date"] == ago(-10)


def test_spares() -> None:
    def kits(*rows: Any) -> dict[str, Value]:
        names, hand, wanted = ([row[i] for row in rows] + [None] * 9 for i in range(3))
        return results(kits=names[:10], kits_on_hand=hand[:10], kits_wanted=wanted[:10])

    assert kind(kits(("Seal kit", 2.0, 1.0))["spares_check"]) == "pass"
    short = kits(("Seal kit", 1.0, 3.0), ("Screen", 0.0, 1.0))
    assert short["parts_to_order"] == 3 and kind(short["spares_check"]) == "caution"
    assert kind(kits(("Seal kit", None, 1.0))["spares_check"]) == "not given"
    assert kind(kits((None, None, None))["spares_check"]) == "not given"
    assert kind(kits(("Seal kit", "two", 1.0))["spares_check"]) == "stop"
