"""The timing workbook: against sums by hand and SciPy, and where its verdicts turn."""

from __future__ import annotations

import math
from typing import Any

import pytest
from scipy.integrate import quad
from scipy.stats import norm

from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

# One plain pipe: 100 m of 50 mm at 60 L/min hold 196.35 L and take 3.272 min.
PIPE: dict[str, Any] = {
    "bores": [50.0, None, None, None],
    "lengths": [100.0, None, None, None],
    "flows": [60.0, None, None, None],
    "branches": [None] * 4,
    "near_end": "first stretch",
}
NO_LATERAL = dict.fromkeys(("lateral_bore", "lateral_length", "emitters", "emitter_flow"))
LATERAL = {"lateral_bore": 16.0, "lateral_length": 60.0, "emitters": 120, "emitter_flow": 2.0}
PLUG = 100 * math.pi / 4 * 0.05**2 * 1000 / 60


def results(edition: str = "metric", **settings: Any) -> dict[str, Value]:
    return evaluate(book("timing", edition), settings)


def piped(**settings: Any) -> dict[str, Value]:
    return results(**(PIPE | NO_LATERAL | settings))


def number(value: Value) -> float:
    assert isinstance(value, float), value
    return value


def kind(value: Value) -> str:
    return str(value).partition(":")[0]


def test_example_passes_in_both_editions() -> None:
    for edition in ("metric", "us"):
        found = results(edition)
        assert str(found["headline"]).startswith("pass"), found["overall"]


def test_travel_by_hand() -> None:
    found = piped(**LATERAL)
    plug = 60 * math.pi / 4 * 0.016**2 * 1000 / (120 * 2 / 60)
    along = plug * sum(1 / n for n in range(1, 121))
    assert number(found["near_travel"]) == pytest.approx(PLUG)
    assert number(found["lateral_travel"]) == pytest.approx(along, rel=1e-4)
    assert number(found["far_travel"]) == pytest.approx(PLUG + along, rel=1e-4)
    smear = plug * math.sqrt(sum(1 / n**2 for n in range(1, 121)))
    assert number(found["far_smear"]) == pytest.approx(smear, rel=1e-3)


def test_stretches_add_up_and_branches_slow_the_end() -> None:
    two = piped(
        bores=[50, 50, None, None], lengths=[50, 50, None, None], flows=[60, 60, None, None]
    )
    assert number(two["far_travel"]) == pytest.approx(PLUG)
    off = piped(branches=[10, None, None, None])
    assert number(off["far_travel"]) == pytest.approx(
        PLUG * sum(1 / n for n in range(1, 11)), rel=1e-4
    )


def test_share_against_an_integral() -> None:
    found = piped(**LATERAL, set_time=60, fill_time=20, inject_time=20)
    late, smear = number(found["far_travel"]), number(found["far_smear"])

    def strength(minute: float) -> float:
        begun = norm.cdf((minute - late) / smear)
        return float(begun - norm.cdf((minute - 20 - late) / smear))

    due = quad(strength, -100, 40, limit=500, points=[0, late, late + 20])[0] / 20
    assert number(found["far_share"]) == pytest.approx(100 * due, rel=1e-4)


def test_clock_of_the_meter() -> None:
    found = piped(**LATERAL)
    late, smear = number(found["far_travel"]), number(found["far_smear"])
    wide = norm.ppf(0.95) * smear
    assert number(found["far_half"]) == pytest.approx(40 + late)
    assert number(found["far_rises"]) == pytest.approx(40 + late - wide, abs=0.01)
    assert number(found["far_full"]) == pytest.approx(40 + late + wide, abs=0.01)
    assert number(found["far_falls"]) == pytest.approx(100 + late - wide, abs=0.01)
    assert number(found["far_clear"]) == pytest.approx(100 + late + wide, abs=0.01)


def test_the_chart_holds_what_was_injected() -> None:
    """Area under each line over the time of injecting is the share that came out."""
    found = results(set_time=150, fill_time=40, inject_time=60)
    for place in ("near", "far"):
        area = sum(number(found[f"{place}_strength[{i}]"]) for i in range(51)) * 3 / 60
        assert area == pytest.approx(number(found[f"{place}_share"]), abs=5)


@pytest.mark.parametrize(
    ("settings", "check", "word"),
    [
        ({}, "set_check", "pass"),
        ({"set_time": 90}, "set_check", "stop"),
        ({"set_time": 101}, "flush_check", "stop"),
        ({"set_time": 118}, "flush_check", "caution"),
        ({"set_time": 105}, "share_check", "stop"),
        ({"fill_time": 10}, "set_check", "caution"),
        ({"fill_time": None}, "set_check", "not given"),
        ({"inject_time": 10}, "set_check", "caution"),
        ({"inject_time": 5}, "front_check", "caution"),
        ({"set_time": 50, "inject_time": None}, "set_check", "stop"),
        ({"emitters": None}, "pipes_check", "not given"),
        ({"emitters": None}, "share_check", "not given"),
        ({"emitters": 9000}, "pipes_check", "stop"),
        ({"flows": [320.0, 400.0, 160.0, None]}, "pipes_check", "stop"),
        ({"bores": [79.4, None, 52.0, None]}, "pipes_check", "not given"),
        ({"bores": [79.4, -1.0, 52.0, None]}, "pipes_check", "stop"),
        ({"bores": [79.4, 40.0, 52.0, None]}, "pipes_check", "caution"),
        (
            {"bores": [300.0, 300.0, 300.0, None], "flows": [9.0] * 3 + [None]},
            "pipes_check",
            "pass",
        ),
        ({"acid": "nitric acid 60 %"}, "meeting_check", "stop"),
        ({"feeding": "feed with ammonium or urea"}, "meeting_check", "stop"),
        ({"feeding": "other feed"}, "meeting_check", "stop"),
        ({"feeding": "not told"}, "meeting_check", "not given"),
        ({"chlorine_ph": 4.5}, "chlorine_check", "stop"),
        ({"chlorine_ph": 5.5}, "chlorine_check", "caution"),
        ({"chlorine_ph": 8.0}, "chlorine_check", "caution"),
        ({"chlorine_ph": None}, "chlorine_check", "not given"),
        ({"chlorine_wanted": 60}, "chlorine_check", "stop"),
        ({"available": None}, "chlorine_check", "not given"),
        ({"contact": 10}, "contact_check", "caution"),
        ({"residual": None}, "contact_check", "not checked"),
        ({"residual": 1}, "contact_check", "caution"),
        ({"treat_time": 10}, "contact_check", "caution"),
        ({"end_flow": 2.0}, "flushing_check", "caution"),
        ({"end_flow": None}, "flushing_check", "not given"),
        ({"screen": "mesh 80"}, "filter_check", "stop"),
        ({"screen": "by its opening"}, "filter_check", "not given"),
        ({"passage": None}, "filter_check", "not given"),
    ],
)
def test_where_verdicts_turn(settings: dict[str, Any], check: str, word: str) -> None:
    found = results(**settings)
    assert kind(found[check]) == word, found[check]
    if word == "stop":
        assert kind(found["headline"]) == "stop"
        assert found["tile_1"] == ""


def test_acid_by_the_function() -> None:
    from tanksheet.calc.acidity import acid_dose
    from tanksheet.calc.water import alkalinity_meq

    found = results(acid="sulfuric acid 35 %", chlorine_source="none")
    moles = acid_dose(alkalinity_meq(150), 7.6, 5.5, 20, "sulfuric acid 35 %")
    assert number(found["acid_moles"]) == pytest.approx(moles)
    # 8.993 equivalents in a litre, two a mole, 19,200 L of water an hour.
    assert number(found["acid_rate"]) == pytest.approx(moles * 2 * 19200 / 8.993 / 1000)
    assert kind(found["acid_check"]) == "not checked"
    assert (
        kind(results(acid="citric acid 50 %", chlorine_source="none", acid_read=5.6)["acid_check"])
        == "pass"
    )


def test_chlorine_by_hand() -> None:
    """8 mg/L in 320 L/min are 153.6 g an hour, 1.536 L of 10 %; 65 % of it dry over 40 minutes."""
    assert number(results()["hypochlorite_rate"]) == pytest.approx(1.536)
    dry = results(chlorine_source="calcium hypochlorite, dry", available=65)
    assert number(dry["hypochlorite_mass"]) == pytest.approx(8 * 320 * 40 / 650)


def test_slow_flow_is_called_out() -> None:
    found = piped(
        bores=[100, None, None, None],
        flows=[10, None, None, None],
        set_time=900,
        fill_time=200,
        inject_time=400,
    )
    assert kind(found["front_check"]) == "caution"
    assert "too slow" in str(found["front_check"])
