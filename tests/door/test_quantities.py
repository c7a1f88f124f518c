"""Quantities of pint: what fits is converted as pint converts it, what does not is refused."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any, TypeAlias

import numpy as np
import pandas as pd
import pint
import polars as pl
import pytest

import tanksheet as ts
from tanksheet.definition import Calculation
from tanksheet.errors import NotANumber, NotListed
from tanksheet.units import Celsius, Quantity

Registry: TypeAlias = "pint.UnitRegistry[Any]"
UNITS: Registry = pint.UnitRegistry()
Q = UNITS.Quantity
RECORDS = list(ts.catalogue().values())
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
# Pint's own conversions, by the unit of the glossary: another unit of the kind.
OTHERS = {
    "L": "gallon",
    "mL": "fluid_ounce",
    "g": "pound",
    "kg": "pound",
    "mg/L": "ounce/gallon",
    "mmol/L": "mol/m^3",
    "meq/L": "mol/m^3",
    "kg/L": "pound/gallon",
    "g/L": "pound/gallon",
    "L/min": "m^3/hour",
    "L/h": "gallon/day",
    "s": "hour",
    "min": "hour",
    "h": "day",
    "kPa": "psi",
    "m": "foot",
    "mm": "inch",
    "kg/ha": "pound/acre",
    "L/ha": "gallon/acre",
    "ha": "acre",
    "m/s": "foot/hour",
    "m2/s": "foot^2/hour",
    "mPa s": "pound/foot/hour",
    "days": "week",
    "mS/cm": "uS/mm",
    "degC": "degF",
    "%": "dimensionless",
}


def door(record: Calculation) -> Callable[..., Any]:
    function: Callable[..., Any] = getattr(ts, record.body.__name__)
    return function


def unit_of(entry: Any) -> str:
    return "degC" if entry.alias is Celsius else str(entry.unit.pint)


def as_quantity(entry: Quantity, value: Any, other: bool = False) -> Any:
    """A number of the example as a quantity, in the glossary's unit or another one."""
    if entry.is_word or entry.is_readings:
        return value
    quantity = Q(float(value), unit_of(entry))
    return (
        quantity.to(OTHERS[entry.unit.symbol])
        if other and unit_of(entry) != "dimensionless"
        else quantity
    )


@EACH
@pytest.mark.parametrize("other", [False, True], ids=["own unit", "another unit"])
def test_any_unit_of_the_kind(record: Calculation, other: bool) -> None:
    arguments, _ = record.example
    plain = record.function(*arguments)
    given = [
        as_quantity(entry, value, other)
        for entry, value in zip(record.parameters.values(), arguments, strict=True)
    ]
    if isinstance(given[0], list):  # readings
        given[0] = Q(given[0], "mL")
    if not any(isinstance(each, pint.Quantity) for each in given):
        assert record.name == "UNITFACTOR", "only words"
        return
    result = door(record)(*given)
    assert isinstance(result, pint.Quantity)
    unit = "mL" if record.unit.symbol == "" and record.name == "MEAN" else record.unit.pint
    assert result.units == UNITS.Unit(unit)
    assert result.magnitude == pytest.approx(plain, rel=1e-9)


@EACH
def test_a_wrong_dimension_is_refused_and_named(record: Calculation) -> None:
    for at, (name, entry) in enumerate(record.parameters.items()):
        if entry.is_readings:
            continue
        arguments = list(record.example[0])
        arguments[at] = Q(3, "lumen")
        with pytest.raises(NotListed if entry.is_word else NotANumber) as refused:
            door(record)(*arguments, errors="nan")
        said = str(refused.value)
        assert said.startswith(f"{record.body.__name__}: {name} is 3 lumen; it must be ")
        assert "\n" not in said and entry.allowed in said


def test_no_parameter_is_left_out_of_the_table() -> None:
    symbols = {
        entry.unit.symbol
        for record in RECORDS
        for entry in record.parameters.values()
        if not entry.is_word and unit_of(entry) != "dimensionless"
    }
    assert symbols <= set(OTHERS)


# By hand: the definitions of the units are NIST SP 811's, as pint holds them.


def test_ppm_in_water_is_mg_per_litre() -> None:
    """1 mg in a litre that weighs 1 kg; trade usage, no source needed beyond the arithmetic."""
    assert ts.stock_mass(Q(150, "ppm"), 15.5, 100, 200) == Q(
        ts.stock_mass(150, 15.5, 100, 200), "g"
    )
    own: Registry = pint.UnitRegistry()
    own.define("ppm = milligram / liter")
    result = ts.stock_mass(own.Quantity(150, "ppm"), 15.5, 100, 200)
    assert result.magnitude == pytest.approx(ts.stock_mass(150, 15.5, 100, 200))
    with pytest.raises(NotANumber, match="target is 1 percent; it must be in mg/L, ppm or another"):
        ts.stock_mass(Q(1, "percent"), 15.5, 100, 200)
    with pytest.raises(NotANumber, match="target is 150 dimensionless"):
        ts.stock_mass(Q(150), 15.5, 100, 200)
    with pytest.raises(NotANumber, match="tank is 5 ppm; it must be in L or another unit"):
        ts.stock_mass(150, 15.5, 100, Q(5, "ppm"))


def test_shares() -> None:
    assert ts.stock_mass(150, Q(15.5, "percent"), 100, 200).units == UNITS.gram
    for content in (Q(155, "g/kg"), Q(0.155), Q(155_000, "ppm")):
        result = ts.stock_mass(150, content, 100, 200)
        assert result.magnitude == pytest.approx(ts.stock_mass(150, 15.5, 100, 200))
    assert ts.percent_injected(Q(128)) == Q(0.78125, "percent")
    with pytest.raises(
        NotANumber, match=r"ratio is 1 percent; it must be a plain number \(parts\)"
    ):
        ts.stock_mass(150, 15.5, Q(1, "percent"), 200)


def test_temperatures() -> None:
    """68 F is 20 C is 293.15 K, by definition."""
    wanted = ts.conductivity_at_25(1.273, 20)
    for warm in (Q(20, "degC"), Q(68, "degF"), Q(293.15, "kelvin")):
        result = ts.conductivity_at_25(1.273, warm)
        assert result.units == UNITS.Unit("mS/cm")
        assert result.magnitude == pytest.approx(wanted, rel=1e-12)
    with pytest.raises(NotANumber, match="celsius is 20 delta_degree_Celsius; it must be in degC"):
        ts.conductivity_at_25(1.273, Q(20, "delta_degC"))


def test_plain_numbers_among_them_are_in_the_unit_of_the_glossary() -> None:
    assert ts.packs(Q(1, "tonne"), 25) == Q(40.0, "")
    assert ts.packs(1000, Q(25_000, "g")) == Q(40.0, "")


def test_columns_of_quantities() -> None:
    tanks = Q(np.array([50.0, 100.0]), "gallon")
    result = ts.stock_mass(150, 15.5, 100, tanks)
    assert result.units == UNITS.gram
    assert result.magnitude == pytest.approx([18316.5086, 36633.0173])  # 2,419.35 g/L / 25 by hand
    mixed = ts.stock_mass(150, 15.5, 100, [Q(50, "gallon"), 200])
    assert mixed.magnitude.tolist() == pytest.approx([18316.5086, 19354.8387])
    with pytest.raises(ValueError, match=r"^row 1: stock_mass: tank is -378\.5"):
        ts.stock_mass(150, 15.5, 100, Q(np.array([50.0, -100.0]), "gallon"))
    bad = ts.stock_mass(150, 15.5, 100, Q(np.array([50.0, -100.0]), "gallon"), errors="nan")
    assert np.isnan(bad.magnitude).tolist() == [False, True]
    with pytest.raises(NotANumber, match="tank is a column in gram; it must be in L"):
        ts.stock_mass(150, 15.5, 100, Q(np.array([50.0]), "g"))
    one = ts.stock_mass(150, 15.5, 100, Q(-1, "L"), errors="nan")
    assert one.units == UNITS.gram and np.isnan(one.magnitude)


def test_a_column_of_a_frame_carries_no_unit() -> None:
    tank = Q(50, "gallon")
    result = ts.stock_mass(pd.Series([150], index=["a"]), 15.5, 100, tank)
    assert isinstance(result, pd.Series)
    assert result["a"] == pytest.approx(18316.5086)
    result = ts.stock_mass(pl.Series([150]), 15.5, 100, tank)
    assert isinstance(result, pl.Series) and result[0] == pytest.approx(18316.5086)
    tricky = pd.Series({"magnitude": 100.0, "units": 128.0, "m_as": 1.0})
    assert ts.percent_injected(tricky).to_dict() == {"magnitude": 1, "units": 0.78125, "m_as": 100}


def test_any_registry() -> None:
    own: Registry = pint.UnitRegistry()
    own.define("bucket = 12 * liter")
    result = ts.bucket_flow(own.Quantity(2, "bucket"), Q(1, "minute"))
    assert result.magnitude == pytest.approx(24)
    assert result.units == own.Unit("L/min")
    decimal: Registry = pint.UnitRegistry(non_int_type=Decimal)
    assert float(ts.bucket_flow(decimal("12 L"), 60).magnitude) == pytest.approx(12)
    bare: Registry = pint.UnitRegistry(None)
    bare.define("meter = [length] = m")
    bare.define("fathom = 1.8288 * meter")
    with pytest.raises(NotANumber, match="head_loss: the result in kPa: .*not defined"):
        ts.head_loss(100, 50, bare.Quantity(3, "m"), 140)


# Readings have no unit of their own


def test_readings_in_any_one_unit() -> None:
    assert ts.uniformity(Q([1.9, 2.1, 2.0, 1.8], "mL"), "CU").units == UNITS.percent
    assert ts.mean_reading(Q(np.array([25.0, 35.0]), "s")) == Q(30.0, "s")
    assert ts.mean_reading([Q(30, "s"), Q(1, "minute"), None]) == Q(45.0, "s")
    rows = ts.mean_reading([[Q(30, "s"), Q(60, "s")], [Q(10, "s"), None]])
    assert rows.units == UNITS.second and rows.magnitude.tolist() == [45.0, 10.0]
    for odd in (3.0, Q(3, "L")):
        with pytest.raises(NotANumber, match="repeats has .*; every reading must be in second"):
            ts.mean_reading([Q(30, "s"), odd])


@pytest.mark.parametrize(
    "record",
    [r for r in RECORDS if any(e.is_readings for e in r.parameters.values())],
    ids=lambda record: record.name,
)
def test_a_result_over_readings_is_in_their_unit_or_free_of_it(record: Calculation) -> None:
    """What allows any unit: a thousandfold reading gives the same, or a thousandfold result."""
    arguments, _ = record.example
    large = [[1000 * v for v in each] if isinstance(each, list) else each for each in arguments]
    factor = 1000 if record.unit.symbol == "" else 1
    assert record.function(*large) == pytest.approx(factor * record.function(*arguments))
