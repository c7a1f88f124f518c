"""What a water means, against the limits of data/water_limits.csv, in the subset that compiles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tanksheet.calc.water import MG_CACO3_PER_MEQ, ion_element
from tanksheet.subset import helper, is_error, shown
from tanksheet.tables import look_up
from tanksheet.templates.water_report.working import BEYOND, NONE, NOT_GIVEN
from tanksheet.templates.working import BLANK

# By how much the calcite index may be off (FERT.CALCITEINDEX).
INDEX_DOUBT = 0.1
# Thin water: laboratories round to more than 5 % of it. Up to 3 meq/L of anions the charges may be
# 0.2 apart (Standard Methods 1030 E, from memory); 0.02 mS/cm is common practice, no source.
THIN, THIN_CHARGES, THIN_CONDUCTIVITY = 3, 0.2, 0.02


@helper
def limit_of(column: Any, factor: Any) -> Any:
    return look_up("water_limits", column, factor)


# Is the report sound?


def balance(balance: Any, missing: Any, cations: Any, anions: Any) -> Any:
    if is_error(balance):
        return BLANK
    if balance == NOT_GIVEN:
        return "not given: no ions above"
    if missing != NONE:
        return f"not checked: {missing}; type 0 where the laboratory found none"
    if abs(balance) <= 5:
        return f"pass: charges balance within 5 % ({shown(balance, 1)} %)"
    if anions <= THIN and abs(cations - anions) <= THIN_CHARGES:
        return f"pass: charges balance within {shown(THIN_CHARGES, 1)} meq/L, thin water"
    if abs(balance) <= 10:
        return f"caution: {shown(balance, 1)} % apart; look for an ion left out or mistyped"
    if balance > 0:
        return f"stop: {shown(balance, 1)} % too few anions; check units, alkalinity, sulfate"
    return f"stop: {shown(-balance, 1)} % too few cations; check units, sodium, calcium"


@helper
def compared(off: Any, what: Any) -> Any:
    """Two figures of the same thing that are so many percent apart."""
    if abs(off) <= 10:
        return f"pass: {what} within 10 % ({shown(off, 1)} %)"
    if abs(off) <= 20:
        return f"caution: {what} but for {shown(off, 1)} %; check both"
    return f"stop: {what} but for {shown(off, 1)} %; one of them is wrong: look at the units"


def conductivity(ec_at_25: Any, ec_of_ions: Any, missing: Any) -> Any:
    if is_error(ec_at_25) or is_error(ec_of_ions):
        return BLANK
    if ec_at_25 == NOT_GIVEN:
        return "not given: a meter's reading, and the water's temperature if it is not corrected"
    if ec_at_25 == 0:
        return "stop: the meter read 0; measure again"
    if missing != NONE:
        return f"not checked: {missing}; type 0 where the laboratory found none"
    if abs(ec_of_ions - ec_at_25) <= THIN_CONDUCTIVITY:
        return f"pass: the ions explain the reading within {shown(THIN_CONDUCTIVITY, 2)} mS/cm"
    return compared((ec_of_ions / ec_at_25 - 1) * 100, "the ions explain the reading")


def printed_hardness(
    hardness: Any, calcium_typed: Any, magnesium_typed: Any, calcium_meq: Any, magnesium_meq: Any
) -> Any:
    if is_error(hardness) or is_error(calcium_meq) or is_error(magnesium_meq):
        return BLANK
    together = (calcium_meq + magnesium_meq) * MG_CACO3_PER_MEQ
    if hardness == "":
        return "not used: needs the hardness beside calcium and magnesium"
    if calcium_typed == "" or magnesium_typed == "":
        if together > hardness * 1.1:
            return "stop: calcium or magnesium alone is more than the hardness; look at the units"
        return "not used: needs the hardness beside calcium and magnesium"
    if hardness == 0 and together > 0:
        return "caution: a hardness of 0 is typed; clear it if the report gives none"
    if hardness == 0:
        return "pass: no hardness, calcium or magnesium"
    return compared((together / hardness - 1) * 100, "calcium and magnesium make the hardness")


# Single lines.


@helper
def judged(amount: Any, factor: Any, said: Any, mild: Any, hard: Any, decimals: Any) -> Any:
    """A verdict on an amount: below ``low`` it passes, above ``high`` it stops; ``decimals`` are
    those of the limits."""
    low = limit_of("low", factor)
    high = limit_of("high", factor)
    if amount < low:
        return f"pass: {said}, below {shown(low, decimals)}"
    if amount <= high:
        return f"caution: {said}, {shown(low, decimals)} to {shown(high, decimals)}: {mild}"
    return f"stop: {said}, above {shown(high, decimals)}: {hard}"


@helper
def as_it_is(amount: Any) -> Any:
    return amount


@helper
def nitrogen_in(nitrate: Any) -> Any:
    return ion_element(nitrate, "NO3")


@dataclass(frozen=True)
class Judgement:
    """A line of the report that is judged by itself: its row of the limits, by which it is called,
    the unit and decimals in which it is said, what it means above the lower and above the upper
    limit, and how the figure to judge comes from the amount."""

    factor: str
    unit: str
    decimals: int
    mild: str
    hard: str
    measure: Any = as_it_is


JUDGEMENTS = {
    "chloride": Judgement(
        "chloride",
        "meq/L",
        2,
        "burns leaves of sensitive crops; leach, keep leaves dry",
        "for tolerant crops only, or blend with better water",
    ),
    "boron": Judgement(
        "boron",
        "mg/L",
        2,
        "sensitive crops suffer; leach, watch old leaves",
        "for tolerant crops only, or blend with better water",
    ),
    "nitrate": Judgement(
        "nitrate",
        "mg/L as N",
        1,
        "take it off the feed's nitrogen",
        "too much late for many crops; take it off the feed",
        nitrogen_in,
    ),
    "bicarbonate": Judgement(
        "bicarbonate",
        "meq/L",
        2,
        "sprinkling spots leaves; acid or drip",
        "white crust on leaves; acid or drip",
    ),
    "suspended": Judgement(
        "suspended solids", "mg/L", 0, "filter with care", "settle, then filter"
    ),
    "iron": Judgement(
        "iron", "mg/L", 2, "rust and slime may form; filter, flush", "aerate and filter it out"
    ),
    "manganese": Judgement(
        "manganese", "mg/L", 2, "black deposits may form; flush", "remove it first"
    ),
    "sulfide": Judgement(
        "hydrogen sulfide",
        "mg/L",
        2,
        "sulfur slime may form; aerate or chlorinate, flush",
        "sulfur slime and black deposits; aerate it out first",
    ),
    "bacteria": Judgement(
        "bacteria",
        "per mL",
        0,
        "slime may form; disinfect at times, flush",
        "slime clogs; disinfect always, filter",
    ),
}


def judgement(name: str) -> Any:
    """The verdict on a line that may be blank: of what is typed, and what it comes to."""
    each = JUDGEMENTS[name]
    factor, decimals, measure = each.factor, each.decimals, each.measure
    mild, hard, unit = each.mild, each.hard, f" {each.unit}"

    def verdict(typed: Any, amount: Any) -> Any:
        if is_error(amount):
            return BLANK
        if typed == "":
            return f"not given: {factor}"
        figure = measure(amount)
        said = f"{factor} {shown(figure, decimals)}{unit}"
        return judged(figure, factor, said, mild, hard, 1)

    return verdict


# Salts, sodium, soda.


def salinity(ec_used: Any) -> Any:
    if is_error(ec_used):
        return BLANK
    if ec_used == NOT_GIVEN:
        return "not given: a meter's reading, or all the main ions"
    said = f"conductivity {shown(ec_used, 2)} mS/cm"
    mild = "sensitive crops yield less; leach"
    return judged(ec_used, "salinity", said, mild, "for tolerant crops, with leaching", 1)


@helper
def sealing(sar_value: Any, ec_used: Any, factor: Any) -> Any:
    """Water seals the soil when sodium is high and salts are low."""
    low = limit_of("low", factor)
    high = limit_of("high", factor)
    said = f"SAR {shown(sar_value, 1)} at {shown(ec_used, 2)} mS/cm"
    if ec_used > high:
        return f"pass: {said}; the soil keeps taking water in"
    if ec_used >= low:
        return f"caution: {said}; soil may take water in slowly; gypsum helps"
    return f"stop: {said}; soil seals; gypsum or another water"


NO_SODIUM = "not given: sodium, with calcium and magnesium or the hardness"
ONLY_SODIUM = "stop: sodium with no calcium or magnesium beside it; gypsum or another water"


def infiltration(sar_value: Any, ec_used: Any) -> Any:
    if is_error(sar_value) or is_error(ec_used):
        return BLANK
    if sar_value == NOT_GIVEN:
        return NO_SODIUM
    if sar_value == BEYOND:
        return ONLY_SODIUM
    if ec_used == NOT_GIVEN:
        return "not given: a meter's reading, or all the main ions"
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
    if is_error(sar_value):
        return BLANK
    if sar_value == NOT_GIVEN:
        return NO_SODIUM
    if sar_value == BEYOND:
        return ONLY_SODIUM
    said = f"SAR {shown(sar_value, 1)}"
    hard = "harms sensitive crops; gypsum, or blend with better water"
    return judged(sar_value, "SAR", said, "trees and vines may suffer; gypsum helps", hard, 1)


def residual_carbonate(residual: Any) -> Any:
    if is_error(residual):
        return BLANK
    if residual == NOT_GIVEN:
        return "not given: bicarbonate, with calcium and magnesium or the hardness"
    said = f"residual sodium carbonate {shown(residual, 2)} meq/L"
    hard = "soil turns alkaline; acid or gypsum, or another water"
    return judged(residual, "residual alkalinity", said, "acid or gypsum helps", hard, 2)


def overhead(sodium_typed: Any, chloride_typed: Any, sodium_meq: Any, chloride_meq: Any) -> Any:
    if is_error(sodium_meq) or is_error(chloride_meq):
        return BLANK
    highest = max(sodium_meq, chloride_meq)
    limit = limit_of("high", "overhead")
    if highest > limit:
        name = "sodium" if sodium_meq >= chloride_meq else "chloride"
        said = f"{name} {shown(highest, 1)} meq/L"
        return f"caution: {said}, above {shown(limit, 1)}: burns wet leaves; keep it off them"
    if sodium_typed == "" or chloride_typed == "":
        return "not given: sodium and chloride, both"
    return f"pass: neither is above {shown(limit, 1)} meq/L; sprinkling burns no leaves"


def normal_ph(water_ph: Any) -> Any:
    if is_error(water_ph):
        return BLANK
    if water_ph == "":
        return "not given: pH"
    low = limit_of("low", "normal pH")
    high = limit_of("high", "normal pH")
    said = f"pH {shown(water_ph, 1)}"
    if water_ph < low or water_ph > high:
        return f"caution: {said}, outside {shown(low, 1)} to {shown(high, 1)}: look for the cause"
    return f"pass: {said}, within the normal {shown(low, 1)} to {shown(high, 1)}"


# Drippers.


def clogging_by_dissolved(solids: Any) -> Any:
    if is_error(solids):
        return BLANK
    if solids == NOT_GIVEN:
        return "not given: dissolved solids or conductivity"
    said = f"dissolved solids {shown(solids, 0)} mg/L"
    return judged(solids, "dissolved solids", said, "watch the last drippers", "flush often", 1)


def calcite(index: Any, water_ph: Any) -> Any:
    if is_error(index):
        return BLANK
    if index == NOT_GIVEN:
        return "not given: calcium, bicarbonate, pH and temperature"
    low = limit_of("low", "calcite index")
    high = limit_of("high", "calcite index")
    said = f"calcite index {shown(index, 2)}"
    if index < low - INDEX_DOUBT:
        return f"pass: {said}, below 0: this water leaves no scale"
    if index < low + INDEX_DOUBT:
        return f"caution: {said}, 0 within its doubt: scale where pipes warm up; flush, or acid"
    acid = f"acid to pH {shown(water_ph - index, 1)} keeps it dissolved"
    if index <= high:
        return f"caution: {said}, above 0: scale forms slowly; {acid}"
    return f"stop: {said}, above {shown(high, 1)}: scale clogs drippers; {acid}"
