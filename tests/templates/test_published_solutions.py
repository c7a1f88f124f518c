"""Published nutrient solutions, from their targets to weighed amounts, in every engine and in both
editions.

The salts of each solution in mmol/L (or g in 1,000 L) are the source's; grams follow from them by
the atomic weights of periodictable. The workbook gets only the targets and the names of the salts.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

import periodictable
import pytest

from tanksheet.recalc import ENGINES, engine
from tanksheet.sheets.choices import EDITIONS
from tanksheet.sheets.evaluate import entry_cells, evaluate
from tanksheet.sheets.verify import moved_cells
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS
from tanksheet.xlsx.reading import named_cells

# The salt of the list, its formula.
SALTS = {
    "KH2PO4": ("monopotassium phosphate", "KH2PO4"),
    "KNO3": ("potassium nitrate", "KNO3"),
    "Ca(NO3)2": ("calcium nitrate tetrahydrate", "Ca(NO3)2(H2O)4"),
    "MgSO4": ("magnesium sulfate heptahydrate", "MgSO4(H2O)7"),
    "NH4H2PO4": ("monoammonium phosphate", "NH4H2PO4"),
    "K2SO4": ("potassium sulfate pure", "K2SO4"),
    "NH4NO3": ("ammonium nitrate", "NH4NO3"),
}
RATIO = 100
LITRES = {"metric": 100.0, "us": 25 * 3.785411784}  # of a tank in the example of each edition


class Solution(NamedTuple):
    """Salts in mmol/L, targets in a unit, how near the amounts must come, and who says so."""

    salts: dict[str, float]
    unit: str
    targets: dict[str, float]
    tolerance: float
    source: str


def per_litre(grams: dict[str, float]) -> dict[str, float]:
    """mmol/L from g in 1,000 L."""
    return {salt: value / molar_mass(salt) for salt, value in grams.items()}


def molar_mass(salt: str) -> float:
    return float(periodictable.formula(SALTS[salt][1]).mass)


SOLUTIONS = {
    "Hoagland and Arnon, solution 1": Solution(
        {"KH2PO4": 1, "KNO3": 5, "Ca(NO3)2": 5, "MgSO4": 2},
        "ppm",
        {"N": 210, "P": 31, "K": 235, "Ca": 200, "Mg": 48.6, "S": 64},
        0.005,
        "Calif. Agric. Exp. Stn. Circular 347 (1950); mg/L as encyclopaedias print them",
    ),
    "Hoagland and Arnon, solution 2": Solution(
        {"NH4H2PO4": 1, "KNO3": 6, "Ca(NO3)2": 4, "MgSO4": 2},
        "mmol/L",
        {"N": 15, "P": 1, "K": 6, "Ca": 4, "Mg": 2, "S": 2},
        0.0005,
        "the same circular",
    ),
    "Steiner, universal solution": Solution(
        {"KH2PO4": 1, "KNO3": 3, "Ca(NO3)2": 4.5, "MgSO4": 2, "K2SO4": 1.5},
        "mmol/L",
        {"N": 12, "P": 1, "K": 7, "Ca": 4.5, "Mg": 2, "S": 3.5},
        0.0005,
        "Proc. 6th Int. Congr. Soilless Culture (1984), from memory; its charges balance exactly",
    ),
    "Sonneveld and Straver, tomato on rockwool": Solution(
        {"KH2PO4": 1.5, "KNO3": 4.0, "Ca(NO3)2": 5.4, "MgSO4": 2.4, "K2SO4": 2.0, "NH4NO3": 1.2},
        "mmol/L",
        {"N": 17.2, "P": 1.5, "K": 9.5, "Ca": 5.4, "Mg": 2.4, "S": 4.4},
        0.0005,
        "Naaldwijk series 8, 10th ed. (1994), from memory; its charges balance exactly",
    ),
    "Sonneveld and Straver, cucumber on rockwool": Solution(
        {"KH2PO4": 1.25, "KNO3": 6.75, "Ca(NO3)2": 4.0, "MgSO4": 1.375, "NH4NO3": 1.25},
        "mmol/L",
        {"N": 17.25, "P": 1.25, "K": 8.0, "Ca": 4.0, "Mg": 1.375, "S": 1.375},
        0.0005,
        "the same, from memory; its charges balance exactly",
    ),
    "Cooper, nutrient film": Solution(
        per_litre({"KH2PO4": 263, "KNO3": 583, "Ca(NO3)2": 1003, "MgSO4": 513}),
        "ppm",
        {"N": 200, "P": 60, "K": 300, "Ca": 170, "Mg": 50},
        0.015,  # the targets are printed to 10 mg/L; they and the grams differ by up to 1.2 %
        "The ABC of NFT (1979), g in 1,000 L and mg/L, from memory",
    ),
}


def settings(solution: Solution, edition: str) -> dict[str, Any]:
    """Targets and salts, calcium in tank A, the others in B, with pure water."""
    plan = book("recipe", edition)
    rest = 12 - len(solution.salts)
    water = {key: 0.0 for key in plan.entries if key.startswith("water_") and "unit" not in key}
    return water | {
        "water_ph": 7.0,
        "products": [*(SALTS[salt][0] for salt in solution.salts), *[None] * rest],
        "tanks": [*("A" if "Ca" in salt else "B" for salt in solution.salts), *["A"] * rest],
        "amounts": [None] * 12,
        "targets": [solution.targets.get(element) for element in TARGETS],
        "target_units": [solution.unit] * len(TARGETS),
        "target_alkalinity": None,
    }


def published(solution: Solution, edition: str) -> list[float]:
    """Grams of each salt for a tank."""
    feed = LITRES[edition] * RATIO
    return [mmol / 1000 * molar_mass(salt) * feed for salt, mmol in solution.salts.items()]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", ENGINES)
def test_targets_come_to_the_published_amounts(name: str, edition: str, workbook: Any) -> None:
    plan, path = book("recipe", edition), Path(workbook("recipe", edition))
    moved, names = moved_cells(path, plan), named_cells(path)
    cells = names["worked_amounts"]
    with engine(name).open(path) as session:
        for title, solution in SOLUTIONS.items():
            typed = entry_cells(plan, settings(solution, edition))
            values = session.calculate({moved[c]: value for c, value in typed.items()}, cells)
            wanted = published(solution, edition)
            got = [values[cell] for cell in cells]
            assert got[: len(wanted)] == pytest.approx(wanted, rel=solution.tolerance), title
            assert got[len(wanted) :] == pytest.approx([0] * (12 - len(wanted))), title


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("title", SOLUTIONS)
def test_what_is_weighed_is_what_is_worked_out(title: str, edition: str) -> None:
    """The words at the scale, read back, are the published grams to the scale's step."""
    solution = SOLUTIONS[title]
    found = evaluate(book("recipe", edition), settings(solution, edition))
    for i, grams in enumerate(published(solution, edition)):
        step = {"kg": 10.0, "lb": 0.1 * 28.349523}["kg" if edition == "metric" else "lb"]
        off = abs(read_back(str(found[f"weights[{i}]"])) - grams)
        assert off <= step / 2 + grams * solution.tolerance, (i, found[f"weights[{i}]"], grams)


def read_back(words: str) -> float:
    """Grams of "4.03 kg", "181.8 g" or "16 lb 3.4 oz"; the pound by its definition of 1959."""
    grams = {"kg": 1000.0, "g": 1.0, "lb": 453.59237, "oz": 453.59237 / 16}
    parts = words.split()
    return sum(
        float(number.replace(",", "")) * grams[unit]
        for number, unit in zip(parts[::2], parts[1::2], strict=True)
    )
