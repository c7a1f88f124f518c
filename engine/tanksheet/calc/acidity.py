"""Acids and water: what an acid gives, the dose of it, and whether lime comes out of a water.

Activities follow phreeqc.dat: log10 of the coefficient of a single charge is
-A x sqrt(I)/(1 + 1.643 sqrt(I)), for I in mol/L; of a charge z, z squared times that.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.water import (
    KELVIN,
    acid_need,
    charge_per_carbon,
    first_constant,
    second_constant,
    water_constant,
    water_excess,
)
from tanksheet.definition import calculation
from tanksheet.subset import helper, log10, power, sqrt
from tanksheet.tables import look_up
from tanksheet.units import PH, Celsius, MeqPerL, MmolPerL, Number, Word

# log10 of the stability of CaHCO3+ from HCO3-, and of CaCO3 dissolved, which stand for magnesium's
# pairs too: between the two metals in phreeqc.dat. Heat in kcal/mol, of pairs with phosphate too.
BICARBONATE_PAIR, CARBONATE_PAIR, PAIR_HEAT = 0.8, 3.2, 3.3
# Ionic strength of a natural water for each equivalent of its alkalinity, and its calcium and
# magnesium in mol: as hard as it is alkaline. For the acids alone, a water of 5 meq/L.
SALTS_PER_ALKALINITY, HARD_PER_ALKALINITY, ORDINARY = 1.6, 0.5, 5

# Heat that warms a kilogram of water by a degree, kJ, and by which share less for pure acid.
WATER_HEAT, ACID_HOLDS_LESS = 4.18, 0.78
WATER_DENSITY, WATER_MOLAR_MASS = 0.998, 18.015


@helper
def log_single(strength: float, celsius: float) -> float:
    """log10 of the activity coefficient of a single charge, for strength in mol/L."""
    return -(0.491 + 0.00071 * celsius) * sqrt(strength) / (1 + 1.643 * sqrt(strength))


@helper
def at_temperature(pk: float, heat: float, celsius: float) -> float:
    """A pK brought from 25 degrees C to another temperature (van 't Hoff), heat in kcal/mol."""
    return pk + 218.54 * heat * (1 / (celsius + KELVIN) - 1 / 298.15)


@helper
def with_bicarbonate(hard: float, activity: float) -> float:
    """Bicarbonate paired with calcium and magnesium for each that is free, hard in mol/L."""
    return hard * power(10, BICARBONATE_PAIR + 4 * activity)


@helper
def with_carbonate(hard: float, activity: float, celsius: float) -> float:
    """Carbonate paired with calcium and magnesium for each that is free, hard in mol/L."""
    return hard * power(10, CARBONATE_PAIR - at_temperature(0, PAIR_HEAT, celsius) + 8 * activity)


@helper
def water_carbon(alkalinity: float, ph_water: float, celsius: float, hard: float) -> float:
    """Carbonate in all its forms that a water holds, mmol/L; hard is its calcium and magnesium."""
    kelvin = celsius + KELVIN
    activity = log_single(SALTS_PER_ALKALINITY * alkalinity / 1000, celsius)
    pairs_one = 1 + with_bicarbonate(hard / 1000, activity)
    pairs_two = 1 + with_carbonate(hard / 1000, activity, celsius)
    first = first_constant(kelvin) / power(10, 2 * activity) * pairs_one
    second = second_constant(kelvin) / power(10, 4 * activity) * pairs_two / pairs_one
    water = water_constant(kelvin) / power(10, 2 * activity)
    acidity = power(10, -ph_water - activity)
    return (alkalinity - water_excess(acidity, water)) / charge_per_carbon(acidity, first, second)


@helper
def of_acid(column: str, acid: str) -> Any:
    """A figure of data/acids.csv."""
    return look_up("acids", column, acid)


@helper
def paired(acid: str, column: str, shift: float, hard: float) -> float:
    """By how much calcium and magnesium raise the share of an anion, hard in mmol/L."""
    return 1 + hard / 1000 * power(10, of_acid(column, acid) + shift)


@helper
def protons_given(
    acid: str, ph_target: float, celsius: float, strength: float, hard: float
) -> float:
    """Equivalents that a mole of acid gives in a water of this ionic strength (mol/L) and this
    much calcium and magnesium together (mmol/L)."""
    fall = log_single(strength, celsius)
    first = power(10, ph_target - of_acid("pk_1", acid) - fall)
    second = first * power(10, ph_target - of_acid("pk_2", acid) - 3 * fall)
    third = second * power(10, ph_target - of_acid("pk_3", acid) - 5 * fall)
    two = second * paired(acid, "pair_2", 8 * fall, hard)
    three = third * paired(acid, "pair_3", 12 * fall, hard)
    return (first + 2 * two + 3 * three) / (1 + first + two + three)


@calculation(
    "ACIDGIVES",
    example=(("phosphoric acid 75 %", 6.5, 20), 1.30608),
)
def acid_gives(acid: Word, ph_target: PH, celsius: Celsius) -> Number:
    """Equivalents of strong acid that one mole of an acid gives at a pH.

    Nitric and hydrochloric acid give 1 and sulfuric 2 at any pH of a feed. Phosphoric gives
    little more than 1 at pH 5 and about 1.5 at 7, citric 2 to 3: the higher the pH wanted, the
    less of them it takes. Counted for a water of 5 meq/L alkalinity that is as hard as it is
    alkaline, since calcium and magnesium draw protons out of both.
    Source: acid constants and calcium's ion pairs in data/acids.csv, activity coefficients of
    phreeqc.dat.
    """
    strength = SALTS_PER_ALKALINITY * ORDINARY / 1000
    return protons_given(acid, ph_target, celsius, strength, HARD_PER_ALKALINITY * ORDINARY)


@calculation(
    "ACIDDOSE",
    example=((8, 7.6, 6.5, 20, "phosphoric acid 75 %"), 2.24361),
    empirical="equilibrium constants and pH are logarithms of bare numbers",
)
def acid_dose(
    alkalinity: MeqPerL, ph_now: PH, ph_target: PH, celsius: Celsius, acid: Word
) -> MmolPerL:
    """Acid that brings water to a lower pH, in mmol of the acid itself, all its protons solved.

    The need of FERT.ACIDNEED over what a mole gives at the pH wanted; closed to air. The water is
    taken to be as hard as it is alkaline: in a soft water full of soda, phosphoric acid comes out
    up to 11 % low and citric up to 27 %; in hard or salty water up to 8 % high at pH 5 to 6.5.
    Begin with less, measure, correct. Acid into water, never water into acid; goggles, face
    shield, gloves and apron.
    Source: as FERT.ACIDNEED and FERT.ACIDGIVES; checked against titrations in PHREEQC 3.8.
    """
    strength = SALTS_PER_ALKALINITY * alkalinity / 1000
    hard = HARD_PER_ALKALINITY * alkalinity
    need = acid_need(alkalinity, ph_now, ph_target, celsius)
    return need / protons_given(acid, ph_target, celsius, strength, hard)


@helper
def heat_given(acid: str, moles: float, water: float) -> float:
    """Heat of so many moles of pure acid with so many moles of water, kJ."""
    formula = of_acid("formula", acid)
    half = look_up("dilution_heats", "half_mol", formula)
    return look_up("dilution_heats", "heat_kJmol", formula) * moles * water / (water + half * moles)


@helper
def acid_heat(acid: str, percent_acid: float) -> float:
    """By how many degrees C mixing an acid warms a stock of so many percent by volume.

    For all the acid mixed at once with no heat lost; where acid meets water it is hotter. A rough
    guide, 10 % either way, hence no function of its own. Heats of dilution in
    data/dilution_heats.csv; specific heat falls by 0.78 of the share of acid, read off Perry's
    table for sulfuric acid (from memory).
    """
    if percent_acid == 0:
        return 0
    share = percent_acid / 100
    strength = of_acid("mass_percent", acid) / 100
    poured = share * of_acid("density_kgL", acid)
    carried = poured * (1 - strength) / WATER_MOLAR_MASS * 1000
    added = WATER_DENSITY * (1 - share)
    moles = poured * strength / of_acid("molar_mass", acid) * 1000
    mixed = heat_given(acid, moles, carried + added / WATER_MOLAR_MASS * 1000)
    mass = poured + added
    held = WATER_HEAT * (mass - ACID_HOLDS_LESS * poured * strength)
    return max(0, mixed - heat_given(acid, moles, carried)) / held


@helper
def calcite_product(kelvin: float) -> float:
    """log10 of calcite's solubility product (Plummer and Busenberg 1982)."""
    return -171.9065 - 0.077993 * kelvin + 2839.319 / kelvin + 71.595 * log10(kelvin)


@helper
def free_bicarbonate(held: float, ratio: float, hard: float, fall: float, celsius: float) -> float:
    """Bicarbonate that no calcium holds, mmol/L, of the carbonate alkalinity; not below a trace.

    ``ratio`` is free carbonate for each free bicarbonate.
    """
    one = with_bicarbonate(hard / 1000, fall)
    two = with_carbonate(hard / 1000, fall, celsius)
    return max(0.001, held / (1 + one + 2 * ratio * (1 + two)))


@helper
def pairs_of(bicarbonate: float, carbonate: float, fall: float, celsius: float) -> float:
    """Calcium in solution for each that is free of these ions, mmol/L."""
    one = with_bicarbonate(bicarbonate / 1000, fall)
    return 1 + one + with_carbonate(carbonate / 1000, fall, celsius)


@calculation(
    "CALCITEINDEX",
    example=((4, 8, 7.5, 35, 14), 1.00662),
    empirical="activity coefficients are fitted, and an index is a logarithm",
)
def calcite_index(
    calcium: MmolPerL,
    alkalinity: MeqPerL,
    ph_water: PH,
    celsius: Celsius,
    strength_mmol: MmolPerL,
) -> Number:
    """Whether lime comes out of a water: above 0, calcite settles and can clog emitters.

    Below 0 the water dissolves lime. Warm water and a high pH raise it. Salts of phosphate and
    organic matter delay calcite, so a water of up to about 0.5 may stay clear for days. Without
    calcium or without alkalinity it is -9.
    Source: solubility product of Plummer and Busenberg 1982, ion pairs and activity coefficients
    of phreeqc.dat; within 0.1 of PHREEQC 3.8 in natural waters from 5 to 35 degrees C.
    """
    if min(calcium, alkalinity) == 0:
        return -9
    kelvin = celsius + KELVIN
    fall = log_single(strength_mmol / 1000, celsius)
    acidity = power(10, -ph_water - fall)
    ratio = second_constant(kelvin) / power(10, 4 * fall) / acidity
    held = alkalinity - water_excess(acidity, water_constant(kelvin) / power(10, 2 * fall))
    bicarbonate = free_bicarbonate(held, ratio, calcium, fall, celsius)
    free = calcium / pairs_of(bicarbonate, ratio * bicarbonate, fall, celsius)
    bicarbonate = free_bicarbonate(held, ratio, free, fall, celsius)
    ions = log10(free) + log10(bicarbonate) + log10(ratio) - 6
    return ions + 8 * fall - calcite_product(kelvin)
