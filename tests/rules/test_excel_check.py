"""What tests/EXCEL-CHECK.md promises to a person with Excel is true of the files."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from package_edits import GetWorkbook
from tanksheet.definition import catalogue
from tanksheet.expression import evaluate
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.reading import Package

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "tests" / "EXCEL-CHECK.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "formula", ["FERT.STOCKMASS(150,15.5,100,200)", 'FERT.CONVERT(10,"gal","L")']
)
def test_its_figures_are_right(formula: str) -> None:
    found = re.search(re.escape(f"`={formula}`") + r"\s+gives\s+([\d.]+\d)", TEXT)
    assert found, formula
    digits = len(found[1].partition(".")[2])
    value = evaluate(f"={formula}")
    assert isinstance(value, float) and round(value, digits) == float(found[1])


def test_its_files_and_names_are_there(workbook: GetWorkbook) -> None:
    built = {f"{name}.xlsx" for name in TEMPLATES} | {"functions.xlsx"}
    own = {"mine.xlsx", "mine-with-fert.xlsx", "saved.xlsx"}
    assert set(re.findall(r"[\w-]+\.xlsx", TEXT)) <= built | own
    names = Package(workbook("acid")).names
    assert {"alkalinity", "dose", "left_check"} <= names.keys()
    listed = len(names) + len(catalogue())
    about = int(re.findall(r"has about (\d+)\s+names", TEXT)[0])
    assert listed == pytest.approx(about, rel=0.15), f"say {listed} instead of about {about}"
    assert {sheet.title for sheet in book("acid").sheets} >= {"Acid", "Step by step"}
    assert {sheet.title for sheet in book("recipe").sheets} >= {"Recipe", "Keep apart"}
