"""A table in a CSV file, read in pieces of some megabytes that end where a row does."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

import numpy as np
import polars as pl

from tanksheet.batch.csv_lines import NEWLINE, TELLING, Split, sorted_out, split, whole
from tanksheet.batch.layout import BatchProblem, Reject
from tanksheet.batch.table import Part, Rows, framed, places_of

PIECE = 8 << 20
PART = 32 << 20  # of a file, for one task of a cluster
MOST_HEADER = 1 << 16
MOST_LINE = 32 << 20
LOOK_BACK = 1 << 16  # how far a piece is shortened to end before a row that is whole by itself
BOM = b"\xef\xbb\xbf"
_WIDE = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}
_SAVE = "save it as CSV UTF-8 with commas"


@dataclass(frozen=True)
class CsvPart:
    """The bytes from ``start`` to ``stop`` of a file; the first of them begins line ``line``."""

    path: Path
    table: str
    file: str
    header: tuple[str, ...]
    start: int
    stop: int
    line: int

    def rows(self) -> Iterator[Rows]:
        """The rows in pieces. Raises: BatchProblem, OSError."""
        places = places_of(self.table, self.file, self.header)
        line, done = self.line, self.start
        with self.path.open("rb") as stream:
            for data in self._pieces(stream):
                done += len(data)
                if not data.endswith(NEWLINE):
                    data += NEWLINE
                frame, made = _read(data, len(self.header))
                kept = np.arange(made.count) if made.places is None else made.places
                kept = np.concatenate([kept, [place for place, _ in made.rows]])
                yield Rows(
                    framed(self.table, frame, places),
                    kept.astype(np.int64) + line,
                    [
                        Reject(each.line + line, each.column, each.value, each.reason)
                        for each in made.rejects
                    ],
                    done,
                )
                line += made.lines

    def _pieces(self, stream: BinaryIO) -> Iterator[bytes]:
        stream.seek(self.start)
        left, held = self.stop - self.start, b""
        # Where no line can be told to be a row, nobody knows where to cut; such tables are small.
        most = PIECE if len(self.header) >= TELLING else left
        while left > 0:
            fresh = stream.read(min(most, left))
            left -= len(fresh)
            held += fresh
            if not fresh:
                break
            at = self._cut(held) if left else len(held)
            if at:
                yield held[:at]
                held = held[at:]
        if held:
            yield held

    def _cut(self, data: bytes) -> int:
        """Where the last line begins that is a row by itself: no row spreads over that place."""
        last = data.rfind(NEWLINE) + 1
        if not last and len(data) > MOST_LINE:
            raise BatchProblem(f"{self.file}: a line has more than {MOST_LINE:,} bytes; {_SAVE}")
        end = last
        while end > max(1, last - LOOK_BACK):
            begin = data.rfind(NEWLINE, 0, end - 1) + 1
            if not begin:
                return 0
            if whole(data[begin : end - 1].rstrip(b"\r"), len(self.header)) is not None:
                return begin
            end = begin
        return last


def _read(data: bytes, fields: int) -> tuple[pl.DataFrame, Split]:
    made = split(data, fields)
    schema = {f"c{place}": pl.String for place in range(fields)}
    try:
        frame = _plain(made, schema)
    except pl.exceptions.PolarsError:  # a line with too many fields, and one with too few
        made = sorted_out(data, fields)
        frame = _plain(made, schema)
    if made.rows:
        odd = pl.DataFrame([row for _, row in made.rows], schema=schema, orient="row")
        frame = pl.concat([frame, odd])
    return frame, made


def _plain(made: Split, schema: dict[str, type[pl.String]]) -> pl.DataFrame:
    if not made.count:
        return pl.DataFrame(schema=schema)
    # Within a file the mark is a letter, but the reader drops one that stands first.
    data = BOM + made.plain if made.plain.startswith(BOM) else made.plain
    frame = pl.read_csv(data, has_header=False, schema=schema, quote_char=None)
    if len(frame) != made.count:
        raise pl.exceptions.ComputeError(f"{len(frame)} rows of {made.count} lines")
    return frame


class CsvTable:
    """The table in a file, whose header has been read.

    Raises: BatchProblem for a file that as a whole is no such table.
    """

    def __init__(self, path: Path, table: str) -> None:
        self.path, self.file = path, path.name
        self.size = path.stat().st_size
        with path.open("rb") as stream:
            head = stream.read(MOST_HEADER)
        header, start = self._header(head)
        places_of(table, self.file, header)
        self.whole = CsvPart(path, table, self.file, header, start, self.size, 2)

    def rows(self) -> Iterator[Rows]:
        return self.whole.rows()

    def _header(self, head: bytes) -> tuple[tuple[str, ...], int]:
        if not head.strip():
            raise BatchProblem(f"{self.file}: the file is empty; it needs a header and rows")
        if head[:2] in _WIDE or b"\0" in head[:MOST_HEADER]:
            kind = _WIDE.get(head[:2], "UTF-16 or no text")
            raise BatchProblem(f"{self.file}: this is {kind}; {_SAVE}")
        line, sign, _ = head.partition(NEWLINE)
        if not sign and len(head) == MOST_HEADER:
            raise BatchProblem(f"{self.file}: its first line is no header; {_SAVE}")
        line = line.removesuffix(b"\r")
        if b"\r" in line:
            raise BatchProblem(f"{self.file}: its lines end in CR alone; {_SAVE}")
        try:
            text = line.decode("utf-8-sig")
            rows = list(csv.reader([text], strict=True))
        except (UnicodeDecodeError, csv.Error) as problem:
            raise BatchProblem(f"{self.file}: its header cannot be read ({problem})") from None
        if not text.strip():
            raise BatchProblem(f"{self.file}: its first line is blank; the header must be line 1")
        return tuple(rows[0]), min(head.find(NEWLINE) + 1 or len(head), self.size)

    def parts(self) -> list[Part]:
        """The table in parts that are read apart; together they give what ``rows`` gives."""
        part, found = self.whole, []
        start, line = part.start, part.line
        with self.path.open("rb") as stream:
            while start < part.stop:
                stop = self._part_end(stream, start)
                found.append(
                    CsvPart(part.path, part.table, self.file, part.header, start, stop, line)
                )
                stream.seek(start)
                for at in range(start, stop, PIECE):
                    line += stream.read(min(PIECE, stop - at)).count(NEWLINE)
                start = stop
        return list(found)

    def _part_end(self, stream: BinaryIO, start: int) -> int:
        """A place about one part on, at which a row begins that is whole by itself."""
        stop, fields = self.whole.stop, len(self.whole.header)
        stream.seek(start + PART)
        at = start + PART + len(stream.readline())
        while at < stop:
            line = stream.readline(MOST_LINE)
            if whole(line.rstrip(b"\r\n"), fields) is not None:
                return at
            at += len(line)
        return stop
