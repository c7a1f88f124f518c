"""Calculations on pint's quantities: any fitting unit goes in, the calculation's unit comes out.

Each quantity is converted by its own registry, so a unit that the user defined counts. A plain
number among quantities is in the glossary's unit. pint is never imported here: a quantity shows
that it is loaded already.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.definition import Calculation
from tanksheet.door import functions
from tanksheet.errors import NotANumber, NotListed
from tanksheet.units import Celsius, GramPerL, MgPerL, Quantity, Unit

# Bodies take degrees as bare numbers, so the glossary gives them no dimension.
TEMPERATURE = "degC"
# A share of the weight of water: 1 ppm is 1 mg in 1 kg, and a litre weighs 1 kg.
WATER, IN_WATER = "kg/L", (MgPerL, GramPerL)
SHARES = ("ppm", "percent", "permille")


def answer(record: Calculation, given: Sequence[Any], errors: str) -> Any:
    """The calculation's result as a quantity of the first one's registry.

    A column of pandas or polars holds plain numbers only: with one among the arguments the result
    is such a column, in the calculation's unit.
    Raises: NotANumber for a quantity that does not fit, naming parameter, quantity and unit.
    """
    owner = record.body.__name__
    first = next(filter(functions.is_quantity, _flat(given)))
    bare = [
        _bare(f"{owner}: {name}", quantity, value)
        for (name, quantity), value in zip(record.parameters.items(), given, strict=True)
    ]
    result = functions.answer(record, bare, errors)
    if _is_of_a_frame(result):
        return result
    unit = _readings_unit(record, given) or _pint(record.returns, record.unit)
    try:
        return type(first)(result, unit)
    except Exception as problem:  # the user's registry may lack any unit
        raise NotANumber(f"{owner}: the result in {unit}: {_sentence(problem)}") from None


def _flat(values: Any) -> Any:
    for value in values:
        if isinstance(value, (list, tuple)):
            yield from _flat(value)
        else:
            yield value


def _is_of_a_frame(result: Any) -> bool:
    return type(result).__module__.partition(".")[0] in ("pandas", "polars")


def _pint(alias: Any, unit: Unit) -> str:
    return TEMPERATURE if alias is Celsius else unit.pint


def _bare(what: str, quantity: Quantity, value: Any) -> Any:
    """An argument as plain numbers in the glossary's unit; what is no quantity stays as it is."""
    if not functions.holds_quantity(value):
        return value
    if quantity.is_word:
        raise NotListed(f"{what} is {_came(value)}; it must be {quantity.allowed}")
    if quantity.is_readings:
        return _readings(what, value)
    if isinstance(value, (list, tuple)):
        return [_bare(what, quantity, each) for each in value]
    return _converted(what, quantity, value)


def _converted(what: str, quantity: Quantity, value: Any) -> Any:
    wanted = _pint(quantity.alias, quantity.unit)
    try:
        if str(value.units) == "ppm" and quantity.alias in IN_WATER:
            if value.check("[]"):  # a registry may well define it as mg/L
                value = value.to("dimensionless") * type(value)(1, WATER)
        elif str(value.units) in SHARES and wanted == "dimensionless":
            raise ValueError("1 percent is neither 0.01 parts nor a count")
        number = value.m_as(wanted)
        return number if hasattr(number, "__array__") else float(number)  # a Decimal, a Fraction
    except Exception:  # pint raises many kinds, and NumPy's own for magnitudes that are no numbers
        raise NotANumber(f"{what} is {_came(value)}; it must be {_wanted(quantity)}") from None


def _wanted(quantity: Quantity) -> str:
    symbol = quantity.unit.symbol
    if _pint(quantity.alias, quantity.unit) == "dimensionless":
        return f"a plain number{f' ({symbol})' if symbol else ''}, {quantity.allowed}"
    ppm = ", ppm" if quantity.alias in IN_WATER else ""
    return f"in {symbol}{ppm} or another unit of that kind, {quantity.allowed}"


def _came(value: Any) -> str:
    if isinstance(value, (list, tuple)):
        return "a list of quantities"
    return f"a column in {value.units}" if getattr(value.magnitude, "ndim", 0) else f"{value}"


# Readings: in any unit, as long as it is one; a mean is in that unit too.


def _readings(what: str, value: Any) -> Any:
    if not isinstance(value, (list, tuple)):
        return value.magnitude
    unit = next(filter(functions.is_quantity, _flat(value))).units
    return [None if each is None else _reading(what, each, unit) for each in value]


def _reading(what: str, value: Any, unit: Any) -> Any:
    if isinstance(value, (list, tuple)):
        return [None if each is None else _reading(what, each, unit) for each in value]
    try:
        return value.m_as(unit)
    except Exception:
        came = _came(value) if functions.is_quantity(value) else repr(value)
        raise NotANumber(f"{what} has {came}; every reading must be in {unit}") from None


def _readings_unit(record: Calculation, given: Sequence[Any]) -> Any:
    """The unit of the readings, for a result that has no unit of its own; None otherwise."""
    if record.unit.symbol:
        return None
    for quantity, value in zip(record.parameters.values(), given, strict=True):
        if quantity.is_readings and functions.holds_quantity(value):
            return next(filter(functions.is_quantity, _flat([value]))).units
    return None


def _sentence(problem: Exception) -> str:
    return " ".join(str(problem).split())
