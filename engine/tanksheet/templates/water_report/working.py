"""The working of the water report, in the subset of Python that compiles to formulas: sums and
readings, then what they mean, against the limits of data/water_limits.csv."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tanksheet.calc.conductivity import conductivity as ion_conductivity
from tanksheet.calc.conductivity import conductivity_at_25
from tanksheet.calc.water import (
    as_caco3,
    charge_error,
    equivalents,
    ion_element,
    sodium_adsorption,
)
from tanksheet.subset import helper, shown
from tanksheet.tables import look_up

NOT_GIVEN, NOT_MEASURED = "not given", "not measured"


def charges(ion: str) -> Any:
    def charges_of(amount: Any) -> Any:
        return equivalents(amount, ion)

    return charges_of


def nutrient(ion: str) -> Any:
    def nutrient_of(amount: Any) -> Any:
        return ion_element(amount, ion)

    return nutrient_of


def nitrogen_of(nitrate: Any, ammonium: Any) -> Any:
    return ion_element(nitrate, "NO3") + ion_element(ammonium, "NH4")


def sum_of_cations(
    calcium_meq: Any, magnesium_meq: Any, sodium_meq: Any, potassium_meq: Any, ammonium_meq: Any
) -> Any:
    return calcium_meq + magnesium_meq + sodium_meq + potassium_meq + ammonium_meq


def sum_of_anions(
    bicarbonate_meq: Any, sulfate_meq: Any, chloride_meq: Any, nitrate_meq: Any
) -> Any:
    return bicarbonate_meq + sulfate_meq + chloride_meq + nitrate_meq


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
) -> Any:
    return ion_conductivity(
        calcium, magnesium, potassium, sodium, ammonium, nitrate, sulfate, chloride, bicarbonate, 0
    )


def reading_at_25(ec_measured: Any, meter: Any, celsius: Any) -> Any:
    if ec_measured == "":
        return NOT_MEASURED
    return ec_measured if meter == "at 25 degC" else conductivity_at_25(ec_measured, celsius)


def alkalinity_as_caco3(bicarbonate_meq: Any) -> Any:
    return as_caco3(bicarbonate_meq)


def sar_of(sodium_meq: Any, calcium_meq: Any, magnesium_meq: Any) -> Any:
    if calcium_meq + magnesium_meq == 0:
        return NOT_GIVEN
    return sodium_adsorption(sodium_meq, calcium_meq, magnesium_meq)


def judged_conductivity(ec_at_25: Any, ec_of_ions: Any) -> Any:
    return ec_of_ions if ec_at_25 == NOT_MEASURED else ec_at_25


def solids_of(dissolved: Any, ec_used: Any) -> Any:
    return 640 * ec_used if dissolved == "" else dissolved


# Verdicts.


@helper
def limit_of(column: Any, factor: Any) -> Any:
    return look_up("water_limits", column, factor)


def balance(balance: Any) -> Any:
    if balance == NOT_GIVEN:
        return "not given: no ions above"
    if abs(balance) <= 5:
        return f"pass: charges balance within 5 % ({shown(balance, 1)} %)"
    if abs(balance) <= 10:
        return f"caution: {shown(balance, 1)} % apart; look for an ion left out or mistyped"
    if balance > 0:
        return f"stop: {shown(balance, 1)} % too few anions; check units, alkalinity, sulfate"
    return f"stop: {shown(-balance, 1)} % too few cations; check units, sodium, calcium"


def conductivity(ec_at_25: Any, ec_of_ions: Any) -> Any:
    if ec_at_25 == NOT_MEASURED:
        return NOT_MEASURED
    if ec_at_25 == 0:
        return "stop: the meter read 0; measure again"
    off = (ec_of_ions / ec_at_25 - 1) * 100
    if abs(off) <= 10:
        return f"pass: the ions explain the reading within 10 % ({shown(off, 1)} %)"
    if abs(off) <= 20:
        return f"caution: the ions come to {shown(off, 1)} % beside the reading; check both"
    return f"stop: the ions come to {shown(off, 1)} % beside the reading; one of them is wrong"


@helper
def judged(amount: Any, factor: Any, said: Any, mild: Any, hard: Any) -> Any:
    """A verdict on an amount: below ``low`` it passes, above ``high`` it stops."""
    low = limit_of("low", factor)
    high = limit_of("high", factor)
    if amount < low:
        return f"pass: {said}, below {shown(low, 1)}"
    if amount <= high:
        return f"caution: {said}, {shown(low, 1)} to {shown(high, 1)}: {mild}"
    return f"stop: {said}, above {shown(high, 1)}: {hard}"


@helper
def as_it_is(amount: Any) -> Any:
    return amount


@helper
def nitrogen_in(nitrate: Any) -> Any:
    return ion_element(nitrate, "NO3")


@dataclass(frozen=True)
class Judgement:
    """A line of the report that is judged by itself: its row of the limits, the unit and decimals
    in which it is said, what it means above the lower and above the upper limit, and how the figure
    to judge comes from the amount."""

    factor: str
    unit: str
    decimals: int
    mild: str
    hard: str
    measure: Any = as_it_is


JUDGEMENTS = {
    "chloride": Judgement(
        "chloride", "meq/L", 2, "leaf burn on sensitive crops", "for tolerant crops only"
    ),
    "boron": Judgement("boron", "mg/L", 2, "sensitive crops suffer", "for tolerant crops only"),
    "nitrate": Judgement(
        "nitrate",
        "mg/L as N",
        1,
        "count it as fertilizer",
        "too much late for many crops",
        nitrogen_in,
    ),
    "bicarbonate": Judgement(
        "bicarbonate", "meq/L", 2, "sprinkling leaves spots", "white crust on leaves"
    ),
    "suspended": Judgement(
        "suspended solids", "mg/L", 0, "filter with care", "settle, then filter"
    ),
    "iron": Judgement("iron", "mg/L", 2, "rust and slime may form", "remove iron before dripping"),
    "manganese": Judgement("manganese", "mg/L", 2, "black deposits may form", "remove it first"),
}


def judgement(name: str) -> Any:
    """The verdict on a line that may be blank: of what is typed, and what it comes to."""
    each = JUDGEMENTS[name]
    factor, decimals, measure = each.factor, each.decimals, each.measure
    mild, hard, unit = each.mild, each.hard, f" {each.unit}"

    def verdict(typed: Any, amount: Any) -> Any:
        if typed == "":
            return NOT_GIVEN
        figure = measure(amount)
        return judged(figure, factor, f"{shown(figure, decimals)}{unit}", mild, hard)

    return verdict


def salinity(ec_used: Any) -> Any:
    if ec_used == 0:
        return NOT_GIVEN
    said = f"{shown(ec_used, 2)} mS/cm"
    return judged(
        ec_used, "salinity", said, "sensitive crops yield less", "for tolerant crops, with leaching"
    )


@helper
def sealing(sar_value: Any, ec_used: Any, factor: Any) -> Any:
    """Water seals the soil when sodium is high and salts are low."""
    low = limit_of("low", factor)
    high = limit_of("high", factor)
    said = f"SAR {shown(sar_value, 1)} at {shown(ec_used, 2)} mS/cm"
    if ec_used > high:
        return f"pass: {said}; the soil keeps taking water in"
    if ec_used >= low:
        return f"caution: {said}; soil may take water in slowly"
    return f"stop: {said}; soil seals; gypsum or another water"


def infiltration(sar_value: Any, ec_used: Any) -> Any:
    if sar_value == NOT_GIVEN:
        return NOT_GIVEN
    if sar_value <= 3:
        return sealing(sar_value, ec_used, "EC at SAR 3")
    if sar_value <= 6:
        return sealing(sar_value, ec_used, "EC at SAR 6")
    if sar_value <= 12:
        return sealing(sar_value, ec_used, "EC at SAR 12")
    if sar_value <= 20:
        return sealing(sar_value, ec_used, "EC at SAR 20")
    if sar_value <= 40:
        return sealing(sar_value, ec_used, "EC at SAR 40")
    return f"stop: SAR {shown(sar_value, 1)}, beyond the table, which ends at 40"


def sodium(sar_value: Any) -> Any:
    if sar_value == NOT_GIVEN:
        return NOT_GIVEN
    said = f"SAR {shown(sar_value, 1)}"
    return judged(sar_value, "SAR", said, "trees and vines may suffer", "harms sensitive crops")


def overhead(sodium_typed: Any, chloride_typed: Any, sodium_meq: Any, chloride_meq: Any) -> Any:
    if sodium_typed == "" or chloride_typed == "":
        return NOT_GIVEN
    highest = max(sodium_meq, chloride_meq)
    limit = limit_of("high", "overhead")
    if highest <= limit:
        return f"pass: neither is above {shown(limit, 1)} meq/L; sprinkling burns no leaves"
    return f"caution: {shown(highest, 1)} meq/L, above {shown(limit, 1)}: keep it off leaves"


def normal_ph(water_ph: Any) -> Any:
    low = limit_of("low", "normal pH")
    high = limit_of("high", "normal pH")
    if water_ph < low or water_ph > high:
        return f"caution: {shown(water_ph, 1)}, outside {shown(low, 1)} to {shown(high, 1)}"
    return f"pass: {shown(water_ph, 1)}, within the normal {shown(low, 1)} to {shown(high, 1)}"


def clogging_by_ph(water_ph: Any) -> Any:
    said = f"pH {shown(water_ph, 1)}"
    return judged(water_ph, "clogging pH", said, "lime may settle", "lime settles; think of acid")


def clogging_by_dissolved(solids: Any) -> Any:
    if solids == 0:
        return NOT_GIVEN
    said = f"{shown(solids, 0)} mg/L"
    return judged(solids, "dissolved solids", said, "watch the last drippers", "flush often")


def clogging_by_lime(bicarbonate_typed: Any, bicarbonate_meq: Any, water_ph: Any) -> Any:
    if bicarbonate_typed == "":
        return NOT_GIVEN
    limit = limit_of("low", "lime")
    if water_ph > 7.5 and bicarbonate_meq >= limit:
        said = f"pH above 7.5 with {shown(bicarbonate_meq, 1)} meq/L"
        return f"caution: {said}; lime settles, acid prevents it"
    return f"pass: not both pH above 7.5 and {shown(limit, 1)} meq/L or more of bicarbonate"
