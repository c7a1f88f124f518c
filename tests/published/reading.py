"""Reads the outside figures of this folder: one CSV a topic, one figure a row.

A row that cannot be trusted stops the reading with its file and line, so that no figure is
silently left out.
"""

from __future__ import annotations

import csv
import json
import math
from collections import Counter
from collections.abc import Container, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

FOLDER = Path(__file__).parent
COLUMNS = (
    "calculation",
    "arguments",
    "expected",
    "tolerance",
    "kind",
    "source",
    "where",
    "tolerance_reason",
    "checked",
)
LARGEST_TOLERANCE = 0.1
# Under this name a test records the kind of its figure; the end of the session counts them.
KIND_PROPERTY = "kind of figure"
# What the source of a row must begin with, so that no guess passes for a publication.
KINDS = {
    "published": "",
    "computed": "",
    "practice": "common practice",
    "memory": "from memory",
}


class BadRow(ValueError):
    """A row of a CSV that cannot be used; the message names file, line and cure."""


@dataclass(frozen=True)
class Row:
    """One outside figure. ``tolerance`` is relative to ``expected``; ``number`` counts the rows
    of the same calculation from 1."""

    calculation: str
    arguments: tuple[Any, ...]
    expected: float
    tolerance: float
    kind: str
    source: str
    file: str
    line: int
    number: int

    @property
    def name(self) -> str:
        return f"{self.calculation}-{self.number}"


def agrees(row: Row, result: object) -> bool:
    """Whether a result lies within the row's tolerance of its figure."""
    if isinstance(result, bool) or not isinstance(result, (int, float)):
        return False
    return abs(result - row.expected) <= row.tolerance * abs(row.expected)


def topics() -> list[Path]:
    """The CSV files of this folder."""
    return sorted(FOLDER.glob("*.csv"))


def all_rows(known: Container[str]) -> list[Row]:
    """Every row of every topic."""
    return [row for path in topics() for row in read(path, known)]


def read(path: Path, known: Container[str]) -> list[Row]:
    """The rows of one CSV.

    ``known`` holds the names of the calculations that exist.
    Raises: BadRow with file and line at the first row that cannot be used.
    """
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream, strict=True)
        if tuple(reader.fieldnames or ()) != COLUMNS:
            _refuse(path, 1, f"columns are {reader.fieldnames}; they must be {list(COLUMNS)}")
        rows = list(_rows(path, reader, known))
    if not rows:
        _refuse(path, 1, "no rows; add one or remove the file")
    return rows


def _rows(path: Path, reader: csv.DictReader[str], known: Container[str]) -> Iterator[Row]:
    seen: Counter[str] = Counter()
    for cells in reader:
        line = reader.line_num
        _complete(path, line, cells)
        name = cells["calculation"]
        if name not in known:
            _refuse(path, line, f"calculation {name!r} does not exist; check its spelling")
        seen[name] += 1
        yield Row(
            calculation=name,
            arguments=_arguments(path, line, cells["arguments"]),
            expected=_expected(path, line, cells["expected"]),
            tolerance=_tolerance(path, line, cells["tolerance"]),
            kind=_kind(path, line, cells["kind"], cells["source"]),
            source=cells["source"],
            file=path.name,
            line=line,
            number=seen[name],
        )


def _complete(path: Path, line: int, cells: dict[str, str]) -> None:
    if None in cells or None in cells.values():
        _refuse(path, line, f"a row has {len(COLUMNS)} cells; put texts with commas in quotes")
    for column in COLUMNS:
        if not cells[column].strip():
            _refuse(path, line, f"{column} is empty; every column must be filled")


def _arguments(path: Path, line: int, text: str) -> tuple[Any, ...]:
    try:
        found = json.loads(text)
    except json.JSONDecodeError as error:
        _refuse(path, line, f"arguments {text!r} are not JSON ({error}); write [150, 15.5]")
    if not isinstance(found, list) or not all(_usable(argument) for argument in found):
        _refuse(path, line, f"arguments {text!r} must be a list of numbers, words or readings")
    return tuple(found)


def _usable(argument: object) -> bool:
    if isinstance(argument, list):
        return bool(argument) and all(_is_number(item) for item in argument)
    return isinstance(argument, str) or _is_number(argument)


def _is_number(item: object) -> bool:
    return isinstance(item, (int, float)) and not isinstance(item, bool) and math.isfinite(item)


def _number(path: Path, line: int, column: str, text: str) -> float:
    try:
        number = float(text)
    except ValueError:
        _refuse(path, line, f"{column} is {text!r}; it must be a number")
    if not math.isfinite(number):
        _refuse(path, line, f"{column} is {text!r}; it must be finite")
    return number


def _expected(path: Path, line: int, text: str) -> float:
    expected = _number(path, line, "expected", text)
    if expected == 0:
        _refuse(path, line, "expected is 0, where a relative tolerance means nothing")
    return expected


def _tolerance(path: Path, line: int, text: str) -> float:
    tolerance = _number(path, line, "tolerance", text)
    if not 0 < tolerance <= LARGEST_TOLERANCE:
        _refuse(path, line, f"tolerance is {text}; it must be above 0 and at most 0.1")
    return tolerance


def _kind(path: Path, line: int, kind: str, source: str) -> str:
    if kind not in KINDS:
        _refuse(path, line, f"kind {kind!r} is unknown; it must be one of {', '.join(KINDS)}")
    if not source.startswith(KINDS[kind]):
        _refuse(path, line, f"kind is {kind}, so source must begin with {KINDS[kind]!r}")
    return kind


def _refuse(path: Path, line: int, what: str) -> NoReturn:
    raise BadRow(f"{path.name}, line {line}: {what}")
