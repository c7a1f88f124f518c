"""Zones and nameplates in base units, and what each unit makes of the duty; in the subset that
compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.choosing import hose_loss, lift_limit
from tanksheet.calc.convert import convert
from tanksheet.calc.ratio import feed_rate
from tanksheet.errors import NotANumber
from tanksheet.sheets.measures import figure
from tanksheet.subset import check, count, helper, is_error, is_number, smallest
from tanksheet.tables import look_up, rows
from tanksheet.templates.working import typed_number

ZONES, UNITS = 8, 6
SEALS = tuple(str(row["seal"]) for row in rows("seals"))
PLAIN, ACID, OIL, SOLVENT, CHLORINE = PRODUCTS = (
    "fertilizer stock",
    "acid",
    "oil or wetting agent",
    "solvent",
    "chlorine",
)
THIN, SYRUP, THICK = THICKNESSES = ("like water", "like thin syrup", "like honey")
# mPa s that each of them is taken for: common practice, no source.
THIN_LIKE, SYRUP_LIKE, THICK_LIKE = 1.5, 60.0, 2000.0
STOCK_DENSITY = 1.25  # kg/L, of a strong stock: common practice, no source
GRAVITY = 9.80665
COLDEST, HOTTEST = 4, 40  # degrees C where the nameplate says nothing: common practice, no source
NEAR = 0.1  # of a limit: within it a unit is marginal; common practice, no source
FACTORS = {
    "metric": {"flow": 1.0, "pressure": 100.0, "height": 1.0, "bore": 1.0},
    "us": {
        "flow": float(convert(1, "gpm", "L/min")),
        "pressure": float(convert(1, "psi", "kPa")),
        "height": float(convert(1, "ft", "m")),
        "bore": 25.4,
    },
}
NAMES = {
    "metric": {"flow": "L/min", "pressure": "bar", "height": "m", "heat": "degC", "bore": "mm"},
    "us": {"flow": "gpm", "pressure": "psi", "height": "ft", "heat": "degF", "bore": "in"},
}


# entries


@helper
def number_above(typed: Any, most: Any) -> Any:
    check(is_number(typed), "type a number", NotANumber)
    check(typed > 0 and typed <= most, "the number is out of its range")
    return typed


def in_base(factor: float, most: float, above: bool = False) -> Any:
    """A figure of a table in its base unit, or a blank; one that is ``above`` 0 if it must be."""

    def value(typed: Any) -> Any:
        return "" if typed == "" else typed_number(typed, 0, most) * factor

    def value_above(typed: Any) -> Any:
        return "" if typed == "" else number_above(typed, most) * factor

    return value_above if above else value


def heat_in_base(us: bool) -> Any:
    """Degrees C, or a blank."""

    def fahrenheit(typed: Any) -> Any:
        return "" if typed == "" else (typed_number(typed, -40, 250) - 32) / 1.8

    def celsius(typed: Any) -> Any:
        return "" if typed == "" else typed_number(typed, -40, 120)

    return fahrenheit if us else celsius


def one_of_two(first: Any, second: Any) -> Any:
    """The first of two figures, or the second where it is blank."""
    return second if first == "" else first


def zone_kind(low: Any, high: Any, there: Any, needed: Any, heat: Any) -> Any:
    """ "used", "bad" or a blank for a row without a flow."""
    if is_error(low) or is_error(high) or is_error(there) or is_error(needed) or is_error(heat):
        return "bad"
    if low == "" and high == "":
        return ""
    return "crossed" if low > high else "used"


def unit_state(name: Any, figures: Any) -> Any:
    """ "used", "bad" or a blank for a row without a name; ``figures`` is an error if one is."""
    if is_error(name):
        return "bad"
    if name == "":
        return ""
    return "bad" if is_error(figures) else "used"


def sum_of_known(one: Any, two: Any, three: Any, four: Any, five: Any) -> Any:
    """Some number, or the error of a figure that cannot be read."""
    return (
        known_or_0(one) + known_or_0(two) + known_or_0(three) + known_or_0(four) + known_or_0(five)
    )


@helper
def known_or_0(known: Any) -> Any:
    return 0 if known == "" else known


def unit_said(state: Any) -> Any:
    return "stop: mend its figures" if state == "bad" else ""


# the duty


def needed_flow(kind: Any, flow: Any) -> Any:
    """The flow of a zone that is used; a blank for others."""
    return flow if kind == "used" else ""


def least_of(flows: Any) -> Any:
    return smallest(flows, 1) if count(flows) > 0 else ""


def stock_flow(most: Any, ratio: Any) -> Any:
    """L/h that are drawn at the largest flow and the richest ratio."""
    return feed_rate(most, ratio) if is_number(most) else ""


@helper
def viscosity_of(thickness: Any) -> Any:
    if thickness == THIN:
        return THIN_LIKE
    return SYRUP_LIKE if thickness == SYRUP else THICK_LIKE


def viscosity(thickness: Any) -> Any:
    return viscosity_of(thickness)


def heaviest_lift(lift: Any) -> Any:
    """Metres of water that lifting the stock is like."""
    return lift * STOCK_DENSITY


def greatest_lift(altitude: Any, celsius: Any) -> Any:
    return lift_limit(altitude, celsius)


def hose_metres(state: Any, stock: Any, bore: Any, length: Any, thick: Any) -> Any:
    """Metres of water that the hose takes; a blank where its bore is not on record."""
    if state != "used" or bore == "" or not is_number(stock):
        return ""
    if length == 0:
        return 0
    return hose_loss(stock, bore, length, thick, STOCK_DENSITY) / GRAVITY


@helper
def seal_word(seal: Any, kind: Any) -> Any:
    """ "good", "fair" or "poor"."""
    if kind == PLAIN:
        return "good"
    if kind == ACID:
        return look_up("seals", "acid", seal)
    if kind == OIL:
        return look_up("seals", "oil", seal)
    if kind == SOLVENT:
        return look_up("seals", "solvent", seal)
    return look_up("seals", "chlorine", seal)


def seal_of(state: Any, seal: Any, kind: Any) -> Any:
    """What the seals make of the product; "blank" where nobody said what they are."""
    if state != "used":
        return ""
    if seal == "":
        return "good" if kind == PLAIN else "blank"
    return seal_word(seal, kind)


def duty_down(edition: str) -> Any:
    """What turns a unit down by ratio, seals, lift and hose."""
    factor, unit = FACTORS[edition]["height"], NAMES[edition]["height"]

    def said(
        state: Any,
        rich: Any,
        lean: Any,
        richest: Any,
        leanest: Any,
        seal: Any,
        kind: Any,
        lifted: Any,
        hose: Any,
        lifts: Any,
        limit: Any,
    ) -> Any:
        if state == "":
            return ""
        if state == "bad" or is_error(seal) or is_error(hose):
            return "no: its figures cannot be read; mend them on Injectors"
        if richest != "" and rich < richest * (1 - 1e-9):
            return f"no: the richest ratio is 1:{figure(rich)}, and it gives 1:{figure(richest)}"
        if leanest != "" and lean > leanest * (1 + 1e-9):
            return f"no: the leanest ratio is 1:{figure(lean)}, and it gives 1:{figure(leanest)}"
        if seal == "poor":
            return f"no: its seals do not bear {kind}"
        if hose != "" and lifts != "" and lifted + hose > lifts:
            return (
                f"no: lift and hose are like {figure((lifted + hose) / factor)} {unit} of water, "
                f"and it lifts {figure(lifts / factor)} {unit}; a wider hose, a higher tank"
            )
        if hose != "" and lifted + hose > limit:
            return "no: lift and hose are beyond what air pressure lifts here"
        return ""

    return said


def duty_said(
    down: Any,
    state: Any,
    richest: Any,
    leanest: Any,
    seal: Any,
    kind: Any,
    lifted: Any,
    hose: Any,
    lifts: Any,
) -> Any:
    """What a unit makes of the duty: what turns it down, what nobody knows, what is near."""
    if state == "" or down != "":
        return down
    if richest == "" or leanest == "":
        return "not checked: its range of ratios is not on record"
    if seal == "blank":
        return "not checked: what its seals are is not on record"
    if hose == "" or lifts == "":
        return "not checked: its lift or the bore of its hose is not on record"
    if seal == "fair":
        return f"marginal: its seals bear {kind} for a time; ask the maker"
    if lifted + hose > lifts * (1 - NEAR):
        return "marginal: lift and hose take nearly all of what it lifts"
    return "fits"


def seal_sum(seal: Any) -> Any:
    """0, or an error for seals that are in no list."""
    return 0 if seal == "" or look_up("seals", "acid", seal) != "" else 0


def most_of(flows: Any) -> Any:
    return smallest(flows, count(flows)) if count(flows) > 0 else ""


def pair_name(state: Any, kind: Any, name: Any) -> Any:
    """The name of a pair's unit or zone; a blank where either is not used."""
    if state == "" or kind == "":
        return ""
    if is_error(name):
        return "?"
    return "" if name == "" else name


def zone_name(number: int) -> Any:
    word = f"zone {number}"

    def name(kind: Any, typed: Any) -> Any:
        if kind == "" or is_error(typed):
            return ""
        return word if typed == "" else typed

    return name


def zone_line(said: Any, kind: Any) -> Any:
    if kind == "bad" or kind == "crossed":
        return zone_said_of(kind)
    return "" if said == "fits" else said


@helper
def zone_said_of(kind: Any) -> Any:
    return "stop: type numbers" if kind == "bad" else "stop: from is above to"


def itself_known(known: Any) -> Any:
    return known
