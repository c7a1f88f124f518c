"""The season workbook against published seasons and prices, and where its verdicts turn."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.errors import SheetError
from tanksheet.recalc import ENGINES, table
from tanksheet.sheets.cases import random_settings
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.verify import verify
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

GALLON, POUND, ACRE = 3.785411784, 0.45359237, 0.40468564224  # L, kg, ha: exact
NUTRIENTS = ("n", "p2o5", "k2o", "ca", "mg")
WEEKS, PRODUCTS = 52, 6
# No plan, no credit, no product: what a test adds is all there is.
EMPTY: dict[str, Any] = {f"rates_{each}": [None] for each in NUTRIENTS}
EMPTY |= {f"soil_{each}": 0 for each in NUTRIENTS}
EMPTY |= {"products": [None], "tanks": ["A"] * PRODUCTS, "chosen_for": [None]}
EMPTY |= {"shares_typed": [None], "week_events": [None], "week_names": [None]}
EMPTY |= {f"water_{each}": 0 for each in ("n", "nh4", "k", "ca", "mg")}
KINDS = ("pass", "caution", "stop", "not checked", "not given", "not used")


def results(edition: str = "metric", **settings: Any) -> dict[str, Value]:
    return evaluate(book("season", edition), settings)


def number(value: Value) -> float:
    assert isinstance(value, float), value
    return value


def kind(value: Value) -> str:
    return str(value).partition(":")[0]


def column(found: dict[str, Value], key: str) -> list[Value]:
    """All cells of a run, in order."""
    return [value for name, value in found.items() if name.startswith(f"{key}[")]


def verdicts(found: dict[str, Value]) -> dict[str, str]:
    names = ("clear_a", "clear_b", "clear_c", "feed_acidity", "feed_clear")
    return {k: str(v) for k, v in found.items() if k.endswith("_check") or k in names}


# Published seasons


# A season of drip cotton by event, kg/ha, and the water of each, mm: PMC5421752, table 1 (2017);
# the sums are ours.
COTTON: dict[str, Any] = {
    "rates_n": [7.5, 22.5, 37.5, 45, 45, 37.5, 22.5, 7.5, 0, 0],
    "rates_p2o5": [7.5, 10.5, 12, 15, 15, 15, 9, 6],
    "rates_k2o": [5, 7, 8, 10, 10, 10, 6, 4],
    "week_water": [45, 52.5, 52.5, 60, 60, 52.5, 45, 45, 30, 22.5],
}
COTTON_PRODUCTS: dict[str, Any] = {
    "products": ["monoammonium phosphate", "potassium nitrate", "urea"],
    "chosen_for": ["P2O5", "K2O", "N"],
    "area": 1,
}


def test_a_season_of_cotton() -> None:
    """225 kg N, 90 kg P2O5 and 60 kg K2O on a hectare, and 465 mm, which are 4650 m3."""
    found = results(**EMPTY | COTTON | COTTON_PRODUCTS)
    assert column(found, "asked_kg") == [225, 90, 60, 0, 0]
    assert sum(map(number, column(found, "water")[:10])) == pytest.approx(4650, rel=1e-12)
    assert column(found, "given_kg")[:3] == pytest.approx([225, 90, 60], rel=1e-9)
    assert column(found, "off_percent")[:3] == [0, 0, 0]
    assert kind(found["supply_check"]) == "pass"
    assert (found["weeks_fed"], found["events_in_all"]) == (8, 8)
    fed = [number(each) for each in column(found, "season_kgs")]
    # By hand, from the contents of the pure salts: the phosphate first, then the nitrate, and urea
    # for what they leave of the nitrogen.
    phosphate = 90 / 0.617
    assert fed[0] == pytest.approx(phosphate, rel=2e-3)
    nitrate = 60 / 0.4658
    assert fed[1] == pytest.approx(nitrate, rel=2e-3)
    left = 225 - phosphate * 0.1218 - nitrate * 0.1385
    assert fed[2] == pytest.approx(left / 0.466, rel=3e-3)


def test_almonds_by_the_stage() -> None:
    """20, 30, 30 and 20 % of 200 lb N an acre are 40, 60, 60 and 40 (growers' magazine, 2020,
    quoting university advice; 80 % by kernel fill as in thealmonddoctor.com). 200 lb take 56.51
    gallons of UAN 32 at 3.5392 lb N a gallon (Mississippi State Extension P1466)."""
    plan: dict[str, Any] = {"rates_n": [40, 60, 60, 40], "rates_in": "lb/acre", "area": 1}
    plan |= {"products": ["urea ammonium nitrate 32-0-0"], "chosen_for": ["N"]}
    plan |= {"week_water": [1, 2, 2, 2]}
    found = results("us", **EMPTY | plan)
    assert number(column(found, "asked_kg")[0]) / POUND == pytest.approx(200, rel=1e-12)
    to_date = [number(each) for each in column(found, "plan_to_date")[:4]]
    assert to_date == pytest.approx([40, 100, 160, 200], rel=1e-12)
    gallons = number(column(found, "season_kgs")[0]) / 1.325 / GALLON
    assert gallons == pytest.approx(200 / 3.5392, rel=1.5e-3)


def test_a_dose_a_day() -> None:
    """7 lb an acre in a week of seven events is 1 lb a day (Mississippi State Extension P2037)."""
    plan: dict[str, Any] = {"rates_n": [7], "rates_in": "lb/acre", "area": 1, "week_events": [7]}
    plan |= {"products": ["urea"], "chosen_for": ["N"], "week_shown": 1, "week_water": [2]}
    found = results("us", **EMPTY | plan)
    urea = number(column(found, "shown_kgs")[0])
    whole = number(column(found, "season_kgs")[0])
    assert urea == pytest.approx(whole / 7, rel=1e-12)
    assert number(column(found, "given_kg")[0]) / 7 / POUND == pytest.approx(1, rel=1e-9)


@pytest.mark.parametrize(
    ("rates_in", "rate", "size", "kilograms"),
    [
        # Arithmetic with exact units: 1 lb/acre is 1.120851156 kg/ha; 100 mg/L in 250 m3 are 25 kg.
        ("kg/ha", 12, {"area": 5}, 60),
        ("lb/acre", 10, {"area": 2}, 22.41702312),
        ("g a plant", 30, {"plants": 4000}, 120),
        ("oz a plant", 1, {"plants": 1000}, 28.349523125),
        ("ppm in the water", 100, {"water_in": "m3", "week_water": [250]}, 25),
    ],
)
def test_rates_in_every_unit(
    rates_in: str, rate: float, size: dict[str, Any], kilograms: float
) -> None:
    chosen: dict[str, Any] = {"products": ["urea"], "chosen_for": ["N"]}
    plan = EMPTY | chosen | {"rates_in": rates_in, "rates_n": [rate], "week_water": [30]}
    found = results(**plan | size)
    assert found["asked_kg[0]"] == pytest.approx(kilograms, rel=1e-9)
    assert found["given_kg[0]"] == pytest.approx(kilograms, rel=1e-9)


@pytest.mark.parametrize(
    ("water_in", "typed", "area", "cubic"),
    # 1 acre-inch is 102.790153 m3, 1000 US gal 3.785411784 m3, 10 mm on a hectare 100 m3: exact.
    [
        ("in", 1, ACRE, 102.790153),
        ("gal", 1000, 1, 3.785411784),
        ("mm", 10, 1, 100),
        ("m3", 7, 1, 7),
    ],
)
def test_water_in_every_unit(water_in: str, typed: float, area: float, cubic: float) -> None:
    found = results(**EMPTY, water_in=water_in, week_water=[typed], area=area)
    assert found["water[0]"] == pytest.approx(cubic, rel=1e-8)


@pytest.mark.parametrize(("edition", "rates"), [("metric", "kg/ha"), ("us", "lb/acre")])
def test_the_units_of_the_plan_are_told_in_words(edition: str, rates: str) -> None:
    for water_in, words in {"m3": "m3", "mm": "mm", "gal": "gal", "in": "inches"}.items():
        found = results(edition, water_in=water_in)
        assert found["plan_units"] == f"Rates in {rates}, water in {words}"
    told = results(edition, rates_in="ppm in the water", water_in="in")["plan_units"]
    assert told == "Rates in ppm in the water, water in inches"


def test_credits_of_soil_and_water() -> None:
    """An acre-inch of water with 1 mg/L of nitrate-N holds 0.22661 lb N (growers' magazine quoting
    university advice, recomputed); a soil credit is taken off in the plan's own proportion."""
    plan: dict[str, Any] = {"rates_n": [60, 40], "rates_in": "lb/acre", "area": 1}
    plan |= {"week_water": [3, 2], "products": ["urea"], "chosen_for": ["N"], "water_n": 1}
    found = results("us", **EMPTY | plan)
    credit = number(found["credit_kg[0]"]) / POUND
    assert credit == pytest.approx(5 * 0.22661, rel=1e-4)
    assert number(found["given_kg[0]"]) / POUND == pytest.approx(100 - credit, rel=1e-9)
    soil = results("us", **EMPTY | plan | {"water_n": 0, "soil_n": 25})
    week = [number(each) / POUND for each in column(soil, "given_n")[:2]]
    assert week == pytest.approx([45, 30], rel=1e-9)


# Money and packs


@pytest.mark.parametrize(
    ("product", "price", "pounds", "dollars"),
    [
        # Price of a short ton over its nitrogen: 34 % at 370 is 0.544 a lb N (Noble Research
        # Institute, June 2007); UAN 28 at 225 is 0.4018 (Purdue, 2002). The list's ammonium
        # nitrate holds 35 %, by its formula: 0.786 at 550 (scienceofagriculture.com).
        ("ammonium nitrate", 550, 2000, 550 / 700),
        ("urea ammonium nitrate 28-0-0", 225, 2000, 0.40179),
    ],
)
def test_the_price_of_nitrogen(product: str, price: float, pounds: float, dollars: float) -> None:
    found = results(
        "us",
        products=[product],
        prices=[price],
        pack_sizes=[pounds],
        pack_units=["lb"] * PRODUCTS,
        compare_by="N",
    )
    assert number(found["nutrient_prices[0]"]) * POUND == pytest.approx(dollars, rel=2e-3)


@pytest.mark.parametrize("edition", ["metric", "us"])
@pytest.mark.parametrize("hand", [[None], [3, 0.5, 90, None, 2]])
def test_packs_are_used_or_left(edition: str, hand: list[Any]) -> None:
    found = results(edition, packs_on_hand=hand)
    held = [float(each or 0) for each in [*hand, *[None] * PRODUCTS][:PRODUCTS]]
    rows = zip(
        held,
        *(column(found, key) for key in ("packs", "packs_used", "needs", "left_masses")),
        strict=True,
    )
    bill = 0.0
    for i, (there, count, pack, needed, left) in enumerate(rows):
        if not number(needed):
            assert count == ""
            continue
        kilograms, packs = number(pack), number(count)
        assert (there + packs) * kilograms == pytest.approx(number(needed) + number(left), abs=6e-4)
        assert packs == math.ceil(max(0, number(needed) - there * kilograms) / kilograms - 1e-9)
        bill += round(packs * number(found[f"prices_used[{i}]"]), 2)
    assert found["cost_of_packs"] == pytest.approx(bill, abs=1e-6)


@pytest.mark.parametrize("edition", ["metric", "us"])
def test_weeks_add_up_to_the_season(edition: str) -> None:
    found = results(edition)
    for k in range(PRODUCTS):
        weeks = sum(map(number, column(found, f"kg_of_{k + 1}")))
        assert weeks == pytest.approx(number(found[f"season_kgs[{k}]"]), rel=1e-12)
    last = column(found, "cost_to_date")[-1]
    assert last == pytest.approx(number(found["cost_per_season"]), abs=0.011)
    spent = sum(number(each) for each in column(found, "use_costs") if each != "")
    assert spent == pytest.approx(number(found["cost_per_season"]), abs=0.04)
    plan, supply = (column(found, f"{key}_to_date")[-1] for key in ("plan", "supply"))
    assert supply == pytest.approx(number(plan), rel=1e-9)


def test_random_seasons_conserve_mass() -> None:
    """What products bring is their mass times their content, whatever is typed."""
    plan = book("season")
    seen = 0
    for settings in itertools.islice(random_settings(plan, 11), 12):
        found = evaluate(plan, settings)
        if any(isinstance(each, SheetError) for each in column(found, "given_kg")):
            continue
        for place, low in enumerate(NUTRIENTS):
            masses = map(number, column(found, "season_kgs"))
            contents = map(number, column(found, f"holds_{low}"))
            brought = sum(m * c / 100 for m, c in zip(masses, contents, strict=True))
            assert brought == pytest.approx(number(found[f"given_kg[{place}]"]), rel=1e-9, abs=1e-9)
        seen += 1
    assert seen >= 3


def test_what_if_is_what_it_would_be() -> None:
    """Each cell is what the whole workbook says at those prices."""
    plan = book("season")
    base = evaluate(plan, {})
    down, across = (plan.entries[key].default for key in ("prices_down", "prices_across"))
    prices = list(plan.entries["prices"].default)
    for i, j in ((0, 0), (2, 1), (4, 3)):
        changed = list(prices)
        changed[1], changed[4] = down[i], across[j]
        again = evaluate(plan, {"prices": changed})
        assert base[f"cost_what_if[{i},{j}]"] == again["cost_per_season"]
    # The same two at other rates: amounts by hand are the example's own, times a share.
    hands = {k: [base[f"kg_of_{k}[{week}]"] for week in range(52)] for k in (1, 2, 3, 4, 5)}
    down, across = (plan.entries[key].default for key in ("rates_down", "rates_across"))
    for i, j in ((0, 0), (2, 2), (4, 3)):
        by_hand: dict[str, Any] = {f"by_hand_{k}": list(hand) for k, hand in hands.items()}
        for k, rate in ((2, down[i]), (5, across[j])):
            by_hand[f"by_hand_{k}"] = [number(mass) * number(rate) / 100 for mass in hands[k]]
        again = evaluate(plan, by_hand)
        cost = pytest.approx(number(again["cost_per_season"]), abs=0.011)
        assert base[f"cost_of_rates[{i},{j}]"] == cost
    same = results(whatif_down="product 2", whatif_across="product 2")
    assert same["cost_what_if[0,0]"] == same["cost_of_rates[0,0]"] == ""


# Products


def test_a_share_leaves_the_rest_to_the_next() -> None:
    two: dict[str, Any] = {
        "products": ["urea", "ammonium sulfate"],
        "chosen_for": ["N", "N"],
        "shares_typed": [30, None],
    }
    found = results(**EMPTY | two | {"rates_n": [50], "area": 1, "week_water": [30]})
    urea, sulfate = (
        number(found[f"season_kgs[{k}]"]) * number(found[f"holds_n[{k}]"]) / 100 for k in (0, 1)
    )
    assert [urea, sulfate] == pytest.approx([15, 35])


def test_an_amount_by_hand_stays() -> None:
    found = results(by_hand_2=[None, None, 20.0])
    plain = results()
    assert found["kg_of_2[2]"] == 20
    assert found["kg_of_2[3]"] == plain["kg_of_2[3]"]
    assert number(found["kg_of_5[2]"]) > number(plain["kg_of_5[2]"])  # urea ammonium nitrate
    assert kind(found["supply_check"]) == "stop"
    assert "K2O" not in str(found["supply_check"]) or "short" in str(found["supply_check"])
    pounds = results("us", by_hand_2=[10.0])
    assert pounds["kg_of_2[0]"] == pytest.approx(10 * POUND)


def test_a_label_of_my_own_is_never_passed_unseen() -> None:
    label: dict[str, Any] = {
        "own_names": ["my blend 20-20-20"],
        "own_total": [20],
        "own_nitrate": [6],
        "own_ammonium": [4],
        "own_urea": [10],
        "own_p": [20],
        "own_k": [20],
        "products": ["my blend 20-20-20"],
        "chosen_for": ["N"],
    }
    found = results(**EMPTY | label | {"rates_n": [10], "week_water": [20], "area": 2})
    assert found["season_kgs[0]"] == pytest.approx(100, rel=1e-9)
    assert found["given_kg[1]"] == pytest.approx(20, rel=1e-9)  # P2O5 of 100 kg
    assert kind(found["clear_a"]) == "not checked"
    assert kind(found["feed_clear"]) == "not checked"
    assert kind(found["overall"]) != "pass"


# Verdicts


@pytest.mark.parametrize("edition", ["metric", "us"])
def test_the_example_passes(edition: str) -> None:
    found = results(edition)
    assert set(map(kind, verdicts(found).values())) <= {"pass", "not used"}
    assert "nothing was left unchecked" in str(found["overall"])
    assert set(column(found, "weeks_said")) == {""}


ONE_MIX: dict[str, Any] = {"tanks": ["A"] * PRODUCTS}
HIGH: dict[str, Any] = EMPTY | {"rates_n": [10], "water_n": 50, "week_water": [30]}


@pytest.mark.parametrize(
    ("settings", "check", "opening"),
    [
        ({"area": None}, "plan_check", "not given: the area"),
        ({"rates_in": "g a plant"}, "plan_check", "not given: how many plants"),
        (
            {"rates_in": "ppm in the water", "week_water": [10]},
            "plan_check",
            "not given: the water",
        ),
        # what arrives
        ({"chosen_for": [None, "K2O", "Ca", "Mg", "N"]}, "supply_check", "stop: P2O5 is 100"),
        ({"shares_typed": [85]}, "supply_check", "caution: P2O5 is 15 % short"),
        ({"shares_typed": [95]}, "supply_check", "pass"),
        (HIGH, "supply_check", "caution: soil and water bring more N"),
        (
            {"by_hand_5": [500]},
            "supply_check",
            "stop: a nutrient is 972 % over in week 1, transplants",
        ),
        # runs: 400 m3 in one event of 72 m3/h
        ({"week_water": [5]}, "time_check", "not given: the water"),
        ({"week_water": [1] * 10}, "time_check", "stop: week 1, transplants leaves no time"),
        ({"inject_time": 4}, "time_check", "stop: injecting takes longer than week 2, rooting"),
        ({"inject_time": 2}, "time_check", "pass"),
        # injectors: 500 L in 2.72 h of the second week, 184 L/h
        ({"pump_most": 180}, "pump_check", "stop: 184 L/h asked in week 2, rooting"),
        ({"pump_most": 195}, "pump_check", "caution"),
        ({"pump_least": 69}, "pump_check", "pass"),
        ({"pump_least": 71}, "pump_check", "stop: 69.8 L/h asked in week 9, ripening"),
        ({"pump_most": None}, "pump_check", "not given"),
        ({"pump_least": None}, "pump_check", "not given"),
        # mixes
        (ONE_MIX, "clear_a", "stop"),
        ({"tank_a": 100}, "clear_a", "stop"),
        ({"products": ["potassium nitrate"], "chosen_for": ["Mg"]}, "product_check", "stop"),
        ({"products": ["no such salt"]}, "product_check", "stop"),
        # money
        ({"prices": [39, None, 16.5, 11, 640]}, "cost_check", "not given: the price of potassium"),
        ({"pack_sizes": [25, 25, None, 25, 1000]}, "cost_check", "not given: the price of calcium"),
    ],
)
def test_where_verdicts_turn(settings: dict[str, Any], check: str, opening: str) -> None:
    found = results(**settings)
    assert str(found[check]).startswith(opening), found[check]
    assert kind(found["overall"]) != "pass" or opening == "pass"


def test_a_missing_price_is_never_nothing() -> None:
    found = results(prices=[39, None, 16.5, 11, 640])
    names = ("cost_per_season", "cost_per_area", "cost_per_nutrient", "cost_of_packs")
    assert {found[name] for name in names} == {"not given"}
    assert found["tile_1"] == found["tile_2"] == found["tile_3"] == ""
    assert set(column(found, "cost_to_date")) == {""}
    assert found["cost_what_if[0,0]"] == ""


def test_a_missing_area_is_no_cost_of_nothing() -> None:
    found = results(area=None)
    assert kind(found["cost_check"]) == "not given"
    assert found["cost_per_season"] == "not given"


def test_gypsum_in_one_mix() -> None:
    """Calcium nitrate with sulfate or phosphate in one tank settles: every compatibility chart of
    extension services."""
    chosen: dict[str, Any] = {
        "products": ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"],
        "chosen_for": ["Ca", "Mg"],
        "rates_ca": [20],
        "rates_mg": [10],
        "week_water": [30],
        "area": 1,
    }
    apart = results(**EMPTY | chosen | {"tanks": ["A", "B", "A", "A", "A", "A"]})
    one = results(**EMPTY | chosen)
    assert kind(apart["clear_a"]) == kind(apart["clear_b"]) == "pass"
    assert kind(one["clear_a"]) == "stop" and "gypsum" in str(one["clear_a"])


def test_products_of_different_weeks_are_judged_as_if_they_met() -> None:
    """On the safe side: the cure is another letter for the mix."""
    chosen: dict[str, Any] = {
        "products": ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate"],
        "chosen_for": ["Ca", "Mg"],
        "rates_ca": [20],
        "rates_mg": [None, 10],
        "week_water": [30, 30],
    }
    assert kind(results(**EMPTY | chosen)["clear_a"]) == "stop"


def test_acid_in_some_weeks_is_not_judged() -> None:
    acid: dict[str, Any] = {
        "products": ["nitric acid 60 %"],
        "chosen_for": ["N"],
        "rates_n": [5, 1],
        "week_water": [30, 30],
        "area": 1,
    }
    found = results(**EMPTY | acid)
    assert kind(found["even_check"]) == "not checked"
    even = results(**EMPTY | acid | {"rates_n": [1, 1]})
    assert kind(even["even_check"]) == "pass"


@pytest.mark.parametrize(
    "settings",
    [
        {"rates_n": ["12,5"]},
        {"rates_k2o": [SheetError.NA]},
        {"week_events": [0]},
        {"week_water": [-1]},
        {"by_hand_1": ["5 kg"]},
        {"tank_a": None},
        {"flow": "x"},
        {"area": SheetError.NA},
        {"tanks": ["D", "A", "A", "B", "A", "A"]},
        {"chosen_for": ["S", "K2O", "Ca", "Mg", "N"]},
        {"shares_typed": [150]},
    ],
    ids=str,
)
def test_an_error_is_never_a_pass(settings: dict[str, Any]) -> None:
    found = results(**settings)
    assert kind(found["overall"]) != "pass"
    assert not any(said.startswith("#") for said in verdicts(found).values())
    assert all(kind(said) in KINDS for said in verdicts(found).values())


def test_nothing_asked_is_not_used() -> None:
    found = results(**EMPTY)
    assert kind(found["plan_check"]) == "not used"
    assert kind(found["overall"]) != "pass"
    assert found["cost_per_season"] == "not given"


# The card


def card(found: dict[str, Value], edition: str = "metric") -> str:
    plan = book("season", edition)
    keys = [key for key, each in plan.formulas.items() if each.cell.sheet == "Week card"]
    return "\n".join(str(found[key]) for key in keys if found[key] != "")


@pytest.mark.parametrize("edition", ["metric", "us"])
def test_the_card_of_any_week(edition: str) -> None:
    for week in (1, 5, 10):
        found = results(edition, week_shown=week)
        said = card(found, edition)
        events = number(found[f"events[{week - 1}]"])
        for k in range(PRODUCTS):
            whole = number(found[f"kg_of_{k + 1}[{week - 1}]"])
            assert found[f"shown_kgs[{k}]"] == pytest.approx(whole / events, rel=1e-12)
            weight = str(found[f"weights[{k}]"])
            assert (weight in said) and bool(weight) == (whole > 0)
        assert str(found[f"week_labels[{week - 1}]"]) in said
    assert "nothing is fed in this week" in card(results(edition, week_shown=40), edition)


def test_a_stopped_card_holds_no_amount() -> None:
    found = results(pump_most=50)
    said = card(found)
    assert "stop: " in said and "kg" not in said.replace("kg/ha", "")
    assert "into mix" not in said
    assert found["weigh_head"] == "do not mix"


def test_editions_agree() -> None:
    """The same season in the other system's units."""
    plan: dict[str, Any] = {"rates_in": "kg/ha", "water_in": "mm", "area_unit": "ha", "area": 3}
    plan |= {"week_water": [20, 30], "rates_n": [5, 10], "products": ["urea"]}
    plan |= {"chosen_for": ["N"], "flow": 900, "flow_unit": "L/min"}
    metric, us = results(**EMPTY | plan), results("us", **EMPTY | plan)
    for key in ("season_kgs[0]", "given_kg[0]", "most_in_line", "in_line[1]", "run_hours[1]"):
        assert metric[key] == pytest.approx(number(us[key]), rel=1e-9)


@pytest.mark.parametrize("edition", ["metric", "us"])
def test_a_spreadsheet_agrees(edition: str, workbook: GetWorkbook) -> None:
    need(ENGINES["ironcalc"])
    plan = book("season", edition)
    [run] = verify(workbook("season", edition), plan, ["ironcalc"], 6, seed=3, edges=False)
    assert run.verdict == "agrees", table([run])
    assert run.cells == 6 * len(plan.formulas)
