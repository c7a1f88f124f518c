"""Random arguments for calculations, drawn from the glossary's own limits."""

from __future__ import annotations

import math
import random
from typing import Any

from tanksheet import tables
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.units import Quantity

# Ranges that are open or very wide are drawn from where people work, and now and then in full.
USUAL = {
    "value": (-1e6, 1e6),
    "readings": (0.5, 30.0),
    "repeats": (0.5, 30.0),
    "ratio": (1.0, 1000.0),
    "set_ratio": (1.0, 1000.0),
}
MOST_MMOL = 1000.0
# Words that a search would find something by, were they read as patterns; none is listed.
PATTERNS = ("*", "?*", "~", "*~")
# Where the words of a parameter are listed.
TABLES = {key: table for table, key in tables.KEYS.items()} | {
    "from_unit": "units",
    "to_unit": "units",
    "fertilizer": "saturation",
}


def number(name: str, entry: Quantity, rng: random.Random) -> float:
    """A number inside the range; one that a table is searched for is mostly one of the table's."""
    if name in TABLES and rng.random() < 0.8:
        return float(rng.choice([row[name] for row in tables.rows(TABLES[name])]))
    low, high = max(entry.low, -1e9), min(entry.high, 1e9)
    if name in USUAL and rng.random() < 0.8:
        low, high = USUAL[name]
    if entry.unit.symbol == "mmol/L":
        # Beyond what dissolves, the search for gypsum's balance has no digits left to compare.
        high = min(high, MOST_MMOL)
    if low > 0 or (entry.above and low == 0):
        least = max(low, high * 1e-6)
        drawn = math.exp(rng.uniform(math.log(least), math.log(high)))
    else:
        drawn = rng.choice((low, high, rng.uniform(low, high), rng.uniform(low, high)))
    return min(max(round(drawn, 6), low), high) or (1e-3 if entry.above else 0.0)


def word(name: str, entry: Quantity, rng: random.Random) -> str:
    """A listed word, in any case."""
    listed = entry.words
    if not listed:
        table = TABLES[name]
        listed = tuple(str(row[tables.KEYS[table]]) for row in tables.rows(table))
    drawn = rng.choice(listed)
    return rng.choice((drawn, drawn, drawn.lower(), drawn.upper()))


def readings(name: str, entry: Quantity, rng: random.Random) -> list[float | None]:
    """Readings with blanks and ties among them, as a row of cells."""
    size = rng.randint(max(entry.at_least, 2), 14)
    cells: list[float | None] = [round(number(name, entry, rng), 2) for _ in range(size)]
    if rng.random() < 0.4:
        cells[1] = cells[0]
    for _ in range(rng.randint(0, 3)):
        cells.insert(rng.randint(0, len(cells)), None)
    return cells


def same_kind(record: Calculation, arguments: list[Any], rng: random.Random) -> list[Any]:
    """Most pairs of units measure different things; mostly draw the second like the first."""
    at = {name: place for place, name in enumerate(record.parameters)}
    if {"from_unit", "to_unit"} <= set(at) and rng.random() < 0.8:
        kind = tables.look_up("units", "kind", arguments[at["from_unit"]])
        alike = [str(row["unit"]) for row in tables.rows("units") if row["kind"] == kind]
        arguments[at["to_unit"]] = rng.choice(alike)
    return arguments


def arguments_of(record: Calculation, rng: random.Random) -> list[Any]:
    """Arguments that pass the checks of the glossary (the body may still refuse them)."""
    drawn: list[Any] = []
    for name, entry in record.parameters.items():
        draw: Any = readings if entry.is_readings else word if entry.is_word else number
        drawn.append(draw(name, entry, rng))
    return same_kind(record, drawn, rng)


def bad_values(entry: Quantity) -> list[Any]:
    """What goes wrong in cells: a blank, text, out of range, an unlisted word, an error."""
    errors: list[Any] = [SheetError.DIV, SheetError.NA]
    if entry.is_readings:
        long = [5.0, "5 s", 4.0], [5.0, -1.0, 4.0], [None, None], [5.0, "", 4.0]
        return [*long, [5.0, SheetError.DIV, 4.0], [0.0, 0.0, 0.0], [7.0]]
    if entry.is_word:
        return ["nothing like it", None, 5.0, *PATTERNS, *errors]
    outside = [] if math.isinf(entry.low) else [entry.low if entry.above else entry.low - 1]
    outside += [] if math.isinf(entry.high) else [entry.high * 2]
    return [None, "abc", *outside, *errors]


def bad_cases(record: Calculation) -> list[list[Any]]:
    """The example with one argument spoilt, and with two of them spoilt in different ways."""
    cases = []
    example = list(record.example[0])
    entries = list(record.parameters.values())
    for at, entry in enumerate(entries):
        for value in bad_values(entry):
            cases.append([*example[:at], value, *example[at + 1 :]])
    for first, second in ((0, -1), (-1, 0)):
        if len(entries) > 1:
            spoilt = list(example)
            spoilt[first] = bad_values(entries[first])[1]
            spoilt[second] = bad_values(entries[second])[-1]
            cases.append(spoilt)
    if len(entries) > 1 and not entries[0].is_readings:
        cases.append([SheetError.DIV, *example[1:-1], SheetError.NA])
    return cases
