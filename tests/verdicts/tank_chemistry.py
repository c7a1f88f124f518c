"""What is dissolved in a tank, from the formulas of its products: nothing here is the project's.

Amounts become moles by formula and periodictable's atomic weights, technical grades by the share of
the pure salt in them, liquids by the densities of handbooks. A litre of stock holds less than a
kilogram of water: what the ions take up is counted by their partial molar volumes.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from chemistry import mass

Amounts = Mapping[str, float]
# Product -> its formula, the share of that in it by mass, and what a mole of it brings, by the
# names of PHREEQC; "urea", "S2O3", "chelate" and "OCl" are what its databases lack, and "anion"
# counts the charge of chelates.
FORMULAS: dict[str, tuple[str, float, Amounts]] = {
    "calcium nitrate 15.5-0-0": (
        "5Ca(NO3)2.NH4NO3.10H2O", 1, {"Ca": 5, "N(-3)": 1, "N(5)": 11},
    ),
    "calcium nitrate tetrahydrate": ("Ca(NO3)2.4H2O", 1, {"Ca": 1, "N(5)": 2}),
    "potassium nitrate": ("KNO3", 1, {"K": 1, "N(5)": 1}),
    "monopotassium phosphate": ("KH2PO4", 1, {"K": 1, "P": 1}),
    "monoammonium phosphate": ("NH4H2PO4", 1, {"N(-3)": 1, "P": 1}),
    "diammonium phosphate": ("(NH4)2HPO4", 1, {"N(-3)": 2, "P": 1}),
    "urea": ("CO(NH2)2", 1, {"urea": 1}),
    "urea phosphate": ("CO(NH2)2.H3PO4", 1, {"urea": 1, "P": 1}),
    "ammonium sulfate": ("(NH4)2SO4", 1, {"N(-3)": 2, "S(6)": 1}),
    "ammonium nitrate": ("NH4NO3", 1, {"N(-3)": 1, "N(5)": 1}),
    "potassium sulfate": ("K2SO4", 0.962, {"K": 2, "S(6)": 1}),
    "potassium sulfate pure": ("K2SO4", 1, {"K": 2, "S(6)": 1}),
    "potassium chloride": ("KCl", 0.981, {"K": 1, "Cl": 1}),
    "potassium chloride pure": ("KCl", 1, {"K": 1, "Cl": 1}),
    "potassium bicarbonate": ("KHCO3", 1, {"K": 1, "C(4)": 1}),
    "potassium carbonate": ("K2CO3", 1, {"K": 2, "C(4)": 1}),
    "potassium magnesium sulfate": ("K2SO4.2MgSO4", 0.95, {"K": 2, "Mg": 2, "S(6)": 3}),
    "potassium magnesium sulfate pure": ("K2SO4.2MgSO4", 1, {"K": 2, "Mg": 2, "S(6)": 3}),
    "magnesium nitrate hexahydrate": ("Mg(NO3)2.6H2O", 1, {"Mg": 1, "N(5)": 2}),
    "magnesium sulfate heptahydrate": ("MgSO4.7H2O", 1, {"Mg": 1, "S(6)": 1}),
    "magnesium sulfate monohydrate": ("MgSO4.H2O", 0.911, {"Mg": 1, "S(6)": 1}),
    "magnesium sulfate monohydrate pure": ("MgSO4.H2O", 1, {"Mg": 1, "S(6)": 1}),
    "calcium chloride dihydrate": ("CaCl2.2H2O", 1, {"Ca": 1, "Cl": 2}),
    "manganese sulfate monohydrate": ("MnSO4.H2O", 1, {"Mn(2)": 1, "S(6)": 1}),
    "manganese chloride tetrahydrate": ("MnCl2.4H2O", 1, {"Mn(2)": 1, "Cl": 2}),
    "zinc sulfate heptahydrate": ("ZnSO4.7H2O", 1, {"Zn": 1, "S(6)": 1}),
    "zinc sulfate monohydrate": ("ZnSO4.H2O", 0.961, {"Zn": 1, "S(6)": 1}),
    "zinc sulfate monohydrate pure": ("ZnSO4.H2O", 1, {"Zn": 1, "S(6)": 1}),
    "copper sulfate pentahydrate": ("CuSO4.5H2O", 1, {"Cu(2)": 1, "S(6)": 1}),
    "ferrous sulfate heptahydrate": ("FeSO4.7H2O", 1, {"Fe(2)": 1, "S(6)": 1}),
    "boric acid": ("H3BO3", 1, {"B": 1}),
    "borax": ("Na2B4O7.10H2O", 1, {"Na": 2, "B": 4}),
    "disodium octaborate tetrahydrate": ("Na2B8O13.4H2O", 1, {"Na": 2, "B": 8}),
    # Molybdate is left out of the chemistry; its sodium is not worth a charge without it.
    "sodium molybdate dihydrate": ("Na2MoO4.2H2O", 1, {}),
    "ammonium heptamolybdate tetrahydrate": ("(NH4)6Mo7O24.4H2O", 1, {}),
    "nitric acid 60 %": ("HNO3", 0.60, {"N(5)": 1}),
    "nitric acid 67 %": ("HNO3", 0.67, {"N(5)": 1}),
    "phosphoric acid 75 %": ("H3PO4", 0.75, {"P": 1}),
    "phosphoric acid 85 %": ("H3PO4", 0.85, {"P": 1}),
    "sulfuric acid 35 %": ("H2SO4", 0.35, {"S(6)": 1}),
    "sulfuric acid 93 %": ("H2SO4", 0.93, {"S(6)": 1}),
    "hydrochloric acid 32 %": ("HCl", 0.32, {"Cl": 1}),
    "magnesium nitrate liquid 7-0-0": ("Mg(NO3)2", 0.37, {"Mg": 1, "N(5)": 2}),
    # By the kilogram, from their labels.
    "urea ammonium nitrate 32-0-0": (
        "", 1, {"N(-3)": 5.50, "N(5)": 5.50, "urea": 5.83},
    ),
    "urea ammonium nitrate 28-0-0": (
        "", 1, {"N(-3)": 5.00, "N(5)": 5.00, "urea": 5.00},
    ),
    "ammonium polyphosphate 10-34-0": ("", 1, {"N(-3)": 7.14, "P": 4.79}),
    "ammonium thiosulfate 12-0-0-26S": ("", 1, {"N(-3)": 8.10, "S2O3": 4.05}),
    "potassium thiosulfate 0-0-25-17S": ("", 1, {"K": 5.30, "S2O3": 2.65}),
    "potassium silicate liquid": ("", 1, {"K": 1.76, "Si": 3.46}),
    "iron EDTA 13 %": ("", 1, {"Na": 2.33, "chelate": 2.33, "anion": 2.33}),
    "iron DTPA 11 %": ("", 1, {"Na": 1.97, "chelate": 1.97, "anion": 1.97}),
    "iron EDDHA 6 %": ("", 1, {"Na": 1.07, "chelate": 1.07, "anion": 1.07}),
    "manganese EDTA 13 %": ("", 1, {"Na": 4.73, "chelate": 2.37, "anion": 4.73}),
    "zinc EDTA 15 %": ("", 1, {"Na": 4.59, "chelate": 2.29, "anion": 4.59}),
    "copper EDTA 15 %": ("", 1, {"Na": 4.72, "chelate": 2.36, "anion": 4.72}),
    "sodium hypochlorite 12.5 %": ("", 1, {"Na": 3.53, "Cl": 1.76, "OCl": 1.76}),
    "calcium hypochlorite 65 %": ("", 1, {"Ca": 4.58, "OCl": 9.17}),
}  # fmt: skip
# kg/L at 20 degrees C: handbook tables of acids; labels for the other liquids (from memory).
DENSITIES = {
    "nitric acid 60 %": 1.367, "nitric acid 67 %": 1.400, "phosphoric acid 75 %": 1.579,
    "phosphoric acid 85 %": 1.689, "sulfuric acid 35 %": 1.260, "sulfuric acid 93 %": 1.828,
    "hydrochloric acid 32 %": 1.159, "urea ammonium nitrate 32-0-0": 1.325,
    "urea ammonium nitrate 28-0-0": 1.279, "ammonium polyphosphate 10-34-0": 1.396,
    "ammonium thiosulfate 12-0-0-26S": 1.323, "potassium thiosulfate 0-0-25-17S": 1.46,
    "magnesium nitrate liquid 7-0-0": 1.333, "potassium silicate liquid": 1.259,
    "sodium hypochlorite 12.5 %": 1.21,
}  # fmt: skip
# Partial molar volumes at 25 degrees C, cm3/mol (Millero 1971, from memory), of the form that
# stands for each total, and the charge that counts in the Redlich-Meyer term.
VOLUMES: dict[str, tuple[float, int]] = {
    "Ca": (-17.9, 2), "Mg": (-21.2, 2), "K": (9.0, 1), "Na": (-1.2, 1), "N(-3)": (17.9, 1),
    "N(5)": (29.0, 1), "S(6)": (14.0, 2), "Cl": (17.8, 1), "C(4)": (23.4, 1), "P": (29.1, 1),
    "B": (39.2, 0), "Si": (55.0, 0), "Fe(2)": (-22.2, 2), "Mn(2)": (-17.7, 2), "Zn": (-21.6, 2),
    "Cu(2)": (-24.0, 2), "urea": (44.2, 0), "S2O3": (33.0, 2), "chelate": (190.0, 1),
    "OCl": (20.0, 1),
}  # fmt: skip
REDLICH = 0.934  # half of 1.868 cm3 L^0.5 mol^-1.5, at 25 degrees C
# mg/L of a water report, the water of most cases: soft and of little alkalinity. Made up.
SOFT: dict[str, float] = {
    "ca": 20, "mg": 5, "na": 12, "k": 2, "s": 5, "cl": 15, "n": 2, "alkalinity": 60, "ph": 7.4,
}  # fmt: skip
# g/mol that turn a water report into mmol/L.
REPORTED = {
    "ca": ("Ca", 40.078), "mg": ("Mg", 24.305), "na": ("Na", 22.990), "k": ("K", 39.098),
    "s": ("S(6)", 32.06), "cl": ("Cl", 35.45), "n": ("N(5)", 14.007),
}  # fmt: skip
LINE = re.compile(r"(?P<product>.+) (?P<amount>[\d.]+) (?P<unit>kg|g|mL|L)")


@dataclass(frozen=True)
class Portion:
    """A product as it is weighed or poured for one tank."""

    product: str
    amount: float
    unit: str

    @property
    def litres(self) -> float:
        """Litres that are poured, 0 of what is weighed."""
        return self.amount * {"L": 1, "mL": 0.001}.get(self.unit, 0)

    @property
    def grams(self) -> float:
        if self.litres:
            return self.litres * DENSITIES[self.product] * 1000
        return self.amount * (1000 if self.unit == "kg" else 1)


@dataclass(frozen=True)
class Tank:
    """What is put in a tank, and what that makes of it."""

    portions: tuple[Portion, ...]
    litres: float = 100
    celsius: float = 10
    water: Amounts = field(default_factory=lambda: SOFT)

    @property
    def brought(self) -> dict[str, float]:
        """What the products bring, mol in a litre of finished stock."""
        found = defaultdict[str, float](float)
        for portion in self.portions:
            moles = portion.grams / gram_molecule(portion.product) / self.litres
            for part, number in FORMULAS[portion.product][2].items():
                found[part] += number * moles
        return dict(found)

    @property
    def poured(self) -> float:
        """Litres of liquid products in a litre of stock."""
        return sum(each.litres for each in self.portions) / self.litres

    @property
    def water_kg(self) -> float:
        """Kilograms of water in a litre of finished stock; below 0 the salts leave no room."""
        amounts = {part: n for part, n in self.brought.items() if part in VOLUMES}
        strength = sum(VOLUMES[part][1] ** 2 * n for part, n in amounts.items()) / 2
        taken = sum(
            n * (VOLUMES[part][0] + REDLICH * VOLUMES[part][1] ** 2 * math.sqrt(strength))
            for part, n in amounts.items()
        )
        return 0.998 - taken / 1000


def gram_molecule(product: str) -> float:
    """Grams of a product that bring what FORMULAS lists; label products are listed by the kg."""
    formula, share, _ = FORMULAS[product]
    return mass(formula) / share if formula else 1000


def portions(text: str) -> tuple[Portion, ...]:
    """Reads "potassium nitrate 5 kg; nitric acid 60 % 2 L"."""
    return tuple(_portion(each.strip()) for each in text.split(";"))


def _portion(text: str) -> Portion:
    found = LINE.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} must end in an amount and kg, g, L or mL")
    return Portion(found["product"], float(found["amount"]), found["unit"])


def report(text: str) -> dict[str, float]:
    """Reads "ca 200; mg 40; alkalinity 400; ph 7.8" as it is written."""
    return {each.split()[0]: float(each.split()[1]) for each in text.split(";") if each.strip()}


def water(text: str) -> dict[str, float]:
    """A whole water from such a text, mg/L and alkalinity as CaCO3; blank is SOFT.

    What a report leaves out is as in the soft water, except that sodium or chloride balances it.
    """
    given = report(text)
    if not set(given) <= set(SOFT):
        raise ValueError(f"{text!r}: a water has {', '.join(SOFT)}")
    return balanced(SOFT | given)


def feed(text: str) -> tuple[Portion, ...]:
    """All that "A urea 5 kg; ... / B ..." puts in the tanks, of 100 L at 1:100 together."""
    return tuple(each for tank in tanks(text).values() for each in tank)


def tanks(text: str) -> dict[str, tuple[Portion, ...]]:
    """The tanks of such a text by their letters."""
    return {each[0]: portions(each[2:]) for each in text.split(" / ") if text}


def water_mmol(given: Amounts) -> dict[str, float]:
    """The ions of a water report in mmol/L, alkalinity in meq/L apart."""
    return {REPORTED[name][0]: given[name] / REPORTED[name][1] for name in REPORTED}


def balanced(given: Amounts) -> dict[str, float]:
    """The report with as much more sodium, or chloride, as its charges lack."""
    ions = water_mmol(given)
    plus = 2 * ions["Ca"] + 2 * ions["Mg"] + ions["Na"] + ions["K"]
    minus = 2 * ions["S(6)"] + ions["Cl"] + ions["N(5)"] + given["alkalinity"] / 50.04
    more = {"na": max(0.0, minus - plus) * 22.990, "cl": max(0.0, plus - minus) * 35.45}
    return {name: value + more.get(name, 0) for name, value in given.items()}


def total(found: Iterable[Mapping[str, float]]) -> dict[str, float]:
    """Sums of several sets of amounts."""
    whole = defaultdict[str, float](float)
    for each in found:
        for part, amount in each.items():
            whole[part] += amount
    return dict(whole)


def crystal_water(tank: Tank) -> float:
    """Kilograms of water that the crystals bring to a litre of stock."""
    brought = 0.0
    for portion in tank.portions:
        found = re.search(r"\.(\d*)H2O", FORMULAS[portion.product][0])
        if found:
            moles = portion.grams / gram_molecule(portion.product) / tank.litres
            brought += moles * int(found[1] or 1) * 18.015 / 1000
    return brought
