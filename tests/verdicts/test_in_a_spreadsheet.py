"""The verdicts that a spreadsheet engine finds in the built workbook are those of Python.

A sample of the cases; tests/templates holds every cell of the workbook in every engine.
"""

from __future__ import annotations

from typing import Any

from case_files import feed_cases, tank_cases
from judged import feed_settings, recipe, tank_settings, verdict
from package_edits import GetWorkbook
from tank_chemistry import Tank, portions, tanks, water
from tanksheet.recalc import engine
from tanksheet.sheets.evaluate import entry_cells
from tanksheet.sheets.verify import moved_cells
from tanksheet.xlsx.reading import named_cells

TANKS, FEEDS = tank_cases()[::12], [c for c in feed_cases() if c["workbook"] == "recipe"][::9]


def all_settings() -> list[tuple[str, dict[str, Any], str]]:
    """Case, its entries, its verdict's name."""
    made = [
        (
            case.name,
            tank_settings(
                Tank(
                    portions(case["products"]),
                    float(case["tank_L"]),
                    float(case["temperature"]),
                    water(case["water"]),
                )
            ),
            "clear_a",
        )
        for case in TANKS
    ]
    return made + [
        (
            case.name,
            feed_settings(tanks(case["products"]), water(case["water"]), float(case["celsius"])),
            case["verdict"],
        )
        for case in FEEDS
    ]


def test_ironcalc_says_the_same(workbook: GetWorkbook) -> None:
    path, plan = workbook("recipe"), recipe()
    moved, names = moved_cells(path, plan), named_cells(path)
    assert len(all_settings()) > 40
    with engine("ironcalc").open(path) as session:
        for case, settings, name in all_settings():
            inputs = {moved[cell]: v for cell, v in entry_cells(plan, settings).items()}
            found = session.calculate(inputs, names[name])[names[name][0]]
            assert str(found) == verdict(settings, name), case
