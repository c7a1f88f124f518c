"""Struvite: missing ions, edges, refusals. The amounts are held against PHREEQC elsewhere."""

from __future__ import annotations

import pytest

from tanksheet.calc.mixing import struvite_index
from tanksheet.calc.struvite import struvite_settling
from tanksheet.errors import OutOfRange

MASS = 245.406  # mg/mmol of MgNH4PO4.6H2O, IUPAC atomic weights


@pytest.mark.parametrize(
    "arguments",
    [
        (0, 100, 100, 7, 1000),
        (100, 0, 100, 7, 1000),
        (100, 100, 0, 7, 1000),
        (0, 0, 0, 7, 0),
        (100, 100, 100, 3.5, 1000),
    ],
)
def test_nothing_settles(arguments: tuple[float, ...]) -> None:
    assert struvite_settling(*arguments) == 0


@pytest.mark.parametrize("ph", [4.5, 5, 6, 7, 8, 9, 10])
@pytest.mark.parametrize("ions", [(5, 400, 300), (400, 5, 300), (400, 300, 5), (300, 300, 300)])
def test_no_more_settles_than_is_there(ions: tuple[float, float, float], ph: float) -> None:
    found = struvite_settling(*ions, ph, 1500)
    assert 0 <= found <= min(ions) * MASS * 1.0001


def test_it_settles_where_the_index_is_above_zero() -> None:
    for ph in (3.5, 4, 4.5, 5, 5.5, 6, 7):
        settles = struvite_settling(200, 300, 300, ph, 1500) > 0
        assert settles is (struvite_index(200, 300, 300, ph, 1500) > 0)


def test_the_higher_the_ph_the_more_settles() -> None:
    found = [struvite_settling(200, 300, 300, ph, 1500) for ph in (5, 5.5, 6, 6.5, 7, 8, 9)]
    assert found == sorted(found) and found[-1] > 2 * found[0] > 0


def test_each_takes_two_protons_from_hydrogen_phosphate() -> None:
    """MgNH4PO4 out of HPO4-- sets one proton free, which another HPO4-- takes up: at most half
    of a diammonium phosphate settles (stoichiometry), and most of that half does."""
    found = struvite_settling(1000, 900, 450, 7.8, 4000) / MASS
    assert 200 < found < 0.55 * 450


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((-1, 100, 100, 7, 1000), "magnesium is -1"),
        ((100, 20001, 100, 7, 1000), "ammonium is 20001"),
        ((100, 100, -1, 7, 1000), "phosphate is -1"),
        ((100, 100, 100, 10.5, 1000), "ph_tank is 10.5"),
        ((0, 100, 100, 0.5, 1000), "ph_tank is 0.5"),
        ((100, 100, 100, 7, -1), "strength_mmol is -1"),
    ],
)
def test_refusals(arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        struvite_settling(*arguments)
