"""The programs' rows to amounts: many at once where they are good, one by one where they are not.

A piece of rows becomes columns of numbers; words are numbered by the tables that they must be in.
A row that does not come out as a sound amount is looked at again by ``judged``, which is the rule:
it takes the row after all (blanks around a word, say) or says why not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import polars as pl
from numpy.typing import NDArray

from tanksheet.batch.cells import Numbers
from tanksheet.batch.entries import BadCell, choice, number, text_of, word
from tanksheet.batch.layout import GRAINS, MOST_KG, RATE_UNITS, UNIT_NAMES, WEEKS, Counts, Reject
from tanksheet.batch.masters import Master, Product, unknown
from tanksheet.batch.pairs import Pairs
from tanksheet.batch.table import Rows

Floats = NDArray[np.float64]


@dataclass
class Known:
    """What the rows of the programs may name, and what it comes to. It goes to other processes."""

    members: list[str]
    products: list[str]
    priced: set[str]
    blocks: dict[tuple[str, str], float]  # hectares
    made: dict[str, Product]
    refused: Mapping[str, set[Any]]
    price_reason: str

    def __getstate__(self) -> dict[str, Any]:
        return {name: value for name, value in self.__dict__.items() if name != "numbers"}

    @cached_property
    def numbers(self) -> Numbered:
        """The same as numbers, made once in each process."""
        return Numbered(self)


def known(
    members: Master, blocks: Master, products: Master, priced: set[str], scenario: str
) -> Known:
    """What the masters allow; ``priced`` are the products with a price."""
    return Known(
        sorted(members.rows),
        sorted(products.rows),
        priced,
        blocks.rows,
        products.rows,
        {"members": members.refused, "blocks": blocks.refused, "products": products.refused},
        f"no price in the scenario {scenario}" if scenario else "no price in prices",
    )


class Numbered:
    """Members, blocks and products by number, with one more number for what is unknown."""

    def __init__(self, known: Known) -> None:
        self.member_words = pl.Enum(known.members)
        self.product_words = pl.Enum(known.products)
        self.unit_words = pl.Enum(UNIT_NAMES)
        names = sorted({block for _, block in known.blocks})
        self.block_words = pl.Enum(names)
        member_numbers = {name: at for at, name in enumerate(known.members)}
        block_numbers = {name: at for at, name in enumerate(names)}
        pairs = [(member_numbers[m], block_numbers[b]) for m, b in known.blocks]
        first, second = np.array(pairs, np.int64).reshape(-1, 2).T
        self.pairs = Pairs(first, second, len(names) + 1)
        self.areas = np.array([*known.blocks.values(), np.nan])
        self.member_numbers = member_numbers
        self.product_numbers = {name: at for at, name in enumerate(known.products)}
        self.factors = np.full((len(RATE_UNITS) + 1, len(known.products) + 1), np.nan)
        for at, name in enumerate(known.products):
            for place in range(len(RATE_UNITS) if name in known.priced else 0):
                factor = kilograms(place, known.made[name])
                self.factors[place, at] = np.nan if factor is None else factor
        self.per_area = np.array([unit.is_per_area for unit in RATE_UNITS] + [True])


def kilograms(unit: int, product: Product) -> float | None:
    """Kilograms that one of a unit is (on a hectare); None for litres of what is no liquid."""
    rate = RATE_UNITS[unit]
    if not rate.is_volume:
        return rate.factor
    return None if product.density is None else rate.factor * product.density


@dataclass
class Amounts:
    """What came of some rows: cells and their grains, and the rejects, in order of their lines."""

    places: Numbers
    grains: Numbers
    rejects: list[Reject]
    counts: Counts
    done: int  # of the table's size


def amounts(rows: Rows, known: Known) -> Amounts:
    """The amounts of some rows. Every row is in them or among the rejects."""
    places, kg = _columns(rows.frame, known)
    good = (kg >= 0) & (kg <= MOST_KG)  # NaN is neither
    grains = np.rint(kg[good] * GRAINS).astype(np.int64)
    counts = Counts(len(good) + len(rows.rejects))
    made = Amounts(places[good], grains, list(rows.rejects), counts, rows.done)
    if not good.all():
        _look_again(made, rows, np.flatnonzero(~good), known)
    made.rejects.sort(key=lambda reject: reject.line)
    counts.rejected, counts.accepted = len(made.rejects), len(made.places)
    return made


def _columns(frame: pl.DataFrame, known: Known) -> tuple[Numbers, Floats]:
    """The cell and the kilograms of each row; NaN for a row that must be looked at again."""
    have = known.numbers
    made = frame.select(  # all at once, on as many cores as there are
        _numbered("member", have.member_words, len(known.members)),
        _numbered("block", have.block_words, have.pairs.width - 1),
        _numbered("product", have.product_words, len(known.products)),
        _numbered("rate_unit", have.unit_words, len(RATE_UNITS)),
        _rate(frame),
        _is_bad_week(frame).alias("week"),
    )
    member, block, product, unit, rate, is_bad_week = (each.to_numpy() for each in made)
    area = have.areas[have.pairs.find(member, block)]
    # An unknown block is NaN here whether or not the unit asks for its area.
    area = np.where(have.per_area[unit] | np.isnan(area), area, 1.0)
    kg = rate * area * have.factors[unit, product]
    kg[is_bad_week | (rate < 0)] = np.nan
    return member * len(known.products) + product, kg


def _numbered(column: str, words: pl.Enum, unknown: int) -> pl.Expr:
    text = pl.col(column).cast(pl.String, strict=False)
    return text.cast(words, strict=False).to_physical().cast(pl.Int64).fill_null(unknown)


def _rate(frame: pl.DataFrame) -> pl.Expr:
    if frame.schema["rate"] == pl.Boolean:  # TRUE is no number
        return pl.when(False).then(0.0).otherwise(np.nan).alias("rate")
    return pl.col("rate").cast(pl.Float64, strict=False).fill_null(np.nan)


def _is_bad_week(frame: pl.DataFrame) -> pl.Expr:
    week = pl.col("week")
    if frame.schema["week"] == pl.Boolean:
        return week.is_not_null()
    number = week if frame.schema["week"].is_numeric() else week.cast(pl.Int64, strict=False)
    good = number.is_between(1, WEEKS) & (number % 1 == 0)  # a part of a week is none
    return ~(week.is_null() | good.fill_null(False))


def _look_again(made: Amounts, rows: Rows, at: NDArray[np.int64], known: Known) -> None:
    places, grains = [], []
    lines = rows.lines[at].tolist()
    for line, row in zip(lines, rows.frame[at].iter_rows(named=True), strict=True):
        try:
            place, amount = judged(row, known)
        except BadCell as bad:
            made.rejects.append(Reject(line, bad.column, bad.value, bad.reason))
        else:
            places.append(place)
            grains.append(amount)
    made.places = np.concatenate([made.places, np.array(places, np.int64)])
    made.grains = np.concatenate([made.grains, np.array(grains, np.int64)])


def judged(row: Mapping[str, Any], known: Known) -> tuple[int, int]:
    """The cell of one row and its grains. Raises: BadCell."""
    have = known.numbers
    member = word("member", row["member"])
    if member not in have.member_numbers:
        raise BadCell("member", member, unknown("members", member in known.refused["members"]))
    block = word("block", row["block"])
    if (member, block) not in known.blocks:
        is_refused = (member, block) in known.refused["blocks"]
        raise BadCell("block", block, unknown("blocks for this member", is_refused))
    _check_week(row["week"])
    product = word("product", row["product"])
    if product not in known.made:
        is_refused = product in known.refused["products"]
        raise BadCell("product", product, unknown("products", is_refused))
    if product not in known.priced:
        raise BadCell("product", product, known.price_reason)
    rate = number("rate", row["rate"])
    unit = UNIT_NAMES.index(choice("rate_unit", row["rate_unit"], UNIT_NAMES))
    factor = kilograms(unit, known.made[product])
    if factor is None:
        raise BadCell("rate_unit", row["rate_unit"], "a volume, and the product is no liquid")
    area = known.blocks[member, block] if RATE_UNITS[unit].is_per_area else 1.0
    kg = rate * area * factor
    if kg > MOST_KG:
        raise BadCell("rate", row["rate"], f"more than {MOST_KG:,.0f} kg in one row")
    place = have.member_numbers[member] * len(known.products) + have.product_numbers[product]
    return place, round(kg * GRAINS)


def _check_week(value: Any) -> None:
    if text_of(value).strip():
        week = number("week", value)
        if not (week.is_integer() and 1 <= week <= WEEKS):
            raise BadCell("week", value, f"must be a whole number from 1 to {WEEKS}, or blank")
