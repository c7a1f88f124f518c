"""Published worked examples through the workbooks, as a person would type them, in IronCalc.

"By hand" marks a figure of ours, worked out from exact unit definitions (NIST SP 811).
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.recalc import ENGINES
from tanksheet.sheets.run import run
from tanksheet.templates import book

OUNCE, POUND, GALLON = 28.349523125, 453.59237, 3.785411784


class Example(NamedTuple):
    """What is typed, what is read, the exact answer, and what the source prints."""

    source: str
    workbook: str
    typed: dict[str, str]
    read: str
    exact: float
    printed: float | None = None
    printed_within: float = 0.0


def dry(target: str, content: str, ratio: str, tank: str) -> dict[str, str]:
    """Product 1 dry, chosen for its nitrogen."""
    return {
        "nutrient_1": "N",
        "target_1": target,
        "label_n_1": content,
        "ratio": ratio,
        "tank": tank,
        "form_1": "dry",
    }


EXAMPLES = [
    # Finished solution is a ratio of 1. The source multiplies ounces by 75 ppm, not 74.89.
    Example(
        "UMass Extension, Fertilizer Calculations for Greenhouse Crops: 13.5 oz",
        "stock-tank",
        dry("200 ppm", "20", "1:1", "100 gal"),
        "mass_1",
        13.353 * OUNCE,
        13.5 * OUNCE,
        0.015,
    ),
    Example(
        "UMass Extension, the same page: 18 oz of 15 % N",
        "stock-tank",
        dry("200 ppm", "15", "1:1", "100 gal"),
        "mass_1",
        17.804 * OUNCE,
        18 * OUNCE,
        0.015,
    ),
    Example(
        "Texas A&M, Texas Greenhouse Management Handbook: 22 oz",
        "stock-tank",
        dry("250 ppm", "15", "1:1", "100 gal"),
        "mass_1",
        22.254 * OUNCE,
        22 * OUNCE,
        0.015,
    ),
    Example(
        "Cornell, Fertilizer Calculations and Practice Questions: 20.25 oz in each gallon",
        "stock-tank",
        dry("150 ppm", "20", "1:200", "1 gal"),
        "mass_1",
        20.029 * OUNCE,
        20.25 * OUNCE,
        0.012,
    ),
    Example(
        "by hand: 150 * 100 * 200 / (15.5 * 10)",
        "stock-tank",
        dry("150 ppm", "15.5 %", "1:100", "200 L"),
        "mass_1",
        150 * 100 * 200 / 155,
    ),
    Example(
        "by hand: the same in pounds",
        "stock-tank",
        dry("150 ppm", "15.5 %", "1 %", "200 L"),
        "mass_1_in_lb",
        150 * 100 * 200 / 155 / POUND,
    ),
    # Density from Mississippi State Extension P1466: 11.06 lb/gal, which is 1.3253 kg/L.
    Example(
        "by hand: 150 mg/L from 32-0-0 by volume, 1.3253 kg/L",
        "stock-tank",
        dry("150 ppm", "32", "1:100", "200 L") | {"form_1": "liquid", "density_1": "1.3253 kg/L"},
        "volume_1",
        150 * 100 * 200 / 320 / 1000 / 1.3253,
    ),
    Example(
        "Mississippi State Extension P1466: 11.06 lb/gal, typed as such",
        "stock-tank",
        dry("150 ppm", "32", "1:100", "200 L") | {"form_1": "liquid", "density_1": "11.06 lb/gal"},
        "volume_1",
        150 * 100 * 200 / 320 / 1000 / (11.06 * POUND / 1000 / GALLON),
        150 * 100 * 200 / 320 / 1000 / 1.3253,
        0.0001,
    ),
    Example(
        "by hand: a bucket of 5 gal in 25 s is 12 gpm",
        "zone-flow",
        {"bucket": "5 gal", "bucket_time": "25; 25; 25"},
        "flow_in_gpm",
        12,
    ),
    Example(
        "by hand: the same in litres a minute",
        "zone-flow",
        {"bucket": "18.92705892 L", "bucket_time": "25; 25; 25"},
        "flow_by_bucket",
        12 * GALLON,
    ),
    Example(
        "by hand: 12 gpm at 1:100 draws 7.2 gallons an hour",
        "stock-tank",
        {"flow": "12 gpm", "ratio": "1:100"},
        "stock_per_hour_in_gph",
        7.2,
    ),
    Example(
        "by hand: strength for 100 ppm at 1:100 from 15.5 %, g in each litre",
        "ratio-table",
        {"content": "15.5", "ratios": "100", "targets": "100"},
        "grams_per_litre",
        100 * 100 / 155,
    ),
]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda each: each.source[:40])
def test_worked_example(example: Example, workbook: GetWorkbook) -> None:
    need(ENGINES["ironcalc"])
    edition = "us" if "_in_" in example.read else "metric"
    path = workbook(example.workbook, edition)
    before = path.read_bytes()
    [value] = run(path, book(example.workbook, edition), example.typed, [example.read]).values()
    number = value[0] if isinstance(value, list) else value
    # The exact answers of published rows are given to five figures.
    assert number == pytest.approx(example.exact, rel=1e-9 if "by hand" in example.source else 1e-4)
    if example.printed is not None:
        assert number == pytest.approx(example.printed, rel=example.printed_within)
    assert path.read_bytes() == before
