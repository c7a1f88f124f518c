"""The proving workbook: against the NIST handbook's charts, drawn readings, and where its verdicts
turn."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

ROWS = 24
GALLON, OUNCE = 3.785411784, 0.0295735295625  # L: exact
# Ten readings of NIST/SEMATECH 6.3.2.2: mean 50.81, mean range 1.8778, limits 45.8159 and 55.8041.
NIST = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
EVEN = (100.0, 101.0, 99.5, 100.5, 99.0, 100.0, 101.5, 99.5)  # parts found, close together


def results(edition: str = "metric", **settings: Any) -> dict[str, Value]:
    return evaluate(book("proving", edition), settings)


def number(value: Value) -> float:
    assert isinstance(value, float), value
    return value


def kind(value: Value) -> str:
    return str(value).partition(":")[0]


def column(values: Any) -> list[Value]:
    return [*values, *[None] * (ROWS - len(values))]


def drawn(found: Any, **settings: Any) -> dict[str, Value]:
    """Results of tests that found these ratios, of 50 L of water each, and no EC."""
    stocks = [50000 / ratio if ratio else None for ratio in found]
    waters = [50.0 if ratio else None for ratio in found]
    of_page = {"stocks": column(stocks), "waters": column(waters), "ecs": column(())}
    return results(**(of_page | settings))


def off(*percents: float) -> list[float]:
    """Ratios that are off by so many percent at a setting of 1:100."""
    return [100 / (1 + percent / 100) for percent in percents]


def test_example() -> None:
    found = results()
    assert kind(found["steady_check"]) == "caution" and "drifting" in str(found["steady_check"])
    assert kind(found["dose_check"]) == kind(found["ways_check"]) == "pass"
    assert str(found["headline"]).startswith("caution: drifting")
    assert not [key for key, said in found.items() if isinstance(said, SheetError)]


def test_chart_of_the_handbook() -> None:
    found = drawn(off(*NIST), baseline=10)
    assert number(found["centre"]) == pytest.approx(50.81, rel=1e-9)
    assert number(found["spread"]) == pytest.approx(1.8778, rel=2e-5)
    assert number(found["low_limit"]) == pytest.approx(45.8159, rel=2e-6)
    assert number(found["high_limit"]) == pytest.approx(55.8041, rel=2e-6)
    assert number(found["step_limit"]) == pytest.approx(3.267 * 16.9 / 9, rel=1e-9)


def test_gaps_between_readings_do_not_count() -> None:
    spaced: list[float | None] = []
    for ratio in off(*NIST):
        spaced += [ratio, None]
    close, wide = drawn(off(*NIST), baseline=10), drawn(spaced, baseline=10)
    for key in ("centre", "spread", "latest_off", "average_now", "average_far"):
        assert wide[key] == close[key], key


def test_average_against_numpy() -> None:
    """The average as a weighted sum: weight 0.2, the first mean keeps what is left."""
    percents = np.array([0.5, -0.5, 0.2, -0.1, 0.4, -0.3, 0.1, -0.2, -0.6, -1.1, -0.9])
    found = drawn(off(*percents))
    centre = percents[:8].mean()
    weights = 0.2 * 0.8 ** np.arange(len(percents))[::-1]
    wanted = weights @ percents + 0.8 ** len(percents) * centre
    assert number(found["average_now"]) == pytest.approx(wanted, rel=1e-9)
    sigma = np.abs(np.diff(percents[:8])).mean() / 1.128
    reach = 3 * sigma * math.sqrt(0.2 / 1.8 * (1 - 0.8 ** (2 * len(percents))))
    assert number(found["average_far"]) == pytest.approx(reach, rel=1e-9)


def test_ratio_and_correction() -> None:
    """250 mL in 30 L/min for 75 s is 1 in 150 of the metered water; at a setting of 1:120 the dose
    is a fifth too small, and 1:96 doses 1:120."""
    found = results(
        ratio=120, stocks=column([250.0]), waters=column([37.5]), ecs=column(()), act=25
    )
    assert number(found["latest_ratio"]) == pytest.approx(150, rel=1e-12)
    assert number(found["latest_off"]) == pytest.approx(-20, rel=1e-12)
    assert number(found["new_ratio"]) == pytest.approx(96, rel=1e-12)
    assert number(found["new_percent"]) == pytest.approx(100 / 96, rel=1e-12)
    assert "too little" in str(found["dose_check"]) and "1 : 96" in str(found["dose_check"])


def test_us_units_say_the_same() -> None:
    litres, ounces = 13 * GALLON, 13 * GALLON / 110 / OUNCE
    us = results("us", stocks=column([ounces]), waters=column([13.0]), ecs=column(()))
    assert number(us["latest_ratio"]) == pytest.approx(110, rel=1e-12)
    metric = results(
        stocks=column([litres / 110 * 1000]),
        waters=column([litres]),
        ecs=column(()),
        water_error=0.07 * GALLON,
    )
    assert us["latest_doubt"] == pytest.approx(metric["latest_doubt"], rel=1e-9)
    assert us["dose_check"] == metric["dose_check"]


def test_reading_of_the_meter() -> None:
    """An injector by its EC (extension video, theelectronfiles.com): water 0.25, feed 1.74, the
    label adds 1.52 mS/cm: 1.49 is 2.0 % under."""
    found = results(
        way="EC readings",
        ec_water=0.25,
        ec_target=1.77,
        ecs=column([1.74]),
        stocks=column(()),
        waters=column(()),
    )
    assert number(found["latest_off"]) == pytest.approx((1.49 / 1.52 - 1) * 100, rel=1e-9)
    assert number(found["new_ratio"]) == pytest.approx(98.0, rel=1e-3)


# How sure a test is decides as much as what it shows. Stock of 500 mL: 1 mL is 0.2 %.
SURENESS = [
    # off %, stock misread mL, kind, words
    (0.0, 2.5, "pass", "within"),
    (4.0, 2.5, "pass", "within 4.8 %"),
    (4.5, 2.5, "caution", "maybe beyond"),
    (-4.5, 2.5, "caution", "too little"),
    (7.0, 2.5, "caution", "doses 7 % too much"),
    (9.9, 2.5, "caution", "doses 9.9 %"),
    (11.5, 2.5, "stop", "act now"),
    (-11.5, 2.5, "stop", "too little"),
    (0.0, 25.0, "not checked", "cannot be told"),
    (4.0, 25.0, "not checked", "cannot be told"),
    (25.0, 25.0, "stop", "act now"),
]


@pytest.mark.parametrize("row", SURENESS, ids=str)
def test_dose_verdict(row: tuple[Any, ...]) -> None:
    percent, misread, wanted, words = row
    found = drawn(off(percent), stock_error=misread)
    said = str(found["dose_check"])
    assert kind(said) == wanted and words in said, said


def test_a_pass_holds_for_every_reading_within_its_error() -> None:
    """Whatever the true volumes are, inside the errors given: the dose is within the limit."""
    for percent in np.arange(-6, 6.1, 0.25):
        found = drawn(off(float(percent)), water_error=0.25, stock_error=2.5)
        if kind(found["dose_check"]) != "pass":
            continue
        worst = max(
            abs((500 * (1 + percent / 100) + stock) / (50 + water) * 10 - 100)
            for stock in (-2.5, 2.5)
            for water in (-0.25, 0.25)
        )
        # 95 of 100 lie within the expanded uncertainty; the corners of both errors may lie a
        # little beyond.
        assert worst <= 5.3, (percent, worst)


def test_no_injection_is_seen() -> None:
    found = results(way="EC readings", ecs=column([0.4]), stocks=column(()), waters=column(()))
    assert str(found["dose_check"]).startswith("stop: act now: nothing is injected")
    assert found["new_ratio"] == "none"


def test_steady() -> None:
    found = drawn(EVEN)
    assert kind(found["steady_check"]) == kind(found["headline"]) == "pass"


def test_too_few_readings_are_no_pass() -> None:
    found = drawn(EVEN[:7])
    assert str(found["steady_check"]).startswith("not checked: 7 readings so far")
    assert drawn(())["steady_check"] == drawn(())["dose_check"]
    assert kind(drawn(())["dose_check"]) == "not given"


def test_readings_that_never_differ_tell_nothing() -> None:
    said = str(drawn([100.0] * 10)["steady_check"])
    assert said.startswith("not checked: cannot be told")


def test_scatter_wider_than_what_matters_tells_nothing() -> None:
    found = drawn(off(8, -8, 7, -7, 8, -9, 8, -8, 1))
    assert str(found["steady_check"]).startswith("not checked: cannot be told, readings scatter")


def test_a_leap_of_the_newest_is_to_be_acted_on() -> None:
    found = drawn([*EVEN, 94.0])
    assert str(found["steady_check"]).startswith("stop: act now: the newest is 6.4 % off")
    assert found["row_notes[8]"] == "outside the limits"
    later = drawn([*EVEN, 94.0, 100.0])
    assert str(later["steady_check"]).startswith("caution")


def test_slow_drift_is_seen_before_a_single_reading_tells() -> None:
    percents = [0.3, -0.3, 0.4, -0.4, 0.3, -0.3, 0.2, -0.2, -0.6, -0.8, -0.9, -1.0, -1.1]
    found = drawn(off(*percents))
    assert number(found["low_limit"]) < -1.1
    assert "drifting" in str(found["steady_check"])


@pytest.mark.parametrize(
    ("stock", "water", "note"),
    [
        (500.0, None, "belong together"),
        (None, 50.0, "belong together"),
        ("500 ml", 50.0, "not a number"),
        (-1.0, 50.0, "not a number"),
        (SheetError.NA, 50.0, "cannot be used"),
    ],
)
def test_a_reading_that_is_left_out_is_called_out(stock: Any, water: Any, note: str) -> None:
    stocks, waters = [500.0] * 9, [50.0] * 9
    found = results(
        stocks=column([*stocks, stock]), waters=column([*waters, water]), ecs=column(())
    )
    assert note in str(found["row_notes[9]"])
    assert str(found["dose_check"]).startswith("stop: mend reading 10, which cannot be used")
    assert found["steady_check"] == found["dose_check"]


def test_two_ways_that_differ() -> None:
    """EC says 1:100, the cylinder 1:112."""
    near = results(stocks=column([500.0]), waters=column([50.0]), ecs=column([2.2]))
    assert kind(near["ways_check"]) == "pass"
    far = results(stocks=column([446.4]), waters=column([50.0]), ecs=column([2.2]))
    assert str(far["ways_check"]).startswith("caution: EC and drawdown differ by 10.7 %")
    none = results(stocks=column([446.4]), waters=column([50.0]), ecs=column(()))
    assert kind(none["ways_check"]) == "not used"


# The catch test. 16 readings in L/h, worked out with NumPy: lowest four 1.70 1.76 1.81 1.84, mean
# 1.93875, so 91.6827853 %.
SIXTEEN = (
    *(1.95, 2.04, 1.88, 2.1, 1.76, 2.01, 1.99, 1.84),
    *(2.08, 1.92, 1.7, 2.05, 1.97, 1.9, 2.02, 1.81),
)


def caught(catches: Any, ecs: Any = (), **settings: Any) -> dict[str, Value]:
    return results(catches=column(catches), catch_ecs=column(ecs), **settings)


def test_evenness_of_water() -> None:
    found = caught(SIXTEEN)
    assert number(found["water_even"]) == pytest.approx(91.6827853, rel=1e-8)
    assert kind(found["water_check"]) == "pass"
    assert str(found["feed_check"]).startswith("not checked: EC at 0 emitters")


@pytest.mark.parametrize("emitters", [16, 17, 19, 20, 21, 24])
def test_evenness_against_numpy(emitters: int) -> None:
    """Water and feed, the quarter rounded up to whole emitters."""
    rng = np.random.default_rng(emitters)
    water, ec = rng.uniform(80, 110, emitters).round(2), rng.uniform(1.9, 2.3, emitters).round(3)
    found = caught(water.tolist(), ec.tolist(), ec_water=0.4, planned_dose=40)

    def low_quarter(amounts: Any) -> float:
        quarter = math.ceil(emitters / 4)
        return float(100 * np.sort(amounts)[:quarter].mean() / amounts.mean())

    assert number(found["water_even"]) == pytest.approx(low_quarter(water), rel=1e-9)
    fed = low_quarter(water * (ec - 0.4))
    assert number(found["fed_even"]) == pytest.approx(fed, rel=1e-9)
    assert number(found["poorest_dose"]) == pytest.approx(40 * fed / 100, rel=1e-9)


def test_a_blocked_emitter_counts() -> None:
    found = caught([100.0] * 19 + [0.0], [2.2] * 19)
    assert number(found["water_even"]) == pytest.approx(100 * 80 / 95, rel=1e-9)
    assert found["emitters_fed"] == 20 and kind(found["feed_check"]) == "pass"
    blocked = caught([100.0] * 15 + [0.0] * 5, [2.2] * 15)
    assert kind(blocked["water_check"]) == kind(blocked["feed_check"]) == "stop"


def test_evenness_classes() -> None:
    for low, wanted in ((90.0, "pass"), (76.0, "caution"), (60.0, "stop")):
        found = caught([low] * 5 + [105.0] * 15, [2.2] * 20)
        assert kind(found["water_check"]) == wanted, found["water_check"]


def test_fifteen_emitters_are_too_few() -> None:
    found = caught(SIXTEEN[:15], [2.2] * 15)
    assert str(found["water_check"]).startswith("not checked: 15 emitters")
    assert kind(found["feed_check"]) == "not checked"
    none = caught((), ())
    assert kind(none["water_check"]) == kind(none["feed_check"]) == "not used"


def test_a_catch_that_is_no_number_is_called_out() -> None:
    found = caught([*SIXTEEN, "full"])
    assert str(found["water_check"]).startswith("stop: mend emitter 17")
    assert found["catch_notes[16]"] == "not a number: retype"
    assert kind(caught(SIXTEEN, [2.2] * 17)["feed_check"]) == "stop"


@pytest.mark.parametrize(
    ("days", "word"),
    [
        ([46000.0, 46007.0, None, 46007.0], "pass"),
        ([46000.0, 46007.0, None, 46001.0], "caution"),
        ([46000.0, 45999.0], "caution"),
        ([46000.0, "week 2"], "stop"),
        ([46000.0, 20.0], "stop"),
        ([True], "stop"),
        ([], "not used"),
    ],
)
def test_days_follow_each_other(days: list[Any], word: str) -> None:
    """Drift is read from the order of the rows, so that a day that goes back must be told."""
    plan = book("proving")
    found = evaluate(plan, {"dates": [*days, *[None] * 24][:24]})
    said = str(found["order_check"])
    assert said.startswith(word)
    if word in ("stop", "caution"):
        assert f"reading {len(days)}" in said
        assert found[f"row_notes[{len(days) - 1}]"] != ""
        assert not str(found["overall"]).startswith("pass")
