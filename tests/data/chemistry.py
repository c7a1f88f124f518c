"""What the tests of the chemistry tables share: reading a table, and chemistry from periodictable.

periodictable carries IUPAC's atomic weights; nothing here comes from the project's own code but
the place of its tables.
"""

from __future__ import annotations

import csv
import re
from collections import Counter

import periodictable

from tanksheet.tables import DATA

Row = dict[str, str]
# Percent columns of fertilizers.csv and the element that each counts.
ELEMENTS = {
    "n_nitrate": "N", "n_ammonium": "N", "n_urea": "N", "n_other": "N",
    "p": "P", "k": "K", "ca": "Ca", "mg": "Mg", "s": "S", "fe": "Fe", "mn": "Mn", "zn": "Zn",
    "cu": "Cu", "b": "B", "mo": "Mo", "na": "Na", "cl": "Cl", "si": "Si",
}  # fmt: skip
# Ion columns of fertilizers.csv and the charge of each.
CHARGES = {
    "calcium": 2, "magnesium": 2, "potassium": 1, "sodium": 1, "ammonium": 1, "nitrate": -1,
    "sulfate": -2, "chloride": -1, "bicarbonate": -1, "dihydrogen_phosphate": -1, "hydrogen": 1,
}  # fmt: skip


def table(name: str) -> list[Row]:
    with (DATA / f"{name}.csv").open(encoding="ascii", newline="") as stream:
        return list(csv.DictReader(stream))


def rows_by(name: str, key: str) -> dict[str, Row]:
    return {row[key]: row for row in table(name)}


def weight(element: str) -> float:
    return float(getattr(periodictable, element).mass)


def atoms(formula: str) -> Counter[str]:
    """Atoms of a formula such as 5Ca(NO3)2.NH4NO3.10H2O.

    Each part between dots is read alone: periodictable takes ".4" for a fraction.
    """
    found: Counter[str] = Counter()
    for part in formula.split("."):
        times, unit = re.fullmatch(r"(\d*)(\D.*)", part).groups()  # type: ignore[union-attr]
        for atom, count in periodictable.formula(unit).atoms.items():
            found[str(atom)] += int(times or 1) * count
    return found


def mass(formula: str) -> float:
    """Grams a mole."""
    return sum(count * weight(element) for element, count in atoms(formula).items())


def formula_and_share(text: str) -> tuple[str, float]:
    """("HNO3", 0.6) for "HNO3 (60 % in water)", ("KNO3", 1) for "KNO3"."""
    found = re.fullmatch(r"(\S+)(?: \((\d+) % in water\))?", text)
    if found is None:
        raise ValueError(f"{text!r} is neither a formula nor a formula with its strength")
    return found[1], float(found[2] or 100) / 100
