"""Results in words: the thresholds of every verdict, the mixing card, pounds with ounces.

The thresholds themselves are common practice without a source, as the Sources sheets say, except
where a line names one.
"""

from __future__ import annotations

import itertools
import re
from typing import Any

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.book import Book
from tanksheet.sheets.cases import random_settings
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import TEMPLATES, book
from tanksheet.templates.stock_tank.working import pounds_ounces
from tanksheet.xlsx.address import Value

Settings = dict[str, Value | list[Value]]
OPENINGS = ("pass", "caution", "stop", "not")


def at_flow(litres_a_minute: float, **more: Value) -> Settings:
    """Zone flow's entries with a bucket that gives this flow in every catch."""
    return {
        "bucket": litres_a_minute,
        "bucket_unit": "L",
        "bucket_time": [60.0, 60.0, 60.0],
        **more,
    }


def by_strokes(litres_a_minute: float) -> dict[str, Any]:
    """One stroke a minute that takes this much water."""
    return {"stroke_count": 1.0, "stroke_water": litres_a_minute, "stroke_time": 60.0} | {
        "stroke_water_unit": "L",
        "stroke_time_unit": "s",
    }


def read_at(ec: Value) -> Settings:
    """A feed planned at 2.0 mS/cm over plain water that reads 0: 1 % is 0.02."""
    return {"ec_water": 0.0, "ec_target": 2.0, "ec_measured": ec}


def drawn(water: Value, stock: float) -> Settings:
    """A drawdown test at a setting of 1:100."""
    return {"ratio": 100.0, "test_water": water, "test_stock": stock, "test_stock_unit": "L"}


def two_products(target: float, brought: float) -> Settings:
    """Product 1 is 10 % potassium and brings nitrogen in the share that sets what arrives."""
    return {
        "nutrient_1": "K",
        "target_1": 100.0,
        "printed_pk_1": "element",
        "label_k_1": 10.0,
        "label_n_1": brought / 10,
        "nutrient_2": "N",
        "target_2": target,
        "label_n_2": 15.5,
    }


WIDE: dict[str, Value] = {"pipe_inside": 100.0, "pipe_inside_unit": "mm", "neck_inside": 100.0}
# workbook, cell, entries, how the verdict must open
VERDICTS: list[tuple[str, str, Settings, str]] = [
    ("zone-flow", "bucket_check", {"bucket_time": [25.0, None, None]}, "caution: one catch"),
    # Coefficient of variation of 100 - d, 100, 100 + d is d %.
    ("zone-flow", "bucket_check", {"bucket_time": [95.1, 100.0, 104.9]}, "pass"),
    ("zone-flow", "bucket_check", {"bucket_time": [94.9, 100.0, 105.1]}, "caution"),
    ("zone-flow", "bucket_check", {"bucket_time": [90.1, 100.0, 109.9]}, "caution"),
    ("zone-flow", "bucket_check", {"bucket_time": [89.9, 100.0, 110.1]}, "stop"),
    ("zone-flow", "strokes_check", {"stroke_count": None}, "not measured"),
    ("zone-flow", "emitters_check", {"emitter_count": None}, "not measured"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(109.9)), "pass"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(110.1)), "caution"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(119.9)), "caution"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(120.1)), "stop"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(90.1)), "pass"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(89.9)), "caution"),
    ("zone-flow", "strokes_check", at_flow(100, **by_strokes(79.9)), "stop"),
    # A nameplate of 10 L/min to 40 gpm, which is 151.4 L/min.
    ("zone-flow", "injector_check", at_flow(9.9), "stop: too little"),
    ("zone-flow", "injector_check", at_flow(10.9), "caution"),
    ("zone-flow", "injector_check", at_flow(11.1), "pass"),
    ("zone-flow", "injector_check", at_flow(136.2), "pass"),
    ("zone-flow", "injector_check", at_flow(136.4), "caution"),
    ("zone-flow", "injector_check", at_flow(151.3), "caution"),
    ("zone-flow", "injector_check", at_flow(151.5), "stop: too much"),
    ("zone-flow", "injector_check", {"injector_low": 200.0}, "stop: the lowest"),
    # 1.5 m/s as in ASAE S376 (from memory). 100 mm bore: 7.854 L to the metre.
    *[
        ("zone-flow", "speed_check", at_flow(flow, **wide), opening)
        for wide in (WIDE,)
        for flow, opening in (
            (706.0, "pass"),
            (708.0, "caution"),
            (1177.0, "caution"),
            (1179.0, "stop"),
        )
    ],
    ("zone-flow", "speed_check", {"neck_inside": 15.0}, "caution: fast in the necked-down"),
    ("stock-tank", "meter_check", read_at(None), "not measured"),
    ("stock-tank", "meter_check", read_at(2.09), "pass"),
    ("stock-tank", "meter_check", read_at(1.91), "pass"),
    ("stock-tank", "meter_check", read_at(2.11), "caution"),
    ("stock-tank", "meter_check", read_at(1.89), "caution"),
    ("stock-tank", "meter_check", read_at(2.19), "caution"),
    ("stock-tank", "meter_check", read_at(2.21), "stop: feeds 10.5 % too much"),
    ("stock-tank", "meter_check", read_at(1.79), "stop: feeds 10.5 % too little"),
    ("stock-tank", "drawdown_check", drawn(None, 1.0), "not tested"),
    ("stock-tank", "drawdown_check", drawn(100.0, 1.049), "pass"),
    ("stock-tank", "drawdown_check", drawn(100.0, 1.051), "caution"),
    ("stock-tank", "drawdown_check", drawn(100.0, 1.099), "caution"),
    ("stock-tank", "drawdown_check", drawn(100.0, 1.101), "stop: feeds 10.1 % too much"),
    ("stock-tank", "drawdown_check", drawn(100.0, 0.951), "pass"),
    ("stock-tank", "drawdown_check", drawn(100.0, 0.949), "caution"),
    ("stock-tank", "drawdown_check", drawn(100.0, 0.899), "stop: feeds 10.1 % too little"),
    ("stock-tank", "target_2_check", two_products(100, 0), "pass: 100 ppm N arrives, 0 %"),
    ("stock-tank", "target_2_check", two_products(100, 109), "pass: 109 ppm N"),
    ("stock-tank", "target_2_check", two_products(100, 111), "caution: 111 ppm N"),
    ("stock-tank", "target_2_check", two_products(100, 124), "caution"),
    ("stock-tank", "target_2_check", two_products(100, 126), "stop: 126 ppm N"),
    ("stock-tank", "target_2_check", two_products(0, 50), "not used; 50 ppm N arrives"),
    ("stock-tank", "target_1_check", two_products(100, 50), "pass: 100 ppm K arrives, 0 %"),
    ("stock-tank", "target_1_check", {"tank": "much"}, "stop: mend"),
]


@pytest.mark.parametrize(("name", "key", "settings", "opening"), VERDICTS)
def test_verdict(name: str, key: str, settings: Settings, opening: str) -> None:
    said = evaluate(book(name), settings)[key]
    assert isinstance(said, str)
    assert said.startswith(opening), said


def checks(plan: Book) -> list[Formula]:
    return [each for each in plan.formulas.values() if each.key.endswith("_check")]


def test_every_check_is_in_the_table() -> None:
    """Of the workbooks above; the others have tables of their own beside this file."""
    names = {name for name, _, _, _ in VERDICTS}
    every = {(name, each.key) for name in names for each in checks(book(name))}
    assert every == {(name, key) for name, key, _, _ in VERDICTS}


@pytest.mark.parametrize("name", TEMPLATES)
def test_verdicts_open_with_one_of_four_words(name: str) -> None:
    """An entry that is not ok may leave an error in a verdict; valid entries never do."""
    plan = book(name)
    for settings in itertools.islice(random_settings(plan, 7), 200):
        values = evaluate(plan, settings)
        for check in checks(plan):
            said = values[check.key]
            assert isinstance(said, str), (check.key, said, settings)
            if not isinstance(said, SheetError):
                assert re.match(rf"({'|'.join(OPENINGS)})\b", said), said


def test_pounds_carry() -> None:
    """15.96 oz rounds to 16.0, which is another pound: "16 oz" never appears."""
    ounce, pound = 28.349523125, 453.59237  # exact, NIST SP 811
    assert pounds_ounces(0.0) == "0 lb 0 oz"
    assert pounds_ounces(15.94 * ounce) == "0 lb 15.9 oz"
    assert pounds_ounces(15.96 * ounce) == "1 lb 0 oz"
    assert pounds_ounces(pound) == "1 lb 0 oz"
    assert pounds_ounces(5 * pound + 15.949 * ounce) == "5 lb 15.9 oz"
    assert pounds_ounces(5 * pound + 15.951 * ounce) == "6 lb 0 oz"
    for tenth in range(0, 3200):
        for near in (-0.0499, 0.0, 0.0499):
            text = pounds_ounces(max(0.0, (tenth / 10 + near) * ounce))
            found = re.fullmatch(r"(\d+) lb (\d+(?:\.\d)?) oz", text)
            assert found, text
            assert float(found[2]) < 16, text
            assert int(found[1]) * 16 + float(found[2]) == pytest.approx(tenth / 10, abs=0.06)


CARD: list[tuple[Settings, str, str]] = [
    ({}, "card_tank", "Tank of 200 L (52.8 gal): fill it half with water."),
    ({"tank": 50.0, "tank_unit": "gal"}, "card_tank", "Tank of 189.3 L (50 gal): fill it half"),
    ({}, "card_1", "Product 1: weigh "),
    ({"target_1": 0.0}, "card_1", "Product 1: none."),
    ({"form_1": "liquid"}, "card_1", "Product 1: pour "),
    ({"target_2": 0.0}, "card_2", "Product 2: none."),
    ({}, "card_fill", "Make up to 200 L and stir until all is dissolved."),
    ({}, "card_setting", "Set the injector to 1 : 100 (1.000 %)."),
    ({"ratio": 0.8, "ratio_unit": "%"}, "card_setting", "Set the injector to 1 : 125 (0.800 %)."),
    ({"ratio": 128.0}, "card_setting", "Set the injector to 1 : 128 (0.781 %)."),
    # 12 gpm is 45.425 L/min, a hundredth of it 27.25 L or 7.2 gal an hour, 200 L last 7.3 h.
    ({}, "card_draw", "It draws 27.3 L (7.2 gal) of stock an hour."),
    ({}, "card_life", "The tank lasts 7.3 hours of running."),
    ({"ec_measured": None}, "card_meter", "Meter: read the feed at the emitter"),
    (read_at(2.18), "card_meter", "Meter: caution: 9 % off"),
]


@pytest.mark.parametrize(("settings", "key", "opening"), CARD)
def test_mixing_card(settings: Settings, key: str, opening: str) -> None:
    said = evaluate(book("stock-tank"), settings)[key]
    assert isinstance(said, str)
    assert said.startswith(opening), said


def test_the_card_says_what_the_sheet_says() -> None:
    """150 mg/L N from 15.5 %, 1:100, 200 L: 19 354.8 g, computed by hand (150*100*200/155)."""
    values = evaluate(
        book("stock-tank"),
        {"nutrient_1": "N", "target_1": 150.0, "label_n_1": 15.5, "tank": 200.0, "ratio": 100.0},
    )
    assert values["card_1"] == "Product 1: weigh 19355 g (42 lb 10.7 oz), add slowly, stirring."
