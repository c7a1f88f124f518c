"""solubility.csv against figures that are not its source.

The table gives grams of product as sold in one litre of added water; handbooks give grams of the
anhydrous salt in all the water there is. ``anhydrous`` turns the first into the second by counting
moles, so the water that crystals bring is checked too.
"""

from __future__ import annotations

import math

import pytest

from chemistry import mass, rows_by, table

TEMPERATURES = (0, 10, 20, 30, 40)
COLUMNS = ["salt", *(f"at_{each}" for each in TEMPERATURES), "basis", "source"]
# kg/L, IAPWS-95 (from memory).
WATER = {0: 0.9998, 10: 0.9997, 20: 0.9982, 30: 0.9957, 40: 0.9922}
ROWS = table("solubility")
SALTS = rows_by("solubility", "salt")
FERTILIZERS = rows_by("fertilizers", "product")
# The solid in equilibrium changes near 27 C, and the new one dissolves less as it warms.
FALLING = {"manganese sulfate monohydrate": (30, 40)}
# Crystals melt at 42.7 C: what dissolves runs away, and the table stops at this.
HELD = ("calcium nitrate tetrahydrate", 40, 10000)
# Sums of the columns. A changed sum is a changed figure: look at it, then change the number.
SUMS = {
    "at_0": 14387.2, "at_10": 17256.9, "at_20": 20691.7, "at_30": 26263.3, "at_40": 32793.5,
}  # fmt: skip
# Rises by 2 % over the whole range: no check can tell its columns apart.
FLAT = {"potassium carbonate"}

Series = dict[int, float]


def series(*values: float, start: int = 0) -> Series:
    return dict(zip(range(start, 50, 10), values, strict=False))


def as_sold(salt: str, celsius: int) -> float:
    """g of product in 1 kg of added water."""
    return float(SALTS[salt][f"at_{celsius}"]) / WATER[celsius]


def anhydrous(salt: str, celsius: int) -> float:
    """g of anhydrous salt in 100 g of water, the crystals' own water included."""
    # Of a product that is counted by its label the pure salt is a row of its own.
    row = FERTILIZERS.get(f"{salt} pure", FERTILIZERS[salt])
    dry, _, hydrate = row["formula"].partition(".")
    waters = int(hydrate.removesuffix("H2O") or 1) if hydrate else 0
    moles = as_sold(salt, celsius) / (mass(dry) + waters * mass("H2O"))
    return 100 * moles * mass(dry) / (1000 + moles * waters * mass("H2O"))


# g of anhydrous salt in 100 g of water, at 0, 10, 20, 30, 40 C unless a start is given.
# W: the encyclopaedia's solubility table (from CRC, Lange and others), copy at github
# HFerZHY/WikiSolubility-Project, WSdata.py. C: CRC Handbook 98th ed., molalities at 10 to 40 C,
# times the molar mass. N: IUPAC-NIST Solubility Database (SRD 106), system 66_22, ln x = A + B/T +
# C ln T. Sources differ by 3 to 5 %.
PUBLISHED: list[tuple[str, str, Series, float]] = [
    ("potassium nitrate", "W", series(13.3, 20.9, 31.6, 45.8, 63.9), 0.03),
    ("ammonium nitrate", "W", series(118, 150, 192, 242, 297), 0.03),
    ("ammonium sulfate", "W", series(70.6, 73, 75.4, 78.1, 81.2), 0.01),
    ("calcium nitrate tetrahydrate", "W", series(102, 115, 129, 152), 0.03),
    ("magnesium nitrate hexahydrate", "W", series(62.1, 66, 69.5, 73.6, 78.9), 0.015),
    ("potassium sulfate", "W", series(7.4, 9.3, 11.1, 13.0, 14.8), 0.04),
    ("potassium chloride", "W", series(28.0, 31.2, 34.2, 37.2, 40.1), 0.01),
    ("potassium carbonate", "C", series(107.2, 109.8, 113.2, 117.2, start=10), 0.01),
    ("potassium bicarbonate", "from memory", series(22.5, 27.4, 33.7, 39.9, 47.5), 0.045),
    ("monopotassium phosphate", "N", series(13.9, 17.7, 22.2, 27.5, 33.8), 0.045),
    ("monopotassium phosphate", "W at 10 to 40 C", series(18.3, 22.6, 28.0, 35.5, start=10), 0.05),
    ("monoammonium phosphate", "N", series(21.8, 28.5, 36.6, 46.0, 56.8), 0.025),
    ("diammonium phosphate", "N", series(57.6, 62.8, 68.5, 74.8, 81.7), 0.04),
    ("diammonium phosphate", "W at 10 to 40 C", series(62.9, 68.9, 75.1, 81.8, start=10), 0.04),
    ("sodium molybdate dihydrate", "W", series(44.1, 64.7, 65.3, 66.9, 68.6), 0.025),
    ("manganese sulfate monohydrate", "W", series(52.9, 59.7, 62.9, 62.9, 60), 0.015),
    ("zinc sulfate heptahydrate", "W", series(41.6, 47.2, 53.8, 61.3, 70.5), 0.015),
    # W lists the pentahydrate, to 100 g of all the water: 0.6392 of it is CuSO4.
    (
        "copper sulfate pentahydrate",
        "W",
        series(*(0.63923 * each for each in (23.1, 27.5, 32.0, 37.8, 44.6))),
        0.05,
    ),
    # Encyclopaedia article "Iron(II) sulfate", from another handbook than the table. W's own row
    # (28.8 at 20 C) is the heptahydrate's, moved to warmer columns.
    ("ferrous sulfate heptahydrate", "article", {0: 15.65, 10: 20.5, 40: 39.89}, 0.02),
    # W's row reads 2.52 to 8.08: those are percent by mass of the solution.
    (
        "boric acid",
        "W",
        series(*(100 * each / (100 - each) for each in (2.52, 3.49, 4.72, 6.23, 8.08))),
        0.04,
    ),
    # W's row is coarse, and of the anhydrous salt though it names the decahydrate.
    ("borax", "W at 20 to 40 C", series(2.5, 4, 6, start=20), 0.07),
    ("magnesium sulfate heptahydrate", "W at 20 to 40 C", series(35.1, 39.7, 44.7, start=20), 0.05),
]
POINTS = [
    (salt, source, celsius, value, tolerance)
    for salt, source, values, tolerance in PUBLISHED
    for celsius, value in values.items()
]

# Cold water (0 C), lb in 100 US gal as sold: Knott's Handbook for Vegetable Growers, 2nd ed.
# (1980). Left out where the figure is plainly of something else: diammonium phosphate 358 and
# urea 651 (out of line with N and with the eutectic below), borax 8 (half of any other figure),
# zinc sulfate 625 and ferrous sulfate 242 (the crystals' water not allowed for), manganese sulfate
# 876 (the tetrahydrate).
KNOTT = {
    "ammonium nitrate": 984,
    "ammonium sulfate": 592,
    "calcium nitrate 15.5-0-0": 851,
    "monoammonium phosphate": 192,
    "potassium nitrate": 108,
    "magnesium sulfate heptahydrate": 592,
    "sodium molybdate dihydrate": 467,
}


def test_columns_and_names() -> None:
    assert list(ROWS[0]) == COLUMNS
    assert len(ROWS) == len({row["salt"].lower() for row in ROWS}) == 22
    assert set(SALTS) <= set(FERTILIZERS)


def test_sums_are_pinned() -> None:
    found = {at: round(sum(float(row[at]) for row in ROWS), 1) for at in COLUMNS[1:6]}
    assert found == SUMS


@pytest.mark.parametrize("salt", SALTS)
def test_warmer_water_dissolves_more(salt: str) -> None:
    values = [float(SALTS[salt][f"at_{each}"]) for each in TEMPERATURES]
    falls = {
        (cold, warm)
        for cold, warm, low, high in zip(
            TEMPERATURES, TEMPERATURES[1:], values, values[1:], strict=False
        )
        if high <= low
    }
    assert falls == ({FALLING[salt]} if salt in FALLING else set())


@pytest.mark.parametrize(("salt", "source", "celsius", "value", "tolerance"), POINTS)
def test_published(salt: str, source: str, celsius: int, value: float, tolerance: float) -> None:
    assert anhydrous(salt, celsius) == pytest.approx(value, rel=tolerance), source


def test_every_salt_is_checked() -> None:
    elsewhere = {"urea", "calcium nitrate 15.5-0-0"}
    assert {salt for salt, *_ in PUBLISHED} | elsewhere == set(SALTS)


@pytest.mark.parametrize(("salt", "pounds"), KNOTT.items())
def test_extension_table_for_cold_water(salt: str, pounds: float) -> None:
    published = pounds * 453.59237 / (100 * 3.785411784)
    assert float(SALTS[salt]["at_0"]) == pytest.approx(published, rel=0.06)


# g/L, a fertigation table in wide use (its rows for potassium nitrate and chloride are at fault).
@pytest.mark.parametrize(("celsius", "published"), [(0, 1020), (10, 1130), (20, 1290)])
def test_calcium_nitrate_of_the_trade(celsius: int, published: float) -> None:
    value = float(SALTS["calcium nitrate 15.5-0-0"][f"at_{celsius}"])
    assert value == pytest.approx(published, rel=0.03)


@pytest.mark.parametrize("celsius", TEMPERATURES)
def test_the_cautious_figure_is_below_that_of_the_crystals(celsius: int) -> None:
    salts = ("calcium nitrate 15.5-0-0", "calcium nitrate tetrahydrate")
    trade, crystals = (float(SALTS[salt][f"at_{celsius}"]) for salt in salts)
    assert trade < 0.5 * crystals


def test_borax_of_a_saturated_solution() -> None:
    # 4.71 % decahydrate at 20 C, 4.52 % at 19 C (a maker's table quoted in a forum, apug.org).
    assert as_sold("borax", 20) == pytest.approx(1000 * 4.71 / (100 - 4.71), rel=0.02)


def test_urea_runs_down_to_its_eutectic() -> None:
    # ISO 22241: 32.5 % urea in water, which freezes at -11.5 C. The logarithm of what dissolves is
    # nearly straight against temperature, a little steeper in the cold. 105 g in 100 mL at 20 C is
    # another published figure (general article), 3 % below the table's.
    low, high = as_sold("urea", 0), as_sold("urea", 20)
    eutectic = math.exp(math.log(low) - 11.5 * math.log(high / low) / 20)
    assert 100 * eutectic / (1000 + eutectic) == pytest.approx(32.5, abs=1.5)
    assert high == pytest.approx(1050, rel=0.035)


def test_urea_without_a_kink() -> None:
    # 66.7, 85 and 134 g are recalled or interpolated: at least they lie on a smooth curve.
    logs = [math.log(as_sold("urea", each)) for each in TEMPERATURES]
    steps = [after - before for before, after in zip(logs, logs[1:], strict=False)]
    assert 0.20 < min(steps) and max(steps) < 0.25


def test_the_run_away_point_is_held() -> None:
    salt, celsius, limit = HELD
    assert float(SALTS[salt][f"at_{celsius}"]) == limit
    # The true figure is higher (W: 191 g of anhydrous salt in 100 g of water at 40 C).
    assert anhydrous(salt, celsius) < 191


def test_water_in_crystals_counts() -> None:
    # 35.1 g MgSO4 in 100 g of water is 71.9 g of heptahydrate without the crystals' own water:
    # a table that forgot it would be a third too low.
    forgotten = 351 * mass("MgSO4.7H2O") / mass("MgSO4")
    assert as_sold("magnesium sulfate heptahydrate", 20) > 1.4 * forgotten


@pytest.mark.parametrize(
    ("salt", "source", "values", "tolerance"),
    [case for case in PUBLISHED if case[0] not in FLAT],
    ids=lambda part: part if isinstance(part, str) else "",
)
def test_a_shifted_row_shows(salt: str, source: str, values: Series, tolerance: float) -> None:
    """A row moved by one column, as circulating tables have it, must not pass."""
    warmer = [anhydrous(salt, celsius) for celsius in values if celsius >= 10]
    moved = [value for celsius, value in values.items() if celsius + 10 in values]
    if len(moved) < 2:  # a series with gaps
        moved, warmer = [values[0]], [anhydrous(salt, 10)]
    assert any(
        ours != pytest.approx(value, rel=tolerance)
        for ours, value in zip(warmer[-len(moved) :], moved, strict=True)
    )


def test_flat_rows_are_few() -> None:
    assert len(FLAT) == 1 and FLAT <= set(SALTS)
