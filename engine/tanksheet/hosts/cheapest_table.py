"""The cheapest blend as a table, for an array formula.

Exact: fractions instead of floats, so that there is no tolerance to choose. It is for tables that a
person types; ``recipes`` solves large problems and those with whole numbers, by a library that
LibreOffice's own Python does not have. This module runs there: standard library, Python 3.9.
Source: the dual simplex method, which starts at nothing of everything, since no price is below 0
(textbook, as V. Chvatal, Linear Programming, 1983, chapter 10), with the smallest index first, by
which it ends (R. G. Bland, Math. Oper. Res. 2 (1977) 103).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Any, Optional, Union

from tanksheet.errors import CarriedFault, NotANumber, OutOfRange

Block = list[list[Any]]
Exact = list[Fraction]
MOST_PIVOTS = 2000
HEADINGS = ("product", "amount", "cost")


def cheapest_rows(
    products: Block, prices: Block, contents: Block, at_least: Block, at_most: Block
) -> list[list[Union[float, str]]]:
    """Each product's amount and cost under headings, and the sums in the last row.

    Raises: NotANumber for text or a blank where a number belongs; OutOfRange for blocks that do not
    fit one another, a price below 0, and limits that no amounts meet.
    """
    names = [_word(cell) for cell in _run(products)]
    costs = [_number("prices", cell) for cell in _run(prices)]
    shares = [[_number("contents", cell) for cell in row] for row in contents]
    lows, highs = ([_limit(cell) for cell in _run(each)] for each in (at_least, at_most))
    if not len(names) == len(costs) == len(shares):
        raise OutOfRange(
            f"{len(names)} products, {len(costs)} prices and {len(shares)} rows of contents; each "
            "product needs one of each"
        )
    if any(not len(row) == len(lows) == len(highs) for row in shares):
        raise OutOfRange("contents must have a column for each cell of at_least and of at_most")
    if min(costs) < 0:
        raise OutOfRange("a price is below 0")
    amounts = _cheapest(costs, *_rows(shares, lows, highs))
    if amounts is None:
        raise OutOfRange("no amounts meet all limits; loosen one")
    paid = [cost * amount for cost, amount in zip(costs, amounts)]
    rows: list[list[Union[float, str]]] = [list(HEADINGS)]
    rows += [[name, float(some), float(cost)] for name, some, cost in zip(names, amounts, paid)]
    return [*rows, ["together", float(sum(amounts)), float(sum(paid))]]


def _run(block: Block) -> list[Any]:
    """The cells of a row or a column."""
    if len(block) > 1 and len(block[0]) > 1:
        raise OutOfRange("products, prices, at_least and at_most must be one row or one column")
    return [cell for row in block for cell in row]


def _word(cell: Any) -> str:
    if isinstance(cell, CarriedFault):
        raise cell.fault
    return "" if cell is None else str(cell)


def _number(what: str, cell: Any) -> Fraction:
    if isinstance(cell, CarriedFault):
        raise cell.fault
    if isinstance(cell, bool) or not isinstance(cell, (int, float)):
        raise NotANumber(f"{what}: {cell!r} is no number")
    if not math.isfinite(cell):
        raise NotANumber(f"{what}: {cell!r} is no number to reckon with")
    return Fraction(repr(cell))  # as it is written: 0.1 is a tenth


def _limit(cell: Any) -> Optional[Fraction]:
    return None if cell is None or cell == "" else _number("a limit", cell)


def _rows(
    shares: Sequence[Exact], lows: Sequence[Optional[Fraction]], highs: Sequence[Optional[Fraction]]
) -> tuple[list[Exact], Exact]:
    """All limits as sums that are at most something."""
    rows, most = [], []
    for column, low, high in zip(zip(*shares), lows, highs):
        for limit, sign in ((low, -1), (high, 1)):
            if limit is not None:
                rows.append([sign * share for share in column])
                most.append(sign * limit)
    return rows, most


def _cheapest(costs: Exact, rows: list[Exact], most: Exact) -> Optional[Exact]:
    """The amounts, none below 0, that cost least while each row's sum is at most its bound; None
    if there are none. Raises: OutOfRange after too many steps."""
    count = len(costs)
    table = [[*row, bound] for row, bound in zip(rows, most)]
    table.append([*costs, Fraction(0)])
    loose, held = list(range(count)), list(range(count, count + len(rows)))
    for _ in range(MOST_PIVOTS):
        short = [i for i in range(len(rows)) if table[i][-1] < 0]
        if not short:
            amounts = [Fraction(0)] * (count + len(rows))
            for i, label in enumerate(held):
                amounts[label] = table[i][-1]
            return amounts[:count]
        i = min(short, key=held.__getitem__)
        helps = [j for j in range(count) if table[i][j] < 0]
        if not helps:
            return None
        j = min(helps, key=lambda j: (-table[-1][j] / table[i][j], loose[j]))
        _pivot(table, i, j)
        loose[j], held[i] = held[i], loose[j]
    raise OutOfRange("too large a table to solve in a cell")


def _pivot(table: list[Exact], i: int, j: int) -> None:
    """Solves row i for column j and puts it into the others."""
    pivot = table[i][j]
    table[i] = [value / pivot for value in table[i]]
    table[i][j] = 1 / pivot
    for r, row in enumerate(table):
        if r != i and row[j]:
            factor = row[j]
            table[r] = [value - factor * own for value, own in zip(row, table[i])]
            table[r][j] = -factor / pivot
