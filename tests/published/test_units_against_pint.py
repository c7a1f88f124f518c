"""The unit table and FERT.CONVERT against pint, whose factors come from the definitions."""

from __future__ import annotations

import csv

import pint
import pytest

from tanksheet.definition import catalogue
from tanksheet.tables import DATA

CONVERT = catalogue()["CONVERT"].function
UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
TOLERANCE = 1e-9
# Units that pint has no word for: unit -> why it is left out here and what checks it instead.
WITHOUT_PINT: dict[str, str] = {}
# Two values fix a line, the third is there to see that it is one.
VALUES = (1.0, 37.5, 212.0)


def table() -> list[dict[str, str]]:
    with (DATA / "units.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


ROWS = table()
CHECKED = [row for row in ROWS if row["pint"]]
by_unit = pytest.mark.parametrize("row", CHECKED, ids=lambda row: row["unit"])


def base_of(kind: str) -> dict[str, str]:
    """The row of the kind's own unit: factor 1, offset 0, the first of them."""
    for row in ROWS:
        if row["kind"] == kind and float(row["factor"]) == 1 and float(row["offset"]) == 0:
            return row
    raise AssertionError(f"units.csv: kind {kind!r} has no unit with factor 1 and offset 0")


def by_pint(value: float, unit: str, base: str) -> float:
    """``value`` of one pint expression in another; both may hold a number, as 100*gallon."""
    if unit in ("degC", "degF"):
        return float(UNITS.Quantity(value, unit).to(base).magnitude)
    return float((value * UNITS.Quantity(unit) / UNITS.Quantity(base)).to("").magnitude)


@by_unit
def test_factor_and_offset(row: dict[str, str]) -> None:
    base = base_of(row["kind"])["pint"]
    factor, offset = float(row["factor"]), float(row["offset"])
    for value in VALUES:
        assert value * factor + offset == pytest.approx(
            by_pint(value, row["pint"], base), rel=TOLERANCE, abs=0
        )


@by_unit
def test_convert_to_and_from_the_base_unit(row: dict[str, str]) -> None:
    base = base_of(row["kind"])
    there = by_pint(37.5, row["pint"], base["pint"])
    assert CONVERT(37.5, row["unit"], base["unit"]) == pytest.approx(there, rel=TOLERANCE, abs=0)
    back = by_pint(37.5, base["pint"], row["pint"])
    assert CONVERT(37.5, base["unit"], row["unit"]) == pytest.approx(back, rel=TOLERANCE, abs=0)


def test_units_without_pint_are_named_here() -> None:
    left_out = {row["unit"] for row in ROWS if not row["pint"]}
    assert left_out == set(WITHOUT_PINT)


@by_unit
def test_a_wrong_factor_shows(row: dict[str, str]) -> None:
    wrong = float(row["factor"]) * (1 + 3 * TOLERANCE)
    base = base_of(row["kind"])["pint"]
    assert 212 * wrong + float(row["offset"]) != pytest.approx(
        by_pint(212, row["pint"], base), rel=TOLERANCE, abs=0
    )
