"""Random valid entries for a book, drawn from its own limits, and every kind of bad entry."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator

from tanksheet.calc.convert import convert
from tanksheet.errors import SheetError
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.xlsx.address import Value

Drawn = dict[str, Value | list[Value]]
# A number is mostly drawn from what is usual, sometimes from all that is possible.
USUAL_SHARE, BLANK_SHARE = 0.85, 0.15
# What a cell may hold besides numbers and words of its list: pasted errors, truth, numbers held as
# text, and words that a search would read as a pattern.
ERRORS = tuple(getattr(SheetError, name) for name in ("VALUE", "NA", "REF", "DIV", "NUM", "NAME"))
STRANGE: tuple[Value, ...] = (*ERRORS, True, "12", "*", "?*", "~")
BAD_NUMBERS: tuple[Value, ...] = ("twelve", None, 0.0, -3.0, 1e17, "12 L", *STRANGE)
# Dates held as text, which each land's spreadsheet would read in its own way; the last day that is
# too early, and the first that is too late.
BAD_DATES: tuple[Value, ...] = ("tomorrow", "27 Nov. 2026", "2026-13-45", 36525.0, 73051.0)
BAD_WORDS: tuple[Value, ...] = ("no such word", None, 7.0, *STRANGE)


def random_settings(book: Book, seed: int) -> Iterator[Drawn]:
    """Endless settings of all entries of a book; the same seed gives the same ones."""
    draw = random.Random(f"{book.name} {seed}")
    while True:
        words = {e.key: _words(e, draw) for e in book.entries.values() if not e.limits}
        numbers = {e.key: _drawn(e, words, draw) for e in book.entries.values() if e.limits}
        yield {**words, **numbers}


def _words(entry: Entry, draw: random.Random) -> Value | list[Value]:
    known = entry.usual_words or entry.words
    blanks = 2 * BLANK_SHARE if entry.optional else 0
    if entry.single:
        return None if blanks and draw.random() < blanks else draw.choice(known)
    return [None if draw.random() < blanks else draw.choice(known) for _ in entry.cells]


def _drawn(entry: Entry, words: Drawn, draw: random.Random) -> Value | list[Value]:
    unit = str(words.get(entry.unit_key, ""))
    if entry.single:
        if entry.optional and draw.random() < BLANK_SHARE:
            return None
        return _number(entry, unit, draw)
    run: list[Value] = [_number(entry, unit, draw) for _ in entry.cells]
    if entry.rare:
        return [each if draw.random() < BLANK_SHARE else None for each in run]
    if entry.optional:  # readings: the first stays, so that there is one
        return [run[0], *(None if draw.random() < BLANK_SHARE else each for each in run[1:])]
    return run


def _number(entry: Entry, unit: str, draw: random.Random) -> float:
    low, high = entry.usual
    if draw.random() > USUAL_SHARE and entry.limits:
        low = max(entry.limits.low, low / 100)
        high = min(entry.limits.high, high * 100)
    if entry.limits and entry.limits.is_date:
        return float(round(draw.uniform(low, high)))
    # Nine digits: with fewer, results in another unit often end in a 5, which engines round
    # differently when the last binary digit is off.
    return float(f"{_as_typed(_between(low, high, draw), entry, unit):.9g}")


def _between(low: float, high: float, draw: random.Random) -> float:
    if low > 0 and high / low > 30:
        return math.exp(draw.uniform(math.log(low), math.log(high)))
    return draw.uniform(low, high)


def _as_typed(number: float, entry: Entry, unit: str) -> float:
    if entry.base_unit == "degC":
        return float(convert(number, entry.base_unit, unit))
    if entry.base_unit == "parts":
        return 100 / number if unit == RATIO_FORMS[1] else number
    if not unit:
        return number
    return number / float(entry.to_base(unit)) if entry.to_base else number


def edge_settings(book: Book) -> Iterator[Drawn]:
    """One bad entry at a time, all else at its default: see ``bad_values``."""
    for entry in book.entries.values():
        for value in () if entry.like else bad_values(entry):
            if entry.single:
                yield {entry.key: value}
            else:
                yield {entry.key: [value, *entry.default[1:]]}
        unit = book.entries.get(entry.unit_key) if entry.single and not entry.like else None
        if unit:
            yield {entry.key: f" 5  {unit.default[0]}"}  # read as the number


def bad_values(entry: Entry) -> tuple[Value, ...]:
    """What nobody should type: for a number text, blank, 0, negative and far too much; for a choice
    words of no list and the wrong case; for both what ``STRANGE`` holds."""
    if entry.is_text:
        return (*STRANGE, "x" * 300)
    if entry.limits and entry.limits.is_date:
        return (*BAD_NUMBERS, *BAD_DATES)
    if not entry.words:
        return BAD_NUMBERS
    first = next((word for word in entry.words if word.swapcase() != word), "")
    pattern = f"{entry.words[0][:1]}*"
    return (*BAD_WORDS, pattern, *([first.swapcase()] if first else []))
