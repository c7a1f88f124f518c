"""FERT.FEEDPH against PHREEQC 3.8 with phreeqc.dat, closed to air.

Feeds and stocks are drawn by lot (``random_feeds``), so none was fitted. Stocks go up to an ionic
strength of 2 mol/L, where the activity coefficients of phreeqc.dat are themselves a guess.
"""

from __future__ import annotations

import functools

import pytest

from phreeqc_runs import run
from random_feeds import (
    DATABASE,
    ELEMENTS,
    Mixture,
    Water,
    block,
    drawn,
    mixed,
    random_feed,
    random_stock,
)
from tanksheet.definition import catalogue

FEEDPH = catalogue()["FEEDPH"].function
FEEDS, STOCKS = 300, 200
FEED_TOLERANCE, STOCK_TOLERANCE = 0.1, 0.4
PLAIN = Water(
    4.0, 7.6, 25, {"calcium": 1.497, "magnesium": 0.494, "sodium": 1.0, "chloride": 0.982}
)


@functools.cache
def feeds() -> list[Mixture]:
    return drawn(random_feed, 20, FEEDS)


@functools.cache
def stocks() -> list[Mixture]:
    return drawn(random_stock, 21, STOCKS)


def misses(mixtures: list[Mixture], by: dict[int, float] | None = None) -> list[float]:
    """Difference from PHREEQC in pH; ``by`` changes arguments first, each by a factor."""
    found = []
    for each in mixtures:
        changed = [n * (by or {}).get(place, 1) for place, n in enumerate(each.arguments)]
        found.append(float(FEEDPH(*changed)) - each.ph)
    return found


@pytest.mark.parametrize("ion", ELEMENTS)
def test_the_database_has_the_element(ion: str) -> None:
    amounts = {"sodium": 10, "chloride": 10} | {ion: 3}
    (found,) = run(DATABASE, block(25, "7", amounts), {"n": f'TOT("{ELEMENTS[ion]}")*1000'})
    assert found["n"] == pytest.approx(3, rel=1e-6)


def test_feeds() -> None:
    worst = max(zip(map(abs, misses(feeds())), feeds(), strict=True), key=lambda pair: pair[0])
    assert worst[0] < FEED_TOLERANCE, worst[1]


def test_stocks() -> None:
    worst = max(zip(map(abs, misses(stocks())), stocks(), strict=True), key=lambda pair: pair[0])
    assert worst[0] < STOCK_TOLERANCE, worst[1]


def test_the_feeds_and_stocks_differ() -> None:
    """A constant answer, or one for feeds without acid only, would not pass."""
    acid = [each for each in feeds() if each.brought("acid") > 0]
    assert len(acid) > FEEDS / 3
    assert min(each.ph for each in feeds()) < 3.5
    assert max(each.ph for each in feeds()) > 8.5
    assert min(each.ph for each in stocks()) < 1.5
    assert max(each.ph for each in stocks()) > 9
    assert max(each.strength for each in stocks()) > 1.5


# Places in the arguments: net acid, carbonate, phosphate, ammonium, silicate, calcium.
@pytest.mark.parametrize("place", [3, 4, 5, 6, 8])
def test_an_ion_left_out_would_show(place: int) -> None:
    assert max(map(abs, misses(feeds(), {place: 0}))) > FEED_TOLERANCE


def test_pairs_left_out_would_show() -> None:
    assert max(map(abs, misses(feeds(), {10: 0, 11: 0}))) > FEED_TOLERANCE


@pytest.mark.parametrize(("acid", "ph"), [(2.0, 6.27), (3.6, 5.34)])
def test_nitric_acid_in_a_well_water(acid: float, ph: float) -> None:
    """PHREEQC 3.8.6, phreeqc.dat: 2.0 and 3.6 mmol/L nitric acid, to the two decimals kept."""
    mixture = mixed(PLAIN, {"HNO3": acid})
    assert mixture.ph == pytest.approx(ph, abs=0.01)
    assert FEEDPH(*mixture.arguments) == pytest.approx(ph, abs=0.02)


def test_a_feed_with_far_too_much_acid() -> None:
    """Strong acid beyond the alkalinity stays strong acid."""
    mixture = mixed(PLAIN, {"HNO3": 10, "Ca(NO3)2": 3, "MgSO4": 2, "KH2PO4": 1})
    assert mixture.ph < 2.5
    assert FEEDPH(*mixture.arguments) == pytest.approx(mixture.ph, abs=0.03)
