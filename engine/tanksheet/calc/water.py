"""Water: alkalinity and the acid that it takes, sodium hazard, and what dissolves in it."""

from __future__ import annotations

from tanksheet.definition import calculation
from tanksheet.errors import NotListed
from tanksheet.subset import check, helper, log10, power, sqrt
from tanksheet.tables import look_up
from tanksheet.units import (
    DEGREES,
    PH,
    Celsius,
    GramPerL,
    Litre,
    MeqPerL,
    MgPerL,
    Millilitre,
    MmolPerL,
    Number,
    Percent,
    Word,
)

# Half the molar mass of CaCO3 from IUPAC abridged atomic weights.
MG_CACO3_PER_MEQ = 50.043
PLAIN_MASS = ("mg/L", "ppm")
AS_CACO3 = ("mg/L as CaCO3", *DEGREES)
KELVIN = 273.15


@calculation(
    "ALKALINITY",
    example=((250,), 4.99570),
    empirical="the equivalent weight carries the unit mg/meq",
)
def alkalinity_meq(alkalinity_as_caco3: MgPerL) -> MeqPerL:
    """Alkalinity in milliequivalents, from the mg/L as CaCO3 of a lab report.

    Where the report gives bicarbonate instead, 61.02 mg/L of it is 1 meq/L.
    Source: equivalent weight of CaCO3, from IUPAC atomic weights.
    """
    return alkalinity_as_caco3 / MG_CACO3_PER_MEQ


@helper
def of_ion(column: str, ion: str) -> float:
    """A figure of data/ions.csv."""
    return look_up("ions", column, ion)


@calculation(
    "IONMMOL",
    example=((200, "Ca", "mg/L as CaCO3"), 1.99828),
    empirical="the unit of the figure is a word, and molar masses are bare numbers of a table",
)
def ion_mmol(reported: Number, ion: Word, ion_unit: Word) -> MmolPerL:
    """A line of a water report, whatever its unit, in mmol/L.

    Plain mg/L is the mass of the ion itself. "As CaCO3", grains per gallon (gpg) and degrees of
    hardness (dH German, fH French, e English) count charges: 50.04 mg/L as CaCO3 is 1 meq/L. "As
    N" and "as S" are the mass of that element alone, so 10 mg/L nitrate as N is 44.3 mg/L as NO3;
    read the heading of the report twice.
    Source: molar masses from IUPAC atomic weights, in data/ions.csv.
    """
    if ion_unit == "mmol/L":
        return reported
    if ion_unit == "umol/L":
        return reported / 1000
    if ion_unit == "meq/L" or ion_unit in AS_CACO3:
        charge = of_ion("charge", ion)
        check(charge > 0, f"{ion} carries no charge; choose mg/L", NotListed)
        if ion_unit == "meq/L":
            return reported / charge
        return reported * look_up("units", "factor", ion_unit) / charge / MG_CACO3_PER_MEQ
    if ion_unit in PLAIN_MASS or ion_unit == f"mg/L as {look_up('ions', 'ion', ion)}":
        return reported / of_ion("molar_mass", ion)
    if ion_unit == "ug/L":
        return reported / 1000 / of_ion("molar_mass", ion)
    named = f"mg/L as {look_up('ions', 'element', ion)}"
    check(ion_unit == named, f"{ion_unit} does not fit {ion}; choose mg/L", NotListed)
    return reported / of_ion("element_mass", ion)


@helper
def equivalents(ion_amount: float, ion: str) -> float:
    """Charges that an ion carries, meq/L."""
    return ion_amount * of_ion("charge", ion)


@helper
def mass_as_element(ion_amount: float, ion: str) -> float:
    return ion_amount * of_ion("element_mass", ion)


@calculation(
    "IONELEMENT",
    example=((2, "NO3"), 28.014),
    empirical="molar masses are bare numbers of a table",
)
def ion_element(ion_amount: MmolPerL, ion: Word) -> MgPerL:
    """The nutrient that an ion brings, as the element: N of nitrate, S of sulfate.

    Source: molar masses from IUPAC atomic weights, in data/ions.csv.
    """
    return mass_as_element(ion_amount, ion)


@helper
def as_caco3(charges_meq: float) -> float:
    """Alkalinity or hardness in meq/L as the mg/L as CaCO3 that laboratories print."""
    return charges_meq * MG_CACO3_PER_MEQ


@calculation(
    "HARDNESS",
    example=((2, 0.5), 250.215),
    empirical="the molar mass of CaCO3 is a bare number",
)
def hardness(calcium: MmolPerL, magnesium: MmolPerL) -> MgPerL:
    """Total hardness as CaCO3: the calcium and magnesium of the water.

    Source: definition of hardness (Standard Methods 2340 B), IUPAC atomic weights.
    """
    return as_caco3(2 * (calcium + magnesium))


@calculation("CHARGEERROR", example=((6.2, 5.9), 2.47934))
def charge_error(cations_meq: MeqPerL, anions_meq: MeqPerL) -> Percent:
    """By how much the charges of a water report fail to balance; 0 is perfect.

    Water carries no charge, so a large figure means a wrong unit, a slip or a missing ion:
    above 0 anions are short, below 0 cations are.
    Source: Standard Methods 1030 E.
    """
    return 100 * (cations_meq - anions_meq) / (cations_meq + anions_meq)


@helper
def log_activity(strength: float) -> float:
    """log10 of the activity coefficient of a single charge (Davies), for strength in mol/L."""
    return -0.509 * (sqrt(strength) / (1 + sqrt(strength)) - 0.3 * strength)


@helper
def constant(kelvin: float, a: float, b: float, c: float, d: float, e: float) -> float:
    """An equilibrium constant from a fit of its logarithm over temperature."""
    fit = a + b * kelvin + c / kelvin + d * log10(kelvin) + e / (kelvin * kelvin)
    return power(10, fit)


@helper
def first_constant(kelvin: float) -> float:
    """First dissociation of carbonic acid (Plummer and Busenberg 1982)."""
    return constant(kelvin, -356.3094, -0.06091964, 21834.37, 126.8339, -1684915)


@helper
def second_constant(kelvin: float) -> float:
    """Second dissociation of carbonic acid (Plummer and Busenberg 1982)."""
    return constant(kelvin, -107.8871, -0.03252849, 5151.79, 38.92561, -563713.9)


@helper
def water_constant(kelvin: float) -> float:
    """Ion product of water, as in phreeqc.dat."""
    return constant(kelvin, -283.971, -0.05069842, 13323, 102.24447, -1119669)


@helper
def charge_per_carbon(acidity: float, first: float, second: float) -> float:
    """Equivalents of alkalinity that each mole of dissolved carbon carries at an acidity."""
    both = first * second / (acidity * acidity)
    return (first / acidity + 2 * both) / (1 + first / acidity + both)


@helper
def water_excess(acidity: float, water: float) -> float:
    """Hydroxide less hydrogen ions, meq/L."""
    return 1000 * (water / acidity - acidity)


@calculation(
    "ACIDNEED",
    example=((5, 7.8, 5.8, 25), 3.80620),
    empirical="equilibrium constants and pH are logarithms of bare numbers",
)
def acid_need(alkalinity: MeqPerL, ph_now: PH, ph_target: PH, celsius: Celsius) -> MeqPerL:
    """Strong acid that brings water to a lower pH, per litre.

    It takes about two thirds of the alkalinity to reach pH 6.0, three quarters to reach 5.8. The
    carbon dioxide set free is taken to stay in the water, as it does in a closed pipe; in an open
    tank the pH creeps up again as it escapes. In very salty or hard water the dose comes out up
    to 5 % high. Check with a pH meter and correct.
    Source: carbonate equilibria of Plummer and Busenberg 1982 with Davies activity coefficients;
    checked against titrations in PHREEQC 3.8.
    """
    check(ph_target <= ph_now, "the pH wanted must not be above that of the water")
    kelvin = celsius + KELVIN
    # The salts of the water bring about as much ionic strength as its alkalinity.
    activity = log_activity(alkalinity / 1000)
    first = first_constant(kelvin) / power(10, 2 * activity)
    second = second_constant(kelvin) / power(10, 4 * activity)
    water = water_constant(kelvin) / power(10, 2 * activity)
    now = power(10, -ph_now - activity)
    target = power(10, -ph_target - activity)
    carbon = (alkalinity - water_excess(now, water)) / charge_per_carbon(now, first, second)
    left = carbon * charge_per_carbon(target, first, second) + water_excess(target, water)
    return max(0, alkalinity - left)


@calculation(
    "ACIDVOLUME",
    example=((3.8, "sulfuric acid 93 %", 1000), 109.608),
    empirical="the strength from the table carries the unit eq/L",
)
def acid_volume(need: MeqPerL, acid: Word, water_treated: Litre) -> Millilitre:
    """Commercial acid for an amount of water.

    Acid into water, never water into acid; goggles, face shield, gloves and apron. Phosphoric
    acid is counted with one proton and citric with two at any pH. They give more the higher the
    pH wanted, so the volume of phosphoric is 4 % too much at pH 5.5, 10 % at 6.0 and a quarter or
    more at 6.5: FERT.ACIDDOSE has all their protons solved.
    Source: equivalents in a litre of the acid, from its strength and density, in data/acids.csv.
    """
    return need * water_treated / look_up("acids", "eq_per_L", acid)


@calculation(
    "SAR",
    example=((7.73, 2.32, 1.44), 5.63768),
    empirical="by convention stated without a unit, for milliequivalents a litre",
)
def sodium_adsorption(sodium_meq: MeqPerL, calcium_meq: MeqPerL, magnesium_meq: MeqPerL) -> Number:
    """Sodium adsorption ratio: how far the water's sodium spoils the soil's structure.

    Above 3 it starts to matter, above 9 it is severe, the more so in water of low conductivity.
    Source: USDA Handbook 60; classes of FAO Irrigation and Drainage Paper 29.
    """
    return sodium_meq / sqrt((calcium_meq + magnesium_meq) / 2)


@helper
def between(celsius: float, low: float, at_low: float, at_high: float) -> float:
    return at_low + (at_high - at_low) * (celsius - low) / 10


@calculation(
    "SOLUBILITY",
    example=(("potassium nitrate", 15), 266.5),
    empirical="the figures of the table carry the unit g/L",
)
def solubility(salt: Word, table_celsius: Celsius) -> GramPerL:
    """How many grams of a salt one litre of water dissolves.

    Per litre of water added, not of finished stock, which holds less: for that see
    FERT.SATURATION. For the product as sold, crystals with their water. Stay well below: a stock
    tank cools at night, and salts in a mixture hold each other back. Interpolated between
    0, 10, 20, 30 and 40 degrees C; no answer outside.
    Source: CRC Handbook, IUPAC-NIST and other handbook values, in data/solubility.csv.
    """
    at_10 = look_up("solubility", "at_10", salt)
    at_20 = look_up("solubility", "at_20", salt)
    at_30 = look_up("solubility", "at_30", salt)
    if table_celsius <= 10:
        return between(table_celsius, 0, look_up("solubility", "at_0", salt), at_10)
    if table_celsius <= 20:
        return between(table_celsius, 10, at_10, at_20)
    if table_celsius <= 30:
        return between(table_celsius, 20, at_20, at_30)
    return between(table_celsius, 30, at_30, look_up("solubility", "at_40", salt))
