"""Packs and money: whole packs, whole cents, and shares that sum to what was paid."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tanksheet.batch.cells import Numbers
from tanksheet.batch.layout import GRAINS
from tanksheet.batch.masters import Product
from tanksheet.calc.cost import packs as packs_of
from tanksheet.definition import of
from tanksheet.formula.arrays import array_function

_HALF = 2**62  # above it two numbers added may not fit in 64 bits


@dataclass
class Use:
    """What was used, cell by cell in order of member and product; ``groups`` are the cells of each
    product, ``sums`` what it comes to."""

    members: Numbers
    products: Numbers
    grains: Numbers
    groups: list[Numbers]
    sums: list[int]


@dataclass
class Bill:
    """Packs and cents of each cell, and of each product in the order."""

    packs: Numbers
    cents: Numbers
    order_packs: list[int]
    order_cents: list[int]

    @property
    def total(self) -> int:
        return sum(self.order_cents)


def use(places: Numbers, grains: Numbers, products: int) -> Use:
    """Cells, in order, by member and product."""
    members, numbers = np.divmod(places, max(1, products))
    order = np.argsort(numbers, kind="stable")
    edges = np.searchsorted(numbers[order], np.arange(products + 1))
    groups = [order[begin:end] for begin, end in zip(edges[:-1], edges[1:], strict=True)]
    sums = [int_sum(grains[group]) for group in groups]
    return Use(members, numbers, grains, groups, sums)


def bill(used: Use, made: Sequence[Product], prices: Sequence[Fraction], pool: bool) -> Bill:
    """Packs rounded up for each member, or with ``pool`` once for all and shared by use."""
    if pool:
        order = [_packs(total, each) for total, each in zip(used.sums, made, strict=True)]
        paid = [cents(count, price) for count, price in zip(order, prices, strict=True)]
        return Bill(shares(order, used), shares(paid, used), order, paid)
    packs = packs_each(used, made)
    owed = np.zeros(len(packs), np.int64)
    for group, price in zip(used.groups, prices, strict=True):
        owed[group] = cents_each(packs[group], price)
    order = [int_sum(packs[group]) for group in used.groups]
    return Bill(packs, owed, order, [int_sum(owed[group]) for group in used.groups])


def int_sum(numbers: Numbers) -> int:
    """A sum that may be larger than 64 bits hold."""
    return (int((numbers >> 32).sum()) << 32) + int((numbers & 0xFFFFFFFF).sum())


def _packs(grains: int, product: Product) -> int:
    return int(packs_of(grains / GRAINS, product.pack))


def packs_each(used: Use, made: Sequence[Product]) -> Numbers:
    """Whole packs for each cell, by the project's own FERT.PACKS."""
    record = of(packs_of)
    assert record is not None
    if not len(used.grains):
        return used.grains
    pack = np.array([each.pack for each in made])
    found: NDArray[Any] = array_function(record)(used.grains / GRAINS, pack[used.products])
    return found.astype(np.int64)


def cents(packs: int, price: Fraction) -> int:
    """Packs times the price of one in whole cents, half a cent up."""
    return (2 * 100 * packs * price.numerator + price.denominator) // (2 * price.denominator)


def cents_each(packs: Numbers, price: Fraction) -> Numbers:
    """As ``cents``, for many at one price."""
    most = int(packs.max(initial=0))
    numbers = packs
    if 201 * most * price.numerator + price.denominator >= _HALF or price.denominator >= _HALF:
        numbers = packs.astype(object)  # Python's numbers have no end
    top = 200 * price.numerator * numbers + price.denominator
    return (top // (2 * price.denominator)).astype(np.int64)


def shares(wholes: Sequence[int], used: Use) -> Numbers:
    """Each product's whole shared by use in whole numbers that sum to it exactly.

    Everybody gets their share rounded down; what is left goes one by one to those who lost most by
    that (largest remainders), the first of equals before the others.
    """
    found = np.zeros(len(used.grains), np.int64)
    for whole, total, group in zip(wholes, used.sums, used.groups, strict=True):
        if total:
            found[group] = share(whole, total, used.grains[group])
    return found


def share(whole: int, total: int, parts: Numbers) -> Numbers:
    """``whole`` in the ratio of ``parts``, which sum to ``total``."""
    if total < _HALF and whole < _HALF:
        down, left = _down_fast(whole, total, parts)
    else:
        both = [divmod(whole * int(part), total) for part in parts]
        down = np.array([each for each, _ in both], np.int64)
        left = np.array([float(Fraction(rest, total)) for _, rest in both])
    missing = whole - int_sum(down)
    down[np.argsort(-left, kind="stable")[:missing]] += 1
    return down


def _down_fast(whole: int, total: int, parts: Numbers) -> tuple[Numbers, Numbers]:
    """Quotients and remainders of ``whole * part / total``, without numbers above 64 bits.

    The quotient by floating point is off by little; the remainder that goes with it is then small,
    and right although the products it is the difference of have run over.
    """
    down = np.floor(whole * (parts / total)).astype(np.int64)
    with np.errstate(over="ignore"):
        left = np.int64(whole) * parts - down * np.int64(total)
    while (below := left < 0).any():
        down[below] -= 1
        left[below] += total
    while (above := left >= total).any():
        down[above] += 1
        left[above] -= total
    return down, left


def pooled_cost(used: Use, made: Sequence[Product], prices: Sequence[Fraction]) -> int:
    """What the co-op would pay with packs rounded up once."""
    every = zip(used.sums, made, prices, strict=True)
    return sum(cents(_packs(total, each), price) for total, each, price in every)


def cost_at(
    used: Use, owed: Bill, prices: Mapping[str, Fraction], products: Sequence[str], pool: bool
) -> int | None:
    """What the same packs would cost at other prices; None where one of them has no price."""
    whole = 0
    for name, group, count in zip(products, used.groups, owed.order_packs, strict=True):
        if len(group) and name not in prices:
            return None
        if len(group):
            price = prices[name]
            whole += cents(count, price) if pool else int_sum(cents_each(owed.packs[group], price))
    return whole


def named(prices: Mapping[str, Fraction], products: Sequence[str]) -> list[Fraction]:
    """Prices in the order of products; 0 for one without, of which nothing was accepted."""
    return [prices.get(name, Fraction(0)) for name in products]
