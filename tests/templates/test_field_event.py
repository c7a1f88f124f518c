"""The field event workbook against extension examples, and where its verdicts turn."""

from __future__ import annotations

from typing import Any

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

GALLON, POUND, ACRE = 3.785411784, 0.45359237, 0.40468564224  # L, kg, ha: exact
# A label in place of the list, with water that leaves nothing to ask.
BY_LABEL: dict[str, Any] = {"fertilizer": None, "form": "liquid"}
DRY: dict[str, Any] = {"fertilizer": None, "form": "dry"}
NO_DOSE: dict[str, Any] = dict.fromkeys(
    ("dose", "product_dose", "liquid_dose", "plant_dose", "plant_product")
)
LONG: dict[str, Any] = {"set_time": 100, "fill_time": 60, "flush_time": 60}  # h, min, min


def results(edition: str = "metric", **settings: Any) -> dict[str, Value]:
    return evaluate(book("field-event", edition), settings)


def number(value: Value) -> float:
    assert isinstance(value, float), value
    return value


def kind(value: Value) -> str:
    return str(value).partition(":")[0]


def verdicts(found: dict[str, Value]) -> dict[str, str]:
    return {key: str(said) for key, said in found.items() if key.endswith("_check")}


# Volume is dose x area / (content/100 x density), rate is volume / time. Densities in lb/US gal:
# Mississippi State Extension P1466 and studylib.net/doc/18119690; amounts recomputed from them with
# exact units, to the digits that are written here.
LIQUIDS = [
    # nutrient, content, lb/gal, lb/acre, acres, hours, gallons, gal/acre, gal/h
    ("N", 32, 11.06, 20, 130, 72, 734.63, 5.6510, 10.203),
    ("N", 32, 11.06, 20, 40, 6, 226.04, 5.6510, 37.673),
    ("N", 32, 11.06, 30, 20, 4, 169.53, 8.4765, 42.38),
    ("N", 28, 10.67, 25, 40, 6, 334.72, 8.3679, 55.786),
    ("N", 10, 11.65, 15, 12, 2, 154.51, 12.8755, 77.253),
    # University of Florida HS1200 (seen on an aggregator's page): 15 lb N from 10 % at 10.69 lb/gal
    # is 14.03 gal/acre, of which we take more digits.
    ("N", 10, 10.69, 15, 1, 1, 14.0318, 14.0318, 14.0318),
]


@pytest.mark.parametrize("row", LIQUIDS, ids=str)
def test_liquids_by_label_in_us_units(row: tuple[Any, ...]) -> None:
    nutrient, content, density, dose, acres, hours, gallons, per_acre, rate = row
    label = {"label_n": content, "density": density, "nutrient": nutrient}
    found = results("us", **BY_LABEL, **label, **LONG, dose=dose, area=acres, inject_time=hours)
    assert number(found["product_volume"]) / GALLON == pytest.approx(gallons, rel=1e-4)
    assert found["stock_volume"] == found["product_volume"]
    assert number(found["stock_per_area"]) * ACRE / GALLON == pytest.approx(per_acre, rel=1e-4)
    assert number(found["injection_rate"]) / GALLON == pytest.approx(rate, rel=1e-4)
    assert number(found["nutrient_mass"]) / POUND == pytest.approx(dose * acres, rel=1e-12)


# The same of products in the list, whose densities are rounded to three digits: 0.1 %.
LISTED = [
    ("urea ammonium nitrate 32-0-0", "N", 25, 8, 3, 471.6, 157.2),
    ("urea ammonium nitrate 28-0-0", "N", 30, 12, 4, 1005.56, 251.39),
]


@pytest.mark.parametrize("row", LISTED, ids=str)
def test_liquids_of_the_list(row: tuple[Any, ...]) -> None:
    """Computed from 1.3253 and 1.2786 kg/L (11.06 and 10.67 lb/US gal)."""
    product, nutrient, dose, hectares, hours, litres, rate = row
    chosen = {"fertilizer": product, "nutrient": nutrient, "dose": dose, "area": hectares}
    found = results(**chosen, **LONG, inject_time=hours)
    assert found["product_volume"] == pytest.approx(litres, rel=1e-3)
    assert found["injection_rate"] == pytest.approx(rate, rel=1e-3)


def test_pounds_in_a_gallon() -> None:
    """32-0-0 holds 3.5392 lb N a gallon; 10-34-0 1.165 lb N and 3.961 lb P2O5 (P1466 and the second
    source above). Densities of the list are rounded: 0.1 %."""
    found = results("us")
    pounds = number(found["nutrient_mass"]) / POUND
    assert pounds / (number(found["product_volume"]) / GALLON) == pytest.approx(3.5392, rel=1e-3)
    found = results("us", fertilizer="ammonium polyphosphate 10-34-0", nutrient="P2O5")
    gallons = number(found["product_volume"]) / GALLON
    assert number(found["brings_p2o5"]) / POUND / gallons == pytest.approx(3.961, rel=1e-3)
    assert number(found["brings_n"]) / POUND / gallons == pytest.approx(1.165, rel=1e-3)
    assert number(found["brings_p2o5"]) == pytest.approx(number(found["nutrient_mass"]), rel=1e-9)


def test_a_liquid_by_the_gallon() -> None:
    """Washington State University FS035E: 350 gal in 22 h are 15.9 gal/h. University of Nebraska
    CropWatch 2023: 10 gal/acre at 5 acres an hour, 50 gal/h. Purdue (Camberato, 2023): 20 gal/acre
    of 28 % at 10.6 lb/gal bring 59.4 lb N (59.36)."""
    label = {"label_n": 28, "density": 10.6} | BY_LABEL | LONG | {"dose": None}
    found = results("us", **label, liquid_dose=350, area=1, inject_time=22)
    assert number(found["injection_rate"]) / GALLON == pytest.approx(15.9, rel=1e-3)
    found = results("us", **label, liquid_dose=10, area=50, inject_time=10)
    assert number(found["injection_rate"]) / GALLON == pytest.approx(50, rel=1e-12)
    found = results("us", **label, liquid_dose=20, area=7)
    assert number(found["nutrient_dose"]) * ACRE / POUND == pytest.approx(59.36, rel=1e-4)


def test_dry_products() -> None:
    """Fertigation Calculations, 2013: 50 kg N from 21 % are 238.1 kg of ammonium sulfate.
    University of Minnesota SOIL 2125: 4 lb N on 1000 ft2 are 11.8 lb of 34 % (three digits)."""
    found = results(**DRY, label_n=21, dose=50, area=1, stock_strength=250)
    assert found["product_mass"] == pytest.approx(238.1, rel=1e-4)
    assert found["product_volume"] == "weigh it"
    assert number(found["stock_volume"]) == pytest.approx(238.095 / 0.25, rel=1e-5)
    small = {"dose": 4, "dose_unit": "lb/1000 ft2", "area": 1000, "area_unit": "ft2"}
    found = results("us", **DRY, label_n=34, **small)
    assert number(found["product_mass"]) / POUND == pytest.approx(11.8, rel=4e-3)


def test_plants() -> None:
    """California Avocado Society Yearbook 61 (1977): 265 trees at 0.09 lb of urea take 23.85 lb,
    and get 10.97 lb N at 46 %; 0.09 lb are 1.44 oz. The dose of N by the tree takes as much."""
    trees = {"plants": 265, "area": None} | NO_DOSE
    found = results("us", **DRY, label_n=46, **trees | {"plant_product": 1.44})
    assert number(found["product_mass"]) / POUND == pytest.approx(23.85, rel=1e-9)
    assert number(found["nutrient_mass"]) / POUND == pytest.approx(10.97, rel=1e-3)
    other = results("us", **DRY, label_n=46, **trees | {"plant_dose": 1.44 * 0.46})
    assert number(other["product_mass"]) / POUND == pytest.approx(23.85, rel=1e-9)
    assert found["nutrient_dose"] == found["stock_per_area"] == found["water_depth"] == ""
    assert kind(found["dose_check"]) == kind(other["dose_check"]) == "pass"


def test_what_is_in_the_line() -> None:
    """150 mg/L N in 60 m3/h of water take 21.222 L/h of 32 % at 1.3253 kg/L (mass balance)."""
    label = BY_LABEL | {"label_n": 32, "density": 1.3253, "dose": None, "liquid_dose": 21.222}
    run = LONG | {"flow": 60, "flow_unit": "m3/h", "area": 1, "inject_time": 1}
    found = results(**label, **run)
    assert found["nutrient_ppm"] == pytest.approx(150, rel=1e-4)
    assert found["injection_rate"] == pytest.approx(21.222, rel=1e-9)
    assert found["injection_ratio"] == pytest.approx(60000 / 21.222, rel=1e-9)
    assert found["water_depth"] == pytest.approx(600, rel=1e-9)  # 6,000 m3 on 10,000 m2


def test_water_of_a_liquid_changes_nothing_but_the_volume() -> None:
    plain, mixed = results(), results(water_parts=3)
    assert number(mixed["stock_volume"]) == pytest.approx(4 * number(plain["stock_volume"]))
    assert number(mixed["injection_rate"]) == pytest.approx(4 * number(plain["injection_rate"]))
    assert number(mixed["nutrient_ppm"]) == pytest.approx(number(plain["nutrient_ppm"]))


@pytest.mark.parametrize(
    ("nutrient", "per_kg"),
    # Oxide over element by IUPAC abridged atomic weights.
    [("P", 2.29133), ("P2O5", 1.0)],
)
def test_phosphorus_by_either_name(nutrient: str, per_kg: float) -> None:
    found = results(fertilizer="monoammonium phosphate", nutrient=nutrient, dose=10, area=1)
    assert found["brings_p2o5"] == pytest.approx(10 * per_kg, rel=1e-4)
    labelled = results(**DRY, label_p=61.7, nutrient=nutrient, dose=10, area=1)
    assert labelled["product_mass"] == pytest.approx(10 * per_kg / 0.617, rel=1e-4)


def test_conductivity_of_a_standard() -> None:
    """0.01 mol/L of potassium chloride, 0.7455 g/L, reads 1.412 mS/cm at 25 degrees C (Standard
    Methods 2510); 3 %, as FERT.FEEDEC promises."""
    names = ("ec_water", "water_ca", "water_mg", "water_alkalinity")
    water: dict[str, Any] = dict.fromkeys(names, 0)
    # 1 m3/min for 1 h: 60 m3.
    dose: dict[str, Any] = NO_DOSE | {"product_dose": 60 * 0.7455, "area": 1}
    run: dict[str, Any] = LONG | {"inject_time": 1, "flow": 1000}
    found = results(fertilizer="potassium chloride pure", **dose, **run, **water, water_ph=7)
    assert found["in_feed"] == pytest.approx(0.7455, rel=1e-9)
    assert found["ec_line"] == pytest.approx(1.412, rel=0.03)


# Verdicts


def test_the_example_passes() -> None:
    for edition in ("metric", "us"):
        found = results(edition)
        assert set(map(kind, verdicts(found).values())) == {"pass"}
        assert "nothing was left unchecked" in str(found["overall"])


@pytest.mark.parametrize(
    ("settings", "check", "opening"),
    [
        # the clock
        (
            {"set_time": 1.75},
            "time_check",
            "stop: filling 45 min and flushing 60 min leave nothing",
        ),
        ({"set_time": 1}, "time_check", "stop"),
        ({"inject_time": 4.3}, "time_check", "stop: injecting takes 4 h 18 min, and 4 h 15 min"),
        ({"inject_time": 4.25}, "time_check", "pass"),
        ({"fill_time": 0}, "time_check", "caution: no time to fill"),
        ({"flush_time": 30}, "time_check", "caution: 30 min of flushing"),
        ({"inject_time": 0.5}, "time_check", "caution: 30 min of injecting"),
        # the injector: 88.79 L/h are asked
        ({"pump_most": 88}, "pump_check", "stop: 88.8 L/h asked, the injector gives 88"),
        ({"pump_most": 90}, "pump_check", "caution"),
        ({"pump_least": 89}, "pump_check", "stop"),
        ({"pump_most": None}, "pump_check", "not given"),
        ({"pump_least": None}, "pump_check", "not given"),
        # the tank: 377.36 L
        ({"tank": 377}, "tank_check", "caution: 377.4 L in a tank of 377 L: 2 fills"),
        ({"tank": None}, "tank_check", "not given"),
        # what is asked for
        ({"dose": None}, "dose_check", "not given: the dose"),
        ({"product_dose": 5}, "dose_check", "stop: 2 doses"),
        ({"area": None}, "dose_check", "not given: the area"),
        ({"dose": None, "plant_dose": 5}, "dose_check", "not given: how many plants"),
        ({"nutrient": "K2O"}, "dose_check", "stop: urea ammonium nitrate 32-0-0 holds no K2O"),
        ({"fertilizer": "urea", "stock_strength": None}, "dose_check", "not given: how strong"),
        (NO_DOSE | {"liquid_dose": 9, "fertilizer": "urea"}, "dose_check", "stop: a dry product"),
        (BY_LABEL, "dose_check", "not given: how much N"),
        (BY_LABEL | {"label_n": 30}, "dose_check", "not given: the density"),
        (DRY | {"label_n": 60, "label_ca": 45}, "dose_check", "stop: the label adds up to 105 %"),
        # strength: 1.96 g/L and 2.03 mS/cm
        ({"dose": 25}, "strength_check", "caution: 2.5 g"),
        ({"dose": 60}, "strength_check", "stop"),
        ({"flow": 1}, "strength_check", "stop: more stock than water"),
        ({"dose": 50}, "ec_check", "caution"),
        ({"dose": 90}, "ec_check", "stop"),
        ({"ec_water": None}, "ec_check", "not given"),
        ({"jar_ec": 4}, "ec_check", "caution: EC 4 mS/cm"),
        # cold: 32-0-0 salts out near 32 or 28 degF (P1466 and the second source)
        ({"temperature": 2}, "dissolves_check", "caution: it salts out"),
        ({"temperature": 5}, "dissolves_check", "pass"),
        ({"jar": "turned cloudy"}, "clear_check", "stop: the jar turned cloudy"),
        ({"jar_ph": 3.9}, "acid_check", "stop"),
        ({"jar_ph": 4.5}, "acid_check", "pass"),
    ],
)
def test_where_verdicts_turn(settings: dict[str, Any], check: str, opening: str) -> None:
    found = results(**settings)
    assert str(found[check]).startswith(opening), found[check]
    assert kind(found["overall"]) != "pass" or opening == "pass"


@pytest.mark.parametrize(
    ("strength", "opening"), [(150, "pass"), (180, "caution"), (198, "stop"), (400, "stop")]
)
def test_potassium_nitrate_at_ten_degrees(strength: float, opening: str) -> None:
    """197 g in a litre of saturated stock at 10 degrees C (CRC Handbook and Laliberte's densities,
    data/saturation.csv); 85 % is common practice."""
    found = results(fertilizer="potassium nitrate", nutrient="K2O", stock_strength=strength)
    assert kind(found["dissolves_check"]) == opening
    assert (found["stock_limit"], found["temperature_in_degC"]) == (197, 10)
    needed = number(found["product_mass"]) * 1000
    assert number(found["least_stock"]) == pytest.approx(needed / (0.85 * 197), rel=1e-12)


def test_polyphosphate_in_hard_water_never_passes() -> None:
    """Polyphosphate settles with the calcium of hard water: common extension advice (from memory).
    Only a jar that stayed clear lets it pass, and only in soft water."""
    chosen: dict[str, Any] = {"fertilizer": "ammonium polyphosphate 10-34-0", "nutrient": "P2O5"}
    hard: dict[str, Any] = {"water_ca": 100, "water_alkalinity": 250, "water_ph": 7.8}
    soft: dict[str, Any] = {"water_ca": 5, "water_mg": 1, "water_alkalinity": 20, "water_ph": 6.5}
    for jar in ("not tried", "stayed clear"):
        assert kind(results(**chosen, **hard, jar=jar, dose=8)["clear_check"]) == "stop"
    assert kind(results(**chosen, **soft, dose=4)["clear_check"]) == "not checked"
    assert kind(results(**chosen, **soft, dose=4, jar="stayed clear")["clear_check"]) == "pass"
    blank: dict[str, Any] = dict.fromkeys(hard)
    assert kind(results(**chosen, **blank, dose=8)["clear_check"]) == "not given"


def test_a_stock_made_with_hard_water() -> None:
    """Diammonium phosphate is alkaline and settles with calcium; the monoammonium salt is sour and
    does so far less (both common extension advice, from memory)."""
    chosen: dict[str, Any] = {
        "nutrient": "P2O5",
        "dose": 5,
        "water_ca": 80,
        "water_alkalinity": 200,
    }
    two = results(fertilizer="diammonium phosphate", **chosen)
    one = results(fertilizer="monoammonium phosphate", **chosen)
    assert kind(two["stock_check"]) == "stop"
    assert number(one["tank_dicalcium"]) < number(two["tank_dicalcium"]) - 1
    plain = results(fertilizer="potassium chloride", nutrient="K2O", dose=10)
    assert kind(plain["stock_check"]) == "pass"


def test_acid_is_never_passed_unseen() -> None:
    chosen: dict[str, Any] = {"fertilizer": "phosphoric acid 75 %", "nutrient": "P2O5"}
    assert kind(results(**chosen, dose=10)["acid_check"]) == "stop"
    assert kind(results(**chosen, dose=2, water_alkalinity=None)["acid_check"]) == "not given"
    assert kind(results(**chosen, dose=2)["dissolves_check"]) == "caution"
    assert kind(results(**chosen, dose=2, water_parts=5)["dissolves_check"]) == "not checked"


def test_a_label_leaves_open_what_it_does_not_tell() -> None:
    label = BY_LABEL | {"label_n": 32, "density": 1.32}
    found = results(**label)
    open_ones = {key for key, said in verdicts(found).items() if said.startswith("not checked")}
    assert open_ones == {"ec_check", "clear_check", "acid_check"}
    assert kind(found["overall"]) == "not checked"
    tried = results(**label, jar="stayed clear", jar_ec=2, jar_ph=7)
    assert kind(tried["overall"]) == "pass"
    mixed = results(**label, jar="stayed clear", jar_ec=2, jar_ph=7, water_parts=2)
    assert kind(mixed["stock_check"]) == "not checked"
    dry = results(**DRY, label_n=46)
    assert kind(dry["dissolves_check"]) == "not checked"
    assert kind(results(**DRY, label_n=46, saturated=500)["dissolves_check"]) == "pass"


@pytest.mark.parametrize("key", ["dose", "flow", "set_time", "pump_most", "tank", "water_ca"])
@pytest.mark.parametrize("typed", ["12,5", SheetError.NA, -1.0])
def test_an_error_is_never_a_pass(key: str, typed: Value) -> None:
    settings: dict[str, Any] = {key: typed}
    found = results(**settings, fertilizer="monoammonium phosphate")
    assert kind(found["overall"]) != "pass"
    assert not any(said.startswith("#") for said in verdicts(found).values())


def test_nothing_typed_gives_no_pass_and_no_errors() -> None:
    plan = book("field-event")
    blank = {key: None for key, entry in plan.entries.items() if entry.optional}
    found = evaluate(plan, blank)
    assert kind(found["overall"]) == "not given"
    assert not [key for key, said in found.items() if isinstance(said, SheetError)]


def test_the_worst_comes_first() -> None:
    found = results(pump_most=50, tank=100, ec_water=None)
    assert str(found["overall"]).startswith("stop: 88.8 L/h asked")
    assert "(in all 1 stop, 1 caution, 1 not given)" in str(found["overall"])
    assert str(found["headline"]).endswith("; 1 thing not checked")


# The card


def card(found: dict[str, Value]) -> str:
    plan = book("field-event")
    keys = [key for key, each in plan.formulas.items() if each.cell.sheet == "Event card"]
    return "\n".join(str(found[key]) for key in keys if found[key] != "")


def test_the_card_tells_what_to_do() -> None:
    said = card(results(tank=100))
    for words in ("urea ammonium nitrate 32-0-0", "94.34 L", "45 min", "88.8 L/h", "4 h 15 min"):
        assert words in said
    dry = card(results("us", fertilizer="potassium nitrate", nutrient="K2O", dose=5, area=10))
    assert "Fill to the mark, stir until clear" in dry


def test_a_stopped_card_holds_no_amount() -> None:
    said = card(results(pump_most=50))
    assert said.count("\n") == 1  # the verdict and the name of the event
    assert "Set the injector" not in said
    assert "88.8 L/h asked" in said
