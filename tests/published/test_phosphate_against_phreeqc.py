"""Dicalcium phosphate and struvite against speciation in PHREEQC 3.8 with minteq.v4.dat.

The pH is held, as the functions take it. None of the databases that come with the library has
struvite, so it is added with the solubility product that Ronteltap, Maurer and Gujer measured at
25 degrees C (Water Research 2007, abstract: 10^-13.26, +- 0.057).
"""

from __future__ import annotations

import functools
import itertools

import pytest

from phreeqc_runs import FIXED_PH, RunFailed, phases, run, solution
from recipes import Ions, strength, times
from tanksheet.definition import catalogue

PHOSPHATEINDEX = catalogue()["PHOSPHATEINDEX"].function
PHOSPHATESETTLING = catalogue()["PHOSPHATESETTLING"].function
STRUVITEINDEX = catalogue()["STRUVITEINDEX"].function
DATABASE = "minteq.v4.dat"
# g/mol of CaHPO4.2H2O, periodictable 2.1.0.
MASS = 172.086
# Calcium nitrate with a phosphate, mmol/L at feed strength.
SIMPLE: dict[str, Ions] = {
    "monopotassium phosphate 5:1": {
        "calcium": 5,
        "potassium": 1,
        "nitrate": 10,
        "dihydrogen_phosphate": 1,
    },
    "monopotassium phosphate 2:2": {
        "calcium": 2,
        "potassium": 2,
        "nitrate": 4,
        "dihydrogen_phosphate": 2,
    },
    "monoammonium phosphate 4:1.5": {
        "calcium": 4,
        "ammonium": 1.5,
        "nitrate": 8,
        "dihydrogen_phosphate": 1.5,
    },
}
# More phosphate than calcium, more potassium than either, chloride for nitrate.
OTHER: dict[str, Ions] = {
    "monopotassium phosphate 1:2": {
        "calcium": 1,
        "potassium": 2,
        "nitrate": 2,
        "dihydrogen_phosphate": 2,
    },
    "with potassium nitrate": {
        "calcium": 4,
        "potassium": 7,
        "nitrate": 14,
        "dihydrogen_phosphate": 1,
    },
    "calcium chloride": {
        "calcium": 3,
        "potassium": 1,
        "chloride": 6,
        "dihydrogen_phosphate": 1,
    },
}
# Magnesium holds phosphate back in ion pairs, which the functions leave out.
WITH_MAGNESIUM: dict[str, Ions] = {
    "with magnesium nitrate": {
        "calcium": 4,
        "magnesium": 2,
        "potassium": 1,
        "nitrate": 12,
        "dihydrogen_phosphate": 1,
    },
    "Hoagland 1": {
        "calcium": 5,
        "magnesium": 2,
        "potassium": 6,
        "nitrate": 15,
        "sulfate": 2,
        "dihydrogen_phosphate": 1,
    },
}
MIXTURES = SIMPLE | OTHER | WITH_MAGNESIUM
FACTORS = [1, 5, 10, 20, 50, 100, 200]
PHS = [4.0, 4.5, 5.0, 5.5, 6.0, 6.5]
POINTS = list(itertools.product(FACTORS, PHS))
# Ionic strength in mmol/L up to which activities of either model mean what they say.
STRONG = 1000
SIMPLE_TOLERANCE, OTHER_TOLERANCE, STRONG_TOLERANCE = 0.1, 0.2, 0.5
# g/L that settle before the amount is asked for within the tolerance.
MUCH = 0.7
AMOUNT_TOLERANCE = 0.15
# Below pH 5 little of the phosphate settles, and it takes a small slip in the index to change
# that amount: there the slip is asked for as a share of all the phosphate.
ACID_TOLERANCE = 0.2

MAGNESIUM_AND_AMMONIUM: dict[str, Ions] = {
    "magnesium nitrate, monoammonium phosphate": {
        "magnesium": 2,
        "ammonium": 1.5,
        "sodium": 0.4,
        "nitrate": 4.4,
        "dihydrogen_phosphate": 1.5,
    },
    "magnesium sulfate, potassium nitrate, monoammonium phosphate": {
        "magnesium": 2,
        "ammonium": 1.25,
        "potassium": 6,
        "sodium": 0.4,
        "nitrate": 6.4,
        "sulfate": 2,
        "dihydrogen_phosphate": 1.25,
    },
}
STRUVITE = """PHASES
Struvite
 MgNH4PO4:6H2O = Mg+2 + NH4+ + PO4-3 + 6H2O
 log_k -13.26
"""
# The struvite index leaves out the pairs of magnesium and phosphate, so it reads high.
STRUVITE_TOLERANCE, STRONG_STRUVITE_TOLERANCE = 0.7, 1.0


def held(ions: Ions, ph: float) -> str:
    """A SOLUTION block at a pH; nitrate or chloride balances the charges."""
    return solution(ions, ph=str(ph), balance="nitrate" if "nitrate" in ions else "chloride")


@functools.cache
def saturation(mixture: str, factor: float, ph: float) -> float:
    """Saturation index of dicalcium phosphate."""
    block = held(times(MIXTURES[mixture], factor), ph)
    return run(DATABASE, block, {"index": 'SI("CaHPO4:2H2O")'})[0]["index"]


def settled_by_phreeqc(mixture: str, factor: float, ph: float) -> float:
    """g/L that settle while sodium hydroxide holds the pH."""
    block = held(times(MIXTURES[mixture], factor), ph)
    both = phases(f"Fix_H+ -{ph} NaOH 10", "CaHPO4:2H2O 0 0")
    wanted = {"mmol": 'EQUI("CaHPO4:2H2O")*1000', "litres": "SOLN_VOL", "ph": '-LA("H+")'}
    before, after = run(DATABASE, FIXED_PH + block + both, wanted)
    assert after["ph"] == pytest.approx(ph, abs=1e-6)
    return after["mmol"] / before["litres"] * MASS / 1000


def arguments(mixture: str, factor: float, ph: float) -> tuple[float, float, float, float]:
    ions = times(MIXTURES[mixture], factor)
    return ions["calcium"], ions["dihydrogen_phosphate"], ph, strength(ions)


def index_tolerance(mixture: str, strength_mmol: float) -> float:
    if mixture in SIMPLE:
        return SIMPLE_TOLERANCE
    return OTHER_TOLERANCE if strength_mmol <= STRONG else STRONG_TOLERANCE


@pytest.mark.parametrize("factor, ph", POINTS)
@pytest.mark.parametrize("mixture", SIMPLE | OTHER)
def test_phosphate_index(mixture: str, factor: float, ph: float) -> None:
    given = arguments(mixture, factor, ph)
    tolerance = index_tolerance(mixture, given[3])
    expected = saturation(mixture, factor, ph)
    assert PHOSPHATEINDEX(*given) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize("factor, ph", POINTS)
@pytest.mark.parametrize("mixture", WITH_MAGNESIUM)
def test_phosphate_index_is_an_upper_bound_with_magnesium(
    mixture: str, factor: float, ph: float
) -> None:
    found = PHOSPHATEINDEX(*arguments(mixture, factor, ph))
    assert found >= saturation(mixture, factor, ph) - 0.05


@pytest.mark.parametrize("mixture", SIMPLE)
def test_an_index_blind_to_ph_or_strength_would_show(mixture: str) -> None:
    calcium, phosphate, _, strength_mmol = arguments(mixture, 100, 5.5)
    expected = saturation(mixture, 100, 5.5)
    for ph, ionic in ((6.0, strength_mmol), (5.5, 0)):
        found = PHOSPHATEINDEX(calcium, phosphate, ph, ionic)
        assert abs(found - expected) > 2 * SIMPLE_TOLERANCE


def most_that_can_settle(mixture: str, factor: float) -> float:
    """g/L if all of the phosphate, or all of the calcium, settled."""
    calcium, phosphate, *_ = arguments(mixture, factor, 7)
    return min(calcium, phosphate) * MASS / 1000


@pytest.mark.parametrize("mixture", MIXTURES)
def test_phosphate_settling(mixture: str) -> None:
    compared = 0
    for factor, ph in POINTS:
        if most_that_can_settle(mixture, factor) < MUCH or saturation(mixture, factor, ph) < 0:
            continue
        expected = settled_by_phreeqc(mixture, factor, ph)
        if expected > MUCH:
            compared += 1
            compare_amount(mixture, factor, ph, expected)
    assert compared >= 15


def compare_amount(mixture: str, factor: float, ph: float, expected: float) -> None:
    found = PHOSPHATESETTLING(*arguments(mixture, factor, ph))
    if mixture in WITH_MAGNESIUM:
        assert found >= expected * 0.98, (factor, ph)
        return
    share = ACID_TOLERANCE * most_that_can_settle(mixture, factor)
    tolerance = AMOUNT_TOLERANCE * expected if ph >= 5 else share
    assert found == pytest.approx(expected, abs=tolerance), (factor, ph)


@pytest.mark.parametrize("mixture", SIMPLE)
def test_nothing_settles_from_an_acid_feed(mixture: str) -> None:
    assert saturation(mixture, 1, 5.5) < 0
    assert PHOSPHATESETTLING(*arguments(mixture, 1, 5.5)) == 0


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("ph", [5.0, 5.5, 6.0, 6.5, 7.0])
@pytest.mark.parametrize("mixture", MAGNESIUM_AND_AMMONIUM)
def test_struvite_index(mixture: str, ph: float, factor: float) -> None:
    ions = times(MAGNESIUM_AND_AMMONIUM[mixture], factor)
    block = STRUVITE + solution(ions, ph=str(ph), balance="sodium")
    expected = run(DATABASE, block, {"index": 'SI("Struvite")'})[0]["index"]
    found = STRUVITEINDEX(
        ions["magnesium"], ions["ammonium"], ions["dihydrogen_phosphate"], ph, strength(ions)
    )
    strong = strength(ions) > STRONG
    most = STRONG_STRUVITE_TOLERANCE if strong else STRUVITE_TOLERANCE
    assert expected - 0.02 <= found <= expected + most


def test_struvite_at_the_measured_saturation_of_urine() -> None:
    # The same authors: magnesium x ammonia x phosphate is 10^-7.57 mol3/L3 at pH 9 and an ionic
    # strength of 0.4 mol/L. Pairs and free ammonia, both left out, make the index read high.
    each = 10 ** (-7.57 / 3) * 1000
    assert 0 < STRUVITEINDEX(each, each, each, 9, 400) < STRONG_STRUVITE_TOLERANCE


def test_the_database_lacks_struvite_of_its_own() -> None:
    ions = MAGNESIUM_AND_AMMONIUM["magnesium nitrate, monoammonium phosphate"]
    block = solution(ions, ph="6", balance="sodium") + phases("Struvite 0 0")
    with pytest.raises(RunFailed, match="Struvite"):
        run("phreeqc.dat", block, {"index": 'SI("Struvite")'})
