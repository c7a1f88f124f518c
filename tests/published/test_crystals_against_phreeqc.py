"""FERT.CRYSTALSHARE against PHREEQC 3.8.6 in strong mixed solutions (``strong_solutions``).

Tanks by lot, of the salts that fertilizers are made of, at 5 to 30 degrees C. At the limits that
the function names (below 85 clear, from 120 it settles) there may be no tank that is called clear
and is supersaturated, and few that are called settling and are not. The function was fitted to
other tanks of the same kind, so this shows that it holds for tanks that it has not seen, not that
the parameters of the database are right. The unchanged pitzer.dat with its own minerals is the
second judge.
"""

from __future__ import annotations

import functools
import random
from dataclasses import dataclass

import pytest

from phreeqc_runs import run
from strong_solutions import (
    ELEMENTS,
    SALTS,
    activities,
    brought,
    indices,
    litres,
    mixed_share,
    number_of_ions,
    random_tank,
    saturated,
)
from tanksheet.definition import catalogue

CRYSTALSHARE = catalogue()["CRYSTALSHARE"].function
IONS = (*ELEMENTS, "urea", "borate")
TANKS, MINERAL_TANKS = 300, 150
CLEAR, SETTLES = 85, 120
SATURATED = 0.02
FALSE_STOPS = 0.05
WITH_CALCIUM = {
    "calcium nitrate tetrahydrate": 4, "potassium nitrate": 3, "ammonium nitrate": 3,
    "magnesium nitrate hexahydrate": 2, "potassium chloride": 1, "ammonium chloride": 0.5,
    "sodium nitrate": 0.5,
}  # fmt: skip
WITHOUT_CALCIUM = {
    "potassium nitrate": 3, "potassium sulfate": 3, "potassium chloride": 2,
    "monopotassium phosphate": 3, "monoammonium phosphate": 3, "diammonium phosphate": 1,
    "ammonium sulfate": 3, "ammonium nitrate": 2, "magnesium sulfate heptahydrate": 3,
    "magnesium nitrate hexahydrate": 1.5, "sodium nitrate": 0.5, "sodium chloride": 0.3,
    "ammonium chloride": 0.5, "potassium bicarbonate": 0.4,
}  # fmt: skip
# What pitzer.dat knows, and its minerals.
IN_PITZER = {
    "potassium chloride": 3, "potassium sulfate": 3, "magnesium sulfate heptahydrate": 3,
    "potassium magnesium sulfate hexahydrate": 2, "sodium chloride": 0.3,
}  # fmt: skip
MINERALS = (
    "Arcanite", "Sylvite", "Epsomite", "Halite", "Schoenite", "Leonite", "Bloedite", "Kainite",
    "Carnallite", "Mirabilite", "Hexahydrite",
)  # fmt: skip


@dataclass(frozen=True)
class Judged:
    """A tank: what the project says, PHREEQC's highest saturation index, and the mixed crystals."""

    share: float
    index: float
    nearest: str
    mixed: float
    words: str


def share(amounts: dict[str, float], celsius: float) -> float:
    """The project's answer for salts in mol/kg of water."""
    ions, filled = brought(amounts), litres(amounts, celsius)
    return float(CRYSTALSHARE(*(ions.get(ion, 0) / filled * 1000 for ion in IONS), celsius))


def judged(lot: random.Random) -> Judged:
    pool = WITH_CALCIUM if lot.random() < 0.25 else WITHOUT_CALCIUM
    celsius, amounts = random_tank(lot, pool)
    found = indices(amounts, celsius)
    nearest = max(found, key=lambda salt: found[salt] / number_of_ions(salt))
    words = f"{celsius} degC {amounts}"
    return Judged(share(amounts, celsius), found[nearest], nearest, mixed_share(found), words)


@functools.cache
def tanks() -> list[Judged]:
    lot = random.Random(41)
    return [judged(lot) for _ in range(TANKS)]


@pytest.mark.parametrize("ion", ELEMENTS)
def test_the_database_has_the_ion(ion: str) -> None:
    """``activities`` itself asserts that nothing was left out; so it must fail without the ion."""
    base = {"potassium": 1.0, "nitrate": 1.0}
    assert activities({**base, ion: 0.5}, 25) != activities(base, 25)


def test_no_false_pass() -> None:
    wrong = [each for each in tanks() if each.index > SATURATED and each.share < CLEAR]
    assert wrong == []
    mixed = [each for each in tanks() if each.mixed > 1.02 and each.share < CLEAR]
    assert mixed == []


def test_few_false_stops() -> None:
    clear = [each for each in tanks() if each.index < 0]
    wrong = [each for each in clear if each.share >= SETTLES]
    assert len(wrong) < FALSE_STOPS * len(clear), wrong


def test_tanks_of_all_kinds_were_drawn() -> None:
    settling = [each for each in tanks() if each.index > SATURATED]
    clear = [each for each in tanks() if each.index < 0]
    assert len(settling) > TANKS / 6 and len(clear) > TANKS / 3
    assert len({each.nearest for each in tanks()}) > len(SALTS) / 2
    assert sum(each.share < CLEAR for each in clear) > 0.6 * len(clear)


def test_fractions_of_single_solubilities_would_show() -> None:
    """Each salt by its own solubility, as if it were alone, passes tanks that settle."""
    lot, missed = random.Random(41), 0
    for each in tanks():
        pool = WITH_CALCIUM if lot.random() < 0.25 else WITHOUT_CALCIUM
        celsius, amounts = random_tank(lot, pool)
        alone = max(n / saturated(salt, celsius) for salt, n in amounts.items())
        missed += each.index > SATURATED and 100 * alone < CLEAR
    assert missed > TANKS / 20


@pytest.mark.parametrize("celsius", [5, 10, 15, 20, 25, 30])
@pytest.mark.parametrize("salt", SALTS)
def test_a_salt_alone(salt: str, celsius: float) -> None:
    """100 in its own saturated solution; from that of potassium magnesium sulfate even potassium
    sulfate settles, by PHREEQC as by the function."""
    amounts = {salt: saturated(salt, celsius)}
    found = share(amounts, celsius)
    if salt == "potassium magnesium sulfate hexahydrate" and celsius > 5:
        assert 95 <= found <= 115
        assert indices(amounts, celsius)["potassium sulfate"] > 0
    else:
        # Between 20 and 30 degrees C the decahydrate's solubility doubles, and a straight line
        # between the two figures lies above it.
        between = salt == "sodium sulfate decahydrate" and celsius == 25
        assert found == pytest.approx(100, abs=6 if between else 5)


def by_minerals(amounts: dict[str, float], celsius: float) -> float:
    """The highest index of the minerals in pitzer.dat as it comes with the library."""
    names = {"potassium": "K", "sodium": "Na", "magnesium": "Mg", "sulfate": "S(6)"}
    names["chloride"] = "Cl"
    lines = "".join(f" {names[ion]} {n!r}\n" for ion, n in brought(amounts).items())
    block = f"SOLUTION 1\n temp {celsius}\n units mol/kgw\n pH 7 charge\n{lines}"
    (found,) = run("pitzer.dat", block, {each: f'SI("{each}")' for each in MINERALS})
    return max(found.values())


def test_no_false_pass_by_the_minerals_of_pitzer() -> None:
    lot, settling, clear, stopped = random.Random(42), 0, 0, 0
    for _ in range(MINERAL_TANKS):
        celsius, amounts = random_tank(lot, IN_PITZER)
        index, found = by_minerals(amounts, celsius), share(amounts, celsius)
        assert found >= CLEAR or index <= SATURATED, (celsius, amounts, index, found)
        settling += index > SATURATED
        clear += index < 0
        stopped += index < 0 and found >= SETTLES
    assert settling > MINERAL_TANKS / 6 and clear > MINERAL_TANKS / 6
    assert stopped < FALSE_STOPS * clear


# kg in 100 L at 10 degrees C, by the molar masses of SALTS; mildest and strictest share.
KILOGRAMS: list[tuple[dict[str, float], float, float]] = [
    ({"potassium chloride": 20, "potassium sulfate": 6}, 120, 1000),
    ({"ammonium sulfate": 25, "potassium chloride": 20}, 120, 1000),
    ({"ammonium nitrate": 60, "potassium chloride": 20}, 120, 1000),
    ({"calcium nitrate tetrahydrate": 10, "potassium nitrate": 5}, 0, 85),
    ({"magnesium sulfate heptahydrate": 5, "monopotassium phosphate": 3,
      "potassium sulfate": 3, "potassium nitrate": 3}, 0, 85),
    ({"magnesium sulfate heptahydrate": 10, "monopotassium phosphate": 3,
      "potassium sulfate": 3, "potassium nitrate": 3}, 0, 85),
]  # fmt: skip


@pytest.mark.parametrize(("kilograms", "low", "high"), KILOGRAMS)
def test_tanks_by_the_kilogram(kilograms: dict[str, float], low: float, high: float) -> None:
    """PHREEQC says the same of each; the water is what the salts leave of the litre."""
    molar = {salt: 10 * kg / SALTS[salt].mass for salt, kg in kilograms.items()}
    room = sum(n * SALTS[salt].volume for salt, n in molar.items()) / 1000
    found = indices({salt: n / (1 - room) for salt, n in molar.items()}, 10)
    assert (max(found.values()) > SATURATED) is (low >= 120)
    ions = {ion: 1000 * n for ion, n in brought(molar).items()}
    assert low <= CRYSTALSHARE(*(ions.get(ion, 0) for ion in IONS), 10) < high
