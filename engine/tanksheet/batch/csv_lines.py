"""Tells the lines of a piece of CSV: those with the right count of fields, and the odd ones.

A fast reader stops at one damaged line, or passes the damage on without a word. So the delimiters
are counted first: a line is plain where it has just the commas that it should, every quote stands
at the edge of a field, and its bytes are UTF-8. Plain lines lose their quotes and go on together;
the odd ones are read one at a time by Python's own reader, which refuses damage (RFC 4180).
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from tanksheet.batch.entries import cut
from tanksheet.batch.layout import Reject

COMMA, QUOTE, NEWLINE = b",", b'"', b"\n"
_COMMA, _QUOTE, _NEWLINE, _RETURN, _HIGH = 44, 34, 10, 13, 128
MOST_LINES = 100  # of one row, whose fields may hold line breaks between quotes
BLOCK = 1 << 16
TELLING = 4  # fields; with fewer, a line of somebody's address may look like a row


@dataclass
class Split:
    """``plain`` lines without quotes; ``places`` of them (from 0), None for all in order.

    ``rows`` are the odd lines that could be read, by place; ``rejects`` those that could not, whose
    lines are places too. ``lines`` is how many there were in all.
    """

    plain: bytes
    count: int
    lines: int
    places: NDArray[np.int64] | None = None
    rows: list[tuple[int, list[str]]] = field(default_factory=list)
    rejects: list[Reject] = field(default_factory=list)


def split(data: bytes, fields: int) -> Split:
    """Sorts the lines of ``data``, which ends with a line break.

    A line with too many fields may be among the plain ones if one with too few is; the reader that
    comes next refuses it, and ``sorted_out`` then finds both.
    """
    data = data.replace(b"\r\n", NEWLINE) if b"\r" in data else data
    lines = _count(data, _NEWLINE)
    plain = _plain(data, lines, fields)
    if plain is not None:
        return Split(plain, lines, lines)
    return _in_blocks(data, fields, BLOCK)


def sorted_out(data: bytes, fields: int) -> Split:
    """As ``split``, every line being judged by itself."""
    return _in_blocks(data.replace(b"\r\n", NEWLINE), fields, 0)


def _count(data: bytes, byte: int) -> int:
    return int(np.count_nonzero(np.frombuffer(data, np.uint8) == byte))


def _plain(data: bytes, lines: int, fields: int) -> bytes | None:
    """The data without quotes if, by its counts, every line of it is plain."""
    commas = (fields - 1) * lines
    if _count(data, _COMMA) != commas or b"\r" in data or not _is_utf8(data):
        return None
    if QUOTE not in data:
        return data
    return data.translate(None, QUOTE) if _all_quoted(data, lines, commas) else None


def _in_blocks(data: bytes, fields: int, size: int) -> Split:
    """Sorts the lines block by block, since most blocks of a damaged file are plain.

    With a size of 0 there is one block, whose lines are judged one by one.
    """
    plain, places = [], []
    raws: dict[int, bytes] = {}
    begin = lines = 0
    while begin < len(data):
        end = data.find(NEWLINE, min(begin + size, len(data)) - 1) + 1 if size else len(data)
        block = data[begin:end]
        count = _count(block, _NEWLINE)
        good = _plain(block, count, fields) if size else None
        kept = np.arange(count)
        if good is None:
            odd = _odd(block, fields)
            good, found = _without(block, np.flatnonzero(odd))
            raws |= {lines + place: raw for place, raw in found.items()}
            kept = np.flatnonzero(~odd)
        plain.append(good)
        places.append(kept + lines)
        begin, lines = end, lines + count
    made = Split(b"".join(plain), lines - len(raws), lines, np.concatenate(places))
    _read_odd(made, raws, fields)
    return made


def _is_utf8(data: bytes) -> bool:
    if data.isascii():
        return True
    try:
        data.decode()
    except UnicodeDecodeError:
        return False
    return True


def _all_quoted(data: bytes, lines: int, commas: int) -> bool:
    """Whether every field of every line stands between quotes and holds none.

    Every comma and every line break has a quote on both sides, none shares one with another, and
    there are no more quotes than that.
    """
    return (
        data.count(b'","') == commas
        and data.count(b'"\n"') == lines - 1
        and data.startswith(QUOTE)
        and data.endswith(b'"\n')
        and b',"\n' not in data
        and b'\n",' not in data
        and data.count(QUOTE) == 2 * (commas + lines)
    )


def _odd(data: bytes, fields: int) -> NDArray[np.bool_]:
    """Which lines are not plain."""
    array = np.frombuffer(data, np.uint8)
    is_mark = (array == _COMMA) | (array == _NEWLINE)
    if QUOTE in data:
        is_mark |= array == _QUOTE
    marks = np.flatnonzero(is_mark)
    kinds = array[marks]
    breaks = np.flatnonzero(kinds == _NEWLINE)
    sizes = np.diff(breaks, prepend=-1)
    if QUOTE in data:
        odd = _odd_by_quotes(array, marks, kinds, breaks, sizes, fields)
    else:
        odd = sizes != fields
    ends = marks[breaks]
    if b"\r" in data:
        odd[np.searchsorted(ends, np.flatnonzero(array == _RETURN))] = True
    if not _is_utf8(data):
        for at in np.unique(np.searchsorted(ends, np.flatnonzero(array >= _HIGH))).tolist():
            odd[at] |= not _is_utf8(data[ends[at - 1] + 1 if at else 0 : ends[at]])
    return odd


def _odd_by_quotes(
    array: NDArray[np.uint8],
    marks: NDArray[np.int64],
    kinds: NDArray[np.uint8],
    breaks: NDArray[np.int64],
    sizes: NDArray[np.int64],
    fields: int,
) -> NDArray[np.bool_]:
    """Which lines have the wrong count of commas, a comma between quotes, a quote that is not
    closed, or one that does not open or close a whole field."""
    is_quote = kinds == _QUOTE
    seen = np.cumsum(is_quote)
    upto = seen[breaks]
    counts = np.diff(upto, prepend=0)
    odd: NDArray[np.bool_] = (sizes - counts != fields) | (counts % 2 == 1)
    line = np.repeat(np.arange(len(breaks)), sizes)
    is_inside = (seen - (upto - counts)[line]) % 2 == 1  # an opening quote counts as inside
    before = array[np.maximum(marks - 1, 0)]
    after = array[np.minimum(marks + 1, len(array) - 1)]
    begins = (marks == 0) | (before == _COMMA) | (before == _NEWLINE)
    finishes = (after == _COMMA) | (after == _NEWLINE)
    bad = np.where(is_quote, ~np.where(is_inside, begins, finishes), is_inside)
    odd[line[bad]] = True
    return odd


def _without(data: bytes, odd: NDArray[np.int64]) -> tuple[bytes, dict[int, bytes]]:
    """The data without quotes and without its odd lines, and these by place."""
    pieces, raws, at = [], {}, 0
    ends = np.flatnonzero(np.frombuffer(data, np.uint8) == _NEWLINE)
    for place in odd.tolist():
        begin = int(ends[place - 1]) + 1 if place else 0
        pieces.append(data[at:begin])
        at = int(ends[place]) + 1
        raws[place] = data[begin : at - 1]
    pieces.append(data[at:])
    plain = b"".join(pieces)
    return plain.translate(None, QUOTE) if QUOTE in plain else plain, raws


def _read_odd(made: Split, raws: dict[int, bytes], fields: int) -> None:
    """Reads the odd lines one at a time, and those together that one row spreads over."""
    done = -1
    for place, raw in raws.items():
        if place <= done:
            continue
        found, done = whole(raw, fields), place
        if found is None and raw.count(QUOTE) % 2:
            found, done = _spread(raws, place, fields)
        if found is not None:
            made.rows.append((place, found))
        else:
            made.rejects.append(_damaged(place, raw, fields))


def whole(raw: bytes, fields: int) -> list[str] | None:
    """The fields of a line, or of some, that is a whole row by itself; None for any other."""
    if raw.count(QUOTE) % 2:
        return None
    found = _parsed(raw)
    return found if found is not None and len(found) == fields else None


def _parsed(raw: bytes) -> list[str] | None:
    try:
        rows = list(csv.reader([raw.decode()], strict=True))
    except (csv.Error, UnicodeDecodeError):
        return None
    return rows[0] if len(rows) == 1 else None


def _spread(raws: dict[int, bytes], place: int, fields: int) -> tuple[list[str] | None, int]:
    """A row with line breaks between quotes, and its last line.

    Where rows can be told by their count of fields, no line within it may be a row by itself, nor
    may its first and its last line be one but for a single quote: then that was left open by
    mistake, and good rows would be swallowed.
    """
    raw, telling = raws[place], fields >= TELLING
    for last in range(place + 1, place + MOST_LINES):
        line = raws.get(last)
        if line is None or (telling and whole(line, fields) is not None):
            break
        raw += NEWLINE + line
        if line.count(QUOTE) % 2 == 0:
            continue
        found = whole(raw, fields)
        pair = all(_is_row_but_for_a_quote(each, fields) for each in (raws[place], line))
        return (None, place) if found is None or (telling and pair) else (found, last)
    return None, place


def _is_row_but_for_a_quote(raw: bytes, fields: int) -> bool:
    return raw.count(QUOTE) == 1 and raw.count(COMMA) == fields - 1


def _damaged(place: int, raw: bytes, fields: int) -> Reject:
    shown = raw.decode(errors="backslashreplace")
    if not raw.strip():
        reason = "blank line"
    elif shown.encode() != raw:
        reason = "not UTF-8; save the file as CSV UTF-8"
    elif raw.count(QUOTE) % 2:
        reason = "a quote is opened and not closed"
    elif (found := _parsed(raw)) is None:
        reason = "a quote within a field must be doubled, and a field in quotes end with one"
    else:
        few = "too few" if len(found) < fields else "too many"
        reason = f"{few} fields: {len(found)} where the header has {fields}"
    return Reject(place, "", cut(shown), reason)
