"""The cases of waters and feeds: whole, and borne out by PHREEQC or by the published limits."""

from __future__ import annotations

import functools
from collections import Counter

import pytest

from case_files import feed_cases
from settling import Found, found_in
from tank_chemistry import DENSITIES, FORMULAS, Portion, Tank, feed, gram_molecule, report, water

CASES = {case.name: case for case in feed_cases()}
CALCITE, PHOSPHATE = "Calcite", "CaHPO4:2H2O"
# How far off 0 an index is sure: for dicalcium phosphate minteq.v4.dat, sit.dat and the constants
# of phreeqc.dat differ by 0.15 between 10 and 30 degrees C.
SURE = {CALCITE: 0.05, PHOSPHATE: 0.2}
# Classes about another solid: it, the index from which nothing less than a caution is right, and
# that from which it is a stop. Silica stays up for a while.
OTHERS = {
    "struvite in the feed": ("Struvite", 0.0, 0.75),
    "gypsum in the feed": ("Gypsum", -0.1, 0.1),
    "silica in the feed": ("SiO2(am-ppt)", 0.0, 99.0),
}
UNKNOWN = "chlorine in the feed"  # no database has hypochlorite
# meq of acid that a mole brings before phosphate or ammonium take it.
ACIDS = {"HNO3": 1, "H3PO4": 1, "H2SO4": 2, "HCl": 1, "CO(NH2)2.H3PO4": 1, "KHCO3": -1}
# FAO paper 29, table 1, in its units (me/L), and Bucks, Nakayama and Gilbert 1979: none, severe.
LIMITS = {
    "sodium_check": (3, 9), "chloride_check": (4, 10), "boron_check": (0.7, 3),
    "bicarbonate_check": (1.5, 8.5), "salinity_check": (0.7, 3), "clog_iron": (0.1, 1.5),
    "clog_manganese": (0.1, 1.5), "clog_sulfide": (0.5, 2), "clog_bacteria": (10_000, 50_000),
    "clog_suspended": (50, 100), "residual_check": (1.25, 2.5),
}  # fmt: skip
WRITTEN = {
    "boron_check": "b", "salinity_check": "ec", "clog_iron": "fe", "clog_manganese": "mn",
    "clog_sulfide": "h2s", "clog_bacteria": "bacteria", "clog_suspended": "suspended",
}  # fmt: skip


def of_verdict(*verdicts: str) -> list[str]:
    return [name for name, case in CASES.items() if case["verdict"] in verdicts]


@functools.cache
def mixed(name: str) -> Found:
    """PHREEQC's answer for a feed, or for the water alone."""
    case = CASES[name]
    whole = feed(case["products"])
    return found_in(Tank(whole, 10_000, float(case["celsius"]), water(case["water"])))


def sure(name: str, sign: int) -> bool:
    """Whether an index is above its margin, or with -1 whether both are below."""
    found = [sign * mixed(name).indices.get(solid, -9) > sign * SURE[solid] for solid in SURE]
    return any(found) if sign > 0 else all(found)


def acid(portion: Portion) -> float:
    """meq of acid that a portion brings to each litre of feed."""
    formula, _, _ = FORMULAS[portion.product]
    return ACIDS.get(formula, 0) * portion.grams / gram_molecule(portion.product) / 10


def test_there_are_enough_cases() -> None:
    count = Counter(case["class"] for case in CASES.values())
    assert len(CASES) == len(feed_cases()) >= 90
    assert min(count.values()) >= 3
    assert {portion.unit for name in CASES for portion in feed(CASES[name]["products"])} >= {"L"}
    assert DENSITIES


@pytest.mark.parametrize(
    "name",
    [n for n in of_verdict("feed_clear", "calcite_check") if CASES[n]["class"] != UNKNOWN],
)
def test_phreeqc_bears_out_what_comes_out_of_a_feed(name: str) -> None:
    mildest, worst = CASES[name]["mildest"], CASES[name]["worst"]
    if CASES[name]["class"] in OTHERS:
        solid, near, certain = OTHERS[CASES[name]["class"]]
        index = mixed(name).indices[solid]
        assert (index > near) == (mildest != "pass")
        assert (index > certain) == (mildest == "stop")
        return
    if CASES[name]["class"] == "metals and silicate in the feed":
        assert not sure(name, 1)
        assert mixed(name).indices.get("Rhodochrosite", 1) > 0.3
        return
    assert sure(name, 1) == (mildest != "pass")
    if worst == "pass":
        assert max(mixed(name).indices.get(solid, -9) for solid in SURE) < -0.3


@pytest.mark.parametrize("name", of_verdict("feed_acidity"))
def test_phreeqc_bears_out_the_acidity(name: str) -> None:
    case = CASES[name]
    if case["class"] == "alkaline feed":
        assert mixed(name).ph > 7.6
        return
    brought = sum(acid(portion) for portion in feed(case["products"]))
    left = water(case["water"])["alkalinity"] / 50.04 - brought
    assert (mixed(name).ph < 4.3) == (case["mildest"] == "stop")
    assert (left < 0) == (case["mildest"] == "stop")
    assert (brought > 0 and left < 0.4) == (case["mildest"] != "pass")


@pytest.mark.parametrize("name", of_verdict(*LIMITS))
def test_published_limits_bear_out_a_report(name: str) -> None:
    case = CASES[name]
    amount = judged(case["verdict"], report(case["water"]))
    low, high = LIMITS[case["verdict"]]
    if amount is None:
        word = "not given"
    else:
        word = "pass" if amount < low else "caution" if amount <= high else "stop"
    assert (word, word) == (case["mildest"], case["worst"])


def judged(verdict: str, given: dict[str, float]) -> float | None:
    """The figure that a verdict is about, in the unit of its limits; None if it was not given."""
    if verdict in WRITTEN:
        return given.get(WRITTEN[verdict])
    if verdict == "chloride_check":
        return given["cl"] / 35.45 if "cl" in given else None
    hard = 2 * given["ca"] / 40.078 + 2 * given["mg"] / 24.305
    if verdict == "sodium_check":
        sodium = given["na"] / 22.990 if "na" in given else None
        return None if sodium is None else float(sodium / (hard / 2) ** 0.5)
    alkalinity = given["alkalinity"] / 50.04
    return alkalinity if verdict == "bicarbonate_check" else alkalinity - hard
