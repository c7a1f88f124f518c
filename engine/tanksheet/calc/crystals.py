"""Salts that share an ion: how near a mixed stock is to letting one of them crystallize.

Each salt that can form from the ions has a product of their activities, and so has its own
saturated solution. Their ratio, to the power of one by the number of ions, is its share. Potassium
and ammonium stand for each other in the crystals of some salts, so these are added up. The products
are those of the saturated solutions in data/solubility.csv and of other handbook figures.
"""

from __future__ import annotations

from tanksheet.calc.brine import (
    PURE_WATER,
    active,
    base_left,
    closeness,
    debye,
    near_ammonium,
    near_calcium,
    near_chloride,
    near_magnesium,
    near_nitrate,
    near_phosphate,
    near_potassium,
    near_sodium,
    near_sulfate,
    of_water,
)
from tanksheet.definition import calculation
from tanksheet.subset import exp, helper, power, sqrt
from tanksheet.units import Celsius, MmolPerL, Percent

# Share of a litre that the dissolved may take up in a stock, whatever they are: undiluted urea
# ammonium nitrate 32-0-0 has 0.73.
FULL = 0.75
# How urea and ammonium nitrate hold each other in solution, for each mol/kg: from the temperatures
# at which their solutions salt out.
UREA_BY_NITRATE, NITRATE_BY_UREA = 0.06, 0.02
# Share of the phosphate that strong acid turns into phosphoric acid, at most.
ACID_SHARE = 0.8


@helper
def of_potassium(
    potassium: float, nitrate: float, chloride: float, bicarbonate: float, warm: float
) -> float:
    """The nearest of KNO3, KCl and KHCO3, squared: ratio of the products of two activities."""
    of_nitrate = nitrate * exp(-2 * (-0.2121 + 1.211 * warm - 1.69 * warm * warm))
    of_chloride = chloride * exp(-2 * (0.7626 + 0.73 * warm))
    return potassium * max(of_nitrate, of_chloride, bicarbonate * exp(-2 * (0.418 + 1.445 * warm)))


@helper
def of_sodium(
    sodium: float, nitrate: float, chloride: float, bicarbonate: float, warm: float
) -> float:
    """The nearest of NaNO3, NaCl and NaHCO3, squared."""
    of_nitrate = nitrate * exp(-2 * (0.7375 + 0.647 * warm))
    of_chloride = chloride * exp(-2 * (1.0503 - 0.085 * warm))
    return sodium * max(of_nitrate, of_chloride, bicarbonate * exp(-2 * (-0.6879 + 0.96 * warm)))


@helper
def of_ammonium(
    ammonium: float,
    nitrate: float,
    chloride: float,
    bicarbonate: float,
    urea: float,
    warm: float,
) -> float:
    """The nearest of NH4NO3, NH4Cl and NH4HCO3, squared."""
    salted = 1 + NITRATE_BY_UREA * urea
    of_nitrate = nitrate * exp(-2 * (1.0764 + 0.518 * warm)) / (salted * salted)
    of_chloride = chloride * exp(-2 * (0.6627 + 0.513 * warm))
    return ammonium * max(of_nitrate, of_chloride, bicarbonate * exp(-2 * (0.0346 + 1.533 * warm)))


@helper
def of_two(
    magnesium: float,
    potassium: float,
    ammonium: float,
    sulfate: float,
    phosphate: float,
    dry: float,
    warm: float,
) -> float:
    """The nearer of (K,NH4)H2PO4 and MgSO4.7H2O, squared."""
    mixed = potassium * exp(-2 * (-0.3641 + 1.209 * warm)) + ammonium * exp(
        -2 * (-0.2803 + 0.814 * warm)
    )
    return max(mixed * phosphate, magnesium * sulfate * exp(-7 * dry - 2 * (-3.105 + 0.225 * warm)))


@helper
def of_three(
    calcium: float,
    magnesium: float,
    nitrate: float,
    chloride: float,
    dry: float,
    warm: float,
) -> float:
    """The nearest of Ca(NO3)2.4H2O, Mg(NO3)2.6H2O and CaCl2.6H2O, to the third power."""
    of_calcium = calcium * exp(-4 * dry - 3 * (0.3312 + 0.205 * warm))
    of_nitrate = max(of_calcium, magnesium * exp(-6 * dry - 3 * (1.2206 + 0.562 * warm)))
    of_chloride = (
        calcium
        * chloride
        * chloride
        * exp(-6 * dry - 3 * (2.4555 + 4.761 * warm + 10.21 * warm * warm))
    )
    return max(of_nitrate * nitrate * nitrate, of_chloride)


@helper
def of_alkalis(
    potassium: float,
    sodium: float,
    ammonium: float,
    sulfate: float,
    carbonate: float,
    second: float,
    dry: float,
    warm: float,
) -> float:
    """The nearest of (K,NH4)2SO4, Na2SO4.10H2O, K2CO3.1.5H2O and (NH4)2HPO4, to the third power."""
    mixed = potassium * exp(-1.5 * (-1.4045 + 0.623 * warm)) + ammonium * exp(
        -1.5 * (0.0155 - 0.106 * warm)
    )
    of_sulfate = (
        max(
            mixed * mixed,
            sodium * sodium * exp(-10 * dry - 3 * (-1.302 + 3.65 * warm + 2.7 * warm * warm)),
        )
        * sulfate
    )
    of_carbonate = (
        potassium
        * potassium
        * carbonate
        * exp(-1.5 * dry - 3 * (-0.677 - 1.12 * warm - 1.27 * warm * warm))
    )
    return max(
        of_sulfate, of_carbonate, ammonium * ammonium * second * exp(-3 * (-0.5816 + 0.111 * warm))
    )


@helper
def of_double_salts(
    magnesium: float, potassium: float, ammonium: float, sulfate: float, dry: float, warm: float
) -> float:
    """(K,NH4)2Mg(SO4)2.6H2O, to the fifth power."""
    mixed = potassium * exp(-2.5 * (-2.2877 + 0.802 * warm)) + ammonium * exp(
        -2.5 * (-2.3515 + 0.685 * warm)
    )
    return mixed * mixed * magnesium * sulfate * sulfate * exp(-6 * dry)


@helper
def of_neutral(
    sodium: float,
    urea: float,
    borate: float,
    polyborate: float,
    each: float,
    nitrate: float,
    warm: float,
) -> float:
    """The nearest of urea, boric acid and borax; mmol/L times ``each`` is mol/kg, which sodium and
    ammonium nitrate are in."""
    of_urea = urea * each / (1 + UREA_BY_NITRATE * nitrate) * exp(-(2.8928 + 1.966 * warm))
    of_boric = (borate - 4 * polyborate) * each * exp(-(-0.2049 + 2.544 * warm))
    of_borax = power(sodium * sodium * polyborate * each, 1 / 3) * exp(
        -(-1.5969 + 3.586 * warm + 2.81 * warm * warm)
    )
    return max(of_urea, of_boric, of_borax)


@helper
def drying(
    calcium: float, magnesium: float, potassium: float, sodium: float, ammonium: float,
    nitrate: float, sulfate: float, chloride: float, phosphate: float,
) -> float:  # fmt: skip
    """Minus the logarithm of the activity of water."""
    twos = 0.025 * calcium + 0.075 * magnesium
    ones = 0.023 * potassium + 0.021 * sodium + 0.01 * ammonium
    anions = 0.014 * nitrate + 0.013 * sulfate + 0.029 * chloride + 0.008 * phosphate
    return twos + ones + anions


@helper
def nearest_by_activity(
    calcium: float, magnesium: float, potassium: float, sodium: float, ammonium: float,
    nitrate: float, sulfate: float, chloride: float, bicarbonate: float, carbonate: float,
    first: float, second: float, urea: float, dry: float, warm: float,
) -> float:  # fmt: skip
    """Share of the nearest salt, from activities; ``first`` is H2PO4-, ``second`` HPO4--."""
    two = max(
        of_potassium(potassium, nitrate, chloride, bicarbonate, warm),
        of_sodium(sodium, nitrate, chloride, bicarbonate, warm),
        of_ammonium(ammonium, nitrate, chloride, bicarbonate, urea, warm),
        of_two(magnesium, potassium, ammonium, sulfate, first, dry, warm),
    )
    three = max(
        of_three(calcium, magnesium, nitrate, chloride, dry, warm),
        of_alkalis(potassium, sodium, ammonium, sulfate, carbonate, second, dry, warm),
    )
    five = of_double_salts(magnesium, potassium, ammonium, sulfate, dry, warm)
    return max(sqrt(two), power(three, 1 / 3), power(five, 1 / 5))


@helper
def nearest_by_amount(
    calcium: float, magnesium: float, potassium: float, sodium: float, ammonium: float,
    nitrate: float, sulfate: float, chloride: float, bicarbonate: float, carbonate: float,
    first: float, second: float, urea: float, warm: float, celsius: float,
) -> float:  # fmt: skip
    """Share of the nearest salt, from mol/kg; bicarbonate, carbonate and HPO4-- act on the others
    as chloride does."""
    others = chloride + bicarbonate + 2 * (carbonate + second)
    twos = 2 * (calcium + magnesium)
    charges = twos + potassium + sodium + ammonium
    strength = max(0.0001, (charges + twos + nitrate + 4 * sulfate + others + first) / 2)
    few = debye(strength, celsius)
    close = closeness(strength)
    of_chloride = near_chloride(
        calcium, magnesium, potassium, sodium, ammonium, first, close, charges
    )
    of_nitrate = near_nitrate(calcium, magnesium, potassium, sodium, ammonium, close, charges)
    of_sulfate = near_sulfate(magnesium, potassium, sodium, ammonium, close, charges)
    of_first = near_phosphate(magnesium, potassium, sodium, ammonium, others, close, charges)
    lime = near_calcium(nitrate, others, close, charges)
    epsom = near_magnesium(nitrate, sulfate, others, first, close, charges)
    potash = near_potassium(nitrate, sulfate, others, first, close, charges)
    soda = near_sodium(nitrate, sulfate, others, first, close, charges)
    ammonia = near_ammonium(nitrate, sulfate, others, first, close, charges)
    four = 4 * few
    return nearest_by_activity(
        active(calcium, four + lime), active(magnesium, four + epsom),
        active(potassium, few + potash), active(sodium, few + soda),
        active(ammonium, few + ammonia), active(nitrate, few + of_nitrate),
        active(sulfate, four + of_sulfate), active(chloride, few + of_chloride),
        active(bicarbonate, few + of_chloride), active(carbonate, four + 2 * of_chloride),
        active(first, few + of_first), active(second, four + 2 * of_chloride), urea,
        drying(calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, others, first),
        warm,
    )  # fmt: skip


@calculation(
    "CRYSTALSHARE",
    example=((0, 0, 1000, 0, 0, 1000, 0, 0, 0, 0, 0, 0, 10), 66.2673),
    empirical="activity coefficients are fitted",
)
def crystal_share(
    calcium: MmolPerL,
    magnesium: MmolPerL,
    potassium: MmolPerL,
    sodium: MmolPerL,
    ammonium: MmolPerL,
    nitrate: MmolPerL,
    sulfate: MmolPerL,
    chloride: MmolPerL,
    carbonate: MmolPerL,
    phosphate: MmolPerL,
    urea: MmolPerL,
    borate: MmolPerL,
    table_celsius: Celsius,
) -> Percent:
    """How near a stock is to letting a salt crystallize, 100 = saturated.

    The nearest of the salts that can form from the ions of a tank, whichever products brought
    them. The ions are in a litre of finished stock. Below 85 the tank is clear, above 120 it
    settles; between, test a jar at the tank's coldest. Calcium with sulfate, phosphate or
    carbonate is not judged here (FERT.GYPSUM, FERT.PHOSPHATEINDEX, FERT.CALCITEINDEX), nor
    struvite, iron, manganese, zinc, copper. Count thiosulfate as 2 chloride.
    Source: activity coefficients fitted to PHREEQC with pitzer.dat and published parameters;
    saturated solutions of the CRC Handbook, in data/solubility.csv.
    """
    surplus = base_left(
        calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, chloride, carbonate,
        phosphate,
    )  # fmt: skip
    base = max(0, surplus)
    acid = max(0, -surplus)
    second = min(phosphate, base)
    polyborate = min(borate / 4, (base - second) / 2)
    double = min(carbonate, base - second - 2 * polyborate)
    undone = ACID_SHARE * phosphate * acid / max(acid, phosphate + sulfate) if acid > 0 else 0
    water = of_water(
        calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, chloride, carbonate,
        phosphate, double, second, urea, borate,
    )  # fmt: skip
    each = 1 / (1000 * water)
    warm = 1000 / 293.15 - 1000 / (table_celsius + 273.15)
    salt = nearest_by_amount(
        calcium * each, magnesium * each, potassium * each, sodium * each, ammonium * each,
        nitrate * each, sulfate * each, chloride * each, (carbonate - double) * each,
        double * each, (phosphate - second - undone) * each, second * each, urea * each,
        warm, table_celsius,
    )  # fmt: skip
    nitrate = min(ammonium, nitrate) * each
    neutral = of_neutral(sodium * each, urea, borate, polyborate, each, nitrate, warm)
    return 100 * max(salt, neutral, (PURE_WATER - water) / FULL)
