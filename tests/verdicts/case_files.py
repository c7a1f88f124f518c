"""Reads the cases: one row a case, with the mildest and the worst verdict allowed."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent
# From mild to bad. Those of RARE are allowed only where a case names them.
WORDS = ("pass", "caution", "not given", "not checked", "stop")
RARE = ("not given", "not checked")
TANK_COLUMNS = (
    "case", "products", "tank_L", "temperature", "water", "mildest", "worst", "class", "source",
)  # fmt: skip
FEED_COLUMNS = (
    "case", "workbook", "verdict", "water", "celsius", "products", "mildest", "worst", "class",
    "source",
)  # fmt: skip


class BadCase(ValueError):
    """A row that cannot be used; the message names file, line and cure."""


@dataclass(frozen=True)
class Case:
    """One row: its cells by column, and where it stands."""

    cells: dict[str, str]
    place: str

    def __getitem__(self, column: str) -> str:
        return self.cells[column]

    @property
    def name(self) -> str:
        return self.cells["case"]

    @property
    def allowed(self) -> tuple[str, ...]:
        """The words from the mildest to the worst that the case allows."""
        mildest, worst = self.cells["mildest"], self.cells["worst"]
        between = WORDS[WORDS.index(mildest) : WORDS.index(worst) + 1]
        return tuple(word for word in between if word not in RARE or word in (mildest, worst))


def verdict_word(text: object) -> str:
    """The word with which a verdict begins. Raises: ValueError at a text that is no verdict."""
    found = next((word for word in WORDS if str(text).startswith(word)), None)
    if found is None:
        raise ValueError(f"{text!r} begins with none of {', '.join(WORDS)}")
    return found


def tank_cases() -> list[Case]:
    """The rows of compatibility.csv."""
    return read(FOLDER / "compatibility.csv", TANK_COLUMNS)


def feed_cases() -> list[Case]:
    """The rows of waters.csv."""
    return read(FOLDER / "waters.csv", FEED_COLUMNS)


def read(path: Path, columns: tuple[str, ...]) -> list[Case]:
    """Raises: BadCase at the first row that is not whole."""
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream, strict=True)
        if tuple(reader.fieldnames or ()) != columns:
            raise BadCase(f"{path.name}: columns are {reader.fieldnames}; write {list(columns)}")
        found = [Case(cells, f"{path.name}, line {reader.line_num}") for cells in reader]
    for case in found:
        _refuse_unusable(case)
    return found


def _refuse_unusable(case: Case) -> None:
    for column, value in case.cells.items():
        if not value and column not in ("water", "products"):
            raise BadCase(f"{case.place}: {column} is empty")
    for column in ("mildest", "worst"):
        if case[column] not in WORDS:
            raise BadCase(f"{case.place}: {column} is {case[column]!r}; use {', '.join(WORDS)}")
    if not case.allowed:
        raise BadCase(f"{case.place}: the mildest verdict allowed is worse than the worst")
    if {"pass", "caution", "stop"} <= set(case.allowed):
        raise BadCase(f"{case.place}: it allows every verdict, so it proves nothing")
