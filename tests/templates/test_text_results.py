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


# What nobody measured, and the necked-down piece of which too little arrives (by hand: 363 kPa of
# friction in 10 m of 12 mm at 45 L/min, Hazen-Williams).
NO_FLOW: Settings = {"bucket_time": [None] * 5, "emitter_count": None, "stroke_count": None}
NECK: Settings = {"neck_inside": 12.0, "neck_length": 10.0}


def at_pressure(kpa: float, **more: Value) -> Settings:
    """Zone flow's entries with this supply pressure and nothing lost; 1 bar is needed."""
    nothing = dict.fromkeys(("pipe_length", "neck_length", "injector_loss", "other_loss"), 0.0)
    return {**nothing, "rise": 0.0, "supply_pressure": kpa, "supply_pressure_unit": "kPa", **more}


def alone(times: list[Value]) -> Settings:
    return {"bucket_time": times, "emitter_count": None}


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
    ("zone-flow", "injector_check", at_flow(134.9), "pass"),
    ("zone-flow", "injector_check", at_flow(135.1), "caution"),
    ("zone-flow", "injector_check", at_flow(149.9), "caution"),
    ("zone-flow", "injector_check", at_flow(150.1), "stop: too much"),
    ("zone-flow", "injector_check", {"injector_low": None}, "not given: type the lowest"),
    ("zone-flow", "injector_check", {"supply_pressure": None}, "not checked: its flow fits"),
    ("zone-flow", "injector_check", {"injector_loss": None}, "not checked: its flow fits"),
    ("zone-flow", "injector_check", {"other_loss": None}, "not checked: its flow fits"),
    ("zone-flow", "injector_check", {"pressure_needed": None}, "not checked: its flow fits"),
    ("zone-flow", "injector_check", NECK, "stop: nothing arrives"),
    ("zone-flow", "injector_check", {"bucket_time": [25.0, "25"]}, "not checked: catch 2"),
    ("zone-flow", "injector_check", at_pressure(99.0), "caution: it leaves less"),
    ("zone-flow", "injector_check", NO_FLOW, "not checked: no flow"),
    ("zone-flow", "pressure_check", NO_FLOW, "not checked: no flow"),
    ("zone-flow", "pressure_check", {"supply_pressure": None}, "not given: type the pressure"),
    ("zone-flow", "pressure_check", NECK, "stop: nothing arrives, 241 kPa short; the necked"),
    ("zone-flow", "pressure_check", at_pressure(0.0), "stop: nothing arrives, 0 kPa short"),
    ("zone-flow", "pressure_check", at_pressure(99.9), "stop: 99.9 kPa left of 100 needed"),
    ("zone-flow", "pressure_check", at_pressure(100.1), "caution: 100.1 kPa left, barely"),
    ("zone-flow", "pressure_check", at_pressure(109.9), "caution"),
    ("zone-flow", "pressure_check", at_pressure(110.1), "pass: 110 kPa left, 100 needed"),
    ("zone-flow", "pressure_check", at_pressure(250.0, rise=10.0), "pass: 152 kPa left"),
    ("zone-flow", "pressure_check", at_pressure(90.0, rise=10.0), "stop: nothing arrives, 8 kPa"),
    ("zone-flow", "pressure_check", at_pressure(150.0, injector_loss=None), "not checked: type"),
    ("zone-flow", "pressure_check", at_pressure(150.0, other_loss=None), "not checked: type"),
    ("zone-flow", "pressure_check", {"pressure_needed": None}, "not checked: 190 kPa are left"),
    ("zone-flow", "pressure_check", {"bucket_time": [25.0, "25"]}, "not checked: catch 2"),
    ("zone-flow", "pressure_check", {"rise": "much"}, "stop: an entry"),
    ("zone-flow", "pressure_check", {"pipe_inside": None}, "stop: an entry of flow or pipe"),
    ("zone-flow", "pressure_check", at_pressure(299.9), "pass: 300 kPa left"),
    ("zone-flow", "pressure_check", at_pressure(300.1), "caution: 300 kPa left, 100 needed"),
    (
        "zone-flow",
        "pressure_check",
        {"pressure_needed": None, "injector_loss": None},
        "not checked: type what injector",
    ),
    ("zone-flow", "flow_check", {"emitter_count": 0, "method": "emitters"}, "stop: the flow"),
    ("zone-flow", "emitters_check", {"emitter_count": 0, "method": "emitters"}, "stop: the flow"),
    ("zone-flow", "emitters_check", {"bucket": None}, "not checked: no flow by the way chosen"),
    ("zone-flow", "rinse_check", {}, "pass: 14 min"),
    ("zone-flow", "rinse_check", NO_FLOW, "not checked: no flow"),
    ("zone-flow", "rinse_check", {"lateral_length": None}, "stop: an entry"),
    ("zone-flow", "rinse_check", {"rated_flow": None}, "stop: an entry"),
    ("zone-flow", "rinse_check", {"bucket_time": [25.0, "25"]}, "not checked: catch 2"),
    ("zone-flow", "rinse_check", {"lateral_emitters": 5}, "caution: 252 min"),
    ("zone-flow", "flow_check", NO_FLOW, "not given: no flow was measured; fill a bucket"),
    ("zone-flow", "flow_check", {"method": "strokes"}, "not given: no flow by strokes"),
    ("zone-flow", "flow_check", {"bucket": -1.0}, "stop: an entry"),
    ("zone-flow", "flow_check", {"emitter_count": -1.0}, "stop: an entry"),
    ("zone-flow", "flow_check", at_flow(100, emitter_count=None), "pass: plan with 100 L/min"),
    ("zone-flow", "flow_check", {"bucket_time": [25.0, 25.0, "25.1"]}, "not checked: catch 3"),
    ("zone-flow", "flow_check", {"bucket_time": [25.0]}, "caution: one catch only"),
    ("zone-flow", "flow_check", alone([95.1, 100.0, 104.9]), "pass"),
    ("zone-flow", "flow_check", alone([94.9, 100.0, 105.1]), "caution: the catches spread"),
    ("zone-flow", "flow_check", alone([89.9, 100.0, 110.1]), "stop: the catches spread"),
    *(
        ("zone-flow", "flow_check", at_flow(100, emitter_count=None, **by_strokes(flow)), opening)
        for flow, opening in ((109.9, "pass"), (110.1, "caution"), (119.9, "caution"))
    ),
    ("zone-flow", "flow_check", at_flow(100, **by_strokes(120.1)), "stop: the ways"),
    ("zone-flow", "bucket_check", {"bucket_time": ["25", 25.0, None]}, "not checked: catch 1"),
    ("zone-flow", "bucket_check", {"bucket": None}, "not measured"),
    ("zone-flow", "speed_check", NO_FLOW, "not checked: no flow"),
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
    ("zone-flow", "speed_check", {"neck_inside": 15.0}, "caution: 4.5 m/s in the necked-down"),
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
    ("stock-tank", "target_1_check", {"tank": "much"}, "stop: an entry cannot be used"),
    ("stock-tank", "fits_check", {"target_1": 0.0, "target_2": 0.0}, "not used"),
    ("stock-tank", "fits_check", {"target_1": 400.0}, "pass"),
    ("stock-tank", "fits_check", {"target_1": 400.0, "ratio": 2000.0}, "stop: 2.21 kg"),
    ("stock-tank", "fits_check", {"tank": "much"}, "stop: an entry cannot be used"),
    ("stock-tank", "dissolves_check", {}, "not checked: how much of product 1"),
    ("stock-tank", "dissolves_check", {"tank": "much"}, "stop: an entry cannot be used"),
    ("stock-tank", "clash_check", {}, "not checked: what a label does not tell"),
    ("stock-tank", "clash_check", {"target_2": 0.0}, "pass: one product alone"),
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
    # A hundredth of 45 L/min is 27 L or 7.1 gal an hour; 200 L last 7.4 h.
    ({}, "card_draw", "It draws 27 L (7.1 gal) of stock an hour."),
    ({}, "card_life", "The tank lasts 7.4 hours of running."),
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
