"""The commissioning workbook: a step not ticked and a reading not taken are never a pass."""

from __future__ import annotations

from typing import Any

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.templates.commissioning.telling import LIST
from tanksheet.xlsx.address import Value

ALL = ["done"] * len(LIST)


def results(edition: str = "metric", **settings: Any) -> dict[str, Value]:
    return evaluate(book("commissioning", edition), {"steps": ALL} | settings)


def kind(value: Value) -> str:
    return str(value).partition(":")[0]


def test_all_done_and_read_is_a_pass() -> None:
    for edition in ("metric", "us"):
        assert kind(results(edition)["headline"]) == "pass"
    as_sent = evaluate(book("commissioning"), {})
    assert str(as_sent["headline"]).startswith("not checked: 8 steps not ticked")


@pytest.mark.parametrize("place", range(len(LIST)))
def test_each_step_counts(place: int) -> None:
    for word, wanted in ((None, "not checked"), ("not done", "stop"), ("maybe", "stop")):
        found = results(steps=[*ALL[:place], word, *ALL[place + 1 :]])
        assert kind(found["steps_check"]) == kind(found["headline"]) == wanted
        assert LIST[place][0] in str(found["steps_check"])
    away = results(steps=[*ALL[:place], "does not apply", *ALL[place + 1 :]])
    assert kind(away["steps_check"]) == ("stop" if LIST[place][1] else "pass")


def test_backflow_prevention_always_applies() -> None:
    assert [must for step, must, _ in LIST if step == "Backflow prevention"] == [True]


@pytest.mark.parametrize(
    ("blank", "check"),
    [
        ("flow", "flow_check"),
        ("flow_low", "flow_check"),
        ("flow_high", "flow_check"),
        ("percent_scale", "scales_check"),
        ("water", "dose_check"),
        ("stock", "dose_check"),
        ("ec_water", "ec_check"),
        ("ec_feed", "ec_check"),
        ("ec_target", "ec_check"),
        ("ph_feed", "ph_check"),
        ("ph_wanted", "ph_check"),
    ],
)
def test_a_reading_not_taken_is_not_checked(blank: str, check: str) -> None:
    without: dict[str, Any] = {blank: None}
    found = results(**without)
    assert kind(found[check]) == kind(found["headline"]) == "not checked"
    odd: dict[str, Any] = {blank: "much"}
    wrong = results(**odd)
    assert kind(wrong[check]) == "stop"
    odd[blank] = SheetError.NA
    assert kind(results(**odd)["headline"]) != "pass"


@pytest.mark.parametrize(
    ("settings", "check", "wanted", "words"),
    [
        ({"flow": 9.0}, "flow_check", "stop", "below the 10 L/min"),
        ({"flow": 210.0}, "flow_check", "stop", "above the 200 L/min"),
        ({"flow_low": 200.0}, "flow_check", "stop", "mend the two"),
        ({"percent_scale": 1.0}, "scales_check", "stop", "1 : 110 is 0.91 %"),
        ({"ratio": 100.0, "percent_scale": 1.0}, "lean_check", "caution", "at the planned"),
        ({"ratio": 90.0}, "lean_check", "caution", "richer"),
        ({"ratio": 150.0}, "lean_check", "caution", "50 % leaner"),
        # 50 L of water and 400 mL of stock are 1 in 125: 12 % too little at 1 : 110.
        ({"stock": 400.0}, "dose_check", "stop", "12 % too little, true 1 : 125"),
        ({"stock": 480.0}, "dose_check", "caution", "5.6 % too much"),
        ({"stock": 455.0}, "dose_check", "pass", "true 1 : 110"),
        # 1.64 mS/cm are wanted above water, 1.44 found: 12.2 % less.
        ({"ec_feed": 1.84}, "ec_check", "caution", "12.2 % less"),
        ({"ec_feed": 2.5}, "ec_check", "stop", "28 % more"),
        ({"ec_feed": 0.4}, "ec_check", "stop", "nothing is injected"),
        ({"ec_target": 0.4}, "ec_check", "stop", "mend the two"),
        ({"ph_feed": 6.5}, "ph_check", "caution", "0.5 above"),
        ({"ph_feed": 5.0}, "ph_check", "stop", "1 below"),
    ],
)
def test_readings_are_judged(settings: Any, check: str, wanted: str, words: str) -> None:
    found = results(**settings)
    assert kind(found[check]) == wanted and words in str(found[check]), found[check]
    assert kind(found["headline"]) in (wanted, "stop")


def test_figures_by_hand() -> None:
    found = results(ratio=100.0, water=50.0, stock=400.0, ec_water=0.5, ec_feed=1.5, ec_target=2.5)
    assert found["found"] == pytest.approx(125, rel=1e-12)
    assert found["dose_off"] == pytest.approx(-20, rel=1e-12)
    assert found["ec_miss"] == pytest.approx(-50, rel=1e-12)
    assert found["new_setting"] == pytest.approx(50, rel=1e-12)
