"""Weights and volumes in words: units, rounding, no needless zero, the same in an engine.

A pound is 453.59237 g, a US gallon 3.785411784 L, exactly (NIST SP 811, appendix B); the form of
the words: ISMP list of error-prone dose designations (from memory).
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from small_books import in_ironcalc, in_python
from tanksheet.recalc import ENGINES
from tanksheet.templates.weight_working import (
    SCALES,
    SMALL,
    grouped,
    trimmed,
    volume_words,
    weight_words,
)

POUND, GALLON = 453.59237, 3.785411784
WEIGHTS: list[tuple[float, str, str, str]] = [
    (0.05, "0.05 g", "0.05 g", "0.05 g"),
    (0.5, "0.5 g", "0.5 g", "0.5 g"),
    (1.2, "1.2 g", "1.2 g", "1.2 g"),
    (17.0, "17 g", "17 g", "17 g"),
    (180.0, "180 g", "180 g", "180 g"),
    (199.96, "200 g", "7.1 oz", "0.44 lb"),
    (999.94, "999.9 g", "2 lb 3.3 oz", "2.2 lb"),
    (999.96, "1 kg", "2 lb 3.3 oz", "2.2 lb"),
    (1234.0, "1.234 kg", "2 lb 11.5 oz", "2.72 lb"),
    (2000.0, "2 kg", "4 lb 6.5 oz", "4.41 lb"),
    (4500.0, "4.5 kg", "9 lb 14.7 oz", "9.92 lb"),
    (8000.0, "8 kg", "17 lb 10.2 oz", "17.64 lb"),
    (POUND, "453.6 g", "1 lb 0 oz", "1 lb"),
    (POUND * 15.96 / 16, "452.5 g", "1 lb 0 oz", "1 lb"),
    (POUND * 15.94 / 16, "451.9 g", "15.9 oz", "1 lb"),
    (12345678.0, "12345.678 kg", "27217 lb 9 oz", "27217.56 lb"),
]
VOLUMES: list[tuple[float, str, str]] = [
    (0.0005, "0.5 mL", "0.5 mL"),
    (0.005, "5 mL", "5 mL"),
    (0.5, "500 mL", "16.9 fl oz"),
    (0.9994, "999 mL", "33.8 fl oz"),
    (0.9996, "1 L", "33.8 fl oz"),
    (1.25, "1.25 L", "42.3 fl oz"),
    (12.5 * GALLON, "47.32 L", "12.5 gal"),
    (25 * GALLON, "94.64 L", "25 gal"),
    (1000.0, "1000 L", "264.2 gal"),
    (9999.6, "10\u00a0000 L", "2642 gal"),
    (12005.0, "12\u00a0005 L", "3171 gal"),
    (1234567.0, "1234\u00a0567 L", "326\u00a0138 gal"),
]


@pytest.mark.parametrize(("mass", "kilograms", "ounces", "pounds"), WEIGHTS)
def test_weights(mass: float, kilograms: str, ounces: str, pounds: str) -> None:
    assert [weight_words(mass, scale) for scale in SCALES] == [kilograms, ounces, pounds]


@pytest.mark.parametrize(("volume", "litres", "gallons"), VOLUMES)
def test_volumes(volume: float, litres: str, gallons: str) -> None:
    assert [volume_words(volume, scale) for scale in SCALES] == [litres, gallons, gallons]


def test_what_is_told_can_be_read_back() -> None:
    """Every amount has a unit of its own, no zero trails, one stands before the point, and the
    words are within half of the last figure of the weight."""
    steps = {"kg": 0.5, "lb": 0.005 * POUND, "oz": 0.05 * POUND / 16}
    grams = {"kg": 1000, "g": 1, "lb": POUND, "oz": POUND / 16}
    for scale in SCALES:
        for mass in [0.03 * 1.07**i for i in range(250)]:
            said = str(weight_words(mass, scale))
            parts = re.findall(r"(\d+(?:\.\d+)?) (kg|g|lb|oz)", said)
            assert " ".join(f"{number} {unit}" for number, unit in parts) == said
            assert not any(number.startswith("0") and number[1:2] != "." for number, _ in parts[:1])
            assert not any("." in number and number.endswith("0") for number, _ in parts)
            off = abs(sum(float(number) * grams[unit] for number, unit in parts) - mass)
            last = 0.005 if mass < 1 else 0.05
            assert off <= steps.get(parts[-1][1], last) * 1.0001, said
            assert "g" in said or mass >= SMALL - 0.05


def test_small_numbers() -> None:
    assert [trimmed(x) for x in (0.05, 0.5, 2.0, 2.345)] == ["0.05", "0.5", "2", "2.35"]
    assert [grouped(x) for x in (0, 9999, 10000, 45056)] == [
        "0",
        "9999",
        "10\u00a0000",
        "45\u00a0056",
    ]


def test_the_same_words_in_an_engine(tmp_path: Path) -> None:
    need(ENGINES["ironcalc"])
    cases: list[Any] = [(weight_words, (row[0], scale)) for row in WEIGHTS for scale in SCALES]
    cases += [(volume_words, (row[0], scale)) for row in VOLUMES for scale in SCALES]
    assert in_ironcalc(cases, tmp_path / "words.xlsx") == in_python(cases)
