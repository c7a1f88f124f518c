"""What is wrong with what stands in an entry, in one line that names its cell."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from tanksheet.errors import SheetError
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.target import Target
from tanksheet.xlsx.address import Value

MOST_SPELLED = 20  # words of a list that a message spells out


def complaints(target: Target, now: Mapping[str, Any], used: Mapping[str, Value]) -> dict[str, str]:
    """What is wrong with each entry of our own workbook, a line each, by its key.

    ``now`` is what stands in the entries, ``used`` what came of them by the keys of their values.
    """
    assert target.book is not None
    lines = {
        key: _complaint(target, entry, now, used) for key, entry in target.book.entries.items()
    }
    return {key: line for key, line in lines.items() if line}


def _complaint(
    target: Target, entry: Entry, now: Mapping[str, Any], used: Mapping[str, Value]
) -> str:
    """What is wrong with an entry as it stands ``now``, or ""; ``used`` is what came of it."""
    book = target.book
    assert book is not None
    value, place = now[entry.key], f"{target.path.name}: {target.cells(entry.key)[0].a1}"
    if not entry.single:
        own = [each for each in now.get(entry.also, ()) if isinstance(each, str)]
        return _run_complaint(target, replace(entry, words=(*entry.words, *own)), value)
    if entry.is_text:
        fault = isinstance(value, SheetError)
        return f"{place} ({entry.key}) is {value}; type words, or leave it blank" if fault else ""
    if entry.words:
        if _listed(entry, value) or (entry.optional and value in (None, "")):
            return ""
        return f"{place} ({entry.key}) is {_quoted(value)}; {_choice(entry, value)}"
    assert entry.limits is not None
    if entry.unit_key and not _listed(book.entries[entry.unit_key], now[entry.unit_key]):
        return ""  # the unit has a complaint of its own
    if isinstance(used[book.key_for(entry.key)], SheetError):
        blank = value is None or value == ""
        unit = f" {now[entry.unit_key]}" if entry.unit_key and not blank else ""
        said = f"{place} ({entry.key}) is {_quoted(value)}{unit}"
        if entry.nutrient in now and unit.startswith(" ppm "):
            chosen = now[entry.nutrient]
            return f"{said}, and {entry.nutrient} is {chosen}; if that is no unit of it, use ppm"
        return f"{said}; it must be {entry.limits.allowed}"
    return ""


def _listed(entry: Entry, value: Value) -> bool:
    return isinstance(value, str) and value.lower() in (word.lower() for word in entry.words)


def _run_complaint(target: Target, entry: Entry, values: Sequence[Value]) -> str:
    for cell, value in zip(target.cells(entry.key), values, strict=True):
        if value is None or value == "" or _fits(entry, value):
            continue
        said = f"{target.path.name}: {cell.a1} ({entry.key}) is {_quoted(value)}"
        if entry.limits:
            return f"{said}; it must be {entry.limits.allowed}, or blank"
        if not entry.words:
            return f"{said}; type words, or leave it blank"
        return f"{said}; {_choice(entry, value)}, or leave it blank"
    return ""


def _choice(entry: Entry, value: Value) -> str:
    """What may be chosen instead of a word that is not in the list."""
    if len(entry.words) <= MOST_SPELLED:
        return f"choose one of: {', '.join(entry.words)}"
    spelled = {word.lower(): word for word in entry.words}
    near = difflib.get_close_matches(str(value).lower(), spelled, 3, 0.5)
    likely = " or ".join(spelled[word] for word in near)
    return f"did you mean {likely}" if near else f"choose one of the {len(entry.words)} in its list"


def _fits(entry: Entry, value: Value) -> bool:
    if entry.is_text:
        return not isinstance(value, SheetError)
    if entry.limits is None:
        return _listed(entry, value)
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return number and entry.limits.holds(float(value))  # type: ignore[arg-type]


def _quoted(value: Any) -> str:
    """A value as a message quotes it."""
    if value is None or value == "":
        return "blank"
    return f"{value:g}" if isinstance(value, float) else repr(str(value))
