"""One part in N of feed, or to N of water: what that changes, by hand.

1:100 read "to" is 1 part in 101, so the stock is 1 % stronger (definition of the dilution).
"""

from __future__ import annotations

from typing import Any

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book

MASS = 150 * 200 / 155  # g for each part of the ratio: 150 mg/L from 15.5 %, 200 L
TANK: dict[str, Any] = {
    "nutrient_1": "N",
    "target_1": 150.0,
    "label_n_1": 15.5,
    "tank": 200.0,
    "flow": 10.0,
    "flow_unit": "L/min",
}


@pytest.mark.parametrize(("reading", "parts"), [("1 in N", 100), ("1 to N", 101)])
def test_the_stock_tank(reading: str, parts: float) -> None:
    found = evaluate(book("stock-tank"), {**TANK, "ratio": 100.0, "ratio_reading": reading})
    assert found["mass_1"] == pytest.approx(MASS * parts, rel=1e-12)
    assert found["delivered_n"] >= 149.999  # type: ignore[operator]
    # Water over stock is the setting either way: 10 L/min through the injector draw 6 L/h.
    assert found["stock_per_hour"] == pytest.approx(6.0, rel=1e-12)
    assert found["card_setting"] == "Set the injector to 1 : 100 (1.000 %)."


@pytest.mark.parametrize(("reading", "parts"), [("1 in N", 100), ("1 to N", 101)])
def test_the_acid(reading: str, parts: float) -> None:
    settings: dict[str, Any] = {"ratio": 100.0, "ratio_reading": reading}
    settings |= {"flow": 10.0, "flow_unit": "L/min"}
    found = evaluate(book("acid"), settings)
    dose = found["dose"]
    assert isinstance(dose, float)
    assert found["strength"] == pytest.approx(dose * parts / 1000, rel=1e-12)
    assert found["stock_per_hour"] == pytest.approx(6.0, rel=1e-12)


@pytest.mark.parametrize(("reading", "more"), [("1 in N", 0), ("1 to N", 1)])
def test_the_ratio_table(reading: str, more: float) -> None:
    plan = book("ratio-table")
    ratio, target = plan.entries["ratios"].default[0], plan.entries["targets"].default[0]
    found = evaluate(plan, {"ratio_reading": reading, "content": 10.0})
    assert isinstance(ratio, (int, float)) and isinstance(target, (int, float))
    assert found["grams_per_litre[0,0]"] == pytest.approx((ratio + more) * target / 100)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (160 / 1440, "1:100 became a time of day: type 100"),
        ("1:100", "type 100 for 1:100, at least 1; check the unit"),
        (0.01, "type 100 for 1:100, at least 1; check the unit"),
    ],
)
def test_a_ratio_that_a_sheet_took_for_a_time(typed: float | str, says: str) -> None:
    """1:100 in a cell is 1 h 100 min, 160 of the 1,440 minutes of a day."""
    found = evaluate(book("stock-tank"), {"ratio": typed})
    assert found["ratio_note"] == says
    assert isinstance(found["mass_1"], SheetError)


@pytest.mark.parametrize("text", ["100", "1:100", "100 "])
def test_a_ratio_of_the_table_that_is_text_is_called_out(text: str) -> None:
    plan = book("ratio-table")
    found = evaluate(plan, {"ratios": [text, *plan.entries["ratios"].default[1:]]})
    assert found["reach_1"] == "not checked: text; type 100 for 1:100"
    assert found["grams_per_litre[0,0]"] == "text?"
    assert not [key for key, value in found.items() if isinstance(value, SheetError)]


def test_a_target_of_the_table_that_is_text_is_called_out() -> None:
    plan = book("ratio-table")
    found = evaluate(plan, {"targets": ["50", *plan.entries["targets"].default[1:]]})
    grids = ("grams_per_litre", "ounces_per_gallon", "mass_per_tank")
    assert {found[f"{grid}[{row},0]"] for grid in grids for row in range(8)} == {"text?"}
    assert not [key for key, value in found.items() if isinstance(value, SheetError)]


def test_a_ratio_of_the_table_that_became_a_time_of_day() -> None:
    plan = book("ratio-table")
    found = evaluate(plan, {"ratios": [160 / 1440, *plan.entries["ratios"].default[1:]]})
    assert found["reach_1"] == "stop: below 1; type 100 for 1:100"
