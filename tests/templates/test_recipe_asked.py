"""What is asked of the recipe workbook: nitrogen by form, limits of its shares, a tolerance a line,
held against published solutions and ``scipy.optimize.nnls``."""

from __future__ import annotations

import random
from typing import Any

import numpy as np
import pytest
from scipy.optimize import nnls

from tanksheet.sheets.evaluate import chosen_values, evaluate
from tanksheet.tables import look_up
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS
from test_recipe import SALTS
from test_recipe_amounts import Case, grams_of, random_case
from typed_recipe import typed_recipe

PLAN = book("recipe")
N = 14.007  # g/mol, IUPAC abridged
FEED = 100 * 100.0  # litres of feed from a tank of 100 L at 1:100
NO_TARGETS: dict[str, Any] = {"targets": [None] * len(TARGETS), "target_alkalinity": None}
PURE = {
    key: 0.0 for key in PLAN.entries if key.startswith("water_") and not key.endswith("_unit")
} | {"water_ph": 7.0}
# mmol/L of the ions as published, and of the salts that the source weighs.
PUBLISHED: dict[str, tuple[dict[str, float], dict[str, float], str]] = {
    "Hoagland and Arnon, solution 2": (
        {"NO3": 14, "NH4": 1, "P": 1, "K": 6, "Ca": 4, "Mg": 2, "S": 2},
        {"NH4H2PO4": 1, "KNO3": 6, "Ca(NO3)2": 4, "MgSO4": 2},
        "Calif. Agric. Exp. Stn. Circular 347 (1950)",
    ),
    "Steiner, universal solution": (
        {"NO3": 12, "P": 1, "K": 7, "Ca": 4.5, "Mg": 2, "S": 3.5},
        {"KH2PO4": 1, "KNO3": 3, "Ca(NO3)2": 4.5, "MgSO4": 2, "K2SO4": 1.5},
        "Steiner 1984 as tabled by Trejo-Tellez and Gomez-Merino 2012 (from memory)",
    ),
    "Sonneveld and Straver, tomato on rockwool": (
        {"NO3": 16, "NH4": 1.2, "P": 1.5, "K": 9.5, "Ca": 5.4, "Mg": 2.4, "S": 4.4},
        {
            **{"KH2PO4": 1.5, "KNO3": 4.0, "Ca(NO3)2": 5.4, "MgSO4": 2.4, "K2SO4": 2.0},
            "NH4NO3": 1.2,
        },
        "Naaldwijk series 8, 10th ed. (1994), mmol/L from memory",
    ),
}


def asked(ions: dict[str, float], salts: dict[str, float]) -> dict[str, Any]:
    """A recipe of these salts in pure water, with the ions as targets in mmol/L."""
    rest = 12 - len(salts)
    blank: list[Any] = [None] * rest
    return PURE | {
        "products": [*(SALTS[salt] for salt in salts), *blank],
        "tanks": [*("A" if salt.startswith("Ca") else "B" for salt in salts), *["A"] * rest],
        "amounts": [None] * 12,
        "targets": [ions.get(element) for element in TARGETS],
        "target_units": ["mmol/L"] * len(TARGETS),
        "target_alkalinity": None,
        "form_targets": [ions["NO3"], ions.get("NH4")],
        "form_target_units": ["mmol/L"] * 2,
    }


def grams(salt: str, mmol: float) -> float:
    """For a tank of 100 L at 1:100."""
    return mmol / 1000 * float(look_up("fertilizers", "molar_mass", SALTS[salt])) * FEED


def line(*products: tuple[str, float], **others: Any) -> dict[str, Any]:
    """Grams of products for a tank of pure water, no targets."""
    rest: list[Any] = [None] * (12 - len(products))
    names, amounts = zip(*products, strict=True)
    return {
        **PURE,
        **NO_TARGETS,
        "products": [*names, *rest],
        "tanks": ["A"] * 12,
        "amounts": [*amounts, *rest],
        "amount_units": ["g"] * 12,
        **others,
    }


# targets by form


@pytest.mark.parametrize("title", PUBLISHED)
def test_published_nitrate_and_ammonium_give_the_published_salts(title: str) -> None:
    """Total nitrogen stays blank: the forms alone decide how much of which salt."""
    ions, salts, _ = PUBLISHED[title]
    found = evaluate(PLAN, asked(ions, salts))
    for k, (salt, mmol) in enumerate(salts.items()):
        assert found[f"worked_amounts[{k}]"] == pytest.approx(grams(salt, mmol), rel=2e-3), salt
    assert found["form_together[0]"] == pytest.approx(ions["NO3"] * N, rel=3e-3)
    assert found["form_together[1]"] == pytest.approx(ions.get("NH4", 0.0) * N, rel=3e-3)
    share = 100 * ions["NO3"] / (ions["NO3"] + ions.get("NH4", 0.0))
    assert found["nitrogen_shares[0]"] == pytest.approx(share, rel=1e-3)
    assert str(found["nitrogen_forms"]).startswith("pass")
    assert found["met[0]"] == "no target"


def test_a_published_share_of_ammonium_beside_total_nitrogen() -> None:
    """Naaldwijk series 8 for tomato: 1.2 of 17.2 mmol/L of nitrogen is ammonium, 6.98 %."""
    ions, salts, _ = PUBLISHED["Sonneveld and Straver, tomato on rockwool"]
    settings = asked(ions, salts)
    settings["targets"] = [17.2, *settings["targets"][1:]]
    settings |= {"form_targets": [None, 120 / 17.2], "form_target_units": ["ppm", "% of N"]}
    found = evaluate(PLAN, settings)
    for k, (salt, mmol) in enumerate(salts.items()):
        assert found[f"worked_amounts[{k}]"] == pytest.approx(grams(salt, mmol), rel=2e-3), salt
    assert found["form_wanted[1]"] == pytest.approx(1.2 * N, rel=1e-6)
    assert found["nitrogen_shares[1]"] == pytest.approx(120 / 17.2, rel=2e-3)


def test_random_recipes_with_forms_come_as_near_as_least_squares() -> None:
    """``scipy.optimize.nnls`` with two more rows, from the data table by this file's arithmetic."""
    draw = random.Random(7)
    keys = [f"worked_amounts[{k}]" for k in range(12)]
    gaps = []
    for _ in range(80):
        case = random_case(draw)
        goals = [draw.uniform(60, 220), draw.uniform(3, 40)]
        amounts = chosen_values(PLAN, case.entries | {"form_targets": goals, **PPM}, keys)
        brought, left = _forms(case, goals)
        matrix, goal = case.system()
        free = brought[:, case.free]
        whole, ends = np.vstack([matrix, free]), np.concatenate([goal, left])
        least = nnls(whole, ends)[1]
        grams = np.array(grams_of(amounts, len(case.products)))[case.free] / FEED
        gaps.append(float(np.linalg.norm(ends - whole @ grams)) - least)
    assert min(gaps) > -1e-9
    assert max(gaps) < 0.003, sorted(gaps)[-5:]


PPM = {"form_target_units": ["ppm", "ppm"]}


def _forms(case: Case, goals: list[float]) -> tuple[np.ndarray, np.ndarray]:
    """Shares that 1 g in a litre brings, and what water and fixed products leave."""
    columns = ("n_nitrate", "n_ammonium")
    brought = np.array(
        [
            [10 * float(look_up("fertilizers", column, each)) / goal for each in case.products]
            for column, goal in zip(columns, goals, strict=True)
        ]
    )
    fixed = np.array([amount or 0.0 for amount in case.fixed]) / FEED
    return brought, 1 - np.array([case.water[0], 0.0]) / goals - brought @ fixed


def test_a_form_that_no_product_brings_alone_says_so() -> None:
    found = evaluate(
        PLAN,
        NO_TARGETS
        | PURE
        | {
            "products": ["monoammonium phosphate", *[None] * 11],
            "targets": [None, 5.0, *[None] * 13],
            "form_targets": [None, 40],
            "form_target_units": ["ppm", "ppm"],
        },
    )
    assert "no product brings NH4-N without P" in str(found["nitrogen_forms"])
    assert str(found["form_met[1]"]).startswith("stop: ")


@pytest.mark.parametrize(
    ("forms", "units", "words"),
    [
        ([60, 50], ["% of N", "% of N"], "asked for are 215 ppm of N, the nitrogen 195"),
        ([190, 30], ["ppm", "ppm"], "asked for are 220 ppm of N, the nitrogen 195"),
        ([None, 150], ["ppm", "% of N"], "mend the target"),
        ([None, -3], ["ppm", "ppm"], "mend the target"),
        (["plenty", None], ["ppm", "ppm"], "mend the target"),
        ([10, None], ["acres", "ppm"], "mend the target"),
    ],
)
def test_what_cannot_be_asked_of_the_forms_is_a_stop(
    forms: list[Any], units: list[str], words: str
) -> None:
    found = evaluate(PLAN, {"form_targets": forms, "form_target_units": units})
    assert str(found["nitrogen_forms"]).startswith("stop: ")
    assert words in str(found["nitrogen_forms"])
    assert str(found["overall"]).startswith("stop: ")


def test_a_share_needs_a_target_of_nitrogen() -> None:
    targets = [None, *list(TARGETS.values())[1:]]
    found = evaluate(PLAN, {"targets": targets, "form_targets": [None, 10]})
    assert str(found["nitrogen_forms"]).startswith("stop: mend the target")


# limits of the shares


@pytest.mark.parametrize(
    ("limits", "opening"),
    [
        ([50, None, None], "pass"),
        ([52, None, None], "caution: 50 % of N is nitrate, less than 52; replace ammonium nitrate"),
        ([60, None, None], "stop: 50 % of N is nitrate, less than 60; "),
        ([None, 50, None], "pass"),
        ([None, 48, None], "caution: 50 % of N is ammonium, more than 48; replace ammonium nit"),
        ([None, 20, None], "stop: 50 % of N is ammonium, more than 20; "),
        ([None, None, 0], "pass"),
        ([None, None, None], "not used"),
        ([101, None, None], "stop: type a percent"),
        ([None, -1, None], "stop: type a percent"),
        ([None, None, "little"], "stop: type a percent"),
    ],
)
def test_limits_of_ammonium_nitrate(limits: list[Any], opening: str) -> None:
    """Of the two nitrogens of NH4NO3 one is nitrate, one ammonium: 50 % each."""
    found = evaluate(PLAN, line(("ammonium nitrate", 1000.0), nitrogen_limits=limits))
    assert found["nitrogen_shares[0]"] == pytest.approx(50, rel=1e-4)
    assert str(found["nitrogen_forms"]).startswith(opening)


def test_urea_and_the_water_count() -> None:
    """By hand: 1 kg of CO(NH2)2, 60.056 g/mol, in 10,000 L brings 46.65 mg/L of nitrogen; the
    water 10 as nitrate and 5 as ammonium."""
    urea = 100 * 2 * N / 60.056
    water = {"water_n": 10.0, "water_nh4": 5.0}
    settings = line(("urea", 1000.0), nitrogen_limits=[None, 5, 60], **water)
    found = evaluate(PLAN, settings)
    whole = urea + 15
    assert found["together[0]"] == pytest.approx(whole, rel=1e-4)
    shares = [found[f"nitrogen_shares[{i}]"] for i in range(3)]
    assert shares == pytest.approx([1000 / whole, 500 / whole, 100 * urea / whole], rel=1e-4)
    said = str(found["nitrogen_forms"])
    assert said == "stop: 8.1 % of N is ammonium, more than 5; the water brings it"
    assert str(found["limits_met[2]"]).startswith("stop: 75.7 % of N is urea, more than 60; repla")


def test_a_form_that_nobody_gave_is_never_a_pass() -> None:
    """A label with 20 % of nitrogen and no forms: any of it may be ammonium."""
    own = {"own_names": ["a bag", *[None] * 19], "own_total": [20.0, *[None] * 19]}
    for limits in ([90, None, None], [None, 10, None], [None, None, 10]):
        settings = line(("a bag", 1000.0), nitrogen_limits=limits, **own)
        found = evaluate(PLAN, settings)
        assert found["other_share"] == pytest.approx(100)
        assert str(found["nitrogen_forms"]).startswith("not checked: form of some nitrogen")
    # Were all of it ammonium, the limit would still be kept.
    settings = line(("a bag", 1.0), ("potassium nitrate", 5000.0), **own)
    found = evaluate(PLAN, settings | {"nitrogen_limits": [None, 10, None]})
    assert str(found["nitrogen_forms"]).startswith("pass")


def test_no_nitrogen_has_no_shares() -> None:
    found = evaluate(PLAN, line(("potassium sulfate", 100.0), nitrogen_limits=[90, 5, 5]))
    assert [found[f"nitrogen_shares[{i}]"] for i in range(3)] == ["", "", ""]
    assert found["nitrogen_forms"] == "not checked: no nitrogen arrives"


# tolerances


def test_each_line_has_its_tolerance() -> None:
    """Nitrogen 195.27 mg/L against a target of 180: 8.5 % over."""
    targets = [180.0, *typed_recipe()["targets"][1:]]
    typed = typed_recipe(targets=targets, amounts=[*typed_recipe()["amounts"][:11], 0.0])
    for own, opening in ((None, "pass: within 10 %"), (9, "pass: within 9 %"), (5, "caution: 8.5")):
        found = evaluate(PLAN, typed | {"tolerances": [own]})
        assert str(found["met[0]"]).startswith(opening)
    strict = evaluate(PLAN, typed | {"tolerance": 2.0, "tolerances": [10]})
    assert str(strict["met[0]"]) == "pass: within 10 %"
    assert str(strict["met[1]"]).startswith(("caution", "stop", "pass: within 2 %"))


def test_a_tolerance_of_the_alkalinity_and_of_a_form() -> None:
    tight = [None] * 15
    found = evaluate(PLAN, {"tolerances": [*tight, 0.01, 0.01, 0.01], "form_targets": [190, None]})
    assert not str(found["alkalinity_met"]).startswith("pass")
    assert not str(found["form_met[0]"]).startswith("pass")
    loose = evaluate(PLAN, {"form_targets": [190, None]})
    assert str(loose["alkalinity_met"]).startswith("pass")
    assert str(loose["form_met[0]"]).startswith("pass")


@pytest.mark.parametrize("typed", ["wide", 0, -5, 101])
def test_a_tolerance_that_is_none_is_a_stop(typed: Any) -> None:
    found = evaluate(PLAN, {"tolerances": [typed]})
    assert str(found["met[0]"]).startswith("stop: mend the tolerance")
    assert str(found["targets_check"]).startswith("stop: mend the tolerance of this line: N; ")
    assert str(found["met[1]"]).startswith("pass")
    assert str(found["overall"]).startswith("stop: ")


@pytest.mark.parametrize(
    ("rows", "said", "cure"),
    [
        (
            {"products": ["urea", "calcium nitrat", *[None] * 10]},
            "stop: 'calcium nitrat' is not in the list",
            "see My products",
        ),
        (
            {"products": ["urea", *[None] * 11], "tanks": ["Q", *["A"] * 11]},
            "stop: mend the tank, amount or unit of urea",
            "or leave its row blank",
        ),
    ],
)
def test_a_row_that_cannot_be_read_is_said_before_what_follows_from_it(
    rows: dict[str, Any], said: str, cure: str
) -> None:
    found = evaluate(PLAN, rows)
    assert found["products_check"] == f"{said}; {cure}"
    assert str(found["headline"]).startswith(said) and str(found["advice"]).startswith(cure)
    assert evaluate(PLAN, {})["products_check"] == "pass: every product can be read"
    nothing = evaluate(PLAN, {"products": [None] * 12})
    assert nothing["products_check"] == "not used: no product is chosen"
