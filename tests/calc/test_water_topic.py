"""Water: zeros, equalities, proportions and refusals."""

from __future__ import annotations

import pytest

from tanksheet.calc.water import (
    acid_need,
    acid_volume,
    alkalinity_meq,
    charge_error,
    hardness,
    ion_element,
    ion_mmol,
    sodium_adsorption,
    solubility,
)
from tanksheet.errors import DividedByZero, NotListed, OutOfRange
from tanksheet.tables import rows

ACIDS = [str(row["acid"]) for row in rows("acids")]
SALTS = [str(row["salt"]) for row in rows("solubility")]


@pytest.mark.parametrize("ph", [4, 5.8, 7, 8.3, 10])
@pytest.mark.parametrize("celsius", [0, 25, 45])
def test_water_at_the_ph_wanted_needs_no_acid(ph: float, celsius: float) -> None:
    assert acid_need(5, ph, ph, celsius) == pytest.approx(0, abs=1e-12)


def test_a_higher_ph_wanted_is_refused() -> None:
    with pytest.raises(OutOfRange, match="must not be above that of the water"):
        acid_need(5, 6.0, 6.0001, 25)
    for now, target in ((3.9, 3.9), (10.1, 5), (7, 3.9)):
        with pytest.raises(OutOfRange, match="must be at least 4 pH and at most 10 pH"):
            acid_need(5, now, target, 25)
    with pytest.raises(OutOfRange, match="celsius is 45.1"):
        acid_need(5, 7, 6, 45.1)


def test_acid_need_lies_between_nothing_and_the_alkalinity() -> None:
    """Strong acid and alkalinity meet one for one (definition of alkalinity); by pH 4.5 nearly all
    of it is spent."""
    for alkalinity in (0.5, 2, 5, 8):
        needs = [acid_need(alkalinity, 7.8, target, 25) for target in (7.5, 6.5, 5.8, 5, 4.5)]
        assert needs == sorted(needs)
        assert 0 < needs[0] and needs[-1] == pytest.approx(alkalinity, rel=0.07)


def test_water_without_alkalinity_takes_hardly_any_acid() -> None:
    """Pure water at pH 7 brought to 4 takes 0.1 mmol/L of hydrogen ions: 10^-4 mol/L, which is the
    definition of pH; activities cost a little."""
    assert acid_need(0, 7, 4, 25) == pytest.approx(0.1, rel=0.02)


def test_alkalinity() -> None:
    assert alkalinity_meq(0) == 0
    # Half the molar mass of CaCO3, 100.086 g/mol (IUPAC).
    assert alkalinity_meq(50.043) == pytest.approx(1, rel=1e-14)
    with pytest.raises(OutOfRange, match="alkalinity_as_caco3 is -1"):
        alkalinity_meq(-1)


@pytest.mark.parametrize("acid", ACIDS)
def test_acid_volume_is_proportional(acid: str) -> None:
    assert acid_volume(0, acid, 1000) == 0
    assert acid_volume(2, acid, 1000) == pytest.approx(2 * acid_volume(1, acid, 1000), rel=1e-14)
    assert acid_volume(1, acid, 3000) == pytest.approx(3 * acid_volume(1, acid, 1000), rel=1e-14)
    assert acid_volume(1, acid.upper(), 1000) == acid_volume(1, acid, 1000)


def test_unknown_acids_and_no_water_are_refused() -> None:
    for word in ("vinegar", "", "*", "nitric acid ?? %", "nitric acid"):
        with pytest.raises(NotListed, match="is not listed; allowed: nitric acid 60 %"):
            acid_volume(1, word, 1000)
    with pytest.raises(OutOfRange, match="water_treated is 0"):
        acid_volume(1, ACIDS[0], 0)


# Molar masses and charges: IUPAC atomic weights.
@pytest.mark.parametrize(
    ("ion", "unit", "one_millimole"),
    [
        ("Ca", "mg/L", 40.078),
        ("Ca", "ppm", 40.078),
        ("Ca", "meq/L", 2),
        ("Ca", "mg/L as CaCO3", 100.086),
        ("SO4", "mg/L as S", 32.06),
        ("SO4", "mg/L as SO4", 96.056),
        ("NO3", "mg/L as N", 14.007),
        ("NO3", "mg/L as NO3", 62.004),
        ("NH4", "mg/L as NH4", 18.039),
        ("HCO3", "mg/L as HCO3", 61.016),
        ("HCO3", "mg/L as CaCO3", 50.043),
        ("Fe", "ug/L", 55845),
        ("B", "umol/L", 1000),
        ("K", "mmol/L", 1),
    ],
)
def test_ions(ion: str, unit: str, one_millimole: float) -> None:
    assert ion_mmol(one_millimole, ion, unit) == pytest.approx(1, rel=1e-4)
    assert ion_mmol(0, ion, unit) == 0


def test_units_that_do_not_fit_an_ion_are_refused() -> None:
    for ion, unit in (("Ca", "mg/L as N"), ("NO3", "mg/L as S"), ("SO4", "mg/L as HCO3")):
        with pytest.raises(NotListed, match=f"{unit} does not fit {ion}; choose mg/L"):
            ion_mmol(1, ion, unit)
    with pytest.raises(NotListed, match="carries no charge"):
        ion_mmol(1, "B", "meq/L")
    with pytest.raises(NotListed, match="'XX' is not listed"):
        ion_mmol(1, "XX", "mg/L")
    with pytest.raises(NotListed, match="ion_unit is 'grains'"):
        ion_mmol(1, "Ca", "grains")


def test_hardness_and_elements_of_nothing() -> None:
    assert hardness(0, 0) == 0
    assert hardness(1, 0) == hardness(0, 1) == pytest.approx(100.086, rel=1e-12)
    assert ion_element(0, "NO3") == 0


def test_charge_error() -> None:
    assert charge_error(5, 5) == 0
    assert charge_error(5, 0) == 100
    assert charge_error(0, 5) == -100
    assert charge_error(3, 1) == -charge_error(1, 3) == 50
    with pytest.raises(DividedByZero):
        charge_error(0, 0)


def test_sodium_adsorption() -> None:
    assert sodium_adsorption(0, 2, 1) == 0
    # Calcium and magnesium of 1 each: the root is of 1, by definition.
    assert sodium_adsorption(7, 1, 1) == 7
    assert sodium_adsorption(7, 2, 0) == sodium_adsorption(7, 0, 2) == 7
    with pytest.raises(DividedByZero):
        sodium_adsorption(7, 0, 0)


@pytest.mark.parametrize("salt", SALTS)
def test_solubility_meets_its_table(salt: str) -> None:
    [row] = [each for each in rows("solubility") if each["salt"] == salt]
    for celsius in (0, 10, 20, 30, 40):
        assert solubility(salt, celsius) == pytest.approx(row[f"at_{celsius}"], rel=1e-14)
    middle = (row["at_10"] + row["at_20"]) / 2  # type: ignore[operator]
    assert solubility(salt, 15) == pytest.approx(middle, rel=1e-14)


def test_solubility_outside_its_table_is_refused() -> None:
    for celsius in (-0.1, 40.1):
        with pytest.raises(OutOfRange, match="table_celsius is"):
            solubility(SALTS[0], celsius)
    with pytest.raises(NotListed, match="'table salt' is not listed"):
        solubility("table salt", 20)
