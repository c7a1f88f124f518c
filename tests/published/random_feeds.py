"""Feeds and stocks by lot, as PHREEQC dissolves them and as FERT.FEEDPH and FERT.FEEDEC take them.

A water with its alkalinity, pH and temperature is speciated first; what it holds of carbonate then
stays in, and salts, acids and bases by their formulas come on top. Charges sum to nothing in every
product, so that PHREEQC finds the pH from the balance of charges. All of it is made up.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from phreeqc_runs import RunFailed, run

DATABASE = "phreeqc.dat"
# Where PHREEQC begins to look for the pH.
STARTS = (7, 9, 10, 8, 11, 5, 3)
TEMPERATURES = (5, 10, 15, 20, 25, 30, 35)
# What one mmol brings, "acid" being protons beyond HCO3-, H2PO4-, NH4+, SO4--, B(OH)3, Si(OH)4.
PRODUCTS: dict[str, dict[str, float]] = {
    "Ca(NO3)2": {"calcium": 1, "nitrate": 2},
    "KNO3": {"potassium": 1, "nitrate": 1},
    "MgSO4": {"magnesium": 1, "sulfate": 1},
    "K2SO4": {"potassium": 2, "sulfate": 1},
    "KH2PO4": {"potassium": 1, "phosphate": 1},
    "NH4H2PO4": {"ammonium": 1, "phosphate": 1},
    "(NH4)2HPO4": {"ammonium": 2, "phosphate": 1, "acid": -1},
    "NH4NO3": {"ammonium": 1, "nitrate": 1},
    "(NH4)2SO4": {"ammonium": 2, "sulfate": 1},
    "KCl": {"potassium": 1, "chloride": 1},
    "KHCO3": {"potassium": 1, "carbonate": 1},
    "K2CO3": {"potassium": 2, "carbonate": 1, "acid": -1},
    "potassium silicate": {"potassium": 1, "silicate": 1.5, "acid": -1},
    "borax": {"sodium": 2, "borate": 4, "acid": -2},
    "HNO3": {"nitrate": 1, "acid": 1},
    "H3PO4": {"phosphate": 1, "acid": 1},
    "H2SO4": {"sulfate": 1, "acid": 2},
}
ACIDS = ("HNO3", "H3PO4", "H2SO4")
# Product -> mmol/L at most, and how many feeds of ten have it.
IN_FEEDS = {
    "Ca(NO3)2": (6, 7), "KNO3": (8, 7), "MgSO4": (4, 7), "K2SO4": (3, 3), "KH2PO4": (3, 5),
    "NH4H2PO4": (2, 3), "(NH4)2HPO4": (2, 2), "NH4NO3": (3, 4), "KCl": (3, 2), "KHCO3": (2, 1),
    "K2CO3": (1, 1), "potassium silicate": (1, 1), "borax": (0.1, 2),
}  # fmt: skip
# mmol/L at most in a stock with calcium, and in one without.
IN_TANK_A = {"Ca(NO3)2": 350, "KNO3": 500, "NH4NO3": 300, "HNO3": 300}
IN_TANK_B = {
    "KNO3": 400, "MgSO4": 250, "K2SO4": 200, "KH2PO4": 250, "NH4H2PO4": 300, "(NH4)2HPO4": 200,
    "NH4NO3": 200, "(NH4)2SO4": 150, "HNO3": 200, "H3PO4": 250, "H2SO4": 150, "KHCO3": 100,
    "K2CO3": 100,
}  # fmt: skip
CHARGES = {
    "calcium": 2, "magnesium": 2, "potassium": 1, "sodium": 1, "ammonium": 1, "nitrate": 1,
    "sulfate": 2, "chloride": 1, "phosphate": 1, "carbonate": 1, "acid": 1,
}  # fmt: skip
ELEMENTS = {
    "calcium": "Ca", "magnesium": "Mg", "potassium": "K", "sodium": "Na", "ammonium": "N(-3)",
    "nitrate": "N(5)", "sulfate": "S(6)", "chloride": "Cl", "phosphate": "P",
    "carbonate": "C(4)", "borate": "B", "silicate": "Si",
}  # fmt: skip


@dataclass(frozen=True)
class Water:
    """A water: alkalinity in meq/L, ions in mmol/L, charges balanced but for its alkalinity."""

    alkalinity: float
    ph: float
    celsius: float
    ions: Mapping[str, float]

    @property
    def block(self) -> str:
        return block(self.celsius, f"{self.ph!r}", {**self.ions, "Alkalinity": self.alkalinity})


@dataclass(frozen=True)
class Mixture:
    """A water with products in it, and what PHREEQC finds there."""

    water: Water
    products: Mapping[str, float]
    totals: Mapping[str, float]
    ph: float
    conductivity: float
    strength: float

    def brought(self, ion: str) -> float:
        """What the products bring, mmol/L."""
        return sum(n * PRODUCTS[name].get(ion, 0) for name, n in self.products.items())

    @property
    def arguments(self) -> list[float]:
        """Those of FERT.FEEDPH."""
        water = self.water
        ions = ("phosphate", "ammonium", "sulfate", "silicate", "borate", "calcium", "magnesium")
        first = [water.alkalinity, water.ph, water.celsius, self.brought("acid")]
        middle = [self.brought("carbonate"), *(self.totals.get(ion, 0) for ion in ions)]
        return [*first, *middle, self.formal_strength]

    @property
    def formal_strength(self) -> float:
        """Ionic strength of the ions as they are brought, mmol/L."""
        whole = {**self.totals, "acid": abs(self.brought("acid"))}
        whole["carbonate"] = self.water.alkalinity + self.brought("carbonate")
        return sum(CHARGES.get(ion, 0) ** 2 * amount for ion, amount in whole.items()) / 2


def block(celsius: float, ph: str, amounts: Mapping[str, float]) -> str:
    """A SOLUTION block; pe 12 keeps nitrate and ammonium as they are."""
    lines = [f" {ELEMENTS.get(ion, ion)} {float(n)!r}" for ion, n in amounts.items() if n > 0]
    head = ["SOLUTION 1", f" temp {celsius}", " units mmol/kgw", f" pH {ph}", " pe 12"]
    return "\n".join([*head, *lines]) + "\n"


def random_water(lot: random.Random, celsius: float | None = None) -> Water:
    """Soft to very hard, with the salts of wells and rivers."""
    alkalinity = lot.choice([0.3, 1, 2, 4, 6, 8]) * lot.uniform(0.7, 1.2)
    warmth = lot.choice(TEMPERATURES) if celsius is None else celsius
    hardness, magnesium = lot.uniform(0.2, 1.2) * alkalinity / 2, lot.uniform(0.1, 0.4)
    ions = {
        "calcium": hardness * (1 - magnesium),
        "magnesium": hardness * magnesium,
        "sulfate": lot.uniform(0, 0.3) * alkalinity,
        "chloride": lot.uniform(0.4, 0.8) * alkalinity,
    }
    ions["sodium"] = alkalinity + ions["chloride"] + 2 * ions["sulfate"] - 2 * hardness
    return Water(alkalinity, lot.uniform(6.3, 8.4), warmth, ions)


def mixed(water: Water, products: Mapping[str, float]) -> Mixture:
    """PHREEQC's answer; a start elsewhere helps where it does not find the balance from pH 7."""
    (carbon,) = run(DATABASE, water.block, {"C": 'TOT("C(4)")*1000'})
    totals = defaultdict[str, float](float, water.ions)
    totals["carbonate"] = carbon["C"]
    for name, amount in products.items():
        for ion, number in PRODUCTS[name].items():
            totals[ion] += number * amount
    totals.pop("acid", None)
    wanted = {"ph": '-LA("H+")', "SC": "SC", "mu": "MU"}
    for start in STARTS:
        try:
            (found,) = run(DATABASE, block(water.celsius, f"{start} charge", totals), wanted)
        except RunFailed as problem:
            if "has not converged" not in str(problem):
                raise
            continue
        return Mixture(water, products, totals, found["ph"], found["SC"] / 1000, found["mu"])
    raise RunFailed(f"no balance for {products} in {water}")


def random_feed(lot: random.Random, celsius: float | None = None) -> Mixture:
    """A feed; six of ten have acid, up to a third beyond the water's alkalinity."""
    water = random_water(lot, celsius)
    products = {
        name: lot.uniform(0, most)
        for name, (most, of_ten) in IN_FEEDS.items()
        if lot.random() < of_ten / 10
    }
    if lot.random() < 0.6:
        acid = lot.choice(ACIDS)
        products[acid] = lot.uniform(0, 1.3) * water.alkalinity / PRODUCTS[acid]["acid"]
    return mixed(water, products)


def random_stock(lot: random.Random) -> Mixture:
    """A concentrate of one to four products that growers would put in one tank, or nearly so."""
    water = random_water(lot)
    pool = IN_TANK_A if lot.random() < 0.4 else IN_TANK_B
    names = lot.sample(sorted(pool), lot.randint(1, 4))
    return mixed(water, {name: lot.uniform(0.02, 1) * pool[name] for name in names})


def drawn(make: Callable[[random.Random], Mixture], seed: int, count: int) -> list[Mixture]:
    """Mixtures by lot. Where PHREEQC finds no pH another is drawn, for one in thirty at most."""
    lot, failed = random.Random(seed), 0
    found: list[Mixture] = []
    while len(found) < count:
        try:
            found.append(make(lot))
        except RunFailed as problem:
            failed += 1
            if failed > count / 30 or not str(problem).startswith("no balance"):
                raise
    return found
