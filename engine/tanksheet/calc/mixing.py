"""What must not share a tank: salts that settle out of concentrates, from their ion products.

Activities follow phreeqc.dat: log10 of the coefficient of a double charge is
-4 x 0.509 x sqrt(I)/(1 + 1.643 sqrt(I)) plus a term in I, for I in mol/L. Up to an ionic strength
of about 1 mol/L the amounts hold within some per cent; concentrates go beyond, where even full
speciation programs differ among themselves by 5 to 10 %.

Traces are compared and logarithms taken one by one: their product would be so small that one
engine takes it for 0.
"""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import helper, log10, power, sqrt
from tanksheet.units import PH, GramPerL, MmolPerL, Number

# log10 of solubility products and stability constants at 25 degrees C.
GYPSUM_PRODUCT, GYPSUM_PAIR, MAGNESIUM_PAIR, SINGLE_PAIR = -4.58, 2.25, 2.42, 0.7
DICALCIUM_PRODUCT, STRUVITE_PRODUCT = -6.59, -13.26
SECOND_PHOSPHATE, THIRD_PHOSPHATE = 7.207, 12.346
FIRST_PAIR, SECOND_PAIR = 1.408, 2.739  # CaH2PO4+ and CaHPO4
GYPSUM_MASS, DICALCIUM_MASS = 172.164, 172.087  # g/mol, both with two waters


@helper
def double_fall(strength: float) -> float:
    """log10 of the product of two double-charge activity coefficients, without its I term."""
    return -4.072 * sqrt(strength) / (1 + 1.643 * sqrt(strength))


@helper
def both_activities(strength: float) -> float:
    """Product of the activity coefficients of calcium and sulfate."""
    return power(10, double_fall(strength) + 0.125 * strength)


@helper
def water_activity(solutes: float) -> float:
    return 1 - 0.017 * solutes / 1000


@calculation(
    "GYPSUMINDEX",
    example=((50, 20, 260), 0.482695),
    empirical="activity coefficients are fitted, and an index is a logarithm",
)
def gypsum_index(calcium: MmolPerL, sulfate: MmolPerL, strength_mmol: MmolPerL) -> Number:
    """Whether calcium and sulfate can stay dissolved together: above 0, gypsum settles.

    An upper bound that leaves ion pairs out: good enough to tell which products to keep apart.
    Without calcium or without sulfate it is -9.
    Source: solubility product and activity coefficients of phreeqc.dat.
    """
    if min(calcium, sulfate) == 0:
        return -9
    activity = double_fall(strength_mmol / 1000) + 0.125 * strength_mmol / 1000
    return log10(calcium) + log10(sulfate) - 6 + activity - GYPSUM_PRODUCT


@calculation(
    "GYPSUM",
    example=((500, 200, 0, 200, 1000), 32.6033),
    empirical="activity coefficients are fitted",
)
def gypsum_settling(
    calcium: MmolPerL,
    magnesium: MmolPerL,
    singles: MmolPerL,
    sulfate: MmolPerL,
    anions: MmolPerL,
) -> GramPerL:
    """Gypsum that settles out of a mixed concentrate, per litre.

    Magnesium and potassium hold some sulfate back, which is allowed for. Two passes settle how
    much sulfate stays dissolved.
    Source: solubility product, ion pairs and activity coefficients of phreeqc.dat; where more
    than 2 g/L settles, within 13 % of PHREEQC 3.8 and within 8 % of its sit.dat.
    """
    all_free = (4 * (calcium + magnesium + sulfate) + singles + anions) / 2000
    solutes = calcium + magnesium + sulfate + singles + anions
    first = 0.8 * min(calcium, sulfate)
    strength = all_free - 4 * first / 1000
    product = gypsum_product(strength, solutes - 2 * first)
    held = held_per_sulfate(magnesium, singles, 0.3 * sulfate, strength)
    left = sulfate_left(calcium, sulfate, product, held)
    second = settled(calcium, left, product, strength)
    strength = all_free - (4 * second + 4 * held * left) / 1000
    product = gypsum_product(strength, solutes - 2 * second)
    held = held_per_sulfate(magnesium, singles, left, strength)
    left = sulfate_left(calcium, sulfate, product, held)
    return settled(calcium, left, product, strength) * GYPSUM_MASS / 1000


@helper
def gypsum_product(strength: float, solutes: float) -> float:
    """Calcium times sulfate that stays dissolved, (mmol/L) squared."""
    water = water_activity(solutes)
    return 1e6 * power(10, GYPSUM_PRODUCT) / (both_activities(strength) * water * water)


@helper
def held_per_sulfate(magnesium: float, singles: float, sulfate: float, strength: float) -> float:
    """Sulfate held in other ion pairs, for each mmol that is free."""
    fall = power(10, double_fall(strength)) / 1000
    with_magnesium = power(10, MAGNESIUM_PAIR) * fall
    with_single = power(10, SINGLE_PAIR) * fall
    return magnesium * with_magnesium / (1 + with_magnesium * sulfate) + singles * with_single / (
        1 + with_single * sulfate
    )


@helper
def sulfate_left(calcium: float, sulfate: float, product: float, held: float) -> float:
    """Free sulfate next to solid gypsum, mmol/L: the positive root of a quadratic."""
    excess = calcium - sulfate
    return (sqrt(excess * excess + 4 * (1 + held) * product) - excess) / (2 * (1 + held))


@helper
def settled(calcium: float, left: float, product: float, strength: float) -> float:
    """Gypsum formed, mmol/L, none if that much calcium is not there."""
    pairs = power(10, GYPSUM_PAIR) * both_activities(strength) / 1000 * product
    return max(0, calcium - product / left - pairs)


@helper
def second_ratio(ph_tank: float, strength: float) -> float:
    """HPO4 for each H2PO4 in solution, from pH."""
    return power(10, ph_tank - SECOND_PHOSPHATE - 0.375 * double_fall(strength))


@helper
def with_calcium(ratio: float, strength: float) -> float:
    """Phosphate paired with calcium, for each mmol/L of calcium and of free H2PO4."""
    fall = double_fall(strength)
    return (power(10, FIRST_PAIR + fall / 2) + power(10, SECOND_PAIR + fall) * ratio) / 1000


@helper
def second_share(calcium: float, ph_tank: float, strength: float) -> float:
    """Share of the phosphate that is free HPO4."""
    ratio = second_ratio(ph_tank, strength)
    return ratio / (1 + ratio + calcium * with_calcium(ratio, strength))


@calculation(
    "PHOSPHATEINDEX",
    example=((500, 100, 5, 1700), 1.54809),
    empirical="activity coefficients are fitted, and an index is a logarithm",
)
def dicalcium_index(
    calcium: MmolPerL, phosphate: MmolPerL, ph_tank: PH, strength_mmol: MmolPerL
) -> Number:
    """Whether calcium and phosphate can stay dissolved: above 0, dicalcium phosphate settles.

    The more acid the tank, the more stays dissolved. Without calcium or phosphate it is -9.
    Source: solubility product of CaHPO4.2H2O in minteq.v4.dat, ion pairs of phreeqc.dat; within
    0.2 of PHREEQC 3.8 up to an ionic strength of 1 mol/L, too high where magnesium shares the
    phosphate.
    """
    if min(calcium, phosphate) == 0:
        return -9
    strength = strength_mmol / 1000
    share = second_share(calcium, ph_tank, strength)
    ions = log10(calcium) + log10(phosphate) + log10(share) - 6
    return ions + double_fall(strength) - DICALCIUM_PRODUCT


@calculation(
    "PHOSPHATESETTLING",
    example=((500, 100, 5, 1700), 16.6806),
    empirical="activity coefficients are fitted",
)
def dicalcium_settling(
    calcium: MmolPerL, phosphate: MmolPerL, ph_tank: PH, strength_mmol: MmolPerL
) -> GramPerL:
    """Dicalcium phosphate that settles out of a concentrate, per litre, if its pH stays as it is.

    Settling makes the tank more acid, which stops it early: without something that holds the pH
    up, less settles than this. From pH 5 up it is within 15 % of PHREEQC 3.8 without magnesium;
    with magnesium, or in a more acid tank, it can be far too high.
    Source: as FERT.PHOSPHATEINDEX.
    """
    strength = strength_mmol / 1000
    ratio = second_ratio(ph_tank, strength)
    product = power(10, 6 + DICALCIUM_PRODUCT - double_fall(strength))
    excess = calcium - phosphate
    left = (excess + sqrt(excess * excess + 4 * product * (1 + 1 / ratio))) / 2
    pairs = product / ratio * with_calcium(ratio, strength)
    return max(0, calcium - left - pairs) * DICALCIUM_MASS / 1000


@calculation(
    "STRUVITEINDEX",
    example=((200, 100, 100, 6.5, 1000), 2.41874),
    empirical="activity coefficients are fitted, and an index is a logarithm",
)
def struvite_index(
    magnesium: MmolPerL,
    ammonium: MmolPerL,
    phosphate: MmolPerL,
    ph_tank: PH,
    strength_mmol: MmolPerL,
) -> Number:
    """Whether magnesium, ammonium and phosphate can stay dissolved: above 0, struvite settles.

    It does so only in tanks that are hardly acid. Without one of the three it is -9.
    Source: solubility product of MgNH4PO4.6H2O, 13.26: Ronteltap, Maurer and Gujer 2007.
    """
    if min(magnesium, ammonium, phosphate) == 0:
        return -9
    strength = strength_mmol / 1000
    fall = double_fall(strength)
    second = log10(phosphate) + log10(second_share(0, ph_tank, strength)) - 3
    third = second + ph_tank - THIRD_PHOSPHATE + fall / 2
    return log10(magnesium) + log10(ammonium) - 6 + third + 0.75 * fall - STRUVITE_PRODUCT
