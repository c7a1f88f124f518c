"""The injector workbook: each reason turns a unit down, and a blank is never a pass.

Reckoned by hand beside it: the pressure left, two in parallel, the mass balance of a bypass. What a
unit loses by the square of its flow, and that 10 % of a limit is near, are common practice, no
source; lift and hose have their published rows in tests/published/choosing.csv.
"""

from __future__ import annotations

from typing import Any

import pytest

from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.templates.injector.units import COLUMNS

# A unit that suits: flow, ratio, pressure in bar, loss at a flow, water, lift, seals, bore.
GOOD: dict[str, Any] = {
    "least_flows": 10,
    "most_flows": 100,
    "richest_ratios": 50,
    "leanest_ratios": 500,
    "least_pressures": 0.5,
    "most_pressures": 6,
    "losses": 1,
    "loss_flows": 100,
    "coldests": 4,
    "hottests": 40,
    "lifts": 4,
    "seals": "EPDM",
    "bores": 10,
}
ZONE: dict[str, Any] = {
    "flows_from": 40,
    "flows_to": 60,
    "pressures_there": 3,
    "pressures_needed": 1.5,
    "water_heats": 16,
}


def chosen(
    unit: dict[str, Any] | None = None, zone: dict[str, Any] | None = None, **more: Any
) -> Any:
    """One zone and one unit, changed in some figures."""
    figures, place = GOOD | (unit or {}), ZONE | (zone or {})
    settings: dict[str, Any] = {key: [figures[key], *[None] * 5] for key, _, _ in COLUMNS}
    settings["unit_names"] = ["it", *[None] * 5]
    settings["zone_names"] = ["here", *[None] * 7]
    settings |= {key: [value, *[None] * 7] for key, value in place.items()}
    return evaluate(book("injector"), settings | more)


def test_a_unit_that_suits() -> None:
    now = chosen()
    assert now["choice_check"] == "pass: it fits every zone and the duty"
    assert now["overall"].startswith("pass") and now["way"] == "one alone"
    # 1:100 of 60 L/min is 0.6 L/min of stock.
    assert now["stock_drawn"] == pytest.approx(36)
    assert now["turn_down"] == pytest.approx(1.5)
    # 300 kPa less 100 x (60/100)^2 and 5 in the reduced length.
    assert now["alone_left[0]"] == pytest.approx(300 - 36 - 5)


@pytest.mark.parametrize(
    ("unit", "zone", "more", "said"),
    [
        ({"least_flows": 41}, {}, {}, "no: 40 is below its least flow of 41 L/min"),
        ({}, {"pressures_there": 0.4}, {}, "no: it needs 0.5 bar before it"),
        ({"most_pressures": 2.9}, {}, {}, "no: 3 is above its 2.9 bar"),
        ({}, {"pressures_needed": 2.9}, {}, "no: it leaves 2.59 of the 2.9 bar"),
        ({}, {"water_heats": 3.9}, {}, "no: the water is too cold or too hot"),
        ({}, {"water_heats": 40.1}, {}, "no: the water is too cold or too hot"),
        ({"coldests": None, "hottests": None}, {"water_heats": 41}, {}, "no: the water is too"),
        ({"least_flows": 37}, {}, {}, "marginal: the flow is near the end"),
        ({"most_flows": 66}, {}, {}, "marginal: the flow is near the end"),
        ({"most_pressures": 3.2}, {}, {}, "marginal: the pressure is near"),
        ({}, {"pressures_needed": 2.4}, {}, "marginal: hardly enough pressure"),
        ({"least_flows": None}, {}, {}, "not checked: its range of flow"),
        ({"most_flows": None}, {}, {}, "not checked: its range of flow"),
        ({"least_pressures": None}, {}, {}, "not checked: the pressure there"),
        ({"most_pressures": None}, {}, {}, "not checked: the pressure there"),
        ({"losses": None}, {}, {}, "not checked: what it loses"),
        ({"loss_flows": None}, {}, {}, "not checked: what it loses"),
        ({}, {"pressures_there": None}, {}, "not checked: the pressure there"),
        ({}, {"pressures_needed": None}, {}, "not checked: what it loses"),
        ({}, {"water_heats": None}, {}, "not checked: how warm the water"),
    ],
)
def test_every_reason_of_a_zone(unit: Any, zone: Any, more: Any, said: str) -> None:
    now = chosen(unit, zone, **more)
    assert str(now["alone_words[0]"]).startswith(said)
    word = {"no": "stop", "marginal": "caution", "not checked": "not checked"}[said.split(":")[0]]
    assert str(now["overall"]).startswith(word)


@pytest.mark.parametrize(
    ("unit", "more", "said"),
    [
        ({"richest_ratios": 101}, {}, "no: the richest ratio is 1:100, and it gives 1:101"),
        ({"leanest_ratios": 199}, {}, "no: the leanest ratio is 1:200, and it gives 1:199"),
        ({"seals": "NBR"}, {"injected": "acid"}, "no: its seals do not bear acid"),
        ({}, {"injected": "oil or wetting agent"}, "no: its seals do not bear oil"),
        ({}, {"injected": "solvent"}, "no: its seals do not bear solvent"),
        ({"seals": "NBR"}, {"injected": "chlorine"}, "no: its seals do not bear chlorine"),
        ({"seals": "FKM"}, {"injected": "solvent"}, "marginal: its seals bear solvent for a time"),
        ({"seals": None}, {"injected": "acid"}, "not checked: what its seals are"),
        ({"lifts": 2}, {"lift": 1.6}, "no: lift and hose are like"),
        ({"lifts": 2}, {"lift": 1.5}, "marginal: lift and hose take nearly all"),
        ({"bores": 6}, {"thickness": "like honey"}, "no: lift and hose are like"),
        ({"lifts": 30}, {"lift": 9}, "no: lift and hose are beyond what air pressure"),
        ({"richest_ratios": None}, {}, "not checked: its range of ratios"),
        ({"leanest_ratios": None}, {}, "not checked: its range of ratios"),
        ({"lifts": None}, {}, "not checked: its lift or the bore"),
        ({"bores": None}, {}, "not checked: its lift or the bore"),
    ],
)
def test_every_reason_of_the_duty(unit: Any, more: Any, said: str) -> None:
    now = chosen(unit, **more)
    assert str(now["duties[0]"]).startswith(said)
    word = {"no": "stop", "marginal": "caution", "not checked": "not checked"}[said.split(":")[0]]
    assert str(now["overall"]).startswith(word)


def test_seals_that_bear_acid() -> None:
    assert chosen({"seals": "FKM"}, injected="acid")["overall"].startswith("pass")
    assert chosen({"seals": None})["overall"].startswith("pass")  # plain feed asks for no more


def test_two_in_parallel() -> None:
    """150 L/min is 75 through each of two; 15 L/min one unit takes, the other is shut."""
    now = chosen({}, {"flows_from": 15, "flows_to": 150})
    assert str(now["alone_words[0]"]).startswith("no: 150 is above its largest flow of 100")
    assert now["way"] == ""  # one zone would need both of them and one alone
    both: dict[str, Any] = {
        "flows_from": [120, 15, *[None] * 6],
        "flows_to": [150, 30, *[None] * 6],
    }
    both |= {"pressures_there": [3, 3, *[None] * 6], "pressures_needed": [1.5, 1.5, *[None] * 6]}
    now = chosen(**both, water_heats=[16, 16, *[None] * 6])
    assert now["way"] == "two in parallel"
    assert str(now["choice_check"]).startswith(
        "caution: no unit alone covers every zone; two of it"
    )
    assert now["shared_left[0]"] == pytest.approx(300 - 100 * 0.75**2 - 5)


def test_a_bypass_by_its_mass_balance() -> None:
    """Of 400 L/min 90 run through the unit; 1:300 of 400 is what 1:67.5 of 90 draws."""
    now = chosen({}, {"flows_from": 350, "flows_to": 400}, ratio_rich=300, ratio_lean=400)
    assert now["way"] == "on a bypass"
    assert now["bypass_flow"] == pytest.approx(310)
    assert now["bypass_setting"] == pytest.approx(67.5)
    assert 400 / 300 == pytest.approx(90 / now["bypass_setting"])
    assert str(now["overall"]).startswith("caution")
    # 1:200 would ask for 1:45, richer than the unit gives.
    now = chosen({}, {"flows_from": 350, "flows_to": 400}, ratio_rich=200)
    assert str(now["choice_check"]).startswith("stop: no unit listed will do")
    assert "350 to 400 L/min" in str(now["choice_check"])


@pytest.mark.parametrize(
    "place", [{"pressures_there": 7}, {"pressures_needed": 2.5}, {"water_heats": 41}]
)
def test_a_bypass_does_not_mend_pressure_or_heat(place: dict[str, Any]) -> None:
    """90 of 400 L/min take 0.81 bar of the unit's own, so that 3 bar leave 2.14."""
    zone = {"flows_from": 350, "flows_to": 400}
    now = chosen({}, zone, ratio_rich=300, ratio_lean=400)
    assert now["bypass_left[0]"] == pytest.approx(300 - 81 - 5)
    now = chosen({}, zone | place, ratio_rich=300, ratio_lean=400)
    assert str(now["overall"]).startswith("stop")
    blank = dict.fromkeys(place)
    now = chosen({}, zone | blank, ratio_rich=300, ratio_lean=400)
    assert now["bypass_kinds[0]"] == "open"
    assert not str(now["overall"]).startswith(("pass", "caution"))


def test_a_bypass_keeps_its_least_flow() -> None:
    """The split stays as the valve is set: of 40 of 400 L/min only 9 run through the unit."""
    now = chosen({}, {"flows_from": 40, "flows_to": 400}, ratio_rich=300, ratio_lean=400)
    assert str(now["overall"]).startswith("stop")


def test_the_better_unit_is_taken() -> None:
    """The first is marginal, the second fits: the second, although it stands lower."""
    two: dict[str, Any] = {key: [GOOD[key], GOOD[key], *[None] * 4] for key, _, _ in COLUMNS}
    two["most_flows"] = [62, 100, *[None] * 4]
    now = chosen(**two, unit_names=["small", "large", *[None] * 4])
    assert (now["chosen"], now["way"]) == ("large", "one alone")
    assert now["choice_check"] == "pass: large fits every zone and the duty"


def test_nothing_typed_is_no_pass() -> None:
    blank = [None] * 8
    now = chosen(flows_from=blank, flows_to=blank)
    assert str(now["overall"]).startswith("not")
    now = chosen(unit_names=[None] * 6)
    assert str(now["overall"]).startswith("not")


@pytest.mark.parametrize("bad", ["much", "12", -1, True, 1e9])
@pytest.mark.parametrize("key", ["flows_to", "most_flows", "losses", "bores", "water_heats"])
def test_a_figure_that_cannot_be_read(key: str, bad: Any) -> None:
    if key == "water_heats" and bad == -1:
        return  # the only one of these that may be below zero
    unit, zone = ({}, {key: bad}) if key in ZONE else ({key: bad}, {})
    assert str(chosen(unit, zone)["overall"]).startswith("stop")


def test_from_above_to() -> None:
    now = chosen({}, {"flows_from": 61})
    assert str(now["overall"]).startswith("stop: a zone's flow goes from more to less")


def test_the_same_in_us_units() -> None:
    """40 L/min are 10.5669 gpm, 3 bar 43.5113 psi, 16 C 60.8 F (NIST SP 811)."""
    gpm, psi = 3.785411784, 6.894757293168
    us: dict[str, Any] = {}
    for key, _, kind in COLUMNS:
        value = GOOD[key]
        if kind == "flow":
            value /= gpm
        elif kind == "pressure":
            value *= 100 / psi
        elif kind == "heat":
            value = value * 1.8 + 32
        elif kind == "height":
            value /= 0.3048
        elif kind == "bore":
            value /= 25.4
        us[key] = [value, *[None] * 5]
    zone = [40 / gpm, 60 / gpm, 300 / psi, 150 / psi, 60.8]
    us |= {key: [value, *[None] * 7] for key, value in zip(ZONE, zone, strict=True)}
    us["unit_names"] = ["it", *[None] * 5]
    us |= {"lift": 0.8 / 0.3048, "hose_length": 2 / 0.3048, "neck_loss": 5 / psi, "celsius": 86}
    there, here = evaluate(book("injector", "us"), us), chosen(lift=0.8, hose_length=2)
    assert there["choice_check"] == here["choice_check"]
    for key in ("alone_left[0]", "hose_metres[0]", "stock_most", "greatest_lift"):
        assert there[key] == pytest.approx(here[key], rel=1e-6)
