"""The pH of a feed or a stock, from what is dissolved in it.

Protons are counted from HCO3-, H2PO4-, NH4+, SO4--, B(OH)3 and Si(OH)4. The pH is where the forms
of these hold as many protons more or less as water and products brought. It lies between -1 and
15; halving that eight times and four steps along the slope find it. Amounts are in mmol/L, and
constants are taken at pH 7, so that no number is too small for an engine.
"""

from __future__ import annotations

from tanksheet.calc.acidity import (
    BICARBONATE_PAIR,
    CARBONATE_PAIR,
    PAIR_HEAT,
    at_temperature,
    log_single,
    water_carbon,
)
from tanksheet.calc.conductivity import CALCIUM_PAIR, MAGNESIUM_PAIR, free_sulfate
from tanksheet.calc.water import KELVIN, first_constant, second_constant, water_constant
from tanksheet.definition import calculation
from tanksheet.subset import helper, power, sqrt
from tanksheet.units import PH, Celsius, MeqPerL, MmolPerL

# pK at 25 degrees C and heat in kcal/mol, as in phreeqc.dat.
AMMONIUM, AMMONIUM_HEAT = 9.252, 12.48
BORIC, BORIC_HEAT = 9.24, 3.224
SILICIC, SILICIC_HEAT, SILICATE, SILICATE_HEAT = 9.83, 6.12, 13.17, 11.48
HYDROGEN_SULFATE, SULFATE_HEAT = 1.988, -3.85
PHOSPHORIC, PHOSPHORIC_HEAT = 2.168, -1.33
SECOND, SECOND_HEAT, THIRD, THIRD_HEAT = 7.207, 0.99, 12.346, 3.53
# log10 of the stability of CaH2PO4+, CaHPO4 and CaPO4-; magnesium's are more stable by this factor.
FIRST_PAIR, SECOND_PAIR, THIRD_PAIR = 1.408, 2.739, 6.459
MAGNESIUM_MORE = 1.2
# The calcium and magnesium of a natural water, mol for each equivalent of alkalinity, at least.
WATER_HARD = 0.3
SMALL = 0.001


@helper
def shared(amount: float, up: float, even: float, down: float, twice: float) -> float:
    """Protons that an amount holds beyond its even form, from the weights of its forms: one
    proton up, even, one down, two down."""
    return amount * (up - down - 2 * twice) / (up + even + down + twice)


@helper
def reached(pk: float, heat: float, celsius: float, shift: float) -> float:
    """How much of the form below a pK there is at pH 7, for each that is above."""
    return power(10, 7 - at_temperature(pk, heat, celsius) + shift)


@helper
def pair(stability: float, shift: float, celsius: float) -> float:
    """Stability of a pair of calcium, L/mmol."""
    return power(10, stability - 3 - at_temperature(0, PAIR_HEAT, celsius) + shift)


@helper
def log_hydrogen(strength: float) -> float:
    """log10 of the activity coefficient of hydrogen ions, for strength in mol/L."""
    return -0.509 * sqrt(strength) / (1 + 2.96 * sqrt(strength))


@helper
def of_water(lift: float, celsius: float, fall: float, strength: float) -> float:
    """Hydrogen less hydroxide ions, mmol/L; lift is 10 to the power of pH less 7."""
    hydrogen = power(10, -4 - log_hydrogen(strength)) / lift
    return hydrogen - water_constant(celsius + KELVIN) * power(10, 10 - fall) * lift


@helper
def of_minor(
    lift: float,
    celsius: float,
    fall: float,
    ammonium: float,
    sulfate: float,
    paired: float,
    borate: float,
    silicate: float,
) -> float:
    """Protons of ammonium, sulfate, borate and silicate; paired: sulfate for each that is free."""
    ammonia = lift * reached(AMMONIUM, AMMONIUM_HEAT, celsius, fall)
    boric = lift * reached(BORIC, BORIC_HEAT, celsius, -fall)
    acid = 1 / reached(HYDROGEN_SULFATE, SULFATE_HEAT, celsius, -3 * fall) / lift
    first = lift * reached(SILICIC, SILICIC_HEAT, celsius, -fall)
    second = lift * first * reached(SILICATE, SILICATE_HEAT, celsius, -3 * fall)
    minor = sulfate * acid / (paired + acid) - ammonium * ammonia / (1 + ammonia)
    return minor - borate * boric / (1 + boric) + shared(silicate, 0, 1, first, second)


@helper
def of_carbon_and_phosphate(
    lift: float,
    celsius: float,
    fall: float,
    strength: float,
    carbon: float,
    phosphate: float,
    hard: float,
) -> float:
    """Protons of carbonate and phosphate, of which calcium and magnesium hold a part."""
    kelvin = celsius + KELVIN
    dioxide = power(10, fall - 7 - 0.066 * strength) / first_constant(kelvin) / lift
    carbonate = lift * power(10, 7 - 3 * fall) * second_constant(kelvin)
    with_one = power(10, BICARBONATE_PAIR - 3 + 4 * fall)
    with_carbonate = pair(CARBONATE_PAIR, 8 * fall, celsius)
    acid = 1 / reached(PHOSPHORIC, PHOSPHORIC_HEAT, celsius, -fall) / lift
    second = lift * reached(SECOND, SECOND_HEAT, celsius, -3 * fall)
    third = lift * second * reached(THIRD, THIRD_HEAT, celsius, -5 * fall)
    with_second = pair(SECOND_PAIR, 8 * fall, celsius)
    # What is left of calcium and magnesium, to a first approximation.
    seconds = phosphate * second / (acid + 1 + second + third)
    carbonates = carbon * carbonate / (dioxide + 1 + carbonate)
    free = hard / (
        1
        + with_second * seconds / (1 + with_second * hard)
        + with_carbonate * carbonates / (1 + with_carbonate * hard)
    )
    even = 1 + pair(FIRST_PAIR, 4 * fall, celsius) * free
    down = second * (1 + with_second * free)
    twice = third * (1 + pair(THIRD_PAIR, 12 * fall, celsius) * free)
    low = carbonate * (1 + with_carbonate * free)
    bicarbonate = 1 + with_one * free
    return shared(phosphate, acid, even, down, twice) + shared(carbon, dioxide, bicarbonate, low, 0)


@helper
def surplus(
    ph: float,
    owed: float,
    celsius: float,
    salts: float,
    carbon: float,
    phosphate: float,
    hard: float,
    ammonium: float,
    sulfate: float,
    held: float,
    borate: float,
    silicate: float,
) -> float:
    """Protons that the forms would hold at a pH beyond those that are owed to it, meq/L.

    ``salts`` is ionic strength in mol/L, ``hard`` calcium and magnesium, ``held`` the sulfate for
    each that no pair holds.
    """
    lift = power(10, ph - 7)
    fall = log_single(salts, celsius)
    major = of_carbon_and_phosphate(lift, celsius, fall, salts, carbon, phosphate, hard)
    minor = of_minor(lift, celsius, fall, ammonium, sulfate, held, borate, silicate)
    return major + minor + of_water(lift, celsius, fall, salts) - owed


@helper
def way(
    ph: float,
    owed: float,
    celsius: float,
    salts: float,
    carbon: float,
    phosphate: float,
    hard: float,
    ammonium: float,
    sulfate: float,
    held: float,
    borate: float,
    silicate: float,
) -> float:
    """1 where the pH must rise, -1 where it must fall."""
    over = surplus(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    return 1 if over > 0 else -1


@helper
def halved(
    ph: float,
    owed: float,
    celsius: float,
    salts: float,
    carbon: float,
    phosphate: float,
    hard: float,
    ammonium: float,
    sulfate: float,
    held: float,
    borate: float,
    silicate: float,
) -> float:
    """The pH within 1/32, from the middle of the range."""
    ph = ph + 4 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 2 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 1 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 0.5 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 0.25 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 0.125 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 0.0625 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + 0.03125 * way(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    return ph


@helper
def slid(
    ph: float,
    owed: float,
    celsius: float,
    salts: float,
    carbon: float,
    phosphate: float,
    hard: float,
    ammonium: float,
    sulfate: float,
    held: float,
    borate: float,
    silicate: float,
) -> float:
    """How far the pH must move along the slope to balance."""
    over = surplus(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + SMALL
    beyond = surplus(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    return SMALL * over / (over - beyond)


@helper
def balanced(
    ph: float,
    owed: float,
    celsius: float,
    salts: float,
    carbon: float,
    phosphate: float,
    hard: float,
    ammonium: float,
    sulfate: float,
    held: float,
    borate: float,
    silicate: float,
) -> float:
    """The pH at which the protons balance."""
    ph = halved(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + slid(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + slid(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + slid(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    ph = ph + slid(
        ph, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    return ph


@calculation(
    "FEEDPH",
    example=((4, 7.6, 25, 2, 0, 0, 0, 0, 0, 0, 1.497, 0.494, 9), 6.26693),
    empirical="equilibrium constants and pH are logarithms of bare numbers",
)
def feed_ph(
    alkalinity: MeqPerL,
    ph_water: PH,
    celsius: Celsius,
    net_acid: MeqPerL,
    carbonate: MmolPerL,
    phosphate: MmolPerL,
    ammonium: MmolPerL,
    sulfate: MmolPerL,
    silicate: MmolPerL,
    borate: MmolPerL,
    calcium: MmolPerL,
    magnesium: MmolPerL,
    strength_mmol: MmolPerL,
) -> PH:
    """The pH of a feed or of a stock.

    The alkalinity and pH are those of the water before anything is added; calcium, magnesium,
    sulfate and the rest are the sum of water and products. Net acid counts what a product brings
    beyond HCO3-, H2PO4-, NH4+, SO4--, boric and silicic acid: 1 for nitric or phosphoric acid, 2
    for sulfuric, -1 for diammonium phosphate and potassium carbonate; urea and chelates count
    nothing. The ionic strength is that of the ions as brought, pairs not allowed for. Carbon
    dioxide is taken to stay in, as in a closed pipe or a full tank: in the open the pH creeps up.
    Nothing is taken to settle. Within 0.1 of a full speciation in feeds, within 0.4 in stocks up
    to an ionic strength of 2 mol/L; beyond it is a guess.
    Source: constants and activity coefficients of phreeqc.dat, carbonate equilibria of Plummer and
    Busenberg 1982; checked against PHREEQC 3.8.
    """
    hard = calcium + magnesium
    carbon = water_carbon(alkalinity, ph_water, celsius, min(hard, WATER_HARD * alkalinity))
    salts = strength_mmol / 1000
    both = power(10, 8 * log_single(salts, celsius)) / 1000
    left = free_sulfate(
        sulfate, calcium, magnesium, ammonium, power(10, 4 * log_single(salts, celsius))
    )
    hard = calcium / (1 + CALCIUM_PAIR * both * left)
    hard = hard + MAGNESIUM_MORE * magnesium / (1 + MAGNESIUM_PAIR * both * left)
    held = sulfate / left if sulfate > 0 else 1
    owed = net_acid + carbon - alkalinity
    carbon = carbon + carbonate
    found = balanced(
        7, owed, celsius, salts, carbon, phosphate, hard, ammonium, sulfate, held, borate, silicate
    )
    return min(15, max(-1, found))
