"""The recipe workbook: published nutrient solutions through all engines, and the verdicts."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tanksheet.recalc import ENGINES, engine
from tanksheet.sheets.evaluate import entry_cells, evaluate
from tanksheet.sheets.verify import moved_cells
from tanksheet.tables import look_up
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS
from tanksheet.xlsx.reading import named_cells
from typed_recipe import typed_recipe

RATIO, TANK = 100, 100
# The typed amounts without the acid in tank C.
NO_ACID = [*typed_recipe()["amounts"][:11], 0.0]
SALTS = {
    "KH2PO4": "monopotassium phosphate",
    "KNO3": "potassium nitrate",
    "Ca(NO3)2": "calcium nitrate tetrahydrate",
    "MgSO4": "magnesium sulfate heptahydrate",
    "NH4H2PO4": "monoammonium phosphate",
    "K2SO4": "potassium sulfate pure",
    "NH4NO3": "ammonium nitrate",
}
# mmol of each salt in a litre of feed, and the elements that the source gives, mg/L.
SOLUTIONS: dict[str, tuple[dict[str, float], dict[str, float], float, str]] = {
    "Hoagland and Arnon, solution 1": (
        {"KH2PO4": 1, "KNO3": 5, "Ca(NO3)2": 5, "MgSO4": 2},
        {"N": 210, "P": 31, "K": 235, "Ca": 200, "Mg": 48.6, "S": 64},
        0.003,
        "Calif. Agric. Exp. Stn. Circular 347 (1950); mg/L as encyclopaedias print them",
    ),
    "Hoagland and Arnon, solution 2": (
        {"NH4H2PO4": 1, "KNO3": 6, "Ca(NO3)2": 4, "MgSO4": 2},
        {"N": 210, "P": 31, "K": 235, "Ca": 160, "Mg": 48.6, "S": 64},
        0.003,
        "the same circular; Ca 160 as encyclopaedias print it, the others as for solution 1",
    ),
    "Steiner, universal solution": (
        {"KH2PO4": 1, "KNO3": 3, "Ca(NO3)2": 4.5, "MgSO4": 2, "K2SO4": 1.5},
        {"N": 168, "P": 31, "K": 273, "Ca": 180, "Mg": 48},
        0.013,
        "Steiner 1984 as tabled by Trejo-Tellez and Gomez-Merino 2012 (from memory; Mg to 1 mg/L)",
    ),
    "Sonneveld and Straver, tomato on rockwool": (
        {"KH2PO4": 1.5, "KNO3": 4.0, "Ca(NO3)2": 5.4, "MgSO4": 2.4, "K2SO4": 2.0, "NH4NO3": 1.2},
        {"N": 240.9, "P": 46.5, "K": 371.4, "Ca": 216.4, "Mg": 58.3, "S": 141.1},
        0.003,
        "Naaldwijk series 8, 10th ed. (1994), mmol/L from memory; mg/L from atomic weights",
    ),
}


def settings(salts: dict[str, float]) -> dict[str, Any]:
    """Entries that put the salts in tanks A (calcium) and B, with pure water."""
    plan = book("recipe")
    products, tanks, amounts = [], [], []
    for salt, mmol in salts.items():
        product = SALTS[salt]
        grams = mmol / 1000 * float(look_up("fertilizers", "molar_mass", product)) * RATIO * TANK
        products.append(product)
        tanks.append("A" if salt.startswith("Ca") else "B")
        amounts.append(grams)
    rest = 12 - len(products)
    made: dict[str, Any] = {
        "products": [*products, *[None] * rest],
        "tanks": [*tanks, *["A"] * rest],
        "amounts": [*amounts, *[None] * rest],
        "amount_units": ["g"] * 12,
    }
    water = {key: 0.0 for key in plan.entries if key.startswith("water_") and "unit" not in key}
    return made | water | {"water_ph": 7.0}


@pytest.mark.parametrize("name", ENGINES)
def test_published_solutions_come_out_in_every_engine(name: str, workbook: Any) -> None:
    plan, path = book("recipe"), Path(workbook("recipe"))
    moved, names = moved_cells(path, plan), named_cells(path)
    with engine(name).open(path) as session:
        for title, (salts, published, tolerance, _) in SOLUTIONS.items():
            inputs = {moved[cell]: v for cell, v in entry_cells(plan, settings(salts)).items()}
            values = session.calculate(inputs, names["together"])
            got = dict(zip(TARGETS, (values[cell] for cell in names["together"]), strict=True))
            for element, figure in published.items():
                assert got[element] == pytest.approx(figure, rel=tolerance), (title, element)


def test_published_solutions_need_their_calcium_kept_apart() -> None:
    """At 100 times strength gypsum settles from Hoagland's solution: PHREEQC 3.8, sit.dat, gives
    184 mmol/kg of water, 31.7 g/L; phreeqc.dat 201, 34.6 g/L."""
    salts = SOLUTIONS["Hoagland and Arnon, solution 1"][0]
    apart = evaluate(book("recipe"), settings(salts))
    assert str(apart["clear_a"]).startswith("pass")
    assert str(apart["clear_b"]).startswith("pass")
    together = settings(salts) | {"tanks": ["A"] * 12}
    values = evaluate(book("recipe"), together)
    assert values["sum_gypsum_a"] == pytest.approx(0.5 * (31.7 + 34.6), rel=0.10)
    assert str(values["clear_a"]).startswith(
        "stop: calcium of calcium nitrate tetrahydrate meets sulfate of magnesium sulfate "
        "heptahydrate: about 32."
    )


def test_pairs_say_what_would_settle_and_whether_it_does() -> None:
    values = evaluate(book("recipe"), typed_recipe())
    # Product 1 is calcium nitrate in tank A; 5 is monopotassium phosphate, 6 magnesium sulfate.
    assert values["pair_1[4]"] == "apart: phosphate"
    assert values["pair_1[5]"] == "apart: gypsum"
    assert values["pair_2[3]"] == "none known"
    shared = evaluate(book("recipe"), typed_recipe(tanks=["A"] * 12))
    assert shared["pair_1[5]"] == "together: gypsum"


def test_products_go_in_by_kind_and_order() -> None:
    lines = evaluate(
        book("recipe"),
        {
            "products": ["iron DTPA 11 %", "potassium nitrate", "nitric acid 60 %", *[None] * 9],
            "tanks": ["A"] * 12,
            "amounts": [100, 2, 0.1, *[None] * 9],
            "amount_units": ["g", "kg", "L", *["g"] * 9],
            "targets": [None] * len(TARGETS),
            "target_alkalinity": None,
        },
    )
    assert [lines[f"lines_a[{i}]"] for i in range(2, 5)] == [
        "nitric acid 60 %",
        "potassium nitrate",
        "iron DTPA 11 %",
    ]
    assert lines["doses_a[2]"] == "100 mL"


def test_a_dry_product_is_not_measured_by_volume() -> None:
    values = evaluate(book("recipe"), typed_recipe(amount_units=["L", *["g"] * 11]))
    assert str(values["used_amounts[0]"]) == "#NUM!"


def test_conductivity_counts_the_water() -> None:
    pure = {key: 0.0 for key in book("recipe").entries if key.startswith("water_")}
    pure = {key: value for key, value in pure.items() if "unit" not in key} | {"water_ph": 7.0}
    products = evaluate(book("recipe"), typed_recipe(amounts=NO_ACID, **pure))
    values = evaluate(book("recipe"), typed_recipe(amounts=NO_ACID))
    feed, water = float(str(values["ec_feed"])), float(str(values["ec_water"]))
    alone = float(str(products["ec_feed"]))
    assert alone < feed < alone + water


def test_solubility_stops_a_stock_that_is_too_strong() -> None:
    """Potassium nitrate, 30 kg in 100 L at 10 degrees C, against 197 g in a litre of saturated
    stock: 17.3 mass percent (CRC) of 1.12 kg/L."""
    values = evaluate(book("recipe"), typed_recipe(amounts=[8, 30, *[0] * 10]))
    assert str(values["dissolved[1]"]).startswith("stop: 152 %")
    assert str(values["clear_a"]).startswith("stop: ")
    assert values["lines_a[0]"] == ""
    assert str(values["card_a_verdict"]).startswith("STOP: do not mix")


def test_acid_and_bicarbonate_of_the_products_change_the_alkalinity() -> None:
    """60 mg/L as CaCO3 is 1.199 meq/L; 10 g of KHCO3 (100.114 g/mol) and 10 mL of 60 % nitric
    acid (13.017 eq/L) in each litre of stock, at 1:100."""
    values = evaluate(
        book("recipe"),
        {
            "products": ["potassium bicarbonate", "nitric acid 60 %", *[None] * 10],
            "tanks": ["A"] * 12,
            "amounts": [1, 1, *[None] * 10],
            "amount_units": ["kg", "L", *["g"] * 10],
        },
    )
    assert values["given_bicarbonate"] == pytest.approx(0.1 / 100.114 * 1000, rel=1e-5)
    assert values["acid_given"] == pytest.approx(0.1 * 13.017, rel=1e-4)
    left = 60 / 50.043 + 0.1 / 100.114 * 1000 - 0.1 * 13.017
    assert values["alkalinity_left"] == pytest.approx(left, rel=1e-4)


@pytest.mark.parametrize(
    ("tolerance", "opening"), [(10.0, "pass: within 10 %"), (5.0, "caution: 8"), (2.0, "stop: 8")]
)
def test_the_tolerance_decides_the_verdict(tolerance: float, opening: str) -> None:
    """Nitrogen 195.27 mg/L against a target of 180: 8.5 % over."""
    targets = [180.0, *typed_recipe()["targets"][1:]]
    values = evaluate(
        book("recipe"), typed_recipe(tolerance=tolerance, targets=targets, amounts=NO_ACID)
    )
    assert str(values["met[0]"]).startswith(opening)
