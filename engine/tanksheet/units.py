"""The glossary: every quantity of the project has one name, one unit and one range.

A calculation's signature uses the unit aliases (``MgPerL``); its parameter names are keys of
``QUANTITIES``, which says in plain words what each is and which values make sense. Python checks
these ranges, the compiler writes them into formulas, workbooks into their validation, and the
harness draws its random cases from them.
"""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass
from typing import Annotated, Any, Optional, get_args


@dataclass(frozen=True)
class Unit:
    """A unit: the symbol people read, the suffix that cell names carry, pint's own expression."""

    symbol: str
    suffix: str
    pint: str


MgPerL = Annotated[float, Unit("mg/L", "mgL", "mg/L")]
AsCalcite = Annotated[float, Unit("mg/L as CaCO3", "mgLCaCO3", "mg/L")]
PerMillilitre = Annotated[float, Unit("per mL", "permL", "1/mL")]
Percent = Annotated[float, Unit("%", "pct", "percent")]
Parts = Annotated[float, Unit("parts", "parts", "dimensionless")]
Number = Annotated[float, Unit("", "n", "dimensionless")]
Litre = Annotated[float, Unit("L", "L", "L")]
Gram = Annotated[float, Unit("g", "g", "g")]
Kilogram = Annotated[float, Unit("kg", "kg", "kg")]
KgPerL = Annotated[float, Unit("kg/L", "kgL", "kg/L")]
GramPerL = Annotated[float, Unit("g/L", "gL", "g/L")]
LitrePerMinute = Annotated[float, Unit("L/min", "Lmin", "L/min")]
LitrePerHour = Annotated[float, Unit("L/h", "Lh", "L/h")]
Second = Annotated[float, Unit("s", "s", "s")]
Minute = Annotated[float, Unit("min", "min", "min")]
Hour = Annotated[float, Unit("h", "h", "h")]
Day = Annotated[float, Unit("days", "days", "day")]
Kilopascal = Annotated[float, Unit("kPa", "kPa", "kPa")]
Metre = Annotated[float, Unit("m", "m", "m")]
Millimetre = Annotated[float, Unit("mm", "mm", "mm")]
Micrometre = Annotated[float, Unit("um", "um", "um")]
SquareMetrePerSecond = Annotated[float, Unit("m2/s", "m2s", "m^2/s")]
MilliPascalSecond = Annotated[float, Unit("mPa s", "mPas", "mPa*s")]
MetrePerSecond = Annotated[float, Unit("m/s", "ms", "m/s")]
KgPerHa = Annotated[float, Unit("kg/ha", "kgha", "kg/hectare")]
LitrePerHa = Annotated[float, Unit("L/ha", "Lha", "L/hectare")]
Hectare = Annotated[float, Unit("ha", "ha", "hectare")]
MmolPerL = Annotated[float, Unit("mmol/L", "mmolL", "mmol/L")]
MeqPerL = Annotated[float, Unit("meq/L", "meqL", "mmol/L")]
Millilitre = Annotated[float, Unit("mL", "mL", "mL")]
Celsius = Annotated[float, Unit("degC", "degC", "dimensionless")]
PH = Annotated[float, Unit("pH", "pH", "dimensionless")]
MilliSiemens = Annotated[float, Unit("mS/cm", "mScm", "mS/cm")]
Money = Annotated[float, Unit("money", "money", "dimensionless")]
MoneyPerKg = Annotated[float, Unit("money/kg", "moneykg", "1/kg")]
# A day as spreadsheets count them: 1 is 1900-01-01, 46353 is 2026-11-27.
Date = Annotated[float, Unit("date", "date", "dimensionless")]
Word = Annotated[str, Unit("word", "word", "")]
Readings = Annotated[Any, Unit("readings", "readings", "dimensionless")]

DAY_NOUGHT = datetime.date(1899, 12, 30)


def unit_of(alias: Any) -> Unit:
    """The ``Unit`` behind an alias such as ``MgPerL``."""
    for part in get_args(alias):
        if isinstance(part, Unit):
            return part
    raise TypeError(f"{alias!r} is not a unit alias of tanksheet.units")


@dataclass(frozen=True)
class Quantity:
    """What a name means: unit, plain words, and the range that makes sense.

    ``low`` is left out of the range when ``above`` is true ("above 0"); ``high`` is always in.
    ``words`` lists the allowed words of a choice; an empty tuple leaves the check to a table.
    ``at_least`` is the smallest count of readings.
    """

    alias: Any
    meaning: str
    low: float = -math.inf
    high: float = math.inf
    above: bool = False
    words: tuple[str, ...] = ()
    at_least: int = 1

    @property
    def unit(self) -> Unit:
        return unit_of(self.alias)

    @property
    def is_word(self) -> bool:
        return self.alias is Word

    @property
    def is_date(self) -> bool:
        return self.alias is Date

    @property
    def is_readings(self) -> bool:
        return self.alias is Readings

    def holds(self, value: float) -> bool:
        """Whether a number lies in the range."""
        high_enough = value > self.low if self.above else value >= self.low
        return high_enough and value <= self.high

    @property
    def allowed(self) -> str:
        """The range in words, for messages and help texts."""
        if self.is_word:
            return "one of " + ", ".join(self.words) if self.words else "a listed word"
        if self.is_date:
            return f"a date from {iso_of(self.low)} to {iso_of(self.high)}"
        symbol = "" if self.unit.symbol in ("", "money", "parts", "readings") else self.unit.symbol
        low = _bound("above" if self.above else "at least", self.low, symbol)
        high = _bound("at most", self.high, symbol)
        return " and ".join(part for part in (low, high) if part) or "any number"


def serial_of(day: datetime.date) -> float:
    """A date as the number that a spreadsheet keeps for it, in the system that begins in 1900.

    That system has a 29 February 1900, which never was, so the count is right from March 1900 on.
    """
    return float((day - DAY_NOUGHT).days)


def iso_of(serial: float) -> str:
    """The date behind a spreadsheet's number for it, as 2026-11-27."""
    return (DAY_NOUGHT + datetime.timedelta(days=math.floor(serial))).isoformat()


def _bound(word: str, limit: float, symbol: str) -> str:
    return "" if math.isinf(limit) else f"{word} {limit:,.12g} {symbol}".rstrip()


def _positive(alias: Any, meaning: str, high: float = math.inf) -> Quantity:
    return Quantity(alias, meaning, low=0, high=high, above=True)


def _from_zero(alias: Any, meaning: str, high: float = math.inf) -> Quantity:
    return Quantity(alias, meaning, low=0, high=high)


# Degrees of hardness, and grains in a US gallon; data/units.csv says how much CaCO3 each is.
DEGREES = ("gpg", "dH", "fH", "e")
# How laboratories print what is dissolved in water; "as" names what the figure is the mass of.
ION_UNITS = (
    "mg/L",
    "ppm",
    "ug/L",
    "meq/L",
    "mmol/L",
    "umol/L",
    "mg/L as CaCO3",
    "mg/L as HCO3",
    "mg/L as N",
    "mg/L as NO3",
    "mg/L as NH4",
    "mg/L as S",
    "mg/L as SO4",
    *DEGREES,
)

# The upper limits are far outside any farm: they catch a slipped decimal point or a wrong unit,
# and they keep every intermediate result finite.
QUANTITIES: dict[str, Quantity] = {
    # flow
    "volume": _positive(Litre, "water caught", 1e9),
    "seconds": _positive(Second, "time it took", 1e7),
    "emitter_count": _from_zero(Number, "number of emitters running", 1e7),
    "nominal_flow": _positive(LitrePerHour, "flow of one emitter as rated", 1e6),
    "pressure": _positive(Kilopascal, "pressure at the emitters", 1e5),
    "nominal_pressure": _positive(Kilopascal, "pressure at which the emitter is rated", 1e5),
    "exponent": _from_zero(Number, "emitter exponent: 0.5 turbulent, 0 compensating", 2),
    "strokes": _from_zero(Number, "strokes counted", 1e6),
    "stroke_volume": _positive(Litre, "water that one stroke takes", 1e4),
    "flow": _positive(LitrePerMinute, "water flow through the injector", 1e6),
    "inside": _positive(Millimetre, "inside diameter of the pipe", 1e4),
    "length": _from_zero(Metre, "length of the pipe", 1e6),
    "roughness": _positive(Number, "Hazen-Williams C: 150 smooth plastic, 140 small tube", 200),
    "emitters": Quantity(Number, "emitters on the lateral", low=1, high=1e6),
    "emitter_flow": _positive(LitrePerHour, "flow of one emitter", 1e6),
    "wide_inside": _positive(Millimetre, "inside diameter of the pipe on either side", 1e4),
    "supply_pressure": _from_zero(Kilopascal, "pressure of the supply while the zone runs", 1e5),
    "injector_loss": _from_zero(Kilopascal, "pressure lost in the injector", 1e5),
    "rated_flow": _positive(LitrePerMinute, "flow at which that loss is printed", 1e6),
    "pipe_loss": _from_zero(Kilopascal, "pressure lost in the pipe"),
    "neck_loss": _from_zero(Kilopascal, "pressure lost in a necked-down piece"),
    "other_loss": _from_zero(Kilopascal, "pressure lost in filter, valves, regulator", 1e5),
    "rise": Quantity(Metre, "how much higher the emitters lie, below 0 if lower", -1e4, 1e4),
    # ratio
    "ratio": Quantity(Parts, "injection ratio: 100 for 1:100", low=1, high=1e6),
    "percent": Quantity(Percent, "stock as a share of the water, 1 for 1 %", 1e-4, 100),
    "reading": Quantity(Word, '"in" for 1 part in N, "to" for 1 part to N', words=("in", "to")),
    "water": _positive(Litre, "water that passed during the test", 1e9),
    "stock": _positive(Litre, "stock drawn during the test", 1e9),
    "found_ratio": _positive(Parts, "ratio found by the test", 1e9),
    "set_ratio": Quantity(Parts, "ratio that the injector is set to", low=1, high=1e6),
    "ec_measured": _from_zero(MilliSiemens, "meter reading of the feed", 500),
    "ec_water": _from_zero(MilliSiemens, "meter reading of the plain water", 500),
    "ec_target": _from_zero(MilliSiemens, "reading that the feed should give", 500),
    "tank": _positive(Litre, "volume of finished stock in the tank", 1e7),
    # stock
    "target": _from_zero(MgPerL, "concentration wanted at the emitter (ppm)", 1e6),
    "content": _positive(Percent, "content as printed on the label, 15.5 for 15.5 %", 100),
    "mass": _from_zero(Gram, "fertilizer in the tank", 1e10),
    "density": Quantity(KgPerL, "density of the liquid", low=0.3, high=3),
    # conversion
    "oxide": Quantity(Word, "oxide on the label: P2O5, K2O, CaO, MgO, SO3, SiO2 and others"),
    "percent_oxide": _from_zero(Percent, "content as the oxide", 100),
    "amount": Quantity(Number, "number to convert"),
    "from_unit": Quantity(Word, "unit of the number, from the list of units"),
    "to_unit": Quantity(Word, "unit wanted, from the list of units"),
    # water and conductivity
    "alkalinity_as_caco3": _from_zero(MgPerL, "alkalinity of the water, as CaCO3", 5000),
    "alkalinity": _from_zero(MeqPerL, "alkalinity of the water", 100),
    "ph_now": Quantity(PH, "pH of the water", 4, 10),
    "ph_target": Quantity(PH, "pH wanted", 4, 10),
    "ph_water": Quantity(PH, "pH of the water", 4, 10),
    "celsius": Quantity(Celsius, "temperature of the water", 0, 45),
    "table_celsius": Quantity(Celsius, "temperature within the table of solubilities", 0, 40),
    "need": _from_zero(MeqPerL, "strong acid needed for each litre", 100),
    "acid": Quantity(Word, "acid by name and strength, from the list of acids"),
    "water_treated": _positive(Litre, "water to treat", 1e10),
    "fertilizer": Quantity(Word, "product by name, from the list of fertilizers"),
    "salt": Quantity(Word, "salt by name, from the table of solubilities"),
    "calcium": _from_zero(MmolPerL, "calcium", 20000),
    "magnesium": _from_zero(MmolPerL, "magnesium", 20000),
    "potassium": _from_zero(MmolPerL, "potassium", 20000),
    "sodium": _from_zero(MmolPerL, "sodium", 20000),
    "ammonium": _from_zero(MmolPerL, "ammonium", 20000),
    "nitrate": _from_zero(MmolPerL, "nitrate", 20000),
    "sulfate": _from_zero(MmolPerL, "sulfate", 20000),
    "chloride": _from_zero(MmolPerL, "chloride", 20000),
    "bicarbonate": _from_zero(MmolPerL, "bicarbonate", 20000),
    "dihydrogen_phosphate": _from_zero(MmolPerL, "dihydrogen phosphate", 20000),
    "singles": _from_zero(MmolPerL, "potassium, sodium and ammonium together", 100000),
    "anions": _from_zero(MmolPerL, "nitrate, chloride, bicarbonate and phosphate together", 100000),
    "strength_mmol": _from_zero(MmolPerL, "ionic strength", 200000),
    "phosphate": _from_zero(MmolPerL, "phosphate in all its forms", 20000),
    "net_acid": Quantity(MeqPerL, "acid (+) or base (-) that the products bring", -20000, 20000),
    "carbonate": _from_zero(MmolPerL, "carbonate and bicarbonate that the products bring", 20000),
    "silicate": _from_zero(MmolPerL, "silicate in all its forms", 20000),
    "borate": _from_zero(MmolPerL, "boron in all its forms", 20000),
    "urea": _from_zero(MmolPerL, "urea", 20000),
    "thiosulfate": _from_zero(MmolPerL, "thiosulfate", 20000),
    "ph_feed": Quantity(PH, "pH of the feed", -1, 15),
    "ph_tank": Quantity(PH, "pH in the stock tank", 1, 10),
    "ec_reading": _from_zero(MilliSiemens, "meter reading without temperature correction", 500),
    "reported": _from_zero(Number, "figure as the report prints it", 1e7),
    "ion": Quantity(Word, "ion by formula: Ca, Mg, K, Na, NH4, NO3, SO4, Cl, HCO3 and others"),
    "ion_unit": Quantity(Word, "unit of the report", words=ION_UNITS),
    "ion_amount": _from_zero(MmolPerL, "amount of the ion", 20000),
    "cations_meq": _from_zero(MeqPerL, "sum of the cations", 2e5),
    "anions_meq": _from_zero(MeqPerL, "sum of the anions", 2e5),
    "sodium_meq": _from_zero(MeqPerL, "sodium", 5000),
    "calcium_meq": _from_zero(MeqPerL, "calcium", 5000),
    "magnesium_meq": _from_zero(MeqPerL, "magnesium", 5000),
    # field
    "dose": _from_zero(KgPerHa, "nutrient wanted on each hectare", 1e5),
    "area": _positive(Hectare, "area fed", 1e7),
    "volume_dose": _from_zero(LitrePerHa, "liquid wanted on each hectare", 1e9),
    "hours": _positive(Hour, "time in which it is injected", 1e5),
    "readings": Quantity(Readings, "a range of readings, blanks left out", 0, 1e12, at_least=2),
    "repeats": Quantity(Readings, "the same reading taken again, blanks left out", 0, 1e12),
    "measure": Quantity(Word, '"CU" Christiansen, "DU" lowest quarter', words=("CU", "DU")),
    # arrival
    "speed": _positive(MetrePerSecond, "mean speed of the water", 100),
    "dispersion": _positive(SquareMetrePerSecond, "smearing along the pipe, FERT.DISPERSION", 1e4),
    "minutes": _positive(Minute, "time since injection began", 1e6),
    "arrival_minutes": _from_zero(Minute, "plug time from injector to emitter", 1e6),
    "spread_minutes": _positive(Minute, "standard deviation of the front there", 1e6),
    "inject_minutes": _positive(Minute, "time of injecting", 1e6),
    "run_minutes": _from_zero(Minute, "time since injection began", 1e6),
    "unevenness": Quantity(Percent, "most by which the feed is off its mean", 0.1, 50),
    # proving
    "water_error": _from_zero(Litre, "most by which the water may be misread, either way", 1e9),
    "stock_error": _from_zero(Litre, "most by which the stock may be misread, either way", 1e9),
    "ec_error": _from_zero(MilliSiemens, "most by which one reading may be off, either way", 500),
    "centre": Quantity(Number, "mean of the readings, or the target", -1e9, 1e9),
    "mean_range": _from_zero(Number, "mean difference of one reading to the next, no sign", 1e9),
    "limit": Quantity(
        Word,
        '"upper" or "lower" for readings, "range" for the differences',
        words=("upper", "lower", "range"),
    ),
    "average_before": Quantity(Number, "the average before this reading", -1e9, 1e9),
    "latest": Quantity(Number, "the newest reading", -1e9, 1e9),
    "weight": _positive(Number, "weight of the newest reading, 0.2 to 0.3 as a rule", 1),
    "reading_count": Quantity(Number, "how many readings so far", low=1, high=1e6),
    "altitude": _from_zero(Metre, "height above the sea", 5000),
    "stock_flow": _positive(LitrePerHour, "stock that is drawn", 1e6),
    "viscosity": _positive(MilliPascalSecond, "viscosity of the stock, 1 for water", 1e5),
    "limit_width": _positive(Number, "width in standard deviations, 3 as a rule", 10),
    # cleaning
    "chlorine": _from_zero(MgPerL, "free chlorine wanted, and what the water uses up", 1e5),
    "available": _positive(Percent, "available chlorine as the label prints it", 100),
    "flush_speed": _positive(MetrePerSecond, "speed wanted at the open end", 100),
    "mesh": Quantity(Number, "mesh number of the screen: 80, 120, 200", low=4, high=635),
    "passage": _positive(Millimetre, "smallest passage of the emitter", 1000),
    "passage_part": Quantity(Number, "part of it: 10 for a tenth", low=1, high=100),
    # upkeep
    "interval_days": _from_zero(Day, "days from one service to the next, 0 if none", 36500),
    "days_since": _from_zero(Day, "days since the last service", 36500),
    "interval_hours": _from_zero(Hour, "hours of running between services, 0 if none", 1e6),
    "hours_since": _from_zero(Hour, "hours run since the last service", 1e6),
    "hours_a_day": _from_zero(Hour, "hours of running in a day, over the week", 24),
    "interval_volume": _from_zero(Litre, "water passed between services, 0 if none", 1e12),
    "volume_since": _from_zero(Litre, "water passed since the last service", 1e14),
    "volume_a_day": _from_zero(Litre, "water that passes in a day, over the week", 1e10),
    # cost
    "needed": _from_zero(Kilogram, "product needed", 1e10),
    "pack": _positive(Kilogram, "product in one pack", 1e6),
    "pack_price": _from_zero(Money, "price of one pack", 1e12),
}


# A day that a person types: no year of two digits, no number that is meant as an amount.
DATES = Quantity(Date, "a date", 36526, 73050)


def find_quantity(name: str) -> Optional[Quantity]:
    """The glossary's entry for a parameter name, or None."""
    return QUANTITIES.get(name)
