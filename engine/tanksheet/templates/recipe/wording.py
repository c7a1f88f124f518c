"""The words of cards and labels in every language that data/words.csv has a column for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from tanksheet.sheets.cells import begins_with
from tanksheet.tables import rows

_BESIDE = ("key", "source")
COLUMNS = tuple(column for column in rows("words")[0] if column not in _BESIDE)
LANGUAGES = tuple(column.capitalize() for column in COLUMNS)
WORDS: dict[str, tuple[str, ...]] = {
    str(row["key"]): tuple(str(row[column]) for column in COLUMNS) for row in rows("words")
}
# Reason and cure of each rule of data/clashes.csv, in its order.
REASONS = tuple(tuple(str(row[c]) for c in COLUMNS) for row in rows("clash_words"))
CURES = tuple(tuple(str(row[f"{c}_cure"]) for c in COLUMNS) for row in rows("clash_words"))


def _codes(*columns: str) -> set[str]:
    """The codes that products have in some columns of data/hazards.csv."""
    cells: list[Any] = [row[column] for row in rows("hazards") for column in columns]
    return {code for cell in cells for code in str(cell).split("/")}


OWN = "own"  # of a product that a person typed from its label
# The codes in the order in which they are told, which is that of data/words.csv.
HAZARDS = tuple(key for key in WORDS if key in _codes("hazards") | {OWN})
WEAR = tuple(key for key in WORDS if key in _codes("wear"))
AID = tuple(key for key in WORDS if key in _codes("aid"))
SPILLS = tuple(key for key in WORDS if key in _codes("spill"))


def is_one_of(cell: str, *keys: str) -> str:
    """The formula of a mark on cells that hold one of our words, in whatever language."""
    words = dict.fromkeys(word for key in keys for word in WORDS[key])
    return _any_of(f'{cell}="{word}"' for word in words)


def begins_with_one_of(cell: str, key: str) -> str:
    """The same for cells that begin with one of our words."""
    return _any_of(begins_with(cell, word) for word in dict.fromkeys(WORDS[key]))


def _any_of(tests: Iterable[str]) -> str:
    return f"OR({','.join(tests)})"
