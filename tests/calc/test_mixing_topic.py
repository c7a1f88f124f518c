"""Concentrates: missing ions, edges, refusals. What settles is held against PHREEQC elsewhere."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from tanksheet.calc.mixing import (
    dicalcium_index,
    dicalcium_settling,
    gypsum_index,
    gypsum_settling,
    struvite_index,
)
from tanksheet.errors import OutOfRange

# What settles cannot without any one of its parts; -9 is what the docstrings promise.
MISSING: list[tuple[Callable[..., float], tuple[float, ...]]] = [
    (gypsum_index, (0, 20, 260)),
    (gypsum_index, (50, 0, 260)),
    (gypsum_index, (0, 0, 0)),
    (dicalcium_index, (0, 100, 5, 1700)),
    (dicalcium_index, (500, 0, 5, 1700)),
    (dicalcium_index, (0, 0, 5, 0)),
    (struvite_index, (0, 100, 100, 6.5, 1000)),
    (struvite_index, (200, 0, 100, 6.5, 1000)),
    (struvite_index, (200, 100, 0, 6.5, 1000)),
    (struvite_index, (0, 0, 0, 6.5, 0)),
]


@pytest.mark.parametrize(("index", "arguments"), MISSING)
def test_an_index_without_one_of_its_ions(
    index: Callable[..., float], arguments: tuple[float, ...]
) -> None:
    assert index(*arguments) == -9


def test_traces_are_not_taken_for_nothing() -> None:
    """Twice the amount of one ion adds log10 of 2 to an index, however little there is."""
    for least in (1e-9, 1e-3, 1.0):
        for one, two in (
            (gypsum_index(least, 1, 10), gypsum_index(2 * least, 1, 10)),
            (gypsum_index(1, least, 10), gypsum_index(1, 2 * least, 10)),
            (struvite_index(least, 1, 1, 6, 10), struvite_index(2 * least, 1, 1, 6, 10)),
            (dicalcium_index(1, least, 6, 10), dicalcium_index(1, 2 * least, 6, 10)),
        ):
            assert one > -30
            assert two - one == pytest.approx(math.log10(2), rel=1e-9)


def test_no_more_settles_than_is_there() -> None:
    """172.164 g/mol of gypsum, 172.087 of dicalcium phosphate (IUPAC atomic weights)."""
    assert gypsum_settling(0, 0, 0, 0, 0) == 0
    assert gypsum_settling(100, 0, 0, 0, 200) == 0
    assert 0 < gypsum_settling(500, 0, 0, 200, 600) < 200 * 0.172164
    assert 0 < gypsum_settling(200, 0, 600, 500, 0) < 200 * 0.172164
    assert dicalcium_settling(0, 100, 5, 1000) == 0
    assert dicalcium_settling(500, 0, 5, 1000) == 0
    assert 0 < dicalcium_settling(500, 100, 6, 1700) < 100 * 0.172087


def test_gypsum_without_sulfate_and_without_calcium() -> None:
    assert gypsum_settling(0, 50, 100, 300, 0) == 0
    assert gypsum_settling(300, 50, 100, 0, 700) == 0


def test_an_acid_tank_keeps_phosphate_dissolved() -> None:
    indexes = [dicalcium_index(500, 100, ph, 1700) for ph in (1, 3, 5, 7)]
    assert indexes == sorted(indexes)
    assert indexes[0] < 0 < indexes[-1]
    struvite = [struvite_index(200, 100, 100, ph, 1000) for ph in (1, 4, 6, 8)]
    assert struvite == sorted(struvite)


@pytest.mark.parametrize(
    ("index", "arguments", "message"),
    [
        (gypsum_index, (-1, 20, 260), "calcium is -1"),
        (gypsum_index, (50, 20001, 260), "sulfate is 20001"),
        (gypsum_settling, (500, 200, -1, 200, 1000), "singles is -1"),
        (dicalcium_index, (500, 100, 0.9, 1700), "ph_tank is 0.9"),
        (dicalcium_settling, (500, 100, 10.1, 1700), "ph_tank is 10.1"),
        (struvite_index, (200, 100, 100, 6.5, -1), "strength_mmol is -1"),
        # Also where the early answer for a missing ion would leave the argument out.
        (dicalcium_index, (0, 100, 0.9, 1700), "ph_tank is 0.9"),
        (gypsum_index, (0, 20, -1), "strength_mmol is -1"),
    ],
)
def test_refusals(index: Callable[..., float], arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        index(*arguments)
