"""solubility.csv against PHREEQC: a solid put into 1 kg of pure water until it is saturated.

IPhreeqc 3.8.6 (PyPI phreeqc 1.1), database pitzer.dat, made for strong solutions. It knows no
nitrate and no ammonium, hence only three salts. The solid brings its crystal water along, so the
moles dissolved are those of the product as sold in added water, with no algebra of ours.
"""

from __future__ import annotations

import phreeqc
import pytest

from chemistry import mass, rows_by

TEMPERATURES = (0, 10, 20, 30, 40)
SALTS = rows_by("solubility", "salt")
# kg/L, IAPWS-95 (from memory).
WATER = {0: 0.9998, 10: 0.9997, 20: 0.9982, 30: 0.9957, 40: 0.9922}
# Name in the database, formula of the solid, tolerance. Potassium chloride agrees to 1 % from
# 10 C up; the database's arcanite lies 7 to 10 % below the handbooks.
PHASES = {
    "potassium chloride": ("Sylvite", "KCl", 0.04),
    "potassium sulfate": ("Arcanite", "K2SO4", 0.105),
    "magnesium sulfate heptahydrate": ("Epsomite", "MgSO4.7H2O", 0.05),
}
INPUT = """
SELECTED_OUTPUT
 -reset false
USER_PUNCH
 -headings dissolved
 10 PUNCH -EQUI_DELTA("{phase}")
SOLUTION 1
 temp {celsius}
END
USE solution 1
EQUILIBRIUM_PHASES 1
 {phase} 0 100
END
"""


@pytest.fixture(scope="module")
def engine() -> phreeqc.Phreeqc:
    found = phreeqc.Phreeqc()
    assert found.LoadBuiltInDatabase("pitzer.dat") == 0
    return found


def dissolved(engine: phreeqc.Phreeqc, phase: str, celsius: int) -> float:
    """Moles of a solid that 1 kg of pure water takes up."""
    assert engine.RunString(INPUT.format(phase=phase, celsius=celsius)) == 0
    last = engine.GetSelectedOutputRowCount() - 1
    moles = float(engine.GetSelectedOutputValue(last, 0))
    # Less than all of it: the water is saturated.
    assert 0 < moles < 100
    return moles


@pytest.mark.parametrize("celsius", TEMPERATURES)
@pytest.mark.parametrize("salt", PHASES)
def test_saturated_solution(engine: phreeqc.Phreeqc, salt: str, celsius: int) -> None:
    phase, formula, tolerance = PHASES[salt]
    grams = dissolved(engine, phase, celsius) * mass(formula)
    listed = float(SALTS[salt][f"at_{celsius}"]) / WATER[celsius]
    assert listed == pytest.approx(grams, rel=tolerance)


@pytest.mark.parametrize("salt", PHASES)
def test_ten_degrees_off_shows(engine: phreeqc.Phreeqc, salt: str) -> None:
    phase, formula, tolerance = PHASES[salt]
    grams = dissolved(engine, phase, 40) * mass(formula)
    assert float(SALTS[salt]["at_20"]) != pytest.approx(grams, rel=tolerance)
