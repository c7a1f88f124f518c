"""The stock tank's verdicts on what is in it: products of the list and products by label.

Sources: compatibility charts of extension services (calcium apart from sulfate and phosphate;
from memory, they agree), solubilities of the CRC Handbook with published densities, PHREEQC 3.8 for
amounts. Each verdict is given as the word that is right.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.recalc import ENGINES
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.run import run
from tanksheet.templates import book
from tanksheet.templates.recipe import reasons
from tanksheet.templates.stock_tank import page, tank

EPSOM, NITRATE = "magnesium sulfate heptahydrate", "calcium nitrate 15.5-0-0"
SOFT: dict[str, Any] = {"water_ca": 2.0, "water_alkalinity": 5.0}
Settings = dict[str, Any]


def listed(product: str, nutrient: str, target: float, number: int = 1) -> Settings:
    return {
        f"product_{number}": product,
        f"nutrient_{number}": nutrient,
        f"target_{number}": target,
    }


def two(one: tuple[str, str, float], other: tuple[str, str, float], **more: Any) -> Settings:
    return {**listed(*one), **listed(*other, number=2), **more}


def alone(product: str, nutrient: str, target: float, **more: Any) -> Settings:
    return {**listed(product, nutrient, target), "target_2": 0.0, **more}


def label(number: int, target: float, nutrient: str, **contents: float) -> Settings:
    """A product by its label, contents as elements."""
    every = {f"label_{each}_{number}": 0.0 for each in ("n", "p", "k", "ca", "mg", "s")}
    typed = {f"label_{each}_{number}": percent for each, percent in contents.items()}
    made = {f"nutrient_{number}": nutrient, f"target_{number}": target}
    return {**every, **typed, **made, f"printed_pk_{number}": "element"}


LABELS = {
    "Epsom salt": label(1, 50.0, "Mg", mg=9.8, s=13.0),
    "potassium sulfate": label(1, 150.0, "K", k=43.2, s=18.0),
    "monopotassium phosphate": label(1, 40.0, "P", p=22.7, k=28.2),
    "potassium nitrate": label(1, 100.0, "K", n=13.5, k=38.2),
}
CALCIUM = label(2, 150.0, "N", n=15.5, ca=19.0)
CLASHES: list[tuple[Settings, str]] = [
    # Found by hand: two passes and a card of weights, and gypsum in the tank.
    (two((EPSOM, "Mg", 50.0), (NITRATE, "N", 150.0)), "stop: calcium of"),
    ({**LABELS["Epsom salt"], **CALCIUM}, "stop: calcium of"),
    ({**LABELS["potassium sulfate"], **CALCIUM}, "stop: calcium of"),
    ({**LABELS["monopotassium phosphate"], **CALCIUM}, "stop: calcium of"),
    ({**LABELS["potassium nitrate"], **CALCIUM}, "not checked: what a label does not tell"),
    ({**listed(EPSOM, "Mg", 50.0), **CALCIUM}, "stop: calcium of"),
    (two(("ammonium sulfate", "S", 30.0), (NITRATE, "N", 150.0)), "stop: calcium of"),
    (
        two(("monoammonium phosphate", "P", 40.0), ("calcium chloride dihydrate", "Ca", 80.0)),
        "stop: calcium of",
    ),
    (two(("potassium nitrate", "K", 150.0), (NITRATE, "N", 180.0)), "pass"),
    (two(("iron DTPA 11 %", "S", 0.0), (NITRATE, "N", 180.0)), "pass: one product alone"),
    (two(("monopotassium phosphate", "P", 40.0), (EPSOM, "Mg", 40.0)), "pass"),
    (two(("monoammonium phosphate", "P", 40.0), (EPSOM, "Mg", 40.0)), "pass"),
    # Diammonium phosphate makes the tank alkaline: struvite (PHREEQC 3.8).
    (
        two(("diammonium phosphate", "P", 40.0), (EPSOM, "Mg", 40.0)),
        "stop: magnesium of magnesium sulfate heptahydrate meets ammonium and phosphate",
    ),
    # Not a concentrate: Hoagland's calcium and sulfate stay dissolved at feed strength.
    (two((EPSOM, "Mg", 48.0), (NITRATE, "N", 150.0), ratio=1.0), "pass"),
    # Sulfur dioxide and sulfur.
    (
        two(("nitric acid 60 %", "N", 40.0), ("potassium thiosulfate 0-0-25-17S", "K", 100.0)),
        "stop: acid of nitric acid 60 % meets thiosulfate of potassium thiosulfate",
    ),
    (
        two(("calcium hypochlorite 65 %", "Ca", 5.0), ("nitric acid 60 %", "N", 40.0)),
        "stop: chlorine of calcium hypochlorite 65 %",
    ),
    (
        two(("calcium hypochlorite 65 %", "Ca", 5.0), ("ammonium sulfate", "N", 40.0)),
        "stop: chlorine of calcium hypochlorite 65 % meets ammonium of ammonium sulfate",
    ),
    (two(("potassium bicarbonate", "K", 100.0), (NITRATE, "N", 180.0)), "stop: calcium of"),
    (two(("potassium carbonate", "K", 100.0), (EPSOM, "Mg", 40.0)), "stop: magnesium of"),
    (two(("potassium bicarbonate", "K", 100.0), ("nitric acid 60 %", "N", 40.0)), "stop: acid of"),
    (two(("potassium silicate liquid", "K", 20.0), (NITRATE, "N", 60.0)), "stop: ammonium of"),
    (
        two(("potassium silicate liquid", "K", 20.0), ("potassium nitrate", "N", 60.0)) | SOFT,
        "pass",
    ),
    # The water that fills the tank counts.
    (
        two(("potassium silicate liquid", "K", 20.0), ("potassium nitrate", "N", 60.0)),
        "caution: calcium of the water meets silicate of potassium silicate liquid",
    ),
    (
        listed("monopotassium phosphate", "P", 40.0) | {"target_2": 0.0, "water_ca": 150.0},
        "caution: calcium of the water and phosphate of monopotassium phosphate",
    ),
    (
        listed("potassium carbonate", "K", 100.0) | {"target_2": 0.0, "water_ca": 150.0},
        "caution: calcium of the water meets carbonate of potassium carbonate",
    ),
    # By the table that the recipe judges by.
    (
        two(("potassium carbonate", "K", 100.0), ("ammonium sulfate", "N", 60.0)),
        "caution: about",
    ),
    (
        two(("monopotassium phosphate", "P", 40.0), ("ferrous sulfate heptahydrate", "S", 9.0)),
        "stop: iron of ferrous sulfate heptahydrate without a chelate meets phosphate",
    ),
    (
        two(("sodium hypochlorite 12.5 %", "N", 0.0), ("ammonium sulfate", "N", 60.0)),
        "pass: one product alone",
    ),
    (
        two(("potassium bicarbonate", "K", 100.0), ("ammonium nitrate", "N", 150.0)),
        "caution: carbonate of potassium bicarbonate turns ammonium of ammonium nitrate",
    ),
    (
        two(
            ("copper sulfate pentahydrate", "S", 50.0),
            ("potassium thiosulfate 0-0-25-17S", "K", 100.0),
        ),
        "stop: copper of copper sulfate pentahydrate meets thiosulfate",
    ),
    (
        two(
            ("calcium hypochlorite 65 %", "Ca", 100.0),
            ("magnesium nitrate hexahydrate", "Mg", 30.0),
        ),
        "stop: magnesium of magnesium nitrate hexahydrate settles as hydroxide",
    ),
    (
        two(("urea", "N", 100.0), ("nitric acid 60 %", "N", 200.0)),
        "caution: urea of urea meets nitrate made acid by nitric acid 60 %",
    ),
    (
        two(("zinc sulfate heptahydrate", "S", 30.0), ("monopotassium phosphate", "P", 40.0)),
        "caution: so much metal of zinc sulfate heptahydrate",
    ),
    # One product is judged too: strong acid, and rust.
    ({**listed("nitric acid 60 %", "N", 400.0), "target_2": 0.0}, "caution: 2.9 mol/L of acid"),
    (
        {**listed("ferrous sulfate heptahydrate", "S", 50.0), "target_2": 0.0},
        "caution: iron of ferrous sulfate heptahydrate without a chelate turns to rust",
    ),
    (two(("calcium nitrate 15.5-0-0", "Ca", 120.0), ("phosphoric acid 85 %", "P", 30.0)), "pass"),
    ({"target_1": 0.0, "target_2": 0.0}, "not used"),
]


@pytest.mark.parametrize(("settings", "opening"), CLASHES)
def test_what_may_share_a_tank(settings: Settings, opening: str) -> None:
    found = evaluate(book("stock-tank"), settings)
    assert str(found["clash_check"]).startswith(opening), found["clash_check"]


def test_every_rule_of_the_table_is_judged_here_or_by_a_row_of_its_own() -> None:
    own = {str(rule["one"]) for rule in reasons.RULES} - {str(rule["one"]) for rule in tank.RULES}
    assert own == set(tank.OWN)
    assert len(tank.RULES) > 30


@pytest.mark.parametrize("rule", ["copper with thiosulfate", "carbonate with ammonium"])
def test_a_verdict_changes_without_its_rule(rule: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The limits of the table are put out of reach, and the workbook is made anew."""
    word = rule.split()[0]
    settings = next(each for each, opening in CLASHES if f": {word} of" in opening)
    before = str(evaluate(page.make(), settings)["clash_check"])
    (found,) = (each for each in reasons.RULES if each["clash"] == rule)
    for limit in ("unchecked_above", "caution_above", "stop_above"):
        monkeypatch.setitem(found, limit, 1e99)
    after = str(evaluate(page.make(), settings)["clash_check"])
    assert before.startswith(("stop", "caution")) and after.startswith("pass")


def test_about_as_much_gypsum_as_phreeqc_finds() -> None:
    """Ca 474, NO3 1028, NH4 79, Mg 206, SO4 206 mmol/L: PHREEQC 3.8, phreeqc.dat, as in the
    published rows of FERT.GYPSUM: nearly all the sulfate settles, 206 x 0.172 = 35.4 at most."""
    found = evaluate(book("stock-tank"), CLASHES[0][0])
    assert found["sulfate_in_1"] == pytest.approx(50 * 100 / 24.305, rel=1e-3)
    assert 30 < float(found["sum_gypsum_s"]) < 35.4  # type: ignore[arg-type]


# Grams in a litre of saturated stock: KNO3 197 at 10 C (CRC; other sources 193), magnesium
# sulfate heptahydrate 661 at 20 C, calcium nitrate tetrahydrate 1,171 at 10 C.
SHARES: list[tuple[Settings, str]] = [
    (alone("potassium nitrate", "K", 100.0, ratio=100.0), "pass: 13 %"),
    (alone("potassium nitrate", "K", 100.0, ratio=700.0), "caution: 92 %"),
    (alone("potassium nitrate", "K", 100.0, ratio=800.0), "stop: 105 %"),
    (alone("potassium nitrate", "K", 400.0, ratio=2000.0), "stop: 10"),
    # 72 kg in 100 L, which the grams in a litre of added water would pass.
    (
        alone(EPSOM, "Mg", 710.0, ratio=100.0, temperature=20.0),
        "stop: 109 %",
    ),
    (alone("calcium nitrate tetrahydrate", "Ca", 3564.0, ratio=100.0), "stop: 179 %"),
    # Each alone passes; together they do not.
    (
        two(("potassium chloride", "K", 800.0), ("ammonium sulfate", "N", 600.0), temperature=10.0),
        "stop: 111 %",
    ),
    # Neither is near its own limit, but potassium sulfate crystallizes: its ion product there is
    # about six times that of its saturated solution.
    (
        two(("potassium chloride", "K", 550.0), ("ammonium sulfate", "N", 440.0)),
        "stop: a salt of both crystallizes",
    ),
    (alone("calcium hypochlorite 65 %", "Ca", 10.0), "not checked: how much of product 1"),
    ({**LABELS["potassium nitrate"], "target_2": 0.0}, "not checked: how much of product 1"),
    ({**LABELS["potassium nitrate"], "target_2": 0.0, "saturated_1": 197.0}, "pass: 13 %"),
    ({**LABELS["potassium nitrate"], "target_2": 0.0, "saturated_1": 20.0}, "stop: 131 %"),
    (alone("nitric acid 60 %", "N", 100.0), "pass: 5 %"),
    (alone("nitric acid 60 %", "N", 100.0, ratio=2000.0), "stop: 110 %"),
]


@pytest.mark.parametrize(("settings", "opening"), SHARES)
def test_what_dissolves(settings: Settings, opening: str) -> None:
    found = evaluate(book("stock-tank"), settings)
    assert str(found["dissolves_check"]).startswith(opening), found["dissolves_check"]


def test_a_stop_leaves_no_amount_on_the_card() -> None:
    """400 ppm of potassium at 1:2000 by label: 2.1 kg of salt in each litre of tank."""
    too_much = {**LABELS["potassium nitrate"], "target_1": 400.0, "ratio": 2000.0, "target_2": 0.0}
    for settings in (too_much, CLASHES[0][0], SHARES[3][0]):
        found = evaluate(book("stock-tank"), settings)
        lines = {key: str(found[key]) for key in found if key.startswith("card_")}
        reason = lines.pop("card_stop")
        assert reason.startswith("stop: ") and "; " in reason
        assert set(lines.values()) == {""}
        assert not re.search(r"weigh|pour", reason)
        assert str(found["overall"]).startswith("stop: ")
    fine = evaluate(book("stock-tank"), alone("potassium nitrate", "K", 150.0))
    assert fine["card_stop"] == ""
    assert str(fine["card_1"]).startswith("potassium nitrate: weigh ")


def test_a_product_of_the_list_counts_and_not_the_label_below_it() -> None:
    """Potassium nitrate holds 38.67 % K and 13.85 % N by its formula; the label says less."""
    settings = listed("potassium nitrate", "K", 150.0) | {"label_k_1": 10.0, "label_n_1": 1.0}
    found = evaluate(book("stock-tank"), {**settings, "target_2": 0.0})
    assert found["mass_1"] == pytest.approx(150 * 100 * 200 / 386.72, rel=1e-6)
    assert found["delivered_n"] == pytest.approx(150 * 13.854 / 38.672, rel=1e-6)
    assert found["label_k_1_note"] == "not used: the choice counts"
    liquid = evaluate(book("stock-tank"), alone("urea ammonium nitrate 32-0-0", "N", 150.0))
    assert liquid["volume_1"] == pytest.approx(150 * 100 * 200 / 320 / 1325, rel=1e-6)
    assert str(liquid["card_1"]).startswith("urea ammonium nitrate 32-0-0: pour ")


def test_a_product_without_the_nutrient_is_called_out() -> None:
    found = evaluate(book("stock-tank"), listed("urea", "K", 150.0))
    assert found["product_1_note"] == "it holds no K: choose another"
    assert str(found["overall"]).startswith("stop: an entry cannot be used; mend it")


def test_the_file_says_the_same(workbook: GetWorkbook) -> None:
    need(ENGINES["ironcalc"])
    typed = {"product_1": EPSOM, "nutrient_1": "Mg", "target_1": "50 ppm", "product_2": NITRATE}
    found = run(workbook("stock-tank"), book("stock-tank"), typed, ["clash_check", "card_1"])
    assert str(found["clash_check"]).startswith("stop: calcium of")
    assert found["card_1"] in ("", None)


@pytest.mark.parametrize("ratio", [450, 600, 1000])
def test_the_largest_ratio_dissolves_and_a_larger_one_does_not(ratio: int) -> None:
    """What the verdict tells is typed in: it passes, and 2 % more does not."""
    salt: dict[str, Any] = {"product_1": "potassium nitrate", "target_2": 0.0}
    said = str(evaluate(book("stock-tank"), salt | {"ratio": float(ratio)})["dissolves_check"])
    assert said.startswith(("stop", "caution"))
    largest = float(said.partition("set 1 : ")[2].split()[0])
    at_most = evaluate(book("stock-tank"), salt | {"ratio": largest})["dissolves_check"]
    assert str(at_most).startswith("pass")
    beyond = evaluate(book("stock-tank"), salt | {"ratio": largest * 1.02})["dissolves_check"]
    assert not str(beyond).startswith("pass")
