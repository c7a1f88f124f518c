"""Strong mixed solutions in PHREEQC, and how far each salt that can form is from saturation there.

The database is the library's pitzer.dat with nitrate, ammonium and phosphate added, which it lacks:
coefficients of single salts at 25 degrees C by May, Rowland, Hefter and Koenigsberger (J. Chem.
Eng. Data 2011, doi 10.1021/je2009329), as a public chemistry library lists them. Those of NH4H2PO4
and (NH4)2HPO4 (Kim and Frederick 1988), of NH4HCO3 and the mixing terms of chloride with nitrate
and with phosphate are from memory. Magnesium with dihydrogen phosphate has no published figure
here: it is estimated from the chlorides and phosphates of sodium and magnesium; with HPO4-- it is
taken as with sulfate.

Saturation is not taken from the database: a salt's ion activity product is compared with that of
its own saturated solution, by the published solubilities, run in the same way.
"""

from __future__ import annotations

import csv
import functools
import math
import random
from collections.abc import Mapping
from dataclasses import dataclass

from phreeqc import Phreeqc

from phreeqc_runs import RETRIES, RunFailed
from tanksheet.tables import DATA

ADDED = """
SOLUTION_MASTER_SPECIES
N NO3- 0 N 14.0067
Amm AmmH+ 0 AmmH 17.031
P H2PO4- 0 P 30.9738
SOLUTION_SPECIES
NO3- = NO3-
AmmH+ = AmmH+
AmmH+ = Amm + H+
 log_k -9.252
 delta_h 12.48 kcal
H2PO4- = H2PO4-
H2PO4- = HPO4-2 + H+
 log_k -7.207
 delta_h 0.99 kcal
H2PO4- + H+ = H3PO4
 log_k 2.168
 delta_h -1.33 kcal
PITZER
"""
# Salt, then B0, B1 and C0; pitzer.dat has the others.
PAIRS = """
K+ NO3- -0.07733 0.04925 0.005547
Na+ NO3- 0.003614 0.2062 -5.18e-5
AmmH+ NO3- -0.01709 0.09198 0.000419
Mg+2 NO3- 0.3405 1.672 -0.00901
Ca+2 NO3- 0.1683 1.65 -0.00687
H+ NO3- 0.111 0.3805 -0.00424
AmmH+ Cl- 0.05094 0.2068 -0.00285
AmmH+ SO4-2 0.04211 0.582 -0.00134
AmmH+ HCO3- -0.038 0.07 0
K+ H2PO4- -0.1231 0.09124 0.02453
Na+ H2PO4- -0.05135 0.05496 0.007441
AmmH+ H2PO4- -0.07042 -0.41563 0.00667
Mg+2 H2PO4- 0.12 1.5 0
K+ HPO4-2 0.043 1.147 0.001486
Na+ HPO4-2 -0.02266 1.249 0.00752
AmmH+ HPO4-2 -0.0425 -0.69871 0.00527
Mg+2 HPO4-2 0.2153 3.29 0.02794
"""
MIXING = """
-B2
 Mg+2 HPO4-2 -40.15
-THETA
 NO3- Cl- 0.016
 H2PO4- Cl- 0.10
 AmmH+ Na+ 0.004
-PSI
 K+ NO3- Cl- -0.006
 Na+ NO3- Cl- -0.006
 K+ H2PO4- Cl- -0.0105
END
"""
ELEMENTS = {
    "calcium": "Ca", "magnesium": "Mg", "potassium": "K", "sodium": "Na", "ammonium": "Amm",
    "nitrate": "N", "sulfate": "S(6)", "chloride": "Cl", "carbonate": "C(4)", "phosphate": "P",
}  # fmt: skip
SPECIES = (
    "Ca+2", "Mg+2", "K+", "Na+", "AmmH+", "NO3-", "SO4-2", "Cl-", "HCO3-", "CO3-2", "H2PO4-",
    "HPO4-2", "H2O",
)  # fmt: skip
ABSENT = -50.0
STARTS = (7, 9, 5, 11, 3)
TEMPERATURES = (0, 10, 20, 30, 40)
# kg/L, IAPWS-95 (from memory).
WATER = {0: 0.9998, 5: 1.0, 10: 0.9997, 15: 0.9991, 20: 0.9982, 25: 0.997, 30: 0.9957, 40: 0.9922}


@dataclass(frozen=True)
class Salt:
    """Its ions, g/mol with crystal water and the mol of it, its ion product by species, and the
    volume that a mol without water takes in the saturated solution at 20 degrees C, mL: densities
    by the correlation of Laliberte (2009) as thermo 0.6.1 works them out, or from memory (*)."""

    ions: Mapping[str, float]
    mass: float
    waters: float
    product: Mapping[str, float]
    volume: float


def _salt(ions: str, mass: float, waters: float, product: str, volume: float) -> Salt:
    def read(text: str) -> dict[str, float]:
        return {name: float(n) for name, n in (word.split("=") for word in text.split())}

    return Salt(read(ions), mass, waters, read(product), volume)


SALTS = {
    "potassium nitrate": _salt("potassium=1 nitrate=1", 101.102, 0, "K+=1 NO3-=1", 41.6),
    "potassium sulfate": _salt("potassium=2 sulfate=1", 174.253, 0, "K+=2 SO4-2=1", 40.7),
    "potassium chloride": _salt("potassium=1 chloride=1", 74.548, 0, "K+=1 Cl-=1", 31.0),
    "monopotassium phosphate": _salt("potassium=1 phosphate=1", 136.084, 0, "K+=1 H2PO4-=1", 46.9),
    "monoammonium phosphate": _salt(
        "ammonium=1 phosphate=1", 115.025, 0, "AmmH+=1 H2PO4-=1", 54.5
    ),  # *
    "diammonium phosphate": _salt(
        "ammonium=2 phosphate=1", 132.056, 0, "AmmH+=2 HPO4-2=1", 65
    ),  # *
    "ammonium sulfate": _salt("ammonium=2 sulfate=1", 132.134, 0, "AmmH+=2 SO4-2=1", 71.2),
    "ammonium nitrate": _salt("ammonium=1 nitrate=1", 80.043, 0, "AmmH+=1 NO3-=1", 50.9),
    "magnesium sulfate heptahydrate": _salt(
        "magnesium=1 sulfate=1", 246.466, 7, "Mg+2=1 SO4-2=1 H2O=7", 13.8
    ),
    "magnesium nitrate hexahydrate": _salt(
        "magnesium=1 nitrate=2", 256.403, 6, "Mg+2=1 NO3-=2 H2O=6", 48.4
    ),
    "calcium nitrate tetrahydrate": _salt(
        "calcium=1 nitrate=2", 236.146, 4, "Ca+2=1 NO3-=2 H2O=4", 58.7
    ),
    "potassium bicarbonate": _salt("potassium=1 carbonate=1", 100.114, 0, "K+=1 HCO3-=1", 40.6),
    "ammonium chloride": _salt("ammonium=1 chloride=1", 53.489, 0, "AmmH+=1 Cl-=1", 39.3),
    "sodium chloride": _salt("sodium=1 chloride=1", 58.44, 0, "Na+=1 Cl-=1", 21.3),
    "sodium nitrate": _salt("sodium=1 nitrate=1", 84.995, 0, "Na+=1 NO3-=1", 34.5),
    "sodium bicarbonate": _salt("sodium=1 carbonate=1", 84.007, 0, "Na+=1 HCO3-=1", 25),  # *
    "sodium sulfate decahydrate": _salt(
        "sodium=2 sulfate=1", 322.19, 10, "Na+=2 SO4-2=1 H2O=10", 25.1
    ),
    "ammonium bicarbonate": _salt("ammonium=1 carbonate=1", 79.056, 0, "AmmH+=1 HCO3-=1", 45),  # *
    "potassium magnesium sulfate hexahydrate": _salt(
        "potassium=2 magnesium=1 sulfate=2", 402.7, 6, "K+=2 Mg+2=1 SO4-2=2 H2O=6", 50
    ),  # *
    "ammonium magnesium sulfate hexahydrate": _salt(
        "ammonium=2 magnesium=1 sulfate=2", 360.6, 6, "AmmH+=2 Mg+2=1 SO4-2=2 H2O=6", 70
    ),  # *
}
# g of salt without its water in 100 g of water, 0 to 40 degrees C, for salts that are not among
# the products: the public encyclopaedia's solubility table, but for the double salts (Seidell's
# solubilities, from memory).
ANHYDROUS = {
    "ammonium chloride": (29.4, 33.2, 37.2, 41.4, 45.8),
    "sodium chloride": (35.65, 35.72, 35.89, 36.09, 36.37),
    "sodium nitrate": (73, 80.8, 87.6, 94.9, 102),
    "sodium bicarbonate": (7, 8.1, 9.6, 11.1, 12.7),
    "sodium sulfate decahydrate": (4.9, 9.1, 19.5, 40.8, 48.8),
    "ammonium bicarbonate": (11.9, 16.1, 21.7, 28.4, 36.6),
    "potassium magnesium sulfate hexahydrate": (14.1, 19.6, 25.0, 30.4, 36.2),
    "ammonium magnesium sulfate hexahydrate": (11.8, 14.6, 18.0, 21.7, 25.8),
}
# Salts whose potassium and ammonium stand for each other in the crystal, and the ions of one.
MIXED_CRYSTALS = (
    ("potassium sulfate", "ammonium sulfate", 1.5),
    ("monopotassium phosphate", "monoammonium phosphate", 2),
    ("potassium magnesium sulfate hexahydrate", "ammonium magnesium sulfate hexahydrate", 2.5),
)


@functools.cache
def _program() -> Phreeqc:
    loaded = Phreeqc()
    assert loaded.LoadBuiltInDatabase("pitzer.dat") == 0
    rows = [line.split() for line in PAIRS.strip().splitlines()]
    blocks = [
        f"-{name}\n" + "".join(f" {row[0]} {row[1]} {row[place]}\n" for row in rows)
        for place, name in ((2, "B0"), (3, "B1"), (4, "C0"))
    ]
    if loaded.RunString(ADDED + "".join(blocks) + MIXING):
        raise RunFailed(loaded.GetErrorString())
    return loaded


def activities(ions: Mapping[str, float], celsius: float) -> dict[str, float]:
    """log10 of the activities of the species, for ions in mol/kg of water.

    Raises: RunFailed at an error, a warning, or an element that the database left out.
    """
    names = [f"a{n}" for n in range(len(SPECIES))] + [f"t{n}" for n in range(len(ELEMENTS))]
    punched = [f'LA("{each}")' for each in SPECIES] + [f'TOT("{e}")' for e in ELEMENTS.values()]
    head = f"SELECTED_OUTPUT\n -reset false\nUSER_PUNCH\n -headings {' '.join(names)}\n"
    head += f" 10 PUNCH {', '.join(punched)}\n"
    lines = "".join(f" {ELEMENTS[ion]} {float(n)!r}\n" for ion, n in ions.items() if n > 0)
    for start in STARTS:
        body = f"SOLUTION 1\n temp {celsius}\n units mol/kgw\n pH {start} charge\n{lines}END\n"
        if _program().RunString(head + body):
            continue
        said = [line for line in _program().GetWarningString().splitlines() if line.strip()]
        if [line for line in said if not line.startswith(RETRIES)]:
            raise RunFailed("\n".join([*said, body]))
        found = {name: float(cells[-1]) for name, cells in _program().GetSelectedOutput().items()}
        for place, ion in enumerate(ELEMENTS):
            assert math.isclose(found[f"t{place}"], ions.get(ion, 0), rel_tol=1e-6, abs_tol=1e-9)
        return {each: found[f"a{place}"] for place, each in enumerate(SPECIES)}
    raise RunFailed(f"no balance\n{_program().GetErrorString()}\n{lines}")


@functools.cache
def _listed() -> dict[str, dict[str, str]]:
    with (DATA / "solubility.csv").open(encoding="utf-8", newline="") as stream:
        return {row["salt"]: row for row in csv.DictReader(stream)}


def _saturated_at(salt: str, celsius: int) -> float:
    if salt in ANHYDROUS:
        without = SALTS[salt].mass - SALTS[salt].waters * 18.015
        return 10 * ANHYDROUS[salt][TEMPERATURES.index(celsius)] / without
    moles = float(_listed()[salt][f"at_{celsius}"]) / WATER[celsius] / SALTS[salt].mass
    return moles / (1 + moles * SALTS[salt].waters * 0.018015)


def saturated(salt: str, celsius: float) -> float:
    """mol/kg of water in the saturated solution, by the published figures."""
    low = min(30, int(celsius // 10) * 10)
    below, above = _saturated_at(salt, low), _saturated_at(salt, low + 10)
    return below + (above - below) * (celsius - low) / 10


def brought(amounts: Mapping[str, float]) -> dict[str, float]:
    """The ions that salts bring."""
    ions: dict[str, float] = {}
    for salt, amount in amounts.items():
        for ion, number in SALTS[salt].ions.items():
            ions[ion] = ions.get(ion, 0) + number * amount
    return ions


def _product(salt: str, found: Mapping[str, float]) -> float:
    return sum(number * found[each] for each, number in SALTS[salt].product.items())


@functools.cache
def _own_product(salt: str, celsius: float) -> float:
    amounts = {salt: saturated(salt, celsius)}
    return _product(salt, activities(brought(amounts), celsius))


def indices(amounts: Mapping[str, float], celsius: float) -> dict[str, float]:
    """Saturation index of each salt whose ions are there, for salts in mol/kg of water."""
    found = activities(brought(amounts), celsius)
    return {
        salt: _product(salt, found) - _own_product(salt, celsius)
        for salt, each in SALTS.items()
        if min(found[name] for name in each.product) > ABSENT
    }


def number_of_ions(salt: str) -> float:
    return sum(n for each, n in SALTS[salt].product.items() if each != "H2O")


def mixed_share(found: Mapping[str, float]) -> float:
    """Share of the nearest mixed crystal, taken as ideal; 1 is saturated."""
    shares = [0.0]
    for one, other, power in MIXED_CRYSTALS:
        parts = [10 ** (found[s] / number_of_ions(s)) for s in (one, other) if s in found]
        shares.append(sum(part**power for part in parts) ** (1 / power))
    return max(shares)


def litres(amounts: Mapping[str, float], celsius: float) -> float:
    """Litres that a kg of water with the salts fills, their volumes added up."""
    return 1 / WATER[int(celsius)] + sum(n * SALTS[s].volume for s, n in amounts.items()) / 1000


def random_tank(lot: random.Random, pool: Mapping[str, float]) -> tuple[float, dict[str, float]]:
    """Temperature, and one to five salts in mol/kg, together from a fifth of saturation up to half
    as much again as it; ``pool`` tells how often each salt comes up."""
    celsius = lot.choice((5, 10, 15, 20, 25, 30))
    names, weights, chosen = list(pool), list(pool.values()), set[str]()
    wanted = lot.choice((1, 2, 2, 3, 3, 4, 5))
    while len(chosen) < wanted:
        chosen.update(lot.choices(names, weights))
    parts = {salt: lot.expovariate(1) for salt in sorted(chosen)}
    whole = lot.uniform(0.2, 1.5) / sum(parts.values())
    return celsius, {s: whole * n * saturated(s, celsius) for s, n in parts.items()}
