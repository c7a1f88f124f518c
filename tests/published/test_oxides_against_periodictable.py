"""The oxide factors against periodictable's atomic weights (IUPAC)."""

from __future__ import annotations

import csv

import periodictable
import pytest

from tanksheet.definition import catalogue
from tanksheet.tables import DATA

ELEMENT = catalogue()["ELEMENT"].function
# Editions of the atomic weights differ by less.
TOLERANCE = 1e-4
# What FERT.ELEMENT promises at the least.
PROMISED = {"P2O5": "P", "K2O": "K", "CaO": "Ca", "MgO": "Mg", "SO3": "S", "SiO2": "Si"}


def table() -> list[dict[str, str]]:
    with (DATA / "oxides.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


by_oxide = pytest.mark.parametrize("row", table(), ids=lambda row: row["oxide"])


def share(oxide: str, element: str) -> float:
    """Mass of the element in one mass of the oxide."""
    atoms = periodictable.formula(oxide).mass_fraction
    return float({str(atom): part for atom, part in atoms.items()}[element])


def test_the_promised_oxides_are_there() -> None:
    listed = {row["oxide"]: row["element"] for row in table()}
    assert PROMISED.items() <= listed.items()


@by_oxide
def test_factor(row: dict[str, str]) -> None:
    assert float(row["factor"]) == pytest.approx(share(row["oxide"], row["element"]), rel=TOLERANCE)


@by_oxide
def test_element_of_a_label(row: dict[str, str]) -> None:
    assert ELEMENT(row["oxide"], 46) == pytest.approx(
        46 * share(row["oxide"], row["element"]), rel=TOLERANCE
    )


@by_oxide
def test_a_wrong_factor_shows(row: dict[str, str]) -> None:
    wrong = float(row["factor"]) * (1 + 3 * TOLERANCE)
    assert wrong != pytest.approx(share(row["oxide"], row["element"]), rel=TOLERANCE)
