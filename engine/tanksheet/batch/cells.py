"""Adds up amounts by member and product, in whole grains, so that no order changes a sum."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from tanksheet.batch.layout import GRAINS, MOST_GRAINS, BatchProblem

Numbers = NDArray[np.int64]
MOST_DENSE = 16_000_000  # cells of a table of members and products: 144 MB
MOST_HELD = 2_000_000  # amounts that wait to be added


class Cells(Protocol):
    """The sums so far. A place is the member's number times the count of products, and the
    product's number."""

    def add(self, places: Numbers, amounts: Numbers) -> None: ...
    def sums(self) -> tuple[Numbers, Numbers]: ...


def cells_for(members: int, products: int) -> Cells:
    """A table of all cells where it is small, else only of those that are used."""
    size = members * products
    return DenseCells(size) if size <= MOST_DENSE else SparseCells()


class DenseCells:
    """One number for every cell."""

    def __init__(self, size: int) -> None:
        self.amounts = np.zeros(size, np.int64)
        self.used = np.zeros(size, np.bool_)
        self.room = float(MOST_GRAINS)

    def add(self, places: Numbers, amounts: Numbers) -> None:
        """Raises: BatchProblem where a sum would be too large to hold."""
        total = float(amounts.sum(dtype=np.float64))
        if total > self.room:
            self._make_room(places, amounts, total)
        self.room -= total
        np.add.at(self.amounts, places, amounts)
        self.used[places] = True

    def _make_room(self, places: Numbers, amounts: Numbers, total: float) -> None:
        self.room = 0.999 * MOST_GRAINS - float(self.amounts.max(initial=0))
        if total > self.room:  # in one cell they may still be few
            most = np.bincount(places, amounts, len(self.amounts)) + self.amounts
            if most.max(initial=0) > 0.999 * MOST_GRAINS:
                raise too_much()
            self.room = total

    def sums(self) -> tuple[Numbers, Numbers]:
        """The cells with any row, in order, and their amounts."""
        places = np.flatnonzero(self.used)
        return places, self.amounts[places]


class SparseCells:
    """Only the cells that are used, for many members with many products."""

    def __init__(self) -> None:
        self.held: list[tuple[Numbers, Numbers]] = []
        self.count = 0

    def add(self, places: Numbers, amounts: Numbers) -> None:
        """Raises: BatchProblem where a sum would be too large to hold."""
        self.held.append(summed(places, amounts))
        self.count += len(self.held[-1][0])
        if self.count > MOST_HELD + 2 * len(self.held[0][0]):
            self._merge()

    def _merge(self) -> None:
        places = np.concatenate([each for each, _ in self.held])
        amounts = np.concatenate([each for _, each in self.held])
        self.held = [summed(places, amounts)]
        self.count = len(self.held[0][0])

    def sums(self) -> tuple[Numbers, Numbers]:
        """The cells with any row, in order, and their amounts."""
        if not self.held:
            return np.zeros(0, np.int64), np.zeros(0, np.int64)
        self._merge()
        return self.held[0]


def summed(places: Numbers, amounts: Numbers) -> tuple[Numbers, Numbers]:
    """Each cell once, in order, with the sum of its amounts.

    Raises: BatchProblem where a sum would be too large to hold.
    """
    order = np.argsort(places, kind="stable")
    places, amounts = places[order], amounts[order]
    first = np.flatnonzero(np.diff(places, prepend=-1))
    if not len(first):
        return places, amounts
    if np.add.reduceat(amounts.astype(np.float64), first).max() > 0.999 * MOST_GRAINS:
        raise too_much()
    return places[first], np.add.reduceat(amounts, first)


def too_much() -> BatchProblem:
    most = MOST_GRAINS // GRAINS // 1000
    return BatchProblem(
        f"programs: one member would use more than {most:,} t of one product; are its rates in "
        "the right unit?"
    )
