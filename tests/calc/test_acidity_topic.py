"""Acids and lime: limits, order, proportions and refusals."""

from __future__ import annotations

import pytest

from tanksheet.calc.acidity import acid_dose, acid_gives, acid_heat, calcite_index
from tanksheet.calc.water import acid_need
from tanksheet.errors import NotListed, OutOfRange
from tanksheet.tables import look_up, rows

ACIDS = [str(row["acid"]) for row in rows("acids")]


@pytest.mark.parametrize("acid", ACIDS)
def test_an_acid_gives_more_the_higher_the_ph_and_never_more_than_it_has(acid: str) -> None:
    given = [acid_gives(acid, ph, 20) for ph in (4, 5, 6, 7, 8, 10)]
    assert given == sorted(given)
    protons = 3 if look_up("acids", "pk_3", acid) < 90 else look_up("acids", "protons", acid)
    assert 0.9 < given[0] and given[-1] <= protons


def test_a_strong_acid_gives_what_it_has() -> None:
    assert acid_gives("nitric acid 60 %", 6, 20) == pytest.approx(1, abs=1e-6)
    assert acid_gives("hydrochloric acid 32 %", 6, 20) == pytest.approx(1, abs=1e-6)
    assert acid_gives("sulfuric acid 93 %", 6, 20) == pytest.approx(2, abs=1e-3)


@pytest.mark.parametrize("acid", ACIDS)
def test_the_dose_is_the_need_over_what_a_mole_gives(acid: str) -> None:
    """At 5 meq/L both count with the same water."""
    need = acid_need(5, 7.8, 6, 20)
    assert acid_dose(5, 7.8, 6, 20, acid) == pytest.approx(need / acid_gives(acid, 6, 20))


def test_no_alkalinity_and_no_change_take_no_acid() -> None:
    for acid in ACIDS:
        assert acid_dose(0, 7, 7, 20, acid) == 0
        assert acid_dose(5, 6, 6, 20, acid) == pytest.approx(0, abs=1e-12)


def test_refusals() -> None:
    with pytest.raises(NotListed, match="acetic"):
        acid_gives("acetic acid 80 %", 6, 20)
    with pytest.raises(OutOfRange, match="must not be above that of the water"):
        acid_dose(5, 6, 6.5, 20, ACIDS[0])
    with pytest.raises(OutOfRange, match="celsius is 46"):
        calcite_index(2, 4, 7.5, 46, 10)


def test_no_lime_without_calcium_or_alkalinity() -> None:
    assert calcite_index(0, 4, 8, 20, 10) == calcite_index(2, 0, 8, 20, 10) == -9


def test_lime_grows_with_all_that_makes_it() -> None:
    plain = calcite_index(2, 4, 7.5, 20, 8)
    assert calcite_index(3, 4, 7.5, 20, 8) > plain
    assert calcite_index(2, 5, 7.5, 20, 8) > plain
    assert calcite_index(2, 4, 7.9, 20, 8) > plain
    assert calcite_index(2, 4, 7.5, 30, 8) > plain
    assert calcite_index(2, 4, 7.5, 20, 30) < plain


def test_a_trace_of_alkalinity_at_high_ph_is_no_error() -> None:
    assert -9 < calcite_index(2, 0.001, 10, 20, 8) < 0.5


@pytest.mark.parametrize(
    ("acid", "percent", "degrees", "tolerance"),
    [
        ("sulfuric acid 93 %", 10, 25.4, 0.05),
        ("sulfuric acid 93 %", 20, 50.3, 0.05),
        ("nitric acid 60 %", 10, 3.43, 0.1),
        ("hydrochloric acid 32 %", 10, 2.93, 0.1),
    ],
)
def test_heat_of_mixing(acid: str, percent: float, degrees: float, tolerance: float) -> None:
    """By hand, reading between the points of published enthalpies (hence the tolerance).

    Sulfuric: Petrucci et al., General Chemistry 10th ed., problem 7-126: 27.8, 66.5, 72.8 kJ/mol
    given to 1, 10, 50 mol of water. The acid holds 0.41 mol (13.5 kJ); at 10 % there are 29.2
    (71.7 kJ by 1/n): 1.733 mol x 58.2 kJ into 1.081 kg of 3.67 kJ/(kg K); at 20 % 13.2 (68.4 kJ):
    3.467 mol x 54.9 kJ into 1.164 kg of 3.25. Nitric and hydrochloric: CRC Handbook, enthalpy of
    dilution of acids (Parker 1965): 1.302 mol x 10.6 kJ into 1.035 kg of 3.89; 1.017 mol x 11.5 kJ
    into 1.014 kg of 3.95. Specific heats: Perry's tables, from memory.
    """
    assert acid_heat(acid, percent) == pytest.approx(degrees, rel=tolerance)


def test_heat_of_mixing_at_its_ends() -> None:
    """No acid and no water mix nothing; 10 g of 98 % acid warm 100 g of water by 16.8 K in a school
    problem, 93 % acid by somewhat less."""
    for acid in ACIDS:
        assert acid_heat(acid, 0) == 0
        assert acid_heat(acid, 100) == pytest.approx(0, abs=1e-6)
    share = 10 / 1.828 / (10 / 1.828 + 100) * 100
    assert 0.75 * 16.8 < acid_heat("sulfuric acid 93 %", share) < 16.8
