"""ions.csv against atomic weights and the charges of the periodic table's textbook ions."""

from __future__ import annotations

import pytest

from chemistry import Row, atoms, mass, rows_by, table, weight

ROWS = table("ions")
# Element that a report may give the ion as, and the charges that it carries, typed by hand. Boron
# is there as boric acid at the pH of a water, and iron is counted as iron(II).
IONS = {
    "Ca": ("Ca", 2),
    "Mg": ("Mg", 2),
    "K": ("K", 1),
    "Na": ("Na", 1),
    "NH4": ("N", 1),
    "NO3": ("N", 1),
    "SO4": ("S", 2),
    "Cl": ("Cl", 1),
    "HCO3": ("C", 1),
    "CO3": ("C", 2),
    "H2PO4": ("P", 1),
    "B": ("B", 0),
    "Fe": ("Fe", 2),
    "Mn": ("Mn", 2),
}


def faults(row: Row) -> list[str]:
    """Figures of a row that do not follow from its formula."""
    element, charge = IONS[row["ion"]]
    true = {
        "element_mass": atoms(row["ion"])[element] * weight(element),
        "molar_mass": mass(row["ion"]),
    }
    found = [
        f"{column}: {row[column]} listed, {value:.4f} by formula"
        for column, value in true.items()
        if float(row[column]) != pytest.approx(value, rel=1e-5)
    ]
    if row["element"] != element or float(row["charge"]) != charge:
        found.append(f"element {row['element']}, charge {row['charge']}: not {element}, {charge}")
    return found


def test_no_ion_is_missing_or_new() -> None:
    assert [row["ion"] for row in ROWS] == list(IONS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["ion"])
def test_figures_follow_from_the_formula(row: Row) -> None:
    assert faults(row) == []


@pytest.mark.parametrize(
    ("column", "value"),
    [("element_mass", "14.01"), ("molar_mass", "62.01"), ("charge", "2"), ("element", "O")],
)
def test_a_wrong_figure_is_seen(column: str, value: str) -> None:
    nitrate = rows_by("ions", "ion")["NO3"]
    assert faults(nitrate) == []
    assert len(faults({**nitrate, column: value})) == 1
