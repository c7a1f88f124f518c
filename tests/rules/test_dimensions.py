"""Every calculation, run with pint's quantities, comes out in the dimension that it promises.

The bodies run as they stand, with the words of ``subset`` exchanged for twins that accept
quantities, and with the bodies of other calculations in the place of their checked functions (the
checks ask for plain numbers). Numbers such as the 10 in ``content * 10`` carry no unit, so what is
tested is dimensions, not sizes.

Percent, parts, counts and money are dimensionless here. A word picks a branch, so every listed
word is tried. CONVERT and UNITFACTOR take and give plain numbers whose unit is a word, so their
dimension holds trivially; that their factors are right is tested against pint in tests/published.
"""

from __future__ import annotations

import itertools
import math
import types
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pint
import pytest

from tanksheet import catalogue, subset, tables
from tanksheet.definition import Calculation, of
from tanksheet.units import (
    QUANTITIES,
    Gram,
    KgPerL,
    Litre,
    MgPerL,
    Number,
    Percent,
    unit_of,
)

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
# Their constants carry units of their own: fitted to measurements, or molar masses of a table. The
# reason is in the record.
EMPIRICAL = {
    "ACIDDOSE",
    "ACIDNEED",
    "ACIDVOLUME",
    "ALKALINITY",
    "CALCITEINDEX",
    "CHLORINERATE",
    "CHLORINEVOLUME",
    "CRYSTALSHARE",
    "DISPERSION",
    "FRONTSPREAD",
    "EC",
    "FEEDEC",
    "FEEDPH",
    "GYPSUM",
    "LIFTLIMIT",
    "GYPSUMINDEX",
    "HARDNESS",
    "HEADLOSS",
    "NARROWLOSS",
    "PRESSURELEFT",
    "IONELEMENT",
    "IONMMOL",
    "MESHOPENING",
    "MIXINGLENGTH",
    "PHOSPHATEINDEX",
    "PHOSPHATESETTLING",
    "SAR",
    "SERVICEDAYS",
    "SATURATION",
    "SOLUBILITY",
    "STRUVITE",
    "STRUVITEINDEX",
    "WATERLEFT",
}


def plain(value: Any) -> float:
    """The number behind a dimensionless quantity; anything else is an error."""
    return float(UNITS.Quantity(value).to("dimensionless").magnitude)


def total(values: list[Any]) -> Any:
    return sum(values[1:], values[0])


def mean(values: list[Any]) -> Any:
    return total(values) / len(values)


def deviation(values: list[Any]) -> Any:
    return mean([abs(value - mean(values)) for value in values])


TWINS: dict[str, Callable[..., Any]] = {
    "sqrt": lambda value: value**0.5,
    "exp": lambda value: math.exp(plain(value)),
    "log": lambda value: math.log(plain(value)),
    "log10": lambda value: math.log10(plain(value)),
    "power": lambda base, exponent: base ** plain(exponent),
    "ceil": lambda value: math.ceil(plain(value)),
    "floor": lambda value: math.floor(plain(value)),
    "rounded": lambda value, digits: round(value, digits),
    "shown": lambda value, digits: "shown",
    "number_held": lambda value: value,
    "without_unit": lambda value, unit: value,
    "is_number": lambda value: not isinstance(value, str),
    "count": len,
    "mean": mean,
    "mean_deviation": deviation,
    "standard_deviation": deviation,
    "lowest_total": lambda values, how_many: total(values[: int(how_many)]),
    "check": lambda condition, message, fault=None: bool(condition),
}
EXCHANGED = {getattr(subset, name): twin for name, twin in TWINS.items()}
# A table is searched for a number, too, such as a mesh: by the number alone.
EXCHANGED[tables.look_up] = lambda table, column, key: tables.look_up(
    table, column, key if isinstance(key, str) else plain(key)
)


def rebuilt(function: Callable[..., Any]) -> Callable[..., Any]:
    """A body whose words accept quantities and whose calculations run unchecked."""
    world: dict[str, Any] = dict(function.__globals__)
    for name in function.__code__.co_names:
        thing = world.get(name)
        record = of(thing) if callable(thing) else None
        if record:
            world[name] = rebuilt(record.body)
        elif callable(thing) and getattr(thing, "helper", False):
            world[name] = rebuilt(thing)
        elif isinstance(thing, types.FunctionType) and thing in EXCHANGED:
            world[name] = EXCHANGED[thing]
    code = function.__code__
    return types.FunctionType(code, world, code.co_name, None, function.__closure__)


def arguments_of(record: Calculation) -> Iterator[list[Any]]:
    """The example's arguments as quantities, once for each combination of listed words."""
    choices: list[list[Any]] = []
    for entry, value in zip(record.parameters.values(), record.example[0], strict=True):
        if entry.is_word:
            choices.append(list(entry.words) or [value])
        elif entry.is_readings:
            choices.append([[UNITS.Quantity(float(v), entry.unit.pint) for v in value]])
        else:
            choices.append([UNITS.Quantity(float(value), entry.unit.pint)])
    return map(list, itertools.product(*choices))


def wrong_dimensions(record: Calculation) -> list[str]:
    """What is wrong with the dimensions of a calculation, if anything."""
    wanted = UNITS.Quantity(1, unit_of(record.returns).pint).dimensionality
    complaints = []
    for arguments in arguments_of(record):
        try:
            result = rebuilt(record.body)(*arguments)
        except pint.DimensionalityError as problem:
            complaints.append(f"{record.name}: {problem}")
            continue
        got = UNITS.Quantity(result).dimensionality
        if got != wanted:
            complaints.append(f"{record.name}: the result is {got}, the signature says {wanted}")
    return complaints


@pytest.mark.parametrize(
    "record",
    [record for record in catalogue().values() if not record.empirical],
    ids=lambda record: record.name,
)
def test_dimensions(record: Calculation) -> None:
    assert wrong_dimensions(record) == []


def test_exceptions_are_these_and_say_why(record_property: Callable[[str, object], None]) -> None:
    found = {record.name: record.empirical for record in catalogue().values() if record.empirical}
    for name, reason in found.items():
        print(f"excepted from dimensions: {name}: {reason}")
    record_property("excepted from dimensions", ", ".join(found))
    assert set(found) == EMPIRICAL
    assert all(len(reason) > 20 for reason in found.values())


def test_exceptions_are_needed() -> None:
    for name in EMPIRICAL:
        assert wrong_dimensions(catalogue()[name]), f"{name} works out; except it no longer"


def test_units_of_the_glossary_are_known() -> None:
    for name, entry in QUANTITIES.items():
        if not entry.is_word:
            assert UNITS.Quantity(1, entry.unit.pint).magnitude == 1, name


# Specimens that break the rule.


def mass_from_quotient(target: MgPerL, tank: Litre) -> Gram:
    return target / tank


def forgotten_density(target: MgPerL, tank: Litre, density: KgPerL) -> Litre:
    return target * tank


def litres_and_kilograms(target: MgPerL, tank: Litre, density: KgPerL) -> Gram:
    return tank * density + tank


def logarithm_of_litres(tank: Litre) -> Number:
    return subset.log(tank)


def right_by_its_nested_calculation(target: MgPerL, content: Percent, tank: Litre) -> Gram:
    return STOCK(target, content, 100, tank) * 2


def wrong_by_its_nested_calculation(target: MgPerL, content: Percent, tank: Litre) -> Gram:
    return STOCK(target, content, tank, tank)


STOCK = catalogue()["STOCKMASS"].function
log = subset.log
EXAMPLE = {"target": 150, "content": 15.5, "tank": 200, "density": 1.3}


def specimen(body: Callable[..., Any], returns: Any) -> Calculation:
    names = body.__code__.co_varnames[: body.__code__.co_argcount]
    return replace(
        catalogue()["STOCKMASS"],
        body=body,
        returns=returns,
        parameters={name: QUANTITIES[name] for name in names},
        example=(tuple(EXAMPLE[name] for name in names), 0),
    )


def logarithm(tank: Litre) -> Number:
    return log(tank)


@pytest.mark.parametrize(
    ("body", "returns"),
    [
        (mass_from_quotient, Gram),
        (forgotten_density, Litre),
        (litres_and_kilograms, Gram),
        (logarithm, Number),
        (wrong_by_its_nested_calculation, Gram),
        (right_by_its_nested_calculation, Litre),
    ],
)
def test_wrong_dimensions_are_seen(body: Callable[..., Any], returns: Any) -> None:
    assert len(wrong_dimensions(specimen(body, returns))) == 1


def test_right_dimensions_pass() -> None:
    assert wrong_dimensions(specimen(right_by_its_nested_calculation, Gram)) == []
