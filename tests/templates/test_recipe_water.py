"""The recipe workbook's water in any unit that laboratories print, and what it may leave blank.

Molar masses in g/mol, IUPAC 2021 abridged: H 1.008, C 12.011, N 14.007, O 15.999, Na 22.990,
Mg 24.305, S 32.06, Cl 35.45, K 39.098, Ca 40.078; a meq of CaCO3 is half of 100.086 mg. A German
degree is 10 mg/L of CaO (56.077 g/mol), a French one 10 mg/L of CaCO3, an English one a grain in
an imperial gallon, 14.254 mg/L of CaCO3, a grain in a US gallon 17.118.
"""

from __future__ import annotations

from typing import Any

import pytest

from tanksheet.sheets.choices import ION_UNITS
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS, WATER

PLAN = book("recipe")
NO3, NH4, SO4 = 14.007 + 3 * 15.999, 14.007 + 4 * 1.008, 32.06 + 4 * 15.999
HCO3, CALCITE = 1.008 + 12.011 + 3 * 15.999, 50.043
NO_TARGETS: dict[str, Any] = {"targets": [None] * len(TARGETS), "target_alkalinity": None}


@pytest.mark.parametrize(
    ("name", "typed", "unit", "expected"),
    [
        ("water_n", 2.0, "ppm", 2.0),
        ("water_n", 44.3, "mg/L as NO3", 44.3 * 14.007 / NO3),
        ("water_n", 3.0, "mg/L as N", 3.0),
        ("water_n", 0.5, "mmol/L", 0.5 * 14.007),
        ("water_n", 0.5, "meq/L", 0.5 * 14.007),
        ("water_n", 10.0, "mg/L as CaCO3", 10 / CALCITE * 14.007),
        ("water_nh4", 2.0, "mg/L as NH4", 2 * 14.007 / NH4),
        ("water_nh4", 2.0, "mg/L as N", 2.0),
        ("water_nh4", 10.0, "mg/L as CaCO3", 10 / CALCITE * 14.007),
        ("water_nh4", 0.1, "meq/L", 0.1 * 14.007),
        ("water_s", 96.056, "mg/L as SO4", 96.056 * 32.06 / SO4),
        ("water_s", 7.0, "mg/L as S", 7.0),
        ("water_s", 1.0, "meq/L", 32.06 / 2),
        ("water_s", 50.043, "mg/L as CaCO3", 32.06 / 2),
        ("water_k", 10.0, "mg/L as CaCO3", 10 / CALCITE * 39.098),
        ("water_k", 0.1, "meq/L", 3.9098),
        ("water_na", 1.0, "meq/L", 22.990),
        ("water_na", 10.0, "mg/L as CaCO3", 10 / CALCITE * 22.990),
        ("water_cl", 2.0, "mmol/L", 70.90),
        ("water_cl", 10.0, "mg/L as CaCO3", 10 / CALCITE * 35.45),
        ("water_ca", 100.0, "mg/L as CaCO3", 100 / CALCITE * 40.078 / 2),
        ("water_ca", 1.0, "dH", 10 * 40.078 / 56.077),
        ("water_ca", 1.0, "fH", 10 / CALCITE * 40.078 / 2),
        ("water_ca", 1.0, "e", 14.254 / CALCITE * 40.078 / 2),
        ("water_ca", 1.0, "gpg", 17.118 / CALCITE * 40.078 / 2),
        ("water_mg", 2.0, "meq/L", 24.305),
        ("water_mg", 1.0, "dH", 10 * 24.305 / 56.077),
        ("water_fe", 300.0, "ug/L", 0.3),
        ("water_fe", 2.0, "umol/L", 0.002 * 55.845),
        ("water_mn", 50.0, "ug/L", 0.05),
        ("water_b", 20.0, "umol/L", 0.02 * 10.81),
        ("water_alkalinity", 2.0, "mmol/L", 2 * CALCITE),
        ("water_alkalinity", 120.0, "mg/L as CaCO3", 120.0),
        ("water_alkalinity", 122.0, "mg/L as HCO3", 122 / HCO3 * CALCITE),
        ("water_alkalinity", 1.0, "dH", 10 / 56.077 * 2 * CALCITE),
    ],
)
def test_units_of_laboratories(name: str, typed: float, unit: str, expected: float) -> None:
    found = evaluate(PLAN, {name: typed, f"{name}_unit": unit})
    assert found[PLAN.key_for(name)] == pytest.approx(expected, rel=3e-4)


def test_every_unit_of_the_water_report_is_there() -> None:
    for key, line in WATER.items():
        offered = PLAN.entries[f"water_{key}_unit"].words
        assert set(ION_UNITS[line.reported]) <= set(offered), key
    assert set(ION_UNITS["HCO3"]) <= set(PLAN.entries["water_alkalinity_unit"].words)


def test_what_a_unit_means_stands_beside_it() -> None:
    """50 mg/L as NO3 is 11.3 of nitrogen; a plain ppm is one of nitrogen, and says so."""
    found = evaluate(PLAN, {"water_n": 50.0, "water_n_unit": "mg/L as NO3"})
    assert found["water_n_means"] == "11.3 ppm N"
    assert evaluate(PLAN, {"water_s": 5.0})["water_s_means"] == "5 ppm S"


def test_the_new_lines_count_in_what_arrives_and_in_the_ions() -> None:
    lines = {"water_nh4": 14.007, "water_fe": 0.5, "water_mn": 0.1, "water_b": 0.2}
    none, found = evaluate(PLAN, {}), evaluate(PLAN, lines)
    places = {name: list(TARGETS).index(name) for name in ("N", "Fe", "Mn", "B")}
    water = {name: found[f"from_water[{i}]"] for name, i in places.items()}
    assert water == pytest.approx({"N": 2 + 14.007, "Fe": 0.5, "Mn": 0.1, "B": 0.2})
    assert found["water_ion_ammonium"] == pytest.approx(1.0, rel=1e-4)
    assert found["sum_ammonium_b"] == pytest.approx(none["sum_ammonium_b"] + 1.0, rel=1e-4)  # type: ignore[operator]
    # What a mmol/L of ammonium conducts in thin water: 73.5 S cm2/mol (CRC), 0.0735 mS/cm.
    more = float(str(found["ec_water"])) - float(str(none["ec_water"]))
    assert more == pytest.approx(0.0735, rel=0.15)
    # The amounts make room for it: less boric acid where the water has boron.
    product = list(PLAN.entries["products"].default).index("boric acid")
    key = f"worked_amounts[{product}]"
    assert found[key] == pytest.approx(float(str(none[key])) / 3, rel=0.05)


BLANK: dict[str, Any] = {f"water_{key}": None for key, line in WATER.items() if line.optional}


def test_a_blank_line_is_not_zero_where_a_target_needs_it() -> None:
    assert set(BLANK) == {"water_nh4", "water_fe", "water_mn", "water_b"}
    found = evaluate(PLAN, BLANK)
    for name, word in {"N": "ammonium", "Fe": "iron", "Mn": "manganese", "B": "boron"}.items():
        said = str(found[f"met[{list(TARGETS).index(name)}]"])
        assert said == f"not checked: {word} of the water not given; type 0 if none"
    assert str(found["targets_check"]).startswith("not checked: ammonium of the water not given: N")
    assert not str(found["overall"]).startswith("pass")
    assert str(found["met[1]"]).startswith("pass")
    zero = evaluate(PLAN, dict.fromkeys(BLANK, 0.0))
    assert str(zero["overall"]).startswith("pass")


def test_a_blank_line_says_nothing_where_nothing_needs_it() -> None:
    found = evaluate(PLAN, BLANK | NO_TARGETS)
    assert found["targets_check"] == "not used: no target is given"
    said = [found[f"met_said[{i}]"] for i in range(len(TARGETS))]
    said += [found[name] for name in ("overall", "nitrogen_forms", "feed_clear", "alkalinity_met")]
    assert "not given; " not in " ".join(map(str, said))


def test_a_blank_line_does_not_hide_what_is_off() -> None:
    targets = [100.0, *list(TARGETS.values())[1:]]
    fixed: dict[str, Any] = {"amounts": [*[8.0, 5.0], *[None] * 10], "targets": targets}
    found = evaluate(PLAN, BLANK | fixed)
    assert str(found["met[0]"]).startswith("stop: ")


@pytest.mark.parametrize(("ph", "opening"), [(6.0, "pass"), (9.2, "not checked: ammonium of the")])
def test_unknown_ammonium_matters_in_an_alkaline_feed_with_phosphate(
    ph: float, opening: str
) -> None:
    """With 1 mmol/L of phosphate struvite (pKs 13.26, Ohlinger 1998, from memory) may come out of a
    feed above pH 8 with as much ammonium as sewage has; at pH 6 it cannot."""
    products = ["monopotassium phosphate", "magnesium nitrate hexahydrate"]
    settings = NO_TARGETS | {
        "products": [*products, *[None] * 10],
        "tanks": ["A", "B", *["A"] * 10],
        "amounts": [1300.0, 5100.0, *[None] * 10],
        "amount_units": ["g"] * 12,
        "water_ph": ph,
        "water_ca": 0.0,
        "water_alkalinity": 400.0 if ph > 7 else 20.0,
    }
    given = evaluate(PLAN, settings | {"water_nh4": 0.0})
    assert str(given["feed_clear"]).startswith("pass")
    found = evaluate(PLAN, settings | {"water_nh4": None})
    assert str(found["feed_clear"]).startswith(opening), found["feed_ph"]


@pytest.mark.parametrize("typed", ["none", -1.0])
def test_a_line_that_is_no_amount_is_never_a_pass(typed: Any) -> None:
    for name in BLANK:
        found = evaluate(PLAN, {name: typed})
        assert not str(found["overall"]).startswith("pass"), name
        assert "type a number at least 0" in str(found[f"{name}_note"])
