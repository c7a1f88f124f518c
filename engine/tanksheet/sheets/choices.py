"""Which units an input offers, which US unit stands beside a metric result, and their formats."""

from __future__ import annotations

from tanksheet.tables import look_up

MAJOR = ("N", "P", "K", "Ca", "Mg", "S", "Na", "Cl")
# Units that an input may be typed in, by its base unit; the first is not the default.
OFFERED: dict[str, tuple[str, ...]] = {
    "L": ("L", "mL", "m3", "gal", "fl oz", "imp gal"),
    "L/min": ("L/min", "L/h", "L/s", "m3/h", "gpm", "gph"),
    "L/h": ("L/h", "L/min", "mL/min", "gph"),
    "mg/L": ("ppm", "mg/L", "g/L", "oz/100 gal", "lb/1000 gal"),
    "g/L": ("g/L", "g/100 L", "oz/gal", "lb/gal", "lb/100 gal"),
    "kg/L": ("kg/L", "g/mL", "kg/m3", "lb/gal"),
    "kPa": ("kPa", "bar", "psi", "m head", "ft head"),
    "m": ("m", "ft", "yd"),
    "mm": ("mm", "cm", "in"),
    "s": ("s", "min"),
    "h": ("h", "min", "day"),
    "degC": ("degC", "degF"),
    "%": ("%", "g/kg"),
    "mS/cm": ("mS/cm", "dS/m", "uS/cm", "mmho/cm", "umho/cm"),
    "g": ("g", "kg", "oz", "lb"),
    "kg": ("kg", "g", "t", "lb", "short ton"),
    "ha": ("ha", "m2", "acre", "ft2"),
    "kg/ha": ("kg/ha", "g/m2", "lb/acre", "lb/1000 ft2"),
    "L/ha": ("L/ha", "m3/ha", "gal/acre"),
}
# Units that laboratories print for an ion; the plain mass is spelled out where it is ambiguous.
_CHARGED = ("mg/L", "ppm", "meq/L", "mmol/L", "mg/L as CaCO3")
_TRACE = ("mg/L", "ppm", "ug/L", "umol/L")
HARDNESS = ("gpg", "dH", "fH", "e")
OFFERED["mg/L as CaCO3"] = ("mg/L as CaCO3", "ppm", *HARDNESS)
ION_UNITS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("Ca", "Mg"), _CHARGED + HARDNESS),
    **dict.fromkeys(("K", "Na", "Cl"), _CHARGED),
    **dict.fromkeys(("B", "Fe", "Mn"), _TRACE),
    "NH4": ("mg/L as N", "mg/L as NH4", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "NO3": ("mg/L as N", "mg/L as NO3", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "SO4": ("mg/L as SO4", "mg/L as S", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "CO3": ("mg/L", "ppm", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "HCO3": ("mg/L as CaCO3", "mg/L as HCO3", "meq/L", "mmol/L", *HARDNESS),
}
# Alkalinity that is counted in mg/L as CaCO3.
ALKALINITY_UNITS = (
    *("ppm", "mg/L", "mg/L as CaCO3", "meq/L", "mmol/L", "mg/L as HCO3"),
    *HARDNESS,
)
EDITIONS = ("metric", "us")
# The unit in which a US reader expects a metric base unit.
US_UNIT: dict[str, str] = {
    "L": "gal",
    "L/min": "gpm",
    "L/h": "gph",
    "mg/L": "ppm",
    "g/L": "oz/gal",
    "kg/L": "lb/gal",
    "kPa": "psi",
    "m": "ft",
    "mm": "in",
    "m/s": "ft/s",
    "degC": "degF",
    "g": "lb",
    "kg": "lb",
    "ha": "acre",
    "kg/ha": "lb/acre",
    "L/ha": "gal/acre",
    "mL/m3": "fl oz/1000 gal",
    "mL/L": "fl oz/gal",
}
# Units of the United States beyond those.
AMERICAN: tuple[str, ...] = (
    "fl oz",
    "imp gal",
    "oz/100 gal",
    "lb/1000 gal",
    "lb/100 gal",
    "oz",
    "short ton",
)
AMERICAN += ("ft head", "yd", "ft2", "lb/1000 ft2", "g/kg")
FORMATS: dict[str, str] = {
    "L": "#,##0.0##",
    "gal": "#,##0.0##",
    "kg/L": "0.000",
    "g": "#,##0.0",
    "kg": "#,##0.00",
    "lb": "#,##0.00",
    "m/s": "0.00",
    "ft/s": "0.00",
    "mm": "0.0",
    "in": "0.00",
    "%": "0.0#",
    "mS/cm": "0.00",
    "mmol/L": "0.000",
    "meq/L": "0.00",
    "fl oz/1000 gal": "#,##0.00",
    "fl oz/gal": "#,##0.00",
    "s": "0.0",
    "parts": '"1 : "0.0',
    "date": "yyyy-mm-dd",
}
PLAIN = "#,##0.0"
TYPED = "#,##0.####"


def nutrient_units(nutrient: str) -> tuple[str, ...]:
    """Units for a nutrient in water, whose base unit is mg/L of the element."""
    charge, oxide = (look_up("nutrients", column, nutrient) for column in ("charge", "oxide"))
    amounts = ("mmol/L", "meq/L") if charge and nutrient in MAJOR else ("mmol/L", "umol/L", "ug/L")
    hard = ("mg/L as CaCO3", *HARDNESS) if nutrient in ("Ca", "Mg") else ()
    return (*OFFERED["mg/L"], *amounts, *([f"ppm {oxide}"] if oxide != "none" else []), *hard)


def reported_units(nutrient: str, ion: str) -> tuple[str, ...]:
    """The same for a nutrient that a water brings as an ion, with all that laboratories print of
    it; the plain mass is that of the element."""
    offered = nutrient_units(nutrient)
    return (*offered, *(unit for unit in ION_UNITS[ion] if unit not in offered))


def units_of_nutrients(nutrients: tuple[str, ...]) -> tuple[str, ...]:
    """Units for a nutrient that is chosen elsewhere: those of each, but for hardness."""
    found = dict.fromkeys(unit for each in nutrients for unit in nutrient_units(each))
    return tuple(unit for unit in found if unit not in ("mg/L as CaCO3", *HARDNESS))


def suffix(unit: str) -> str:
    """A unit as the end of a cell name: "oz/100 gal" gives "oz100gal"."""
    return "".join(c for c in unit.replace("%", "pct") if c.isalnum())


def pattern(unit: str) -> str:
    return FORMATS.get(unit, PLAIN)


def shown_unit(base: str, edition: str) -> str:
    """The unit in which an edition shows a number of a base unit."""
    return US_UNIT.get(base, base) if edition == "us" else base


def other_unit(base: str, edition: str) -> str:
    """The other system's unit, or nothing where both read the same."""
    if base == "mg/L" or base not in US_UNIT:
        return ""
    return base if edition == "us" else US_UNIT[base]


def first_at_home(units: tuple[str, ...], edition: str) -> tuple[str, ...]:
    """The units of a list, those of the other system last."""
    metric, us = set(US_UNIT), {*US_UNIT.values(), *AMERICAN}
    away = metric if edition == "us" else us
    return tuple(sorted(units, key=lambda unit: unit in away))
