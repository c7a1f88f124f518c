"""FERT.EC against the specific conductance of PHREEQC 3.8 with phreeqc.dat, at 25 degrees C.

The formula was fitted to single salts in PHREEQC, so these salts show that the fit holds. The
feeds and the natural waters are held out of the fit: they are the test. PHREEQC takes the KCl
standards within 0.5 %; other databases of the library lack the mobilities or the ions.

Where sulfate shares a water with bicarbonate, PHREEQC 3.8 reads high: it gives sulfate more than
its conductivity at infinite dilution, and the mixture more than its parts. Such waters have a
wider tolerance here; conductivity.csv has them from an older engine, which does not do this.
"""

from __future__ import annotations

import pytest
from phreeqc import Phreeqc

from phreeqc_runs import ELEMENTS, VERSION, RunFailed, run, solution
from recipes import FEEDS, WATERS, Ions, in_order, times
from tanksheet.definition import catalogue

EC = catalogue()["EC"].function
DATABASE = "phreeqc.dat"
TOLERANCE = 0.03
STANDARD_TOLERANCE = 0.01
WATER_TOLERANCE = 0.04
SALTS: dict[str, Ions] = {
    "KNO3": {"potassium": 1, "nitrate": 1},
    "Ca(NO3)2": {"calcium": 1, "nitrate": 2},
    "NH4NO3": {"ammonium": 1, "nitrate": 1},
    "KH2PO4": {"potassium": 1, "dihydrogen_phosphate": 1},
    "MgSO4": {"magnesium": 1, "sulfate": 1},
    "K2SO4": {"potassium": 2, "sulfate": 1},
}
# Not in the fit.
OTHER_SALTS: dict[str, Ions] = {
    "NaCl": {"sodium": 1, "chloride": 1},
    "CaCl2": {"calcium": 1, "chloride": 2},
    "MgCl2": {"magnesium": 1, "chloride": 2},
    "Mg(NO3)2": {"magnesium": 1, "nitrate": 2},
    "(NH4)2SO4": {"ammonium": 2, "sulfate": 1},
    "NH4H2PO4": {"ammonium": 1, "dihydrogen_phosphate": 1},
    "NaHCO3": {"sodium": 1, "bicarbonate": 1},
    "KHCO3": {"potassium": 1, "bicarbonate": 1},
}
POTASSIUM_CHLORIDE: Ions = {"potassium": 1, "chloride": 1}
AMOUNTS = [1, 2, 5, 10, 20]
# S cm2 per mole at infinite dilution: CRC Handbook, as in the chemicals 1.5.2 library.
INFINITE_DILUTION = {
    "calcium": 2 * 59.47,
    "magnesium": 2 * 53.0,
    "potassium": 73.48,
    "sodium": 50.08,
    "ammonium": 73.5,
    "nitrate": 71.42,
    "sulfate": 2 * 80.0,
    "chloride": 76.31,
    "bicarbonate": 44.5,
    "dihydrogen_phosphate": 36.0,
}


def by_phreeqc(ions: Ions) -> float:
    """Specific conductance in mS/cm; with bicarbonate at the pH of a natural water."""
    ph = "7.6" if "bicarbonate" in ions else "7 charge"
    return run(DATABASE, solution(ions, ph=ph), {"SC": "SC"})[0]["SC"] / 1000


def ion_sum(ions: Ions) -> float:
    """What the ions would conduct if none hindered another, mS/cm."""
    return sum(INFINITE_DILUTION[ion] * amount for ion, amount in ions.items()) / 1000


def test_the_engine_is_the_one_of_the_tolerances() -> None:
    assert Phreeqc.GetVersionString().startswith(f"{VERSION}.")


@pytest.mark.parametrize("ion", ELEMENTS)
def test_the_database_has_the_ion_and_its_mobility(ion: str) -> None:
    anion = ion in ("nitrate", "sulfate", "chloride", "bicarbonate", "dihydrogen_phosphate")
    other = "potassium" if anion else "nitrate"
    block = solution({ion: 10, other: 10}, ph="7", balance=other)
    sum_of_ion = "ALK" if ion == "bicarbonate" else f'TOT("{ELEMENTS[ion]}")'
    (found,) = run(DATABASE, block, {"mmol": f"{sum_of_ion}*1000", "SC": "SC"})
    assert found["mmol"] == pytest.approx(10, rel=0.02)
    assert found["SC"] > 500


def test_a_missing_element_is_refused() -> None:
    with pytest.raises(RunFailed, match=r"N\(5\)"):
        run("frezchem.dat", solution({"potassium": 1, "nitrate": 1}), {"SC": "SC"})


@pytest.mark.parametrize("amount", AMOUNTS)
def test_potassium_chloride(amount: float) -> None:
    ions = times(POTASSIUM_CHLORIDE, amount)
    assert EC(*in_order(ions)) == pytest.approx(by_phreeqc(ions), rel=STANDARD_TOLERANCE)


@pytest.mark.parametrize("amount", AMOUNTS)
@pytest.mark.parametrize("salt", [*SALTS, *OTHER_SALTS])
def test_single_salts(salt: str, amount: float) -> None:
    ions = times((SALTS | OTHER_SALTS)[salt], amount)
    assert EC(*in_order(ions)) == pytest.approx(by_phreeqc(ions), rel=TOLERANCE)


@pytest.mark.parametrize("strength", [0.25, 0.5, 1, 2])
@pytest.mark.parametrize("feed", FEEDS)
def test_feeds_that_the_fit_never_saw(feed: str, strength: float) -> None:
    ions = times(FEEDS[feed], strength)
    assert EC(*in_order(ions)) == pytest.approx(by_phreeqc(ions), rel=TOLERANCE)


@pytest.mark.parametrize("water", WATERS)
def test_natural_waters(water: str) -> None:
    ions = WATERS[water]
    assert EC(*in_order(ions)) == pytest.approx(by_phreeqc(ions), rel=WATER_TOLERANCE)


def test_why_natural_waters_have_a_wider_tolerance() -> None:
    parts: tuple[Ions, Ions] = ({"sodium": 2, "sulfate": 1}, {"sodium": 1, "bicarbonate": 1})
    mixture: Ions = {"sodium": 3, "sulfate": 1, "bicarbonate": 1}
    assert by_phreeqc(mixture) > sum(by_phreeqc(part) for part in parts)
    assert EC(*in_order(mixture)) < sum(EC(*in_order(part)) for part in parts)


@pytest.mark.parametrize("feed", FEEDS)
def test_doubling_the_strength(feed: str) -> None:
    ions, double = FEEDS[feed], times(FEEDS[feed], 2)
    ratio = EC(*in_order(double)) / EC(*in_order(ions))
    assert ratio == pytest.approx(by_phreeqc(double) / by_phreeqc(ions), rel=0.02)
    assert ratio < 1.95


def test_doubling_hoagland_1_as_computed_before() -> None:
    ions = FEEDS["Hoagland 1"]
    ratio = EC(*in_order(times(ions, 2))) / EC(*in_order(ions))
    assert ratio == pytest.approx(4.086 / 2.170, rel=0.02)


@pytest.mark.parametrize("feed", FEEDS)
def test_a_plain_sum_of_ions_would_show(feed: str) -> None:
    ions = FEEDS[feed]
    assert ion_sum(ions) > by_phreeqc(ions) * (1 + 4 * TOLERANCE)


@pytest.mark.parametrize("salt", SALTS)
def test_a_plain_sum_would_show_in_single_salts(salt: str) -> None:
    ions = times(SALTS[salt], 20)
    assert ion_sum(ions) != pytest.approx(by_phreeqc(ions), rel=TOLERANCE)
