"""The published limits of irrigation water, typed a second time.

Crops and soil: Ayers and Westcot 1985, FAO Irrigation and Drainage Paper 29 rev. 1, table 1: "none"
below the first figure, "severe" beyond the second, with SAR and the EC that belongs to it. Looked
up in the copy of a review (PMC9128324, table 6), whose mg/L for chloride, sodium on leaves and
bicarbonate are me/L in the paper, as another copy shows: doi 10.1038/s41598-025-06884-z, table 1.
Drippers: Bucks, Nakayama and Gilbert 1979, Agric. Water Manage. 2:149-162, as FAO 29 reprints them.
"""

from __future__ import annotations

import pytest

from tanksheet.tables import rows

FAO_29 = {
    "salinity": (0.7, 3.0, "mS/cm"),
    "SAR": (3, 9, "ratio"),
    "chloride": (4, 10, "meq/L"),
    "overhead": (3, 3, "meq/L"),
    "boron": (0.7, 3.0, "mg/L"),
    "nitrate": (5, 30, "mg/L as N"),
    "bicarbonate": (1.5, 8.5, "meq/L"),
    "normal pH": (6.5, 8.4, "pH"),
    # Infiltration: severe below the first, none above the second.
    "EC at SAR 3": (0.2, 0.7, "mS/cm"),
    "EC at SAR 6": (0.3, 1.2, "mS/cm"),
    "EC at SAR 12": (0.5, 1.9, "mS/cm"),
    "EC at SAR 20": (1.3, 2.9, "mS/cm"),
    "EC at SAR 40": (2.9, 5.0, "mS/cm"),
}
DRIPPERS = {
    "dissolved solids": (500, 2000, "mg/L"),
    "suspended solids": (50, 100, "mg/L"),
    "iron": (0.1, 1.5, "mg/L"),
    "manganese": (0.1, 1.5, "mg/L"),
    "hydrogen sulfide": (0.5, 2.0, "mg/L"),
    "bacteria": (10_000, 50_000, "per mL"),
}
# USDA Agriculture Handbook 60 and Wilcox 1955, USDA Circular 969; saturation, and common practice.
OTHERS = {
    "residual alkalinity": (1.25, 2.5, "meq/L"),
    "calcite index": (0, 0.5, "index"),
}
TABLE = {str(row["factor"]): row for row in rows("water_limits")}


@pytest.mark.parametrize("factor", [*FAO_29, *DRIPPERS, *OTHERS])
def test_a_limit_is_the_published_one(factor: str) -> None:
    row = TABLE[factor]
    assert (row["low"], row["high"], row["unit"]) == (FAO_29 | DRIPPERS | OTHERS)[factor]


def test_no_limit_is_left_out() -> None:
    assert set(TABLE) == set(FAO_29 | DRIPPERS | OTHERS)
    for factor in FAO_29:
        assert "FAO Irrigation and Drainage Paper 29 rev. 1, table 1" in str(
            TABLE[factor]["source"]
        )
    for factor in DRIPPERS:
        assert "Bucks, Nakayama and Gilbert 1979" in str(TABLE[factor]["source"])


# mg/L as that other copy has them, which are the paper's me/L turned into mass. IUPAC weights.
@pytest.mark.parametrize(
    ("factor", "grams_per_equivalent", "low", "high"),
    [("chloride", 35.45, 140, 350), ("bicarbonate", 61.016, 91.5, 518.5)],
)
def test_the_limits_in_equivalents_are_those_printed_in_milligrams(
    factor: str, grams_per_equivalent: float, low: float, high: float
) -> None:
    row = TABLE[factor]
    assert float(row["low"]) * grams_per_equivalent == pytest.approx(low, rel=0.015)
    assert float(row["high"]) * grams_per_equivalent == pytest.approx(high, rel=0.015)
