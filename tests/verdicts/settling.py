"""What PHREEQC 3.8 finds in a tank or a feed: its pH, and how near each solid is to settling.

Databases: sit.dat for calcium sulfate, since it knows nitrate and was made for strong solutions;
minteq.v4.dat for carbonates, phosphates and hydroxides (its Davies activities are rough above an
ionic strength of about 1 mol/L), with struvite added: 10^-13.26, Ronteltap, Maurer and Gujer, Water
Research 2007. An element that a database lacks stops the run.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from phreeqc_runs import RunFailed, run
from tank_chemistry import Tank, total, water_mmol

STARTS = (7, 5, 9, 3, 10, 8, 2, 11, 1, 4, 6, 12)
STRUVITE = """PHASES
Struvite
 MgNH4PO4:6H2O = Mg+2 + NH4+ + PO4-3 + 6H2O
 log_k -13.26
"""
# Solid -> g/mol and the elements without which it cannot be.
GYPSUM = {"Gypsum": (172.17, ("Ca", "S(6)"))}
SOLIDS: dict[str, tuple[float, tuple[str, ...]]] = {
    "Calcite": (100.09, ("Ca", "C(4)")),
    "CaHPO4:2H2O": (172.09, ("Ca", "P")),
    "Struvite": (245.41, ("Mg", "N(-3)", "P")),
    "MgHPO4:3H2O": (174.33, ("Mg", "P")),
    "Nesquehonite": (138.36, ("Mg", "C(4)")),
    "Rhodochrosite": (114.95, ("Mn(2)", "C(4)")),
    "Smithsonite": (125.40, ("Zn", "C(4)")),
    "Siderite": (115.86, ("Fe(2)", "C(4)")),
    "Zn(OH)2": (99.40, ("Zn",)),
    "Pyrochroite": (88.95, ("Mn(2)",)),
    "MnHPO4": (150.92, ("Mn(2)", "P")),
    "Zn3(PO4)2:4H2O": (152.7, ("Zn", "P")),  # for each zinc
    "Cu(OH)2": (97.56, ("Cu(2)",)),
    "SiO2(am-ppt)": (60.08, ("Si",)),
}
# What no database has. Chloride stands in for the charge of thiosulfate and of chelates, since it
# settles with nothing here; urea changes little and is left out.
CHLORIDE_FOR = {"S2O3": 2, "anion": 1}
LEFT_OUT = ("urea", "chelate")
BICARBONATE = 8.3  # pH below which carbonate is bicarbonate


@dataclass(frozen=True)
class Found:
    """What PHREEQC finds: pH, ionic strength in mol/kg of water, saturation indices by solid, and
    ammonia, NH3, in mmol/kg. ``most`` is the g/L of each solid that would use up its scarcest part.
    """

    ph: float
    strength: float
    indices: Mapping[str, float]
    ammonia: float
    most: Mapping[str, float]


def dissolved(tank: Tank) -> dict[str, float]:
    """mmol in a kilogram of water, of products and water; carbonate comes from speciation."""
    room = tank.water_kg
    if room <= 0:
        raise RunFailed("no balance: the salts leave no room for water")
    brought = {part: 1000 * n / room for part, n in tank.brought.items() if part not in LEFT_OUT}
    if "OCl" in brought:
        raise ValueError(
            "a tank with chlorine is no case for PHREEQC: no database has hypochlorite"
        )
    known = {part: n for part, n in brought.items() if part not in CHLORIDE_FOR}
    stands_in = sum(number * brought.get(part, 0) for part, number in CHLORIDE_FOR.items())
    return total([known, {"Cl": stands_in}, of_water(tank.water, tank.celsius)])


def of_water(report: Mapping[str, float], celsius: float) -> dict[str, float]:
    """The water's ions, mmol/kg, with its carbonate."""
    ions = water_mmol(report)
    block = _block(
        {**ions, "Alkalinity": report["alkalinity"] / 50.04}, celsius, f"{report['ph']!r}"
    )
    (found,) = run("phreeqc.dat", block, {"carbon": 'TOT("C(4)")*1000'})
    return {**ions, "C(4)": found["carbon"]}


def found_in(tank: Tank) -> Found:
    """PHREEQC's answer for a tank. Raises: RunFailed, "no balance", where it finds no pH."""
    return found_at(dissolved(tank), tank.celsius)


def found_at(amounts: Mapping[str, float], celsius: float) -> Found:
    """The same for amounts in mmol/kg of water; the pH comes from the balance of charges."""
    asked = [
        name
        for name, (_, parts) in SOLIDS.items()
        if all(amounts.get(part, 0) > 0 for part in parts)
    ]
    wanted = {name: f'SI("{name}")' for name in asked}
    first = _balanced("minteq.v4.dat", STRUVITE, amounts, celsius, wanted)
    indices = {name: first[name] for name in wanted}
    if all(amounts.get(part, 0) > 0 for part in GYPSUM["Gypsum"][1]):
        gypsum = _balanced("sit.dat", "", amounts, celsius, {"Gypsum": 'SI("Gypsum")'})
        indices["Gypsum"] = gypsum["Gypsum"]
    most = _most(amounts, first["ph"])
    return Found(first["ph"], first["mu"], indices, first["ammonia"], most)


def _most(amounts: Mapping[str, float], ph: float) -> dict[str, float]:
    """g/L of each solid that would use up its scarcest part. Of two bicarbonates one goes off as
    carbon dioxide while the other settles."""
    there = {**amounts, "C(4)": amounts.get("C(4)", 0) * (0.5 if ph < BICARBONATE else 1)}
    return {
        name: molar * min(there.get(part, 0) for part in parts) / 1000
        for name, (molar, parts) in (SOLIDS | GYPSUM).items()
    }


def _balanced(
    database: str,
    more: str,
    amounts: Mapping[str, float],
    celsius: float,
    wanted: Mapping[str, str],
) -> dict[str, float]:
    ammonia = 'MOL("NH3")*1000'
    whole = {**wanted, "ph": '-LA("H+")', "mu": "MU", "ammonia": ammonia}
    for start in STARTS:
        block = more + _block(amounts, celsius, f"{start} charge")
        try:
            (found,) = run(database, block, whole)
        except RunFailed as problem:
            if "has not converged" not in str(problem):
                raise
            continue
        return found
    raise RunFailed(f"no balance in {database} for {dict(amounts)}")


def _block(amounts: Mapping[str, float], celsius: float, ph: str) -> str:
    """A SOLUTION block. Each valence is a total of its own, so nothing is oxidized or reduced."""
    lines = [f" {name} {float(n)!r}" for name, n in amounts.items() if n > 0]
    head = ["SOLUTION 1", f" temp {celsius}", " units mmol/kgw", f" pH {ph}", " pe 4"]
    return "\n".join([*head, *lines]) + "\n"
