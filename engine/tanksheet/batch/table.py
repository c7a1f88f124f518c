"""What every kind of table gives, whatever it was written in: rows by column, with their lines."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np
import polars as pl
from numpy.typing import NDArray

from tanksheet.batch.layout import COLUMNS, OPTIONAL, BatchProblem, Reject


@dataclass
class Rows:
    """Some rows of a table: ``frame`` has the columns of ``layout``, ``lines`` where each begins.

    ``rejects`` are the rows that could not be told into fields; ``done`` is how far into the table
    this reaches, in the unit of its ``size``.
    """

    frame: pl.DataFrame
    lines: NDArray[np.int64]
    rejects: list[Reject] = field(default_factory=list)
    done: int = 0


class Part(Protocol):
    """A piece of a table that can be read by itself, in another process too."""

    def rows(self) -> Iterator[Rows]: ...


class Table(Part, Protocol):
    """A table that was found: ``file`` is what messages and rejects call it."""

    file: str
    size: int

    def parts(self) -> list[Part]: ...


def columns_of(table: str) -> tuple[str, ...]:
    """The columns that are read of a table, those that may be missing last."""
    return COLUMNS[table] + OPTIONAL.get(table, ())


def places_of(table: str, file: str, header: Sequence[str]) -> dict[str, int]:
    """Where each column of a table stands in a header; columns that may be missing are left out.

    Raises: BatchProblem for a header in which a column is missing or stands twice.
    """
    names = [name.strip().casefold() for name in header]
    places = {}
    for column in columns_of(table):
        found = [place for place, name in enumerate(names) if name == column.casefold()]
        if len(found) > 1:
            raise BatchProblem(f"{file}: the header has the column {column} twice")
        if found:
            places[column] = found[0]
    missing = [column for column in COLUMNS[table] if column not in places]
    if missing:
        raise BatchProblem(
            f"{file}: the header lacks {', '.join(missing)}; it needs "
            f"{','.join(COLUMNS[table])}{_hint(missing, header)}"
        )
    return places


def _hint(missing: Sequence[str], header: Sequence[str]) -> str:
    if len(header) == 1:
        for sign, name in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
            if sign in header[0]:
                return f" (its fields are parted by {name}; save it with commas)"
    near = difflib.get_close_matches(missing[0], header, 1)
    return f" (is {near[0]!r} meant for {missing[0]}?)" if near else ""


def framed(table: str, frame: pl.DataFrame, places: dict[str, int]) -> pl.DataFrame:
    """The wanted columns of a frame under their own names; what is missing is blank."""
    have = frame.columns
    return frame.select(
        pl.col(have[places[column]]).alias(column)
        if column in places
        else pl.lit(None, pl.String).alias(column)
        for column in columns_of(table)
    )
