"""Conversions: the trade's units, and oxides on a label to elements."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.errors import NotListed
from tanksheet.subset import check
from tanksheet.tables import look_up
from tanksheet.units import Number, Percent, Word


@calculation("ELEMENT", example=(("P2O5", 52), 22.69419))
def element(oxide: Word, percent_oxide: Percent) -> Percent:
    """Percent of the element when the label prints the oxide.

    Labels print phosphorus as P2O5 and potassium as K2O, though the fertilizer contains neither;
    a nutrient target is in elements, so convert before you weigh.
    Source: ratio of atomic weights, IUPAC abridged values, in data/oxides.csv.
    """
    return percent_oxide * look_up("oxides", "factor", oxide)


@calculation("UNITFACTOR", example=(("gal", "L"), 3.785412))
def unit_factor(from_unit: Word, to_unit: Word) -> Number:
    """How many of one unit make up another: 1 gal is 3.785 L.

    For temperatures it is the size of the degree. Units of different kinds give #N/A.
    Source: exact definitions of the units (NIST SP 811), in data/units.csv.
    """
    check(
        look_up("units", "kind", from_unit) == look_up("units", "kind", to_unit),
        "the two units measure different things; choose two of one kind",
        NotListed,
    )
    return look_up("units", "factor", from_unit) / look_up("units", "factor", to_unit)


@calculation("CONVERT", example=((150, "gpm", "m3/h"), 34.0687))
def convert(amount: Number, from_unit: Word, to_unit: Word) -> Number:
    """A number in another unit, for the units that growers use and spreadsheets lack.

    Volume, flow, concentration, mass, length, pressure, time, area, dose, depth, velocity,
    conductivity, content and temperature; gallons are US gallons unless written "imp gal". Grains
    per gallon (gpg) and degrees of hardness (dH, fH, e) are mg/L as CaCO3.
    Units of different kinds (a mass to a volume) give #N/A.
    Source: exact definitions of the units (NIST SP 811), in data/units.csv.
    """
    shift = look_up("units", "offset", from_unit) - look_up("units", "offset", to_unit)
    scaled = amount * unit_factor(from_unit, to_unit)
    return scaled + shift / look_up("units", "factor", to_unit)
