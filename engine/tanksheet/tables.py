"""Reads the project's data tables, each once. The numbers live in data/*.csv, not in code."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import Any, Union

from tanksheet.errors import NotListed

DATA = Path(__file__).parent / "data"

Datum = Union[float, str]
# Key column of each table, the one that a look-up searches.
KEYS: dict[str, str] = {
    "units": "unit",
    "oxides": "oxide",
    "fertilizers": "product",
    "acids": "acid",
    "solubility": "salt",
    "ions": "ion",
    "water_limits": "factor",
}


@cache
def rows(table: str) -> tuple[dict[str, Datum], ...]:
    """All rows of ``data/<table>.csv``; entries that read as numbers are floats."""
    path = DATA / f"{table}.csv"
    with path.open(encoding="utf-8", newline="") as stream:
        return tuple(
            {column: _datum(text) for column, text in row.items()} for row in csv.DictReader(stream)
        )


def _datum(text: str) -> Datum:
    try:
        return float(text)
    except ValueError:
        return text


@cache
def _index(table: str) -> dict[str, dict[str, Datum]]:
    # Spreadsheets match text without regard to case, so the Python look-up does the same.
    return {str(row[KEYS[table]]).lower(): row for row in rows(table)}


def look_up(table: str, column: str, key: str) -> Any:
    """One entry of a table.

    Raises: NotListed (#N/A in a sheet) when ``key`` is not in the table.
    """
    row = _index(table).get(str(key).lower())
    if row is None:
        known = ", ".join(str(entry[KEYS[table]]) for entry in rows(table))
        raise NotListed(f"{KEYS[table]} {key!r} is not listed; allowed: {known}")
    return row[column]


def is_listed(table: str, key: str) -> bool:
    """Whether a table has a row for a key."""
    return str(key).lower() in _index(table)
