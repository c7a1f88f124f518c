"""Solutions that several tests dissolve, in mmol/L of the ions that FERT.EC takes.

Hoagland and Arnon 1950, California Agricultural Experiment Station Circular 347: recipe of
solution 2 in scribd.com/document/343249760, of solution 1 from memory, borne out by its published
mg/L. Steiner 1984 and Sonneveld and Straver 1994: from memory; the charges balance exactly. The
natural waters are made up to look like waters of wells and rivers, with balanced charges.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tanksheet.definition import catalogue

Ions = Mapping[str, float]
IONS = tuple(catalogue()["EC"].parameters)
DOUBLE = ("calcium", "magnesium", "sulfate")
SINGLES = ("potassium", "sodium", "ammonium")
ANIONS = ("nitrate", "chloride", "bicarbonate", "dihydrogen_phosphate")

FEEDS: dict[str, Ions] = {
    "Hoagland 1": {
        "calcium": 5,
        "magnesium": 2,
        "potassium": 6,
        "nitrate": 15,
        "sulfate": 2,
        "dihydrogen_phosphate": 1,
    },
    "Hoagland 2": {
        "calcium": 4,
        "magnesium": 2,
        "potassium": 6,
        "ammonium": 1,
        "nitrate": 14,
        "sulfate": 2,
        "dihydrogen_phosphate": 1,
    },
    "Steiner": {
        "calcium": 4.5,
        "magnesium": 2,
        "potassium": 7,
        "nitrate": 12,
        "sulfate": 3.5,
        "dihydrogen_phosphate": 1,
    },
    "tomato": {
        "calcium": 5.4,
        "magnesium": 2.4,
        "potassium": 9.5,
        "ammonium": 1.2,
        "nitrate": 16,
        "sulfate": 4.4,
        "dihydrogen_phosphate": 1.5,
    },
    "cucumber": {
        "calcium": 4,
        "magnesium": 1.375,
        "potassium": 8,
        "ammonium": 1.25,
        "nitrate": 16,
        "sulfate": 1.375,
        "dihydrogen_phosphate": 1.25,
    },
}
WATERS: dict[str, Ions] = {
    "river": {
        "calcium": 0.75,
        "magnesium": 0.25,
        "potassium": 0.05,
        "sodium": 0.6,
        "nitrate": 0.1,
        "sulfate": 0.25,
        "chloride": 0.55,
        "bicarbonate": 1.5,
    },
    "hard well": {
        "calcium": 2,
        "magnesium": 0.5,
        "sodium": 1.2,
        "sulfate": 0.32,
        "chloride": 0.56,
        "bicarbonate": 5,
    },
    "salty well": {
        "calcium": 3,
        "magnesium": 1.5,
        "sodium": 8,
        "sulfate": 2.5,
        "chloride": 8,
        "bicarbonate": 4,
    },
}


def times(ions: Ions, factor: float) -> dict[str, float]:
    """The solution at another strength."""
    return {ion: factor * amount for ion, amount in ions.items()}


def total(ions: Ions, names: Iterable[str]) -> float:
    """Sum of some of the ions, mmol/L."""
    return float(sum(ions.get(name, 0) for name in names))


def strength(ions: Ions) -> float:
    """Ionic strength without ion pairs, mmol/L."""
    return (4 * total(ions, DOUBLE) + total(ions, SINGLES + ANIONS)) / 2


def in_order(ions: Ions) -> list[float]:
    """The arguments of FERT.EC."""
    return [float(ions.get(ion, 0)) for ion in IONS]
