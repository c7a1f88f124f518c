"""Reads the project's data tables, each once. The numbers live in data/*.csv, not in code."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from pathlib import Path
from types import MappingProxyType
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
    "dilution_heats": "formula",
    "solubility": "salt",
    "saturation": "product",
    "ions": "ion",
    "water_limits": "factor",
    "clashes": "clash",
    "nutrients": "nutrient",
    "hazards": "product",
    "product_names": "product",
    "sieves": "mesh",
    "faults": "step",
    "seals": "seal",
}
# Rows that a workbook adds below a table's own, by table: a person's own products, say. They are
# found where the table's own are, after them, for as long as ``added_rows`` holds.
Added = Mapping[str, Sequence[Mapping[str, Any]]]
_NONE: Added = MappingProxyType({})
_ADDED: ContextVar[Added] = ContextVar("added", default=_NONE)


@contextmanager
def added_rows(added: Added) -> Iterator[None]:
    """Lets look-ups find rows beyond those of the data, for a ``with`` block; a row without a key
    is found by nobody."""
    before = _ADDED.set(added)
    try:
        yield
    finally:
        _ADDED.reset(before)


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


def _found(table: str, key: str | float) -> Mapping[str, Any] | None:
    wanted = str(key).lower()
    row: Mapping[str, Any] | None = _index(table).get(wanted)
    if row is None and wanted:
        for each in _ADDED.get().get(table, ()):
            if str(each[KEYS[table]]).lower() == wanted:
                return each
    return row


def look_up(table: str, column: str, key: str | float) -> Any:
    """One entry of a table.

    Raises: NotListed (#N/A in a sheet) when ``key`` is not in the table.
    """
    row = _found(table, key)
    if row is None:
        known = ", ".join(str(entry[KEYS[table]]) for entry in rows(table))
        raise NotListed(f"{KEYS[table]} {key!r} is not listed; allowed: {known}")
    return row[column]


def is_listed(table: str, key: str) -> bool:
    """Whether a table has a row for a key."""
    return _found(table, key) is not None
