"""Finds the place of a pair of whole numbers among many, for columns of pairs at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_MIX = np.uint64(0x9E3779B97F4A7C15)  # 2^64 over the golden ratio: spreads neighbours far apart
_EMPTY = np.int64(-1)


class Pairs:
    """A table of pairs with open addressing. ``width`` is above every second number.

    A numpy search by halves looks twenty times for each pair, this once or twice.
    """

    def __init__(self, first: NDArray[np.int64], second: NDArray[np.int64], width: int) -> None:
        keys = first * width + second
        self.width, self.count = width, len(keys)
        bits = max(4, int(4 * len(keys)).bit_length())
        self.shift = np.uint64(64 - bits)
        self.mask = np.int64((1 << bits) - 1)
        self.keys = np.full(1 << bits, _EMPTY)
        self.places = np.full(1 << bits, len(keys), np.int64)
        left, slots = np.arange(len(keys)), self._slots(keys)
        while len(left):
            free = self.keys[slots] == _EMPTY
            self.keys[slots[free]] = keys[left[free]]
            won = self.keys[slots] == keys[left]  # of those that met in one slot, one
            self.places[slots[won]] = left[won]
            left, slots = left[~won], (slots[~won] + 1) & self.mask

    def _slots(self, keys: NDArray[np.int64]) -> NDArray[np.int64]:
        return ((keys.astype(np.uint64) * _MIX) >> self.shift).astype(np.int64)

    def find(self, first: NDArray[np.int64], second: NDArray[np.int64]) -> NDArray[np.int64]:
        """The place of each pair, or the count of pairs for one that is not there."""
        keys = first * self.width + second
        slots = self._slots(keys)
        found = self.keys[slots]
        places = np.where(found == keys, self.places[slots], self.count)
        left = np.flatnonzero((found != keys) & (found != _EMPTY))
        slots = slots[left]
        while len(left):
            slots = (slots + 1) & self.mask
            found = self.keys[slots]
            hit = found == keys[left]
            places[left[hit]] = self.places[slots[hit]]
            going = ~hit & (found != _EMPTY)
            left, slots = left[going], slots[going]
        return places
