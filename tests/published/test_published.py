"""Every calculation against figures from outside the project, and the checks of that check."""

from __future__ import annotations

import csv
import dataclasses
from collections.abc import Callable
from pathlib import Path

import pytest

from reading import COLUMNS, KIND_PROPERTY, BadRow, Row, agrees, all_rows, read, topics
from tanksheet.definition import catalogue

CATALOGUE = catalogue()
ROWS = all_rows(CATALOGUE)
by_name = pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)

GOOD = {
    "calculation": "STOCKMASS",
    "arguments": "[150, 15.5, 100, 200]",
    "expected": "19354.8387",
    "tolerance": "1e-6",
    "kind": "published",
    "source": "a bulletin",
    "where": "page 3",
    "tolerance_reason": "nine digits",
    "checked": "recomputed",
}
BAD = {
    "unknown calculation": ({"calculation": "STOCKMAS"}, "does not exist"),
    "arguments not JSON": ({"arguments": "[150, 15.5"}, "not JSON"),
    "arguments not a list": ({"arguments": '{"target": 150}'}, "must be a list"),
    "argument not a number": ({"arguments": "[150, null, 100, 200]"}, "must be a list"),
    "argument not finite": ({"arguments": "[NaN, 15.5, 100, 200]"}, "must be a list"),
    "no expected figure": ({"expected": ""}, "expected is empty"),
    "expected not a number": ({"expected": "about 19"}, "must be a number"),
    "expected zero": ({"expected": "0"}, "expected is 0"),
    "no source": ({"source": " "}, "source is empty"),
    "no place": ({"where": ""}, "where is empty"),
    "no tolerance": ({"tolerance": ""}, "tolerance is empty"),
    "no reason": ({"tolerance_reason": ""}, "tolerance_reason is empty"),
    "not checked": ({"checked": ""}, "checked is empty"),
    "tolerance zero": ({"tolerance": "0"}, "above 0"),
    "tolerance too large": ({"tolerance": "0.11"}, "at most 0.1"),
    "tolerance not a number": ({"tolerance": "nan"}, "must be finite"),
    "unknown kind": ({"kind": "trusted"}, "is unknown"),
    "practice dressed up": ({"kind": "practice"}, "source must begin with"),
    "memory dressed up": ({"kind": "memory"}, "source must begin with"),
}


@by_name
def test_figure(row: Row, record_property: Callable[[str, object], None]) -> None:
    record_property(KIND_PROPERTY, row.kind)
    result = CATALOGUE[row.calculation].function(*row.arguments)
    assert agrees(row, result), (
        f"{row.file}, line {row.line}: FERT.{row.calculation}{row.arguments} gives {result!r}; "
        f"{row.source} has {row.expected!r}, tolerance {row.tolerance:g}"
    )


@pytest.mark.parametrize("step", [-3, 3])
def test_comparison_sees_a_wrong_figure(step: int) -> None:
    """In one test for all rows: the calculations need not run a second and a third time."""
    passed = [row.name for row in ROWS if agrees(row, row.expected * (1 + step * row.tolerance))]
    assert ROWS and passed == []


@pytest.mark.parametrize("path", topics(), ids=lambda path: path.stem)
def test_each_file_keeps_to_its_topic(path: Path) -> None:
    strays = {
        row.name: CATALOGUE[row.calculation].topic
        for row in read(path, CATALOGUE)
        if CATALOGUE[row.calculation].topic != path.stem
    }
    assert not strays, f"{path.name} has rows of other topics: {strays}"


def written(path: Path, *rows: dict[str, str]) -> Path:
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, COLUMNS)
        writer.writeheader()
        writer.writerows(rows)
    return path


def test_a_good_row_is_read(tmp_path: Path) -> None:
    (row,) = read(written(tmp_path / "stock.csv", GOOD), CATALOGUE)
    assert (row.name, row.arguments, row.line) == ("STOCKMASS-1", (150, 15.5, 100, 200), 2)


@pytest.mark.parametrize("change, message", BAD.values(), ids=BAD.keys())
def test_a_bad_row_is_refused(change: dict[str, str], message: str, tmp_path: Path) -> None:
    path = written(tmp_path / "stock.csv", GOOD, GOOD | change)
    with pytest.raises(BadRow, match=rf"stock\.csv, line 3: .*{message}"):
        read(path, CATALOGUE)


def test_a_row_with_a_stray_comma_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path / "stock.csv", GOOD)
    path.write_text(path.read_text() + "STOCKMASS,150,15.5,100,200,1,2,3,4,5,6\n")
    with pytest.raises(BadRow, match=r"stock\.csv, line 3: .*9 cells"):
        read(path, CATALOGUE)


def test_wrong_columns_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "stock.csv"
    path.write_text("calculation,expected\nSTOCKMASS,1\n")
    with pytest.raises(BadRow, match=r"stock\.csv, line 1: columns"):
        read(path, CATALOGUE)


def test_an_empty_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadRow, match=r"stock\.csv, line 1: no rows"):
        read(written(tmp_path / "stock.csv"), CATALOGUE)


@pytest.mark.parametrize("result", [None, "19354.8", float("nan"), float("inf"), True])
def test_what_is_not_a_figure_never_agrees(result: object) -> None:
    assert not agrees(dataclasses.replace(ROWS[0], expected=1.0), result)
