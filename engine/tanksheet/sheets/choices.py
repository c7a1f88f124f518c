"""Which units an input offers, which US unit stands beside a metric result, and their formats."""

from __future__ import annotations

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
    "mS/cm": ("mS/cm", "dS/m", "uS/cm"),
    "g": ("g", "kg", "oz", "lb"),
    "kg": ("kg", "g", "t", "lb", "short ton"),
    "ha": ("ha", "m2", "acre", "ft2"),
    "kg/ha": ("kg/ha", "g/m2", "lb/acre", "lb/1000 ft2"),
}
# Units that laboratories print for an ion; the plain mass is spelled out where it is ambiguous.
_CHARGED = ("mg/L", "ppm", "meq/L", "mmol/L", "mg/L as CaCO3")
_TRACE = ("mg/L", "ppm", "ug/L", "umol/L")
ION_UNITS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("Ca", "Mg", "K", "Na", "Cl"), _CHARGED),
    **dict.fromkeys(("B", "Fe", "Mn"), _TRACE),
    "NH4": ("mg/L as N", "mg/L as NH4", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "NO3": ("mg/L as N", "mg/L as NO3", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "SO4": ("mg/L as SO4", "mg/L as S", "meq/L", "mmol/L", "mg/L as CaCO3"),
    "HCO3": ("mg/L as CaCO3", "mg/L as HCO3", "meq/L", "mmol/L"),
}
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
    "mL/m3": "fl oz/1000 gal",
    "mL/L": "fl oz/gal",
}
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
}
PLAIN = "#,##0.0"
TYPED = "#,##0.####"


def suffix(unit: str) -> str:
    """A unit as the end of a cell name: "oz/100 gal" gives "oz100gal"."""
    return "".join(c for c in unit.replace("%", "pct") if c.isalnum())


def pattern(unit: str) -> str:
    return FORMATS.get(unit, PLAIN)
