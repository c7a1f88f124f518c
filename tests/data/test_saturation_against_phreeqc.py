"""saturation.csv against PHREEQC: grams of a solid in the volume of the solution that it saturates.

IPhreeqc 3.8.6 (PyPI phreeqc 1.1), database pitzer.dat, which works out volumes too. It knows no
nitrate and no ammonium, hence only three salts and one double salt.
"""

from __future__ import annotations

import phreeqc
import pytest

from chemistry import mass, rows_by

TEMPERATURES = (0, 10, 20, 30, 40)
HELD = rows_by("saturation", "product")
# Name in the database, formula of the solid, tolerance. Arcanite lies 7 to 10 % below the
# handbooks there; epsomite 4 % above them at 0 C and 2 % below at 40 C.
PHASES = {
    "potassium chloride": ("Sylvite", "KCl", 0.04),
    "potassium sulfate": ("Arcanite", "K2SO4", 0.105),
    "magnesium sulfate heptahydrate": ("Epsomite", "MgSO4.7H2O", 0.04),
}
DOUBLE_SALT = "potassium magnesium sulfate pure"
SETTLING = ("Arcanite", "Schoenite", "Leonite", "Epsomite")
PURE_SALT = """
SELECTED_OUTPUT
 -reset false
USER_PUNCH
 -headings dissolved volume
 10 PUNCH -EQUI_DELTA("{phase}"), SOLN_VOL
SOLUTION 1
 temp {celsius}
END
USE solution 1
EQUILIBRIUM_PHASES 1
 {phase} 0 100
END
"""
MIXTURE = """
SELECTED_OUTPUT
 -reset false
USER_PUNCH
 -headings volume a b c d
 10 PUNCH SOLN_VOL, SI("Arcanite"), SI("Schoenite"), SI("Leonite"), SI("Epsomite")
SOLUTION 1
 temp {celsius}
END
USE solution 1
REACTION 1
 K2SO4 1 MgSO4 2
 {moles} moles
END
"""


@pytest.fixture(scope="module")
def engine() -> phreeqc.Phreeqc:
    found = phreeqc.Phreeqc()
    assert found.LoadBuiltInDatabase("pitzer.dat") == 0
    return found


def last_line(engine: phreeqc.Phreeqc, text: str, columns: int) -> list[float]:
    assert engine.RunString(text) == 0
    last = engine.GetSelectedOutputRowCount() - 1
    return [float(engine.GetSelectedOutputValue(last, each)) for each in range(columns)]


def held(engine: phreeqc.Phreeqc, phase: str, formula: str, celsius: int) -> float:
    """g of a solid in 1 L of the solution that it saturates."""
    moles, volume = last_line(engine, PURE_SALT.format(phase=phase, celsius=celsius), 2)
    assert 0 < moles < 100
    return moles * mass(formula) / volume


@pytest.mark.parametrize("celsius", TEMPERATURES)
@pytest.mark.parametrize("product", PHASES)
def test_saturated_stock(engine: phreeqc.Phreeqc, product: str, celsius: int) -> None:
    phase, formula, tolerance = PHASES[product]
    listed = float(HELD[product][f"at_{celsius}"])
    assert listed == pytest.approx(held(engine, phase, formula, celsius), rel=tolerance)


@pytest.mark.parametrize("product", PHASES)
def test_ten_degrees_off_shows(engine: phreeqc.Phreeqc, product: str) -> None:
    phase, formula, tolerance = PHASES[product]
    warm = held(engine, phase, formula, 40)
    assert float(HELD[product]["at_20"]) != pytest.approx(warm, rel=tolerance)


@pytest.mark.parametrize("celsius", TEMPERATURES)
def test_double_salt(engine: phreeqc.Phreeqc, celsius: int) -> None:
    """At the figure of the table one solid is just saturated, and none more than that."""
    listed = float(HELD[DOUBLE_SALT][f"at_{celsius}"]) / mass("K2SO4.2MgSO4")
    volume = 1.0
    for _ in range(6):
        moles = listed * volume
        volume, *indices = last_line(engine, MIXTURE.format(celsius=celsius, moles=moles), 5)
    assert max(indices) == pytest.approx(0, abs=0.005)
