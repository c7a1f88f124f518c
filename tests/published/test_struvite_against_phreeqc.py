"""FERT.STRUVITE against PHREEQC 3.8: struvite is let settle, closed to air, at 25 degrees C.

Amm.dat (phreeqc.dat with ammonium kept apart from nitrate) and minteq.v4.dat, where chloride stands
in for nitrate so that the two do not react. None of the databases has struvite: the phase is added
with its solubility product, 10^-13.26 (Ohlinger, Young and Schroeder 1998; Ronteltap, Maurer and
Gujer 2007). The tanks are drawn by lot, and the function gets the pH that PHREEQC finds before
anything settles.
"""

from __future__ import annotations

import functools
import random
from dataclasses import dataclass

import pytest

from phreeqc_runs import phases, run, solution
from tanksheet.definition import catalogue

STRUVITE = catalogue()["STRUVITE"].function
DATABASES = ("Amm.dat", "minteq.v4.dat")
# g/mol, periodictable 2.1.0.
MASS = 245.406
TANKS = 120
# Below PHREEQC by this share at most; above it by this share or, next to saturation, this amount.
LOW, HIGH, NEAR = 0.15, 0.1, 1.4


@dataclass(frozen=True)
class Tank:
    """Salts in mmol/L."""

    diammonium: float
    monoammonium: float
    magnesium: float
    sulfate: bool
    potassium_nitrate: float

    @property
    def ions(self) -> dict[str, float]:
        return {
            "magnesium": self.magnesium,
            "ammonium": 2 * self.diammonium + self.monoammonium,
            "dihydrogen_phosphate": self.diammonium + self.monoammonium,
            "potassium": self.potassium_nitrate,
            "nitrate": self.potassium_nitrate + (0 if self.sulfate else 2 * self.magnesium),
            "sulfate": self.magnesium if self.sulfate else 0,
        }

    def found(self, ph: float) -> float:
        """The project's amount, g/L."""
        ions = self.ions
        doubles = 4 * (ions["magnesium"] + ions["sulfate"])
        singles = sum(ions.values()) - ions["magnesium"] - ions["sulfate"]
        given = (ions["magnesium"], ions["ammonium"], ions["dihydrogen_phosphate"], ph)
        return float(STRUVITE(*given, (singles + doubles) / 2)) / 1000


@functools.cache
def by_phreeqc(tank: Tank, database: str) -> tuple[float, float]:
    """pH before anything settles, and struvite that settles, g/L."""
    ammonium = "AmmH" if database == "Amm.dat" else "NH4"
    phase = (
        f"PHASES\nStruvite\n Mg{ammonium}PO4:6H2O = Mg+2 + {ammonium}+ + PO4-3 + 6H2O\n"
        " log_k -13.26\n"
    )
    block = solution(tank.ions)
    block = block.replace("N(5)", "Cl") if ammonium == "NH4" else block.replace("N(-3)", "Amm")
    nitrogen = "N(-3)" if ammonium == "NH4" else "Amm"
    wanted = {
        "ph": '-LA("H+")',
        "mmol": 'EQUI("Struvite")*1000',
        "litres": "SOLN_VOL",
        "ammonium": f'TOT("{nitrogen}")*TOT("water")*1000',
    }
    before, after = run(database, phase + block + phases("Struvite 0 0"), wanted)
    # Ammonium that had turned into something else would make the comparison worthless.
    assert after["ammonium"] + after["mmol"] == pytest.approx(before["ammonium"], rel=1e-6)
    return before["ph"], after["mmol"] / before["litres"] * MASS / 1000


def random_tank(lot: random.Random) -> Tank:
    return Tank(
        lot.choice([0, 50, 150, 300, 450]) * lot.uniform(0.3, 1),
        lot.choice([5, 50, 100, 300]) * lot.uniform(0.3, 1),
        lot.choice([10, 50, 200, 400]) * lot.uniform(0.3, 1),
        lot.random() < 0.6,
        lot.choice([0, 200, 600]),
    )


@functools.cache
def tanks() -> list[Tank]:
    lot = random.Random(31)
    return [random_tank(lot) for _ in range(TANKS)]


@pytest.mark.parametrize("database", DATABASES)
def test_amount(database: str) -> None:
    much = 0
    for tank in tanks():
        ph, expected = by_phreeqc(tank, database)
        much += expected > 1
        found = tank.found(ph)
        assert found >= (1 - LOW) * expected, (tank, ph, expected)
        assert found <= max((1 + HIGH) * expected, expected + NEAR), (tank, ph, expected)
    assert TANKS / 3 < much < TANKS


@pytest.mark.parametrize("database", DATABASES)
def test_a_ph_taken_as_held_would_show(database: str) -> None:
    """Nearly all the phosphate or magnesium would settle if the pH stayed where it was."""
    misses = 0
    for tank in tanks():
        ions = tank.ions
        most = min(ions["magnesium"], ions["ammonium"], ions["dihydrogen_phosphate"]) * MASS / 1000
        expected = by_phreeqc(tank, database)[1]
        misses += expected > 1 and most > max((1 + HIGH) * expected, expected + NEAR)
    assert misses > TANKS / 10


@pytest.mark.parametrize("database", DATABASES)
def test_diammonium_phosphate_with_magnesium_sulfate(database: str) -> None:
    """6 kg and 10 kg (heptahydrate) in 100 L: g/mol of periodictable 2.1.0."""
    tank = Tank(60 / 0.132056, 0, 100 / 0.246466, True, 0)
    ph, expected = by_phreeqc(tank, database)
    assert 7.3 < ph < 8 and 40 < expected < 60
    assert tank.found(ph) == pytest.approx(expected, rel=0.1)


@pytest.mark.parametrize("database", DATABASES)
def test_monoammonium_phosphate_stays_clear(database: str) -> None:
    tank = Tank(0, 200, 100, True, 300)
    ph, expected = by_phreeqc(tank, database)
    assert ph < 4.5 and expected == 0
    assert tank.found(ph) == 0
