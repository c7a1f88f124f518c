"""An amount in water, from the cell of one workbook into that of another, its unit with it."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from tanksheet.calc.water import MG_CACO3_PER_MEQ, equivalents, mass_as_element
from tanksheet.errors import Fault
from tanksheet.sheets.cells import Entry

ALKALINITY = "HCO3"
SAME = 1e-9


class Amount(NamedTuple):
    """A number as it is typed, with its unit; ``base`` is what it comes to in its base unit."""

    typed: float
    unit: str
    base: float
    base_unit: str


def converted(amount: Amount, ion: str, base_unit: str) -> float:
    """What an amount comes to in another base unit: ``ion`` is what it is an amount of, if any.

    Raises: KeyError for base units that have nothing to do with each other.
    """
    if amount.base_unit == base_unit:
        return amount.base
    per_mmol = _per_mmol(ion)
    return amount.base / per_mmol[amount.base_unit] * per_mmol[base_unit]


def _per_mmol(ion: str) -> dict[str, float]:
    """How much of each base unit one mmol of an ion is; a mass is one of the element, and that of
    alkalinity one of calcium carbonate."""
    if ion == ALKALINITY:
        charge = equivalents(1, ion)
        mass = charge * MG_CACO3_PER_MEQ
        return {"mmol/L": 1.0, "meq/L": charge, "mg/L": mass, "mg/L as CaCO3": mass}
    known = {"mmol/L": 1.0, "mg/L": mass_as_element(1, ion)} if ion else {}
    return known | ({"meq/L": equivalents(1, ion)} if _is_charged(ion) else {})


def _is_charged(ion: str) -> bool:
    try:
        return bool(ion) and equivalents(1, ion) > 0
    except Fault:
        return False


def as_typed(amount: Amount, ion: str, entry: Entry, units: tuple[str, ...], now: str) -> Any:
    """The number and the unit to type into an entry that takes ``units`` and stands in ``now``.

    The number stays as it is where a unit of the entry means the same: the unit that it had, else
    one that is spelled otherwise. If there is none it is converted to the unit that stands there.
    Raises: KeyError as ``converted`` does.
    """
    base = converted(amount, ion, entry.base_unit)
    if not units or entry.to_base is None:
        return base, ""
    if entry.base_unit == amount.base_unit == "degC":  # two scales, and no factor between them
        return amount.typed, amount.unit
    alike = sorted(
        units, key=lambda unit: (unit != amount.unit, unit != now, not _akin(unit, amount.unit))
    )
    for unit in alike:
        factor = _factor(entry, unit)
        if math.isclose(amount.typed * factor, base, rel_tol=SAME, abs_tol=0.0):
            return amount.typed, unit
    return float(f"{base / _factor(entry, now):.12g}"), now


def _akin(unit: str, other: str) -> bool:
    return unit.split()[:1] == other.split()[:1]


def _factor(entry: Entry, unit: str) -> float:
    assert entry.to_base is not None
    try:
        return float(entry.to_base(unit))
    except Fault:  # a unit that does not go with this entry
        return math.nan
