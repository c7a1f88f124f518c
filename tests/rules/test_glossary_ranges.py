"""The ranges of the glossary, held by hand: they guard every function, formula and validation.

Their sources: definitions (a percentage ends at 100, a ratio of 1 is undiluted), the liquids that
are sold (0.3 to 3 kg/L), the pH and the temperatures for which the water functions were checked
against PHREEQC (4 to 10, 0 to 45 degC), the table of solubilities (0 to 40 degC); the other upper
limits only catch slips: common practice, no source.
"""

from __future__ import annotations

import math

import pytest

from tanksheet.units import QUANTITIES

# Name, ">" or ">=", lowest, highest, unit ("-" for none).
RANGES = """
volume > 0 1000000000 L
seconds > 0 10000000 s
emitter_count >= 0 10000000 -
nominal_flow > 0 1000000 L/h
pressure > 0 100000 kPa
nominal_pressure > 0 100000 kPa
exponent >= 0 2 -
strokes >= 0 1000000 -
stroke_volume > 0 10000 L
flow > 0 1000000 L/min
inside > 0 10000 mm
length >= 0 1000000 m
roughness > 0 200 -
emitters >= 1 1000000 -
emitter_flow > 0 1000000 L/h
wide_inside > 0 10000 mm
supply_pressure >= 0 100000 kPa
injector_loss >= 0 100000 kPa
rated_flow > 0 1000000 L/min
pipe_loss >= 0 inf kPa
neck_loss >= 0 inf kPa
other_loss >= 0 100000 kPa
rise >= -10000 10000 m
ratio >= 1 1000000 parts
percent >= 0.0001 100 %
water > 0 1000000000 L
stock > 0 1000000000 L
found_ratio > 0 1000000000 parts
set_ratio >= 1 1000000 parts
ec_measured >= 0 500 mS/cm
ec_water >= 0 500 mS/cm
ec_target >= 0 500 mS/cm
tank > 0 10000000 L
target >= 0 1000000 mg/L
content > 0 100 %
mass >= 0 1e10 g
density >= 0.3 3 kg/L
percent_oxide >= 0 100 %
amount >= -inf inf -
alkalinity_as_caco3 >= 0 5000 mg/L
alkalinity >= 0 100 meq/L
ph_now >= 4 10 pH
ph_target >= 4 10 pH
ph_water >= 4 10 pH
celsius >= 0 45 degC
table_celsius >= 0 40 degC
need >= 0 100 meq/L
water_treated > 0 1e10 L
calcium >= 0 20000 mmol/L
magnesium >= 0 20000 mmol/L
potassium >= 0 20000 mmol/L
sodium >= 0 20000 mmol/L
ammonium >= 0 20000 mmol/L
nitrate >= 0 20000 mmol/L
sulfate >= 0 20000 mmol/L
chloride >= 0 20000 mmol/L
bicarbonate >= 0 20000 mmol/L
dihydrogen_phosphate >= 0 20000 mmol/L
singles >= 0 100000 mmol/L
anions >= 0 100000 mmol/L
strength_mmol >= 0 200000 mmol/L
phosphate >= 0 20000 mmol/L
net_acid >= -20000 20000 meq/L
carbonate >= 0 20000 mmol/L
silicate >= 0 20000 mmol/L
borate >= 0 20000 mmol/L
urea >= 0 20000 mmol/L
thiosulfate >= 0 20000 mmol/L
ph_feed >= -1 15 pH
ph_tank >= 1 10 pH
ec_reading >= 0 500 mS/cm
reported >= 0 10000000 -
ion_amount >= 0 20000 mmol/L
cations_meq >= 0 200000 meq/L
anions_meq >= 0 200000 meq/L
sodium_meq >= 0 5000 meq/L
calcium_meq >= 0 5000 meq/L
magnesium_meq >= 0 5000 meq/L
dose >= 0 100000 kg/ha
area > 0 10000000 ha
volume_dose >= 0 1000000000 L/ha
hours > 0 100000 h
readings >= 0 1e12 readings
repeats >= 0 1e12 readings
speed > 0 100 m/s
dispersion > 0 10000 m2/s
arrival_minutes >= 0 1e6 min
spread_minutes > 0 1e6 min
inject_minutes > 0 1e6 min
run_minutes >= 0 1e6 min
minutes > 0 1000000 min
unevenness >= 0.1 50 %
water_error >= 0 1000000000 L
stock_error >= 0 1000000000 L
ec_error >= 0 500 mS/cm
centre >= -1000000000 1000000000 -
mean_range >= 0 1000000000 -
average_before >= -1000000000 1000000000 -
latest >= -1000000000 1000000000 -
weight > 0 1 -
reading_count >= 1 1000000 -
limit_width > 0 10 -
altitude >= 0 5000 m
stock_flow > 0 1000000 L/h
viscosity > 0 100000 mPa s
chlorine >= 0 100000 mg/L
available > 0 100 %
flush_speed > 0 100 m/s
mesh >= 4 635 -
passage > 0 1000 mm
passage_part >= 1 100 -
interval_days >= 0 36500 days
days_since >= 0 36500 days
interval_hours >= 0 1000000 h
hours_since >= 0 1000000 h
hours_a_day >= 0 24 h
interval_volume >= 0 1e12 L
volume_since >= 0 1e14 L
volume_a_day >= 0 1e10 L
needed >= 0 1e10 kg
pack > 0 1000000 kg
pack_price >= 0 1e12 money
"""
# Words have no range; an empty tuple leaves them to a table.
WORDS = {
    "reading": ("in", "to"),
    "measure": ("CU", "DU"),
    "limit": ("upper", "lower", "range"),
    "oxide": (),
    "from_unit": (),
    "to_unit": (),
    "acid": (),
    "salt": (),
    "fertilizer": (),
    "ion": (),
}
AT_LEAST = {"readings": 2}
LINES = [line.split(maxsplit=4) for line in RANGES.strip().splitlines()]


@pytest.mark.parametrize("line", LINES, ids=lambda line: line[0])
def test_range(line: list[str]) -> None:
    name, sign, low, high, unit = line
    entry = QUANTITIES[name]
    assert (entry.low, entry.high) == (float(low), float(high))
    assert entry.above is (sign == ">")
    assert (entry.unit.symbol or "-") == unit
    assert entry.at_least == AT_LEAST.get(name, 1)
    if not math.isinf(entry.high):
        assert entry.holds(entry.high) and not entry.holds(entry.high * (1 + 1e-12))
        assert entry.holds(entry.low) is not entry.above


def test_nothing_is_left_out() -> None:
    words = {name for name, entry in QUANTITIES.items() if entry.is_word}
    assert {line[0] for line in LINES} == set(QUANTITIES) - words
    assert words == {*WORDS, "ion_unit"}
    for name, listed in WORDS.items():
        assert QUANTITIES[name].words == listed
