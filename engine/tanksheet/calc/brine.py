"""Strong solutions: how much water is left in a litre, and how active the ions in it are.

Activity coefficients have the form of Pitzer's equations: a term of Debye and Hueckel, and a sum
over pairs of ions of opposite charge, each with a coefficient of its own, one that fades with ionic
strength and one that grows with the charges. All in mol/kg of water. The coefficients were fitted
to 4,000 mixed solutions in PHREEQC: pitzer.dat, with the parameters of May, Rowland, Hefter and
Koenigsberger (2011, doi 10.1021/je2009329) for nitrates, ammonium and phosphates.
"""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import exp, helper, log, sqrt
from tanksheet.units import KgPerL, MmolPerL

LARGE = 9  # logarithm of an activity coefficient at most: no engine overflows
PURE_WATER = 0.998  # kg/L, between 0 and 40 degrees C within 0.6 %
LEAST_WATER = 0.01  # kg/L, where the ions leave less room
# What dihydrogen phosphate and chloride do to each other.
ANIONS = 0.2008
# Sodium is taken as ammonium beside dihydrogen phosphate, with this much more to be cautious.
SODIUM_MORE = 0.06


@helper
def base_left(
    calcium: float, magnesium: float, potassium: float, sodium: float, ammonium: float,
    nitrate: float, sulfate: float, chloride: float, carbonate: float, phosphate: float,
) -> float:  # fmt: skip
    """Charges that HCO3- and H2PO4- leave over, mmol/L: base above 0, strong acid below."""
    cations = 2 * (calcium + magnesium) + potassium + sodium + ammonium
    return cations - nitrate - 2 * sulfate - chloride - carbonate - phosphate


@helper
def of_water(
    calcium: float, magnesium: float, potassium: float, sodium: float, ammonium: float,
    nitrate: float, sulfate: float, chloride: float, carbonate: float, phosphate: float,
    double: float, second: float, urea: float, borate: float,
) -> float:  # fmt: skip
    """kg of water in a litre; ``double`` of the carbonate is CO3--, ``second`` of the phosphate
    HPO4--. Volumes in mL/mol, with a common term that grows with ionic strength."""
    ions = potassium + sodium + ammonium + nitrate + chloride + carbonate + phosphate
    strength = (ions + 4 * (calcium + magnesium + sulfate) + 3 * (double + second)) / 2000
    cations = 19.2 * potassium + 9.3 * sodium + 25.9 * ammonium - 2.4 * calcium - 8.3 * magnesium
    anions = 20.1 * nitrate + 0.9 * sulfate + 8 * chloride + 17.9 * carbonate + 25.2 * phosphate
    others = 44.5 * urea + 40 * borate - 38 * double - 24 * second
    room = (cations + anions + others) / 1e6 + 0.0017 * strength * sqrt(strength)
    return max(LEAST_WATER, PURE_WATER * (1 - room))


@helper
def calcium_nitrate(close: float) -> float:
    return 0.061 + 3.389 * close


@helper
def calcium_chloride(close: float, charges: float) -> float:
    return 0.5845 - 1.089 * close - 0.0076 * charges


@helper
def magnesium_nitrate(close: float) -> float:
    return 0.3736 + 2.607 * close


@helper
def magnesium_sulfate(close: float, charges: float) -> float:
    return 0.8382 - 1.051 * close - 0.0182 * charges


@helper
def magnesium_phosphate(close: float, charges: float) -> float:
    return 0.002 + 2.874 * close + 0.0061 * charges


@helper
def potassium_nitrate(close: float, charges: float) -> float:
    return -0.1416 - 0.032 * close + 0.0056 * charges


@helper
def potassium_sulfate(close: float, charges: float) -> float:
    return -0.0748 + 1.867 * close + 0.0142 * charges


@helper
def potassium_chloride(close: float, charges: float) -> float:
    return 0.1885 - 0.731 * close - 0.0104 * charges


@helper
def potassium_phosphate(close: float, charges: float) -> float:
    return -0.2136 + 0.614 * close + 0.0288 * charges


@helper
def sodium_nitrate(close: float) -> float:
    return 0.0445 - 1.569 * close


@helper
def sodium_sulfate(close: float) -> float:
    return 0.2225 - 0.868 * close


@helper
def sodium_chloride(close: float) -> float:
    return 0.1199 - 0.765 * close


@helper
def ammonium_nitrate(close: float) -> float:
    return -0.0141 - 0.435 * close


@helper
def ammonium_sulfate(close: float) -> float:
    return 0.0611 + 0.907 * close


@helper
def ammonium_chloride(close: float, charges: float) -> float:
    return -0.0464 + 0.144 * close + 0.003 * charges


@helper
def ammonium_phosphate(close: float, charges: float) -> float:
    return -0.1227 - 0.302 * close + 0.006 * charges


@helper
def near_calcium(nitrate: float, chloride: float, close: float, charges: float) -> float:
    """Logarithm of calcium's activity coefficient, but for the term of Debye and Hueckel."""
    return nitrate * calcium_nitrate(close) + chloride * calcium_chloride(close, charges)


@helper
def near_magnesium(
    nitrate: float,
    sulfate: float,
    chloride: float,
    phosphate: float,
    close: float,
    charges: float,
) -> float:
    """As for calcium; nitrate and chloride act alike here."""
    of_ones = (nitrate + chloride) * magnesium_nitrate(close)
    of_sulfate = sulfate * magnesium_sulfate(close, charges)
    return of_ones + of_sulfate + phosphate * magnesium_phosphate(close, charges)


@helper
def near_potassium(
    nitrate: float,
    sulfate: float,
    chloride: float,
    phosphate: float,
    close: float,
    charges: float,
) -> float:
    of_nitrate = nitrate * potassium_nitrate(close, charges)
    of_sulfate = sulfate * potassium_sulfate(close, charges)
    of_chloride = chloride * potassium_chloride(close, charges)
    return of_nitrate + of_sulfate + of_chloride + phosphate * potassium_phosphate(close, charges)


@helper
def near_sodium(
    nitrate: float,
    sulfate: float,
    chloride: float,
    phosphate: float,
    close: float,
    charges: float,
) -> float:
    of_nitrate = nitrate * sodium_nitrate(close)
    of_sulfate = sulfate * sodium_sulfate(close)
    of_chloride = chloride * sodium_chloride(close)
    return of_nitrate + of_sulfate + of_chloride + phosphate * ammonium_phosphate(close, charges)


@helper
def near_ammonium(
    nitrate: float,
    sulfate: float,
    chloride: float,
    phosphate: float,
    close: float,
    charges: float,
) -> float:
    of_nitrate = nitrate * ammonium_nitrate(close)
    of_sulfate = sulfate * ammonium_sulfate(close)
    of_chloride = chloride * ammonium_chloride(close, charges)
    return of_nitrate + of_sulfate + of_chloride + phosphate * ammonium_phosphate(close, charges)


@helper
def near_nitrate(
    calcium: float,
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    close: float,
    charges: float,
) -> float:
    twos = calcium * calcium_nitrate(close) + magnesium * magnesium_nitrate(close)
    ones = potassium * potassium_nitrate(close, charges) + sodium * sodium_nitrate(close)
    return twos + ones + ammonium * ammonium_nitrate(close)


@helper
def near_chloride(
    calcium: float, magnesium: float, potassium: float, sodium: float, ammonium: float,
    phosphate: float, close: float, charges: float,
) -> float:  # fmt: skip
    of_calcium = calcium * calcium_chloride(close, charges)
    of_magnesium = magnesium * magnesium_nitrate(close)
    of_potassium = potassium * potassium_chloride(close, charges)
    of_sodium = sodium * sodium_chloride(close)
    of_ammonium = ammonium * ammonium_chloride(close, charges)
    return of_calcium + of_magnesium + of_potassium + of_sodium + of_ammonium + ANIONS * phosphate


@helper
def near_sulfate(
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    close: float,
    charges: float,
) -> float:
    of_magnesium = magnesium * magnesium_sulfate(close, charges)
    of_potassium = potassium * potassium_sulfate(close, charges)
    of_sodium = sodium * sodium_sulfate(close)
    return of_magnesium + of_potassium + of_sodium + ammonium * ammonium_sulfate(close)


@helper
def near_phosphate(
    magnesium: float,
    potassium: float,
    sodium: float,
    ammonium: float,
    chloride: float,
    close: float,
    charges: float,
) -> float:
    of_magnesium = magnesium * magnesium_phosphate(close, charges)
    of_potassium = potassium * potassium_phosphate(close, charges)
    of_others = (sodium + ammonium) * ammonium_phosphate(close, charges)
    return of_magnesium + of_potassium + of_others + ANIONS * chloride + SODIUM_MORE * sodium


@helper
def active(amount: float, logarithm: float) -> float:
    """An activity, mol/kg."""
    return amount * exp(min(LARGE, logarithm))


@helper
def debye(strength: float, celsius: float) -> float:
    """Logarithm of a single charge's activity coefficient where ions are few."""
    root = sqrt(strength)
    slope = 0.3769 + 0.000584 * celsius
    return -slope * (root / (1 + 1.2 * root) + 2 / 1.2 * log(1 + 1.2 * root))


@helper
def closeness(strength: float) -> float:
    """How much of the second coefficient of a pair counts: 1 where ions are few, then less."""
    reach = 2 * sqrt(strength)
    return 2 * (1 - (1 + reach) * exp(-reach)) / (reach * reach)


@calculation(
    "WATERLEFT",
    example=((0, 0, 2000, 0, 0, 2000, 0, 0, 0, 0, 0, 0), 0.914758),
    empirical="volumes of ions are bare numbers",
)
def water_left(
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
) -> KgPerL:
    """Water in a litre of finished stock.

    What the salts leave room for, crystal water counted as water. A saturated stock of ammonium
    nitrate is half water; far below that it cannot be mixed. Within 4 % up to saturated solutions.
    Source: apparent volumes fitted to the density correlation of Laliberte (2009); urea and boric
    acid at infinite dilution, from memory.
    """
    base = max(
        0,
        base_left(
            calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, chloride, carbonate,
            phosphate,
        ),
    )  # fmt: skip
    second = min(phosphate, base)
    double = min(carbonate, base - second)
    return of_water(
        calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, chloride, carbonate,
        phosphate, double, second, urea, borate,
    )  # fmt: skip
