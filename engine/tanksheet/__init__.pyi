# Written by `python -m tanksheet.door.stub` (scripts/build) from the register; a test compares.
"""Tanksheet: fertigation calculations, written once, for Python and for spreadsheets."""

from collections.abc import Sequence
from typing import Any, Literal, Protocol, TypeAlias, overload

from tanksheet import recipes as recipes
from tanksheet.batch.coop import price_coop as price_coop
from tanksheet.batch.priced import Priced as Priced
from tanksheet.definition import Calculation as Calculation
from tanksheet.definition import catalogue as catalogue
from tanksheet.door.workbook import OpenWorkbook as OpenWorkbook
from tanksheet.door.workbook import open_workbook as open_workbook
from tanksheet.errors import Fault as Fault
from tanksheet.errors import TanksheetError as TanksheetError

class _Array(Protocol):
    def __array__(self, *args: Any, **kwargs: Any) -> Any: ...

class _Quantity(Protocol):
    @property
    def magnitude(self) -> Any: ...
    @property
    def units(self) -> Any: ...

class _Expression(Protocol):
    def map_batches(self, *args: Any, **kwargs: Any) -> Any: ...

_Many: TypeAlias = list[Any] | tuple[Any, ...] | range | _Array | _Quantity | _Expression
_Errors: TypeAlias = Literal["raise", "nan"]

__version__: str

@overload
def element(
    oxide: str,
    percent_oxide: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Percent of the element when the label prints the oxide.

    Labels print phosphorus as P2O5 and potassium as K2O, though the fertilizer contains neither;
    a nutrient target is in elements, so convert before you weigh.

    Parameters
        oxide : word
            oxide on the label: P2O5, K2O, CaO, MgO, SO3, SiO2 and others; a listed word
        percent_oxide : %
            content as the oxide; at least 0 % and at most 100 %

    Result: %

    Example: tanksheet.element('P2O5', 52) gives 22.69419 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: ratio of atomic weights, IUPAC abridged values, in data/oxides.csv.

    In a sheet: FERT.ELEMENT
    """

@overload
def element(
    oxide: str | _Many,
    percent_oxide: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def unit_factor(
    from_unit: str,
    to_unit: str,
    *,
    errors: _Errors = "raise",
) -> float:
    """How many of one unit make up another: 1 gal is 3.785 L.

    For temperatures it is the size of the degree. Units of different kinds give #N/A.

    Parameters
        from_unit : word
            unit of the number, from the list of units; a listed word
        to_unit : word
            unit wanted, from the list of units; a listed word

    Result: a number

    Example: tanksheet.unit_factor('gal', 'L') gives 3.785412

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: exact definitions of the units (NIST SP 811), in data/units.csv.

    In a sheet: FERT.UNITFACTOR
    """

@overload
def unit_factor(
    from_unit: str | _Many,
    to_unit: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def convert(
    amount: float,
    from_unit: str,
    to_unit: str,
    *,
    errors: _Errors = "raise",
) -> float:
    """A number in another unit, for the units that growers use and spreadsheets lack.

    Volume, flow, concentration, mass, length, pressure, time, area, dose, depth, velocity,
    conductivity, content and temperature; gallons are US gallons unless written "imp gal". Grains
    per gallon (gpg) and degrees of hardness (dH, fH, e) are mg/L as CaCO3.
    Units of different kinds (a mass to a volume) give #N/A.

    Parameters
        amount : number
            number to convert; any number
        from_unit : word
            unit of the number, from the list of units; a listed word
        to_unit : word
            unit wanted, from the list of units; a listed word

    Result: a number

    Example: tanksheet.convert(150, 'gpm', 'm3/h') gives 34.0687

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: exact definitions of the units (NIST SP 811), in data/units.csv.

    In a sheet: FERT.CONVERT
    """

@overload
def convert(
    amount: float | _Many,
    from_unit: str | _Many,
    to_unit: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def bucket_flow(
    volume: float,
    seconds: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Flow from a bucket and a timer.

    Catch the zone's water in a vessel of known volume and time it. Repeat and use the mean; half
    a second of hand error on 25 seconds is already 2 %.

    Parameters
        volume : L
            water caught; above 0 L and at most 1,000,000,000 L
        seconds : s
            time it took; above 0 s and at most 10,000,000 s

    Result: L/min

    Example: tanksheet.bucket_flow(18.927, 25) gives 45.425 L/min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: volume over time; the bucket test of NCAT/ATTRA irrigation bulletins.

    In a sheet: FERT.FLOW
    """

@overload
def bucket_flow(
    volume: float | _Many,
    seconds: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def emitter_flow(
    emitter_count: float,
    nominal_flow: float,
    pressure: float,
    nominal_pressure: float,
    exponent: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Flow of a zone from its number of emitters and their pressure.

    The exponent is 0.5 for plain turbulent emitters and near 0 for pressure-compensating ones,
    whose flow stays as rated inside their working range.

    Parameters
        emitter_count : number
            number of emitters running; at least 0 and at most 10,000,000
        nominal_flow : L/h
            flow of one emitter as rated; above 0 L/h and at most 1,000,000 L/h
        pressure : kPa
            pressure at the emitters; above 0 kPa and at most 100,000 kPa
        nominal_pressure : kPa
            pressure at which the emitter is rated; above 0 kPa and at most 100,000 kPa
        exponent : number
            emitter exponent: 0.5 turbulent, 0 compensating; at least 0 and at most 2

    Result: L/min

    Example: tanksheet.emitter_flow(500, 2, 150, 100, 0.5) gives 20.4124 L/min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: emitter equation q = k h^x (Keller and Karmeli), as in ASAE EP405.

    In a sheet: FERT.EMITTERFLOW
    """

@overload
def emitter_flow(
    emitter_count: float | _Many,
    nominal_flow: float | _Many,
    pressure: float | _Many,
    nominal_pressure: float | _Many,
    exponent: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def stroke_flow(
    strokes: float,
    stroke_volume: float,
    seconds: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Flow from counting the strokes of a water-driven injector.

    Each stroke of the piston takes a known volume of water; the strokes in a minute tell the flow.

    Parameters
        strokes : number
            strokes counted; at least 0 and at most 1,000,000
        stroke_volume : L
            water that one stroke takes; above 0 L and at most 10,000 L
        seconds : s
            time it took; above 0 s and at most 10,000,000 s

    Result: L/min

    Example: tanksheet.stroke_flow(30, 0.5, 60) gives 15 L/min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: common practice, volume displaced over time.

    In a sheet: FERT.STROKEFLOW
    """

@overload
def stroke_flow(
    strokes: float | _Many,
    stroke_volume: float | _Many,
    seconds: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def velocity(
    flow: float,
    inside: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Mean speed of the water in a pipe.

    Keep mains below about 1.5 m/s (5 ft/s) to limit water hammer.

    Parameters
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm

    Result: m/s

    Example: tanksheet.velocity(100, 52) gives 0.78479 m/s

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: flow over cross-section; the limit is that of ASAE S376 (from memory).

    In a sheet: FERT.VELOCITY
    """

@overload
def velocity(
    flow: float | _Many,
    inside: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def head_loss(
    flow: float,
    inside: float,
    length: float,
    roughness: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Pressure lost to friction in a full pipe.

    A short length of narrow pipe can cost more than a long wide one: reckon it on its own.

    Parameters
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        roughness : number
            Hazen-Williams C: 150 smooth plastic, 140 small tube; above 0 and at most 200

    Result: kPa

    Example: tanksheet.head_loss(166.667, 55.4, 100, 140) gives 26.8914 kPa

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: Hazen-Williams in SI form; C = 150 for plastic in USDA NRCS practice standard 430.

    In a sheet: FERT.HEADLOSS
    """

@overload
def head_loss(
    flow: float | _Many,
    inside: float | _Many,
    length: float | _Many,
    roughness: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def narrow_loss(
    flow: float,
    inside: float,
    wide_inside: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Pressure lost where a pipe narrows and widens again.

    A short necked-down piece loses this at its two ends, besides its friction; rounded ends lose
    less. Either diameter may come first.

    Parameters
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        wide_inside : mm
            inside diameter of the pipe on either side; above 0 mm and at most 10,000 mm

    Result: kPa

    Example: tanksheet.narrow_loss(45.4, 12, 52.5) gives 30.65373 kPa

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: sudden contraction K = 0.5 (1 - b^2) and enlargement K = (1 - b^2)^2 on the speed in the
        narrow piece, b being the ratio of the diameters (Borda-Carnot; Crane Technical Paper 410).

    In a sheet: FERT.NARROWLOSS
    """

@overload
def narrow_loss(
    flow: float | _Many,
    inside: float | _Many,
    wide_inside: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def pressure_left(
    supply_pressure: float,
    injector_loss: float,
    pipe_loss: float,
    neck_loss: float,
    other_loss: float,
    rise: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Pressure that is left for the emitters.

    Below 0 the supply cannot push this flow through: less water runs than was reckoned with, or
    none. Read the supply's gauge while the zone runs, not while it rests.

    Parameters
        supply_pressure : kPa
            pressure of the supply while the zone runs; at least 0 kPa and at most 100,000 kPa
        injector_loss : kPa
            pressure lost in the injector; at least 0 kPa and at most 100,000 kPa
        pipe_loss : kPa
            pressure lost in the pipe; at least 0 kPa
        neck_loss : kPa
            pressure lost in a necked-down piece; at least 0 kPa
        other_loss : kPa
            pressure lost in filter, valves, regulator; at least 0 kPa and at most 100,000 kPa
        rise : m
            how much higher the emitters lie, below 0 if lower; at least -10,000 m and at most
            10,000 m

    Result: kPa

    Example: tanksheet.pressure_left(300, 50, 25, 5, 30, 3) gives 160.633 kPa

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: energy balance along the pipe (Bernoulli), water at 20 degrees C.

    In a sheet: FERT.PRESSURELEFT
    """

@overload
def pressure_left(
    supply_pressure: float | _Many,
    injector_loss: float | _Many,
    pipe_loss: float | _Many,
    neck_loss: float | _Many,
    other_loss: float | _Many,
    rise: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def travel_time(
    length: float,
    inside: float,
    flow: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Minutes for fed water to travel along a plain pipe.

    For a line with emitters use FERT.LATERALTIME: its flow falls along the way.

    Parameters
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min

    Result: min

    Example: tanksheet.travel_time(100, 55.4, 166.667) gives 1.4463 min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: volume of the pipe over flow (plug flow).

    In a sheet: FERT.TRAVELTIME
    """

@overload
def travel_time(
    length: float | _Many,
    inside: float | _Many,
    flow: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def lateral_time(
    length: float,
    inside: float,
    emitters: float,
    emitter_flow: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Minutes until fed water reaches the last emitter of a lateral.

    The flow falls from emitter to emitter, so the far end waits several times the plug time.

    Parameters
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        emitters : number
            emitters on the lateral; at least 1 and at most 1,000,000
        emitter_flow : L/h
            flow of one emitter; above 0 L/h and at most 1,000,000 L/h

    Result: min

    Example: tanksheet.lateral_time(99.9, 13.6, 333, 1.5) gives 11.1336 min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: sum of volume over remaining flow for equal outlets, the sum of 1/n written as ln N +
        0.5772 + 1/(2N) - 1/(12 N^2): 0.6 % off for one emitter, 0.03 % for two, less beyond.

    In a sheet: FERT.LATERALTIME
    """

@overload
def lateral_time(
    length: float | _Many,
    inside: float | _Many,
    emitters: float | _Many,
    emitter_flow: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def percent_injected(
    ratio: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Percent setting that equals a ratio: 1:100 is 1 %.

    Parameters
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000

    Result: %

    Example: tanksheet.percent_injected(128) gives 0.78125 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: definition; injector charts print both.

    In a sheet: FERT.PERCENT
    """

@overload
def percent_injected(
    ratio: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def ratio_of_percent(
    percent: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Ratio that equals a percent setting: 0.5 % is 1:200, given as 200.

    Parameters
        percent : %
            stock as a share of the water, 1 for 1 %; at least 0.0001 % and at most 100 %

    Result: parts

    Example: tanksheet.ratio_of_percent(0.78125) gives 128 parts

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: definition; injector charts print both.

    In a sheet: FERT.RATIO
    """

@overload
def ratio_of_percent(
    percent: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def dilution(
    ratio: float,
    reading: Literal["in", "to"] | str,
    *,
    errors: _Errors = "raise",
) -> float:
    """Exact dilution factor for either reading of 1:N.

    "in": 1 part of stock in N parts of feed, as ratio tables use it. "to": 1 part of stock added
    to N parts of water. At 1:100 they differ by 1 %, at 1:20 by 5 %.

    Parameters
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000
        reading : word
            "in" for 1 part in N, "to" for 1 part to N; one of in, to

    Result: parts

    Example: tanksheet.dilution(100, 'to') gives 101 parts

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: definition; Cornell practice sheets (Mattson) read 1:100 as 1 part in 100.

    In a sheet: FERT.DILUTION
    """

@overload
def dilution(
    ratio: float | _Many,
    reading: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def feed_rate(
    flow: float,
    ratio: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Stock that the injector draws in an hour of running.

    Parameters
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000

    Result: L/h

    Example: tanksheet.feed_rate(45.4, 100) gives 27.24 L/h

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: flow over ratio.

    In a sheet: FERT.FEEDRATE
    """

@overload
def feed_rate(
    flow: float | _Many,
    ratio: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def measured_ratio(
    water: float,
    stock: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Ratio found by a drawdown test.

    Let the injector draw from a measuring cylinder while a water meter (or a bucket) tells how
    much water passed; divide.

    Parameters
        water : L
            water that passed during the test; above 0 L and at most 1,000,000,000 L
        stock : L
            stock drawn during the test; above 0 L and at most 1,000,000,000 L

    Result: parts

    Example: tanksheet.measured_ratio(37.5, 0.25) gives 150 parts

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: definition; drawdown tests of chemigation bulletins (North Dakota State, 1996).

    In a sheet: FERT.TRUERATIO
    """

@overload
def measured_ratio(
    water: float | _Many,
    stock: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def ratio_error(
    found_ratio: float,
    set_ratio: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Percent by which the injector feeds too much (+) or too little (-).

    An injector that runs at 1:90 when set to 1:100 feeds 11 % too much.

    Parameters
        found_ratio : parts
            ratio found by the test; above 0 and at most 1,000,000,000
        set_ratio : parts
            ratio that the injector is set to; at least 1 and at most 1,000,000

    Result: %

    Example: tanksheet.ratio_error(90, 100) gives 11.1111 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: ratio of the two concentrations, less 1.

    In a sheet: FERT.RATIOERROR
    """

@overload
def ratio_error(
    found_ratio: float | _Many,
    set_ratio: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def corrected_ratio(
    ratio: float,
    ec_measured: float,
    ec_water: float,
    ec_target: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Setting that should bring the meter to the reading you want.

    What the fertilizer adds to the reading is taken as proportional to the dose, which holds
    within a few percent over a small correction: change the setting, wait, and read again.

    Parameters
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000
        ec_measured : mS/cm
            meter reading of the feed; at least 0 mS/cm and at most 500 mS/cm
        ec_water : mS/cm
            meter reading of the plain water; at least 0 mS/cm and at most 500 mS/cm
        ec_target : mS/cm
            reading that the feed should give; at least 0 mS/cm and at most 500 mS/cm

    Result: parts

    Example: tanksheet.corrected_ratio(100, 2.4, 0.4, 2.2) gives 111.111 parts

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: proportion of the readings above plain water; common practice.

    In a sheet: FERT.NEWRATIO
    """

@overload
def corrected_ratio(
    ratio: float | _Many,
    ec_measured: float | _Many,
    ec_water: float | _Many,
    ec_target: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def tank_life(
    tank: float,
    flow: float,
    ratio: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Hours of running until the stock tank is empty.

    Parameters
        tank : L
            volume of finished stock in the tank; above 0 L and at most 10,000,000 L
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000

    Result: h

    Example: tanksheet.tank_life(200, 45.4, 100) gives 7.34214 h

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: tank volume over stock drawn.

    In a sheet: FERT.TANKLIFE
    """

@overload
def tank_life(
    tank: float | _Many,
    flow: float | _Many,
    ratio: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def stock_mass(
    target: float,
    content: float,
    ratio: float,
    tank: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Fertilizer to weigh out for one tank of stock solution.

    ``content`` is the percent of the nutrient you target; where the label prints an oxide (P2O5,
    K2O), convert it by FERT.ELEMENT first. The tank is the volume of finished stock, so fill up
    to the mark after the fertilizer is in.

    Parameters
        target : mg/L
            concentration wanted at the emitter (ppm); at least 0 mg/L and at most 1,000,000 mg/L
        content : %
            content as printed on the label, 15.5 for 15.5 %; above 0 % and at most 100 %
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000
        tank : L
            volume of finished stock in the tank; above 0 L and at most 10,000,000 L

    Result: g

    Example: tanksheet.stock_mass(150, 15.5, 100, 200) gives 19354.8 g

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: mass balance over the injector; in US units the extension rule ounces per gallon = ppm x
        ratio / (percent x 75).

    In a sheet: FERT.STOCKMASS
    """

@overload
def stock_mass(
    target: float | _Many,
    content: float | _Many,
    ratio: float | _Many,
    tank: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def liquid_volume(
    target: float,
    content: float,
    density: float,
    ratio: float,
    tank: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Liquid fertilizer to pour for one tank of stock solution.

    The label's percent is by weight, so the density on the label is needed as well.

    Parameters
        target : mg/L
            concentration wanted at the emitter (ppm); at least 0 mg/L and at most 1,000,000 mg/L
        content : %
            content as printed on the label, 15.5 for 15.5 %; above 0 % and at most 100 %
        density : kg/L
            density of the liquid; at least 0.3 kg/L and at most 3 kg/L
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000
        tank : L
            volume of finished stock in the tank; above 0 L and at most 10,000,000 L

    Result: L

    Example: tanksheet.liquid_volume(150, 32, 1.3253, 100, 200) gives 7.07387 L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: the mass of FERT.STOCKMASS over the density.

    In a sheet: FERT.LIQUIDVOLUME
    """

@overload
def liquid_volume(
    target: float | _Many,
    content: float | _Many,
    density: float | _Many,
    ratio: float | _Many,
    tank: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def delivered(
    mass: float,
    content: float,
    ratio: float,
    tank: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Concentration at the emitter from what is in the tank.

    The check on FERT.STOCKMASS, and the way to see what else a fertilizer brings.

    Parameters
        mass : g
            fertilizer in the tank; at least 0 g and at most 10,000,000,000 g
        content : %
            content as printed on the label, 15.5 for 15.5 %; above 0 % and at most 100 %
        ratio : parts
            injection ratio: 100 for 1:100; at least 1 and at most 1,000,000
        tank : L
            volume of finished stock in the tank; above 0 L and at most 10,000,000 L

    Result: mg/L

    Example: tanksheet.delivered(19354.8, 15.5, 100, 200) gives 150 mg/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: mass balance over the injector.

    In a sheet: FERT.DELIVERED
    """

@overload
def delivered(
    mass: float | _Many,
    content: float | _Many,
    ratio: float | _Many,
    tank: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def alkalinity_meq(
    alkalinity_as_caco3: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Alkalinity in milliequivalents, from the mg/L as CaCO3 of a lab report.

    Where the report gives bicarbonate instead, 61.02 mg/L of it is 1 meq/L.

    Parameters
        alkalinity_as_caco3 : mg/L
            alkalinity of the water, as CaCO3; at least 0 mg/L and at most 5,000 mg/L

    Result: meq/L

    Example: tanksheet.alkalinity_meq(250) gives 4.9957 meq/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: equivalent weight of CaCO3, from IUPAC atomic weights.

    In a sheet: FERT.ALKALINITY
    """

@overload
def alkalinity_meq(
    alkalinity_as_caco3: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def ion_mmol(
    reported: float,
    ion: str,
    ion_unit: str,
    *,
    errors: _Errors = "raise",
) -> float:
    """A line of a water report, whatever its unit, in mmol/L.

    Plain mg/L is the mass of the ion itself. "As CaCO3", grains per gallon (gpg) and degrees of
    hardness (dH German, fH French, e English) count charges: 50.04 mg/L as CaCO3 is 1 meq/L. "As
    N" and "as S" are the mass of that element alone, so 10 mg/L nitrate as N is 44.3 mg/L as NO3;
    read the heading of the report twice.

    Parameters
        reported : number
            figure as the report prints it; at least 0 and at most 10,000,000
        ion : word
            ion by formula: Ca, Mg, K, Na, NH4, NO3, SO4, Cl, HCO3 and others; a listed word
        ion_unit : word
            unit of the report; one of mg/L, ppm, ug/L, meq/L, mmol/L, umol/L, mg/L as CaCO3, mg/L
            as HCO3, mg/L as N, mg/L as NO3, mg/L as NH4, mg/L as S, mg/L as SO4, gpg, dH, fH, e

    Result: mmol/L

    Example: tanksheet.ion_mmol(200, 'Ca', 'mg/L as CaCO3') gives 1.99828 mmol/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: molar masses from IUPAC atomic weights, in data/ions.csv.

    In a sheet: FERT.IONMMOL
    """

@overload
def ion_mmol(
    reported: float | _Many,
    ion: str | _Many,
    ion_unit: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def ion_element(
    ion_amount: float,
    ion: str,
    *,
    errors: _Errors = "raise",
) -> float:
    """The nutrient that an ion brings, as the element: N of nitrate, S of sulfate.

    Parameters
        ion_amount : mmol/L
            amount of the ion; at least 0 mmol/L and at most 20,000 mmol/L
        ion : word
            ion by formula: Ca, Mg, K, Na, NH4, NO3, SO4, Cl, HCO3 and others; a listed word

    Result: mg/L

    Example: tanksheet.ion_element(2, 'NO3') gives 28.014 mg/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: molar masses from IUPAC atomic weights, in data/ions.csv.

    In a sheet: FERT.IONELEMENT
    """

@overload
def ion_element(
    ion_amount: float | _Many,
    ion: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def hardness(
    calcium: float,
    magnesium: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Total hardness as CaCO3: the calcium and magnesium of the water.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L

    Result: mg/L

    Example: tanksheet.hardness(2, 0.5) gives 250.215 mg/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: definition of hardness (Standard Methods 2340 B), IUPAC atomic weights.

    In a sheet: FERT.HARDNESS
    """

@overload
def hardness(
    calcium: float | _Many,
    magnesium: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def charge_error(
    cations_meq: float,
    anions_meq: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """By how much the charges of a water report fail to balance; 0 is perfect.

    Water carries no charge, so a large figure means a wrong unit, a slip or a missing ion:
    above 0 anions are short, below 0 cations are.

    Parameters
        cations_meq : meq/L
            sum of the cations; at least 0 meq/L and at most 200,000 meq/L
        anions_meq : meq/L
            sum of the anions; at least 0 meq/L and at most 200,000 meq/L

    Result: %

    Example: tanksheet.charge_error(6.2, 5.9) gives 2.47934 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: Standard Methods 1030 E.

    In a sheet: FERT.CHARGEERROR
    """

@overload
def charge_error(
    cations_meq: float | _Many,
    anions_meq: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def acid_need(
    alkalinity: float,
    ph_now: float,
    ph_target: float,
    celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Strong acid that brings water to a lower pH, per litre.

    It takes about two thirds of the alkalinity to reach pH 6.0, three quarters to reach 5.8. The
    carbon dioxide set free is taken to stay in the water, as it does in a closed pipe; in an open
    tank the pH creeps up again as it escapes. In very salty or hard water the dose comes out up
    to 5 % high. Check with a pH meter and correct.

    Parameters
        alkalinity : meq/L
            alkalinity of the water; at least 0 meq/L and at most 100 meq/L
        ph_now : pH
            pH of the water; at least 4 pH and at most 10 pH
        ph_target : pH
            pH wanted; at least 4 pH and at most 10 pH
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC

    Result: meq/L

    Example: tanksheet.acid_need(5, 7.8, 5.8, 25) gives 3.8062 meq/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: carbonate equilibria of Plummer and Busenberg 1982 with Davies activity coefficients;
        checked against titrations in PHREEQC 3.8.

    In a sheet: FERT.ACIDNEED
    """

@overload
def acid_need(
    alkalinity: float | _Many,
    ph_now: float | _Many,
    ph_target: float | _Many,
    celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def acid_volume(
    need: float,
    acid: str,
    water_treated: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Commercial acid for an amount of water.

    Acid into water, never water into acid; goggles, face shield, gloves and apron. Phosphoric
    acid is counted with one proton and citric with two at any pH. They give more the higher the
    pH wanted, so the volume of phosphoric is 4 % too much at pH 5.5, 10 % at 6.0 and a quarter or
    more at 6.5: FERT.ACIDDOSE has all their protons solved.

    Parameters
        need : meq/L
            strong acid needed for each litre; at least 0 meq/L and at most 100 meq/L
        acid : word
            acid by name and strength, from the list of acids; a listed word
        water_treated : L
            water to treat; above 0 L and at most 10,000,000,000 L

    Result: mL

    Example: tanksheet.acid_volume(3.8, 'sulfuric acid 93 %', 1000) gives 109.608 mL

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: equivalents in a litre of the acid, from its strength and density, in data/acids.csv.

    In a sheet: FERT.ACIDVOLUME
    """

@overload
def acid_volume(
    need: float | _Many,
    acid: str | _Many,
    water_treated: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def sodium_adsorption(
    sodium_meq: float,
    calcium_meq: float,
    magnesium_meq: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Sodium adsorption ratio: how far the water's sodium spoils the soil's structure.

    Above 3 it starts to matter, above 9 it is severe, the more so in water of low conductivity.

    Parameters
        sodium_meq : meq/L
            sodium; at least 0 meq/L and at most 5,000 meq/L
        calcium_meq : meq/L
            calcium; at least 0 meq/L and at most 5,000 meq/L
        magnesium_meq : meq/L
            magnesium; at least 0 meq/L and at most 5,000 meq/L

    Result: a number

    Example: tanksheet.sodium_adsorption(7.73, 2.32, 1.44) gives 5.63768

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: USDA Handbook 60; classes of FAO Irrigation and Drainage Paper 29.

    In a sheet: FERT.SAR
    """

@overload
def sodium_adsorption(
    sodium_meq: float | _Many,
    calcium_meq: float | _Many,
    magnesium_meq: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def solubility(
    salt: str,
    table_celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """How many grams of a salt one litre of water dissolves.

    Per litre of water added, not of finished stock, which holds less: for that see
    FERT.SATURATION. For the product as sold, crystals with their water. Stay well below: a stock
    tank cools at night, and salts in a mixture hold each other back. Interpolated between
    0, 10, 20, 30 and 40 degrees C; no answer outside.

    Parameters
        salt : word
            salt by name, from the table of solubilities; a listed word
        table_celsius : degC
            temperature within the table of solubilities; at least 0 degC and at most 40 degC

    Result: g/L

    Example: tanksheet.solubility('potassium nitrate', 15) gives 266.5 g/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: CRC Handbook, IUPAC-NIST and other handbook values, in data/solubility.csv.

    In a sheet: FERT.SOLUBILITY
    """

@overload
def solubility(
    salt: str | _Many,
    table_celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def saturation(
    fertilizer: str,
    table_celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """How many grams of a product one litre of stock can hold.

    Per litre of finished, saturated stock, for the product as sold, crystals with their water: what
    to set a tank's grams per litre against. Each product alone; salts that share an ion hold each
    other back. For acids and liquids it is their own density, since any amount of them mixes with
    water. Interpolated between 0, 10, 20, 30 and 40 degrees C, no answer outside nor for a product
    without a figure.

    Parameters
        fertilizer : word
            product by name, from the list of fertilizers; a listed word
        table_celsius : degC
            temperature within the table of solubilities; at least 0 degC and at most 40 degC

    Result: g/L

    Example: tanksheet.saturation('magnesium sulfate heptahydrate', 20) gives 661 g/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: mass percent at saturation times density, sources by row in data/saturation.csv.

    In a sheet: FERT.SATURATION
    """

@overload
def saturation(
    fertilizer: str | _Many,
    table_celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def conductivity(
    calcium: float,
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    nitrate: float,
    sulfate: float,
    chloride: float,
    bicarbonate: float,
    dihydrogen_phosphate: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Conductivity at 25 degrees C of water with these ions.

    Ions hinder one another, and calcium and magnesium pair with sulfate, so a plain sum of ion
    conductivities reads some 20 % too high in a full-strength feed; this formula allows for both.
    Within 3 % of a full speciation for single salts up to 20 mmol/L and for whole feeds, within
    4 % for natural waters; it is not meant for concentrates. Urea and chelates add almost nothing
    to a meter's reading.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        potassium : mmol/L
            potassium; at least 0 mmol/L and at most 20,000 mmol/L
        sodium : mmol/L
            sodium; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        nitrate : mmol/L
            nitrate; at least 0 mmol/L and at most 20,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        chloride : mmol/L
            chloride; at least 0 mmol/L and at most 20,000 mmol/L
        bicarbonate : mmol/L
            bicarbonate; at least 0 mmol/L and at most 20,000 mmol/L
        dihydrogen_phosphate : mmol/L
            dihydrogen phosphate; at least 0 mmol/L and at most 20,000 mmol/L

    Result: mS/cm

    Example: tanksheet.conductivity(5, 2, 6, 0, 0, 15, 2, 0, 0, 1) gives 2.18358 mS/cm

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: ion conductivities of the CRC Handbook, Onsager's law, Davies activity coefficients,
        pair constants of phreeqc.dat; checked against PHREEQC 3.8 and KCl standards.

    In a sheet: FERT.EC
    """

@overload
def conductivity(
    calcium: float | _Many,
    magnesium: float | _Many,
    potassium: float | _Many,
    sodium: float | _Many,
    ammonium: float | _Many,
    nitrate: float | _Many,
    sulfate: float | _Many,
    chloride: float | _Many,
    bicarbonate: float | _Many,
    dihydrogen_phosphate: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def conductivity_at_25(
    ec_reading: float,
    celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """A meter reading brought to 25 degrees C.

    Most meters do this themselves; use it for one that does not, and never twice. Within 1 % of
    the standard of 0.01 mol/kg KCl from 10 to 35 degrees C.

    Parameters
        ec_reading : mS/cm
            meter reading without temperature correction; at least 0 mS/cm and at most 500 mS/cm
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC

    Result: mS/cm

    Example: tanksheet.conductivity_at_25(1.273, 20) gives 1.40741 mS/cm

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: Standard Methods 2510 B, 1.91 % a degree.

    In a sheet: FERT.ECAT25
    """

@overload
def conductivity_at_25(
    ec_reading: float | _Many,
    celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def acid_gives(
    acid: str,
    ph_target: float,
    celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Equivalents of strong acid that one mole of an acid gives at a pH.

    Nitric and hydrochloric acid give 1 and sulfuric 2 at any pH of a feed. Phosphoric gives
    little more than 1 at pH 5 and about 1.5 at 7, citric 2 to 3: the higher the pH wanted, the
    less of them it takes. Counted for a water of 5 meq/L alkalinity that is as hard as it is
    alkaline, since calcium and magnesium draw protons out of both.

    Parameters
        acid : word
            acid by name and strength, from the list of acids; a listed word
        ph_target : pH
            pH wanted; at least 4 pH and at most 10 pH
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC

    Result: a number

    Example: tanksheet.acid_gives('phosphoric acid 75 %', 6.5, 20) gives 1.30608

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: acid constants and calcium's ion pairs in data/acids.csv, activity coefficients of
        phreeqc.dat.

    In a sheet: FERT.ACIDGIVES
    """

@overload
def acid_gives(
    acid: str | _Many,
    ph_target: float | _Many,
    celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def acid_dose(
    alkalinity: float,
    ph_now: float,
    ph_target: float,
    celsius: float,
    acid: str,
    *,
    errors: _Errors = "raise",
) -> float:
    """Acid that brings water to a lower pH, in mmol of the acid itself, all its protons solved.

    The need of FERT.ACIDNEED over what a mole gives at the pH wanted; closed to air. The water is
    taken to be as hard as it is alkaline: in a soft water full of soda, phosphoric acid comes out
    up to 11 % low and citric up to 27 %; in hard or salty water up to 8 % high at pH 5 to 6.5.
    Begin with less, measure, correct. Acid into water, never water into acid; goggles, face
    shield, gloves and apron.

    Parameters
        alkalinity : meq/L
            alkalinity of the water; at least 0 meq/L and at most 100 meq/L
        ph_now : pH
            pH of the water; at least 4 pH and at most 10 pH
        ph_target : pH
            pH wanted; at least 4 pH and at most 10 pH
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC
        acid : word
            acid by name and strength, from the list of acids; a listed word

    Result: mmol/L

    Example: tanksheet.acid_dose(8, 7.6, 6.5, 20, 'phosphoric acid 75 %') gives 2.24361 mmol/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: as FERT.ACIDNEED and FERT.ACIDGIVES; checked against titrations in PHREEQC 3.8.

    In a sheet: FERT.ACIDDOSE
    """

@overload
def acid_dose(
    alkalinity: float | _Many,
    ph_now: float | _Many,
    ph_target: float | _Many,
    celsius: float | _Many,
    acid: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def calcite_index(
    calcium: float,
    alkalinity: float,
    ph_water: float,
    celsius: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Whether lime comes out of a water: above 0, calcite settles and can clog emitters.

    Below 0 the water dissolves lime. Warm water and a high pH raise it. Salts of phosphate and
    organic matter delay calcite, so a water of up to about 0.5 may stay clear for days. Without
    calcium or without alkalinity it is -9.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        alkalinity : meq/L
            alkalinity of the water; at least 0 meq/L and at most 100 meq/L
        ph_water : pH
            pH of the water; at least 4 pH and at most 10 pH
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: a number

    Example: tanksheet.calcite_index(4, 8, 7.5, 35, 14) gives 1.00662

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: solubility product of Plummer and Busenberg 1982, ion pairs and activity coefficients of
        phreeqc.dat; within 0.1 of PHREEQC 3.8 in natural waters from 5 to 35 degrees C.

    In a sheet: FERT.CALCITEINDEX
    """

@overload
def calcite_index(
    calcium: float | _Many,
    alkalinity: float | _Many,
    ph_water: float | _Many,
    celsius: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def feed_ph(
    alkalinity: float,
    ph_water: float,
    celsius: float,
    net_acid: float,
    carbonate: float,
    phosphate: float,
    ammonium: float,
    sulfate: float,
    silicate: float,
    borate: float,
    calcium: float,
    magnesium: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """The pH of a feed or of a stock.

    The alkalinity and pH are those of the water before anything is added; calcium, magnesium,
    sulfate and the rest are the sum of water and products. Net acid counts what a product brings
    beyond HCO3-, H2PO4-, NH4+, SO4--, boric and silicic acid: 1 for nitric or phosphoric acid, 2
    for sulfuric, -1 for diammonium phosphate and potassium carbonate; urea and chelates count
    nothing. The ionic strength is that of the ions as brought, pairs not allowed for. Carbon
    dioxide is taken to stay in, as in a closed pipe or a full tank: in the open the pH creeps up.
    Nothing is taken to settle. Within 0.1 of a full speciation in feeds, within 0.4 in stocks up
    to an ionic strength of 2 mol/L; beyond it is a guess.

    Parameters
        alkalinity : meq/L
            alkalinity of the water; at least 0 meq/L and at most 100 meq/L
        ph_water : pH
            pH of the water; at least 4 pH and at most 10 pH
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC
        net_acid : meq/L
            acid (+) or base (-) that the products bring; at least -20,000 meq/L and at most 20,000
            meq/L
        carbonate : mmol/L
            carbonate and bicarbonate that the products bring; at least 0 mmol/L and at most 20,000
            mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        silicate : mmol/L
            silicate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        borate : mmol/L
            boron in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: pH

    Example: tanksheet.feed_ph(4, 7.6, 25, 2, 0, 0, 0, 0, 0, 0, 1.497, 0.494, 9) gives 6.26693 pH

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: constants and activity coefficients of phreeqc.dat, carbonate equilibria of Plummer and
        Busenberg 1982; checked against PHREEQC 3.8.

    In a sheet: FERT.FEEDPH
    """

@overload
def feed_ph(
    alkalinity: float | _Many,
    ph_water: float | _Many,
    celsius: float | _Many,
    net_acid: float | _Many,
    carbonate: float | _Many,
    phosphate: float | _Many,
    ammonium: float | _Many,
    sulfate: float | _Many,
    silicate: float | _Many,
    borate: float | _Many,
    calcium: float | _Many,
    magnesium: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def feed_conductivity(
    calcium: float,
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    nitrate: float,
    sulfate: float,
    chloride: float,
    bicarbonate: float,
    dihydrogen_phosphate: float,
    thiosulfate: float,
    ph_feed: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Conductivity at 25 degrees C of a feed at its pH.

    Bicarbonate is all dissolved carbonate, dihydrogen phosphate all phosphate, whatever their
    form at that pH: acid turns bicarbonate into carbon dioxide, which carries nothing, and free
    acid carries five times as much as a salt. Without acid or base it agrees with FERT.EC.
    Within 4 % of PHREEQC 3.8 for nearly all feeds, acid ones too, 6 % at worst; up to a tenth too
    high above pH 8.5 in hard water, where calcium pairs with carbonate. Below pH 3 beside calcium
    or magnesium PHREEQC gives up to a fifth less than the sum over the ions, which acid waters
    were found to meet (McCleskey and others 2012): there a meter may read higher. Not meant for
    concentrates.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        potassium : mmol/L
            potassium; at least 0 mmol/L and at most 20,000 mmol/L
        sodium : mmol/L
            sodium; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        nitrate : mmol/L
            nitrate; at least 0 mmol/L and at most 20,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        chloride : mmol/L
            chloride; at least 0 mmol/L and at most 20,000 mmol/L
        bicarbonate : mmol/L
            bicarbonate; at least 0 mmol/L and at most 20,000 mmol/L
        dihydrogen_phosphate : mmol/L
            dihydrogen phosphate; at least 0 mmol/L and at most 20,000 mmol/L
        thiosulfate : mmol/L
            thiosulfate; at least 0 mmol/L and at most 20,000 mmol/L
        ph_feed : pH
            pH of the feed; at least -1 pH and at most 15 pH

    Result: mS/cm

    Example: tanksheet.feed_conductivity(5, 2, 6, 0, 0, 16, 2, 0, 0, 1, 0, 3.1) gives 2.43825 mS/cm

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: as FERT.EC; conductivities of H+, OH-, HSO4-, HPO4--, CO3-- and S2O3-- of the CRC
        Handbook, constants of phreeqc.dat.

    In a sheet: FERT.FEEDEC
    """

@overload
def feed_conductivity(
    calcium: float | _Many,
    magnesium: float | _Many,
    potassium: float | _Many,
    sodium: float | _Many,
    ammonium: float | _Many,
    nitrate: float | _Many,
    sulfate: float | _Many,
    chloride: float | _Many,
    bicarbonate: float | _Many,
    dihydrogen_phosphate: float | _Many,
    thiosulfate: float | _Many,
    ph_feed: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def gypsum_index(
    calcium: float,
    sulfate: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Whether calcium and sulfate can stay dissolved together: above 0, gypsum settles.

    An upper bound that leaves ion pairs out: good enough to tell which products to keep apart.
    Without calcium or without sulfate it is -9.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: a number

    Example: tanksheet.gypsum_index(50, 20, 260) gives 0.482695

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: solubility product and activity coefficients of phreeqc.dat.

    In a sheet: FERT.GYPSUMINDEX
    """

@overload
def gypsum_index(
    calcium: float | _Many,
    sulfate: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def gypsum_settling(
    calcium: float,
    magnesium: float,
    singles: float,
    sulfate: float,
    anions: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Gypsum that settles out of a mixed concentrate, per litre.

    Magnesium and potassium hold some sulfate back, which is allowed for. Two passes settle how
    much sulfate stays dissolved.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        singles : mmol/L
            potassium, sodium and ammonium together; at least 0 mmol/L and at most 100,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        anions : mmol/L
            nitrate, chloride, bicarbonate and phosphate together; at least 0 mmol/L and at most
            100,000 mmol/L

    Result: g/L

    Example: tanksheet.gypsum_settling(500, 200, 0, 200, 1000) gives 32.6033 g/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: solubility product, ion pairs and activity coefficients of phreeqc.dat; where more than
        2 g/L settles, within 13 % of PHREEQC 3.8 and within 8 % of its sit.dat.

    In a sheet: FERT.GYPSUM
    """

@overload
def gypsum_settling(
    calcium: float | _Many,
    magnesium: float | _Many,
    singles: float | _Many,
    sulfate: float | _Many,
    anions: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def dicalcium_index(
    calcium: float,
    phosphate: float,
    ph_tank: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Whether calcium and phosphate can stay dissolved: above 0, dicalcium phosphate settles.

    The more acid the tank, the more stays dissolved. Without calcium or phosphate it is -9.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        ph_tank : pH
            pH in the stock tank; at least 1 pH and at most 10 pH
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: a number

    Example: tanksheet.dicalcium_index(500, 100, 5, 1700) gives 1.54809

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: solubility product of CaHPO4.2H2O in minteq.v4.dat, ion pairs of phreeqc.dat; within 0.2
        of PHREEQC 3.8 up to an ionic strength of 1 mol/L, too high where magnesium shares the
        phosphate.

    In a sheet: FERT.PHOSPHATEINDEX
    """

@overload
def dicalcium_index(
    calcium: float | _Many,
    phosphate: float | _Many,
    ph_tank: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def dicalcium_settling(
    calcium: float,
    phosphate: float,
    ph_tank: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Dicalcium phosphate that settles out of a concentrate, per litre, if its pH stays as it is.

    Settling makes the tank more acid, which stops it early: without something that holds the pH
    up, less settles than this. From pH 5 up it is within 15 % of PHREEQC 3.8 without magnesium;
    with magnesium, or in a more acid tank, it can be far too high.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        ph_tank : pH
            pH in the stock tank; at least 1 pH and at most 10 pH
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: g/L

    Example: tanksheet.dicalcium_settling(500, 100, 5, 1700) gives 16.6806 g/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: as FERT.PHOSPHATEINDEX.

    In a sheet: FERT.PHOSPHATESETTLING
    """

@overload
def dicalcium_settling(
    calcium: float | _Many,
    phosphate: float | _Many,
    ph_tank: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def struvite_index(
    magnesium: float,
    ammonium: float,
    phosphate: float,
    ph_tank: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Whether magnesium, ammonium and phosphate can stay dissolved: above 0, struvite settles.

    It does so only in tanks that are hardly acid. Without one of the three it is -9.

    Parameters
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        ph_tank : pH
            pH in the stock tank; at least 1 pH and at most 10 pH
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: a number

    Example: tanksheet.struvite_index(200, 100, 100, 6.5, 1000) gives 2.41874

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: solubility product of MgNH4PO4.6H2O, 13.26: Ronteltap, Maurer and Gujer 2007.

    In a sheet: FERT.STRUVITEINDEX
    """

@overload
def struvite_index(
    magnesium: float | _Many,
    ammonium: float | _Many,
    phosphate: float | _Many,
    ph_tank: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def struvite_settling(
    magnesium: float,
    ammonium: float,
    phosphate: float,
    ph_tank: float,
    strength_mmol: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Struvite that can settle out of a tank, per litre.

    The pH is that of the tank before anything settles. It falls as struvite forms, which stops it:
    monoammonium phosphate at pH 4 stays clear, diammonium phosphate loses up to half its
    phosphate. Carbonate or borate that holds the pH up is not counted, and lets more settle.
    Within 15 % of PHREEQC 3.8 where more than 10 g/L settles.

    Parameters
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        ph_tank : pH
            pH in the stock tank; at least 1 pH and at most 10 pH
        strength_mmol : mmol/L
            ionic strength; at least 0 mmol/L and at most 200,000 mmol/L

    Result: mg/L

    Example: tanksheet.struvite_settling(400, 900, 450, 7.5, 2600) gives 52455.5 mg/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: solubility product of MgNH4PO4.6H2O, 13.26 (Ohlinger, Young and Schroeder 1998;
        Ronteltap, Maurer and Gujer 2007); constants of phreeqc.dat.

    In a sheet: FERT.STRUVITE
    """

@overload
def struvite_settling(
    magnesium: float | _Many,
    ammonium: float | _Many,
    phosphate: float | _Many,
    ph_tank: float | _Many,
    strength_mmol: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def water_left(
    calcium: float,
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    nitrate: float,
    sulfate: float,
    chloride: float,
    carbonate: float,
    phosphate: float,
    urea: float,
    borate: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Water in a litre of finished stock.

    What the salts leave room for, crystal water counted as water. A saturated stock of ammonium
    nitrate is half water; far below that it cannot be mixed. Within 4 % up to saturated solutions.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        potassium : mmol/L
            potassium; at least 0 mmol/L and at most 20,000 mmol/L
        sodium : mmol/L
            sodium; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        nitrate : mmol/L
            nitrate; at least 0 mmol/L and at most 20,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        chloride : mmol/L
            chloride; at least 0 mmol/L and at most 20,000 mmol/L
        carbonate : mmol/L
            carbonate and bicarbonate that the products bring; at least 0 mmol/L and at most 20,000
            mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        urea : mmol/L
            urea; at least 0 mmol/L and at most 20,000 mmol/L
        borate : mmol/L
            boron in all its forms; at least 0 mmol/L and at most 20,000 mmol/L

    Result: kg/L

    Example: tanksheet.water_left(0, 0, 2000, 0, 0, 2000, 0, 0, 0, 0, 0, 0) gives 0.914758 kg/L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: apparent volumes fitted to the density correlation of Laliberte (2009); urea and boric
        acid at infinite dilution, from memory.

    In a sheet: FERT.WATERLEFT
    """

@overload
def water_left(
    calcium: float | _Many,
    magnesium: float | _Many,
    potassium: float | _Many,
    sodium: float | _Many,
    ammonium: float | _Many,
    nitrate: float | _Many,
    sulfate: float | _Many,
    chloride: float | _Many,
    carbonate: float | _Many,
    phosphate: float | _Many,
    urea: float | _Many,
    borate: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def crystal_share(
    calcium: float,
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    nitrate: float,
    sulfate: float,
    chloride: float,
    carbonate: float,
    phosphate: float,
    urea: float,
    borate: float,
    table_celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """How near a stock is to letting a salt crystallize, 100 = saturated.

    The nearest of the salts that can form from the ions of a tank, whichever products brought
    them. The ions are in a litre of finished stock. Below 85 the tank is clear, above 120 it
    settles; between, test a jar at the tank's coldest. Calcium with sulfate, phosphate or
    carbonate is not judged here (FERT.GYPSUM, FERT.PHOSPHATEINDEX, FERT.CALCITEINDEX), nor
    struvite, iron, manganese, zinc, copper. Count thiosulfate as 2 chloride.

    Parameters
        calcium : mmol/L
            calcium; at least 0 mmol/L and at most 20,000 mmol/L
        magnesium : mmol/L
            magnesium; at least 0 mmol/L and at most 20,000 mmol/L
        potassium : mmol/L
            potassium; at least 0 mmol/L and at most 20,000 mmol/L
        sodium : mmol/L
            sodium; at least 0 mmol/L and at most 20,000 mmol/L
        ammonium : mmol/L
            ammonium; at least 0 mmol/L and at most 20,000 mmol/L
        nitrate : mmol/L
            nitrate; at least 0 mmol/L and at most 20,000 mmol/L
        sulfate : mmol/L
            sulfate; at least 0 mmol/L and at most 20,000 mmol/L
        chloride : mmol/L
            chloride; at least 0 mmol/L and at most 20,000 mmol/L
        carbonate : mmol/L
            carbonate and bicarbonate that the products bring; at least 0 mmol/L and at most 20,000
            mmol/L
        phosphate : mmol/L
            phosphate in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        urea : mmol/L
            urea; at least 0 mmol/L and at most 20,000 mmol/L
        borate : mmol/L
            boron in all its forms; at least 0 mmol/L and at most 20,000 mmol/L
        table_celsius : degC
            temperature within the table of solubilities; at least 0 degC and at most 40 degC

    Result: %

    Example: tanksheet.crystal_share(0, 0, 1000, 0, 0, 1000, 0, 0, 0, 0, 0, 0, 10) gives 66.2673 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: activity coefficients fitted to PHREEQC with pitzer.dat and published parameters;
        saturated solutions of the CRC Handbook, in data/solubility.csv.

    In a sheet: FERT.CRYSTALSHARE
    """

@overload
def crystal_share(
    calcium: float | _Many,
    magnesium: float | _Many,
    potassium: float | _Many,
    sodium: float | _Many,
    ammonium: float | _Many,
    nitrate: float | _Many,
    sulfate: float | _Many,
    chloride: float | _Many,
    carbonate: float | _Many,
    phosphate: float | _Many,
    urea: float | _Many,
    borate: float | _Many,
    table_celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def field_mass(
    dose: float,
    area: float,
    content: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Product that gives an area its dose of one nutrient.

    Parameters
        dose : kg/ha
            nutrient wanted on each hectare; at least 0 kg/ha and at most 100,000 kg/ha
        area : ha
            area fed; above 0 ha and at most 10,000,000 ha
        content : %
            content as printed on the label, 15.5 for 15.5 %; above 0 % and at most 100 %

    Result: kg

    Example: tanksheet.field_mass(25, 8, 15.5) gives 1290.32 kg

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: dose times area over content.

    In a sheet: FERT.FIELDMASS
    """

@overload
def field_mass(
    dose: float | _Many,
    area: float | _Many,
    content: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def field_volume(
    dose: float,
    area: float,
    content: float,
    density: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Liquid product that gives an area its dose of one nutrient.

    Parameters
        dose : kg/ha
            nutrient wanted on each hectare; at least 0 kg/ha and at most 100,000 kg/ha
        area : ha
            area fed; above 0 ha and at most 10,000,000 ha
        content : %
            content as printed on the label, 15.5 for 15.5 %; above 0 % and at most 100 %
        density : kg/L
            density of the liquid; at least 0.3 kg/L and at most 3 kg/L

    Result: L

    Example: tanksheet.field_volume(25, 8, 32, 1.3253) gives 471.591 L

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: the mass of FERT.FIELDMASS over the density.

    In a sheet: FERT.FIELDVOLUME
    """

@overload
def field_volume(
    dose: float | _Many,
    area: float | _Many,
    content: float | _Many,
    density: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def injection_rate(
    volume_dose: float,
    area: float,
    hours: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Rate at which a liquid or a stock is injected to give an area its dose in a time.

    The time is that of injecting alone: filling the lines before and rinsing them after are not
    part of it.

    Parameters
        volume_dose : L/ha
            liquid wanted on each hectare; at least 0 L/ha and at most 1,000,000,000 L/ha
        area : ha
            area fed; above 0 ha and at most 10,000,000 ha
        hours : h
            time in which it is injected; above 0 h and at most 100,000 h

    Result: L/h

    Example: tanksheet.injection_rate(58.95, 8, 3) gives 157.2 L/h

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: volume over time; chemigation bulletins (Washington State University FS035E).

    In a sheet: FERT.INJECTIONRATE
    """

@overload
def injection_rate(
    volume_dose: float | _Many,
    area: float | _Many,
    hours: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def uniformity(
    readings: Sequence[float | None],
    measure: Literal["CU", "DU"] | str,
    *,
    errors: _Errors = "raise",
) -> float:
    """How evenly emitters deliver, from catches at several of them.

    "CU" is Christiansen's coefficient; "DU" is the mean of the lowest quarter over the mean,
    a quarter rounded up to whole readings. Uneven water is uneven feeding.

    Parameters
        readings : readings
            a range of readings, blanks left out; at least 2 numbers, each at least 0 and at most
            1e+12
        measure : word
            "CU" Christiansen, "DU" lowest quarter; one of CU, DU

    Result: %

    Example: tanksheet.uniformity([1.9, 2.1, 2.0, 1.8], 'CU') gives 94.8718 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.
    Readings lie along the last axis: each row of a table is one range.

    Source: Christiansen 1942; low-quarter distribution uniformity as in ASAE EP458.

    In a sheet: FERT.UNIFORMITY
    """

@overload
def uniformity(
    readings: Sequence[Any] | _Many,
    measure: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def quarter_dose(
    readings: Sequence[float | None],
    dose: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """What the quarter of the area with the least water gets of a dose.

    Catch at 16 emitters or more while feed runs. Where the feed's strength differs too, give the
    catch of each emitter times its reading above plain water.

    Parameters
        readings : readings
            a range of readings, blanks left out; at least 2 numbers, each at least 0 and at most
            1e+12
        dose : kg/ha
            nutrient wanted on each hectare; at least 0 kg/ha and at most 100,000 kg/ha

    Result: kg/ha

    Example: tanksheet.quarter_dose([1.9, 2.1, 2.0, 1.8], 50) gives 46.1538 kg/ha

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.
    Readings lie along the last axis: each row of a table is one range.

    Source: the dose times the low-quarter distribution uniformity of FERT.UNIFORMITY.

    In a sheet: FERT.QUARTERDOSE
    """

@overload
def quarter_dose(
    readings: Sequence[Any] | _Many,
    dose: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def mean_reading(
    repeats: Sequence[float | None],
    *,
    errors: _Errors = "raise",
) -> float:
    """Mean of repeated readings, refusing text among them.

    A spreadsheet's own AVERAGE passes over a reading typed as text, such as "25 s"; this does not.

    Parameters
        repeats : readings
            the same reading taken again, blanks left out; at least 1 numbers, each at least 0 and
            at most 1e+12

    Result: a number

    Example: tanksheet.mean_reading([25.2, 24.8, 25.6]) gives 25.2

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.
    Readings lie along the last axis: each row of a table is one range.

    Source: arithmetic mean.

    In a sheet: FERT.MEAN
    """

@overload
def mean_reading(
    repeats: Sequence[Any] | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def spread(
    readings: Sequence[float | None],
    *,
    errors: _Errors = "raise",
) -> float:
    """Spread of repeated readings as a percent of their mean (coefficient of variation).

    Parameters
        readings : readings
            a range of readings, blanks left out; at least 2 numbers, each at least 0 and at most
            1e+12

    Result: %

    Example: tanksheet.spread([25.2, 24.8, 25.6]) gives 1.5873 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.
    Readings lie along the last axis: each row of a table is one range.

    Source: sample standard deviation (n - 1) over the mean.

    In a sheet: FERT.SPREAD
    """

@overload
def spread(
    readings: Sequence[Any] | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def packs(
    needed: float,
    pack: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Whole packs to buy. Both masses in one unit.

    Parameters
        needed : kg
            product needed; at least 0 kg and at most 10,000,000,000 kg
        pack : kg
            product in one pack; above 0 kg and at most 1,000,000 kg

    Result: a number

    Example: tanksheet.packs(1290.3, 25) gives 52

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: quotient rounded up, less one part in a thousand million for rounding noise.

    In a sheet: FERT.PACKS
    """

@overload
def packs(
    needed: float | _Many,
    pack: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def nutrient_cost(
    pack_price: float,
    pack: float,
    content: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Price of one kilogram of a nutrient, to compare products of different strength.

    Parameters
        pack_price : money
            price of one pack; at least 0 and at most 1e+12
        pack : kg
            product in one pack; above 0 kg and at most 1,000,000 kg
        content : %
            content as printed on the label, 15.5 for 15.5 %; above 0 % and at most 100 %

    Result: money/kg

    Example: tanksheet.nutrient_cost(25, 25, 15.5) gives 6.45161 money/kg

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: price over mass of nutrient in the pack.

    In a sheet: FERT.NUTRIENTCOST
    """

@overload
def nutrient_cost(
    pack_price: float | _Many,
    pack: float | _Many,
    content: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def pipe_dispersion(
    flow: float,
    inside: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """How strongly turbulent flow smears the front of fed water along a pipe.

    For FERT.FRONT. Water at 20 degrees C in a smooth pipe; colder water smears up to a twentieth
    more. Below a Reynolds number of 20,000 measured fronts are broader than this, and below
    4,000, where the flow is no longer turbulent, the formula does not hold and is refused.

    Parameters
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm

    Result: m2/s

    Example: tanksheet.pipe_dispersion(756.9, 102.26) gives 0.0357685 m2/s

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: D = 10.1 x radius x friction velocity (Taylor 1954); friction of a smooth pipe after
        Haaland 1983, within 2 % of Colebrook.

    In a sheet: FERT.DISPERSION
    """

@overload
def pipe_dispersion(
    flow: float | _Many,
    inside: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def front(
    length: float,
    speed: float,
    dispersion: float,
    minutes: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Share of the full concentration that has reached a place in a pipe.

    Count the minutes from the moment at which injection begins. At the plug time of
    FERT.TRAVELTIME it is 50 %. When injection ends the front of clean water runs alike: take the
    share of a second front, counted from then, off the first.

    Parameters
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        speed : m/s
            mean speed of the water; above 0 m/s and at most 100 m/s
        dispersion : m2/s
            smearing along the pipe, FERT.DISPERSION; above 0 m2/s and at most 10,000 m2/s
        minutes : min
            time since injection began; above 0 min and at most 1,000,000 min

    Result: %

    Example: tanksheet.front(100, 1, 0.05, 1.7) gives 73.4416 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: plug flow with axial dispersion, C/C0 = erfc((x - u t) / (2 sqrt(D t))) / 2, the first
        term of Ogata and Banks 1961; the error function by Abramowitz and Stegun 7.1.26, so that
        every spreadsheet has it: within 0.00001 % of the full concentration.

    In a sheet: FERT.FRONT
    """

@overload
def front(
    length: float | _Many,
    speed: float | _Many,
    dispersion: float | _Many,
    minutes: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def front_spread(
    length: float,
    inside: float,
    flow: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Standard deviation in time of a front that has run along a plain pipe.

    Nine tenths of the rise lie within 1.64 of it before and after the plug time. Of stretches one
    after the other the squares add up. Refused where FERT.DISPERSION is.

    Parameters
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min

    Result: min

    Example: tanksheet.front_spread(100, 55.4, 166.667) gives 0.02408 min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: variance 2 D L / u^3 of plug flow with axial dispersion, for small dispersion
        (Levenspiel, Chemical Reaction Engineering, example 13.2 as tbc-python.fossee.in works it),
        D after Taylor 1954.

    In a sheet: FERT.FRONTSPREAD
    """

@overload
def front_spread(
    length: float | _Many,
    inside: float | _Many,
    flow: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def lateral_spread(
    length: float,
    inside: float,
    emitters: float,
    emitter_flow: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Standard deviation in time of a front at the last emitter of a lateral.

    Near its end a lateral flows too slowly for FERT.DISPERSION, so each piece between two emitters
    is taken for a small vessel that is mixed through: broad rather than sharp. Measure the EC
    where it matters.

    Parameters
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        emitters : number
            emitters on the lateral; at least 1 and at most 1,000,000
        emitter_flow : L/h
            flow of one emitter; above 0 L/h and at most 1,000,000 L/h

    Result: min

    Example: tanksheet.lateral_spread(99.9, 13.6, 333, 1.5) gives 2.23371 min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: tanks in series, variances add up (Levenspiel, Chemical Reaction Engineering, example
        14.4 as tbc-python.fossee.in works it); the sum of 1/n^2 written as pi^2/6 - 1/N + 1/(2N^2)
        - 1/(6N^3), 1.1 % off in the end for one emitter, less beyond.

    In a sheet: FERT.LATERALSPREAD
    """

@overload
def lateral_spread(
    length: float | _Many,
    inside: float | _Many,
    emitters: float | _Many,
    emitter_flow: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def pulse_share(
    arrival_minutes: float,
    spread_minutes: float,
    inject_minutes: float,
    run_minutes: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Share of what an emitter is due that has left it, so long after injection began.

    What has not left it when the valve closes stays in the pipe, and goes to whoever drains it.

    Parameters
        arrival_minutes : min
            plug time from injector to emitter; at least 0 min and at most 1,000,000 min
        spread_minutes : min
            standard deviation of the front there; above 0 min and at most 1,000,000 min
        inject_minutes : min
            time of injecting; above 0 min and at most 1,000,000 min
        run_minutes : min
            time since injection began; at least 0 min and at most 1,000,000 min

    Result: %

    Example: tanksheet.pulse_share(20, 3, 60, 75) gives 91.5675 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: integral of a normal front at the plug time, less that of the front of clean water that
        follows it when injection ends (mass balance at the emitter).

    In a sheet: FERT.PULSESHARE
    """

@overload
def pulse_share(
    arrival_minutes: float | _Many,
    spread_minutes: float | _Many,
    inject_minutes: float | _Many,
    run_minutes: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def mixing_length(
    inside: float,
    flow: float,
    unevenness: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Length of straight pipe after an injection point until the feed is even across the pipe.

    Even means that nowhere it is off its mean by more than the unevenness. For stock that comes in
    softly at the wall, as from a side tee: the slowest way to mix. A jet into the stream, a tube
    to the middle, elbows or a mixer need less. It says nothing of stock that comes in strokes, nor
    of a heavy solution that runs along the bottom of slow water: where it matters, measure. Water
    at 20 degrees C in a smooth pipe; refused where FERT.DISPERSION is.

    Parameters
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min
        unevenness : %
            most by which the feed is off its mean; at least 0.1 % and at most 50 %

    Result: m

    Example: tanksheet.mixing_length(50, 100, 5) gives 8.6142 m

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: derived, since no printed formula was found: diffusion of 0.4/6 x radius x friction
        velocity, of what it evens out the slowest part, J1(1.84118 r/radius) x cos(angle).
        Reichardt's profiles of speed and eddies ask for up to 5 % more (14 % at an unevenness of 50
        %), the 0.459 of simulations in place of 0.4 for an eighth less (Pirozzoli et al. 2022).
        Jets: Ger and Holley 1976.

    In a sheet: FERT.MIXINGLENGTH
    """

@overload
def mixing_length(
    inside: float | _Many,
    flow: float | _Many,
    unevenness: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def ratio_uncertainty(
    water: float,
    stock: float,
    water_error: float,
    stock_error: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """By how many percent a drawdown test may be wrong, either way, in 95 of 100 cases.

    Give the most by which the water and the stock may be misread: half a mark of the cylinder,
    the meter's printed error, a second of a stopwatch turned into litres. It covers the readings,
    not a meter that counts wrong or air in the hose.

    Parameters
        water : L
            water that passed during the test; above 0 L and at most 1,000,000,000 L
        stock : L
            stock drawn during the test; above 0 L and at most 1,000,000,000 L
        water_error : L
            most by which the water may be misread, either way; at least 0 L and at most
            1,000,000,000 L
        stock_error : L
            most by which the stock may be misread, either way; at least 0 L and at most
            1,000,000,000 L

    Result: %

    Example: tanksheet.ratio_uncertainty(37.5, 0.25, 0.5, 0.005) gives 2.77555 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: JCGM 100:2008 (GUM), 5.1: relative variances of a quotient add up; limits taken as
        rectangular (4.3.7), coverage factor 2.

    In a sheet: FERT.RATIOUNCERTAINTY
    """

@overload
def ratio_uncertainty(
    water: float | _Many,
    stock: float | _Many,
    water_error: float | _Many,
    stock_error: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def ec_uncertainty(
    ec_measured: float,
    ec_water: float,
    ec_error: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """By how many percent the dose told from two meter readings may be wrong, in 95 of 100 cases.

    The dose shows as what the feed reads above plain water, so the error of both readings counts;
    the corrected setting of FERT.NEWRATIO is as uncertain. A meter that is out of calibration
    errs besides.

    Parameters
        ec_measured : mS/cm
            meter reading of the feed; at least 0 mS/cm and at most 500 mS/cm
        ec_water : mS/cm
            meter reading of the plain water; at least 0 mS/cm and at most 500 mS/cm
        ec_error : mS/cm
            most by which one reading may be off, either way; at least 0 mS/cm and at most 500 mS/cm

    Result: %

    Example: tanksheet.ec_uncertainty(1.74, 0.25, 0.02) gives 2.19194 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: JCGM 100:2008 (GUM), 5.1: variances of a difference add up; limits taken as rectangular
        (4.3.7), coverage factor 2.

    In a sheet: FERT.ECUNCERTAINTY
    """

@overload
def ec_uncertainty(
    ec_measured: float | _Many,
    ec_water: float | _Many,
    ec_error: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def chart_limit(
    centre: float,
    mean_range: float,
    limit: Literal["upper", "lower", "range"] | str,
    *,
    errors: _Errors = "raise",
) -> float:
    """Limit of a control chart of single readings and their moving ranges.

    "upper" and "lower" are for the readings, "range" for the differences between one reading and
    the next. Take mean and mean range from readings of a time in which all ran as it should; a
    reading outside has a cause worth looking for.

    Parameters
        centre : number
            mean of the readings, or the target; at least -1,000,000,000 and at most 1,000,000,000
        mean_range : number
            mean difference of one reading to the next, no sign; at least 0 and at most
            1,000,000,000
        limit : word
            "upper" or "lower" for readings, "range" for the differences; one of upper, lower, range

    Result: a number

    Example: tanksheet.chart_limit(50.81, 1.8778, 'upper') gives 55.8041

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: mean +- 3 mean range / 1.128;
        3.267 x mean range.

    In a sheet: FERT.CHARTLIMIT
    """

@overload
def chart_limit(
    centre: float | _Many,
    mean_range: float | _Many,
    limit: str | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def weighted_average(
    average_before: float,
    latest: float,
    weight: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Moving average that forgets: the newest reading by its weight, the old average by the rest.

    It shows a slow drift that single readings hide. Begin with the target.

    Parameters
        average_before : number
            the average before this reading; at least -1,000,000,000 and at most 1,000,000,000
        latest : number
            the newest reading; at least -1,000,000,000 and at most 1,000,000,000
        weight : number
            weight of the newest reading, 0.2 to 0.3 as a rule; above 0 and at most 1

    Result: a number

    Example: tanksheet.weighted_average(50, 52, 0.3) gives 50.6

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4; weights of 0.2 to 0.3 are
        usual.

    In a sheet: FERT.EWMA
    """

@overload
def weighted_average(
    average_before: float | _Many,
    latest: float | _Many,
    weight: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def weighted_limit(
    mean_range: float,
    weight: float,
    reading_count: float,
    limit_width: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """How far the average of FERT.EWMA may lie from the target, either way.

    It widens over the first readings and then stays. The width is counted in standard deviations:
    3 is usual.

    Parameters
        mean_range : number
            mean difference of one reading to the next, no sign; at least 0 and at most
            1,000,000,000
        weight : number
            weight of the newest reading, 0.2 to 0.3 as a rule; above 0 and at most 1
        reading_count : number
            how many readings so far; at least 1 and at most 1,000,000
        limit_width : number
            width in standard deviations, 3 as a rule; above 0 and at most 10

    Result: a number

    Example: tanksheet.weighted_limit(2, 0.2, 5, 3) gives 1.67516

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4, with the exact variance
        lambda/(2 - lambda) (1 - (1 - lambda)^(2 i)) of the i-th average (Lucas and Saccucci 1990);
        standard deviation as mean range / 1.128.

    In a sheet: FERT.EWMALIMIT
    """

@overload
def weighted_limit(
    mean_range: float | _Many,
    weight: float | _Many,
    reading_count: float | _Many,
    limit_width: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def chlorine_mass(
    chlorine: float,
    available: float,
    water_treated: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Calcium hypochlorite that brings free chlorine to a volume of water.

    Add what the water itself uses up (its demand) to the residual wanted, and test at the last
    emitter. Dissolve it in water, never the other way round, keep it from acid, ammonium, urea and
    oil, and let the label and local rules decide.

    Parameters
        chlorine : mg/L
            free chlorine wanted, and what the water uses up; at least 0 mg/L and at most 100,000
            mg/L
        available : %
            available chlorine as the label prints it; above 0 % and at most 100 %
        water_treated : L
            water to treat; above 0 L and at most 10,000,000,000 L

    Result: g

    Example: tanksheet.chlorine_mass(10, 65, 10000) gives 153.846 g

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: mass balance; available chlorine in percent by weight, as labels print it.

    In a sheet: FERT.CHLORINEMASS
    """

@overload
def chlorine_mass(
    chlorine: float | _Many,
    available: float | _Many,
    water_treated: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def chlorine_volume(
    chlorine: float,
    available: float,
    water_treated: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Sodium hypochlorite solution that brings free chlorine to a volume of water.

    The percent is available chlorine as grams in 100 mL (trade percent); a percent by weight is
    multiplied by the density first. It weakens in store, so test at the last emitter. Chlorine
    gas comes from it with acid: never together, never through one injector unrinsed; the label and
    local rules decide.

    Parameters
        chlorine : mg/L
            free chlorine wanted, and what the water uses up; at least 0 mg/L and at most 100,000
            mg/L
        available : %
            available chlorine as the label prints it; above 0 % and at most 100 %
        water_treated : L
            water to treat; above 0 L and at most 10,000,000,000 L

    Result: mL

    Example: tanksheet.chlorine_volume(10, 12.5, 10000) gives 800 mL

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: mass balance; extension tables of chlorine injection reckon alike.

    In a sheet: FERT.CHLORINEVOLUME
    """

@overload
def chlorine_volume(
    chlorine: float | _Many,
    available: float | _Many,
    water_treated: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def chlorine_rate(
    chlorine: float,
    available: float,
    flow: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Sodium hypochlorite solution to inject in an hour, for free chlorine in running water.

    What the water uses up (its demand) comes on top of the residual wanted; inject ahead of the
    filter and test at the last emitter. Cautions of FERT.CHLORINEVOLUME hold.

    Parameters
        chlorine : mg/L
            free chlorine wanted, and what the water uses up; at least 0 mg/L and at most 100,000
            mg/L
        available : %
            available chlorine as the label prints it; above 0 % and at most 100 %
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min

    Result: L/h

    Example: tanksheet.chlorine_rate(10, 12.5, 100) gives 0.48 L/h

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: FERT.CHLORINEVOLUME of the water of one hour.

    In a sheet: FERT.CHLORINERATE
    """

@overload
def chlorine_rate(
    chlorine: float | _Many,
    available: float | _Many,
    flow: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def hypochlorous_share(
    ph_water: float,
    celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Share of the free chlorine that is hypochlorous acid, the form that kills.

    Above pH 7.5 most of it is the weak hypochlorite. Acid brings the share back, but only in the
    water, through an injection point of its own: acid and hypochlorite together give chlorine gas.

    Parameters
        ph_water : pH
            pH of the water; at least 4 pH and at most 10 pH
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC

    Result: %

    Example: tanksheet.hypochlorous_share(7, 20) gives 79.2418 %

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: pK = 3000/T - 10.0686 + 0.0253 T (Morris 1966, T in kelvin), dilute water.

    In a sheet: FERT.HOCL
    """

@overload
def hypochlorous_share(
    ph_water: float | _Many,
    celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def flush_flow(
    inside: float,
    flush_speed: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Flow that must leave the open end of a lateral to flush it.

    At least 0.3 m/s (1 ft/s) is asked for; 0.5 m/s or more where dirt has settled.

    Parameters
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        flush_speed : m/s
            speed wanted at the open end; above 0 m/s and at most 100 m/s

    Result: L/min

    Example: tanksheet.flush_flow(16, 0.3) gives 3.61911 L/min

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: speed times cross-section; University of California, maintenance of microirrigation
        systems.

    In a sheet: FERT.FLUSHFLOW
    """

@overload
def flush_flow(
    inside: float | _Many,
    flush_speed: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def mesh_opening(
    mesh: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Opening of a screen by its mesh number, as test sieves have it.

    A filter's own sheet may state another opening: wires of other thickness leave other holes.

    Parameters
        mesh : number
            mesh number of the screen: 80, 120, 200; at least 4 and at most 635

    Result: um

    Example: tanksheet.mesh_opening(120) gives 125 um

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: ASTM E11, nominal openings by sieve number.

    In a sheet: FERT.MESHOPENING
    """

@overload
def mesh_opening(
    mesh: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def filter_opening(
    passage: float,
    passage_part: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Widest opening of a filter that guards an emitter's smallest passage.

    A seventh to a tenth of the passage is common practice, since grains that pass singly can
    bridge; follow the emitter's own sheet first.

    Parameters
        passage : mm
            smallest passage of the emitter; above 0 mm and at most 1,000 mm
        passage_part : number
            part of it: 10 for a tenth; at least 1 and at most 100

    Result: um

    Example: tanksheet.filter_opening(0.8, 8) gives 100 um

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: Victoria DPI note AG0136 asks for an eighth, or a fifth with regular chlorination.

    In a sheet: FERT.FILTEROPENING
    """

@overload
def filter_opening(
    passage: float | _Many,
    passage_part: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def lift_limit(
    altitude: float,
    celsius: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """The height that no suction can lift water beyond, since it boils there.

    A unit lifts much less: its nameplate says how high. Losses of the hose come off this too.

    Parameters
        altitude : m
            height above the sea; at least 0 m and at most 5,000 m
        celsius : degC
            temperature of the water; at least 0 degC and at most 45 degC

    Result: m

    Example: tanksheet.lift_limit(0, 20) gives 10.1091 m

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: air pressure and vapour pressure of FAO Irrigation and Drainage Paper 56, equations 7
        and 11; density of water after McCutcheon, Martin and Barnwell 1993 (from memory).

    In a sheet: FERT.LIFTLIMIT
    """

@overload
def lift_limit(
    altitude: float | _Many,
    celsius: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def hose_loss(
    stock_flow: float,
    inside: float,
    length: float,
    viscosity: float,
    density: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Pressure that a stock loses in the suction hose.

    It rises with the fourth power of a narrower bore. A piston draws in strokes, so that the loss
    at its peak is higher than this mean: leave room. Ten kilopascals are about a metre of lift.

    Parameters
        stock_flow : L/h
            stock that is drawn; above 0 L/h and at most 1,000,000 L/h
        inside : mm
            inside diameter of the pipe; above 0 mm and at most 10,000 mm
        length : m
            length of the pipe; at least 0 m and at most 1,000,000 m
        viscosity : mPa s
            viscosity of the stock, 1 for water; above 0 mPa s and at most 100,000 mPa s
        density : kg/L
            density of the liquid; at least 0.3 kg/L and at most 3 kg/L

    Result: kPa

    Example: tanksheet.hose_loss(60, 8, 2, 50, 1.2) gives 16.5786 kPa

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: Hagen-Poiseuille; where it is more, Blasius' friction of a smooth hose (between the two,
        from a Reynolds number of about 1,200 on, this errs on the high side).

    In a sheet: FERT.HOSELOSS
    """

@overload
def hose_loss(
    stock_flow: float | _Many,
    inside: float | _Many,
    length: float | _Many,
    viscosity: float | _Many,
    density: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def loss_at(
    injector_loss: float,
    rated_flow: float,
    flow: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Pressure that an injector, valve or filter takes at a flow, from what it takes at another.

    A nameplate prints one loss at one flow. Injectors in series add up, each at its own flow; of
    one beside a bypass only its part of the flow counts. Something clogged takes more.

    Parameters
        injector_loss : kPa
            pressure lost in the injector; at least 0 kPa and at most 100,000 kPa
        rated_flow : L/min
            flow at which that loss is printed; above 0 L/min and at most 1,000,000 L/min
        flow : L/min
            water flow through the injector; above 0 L/min and at most 1,000,000 L/min

    Result: kPa

    Example: tanksheet.loss_at(50, 100, 60) gives 18 kPa

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: losses of fittings and valves go with the square of the flow (Crane Technical Paper 410;
        the flow coefficient of IEC 60534); of injectors common practice, no source.

    In a sheet: FERT.LOSSAT
    """

@overload
def loss_at(
    injector_loss: float | _Many,
    rated_flow: float | _Many,
    flow: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
@overload
def service_days(
    interval_days: float,
    days_since: float,
    interval_hours: float,
    hours_since: float,
    hours_a_day: float,
    interval_volume: float,
    volume_since: float,
    volume_a_day: float,
    *,
    errors: _Errors = "raise",
) -> float:
    """Days until the next service by calendar, hours or volume, whichever comes first.

    Below 0 it is overdue by so many days. An interval of 0 is not counted; 36500 days stand for
    one that never comes.

    Parameters
        interval_days : days
            days from one service to the next, 0 if none; at least 0 days and at most 36,500 days
        days_since : days
            days since the last service; at least 0 days and at most 36,500 days
        interval_hours : h
            hours of running between services, 0 if none; at least 0 h and at most 1,000,000 h
        hours_since : h
            hours run since the last service; at least 0 h and at most 1,000,000 h
        hours_a_day : h
            hours of running in a day, over the week; at least 0 h and at most 24 h
        interval_volume : L
            water passed between services, 0 if none; at least 0 L and at most 1e+12 L
        volume_since : L
            water passed since the last service; at least 0 L and at most 1e+14 L
        volume_a_day : L
            water that passes in a day, over the week; at least 0 L and at most 10,000,000,000 L

    Result: days

    Example: tanksheet.service_days(365, 300, 500, 420, 4, 0, 0, 0) gives 20 days

    Takes numbers, lists, NumPy arrays, columns of pandas and polars, and quantities of pint, also
    mixed; a plain number is in the unit above. The result is of the kind that came in. A bad row
    raises ValueError and names the row; errors="nan" gives NaN there instead.

    Source: what is left of each interval over its use in a day; the label of the injector says the
        intervals.

    In a sheet: FERT.SERVICEDAYS
    """

@overload
def service_days(
    interval_days: float | _Many,
    days_since: float | _Many,
    interval_hours: float | _Many,
    hours_since: float | _Many,
    hours_a_day: float | _Many,
    interval_volume: float | _Many,
    volume_since: float | _Many,
    volume_a_day: float | _Many,
    *,
    errors: _Errors = "raise",
) -> Any: ...
