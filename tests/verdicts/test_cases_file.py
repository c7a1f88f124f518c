"""The cases themselves: whole, of known products, and borne out by PHREEQC and by solubilities.

Nothing of the project's rules takes part but the list of product names. So a case that is wrong
shows here, before any verdict is compared with it.
"""

from __future__ import annotations

import functools
from collections import Counter
from pathlib import Path

import pytest

from case_files import FOLDER, TANK_COLUMNS, BadCase, Case, read, tank_cases, verdict_word
from chemistry import rows_by
from crystals_by_pitzer import crystals_in
from settling import Found, found_in
from tank_chemistry import FORMULAS, Tank, crystal_water, portions, water

CASES = {case.name: case for case in tank_cases()}
# Names that no list has, in the cases of unknown products.
UNKNOWN = ("plant tonic", "fish emulsion")
# Solids that a class is about.
SOLIDS_OF = {
    "calcium with sulfate": ("Gypsum",),
    "calcium with phosphate": ("CaHPO4:2H2O",),
    "carbonate with calcium or magnesium": ("Calcite", "Nesquehonite"),
    "carbonate with free metals": ("Rhodochrosite", "Smithsonite", "Siderite", "Cu(OH)2"),
    "magnesium with phosphate and ammonium": ("Struvite", "MgHPO4:3H2O"),
}
# Solids for which the databases are fit to say that nothing settles. Left out are magnesium
# phosphate, which minteq.v4.dat has at its limit in any acid tank of magnesium and phosphate, and
# silica, which stays up as a colloid in the alkali that dissolved it.
SURE = ("Gypsum", "Calcite", "CaHPO4:2H2O", "Struvite", "Siderite", "Rhodochrosite", "Smithsonite")
LITTLE = 0.1  # g/L that a filter holds back unseen: common practice, no source
SATURATED = rows_by("solubility", "salt")


@functools.cache
def tank(name: str) -> Tank:
    case = CASES[name]
    return Tank(
        portions(case["products"]),
        float(case["tank_L"]),
        float(case["temperature"]),
        water(case["water"]),
    )


@functools.cache
def found(name: str) -> Found:
    return found_in(tank(name))


def of_class(*classes: str) -> list[str]:
    return [name for name, case in CASES.items() if case["class"] in classes]


def settling(name: str, solids: tuple[str, ...], above: float = 0) -> list[str]:
    """Those of the solids that settle in more than a trace."""
    at = found(name)
    return [s for s in solids if at.indices.get(s, -9) > above and at.most[s] > LITTLE]


def test_there_are_enough_cases_of_every_class() -> None:
    count = Counter(case["class"] for case in CASES.values())
    assert len(CASES) == len(tank_cases()) >= 200
    assert min(count.values()) >= 3
    assert sum(count[name] for name in count if name.startswith("ordinary")) >= 40


def test_every_product_is_listed() -> None:
    listed = rows_by("fertilizers", "product")
    used = {each.product for name in CASES for each in tank(name).portions}
    assert used - set(listed) == set(UNKNOWN)
    assert set(listed) == set(FORMULAS)
    # Every product of the list has a case, whatever it is for.
    assert set(listed) - used == set()


def test_every_case_is_another() -> None:
    whole = Counter(
        (case["products"], case["temperature"], case["water"]) for case in CASES.values()
    )
    assert [each for each, times in whole.items() if times > 1] == []


@pytest.mark.parametrize("name", [n for c in SOLIDS_OF for n in of_class(c)])
def test_phreeqc_bears_out_what_settles(name: str) -> None:
    case = CASES[name]
    there = settling(name, SOLIDS_OF[case["class"]])
    assert bool(there) == (case["mildest"] != "pass") or not settling(name, SURE)
    if case["mildest"] != "pass":
        assert there


@pytest.mark.parametrize(
    "name", [n for n, case in CASES.items() if case["mildest"] == "pass" and "chlor" not in n]
)
def test_nothing_settles_where_a_pass_is_allowed(name: str) -> None:
    assert settling(name, SURE, above=0.1) == []


@pytest.mark.parametrize("name", of_class("alkali with ammonium"))
def test_phreeqc_finds_the_ammonia(name: str) -> None:
    grams = found(name).ammonia * 17.03 / 1000
    assert (grams > 0.6) == (CASES[name]["mildest"] != "pass")
    assert grams > 1 or CASES[name]["mildest"] != "stop"


def alone_with_a_figure() -> list[str]:
    """Cases of one product whose solubility is published."""
    return [
        name
        for name in of_class("more than dissolves")
        if [each.product in SATURATED for each in tank(name).portions] == [True]
    ]


def test_most_of_what_dissolves_has_a_published_figure() -> None:
    assert len(alone_with_a_figure()) > 0.8 * len(of_class("more than dissolves"))


@pytest.mark.parametrize("name", alone_with_a_figure())
def test_published_solubility_bears_out_what_dissolves(name: str) -> None:
    """Grams to each litre of added water against the handbook's; crystal water is not added."""
    (portion,) = tank(name).portions
    low = 10 * int(tank(name).celsius // 10)
    high = min(low + 10, 40)
    part = (tank(name).celsius - low) / 10
    row = SATURATED[portion.product]
    limit = float(row[f"at_{low}"]) * (1 - part) + float(row[f"at_{high}"]) * part
    share = portion.grams / tank(name).litres / max(added_water(tank(name)), 0.01) / limit
    assert (share > 1.0) == (CASES[name]["mildest"] == "stop") or 0.85 < share < 1.1
    assert share < 0.9 or CASES[name]["mildest"] != "pass"


@pytest.mark.parametrize("name", of_class("salts that share an ion"))
def test_pitzer_s_equations_bear_out_what_crystallizes(name: str) -> None:
    """A margin of 0.1 in the index: what the parameters at 25 degrees C may be off at others."""
    nearest = max(crystals_in(tank(name)).values())
    assert nearest > 0.1 if CASES[name]["mildest"] != "pass" else nearest < -0.2
    assert nearest > 0.3 or CASES[name]["mildest"] != "stop"


@pytest.mark.parametrize("name", of_class("ordinary", "ordinary, published"))
def test_nothing_crystallizes_from_an_ordinary_tank(name: str) -> None:
    assert max(crystals_in(tank(name)).values(), default=-9) < -0.2


def added_water(of: Tank) -> float:
    """Litres of water to be added for a litre of stock: what is there less the crystals' own."""
    return of.water_kg - crystal_water(of)


def test_a_case_that_allows_every_verdict_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "some.csv"
    row = "x,urea 1 kg,100,10,,pass,stop,some,some"
    path.write_text(",".join(TANK_COLUMNS) + f"\n{row}\n", encoding="utf-8")
    with pytest.raises(BadCase, match="line 2: it allows every verdict"):
        read(path, TANK_COLUMNS)
    path.write_text(",".join(TANK_COLUMNS) + f"\n{row.replace('stop', 'fine')}\n", "utf-8")
    with pytest.raises(BadCase, match="line 2: worst is 'fine'"):
        read(path, TANK_COLUMNS)


def test_words_of_a_verdict() -> None:
    assert verdict_word("stop: calcium of 1 meets sulfate of 2") == "stop"
    assert verdict_word("not checked: pH") == "not checked"
    with pytest.raises(ValueError, match="begins with none"):
        verdict_word("#N/A")
    case = Case({"mildest": "caution", "worst": "stop"}, "here")
    assert case.allowed == ("caution", "stop")


def test_files_are_where_they_are_read() -> None:
    assert (FOLDER / "compatibility.csv").is_file()
