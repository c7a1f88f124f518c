"""Conductivity: what a meter should read, and what its reading is at 25 degrees C."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.subset import helper, power, sqrt
from tanksheet.units import Celsius, MilliSiemens, MmolPerL

# Equivalent conductivities at infinite dilution and 25 degrees C, S cm2 per equivalent: CRC
# Handbook, but for dihydrogen phosphate (CRC 36), lowered so that KH2PO4 comes out right.
CALCIUM, MAGNESIUM, POTASSIUM, SODIUM, AMMONIUM = 59.47, 53.0, 73.48, 50.08, 73.5
NITRATE, SULFATE, CHLORIDE, BICARBONATE, DIHYDROGEN_PHOSPHATE = 71.42, 80.0, 76.31, 44.5, 33.77
PAIR = 80.18  # the ion pairs KSO4-, NaSO4- and NH4SO4-, taken as one
# How an ion's conductivity falls with the square root of ionic strength. For single charges it
# is Onsager's limiting law for 1:1 salts in water at 25 degrees C; the rest is fitted to the
# single-salt solutions that PHREEQC 3.8 (phreeqc.dat) gives for 1 to 20 mmol/L.
SLOPE_ONE, DRAG_ONE = 0.2289, 30.3
SLOPE_TWO, DRAG_TWO = 0.32086, 75.563
SIZE = 1.41363
# Stability of the ion pairs in phreeqc.dat, L/mol: CaSO4, MgSO4, and KSO4- for all single charges.
CALCIUM_PAIR, MAGNESIUM_PAIR, SINGLE_PAIR = 199.526, 234.423, 7.07946


@helper
def double_activity(strength: float) -> float:
    """Activity coefficient of a double charge (Davies), for strength in mol/L."""
    root = sqrt(strength)
    return power(10, -4 * 0.509 * (root / (1 + root) - 0.3 * strength))


@helper
def free_sulfate(
    sulfate: float, calcium: float, magnesium: float, singles: float, activity: float
) -> float:
    """Sulfate that no ion pair holds, mmol/L, to a first approximation."""
    with_calcium = CALCIUM_PAIR * activity * activity / 1000
    with_magnesium = MAGNESIUM_PAIR * activity * activity / 1000
    with_single = SINGLE_PAIR * activity / 1000
    return sulfate / (
        1
        + with_calcium * calcium / (1 + with_calcium * sulfate)
        + with_magnesium * magnesium / (1 + with_magnesium * sulfate)
        + with_single * singles / (1 + with_single * sulfate)
    )


@helper
def fall_with(strength: float) -> float:
    """The square root law that an ion's conductivity falls by, for strength in mol/L."""
    return sqrt(strength) / (1 + SIZE * sqrt(strength))


@helper
def conducted(
    calcium: float,
    magnesium: float,
    singles: float,
    cations: float,
    others: float,
    salts: float,
    sulfate: float,
    doubles: float,
    twice: float,
) -> float:
    """Conductivity in mS/cm of ions in mmol/L, with what each kind would carry alone.

    ``singles`` pair with sulfate and would carry ``cations``; ``others`` have one charge and would
    carry ``salts``; ``doubles`` are anions with two charges beside sulfate and would carry
    ``twice``.
    """
    all_free = (singles + others + 4 * (calcium + magnesium + sulfate + doubles)) / 2000
    activity = double_activity(all_free)
    left = free_sulfate(sulfate, calcium, magnesium, singles, activity)
    calcium_free = calcium / (1 + CALCIUM_PAIR * activity * activity / 1000 * left)
    magnesium_free = magnesium / (1 + MAGNESIUM_PAIR * activity * activity / 1000 * left)
    share_free = 1 / (1 + SINGLE_PAIR * activity / 1000 * left)
    pairs_two = calcium - calcium_free + magnesium - magnesium_free
    pairs_one = singles * (1 - share_free)
    double_free = sulfate - pairs_two - pairs_one
    fall = fall_with(all_free - (4 * pairs_two + 2 * pairs_one) / 1000)
    single = share_free * cations + salts
    double = 2 * (calcium_free * CALCIUM + magnesium_free * MAGNESIUM + double_free * SULFATE)
    ones = (single + pairs_one * PAIR) * (1 - SLOPE_ONE * fall)
    both = (double + twice) * (1 - SLOPE_TWO * fall)
    drag = DRAG_ONE * (singles + others)
    drag = drag + 2 * DRAG_TWO * (calcium_free + magnesium_free + double_free + doubles)
    return (ones + both - drag * fall) / 1000


@helper
def of_cations(potassium: float, sodium: float, ammonium: float) -> float:
    """What these would carry alone, uS/cm."""
    return potassium * POTASSIUM + sodium * SODIUM + ammonium * AMMONIUM


@helper
def of_anions(
    nitrate: float, chloride: float, bicarbonate: float, dihydrogen_phosphate: float
) -> float:
    """What these would carry alone, uS/cm."""
    salts = nitrate * NITRATE + chloride * CHLORIDE + bicarbonate * BICARBONATE
    return salts + dihydrogen_phosphate * DIHYDROGEN_PHOSPHATE


@calculation(
    "EC",
    example=((5, 2, 6, 0, 0, 15, 2, 0, 0, 1), 2.18358),
    empirical="ion conductivities and activity coefficients are fitted",
)
def conductivity(
    calcium: MmolPerL,
    magnesium: MmolPerL,
    potassium: MmolPerL,
    sodium: MmolPerL,
    ammonium: MmolPerL,
    nitrate: MmolPerL,
    sulfate: MmolPerL,
    chloride: MmolPerL,
    bicarbonate: MmolPerL,
    dihydrogen_phosphate: MmolPerL,
) -> MilliSiemens:
    """Conductivity at 25 degrees C of water with these ions.

    Ions hinder one another, and calcium and magnesium pair with sulfate, so a plain sum of ion
    conductivities reads some 20 % too high in a full-strength feed; this formula allows for both.
    Within 3 % of a full speciation for single salts up to 20 mmol/L and for whole feeds, within
    4 % for natural waters; it is not meant for concentrates. Urea and chelates add almost nothing
    to a meter's reading.
    Source: ion conductivities of the CRC Handbook, Onsager's law, Davies activity coefficients,
    pair constants of phreeqc.dat; checked against PHREEQC 3.8 and KCl standards.
    """
    singles = potassium + sodium + ammonium
    anions = nitrate + chloride + bicarbonate + dihydrogen_phosphate
    cations = of_cations(potassium, sodium, ammonium)
    salts = of_anions(nitrate, chloride, bicarbonate, dihydrogen_phosphate)
    return conducted(calcium, magnesium, singles, cations, anions, salts, sulfate, 0, 0)


@calculation("ECAT25", example=((1.273, 20), 1.40741))
def conductivity_at_25(ec_reading: MilliSiemens, celsius: Celsius) -> MilliSiemens:
    """A meter reading brought to 25 degrees C.

    Most meters do this themselves; use it for one that does not, and never twice. Within 1 % of
    the standard of 0.01 mol/kg KCl from 10 to 35 degrees C.
    Source: Standard Methods 2510 B, 1.91 % a degree.
    """
    return ec_reading / (1 + 0.0191 * (celsius - 25))
