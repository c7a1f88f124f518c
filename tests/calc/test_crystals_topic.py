"""Salts that share an ion: edges, traces, what must not matter, refusals. The shares themselves are
held against PHREEQC elsewhere."""

from __future__ import annotations

import random

import pytest

from tanksheet.calc.crystals import crystal_share
from tanksheet.definition import catalogue
from tanksheet.errors import OutOfRange
from tanksheet.formula.lambdas import LONGEST_NAME, has_name, lambda_text

IONS = (
    "calcium", "magnesium", "potassium", "sodium", "ammonium", "nitrate", "sulfate", "chloride",
    "carbonate", "phosphate", "urea", "borate",
)  # fmt: skip


def share(celsius: float = 10, **ions: float) -> float:
    assert set(ions) <= set(IONS)
    given = [*(ions.get(ion, 0) for ion in IONS), celsius]
    return crystal_share(*given)


def test_plain_water_is_empty() -> None:
    assert share() == pytest.approx(0, abs=1e-9)


def test_traces_are_no_trouble() -> None:
    for ion in IONS:
        assert 0 <= share(**{ion: 1e-9}) < 1
    assert 0 < share(**dict.fromkeys(IONS, 1e-9)) < 1


def test_the_colder_the_nearer() -> None:
    found = [share(c, potassium=2000, nitrate=2000) for c in (0, 5, 10, 15, 20, 25, 30, 35, 40)]
    assert found == sorted(found, reverse=True) and found[0] > 120 > 85 > found[-1]


def test_the_more_the_nearer() -> None:
    for salt in (
        {"potassium": 1, "nitrate": 1},
        {"potassium": 2, "sulfate": 1},
        {"magnesium": 1, "sulfate": 1},
        {"ammonium": 1, "phosphate": 1},
        {"ammonium": 2, "phosphate": 1},
        {"calcium": 1, "nitrate": 2},
        {"urea": 1},
        {"borate": 1},
        {"sodium": 0.5, "borate": 1},
    ):
        found = [share(**{ion: n * many for ion, n in salt.items()}) for many in (30, 300, 3000)]
        assert 0 < found[0] < found[1] < found[2]


# Grams dissolved in a litre of water, density in kg/L, g/mol: urea by the encyclopaedia's table and
# boric acid and borax by the CRC Handbook; densities from memory, urea's by the CRC Handbook.
NEUTRAL = [
    (1080.0, 1.146, 20.0, {"urea": 1 / 60.056}),
    (850.0, 1.13, 10.0, {"urea": 1 / 60.056}),
    (50.0, 1.015, 20.0, {"borate": 1 / 61.831}),
    (37.0, 1.01, 10.0, {"borate": 1 / 61.831}),
    (49.7, 1.024, 20.0, {"sodium": 2 / 381.363, "borate": 4 / 381.363}),
    (33.5, 1.016, 10.0, {"sodium": 2 / 381.363, "borate": 4 / 381.363}),
]


@pytest.mark.parametrize(("grams", "density", "celsius", "ions"), NEUTRAL)
def test_saturated_urea_and_borates(
    grams: float, density: float, celsius: float, ions: dict[str, float]
) -> None:
    litres = (1000 + grams) / 1000 / density
    amounts = {ion: 1000 * n * grams / litres for ion, n in ions.items()}
    assert share(celsius, **amounts) == pytest.approx(100, abs=5)


# Percent of ammonium nitrate and urea, density in kg/L, and the temperature in degrees C at which
# it salts out: extension tables, from memory.
SALTING_OUT = [(44.3, 35.4, 1.325, -2), (40.0, 30.0, 1.279, -18)]


@pytest.mark.parametrize(("nitrate", "urea", "density", "below"), SALTING_OUT)
def test_urea_ammonium_nitrate_stays_liquid(
    nitrate: float, urea: float, density: float, below: float
) -> None:
    salt, neutral = (
        10 * percent * density / mass * 1000
        for percent, mass in ((nitrate, 80.043), (urea, 60.056))
    )
    found = [share(c, ammonium=salt, nitrate=salt, urea=neutral) for c in (0, 10, 20)]
    assert max(found) < 100.5
    assert found[0] > (90 if below > -5 else 70)


def test_acid_keeps_phosphate_from_potassium() -> None:
    """Phosphoric acid with a potassium salt is not all H2PO4-."""
    with_acid = share(potassium=1000, nitrate=1000, phosphate=2000)
    as_salt = share(potassium=2000, phosphate=2000)
    assert with_acid < as_salt / 1.5


def test_base_makes_hydrogen_phosphate() -> None:
    """Diammonium phosphate dissolves better than as much monoammonium phosphate."""
    assert share(ammonium=4000, phosphate=2000) < share(ammonium=2000, phosphate=2000)


def test_whatever_leaves_no_room_for_water_is_never_clear() -> None:
    lot, full = random.Random(5), 0
    for _ in range(2000):
        amounts = {ion: lot.choice([0, 100, 2000, 20000]) * lot.random() for ion in IONS}
        found = share(lot.uniform(0, 40), **amounts)
        if sum(amounts.values()) > 45000:
            full += 1
            assert found >= 85, amounts
    assert full > 300
    assert share(**dict.fromkeys(IONS, 20000.0)) > 120


def test_the_lambda_fits_a_defined_name() -> None:
    record = catalogue()["CRYSTALSHARE"]
    assert has_name(record) and len(lambda_text(record)) < LONGEST_NAME


@pytest.mark.parametrize(
    ("ion", "amount", "message"),
    [("calcium", -1, "calcium is -1"), ("urea", 20001, "urea is 20001")],
)
def test_refusals(ion: str, amount: float, message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        share(**{ion: amount})


def test_outside_the_table_of_temperatures() -> None:
    for celsius in (-0.1, 40.1):
        with pytest.raises(OutOfRange, match="table_celsius is"):
            share(celsius)
