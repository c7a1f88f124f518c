"""Packs, cents and shares, against printed examples and against fractions."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tanksheet.batch import money
from tanksheet.batch.cells import DenseCells, SparseCells, summed
from tanksheet.batch.layout import GRAINS
from tanksheet.batch.masters import Product
from tanksheet.batch.outputs import kilograms, left_over
from tanksheet.batch.pairs import Pairs
from tanksheet.errors import TanksheetError

BAG = Product(None, 25.0, {})


def used(*kg: float) -> money.Use:
    """What some members use of one product."""
    grains = np.array([round(each * GRAINS) for each in kg], np.int64)
    return money.use(np.arange(len(kg)), grains, 1)


# Parts, what they share, and the shares. "Joint Cost Allocation" (scribd.com/document/54185716) and
# cfajournal.org/joint-cost share a cost by quantity; infinitelexicon.com/largestremainder prints
# quotas of 3.5, 2.1 and 1.4; archipel-des-libertes.fr, largest remainders, prints 2, 1, 1, 0.
SHARES = [
    (2400, [700, 300], [1680, 720]),
    (20_000, [700, 300], [14_000, 6_000]),
    (7, [50, 30, 20], [4, 2, 1]),
    (4, [500, 300, 110, 20], [2, 1, 1, 0]),
    # Computed with fractions: 100.00 among six.
    (10_000, [1] * 6, [1667] * 4 + [1666] * 2),
]


@pytest.mark.parametrize(("whole", "parts", "wanted"), SHARES)
def test_shares_as_printed(whole: int, parts: list[int], wanted: list[int]) -> None:
    found = money.share(whole, sum(parts), np.array(parts, np.int64))
    assert found.tolist() == wanted


@given(
    whole=st.integers(0, 10**12),
    parts=st.lists(st.integers(0, 10**16), min_size=1, max_size=40).filter(any),
)
def test_shares_sum_and_lie_within_one_of_the_exact_ones(whole: int, parts: list[int]) -> None:
    total = sum(parts)
    found = money.share(whole, total, np.array(parts, np.int64)).tolist()
    assert sum(found) == whole
    for share, part in zip(found, parts, strict=True):
        assert abs(share - Fraction(whole * part, total)) < 1


@given(
    whole=st.integers(0, 10**9),
    parts=st.lists(st.integers(1, 2**61), min_size=2, max_size=12),
)
def test_shares_of_huge_amounts_are_those_of_exact_numbers(whole: int, parts: list[int]) -> None:
    """Above 64 bits Python's own numbers take over; where both can, they agree."""
    small = [part % 10**6 + 1 for part in parts]
    quick = money.share(whole, sum(small), np.array(small, np.int64))
    both = [divmod(whole * part, sum(small)) for part in small]
    down = [each for each, _ in both]
    order = sorted(range(len(small)), key=lambda at: -both[at][1])
    for at in order[: whole - sum(down)]:
        down[at] += 1
    assert quick.tolist() == down
    assert sum(money.share(whole, sum(parts), np.array(parts, np.int64)).tolist()) == whole


def test_pooling_three_members() -> None:
    """Computed with fractions: 437.5, 310 and 212.5 kg in 25 kg bags at 18.75."""
    need, price = used(437.5, 310, 212.5), Fraction("18.75")
    apart = money.bill(need, [BAG], [price], pool=False)
    assert apart.packs.tolist() == [18, 13, 9] and apart.total == 75000
    pooled = money.bill(need, [BAG], [price], pool=True)
    assert pooled.order_packs == [39] and pooled.total == 73125
    assert pooled.cents.tolist() == [33325, 23613, 16187]
    assert int(pooled.packs.sum()) == 39
    assert kilograms(left_over(39, BAG, need.sums[0])) == "15"


# 2.675 is 2.68 although the nearest binary number is below it (Python documentation of round);
# 0.125 is 0.13 half up, and 0.12 half to even, which a data frame's own rounding would give.
@pytest.mark.parametrize(
    ("price", "packs", "wanted"),
    [("2.675", 1, 268), ("0.125", 1, 13), ("1.005", 1, 101), ("1.005", 2, 201), ("0", 9, 0),
     ("0.004999", 1, 0), ("1e-9", 10**7, 1), ("999999.99", 10**9, 99999999000000000)],
)  # fmt: skip
def test_half_a_cent_goes_up(price: str, packs: int, wanted: int) -> None:
    assert money.cents(packs, Fraction(price)) == wanted
    assert money.cents_each(np.array([packs, 0]), Fraction(price)).tolist() == [wanted, 0]


@given(
    packs=st.integers(0, 10**9),
    price=st.decimals(0, 10**6, places=5).map(Fraction),
)
def test_cents_of_many_are_those_of_one(packs: int, price: Fraction) -> None:
    exact = math.floor(packs * price * 100 + Fraction(1, 2))
    assert money.cents(packs, price) == exact
    assert money.cents_each(np.array([packs]), price).tolist() == [exact]


def test_bags_of_pounds_come_out_even() -> None:
    """Five times 10 lb is one bag of 50 lb, though no binary number is 4.5359237 kg."""
    bag = Product(None, 50 * 0.45359237, {})
    for rows in ([10] * 5, [0.1] * 500, [16.7, 16.7, 16.6]):
        cells = DenseCells(1)
        kg = np.array(rows) * 0.45359237
        cells.add(np.zeros(len(rows), np.int64), np.rint(kg * GRAINS).astype(np.int64))
        need = money.use(*cells.sums(), 1)
        assert money.bill(need, [bag], [Fraction(1)], pool=False).packs.tolist() == [1], rows
        assert money.bill(need, [bag], [Fraction(1)], pool=True).order_packs == [1]
        assert left_over(1, bag, need.sums[0]) == 0
    more = used(50 * 0.45359237 + 1e-6)
    assert money.bill(more, [bag], [Fraction(1)], pool=False).packs.tolist() == [2]


def test_the_order_of_adding_changes_nothing() -> None:
    """0.1 added a million times is 100000 here; in floating point it is 100000.00000133288."""
    cells = SparseCells()
    for _ in range(100):
        cells.add(np.zeros(10_000, np.int64), np.full(10_000, round(0.1 * GRAINS)))
    assert kilograms(int(cells.sums()[1][0])) == "100000"


@given(
    lots=st.lists(
        st.lists(st.tuples(st.integers(0, 30), st.integers(0, 10**15)), max_size=30), max_size=6
    )
)
def test_both_kinds_of_cells_add_alike(lots: list[list[tuple[int, int]]]) -> None:
    exact: dict[int, int] = {}
    dense, sparse = DenseCells(31), SparseCells()
    for lot in lots:
        places = np.array([place for place, _ in lot], np.int64)
        amounts = np.array([amount for _, amount in lot], np.int64)
        dense.add(places, amounts)
        sparse.add(places, amounts)
        for place, amount in lot:
            exact[place] = exact.get(place, 0) + amount
    for cells in (dense, sparse):
        places, amounts = cells.sums()
        assert dict(zip(places.tolist(), amounts.tolist(), strict=True)) == exact
        assert places.tolist() == sorted(exact)


def test_cells_refuse_what_64_bits_do_not_hold() -> None:
    most = np.array([2**62], np.int64)
    for cells in (DenseCells(3), SparseCells()):
        cells.add(np.array([0]), most)
        cells.add(np.array([1]), most)
        with pytest.raises(TanksheetError, match="922,337 t"):
            cells.add(np.array([1]), most)
            cells.sums()
    with pytest.raises(TanksheetError, match="922,337 t"):
        summed(np.array([5, 5]), np.array([2**62, 2**62]))


@given(pairs=st.lists(st.tuples(st.integers(0, 40), st.integers(0, 9)), unique=True, max_size=200))
def test_pairs_are_found(pairs: list[tuple[int, int]]) -> None:
    first, second = np.array(pairs, np.int64).reshape(-1, 2).T
    table = Pairs(first, second, 11)
    asked = [(a, b) for a in range(42) for b in range(11)]
    found = table.find(*np.array(asked, np.int64).T)
    numbers = {pair: at for at, pair in enumerate(pairs)}
    assert found.tolist() == [numbers.get(pair, len(pairs)) for pair in asked]
