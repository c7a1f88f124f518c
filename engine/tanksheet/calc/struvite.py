"""Struvite: how much of it settles out of a tank with magnesium, ammonium and phosphate.

Each mmol that forms takes one HPO4-- and sets a proton free, which turns another into H2PO4-. So
the pH falls, until what is left can stay dissolved: halving the most that can form finds how much
that is. Amounts are in mmol/L.
"""

from __future__ import annotations

from tanksheet.calc.mixing import (
    FIRST_PAIR,
    SECOND_PAIR,
    SECOND_PHOSPHATE,
    STRUVITE_PRODUCT,
    THIRD_PHOSPHATE,
    double_fall,
    second_ratio,
    struvite_index,
)
from tanksheet.definition import calculation
from tanksheet.subset import helper, power
from tanksheet.units import PH, MgPerL, MmolPerL

AMMONIUM = 9.252  # pK at 25 degrees C, as in phreeqc.dat
STRUVITE_MASS = 245.41  # g/mol of MgNH4PO4.6H2O
# Share of the magnesium that is left free for phosphate, to a first approximation, where sulfate
# and phosphate hold the rest.
MAGNESIUM_SHARE = 0.4
# What each mmol takes away from ionic strength, as the products' ions are counted.
STRENGTH_EACH = 3


@helper
def spent_base(
    magnesium: float, ammonium: float, phosphate: float, ph_tank: float, strength: float
) -> float:
    """Protons that the tank lacks from H2PO4- and NH4+: as HPO4--, free or paired, and ammonia."""
    fall = double_fall(strength)
    first = 1 + MAGNESIUM_SHARE * magnesium * power(10, FIRST_PAIR - 3 + fall / 2)
    second = 1 + MAGNESIUM_SHARE * magnesium * power(10, SECOND_PAIR - 3 + fall)
    ratio = second_ratio(ph_tank, strength) * second / first
    ammonia = power(10, ph_tank - AMMONIUM + fall / 8)
    return phosphate * ratio / (1 + ratio) + ammonium * ammonia / (1 + ammonia)


@helper
def kept(strength: float) -> float:
    """Mg x NH4 x HPO4 x HPO4 / H2PO4 that stays dissolved, for strength in mol/L."""
    constants = STRUVITE_PRODUCT - SECOND_PHOSPHATE + THIRD_PHOSPHATE
    return power(10, 9 + constants - 1.625 * double_fall(strength))


@helper
def half_way(
    formed: float,
    step: float,
    magnesium: float,
    ammonium: float,
    phosphate: float,
    base: float,
    product: float,
) -> float:
    """One step up where more can form, one step down where the tank is no longer saturated."""
    second = min(phosphate - formed, base - 2 * formed)
    first = phosphate - formed - second
    more = (magnesium - formed) * (ammonium - formed) * second * second > product * first
    return formed + (step if more else -step)


@helper
def balanced(
    most: float,
    magnesium: float,
    ammonium: float,
    phosphate: float,
    base: float,
    product: float,
) -> float:
    """Struvite that forms until what is left is just saturated; ``most`` is what could."""
    formed = most / 2
    formed = half_way(formed, most / 4, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 8, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 16, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 32, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 64, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 128, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 256, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 512, magnesium, ammonium, phosphate, base, product)
    formed = half_way(formed, most / 1024, magnesium, ammonium, phosphate, base, product)
    return half_way(formed, most / 2048, magnesium, ammonium, phosphate, base, product)


@calculation(
    "STRUVITE",
    example=((400, 900, 450, 7.5, 2600), 52455.5),
    empirical="activity coefficients are fitted",
)
def struvite_settling(
    magnesium: MmolPerL,
    ammonium: MmolPerL,
    phosphate: MmolPerL,
    ph_tank: PH,
    strength_mmol: MmolPerL,
) -> MgPerL:
    """Struvite that can settle out of a tank, per litre.

    The pH is that of the tank before anything settles. It falls as struvite forms, which stops it:
    monoammonium phosphate at pH 4 stays clear, diammonium phosphate loses up to half its
    phosphate. Carbonate or borate that holds the pH up is not counted, and lets more settle.
    Within 15 % of PHREEQC 3.8 where more than 10 g/L settles.
    Source: solubility product of MgNH4PO4.6H2O, 13.26 (Ohlinger, Young and Schroeder 1998;
    Ronteltap, Maurer and Gujer 2007); constants of phreeqc.dat.
    """
    if struvite_index(magnesium, ammonium, phosphate, ph_tank, strength_mmol) <= 0:
        return 0
    strength = strength_mmol / 1000
    base = spent_base(magnesium, ammonium, phosphate, ph_tank, strength)
    most = min(magnesium, ammonium, phosphate, base / 2)
    product = kept(max(0, strength - STRENGTH_EACH * most / 1000))
    formed = balanced(most, magnesium, ammonium, phosphate, base, product)
    return STRUVITE_MASS * formed
