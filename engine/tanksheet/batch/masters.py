"""Members, blocks, products and prices: read whole, checked row by row, numbered.

Members and products are numbered in the order of their names, so that results come out in that
order whatever the order of the rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from tanksheet.batch import at_once
from tanksheet.batch.entries import BadCell, above_zero, choice, exact, number, text_of, word
from tanksheet.batch.layout import (
    FORMS,
    GRAINS,
    LIQUID,
    MOST_AREA,
    MOST_PACK,
    MOST_PRICE,
    NUTRIENTS,
    Counts,
    Reject,
    units_of,
)
from tanksheet.batch.table import Table
from tanksheet.calc.convert import unit_factor

Row = dict[str, Any]
DENSITY = (0.3, 3.0)  # kg/L, as the glossary's


@dataclass(frozen=True)
class Product:
    """``density`` is that of a liquid, else None; ``pack`` in kg; ``label`` in percent."""

    density: float | None
    pack: float
    label: Mapping[str, float]

    @property
    def pack_grains(self) -> int:
        return round(self.pack * GRAINS)


@dataclass
class Master:
    """What was taken of a table: its rows by key, the rest as rejects."""

    rows: dict[Any, Any] = field(default_factory=dict)
    refused: set[Any] = field(default_factory=set)
    rejects: list[Reject] = field(default_factory=list)
    counts: Counts = field(default_factory=Counts)


def read(
    table: Table, column: str, key: Callable[[Row], Any], take: Callable[[Row], Any]
) -> Master:
    """Reads a table. ``key`` names a row, by ``column`` above all; ``take`` is what is kept of it.
    Either raises BadCell for a row that is refused."""
    made = Master()
    for line, row in _in_order(table, made):
        name: Any = None
        try:
            name = key(row)
            if name in made.rows:
                raise BadCell(column, row[column], "stands above already, and that row holds")
            made.rows[name] = take(row)
        except BadCell as bad:
            made.refused.add(name)
            made.rejects.append(Reject(line, bad.column, bad.value, bad.reason))
    made.refused -= made.rows.keys()
    made.rejects.sort(key=lambda reject: reject.line)
    made.counts.rejected = len(made.rejects)
    made.counts.accepted = made.counts.read - made.counts.rejected
    return made


def _all_of(rows: dict[Any, Any]) -> Master:
    """A table of which every row was taken."""
    return Master(rows, counts=Counts(len(rows), len(rows)))


def _in_order(table: Table, made: Master) -> Iterator[tuple[int, Row]]:
    for piece in table.rows():
        made.rejects += piece.rejects
        made.counts.read += len(piece.frame) + len(piece.rejects)
        rows = zip(piece.lines.tolist(), piece.frame.iter_rows(named=True), strict=True)
        is_sorted = bool((piece.lines[1:] > piece.lines[:-1]).all())
        yield from rows if is_sorted else sorted(rows, key=lambda each: each[0])


def _key(*columns: str) -> Callable[[Row], Any]:
    """What names a row: the words of one column, or of several together."""
    if len(columns) == 1:
        return lambda row: word(columns[0], row[columns[0]])
    first, second = columns
    return lambda row: (word(first, row[first]), word(second, row[second]))


def members(table: Table) -> Master:
    """The name of each member; a blank one is no fault."""
    quick = at_once.members(table)
    if quick is not None:
        return _all_of(quick)
    return read(table, "member", _key("member"), lambda row: text_of(row["name"]).strip())


def blocks(table: Table, known: Master) -> Master:
    """The hectares of each block, by member and block."""
    units = units_of("area")
    factors = {name: unit_factor(name, "ha") for name in units.values()}
    quick = at_once.blocks(table, known.rows, factors)
    if quick is not None:
        return _all_of(quick)

    def take(row: Row) -> float:
        _member(row, known)
        said = row["area_unit"]
        factor = factors.get(said) or factors[choice("area_unit", said, units)]
        return above_zero("area", row["area"], MOST_AREA / factor) * factor

    return read(table, "block", _key("member", "block"), take)


def _member(row: Row, known: Master) -> None:
    member = row["member"]
    if member in known.rows:
        return
    member = word("member", member)
    if member not in known.rows:
        raise BadCell("member", member, unknown("members", member in known.refused))


def unknown(table: str, is_refused: bool) -> str:
    """The reason of a word that is in no row of a table."""
    if is_refused:
        return f"its row in {table} was rejected"
    return f"not in {table}"


def products(table: Table) -> Master:
    return read(table, "product", _key("product"), _product)


def _product(row: Row) -> Product:
    form = choice("form", row["form"], FORMS)
    density = None
    if form == LIQUID:
        density = above_zero("density_kgL", row["density_kgL"], DENSITY[1])
        if density < DENSITY[0]:
            raise BadCell("density_kgL", row["density_kgL"], f"must be at least {DENSITY[0]}")
    units = units_of("mass") if density is None else units_of("mass", "volume")
    unit = choice("pack_unit", row["pack_unit"], units)
    is_mass = unit in units_of("mass").values()
    one = unit_factor(unit, "kg") if is_mass else unit_factor(unit, "L") * (density or 0)
    pack = above_zero("pack", row["pack"], MOST_PACK / one) * one
    if round(pack * GRAINS) < 1:
        raise BadCell("pack", row["pack"], "too small")
    label = {name: _percent(name, row[name]) for name in NUTRIENTS if text_of(row[name]).strip()}
    return Product(density, pack, label)


def _percent(column: str, value: Any) -> float:
    found = number(column, value)
    if found > 100:
        raise BadCell(column, value, "a label percent must be at most 100")
    return found


@dataclass
class Prices:
    """Price of one pack by scenario and product; "" is the scenario of rows that name none."""

    master: Master
    currency: str

    @property
    def scenarios(self) -> list[str]:
        return sorted({scenario for scenario, _ in self.master.rows})

    def of(self, scenario: str) -> dict[str, Fraction]:
        """The prices of a scenario; one that it leaves out is that of no scenario."""
        rows = self.master.rows
        return {
            product: rows[key, product]
            for key in ("", scenario)
            for name, product in rows
            if name == key
        }


def prices(table: Table, known: Master) -> Prices:
    """All prices. The first row's currency is that of all: sums of two would mean nothing."""
    currency = ""

    def take(row: Row) -> Fraction:
        nonlocal currency
        product = word("product", row["product"])
        if product not in known.rows:
            raise BadCell("product", product, unknown("products", product in known.refused))
        price = exact("price", row["price"])
        if price > MOST_PRICE:
            raise BadCell("price", row["price"], f"must be at most {MOST_PRICE:,.0f}")
        mine = word("currency", row["currency"])
        if currency and mine != currency:
            raise BadCell("currency", mine, f"one run has one currency, here {currency}")
        currency = mine
        return price

    def key(row: Row) -> tuple[str, str]:
        return text_of(row["scenario"]).strip(), word("product", row["product"])

    master = read(table, "product", key, take)
    return Prices(master, currency)
