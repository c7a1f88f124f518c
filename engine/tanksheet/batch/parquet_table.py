"""A table in a Parquet file. Its first row counts as line 2, as if there were a header above."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import polars as pl

from tanksheet.batch.layout import BatchProblem
from tanksheet.batch.table import Part, Rows, framed, places_of

PIECE = 250_000  # rows
PART = 1_000_000  # rows of one task of a cluster


@dataclass(frozen=True)
class ParquetPart:
    """Rows of a file from ``start`` on."""

    path: Path
    table: str
    file: str
    columns: tuple[str, ...]
    start: int
    count: int

    def rows(self) -> Iterator[Rows]:
        """The rows in pieces. Raises: BatchProblem for a damaged file."""
        places = places_of(self.table, self.file, self.columns)
        wanted = [self.columns[place] for place in places.values()]
        whole = pl.scan_parquet(self.path, glob=False).select(wanted)
        done = self.start
        try:
            part = whole.slice(self.start, self.count)
            for frame in part.collect_batches(chunk_size=PIECE, maintain_order=True):
                lines = np.arange(done + 2, done + 2 + len(frame))
                done += len(frame)
                here = {column: place for place, column in enumerate(places)}
                yield Rows(framed(self.table, frame, here), lines, done=done)
        except pl.exceptions.PolarsError as problem:
            raise damaged(self.file, problem) from None


def damaged(file: str, problem: Exception) -> BatchProblem:
    said = str(problem).partition("\n")[0][:100]
    return BatchProblem(f"{file}: this Parquet file cannot be read ({said}); write it again")


class ParquetTable:
    """The table in a file. Raises: BatchProblem for a file that is no such table."""

    def __init__(self, path: Path, table: str) -> None:
        self.file = path.name
        if not path.stat().st_size:
            raise BatchProblem(f"{self.file}: the file is empty; it needs columns and rows")
        try:
            scan = pl.scan_parquet(path, glob=False)
            columns = tuple(scan.collect_schema().names())
            self.size = int(scan.select(pl.len()).collect().item())
        except (pl.exceptions.PolarsError, OSError) as problem:
            raise damaged(self.file, problem) from None
        places_of(table, self.file, columns)
        self.whole = ParquetPart(path, table, self.file, columns, 0, self.size)

    def rows(self) -> Iterator[Rows]:
        return self.whole.rows()

    def parts(self) -> list[Part]:
        """The table in parts that are read apart; together they give what ``rows`` gives."""
        part = self.whole
        return [
            ParquetPart(part.path, part.table, part.file, part.columns, start, PART)
            for start in range(0, self.size, PART)
        ]
