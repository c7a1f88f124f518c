"""The Pitzer model of the sweep against what it was not made from."""

from __future__ import annotations

import pytest

from crystals_by_pitzer import MORE, SALTS, activities, crystals_in, more_ions, saturated, strength
from phreeqc_runs import RunFailed, run
from tank_chemistry import Tank, portions

# Water activity of saturated solutions at 25 degrees C: Greenspan 1977, J. Res. Natl. Bur. Stand.
# 81A:89-96 (from memory). Within 0.02: ammonium chloride and sulfate lie beyond 6 mol/kg.
GREENSPAN = {
    "potassium nitrate": 0.9358,
    "potassium sulfate": 0.9730,
    "potassium chloride": 0.8434,
    "ammonium sulfate": 0.8099,
    "ammonium chloride": 0.786,
}


@pytest.mark.parametrize("salt", GREENSPAN)
def test_water_activity_of_saturated_solutions(salt: str) -> None:
    moles = strength(salt, 25)
    logs = activities({p: 1000 * n * moles for p, n in SALTS[salt][0].items()}, 25)
    assert 10 ** logs["water"] == pytest.approx(GREENSPAN[salt], abs=0.02)


@pytest.mark.parametrize(
    ("phase", "salt", "off"), [("Sylvite", "potassium chloride", 0.03),
                               ("Arcanite", "potassium sulfate", 0.12),
                               ("Epsomite", "magnesium sulfate heptahydrate", 0.1),
                               ("Schoenite", "picromerite", 0.2)]
)  # fmt: skip
def test_saturated_salts_are_those_of_the_database(phase: str, salt: str, off: float) -> None:
    """At 25 degrees C, where the database has its own solubility products."""
    parts = SALTS[salt][0]
    moles = 1000 * strength(salt, 25)
    names = {"K": "K", "Mg": "Mg", "Cl": "Cl", "S(6)": "S(6)"}
    lines = "\n".join(f" {names[p]} {n * moles}" for p, n in parts.items())
    block = f"SOLUTION 1\n temp 25\n units mmol/kgw\n pH 7 charge\n pe 4\n{lines}\n"
    (found,) = run("pitzer.dat", block, {"index": f'SI("{phase}")'})
    assert abs(found["index"]) < off


def test_each_salt_is_at_its_limit_in_its_own_solution() -> None:
    for celsius in (5, 10, 20, 30):
        for salt in SALTS:
            assert -8 < saturated(salt, celsius) < 3


def test_a_missing_ion_would_stop_the_run() -> None:
    more_ions()
    assert "Nit Nit-" in MORE
    with pytest.raises(RunFailed):
        activities({"K": 100, "Nitrate": 100}, 25)


def test_no_room_for_water_is_no_answer() -> None:
    with pytest.raises(RunFailed, match="no room for water"):
        crystals_in(Tank(portions("potassium nitrate 400 kg")))
