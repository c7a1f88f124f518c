"""acids.csv against atomic weights, published doses, and acid constants."""

from __future__ import annotations

import math

import pytest

from chemistry import Row, atoms, mass, rows_by, table, weight

COLUMNS = [
    "acid", "formula", "mass_percent", "density_kgL", "molar_mass", "protons", "eq_per_L",
    "n", "p", "s", "cl", "pk_1", "pk_2", "pk_3", "pair_2", "pair_3", "hazard", "source",
]  # fmt: skip
ROWS = table("acids")
ACIDS = rows_by("acids", "acid")
FERTILIZERS = rows_by("fertilizers", "product")
ADDED = {"n": "N", "p": "P", "s": "S", "cl": "Cl"}
US_GALLON, US_FLUID_OUNCE = 3.785411784, 0.0295735295625  # L
# Carbonate's share of a mole of charge as CaCO3, mg/meq.
CACO3 = 50.043
# Sums of the columns. A changed sum is a changed figure: look at it, then change the number.
SUMS = {
    "mass_percent": 497, "density_kgL": 11.522, "molar_mass": 746.737, "protons": 11,
    "eq_per_L": 114.927, "n": 28.014, "p": 61.948, "s": 32.06, "cl": 35.45,
}  # fmt: skip

every_acid = pytest.mark.parametrize("row", ROWS, ids=lambda row: row["acid"])


def faults(row: Row) -> list[str]:
    """Figures of a row that do not follow from its formula, strength and density."""
    protons, grams = float(row["protons"]), mass(row["formula"])
    litre = float(row["mass_percent"]) * 10 * float(row["density_kgL"])
    true = {"molar_mass": grams, "eq_per_L": litre / grams * protons}
    for column, element in ADDED.items():
        true[column] = atoms(row["formula"])[element] * weight(element) / protons
    return [
        f"{column}: {row[column]} listed, {value:.4f} by formula"
        for column, value in true.items()
        if float(row[column]) != pytest.approx(value, rel=1e-4)
    ]


def charge_at(ph: float, constants: tuple[float, ...]) -> float:
    """Protons that a mole of the acid has given at a pH, from its pKa values."""
    terms = [1.0]
    for pka in constants:
        terms.append(terms[-1] * 10 ** (ph - pka))
    return sum(given * term for given, term in enumerate(terms)) / sum(terms)


def test_columns_and_pinned_sums() -> None:
    assert list(ROWS[0]) == COLUMNS
    assert len(ROWS) == len({row["acid"].lower() for row in ROWS}) == 8
    columns = ("mass_percent", "density_kgL", "molar_mass", "protons", "eq_per_L", *ADDED)
    sums = {column: round(sum(float(row[column]) for row in ROWS), 3) for column in columns}
    assert sums == SUMS


@every_acid
def test_figures_follow_from_the_formula(row: Row) -> None:
    assert faults(row) == []
    assert row["acid"].endswith(f" {row['mass_percent']} %")


@every_acid
def test_the_two_tables_agree(row: Row) -> None:
    if row["acid"] == "citric acid 50 %":  # brings no nutrient: not among the fertilizers
        assert row["acid"] not in FERTILIZERS
        return
    product = FERTILIZERS[row["acid"]]
    assert product["density_kgL"] == row["density_kgL"]
    assert product["hazard"] == row["hazard"]
    moles = float(row["mass_percent"]) / 100 / float(row["molar_mass"])
    assert float(product["molar_mass"]) == pytest.approx(1 / moles, rel=1e-4)
    assert float(product["hydrogen"]) == float(row["protons"])


# kg/L near 20 C. Sulfuric 35 %: CRC Handbook 30 % 1.2191 and 40 % 1.3028
# (engineeringtoolbox.com/density-aqueous-solution-inorganic-salt-acid-concentration-d_1958.html),
# half-way. Phosphoric: ten handbooks, ECHA dossier 15531 (75 %: 1.57-1.58; 85 %: from 1.69).
# Citric: CRC 20 % 1.0858 and 30 % 1.1346 (engineeringtoolbox.com, d_1953), whose straight line is
# the least that 50 % can be. The rest: Laliberte's correlation, worked out with thermo 0.6.
@pytest.mark.parametrize(
    ("acid", "low", "high"),
    [
        ("sulfuric acid 35 %", 1.255, 1.263),
        ("sulfuric acid 93 %", 1.82, 1.84),  # CRC: 100 % is 1.8305, 98 % slightly more
        ("phosphoric acid 75 %", 1.57, 1.58),
        ("phosphoric acid 85 %", 1.68, 1.70),
        ("citric acid 50 %", 1.0858 + 3 * (1.1346 - 1.0858), 1.25),
        ("nitric acid 60 %", 1.3673 * 0.998, 1.3673 * 1.002),
        ("nitric acid 67 %", 1.3993 * 0.998, 1.3993 * 1.002),
        ("hydrochloric acid 32 %", 1.1588 * 0.998, 1.1588 * 1.002),
    ],
)
def test_published_densities(acid: str, low: float, high: float) -> None:
    assert low <= float(ACIDS[acid]["density_kgL"]) <= high


def test_sulfuric_acid_dose_of_an_extension_table() -> None:
    # UMass Extension, "Adjusting Alkalinity with Acids", table 1 (read in a re-post): 1 fl oz of
    # 93 % acid in 100 US gal removes 136.0 mg/L CaCO3 and adds 43.6 mg/L S; its density is 1.835.
    acid = ACIDS["sulfuric acid 93 %"]
    meq_per_litre = US_FLUID_OUNCE * float(acid["eq_per_L"]) * 1000 / (100 * US_GALLON)
    assert meq_per_litre * CACO3 == pytest.approx(136.0, rel=0.006)
    assert meq_per_litre * float(acid["s"]) == pytest.approx(43.6, rel=0.006)


# pKa at 25 C: phosphoric 2.148, 7.198, 12.35 (from memory); citric 3.128, 4.761, 6.388
# (Apelblat, Citric Acid, Springer 2014); sulfuric's second 1.99 (from memory).
@pytest.mark.parametrize(
    ("acid", "constants", "tolerance"),
    [
        ("phosphoric acid 75 %", (2.148, 7.198, 12.35), 0.07),
        ("phosphoric acid 85 %", (2.148, 7.198, 12.35), 0.07),
        ("citric acid 50 %", (3.128, 4.761, 6.388), 0.12),
        ("sulfuric acid 93 %", (-3.0, 1.99), 0.001),
        ("nitric acid 60 %", (-1.4,), 0.001),
        ("hydrochloric acid 32 %", (-6.0,), 0.001),
    ],
)
def test_protons_given_at_ph_6(acid: str, constants: tuple[float, ...], tolerance: float) -> None:
    protons = float(ACIDS[acid]["protons"])
    assert charge_at(6, constants) == pytest.approx(protons, rel=tolerance)


# IUPAC and CRC Handbook figures as above; hydrochloric and nitric acid are strong: any figure well
# below 0 will do. 99 and -9 stand for a proton and a pair that there is not. Pairs of calcium,
# log10 of stability: phosphate from phreeqc.dat, citrate from minteq.v4.dat (CaCit- 4.87, CaHCit
# 9.26 less 6.396), sulfate 2.25.
CONSTANTS = {
    "HNO3": (-1.4, 99, 99, -9, -9),
    "HCl": (-6, 99, 99, -9, -9),
    "H2SO4": (-3, 1.988, 99, 2.25, -9),
    "H3PO4": (2.148, 7.198, 12.35, 2.739, 6.459),
    "C6H8O7": (3.128, 4.761, 6.396, 2.9, 4.87),
}


@every_acid
def test_acid_constants(row: Row) -> None:
    listed = [float(row[column]) for column in ("pk_1", "pk_2", "pk_3", "pair_2", "pair_3")]
    assert listed == pytest.approx(CONSTANTS[row["formula"]], abs=0.05)
    assert sorted(listed[:3]) == listed[:3]


def test_charge_of_a_half_given_proton() -> None:
    assert charge_at(4, (4,)) == pytest.approx(0.5)
    assert math.isclose(charge_at(14, (1, 2)), 2, rel_tol=1e-6)


@pytest.mark.parametrize(
    "cells", [{"eq_per_L": "13.05"}, {"protons": "2"}, {"n": "4.5"}, {"density_kgL": "1.4"}]
)
def test_wrong_figures_show(cells: Row) -> None:
    assert faults(ACIDS["nitric acid 60 %"] | cells)
