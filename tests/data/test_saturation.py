"""saturation.csv against what it must be: a mass percent times a density that other books give."""

from __future__ import annotations

import pytest

from chemistry import Row, mass, rows_by, table

TEMPERATURES = (0, 10, 20, 30, 40)
COLUMNS = ["product", *(f"at_{each}" for each in TEMPERATURES), "basis", "source"]
ROWS = table("saturation")
HELD = rows_by("saturation", "product")
FERTILIZERS = rows_by("fertilizers", "product")
SALTS = rows_by("solubility", "salt")
# kg/L, IAPWS-95 (from memory).
WATER = {0: 0.9998, 10: 0.9997, 20: 0.9982, 30: 0.9957, 40: 0.9922}
# Sums of the columns. A changed sum is a changed figure: look at it, then change the number.
SUMS = {
    "at_0": 35493.7, "at_10": 37159.1, "at_20": 38723.2, "at_30": 40669.2, "at_40": 42479.9,
}  # fmt: skip
# The solid in equilibrium changes near 27 C, and the new one dissolves less as it warms.
FALLING = {"manganese sulfate monohydrate": (30, 40)}
# One figure for all temperatures.
FLAT = {row["product"] for row in ROWS if row["basis"].startswith(("cautious, one", "as deliv"))}
NO_FIGURE = {"calcium hypochlorite 65 %"}

# Density of the saturated solution in kg/L at 20 C, and how far off it may be.
# a) tables of densities of salt solutions by mass percent, naukowiec.org, table 403, between its
# lines: ammonium sulfate 40 % 1.228, 50 % 1.283; magnesium sulfate 24 % 1.270, 26 % 1.296.
# b) from memory: Seidell, Solubilities; CRC Handbook, concentrative properties of solutions.
DENSITIES = {
    "ammonium sulfate": (1.244, 0.004),  # a, 42.9 %
    "magnesium sulfate heptahydrate": (1.285, 0.003),  # a, 25.15 % of the anhydrous salt
    "potassium nitrate": (1.162, 0.005),  # b
    "ammonium nitrate": (1.3115, 0.005),  # b
    "potassium chloride": (1.174, 0.005),  # b
    "urea": (1.147, 0.005),  # b
    "potassium sulfate": (1.081, 0.005),  # b
    "monoammonium phosphate": (1.15, 0.01),  # b
    "potassium carbonate": (1.567, 0.01),  # b
}


def stock_density(product: str, celsius: int) -> float:
    """kg in 1 L of saturated stock: what the water of 1 L and its salt weigh, over the litres that
    they fill if each litre holds as much as this table says."""
    salt, held = (float(each[product][f"at_{celsius}"]) for each in (SALTS, HELD))
    return (salt + 1000 * WATER[celsius]) * held / salt / 1000


def test_columns_and_rows() -> None:
    assert list(ROWS[0]) == COLUMNS
    assert [row["product"] for row in ROWS] == list(FERTILIZERS)


def test_sums_are_pinned() -> None:
    found = {at: round(sum(float(row[at]) for row in ROWS), 1) for at in COLUMNS[1:6]}
    assert found == SUMS


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["product"])
def test_words_and_order(row: Row) -> None:
    figures = [float(row[f"at_{each}"]) for each in TEMPERATURES]
    product = row["product"]
    if product in NO_FIGURE:
        assert figures == [0] * 5 and row["basis"] == "no figure"
        return
    assert min(figures) > 0
    steps = zip(TEMPERATURES, TEMPERATURES[1:], figures, figures[1:], strict=False)
    falls = {(cold, warm) for cold, warm, low, high in steps if high <= low}
    if product in FLAT:
        assert len(set(figures)) == 1
    else:
        assert falls == ({FALLING[product]} if product in FALLING else set())


@pytest.mark.parametrize(
    "row", [row for row in FERTILIZERS.values() if row["kind"] in ("acid", "liquid")]
)
def test_a_liquid_is_full_at_its_own_density(row: Row) -> None:
    assert float(HELD[row["product"]]["at_10"]) == pytest.approx(1000 * float(row["density_kgL"]))


@pytest.mark.parametrize("salt", SALTS)
@pytest.mark.parametrize("celsius", TEMPERATURES)
def test_a_saturated_stock_has_a_likely_density(salt: str, celsius: int) -> None:
    # Heavier than water, lighter than calcium nitrate's crystals, 1.82 (from memory).
    assert WATER[celsius] < stock_density(salt, celsius) < 1.75


@pytest.mark.parametrize(("product", "published"), DENSITIES.items())
def test_densities_of_other_books(product: str, published: tuple[float, float]) -> None:
    figure, tolerance = published
    assert stock_density(product, 20) == pytest.approx(figure, rel=tolerance)


# A monohydrate dissolves and leaves the solution of the hydrate that settles.
@pytest.mark.parametrize(
    ("product", "settles", "monohydrate", "hydrate"),
    [
        (
            "magnesium sulfate monohydrate pure",
            "magnesium sulfate heptahydrate",
            "MgSO4.H2O",
            "MgSO4.7H2O",
        ),
        ("zinc sulfate monohydrate pure", "zinc sulfate heptahydrate", "ZnSO4.H2O", "ZnSO4.7H2O"),
    ],
)
def test_hydrates_hold_the_same_moles(
    product: str, settles: str, monohydrate: str, hydrate: str
) -> None:
    for celsius in TEMPERATURES:
        moles = float(HELD[product][f"at_{celsius}"]) / mass(monohydrate)
        other = float(HELD[settles][f"at_{celsius}"]) / mass(hydrate)
        assert moles == pytest.approx(other, rel=0.003)


@pytest.mark.parametrize("product", [name for name in HELD if f"{name} pure" in HELD])
def test_a_technical_product_is_held_to_the_pure_figure(product: str) -> None:
    for celsius in TEMPERATURES:
        assert HELD[product][f"at_{celsius}"] == HELD[f"{product} pure"][f"at_{celsius}"]


def test_the_two_figures_that_were_asked_for() -> None:
    """72 kg of magnesium sulfate heptahydrate do not go into 100 L at 20 C, 66 kg do; 100 L at 10 C
    hold 117 kg of calcium nitrate tetrahydrate, not 210. Worked out apart from this table, from
    Laliberte densities."""
    assert float(HELD["magnesium sulfate heptahydrate"]["at_20"]) == pytest.approx(660, rel=0.01)
    assert float(HELD["calcium nitrate tetrahydrate"]["at_10"]) == pytest.approx(1171, rel=0.002)


def test_a_figure_per_litre_of_water_shows() -> None:
    """The figure of the other table in this one's place gives a density that nothing has."""
    for product, (figure, tolerance) in DENSITIES.items():
        salt = float(SALTS[product]["at_20"])
        wrong = (salt + 998.2) / 1000
        assert wrong != pytest.approx(figure, rel=tolerance), product
