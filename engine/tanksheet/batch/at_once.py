"""Members and blocks of tables without a fault, all rows at once.

A large co-op has tens of thousands of blocks, and their tables are nearly always sound. Whatever is
odd about one cell makes this give up: ``masters`` then reads row by row, which is the rule.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

import polars as pl

from tanksheet.batch.layout import MOST_AREA
from tanksheet.batch.table import Table

# Plain letters and signs without a blank at either end, which nobody would read otherwise.
_WORD = r"^[!-~]([ -~]*[!-~])?$"
_NUMBER = r"^[0-9]{1,15}(\.[0-9]{1,15})?$"


def members(table: Table) -> dict[str, str] | None:
    """The name of each member, or None for a table that must be read row by row."""
    frame = _whole(table, ("member", "name"))
    if frame is None:
        return None
    blank = pl.col("name").is_null() | (pl.col("name") == "")
    name = blank | pl.col("name").str.contains(_WORD)
    good = frame.select(pl.col("member").str.contains(_WORD).fill_null(False) & name).to_series()
    if not good.all() or frame["member"].n_unique() < len(frame):
        return None
    return dict(zip(frame["member"], frame["name"].fill_null(""), strict=True))


def blocks(
    table: Table, known: Collection[str], factors: Mapping[str, float]
) -> dict[tuple[str, str], float] | None:
    """The hectares of each block by member and block, or None."""
    frame = _whole(table, ("member", "block", "area", "area_unit"))
    if frame is None:
        return None
    factor = pl.col("area_unit").replace_strict(factors, default=None, return_dtype=pl.Float64)
    plain = pl.col("area").str.contains(_NUMBER)
    area = pl.when(plain).then(pl.col("area")).cast(pl.Float64, strict=False)
    made = frame.select(
        "member",
        "block",
        (area * factor).alias("hectares"),
        (
            pl.col("member").is_in(pl.Series(list(known), dtype=pl.String).implode())
            & pl.col("block").str.contains(_WORD)
            & (area > 0)
            & (area <= MOST_AREA / factor)
        )
        .fill_null(False)
        .alias("good"),
    )
    if not made["good"].all() or made.select("member", "block").is_duplicated().any():
        return None
    keys = zip(made["member"], made["block"], strict=True)
    return dict(zip(keys, made["hectares"].to_list(), strict=True))


def _whole(table: Table, columns: tuple[str, ...]) -> pl.DataFrame | None:
    """The columns of all rows, if each is text and no row was refused or moved."""
    frames = []
    for piece in table.rows():
        is_sorted = bool((piece.lines[1:] > piece.lines[:-1]).all())
        if piece.rejects or not is_sorted:
            return None
        if any(piece.frame.schema[column] != pl.String for column in columns):
            return None
        frames.append(piece.frame.select(columns))
    return pl.concat(frames) if frames else None
