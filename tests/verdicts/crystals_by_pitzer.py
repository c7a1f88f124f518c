"""How near the salts of a strong stock are to crystallizing, by Pitzer's equations in PHREEQC.

pitzer.dat has no nitrate, ammonium or phosphate; they are added as ions that do not react, with
the parameters of their salts at 25 degrees C (Pitzer and Mayorga 1973; Kim and Frederick 1988, J.
Chem. Eng. Data 33:177-184; both from memory). What an activity model is off by near saturation
falls out here: an index is the activity product of a salt beside that of its own saturated
solution, of published strength, at the same temperature. Urea and boric acid are left out.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping

from chemistry import mass, rows_by
from phreeqc_runs import RunFailed, program, run
from settling import CHLORIDE_FOR, LEFT_OUT, of_water
from tank_chemistry import FORMULAS, Tank, gram_molecule, total

DATABASE = "pitzer.dat"
IONS = {
    "Ca": "Ca+2", "Mg": "Mg+2", "K": "K+", "Na": "Na+", "Amn": "Amn+", "Nit": "Nit-",
    "S(6)": "SO4-2", "Cl": "Cl-", "Phs": "Phs-", "Hps": "Hps-2",
}  # fmt: skip
MORE = """SOLUTION_MASTER_SPECIES
Nit Nit- 0 62.005 62.005
Amn Amn+ 0 18.039 18.039
Phs Phs- 0 96.987 96.987
Hps Hps-2 0 95.979 95.979
SOLUTION_SPECIES
Nit- = Nit-
 log_k 0
Amn+ = Amn+
 log_k 0
Phs- = Phs-
 log_k 0
Hps-2 = Hps-2
 log_k 0
PITZER
-B0
 K+ Nit- -0.0816
 Na+ Nit- 0.0068
 Amn+ Nit- -0.0154
 Ca+2 Nit- 0.2108
 Mg+2 Nit- 0.3671
 H+ Nit- 0.1168
 Amn+ Cl- 0.0522
 Amn+ SO4-2 0.0409
 K+ Phs- -0.0678
 Na+ Phs- -0.0533
 Amn+ Phs- -0.0704
 K+ Hps-2 0.0248
 Na+ Hps-2 -0.0583
 Amn+ Hps-2 -0.0425
-B1
 K+ Nit- 0.0494
 Na+ Nit- 0.1783
 Amn+ Nit- 0.1120
 Ca+2 Nit- 1.409
 Mg+2 Nit- 1.5848
 H+ Nit- 0.3546
 Amn+ Cl- 0.1918
 Amn+ SO4-2 0.6585
 K+ Phs- -0.1042
 Na+ Phs- 0.0396
 Amn+ Phs- -0.4156
 K+ Hps-2 1.2743
 Na+ Hps-2 1.4655
 Amn+ Hps-2 -0.698
-C0
 K+ Nit- 0.00660
 Na+ Nit- -0.00072
 Amn+ Nit- -0.00003
 Ca+2 Nit- -0.02014
 Mg+2 Nit- -0.02062
 H+ Nit- -0.00539
 Amn+ Cl- -0.00301
 Amn+ SO4-2 -0.00116
 Na+ Phs- 0.00795
 Amn+ Phs- 0.00669
 K+ Hps-2 0.0164
 Na+ Hps-2 0.0294
 Amn+ Hps-2 0.00527
-THETA
 Nit- Cl- 0.016
"""
# Salt -> ions in a mole of its crystals, crystal water, g/mol of the crystals.
SALTS: dict[str, tuple[Mapping[str, int], int, float]] = {
    "potassium nitrate": ({"K": 1, "Nit": 1}, 0, mass("KNO3")),
    "potassium sulfate": ({"K": 2, "S(6)": 1}, 0, mass("K2SO4")),
    "potassium chloride": ({"K": 1, "Cl": 1}, 0, mass("KCl")),
    "monopotassium phosphate": ({"K": 1, "Phs": 1}, 0, mass("KH2PO4")),
    "monoammonium phosphate": ({"Amn": 1, "Phs": 1}, 0, mass("NH4H2PO4")),
    "diammonium phosphate": ({"Amn": 2, "Hps": 1}, 0, mass("(NH4)2HPO4")),
    "ammonium sulfate": ({"Amn": 2, "S(6)": 1}, 0, mass("(NH4)2SO4")),
    "ammonium nitrate": ({"Amn": 1, "Nit": 1}, 0, mass("NH4NO3")),
    "magnesium sulfate heptahydrate": ({"Mg": 1, "S(6)": 1}, 7, mass("MgSO4.7H2O")),
    "magnesium nitrate hexahydrate": ({"Mg": 1, "Nit": 2}, 6, mass("Mg(NO3)2.6H2O")),
    "calcium nitrate tetrahydrate": ({"Ca": 1, "Nit": 2}, 4, mass("Ca(NO3)2.4H2O")),
    "ammonium chloride": ({"Amn": 1, "Cl": 1}, 0, mass("NH4Cl")),
    "picromerite": ({"K": 2, "Mg": 1, "S(6)": 2}, 6, mass("K2Mg(SO4)2.6H2O")),
    "boussingaultite": ({"Amn": 2, "Mg": 1, "S(6)": 2}, 6, mass("(NH4)2Mg(SO4)2.6H2O")),
}
# g without crystal water in 100 g of water at 0, 10, 20, 30, 40 degrees C, of salts that
# solubility.csv does not have: CRC Handbook and Seidell (from memory).
WITHOUT_WATER = {
    "ammonium chloride": (29.4, 33.2, 37.2, 41.4, 45.8),
    "picromerite": (14.1, 19.6, 25.0, 30.4, 36.6),
    "boussingaultite": (11.8, 14.6, 18.0, 21.7, 25.8),
}
WATER = 55.508  # mol/kg
LITRES = (0.9998, 0.9997, 0.9982, 0.9957, 0.9922)  # kg in a litre of water, 0 to 40 degrees C


def crystals_in(tank: Tank) -> dict[str, float]:
    """The saturation index of each salt that could form, log10; above 0 it settles.

    Raises: RunFailed where PHREEQC finds no balance.
    """
    amounts = ions(tank)
    there = {
        salt: parts for salt, (parts, _, _) in SALTS.items() if all(p in amounts for p in parts)
    }
    if not there:
        return {}
    logs = activities(amounts, tank.celsius)
    return {salt: product(salt, logs) - saturated(salt, tank.celsius) for salt in there}


def ions(tank: Tank) -> dict[str, float]:
    """mmol in a kilogram of water, by the names that MORE gives them."""
    room = tank.water_kg
    if room <= 0:
        raise RunFailed("no balance: the salts leave no room for water")
    brought = {part: 1000 * n / room for part, n in tank.brought.items() if part not in LEFT_OUT}
    stands_in = sum(number * brought.pop(part, 0) for part, number in CHLORIDE_FOR.items())
    whole = total([brought, {"Cl": stands_in}, of_water(tank.water, tank.celsius)])
    whole = {name: n for name, n in whole.items() if n > 0 and name not in ("B", "Si")}
    phosphate = _phosphate(tank, whole.pop("P", 0))
    renamed = {"N(5)": "Nit", "N(-3)": "Amn"}
    named = {renamed.get(name, name): n for name, n in whole.items()}
    metals = sum(named.pop(name, 0) for name in ("Zn", "Mn(2)", "Cu(2)", "Fe(2)"))
    # Metals of double charge are as magnesium to all but salts of their own.
    return {name: n for name, n in total([named, {"Mg": metals}, phosphate]).items() if n > 0}


def _phosphate(tank: Tank, amount: float) -> dict[str, float]:
    """Phosphate by its two forms: diammonium phosphate brings HPO4, until an acid takes it."""
    if not amount:
        return {}
    double = sum(
        1000 * each.grams / gram_molecule(each.product) / tank.litres / tank.water_kg
        for each in tank.portions
        if FORMULAS[each.product][0] == "(NH4)2HPO4"
    )
    return {"Phs": amount - double, "Hps": double}


@functools.cache
def more_ions() -> None:
    """Gives PHREEQC's database what it lacks, once."""
    if program(DATABASE).RunString(MORE):
        raise RunFailed(f"{DATABASE}: {program(DATABASE).GetErrorString()}")


def activities(amounts: Mapping[str, float], celsius: float) -> dict[str, float]:
    """log10 of the activities of the ions and of water."""
    more_ions()
    asked = {name: ion for name, ion in IONS.items() if amounts.get(name, 0) > 0}
    wanted = {f"a{i}": f'LA("{ion}")' for i, ion in enumerate(asked.values())}
    lines = [f" {name} {float(n)!r}" for name, n in amounts.items()]
    for start in (7, 5, 3, 9, 1, 11):
        head = ["SOLUTION 1", f" temp {celsius}", " units mmol/kgw", f" pH {start} charge", " pe 4"]
        block = "\n".join([*head, *lines])
        try:
            (found,) = run(DATABASE, block, {**wanted, "water": 'LA("H2O")'})
        except RunFailed as problem:
            if "has not converged" not in str(problem):
                raise
            continue
        return {name: found[f"a{i}"] for i, name in enumerate(asked)} | {"water": found["water"]}
    raise RunFailed(f"no balance in {DATABASE} for {dict(amounts)}")


def product(salt: str, logs: Mapping[str, float]) -> float:
    """log10 of a salt's activity product."""
    parts, waters, _ = SALTS[salt]
    return sum(number * logs[part] for part, number in parts.items()) + waters * logs["water"]


@functools.cache
def saturated(salt: str, celsius: float) -> float:
    """The same in its own saturated solution."""
    parts, _, _ = SALTS[salt]
    moles = strength(salt, celsius)
    return product(salt, activities({p: 1000 * n * moles for p, n in parts.items()}, celsius))


def strength(salt: str, celsius: float) -> float:
    """mol in a kilogram of water of a salt's saturated solution, its crystal water counted in."""
    low = min(3, int(celsius // 10))
    part = celsius / 10 - low
    return molality(salt, low) * (1 - part) + molality(salt, low + 1) * part


def molality(salt: str, ten: int) -> float:
    """The same at 0, 10, 20, 30 or 40 degrees C, from grams of crystals to added water."""
    _, waters, molar = SALTS[salt]
    if salt in WITHOUT_WATER:
        return WITHOUT_WATER[salt][ten] * 10 / (molar - waters * 18.015)
    grams = float(rows_by("solubility", "salt")[salt][f"at_{10 * ten}"])
    moles = grams / molar
    return moles / (LITRES[ten] + moles * waters / WATER)


def share(index: float, salt: str) -> float:
    """An index as a share of the saturated salt: its ion product's mean."""
    return math.pow(10, index / sum(SALTS[salt][0].values()))
