"""The working of the water report, in the subset of Python that compiles to formulas: sums,
readings and indices. What they mean is in ``verdict_working``.

A blank line is not given, never 0: what needs it is not given either.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.acidity import calcite_index
from tanksheet.calc.conductivity import conductivity as ion_conductivity
from tanksheet.calc.conductivity import conductivity_at_25
from tanksheet.calc.water import (
    MG_CACO3_PER_MEQ,
    as_caco3,
    charge_error,
    equivalents,
    ion_element,
    sodium_adsorption,
)
from tanksheet.subset import helper
from tanksheet.units import QUANTITIES

NOT_GIVEN, BEYOND, NONE = "not given", "no limit", "none"
# Ionic strength, mmol/L, for each mS/cm of a water (Griffin and Jurinak 1973, Soil Science 116).
STRENGTH_PER_CONDUCTIVITY = 13
MOST_ALKALINITY, MOST_STRENGTH = QUANTITIES["alkalinity"].high, QUANTITIES["strength_mmol"].high


def charges(ion: str) -> Any:
    def charges_of(amount: Any) -> Any:
        return equivalents(amount, ion)

    return charges_of


@helper
def name_if(typed: Any, name: Any) -> Any:
    return name if typed == "" else ""


def missing_of(
    calcium_typed: Any,
    magnesium_typed: Any,
    sodium_typed: Any,
    bicarbonate_typed: Any,
    sulfate_typed: Any,
    chloride_typed: Any,
) -> Any:
    """The main ions that are blank; potassium, ammonium, nitrate and carbonate often are."""
    cations = f"{name_if(calcium_typed, ' Ca')}{name_if(magnesium_typed, ' Mg')}"
    middle = f"{name_if(sodium_typed, ' Na')}{name_if(bicarbonate_typed, ' HCO3')}"
    anions = f"{name_if(sulfate_typed, ' SO4')}{name_if(chloride_typed, ' Cl')}"
    names = f"{cations}{middle}{anions}"
    return NONE if names == "" else f"not given:{names}"


def sum_of_cations(
    calcium_meq: Any, magnesium_meq: Any, sodium_meq: Any, potassium_meq: Any, ammonium_meq: Any
) -> Any:
    return calcium_meq + magnesium_meq + sodium_meq + potassium_meq + ammonium_meq


def sum_of_anions(
    bicarbonate_meq: Any, carbonate_meq: Any, sulfate_meq: Any, chloride_meq: Any, nitrate_meq: Any
) -> Any:
    return bicarbonate_meq + carbonate_meq + sulfate_meq + chloride_meq + nitrate_meq


def balance_of(cations: Any, anions: Any) -> Any:
    return NOT_GIVEN if cations + anions == 0 else charge_error(cations, anions)


def water_conductivity(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    bicarbonate: Any,
    carbonate: Any,
) -> Any:
    """Carbonate conducts about as two bicarbonates do."""
    alkaline = min(bicarbonate + 2 * carbonate, 20000)
    return ion_conductivity(
        calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, chloride, alkaline, 0
    )


def reading_at_25(ec_measured: Any, meter: Any, celsius: Any) -> Any:
    if ec_measured == "":
        return NOT_GIVEN
    if meter == "at 25 degC":
        return ec_measured
    return NOT_GIVEN if celsius == "" else conductivity_at_25(ec_measured, celsius)


def judged_conductivity(ec_at_25: Any, ec_of_ions: Any, missing: Any) -> Any:
    """The meter's reading, or that of the ions where all the main ones are there."""
    if ec_at_25 != NOT_GIVEN:
        return ec_at_25
    return ec_of_ions if missing == NONE else NOT_GIVEN


def solids_of(dissolved: Any, ec_used: Any) -> Any:
    if dissolved != "":
        return dissolved
    return NOT_GIVEN if ec_used == NOT_GIVEN else 640 * ec_used


# Hardness, alkalinity and what follows from both.


def hard_of(
    calcium_typed: Any, magnesium_typed: Any, calcium_meq: Any, magnesium_meq: Any, hardness: Any
) -> Any:
    """Calcium and magnesium together, or else the hardness that is printed, meq/L."""
    if calcium_typed != "" and magnesium_typed != "":
        return calcium_meq + magnesium_meq
    return NOT_GIVEN if hardness == "" else hardness / MG_CACO3_PER_MEQ


def hardness_of(hard_meq: Any) -> Any:
    return NOT_GIVEN if hard_meq == NOT_GIVEN else as_caco3(hard_meq)


def alkalinity_of(bicarbonate_typed: Any, bicarbonate_meq: Any, carbonate_meq: Any) -> Any:
    return NOT_GIVEN if bicarbonate_typed == "" else bicarbonate_meq + carbonate_meq


def alkalinity_as_caco3(alkalinity_meq: Any) -> Any:
    return NOT_GIVEN if alkalinity_meq == NOT_GIVEN else as_caco3(alkalinity_meq)


def sar_of(sodium_typed: Any, sodium_meq: Any, hard_meq: Any) -> Any:
    if sodium_typed == "" or hard_meq == NOT_GIVEN:
        return NOT_GIVEN
    if hard_meq == 0:
        return 0 if sodium_meq == 0 else BEYOND
    return sodium_adsorption(sodium_meq, hard_meq, 0)


def residual_of(alkalinity_meq: Any, hard_meq: Any) -> Any:
    """Residual sodium carbonate, meq/L; below 0 where calcium and magnesium exceed it."""
    if alkalinity_meq == NOT_GIVEN or hard_meq == NOT_GIVEN:
        return NOT_GIVEN
    return alkalinity_meq - hard_meq


def strength_of(
    calcium: Any,
    magnesium: Any,
    sulfate: Any,
    carbonate: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    chloride: Any,
    bicarbonate: Any,
    missing: Any,
    ec_at_25: Any,
) -> Any:
    """Ionic strength, mmol/L: of the ions; where a main one is blank, from the meter's reading. The
    fewer ions are known, the higher the calcite index comes out: that is the safe side."""
    doubles = 4 * (calcium + magnesium + sulfate + carbonate)
    singles = potassium + sodium + ammonium + nitrate + chloride + bicarbonate
    ions = min((doubles + singles) / 2, MOST_STRENGTH)
    if missing == NONE or ec_at_25 == NOT_GIVEN:
        return ions
    return STRENGTH_PER_CONDUCTIVITY * ec_at_25


def calcite_of(
    calcium_typed: Any,
    calcium: Any,
    alkalinity_meq: Any,
    water_ph: Any,
    celsius: Any,
    strength: Any,
) -> Any:
    if calcium_typed == "" or alkalinity_meq == NOT_GIVEN or water_ph == "" or celsius == "":
        return NOT_GIVEN
    held = min(alkalinity_meq, MOST_ALKALINITY)
    return calcite_index(calcium, held, water_ph, celsius, strength)


# Nutrients.


def nutrient(ion: str) -> Any:
    def nutrient_of(typed: Any, amount: Any) -> Any:
        return NOT_GIVEN if typed == "" else ion_element(amount, ion)

    return nutrient_of


def nitrogen_of(nitrate_typed: Any, ammonium_typed: Any, nitrate: Any, ammonium: Any) -> Any:
    """Of the two that is given, where the other is blank."""
    if nitrate_typed == "" and ammonium_typed == "":
        return NOT_GIVEN
    return ion_element(nitrate, "NO3") + ion_element(ammonium, "NH4")
