"""Treatments that keep emitters open, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.acidity import acid_dose
from tanksheet.calc.cleaning import (
    chlorine_mass,
    chlorine_rate,
    hypochlorous_share,
)
from tanksheet.calc.water import acid_volume, alkalinity_meq
from tanksheet.subset import is_error, is_number, shown
from tanksheet.tables import look_up, rows
from tanksheet.templates.field_event.time_working import sure
from tanksheet.templates.timing.clock_working import told
from tanksheet.templates.working import BLANK

NONE, LIQUID, DRY = "none", "sodium hypochlorite, liquid", "calcium hypochlorite, dry"
SOURCES = (NONE, LIQUID, DRY)
ACIDS = (NONE, *(str(row["acid"]) for row in rows("acids")))
SOME_ACID = "nitric acid 60 %"
WATER, AMMONIUM, OTHER, UNTOLD = (
    "nothing else",
    "feed with ammonium or urea",
    "other feed",
    "not told",
)
BESIDE = (UNTOLD, WATER, AMMONIUM, OTHER)
# mg/L of free chlorine, minutes of standing, and how much of it the last emitter should show:
# common practice, no source.
MUCH, TOO_MUCH, STANDING, ARRIVES = 30, 50, 30, 0.5
# Above it most chlorine is the weak form; below it gas may come off, or does (from memory).
WEAK_PH, GAS_PH, STOP_PH = 7.5, 6, 5
LOWEST_PH = 4.5  # of water for emitters: common practice, no source


def volume_hours(treat_flow: Any, treat_time: Any) -> Any:
    """Water that passes while a treatment is injected, L."""
    if treat_flow == "" or treat_time == "":
        return ""
    return treat_flow * treat_time * 60


def active_share(chlorine_ph: Any, treat_celsius: Any) -> Any:
    if chlorine_ph == "" or treat_celsius == "":
        return ""
    return hypochlorous_share(chlorine_ph, treat_celsius)


def chlorine_total(wanted: Any, demand: Any) -> Any:
    return "" if wanted == "" or demand == "" else wanted + demand


def liquid_rate(source: Any, total: Any, available: Any, treat_flow: Any) -> Any:
    """L/h of sodium hypochlorite."""
    if source != LIQUID or not is_number(total):
        return ""
    if available == "" or treat_flow == "":
        return ""
    return chlorine_rate(total, available, treat_flow)


def in_a_minute(rate: Any) -> Any:
    """mL/min of a rate in L/h."""
    return rate * 1000 / 60 if is_number(rate) else ""


def dry_mass(source: Any, total: Any, available: Any, treated: Any) -> Any:
    """Grams of calcium hypochlorite for all the water treated."""
    if source != DRY or not is_number(total):
        return ""
    if available == "" or not is_number(treated):
        return ""
    return chlorine_mass(total, available, treated)


def meeting_verdict(source: Any, acid: Any, feeding: Any) -> Any:
    """What must never meet."""
    if is_error(source) or is_error(acid) or is_error(feeding):
        return BLANK
    if source == NONE and acid == NONE:
        return "not used: no treatment is chosen"
    if source != NONE and acid != NONE:
        return (
            "stop: chlorine and acid together give poisonous chlorine gas; one of them, the other "
            "days later through rinsed pumps, tanks and lines"
        )
    if source != NONE and feeding == AMMONIUM:
        return (
            "stop: chlorine with ammonium or urea gives poisonous chloramine gas; stop the feed "
            "and flush until the EC is that of the water"
        )
    if source != NONE and feeding == OTHER:
        return (
            "stop: chlorine goes with no feed in the line; stop the feed and flush until the EC "
            "is that of the water"
        )
    if feeding == UNTOLD:
        return "not given: what else is injected; choose it, treatments go into plain water"
    if acid != NONE and feeding != WATER:
        return "caution: acid beside feed may settle or set free gas; stop the feed and flush first"
    return "pass: nothing else is in the line"


def chlorine_verdict(
    source: Any, total: Any, rate: Any, mass: Any, chlorine_ph: Any, active: Any, wanted: Any
) -> Any:
    if is_error(source) or is_error(rate) or is_error(mass) or is_error(active):
        return BLANK
    if is_error(total) or is_error(chlorine_ph) or is_error(wanted):
        return BLANK
    if source == NONE:
        return "not used: no chlorine"
    if is_number(chlorine_ph) and chlorine_ph < STOP_PH:
        return (
            f"stop: at pH {shown(chlorine_ph, 1)} chlorine gas comes off; no chlorine into water "
            "that is acidified"
        )
    if is_number(total) and total > TOO_MUCH:
        return (
            f"stop: {shown(total, 1)} mg/L of chlorine is beyond a field dose; less, or by a "
            "licensed person"
        )
    if not is_number(rate) and not is_number(mass):
        return "not given: chlorine wanted, used up, available, water treated; type them all"
    if not is_number(active):
        return "not given: pH and temperature of the water; they say how much of it works"
    if chlorine_ph < GAS_PH:
        return (
            f"caution: at pH {shown(chlorine_ph, 1)} chlorine gas may come off; outdoors only, "
            "and no acid"
        )
    if chlorine_ph > WEAK_PH:
        return (
            f"caution: only {shown(active, 0)} % of the chlorine works at pH "
            f"{shown(chlorine_ph, 1)}; expect less of it, let it stand longer"
        )
    if total > MUCH:
        return (
            f"caution: {shown(total, 1)} mg/L may harm roots, seals and filters; begin lower and "
            "look at the label"
        )
    return f"pass: {shown(active, 0)} % of {shown(wanted, 1)} mg/L works at this pH"


def contact_verdict(
    source: Any, contact: Any, residual: Any, wanted: Any, treat_time: Any, clear: Any
) -> Any:
    """Whether it stands long enough, and is there at the last emitter."""
    if is_error(source) or is_error(contact) or is_error(residual) or is_error(wanted):
        return BLANK
    if is_error(clear) or is_error(treat_time):
        return BLANK
    if source == NONE:
        return "not used: no chlorine"
    if is_number(clear) and treat_time != "":
        if treat_time * 60 < clear:
            return (
                f"caution: {told(treat_time * 60)} of injecting, the last emitter has it after "
                f"{told(clear)}; inject that long or longer"
            )
    if contact == "":
        return "not given: how long the chlorine stands in the line; type the minutes"
    if contact * 60 < STANDING:
        return (
            f"caution: {told(contact * 60)} of standing; {shown(STANDING, 0)} min or more once it "
            "reads at the last emitter"
        )
    if residual == "":
        return (
            "not checked: free chlorine at the last emitter; inject "
            f"{told(sure(clear))} or longer, test there with a kit"
        )
    if wanted == "":
        return "not given: the free chlorine wanted at the last emitter"
    if residual < ARRIVES * wanted:
        return (
            f"caution: {shown(residual, 1)} mg/L arrive of {shown(wanted, 1)}: the line uses up "
            "the rest; type it as used up, and test again"
        )
    return f"pass: {shown(residual, 1)} mg/L arrive at the last emitter"


# acid


def acid_moles(acid: Any, alkalinity: Any, ph_now: Any, ph_target: Any, celsius: Any) -> Any:
    """mmol/L of the acid itself. Without one a sheet reckons the steps all the same, of another."""
    named = SOME_ACID if acid == NONE else acid
    if acid == NONE or alkalinity == "" or ph_now == "":
        return ""
    if ph_target == "" or celsius == "":
        return ""
    if ph_target >= ph_now:
        return 0
    return acid_dose(alkalinity_meq(alkalinity), ph_now, ph_target, celsius, named)


def acid_rate(acid: Any, moles: Any, treat_flow: Any) -> Any:
    """L/h of the acid as sold: its equivalents, for the water of one hour."""
    if not is_number(moles) or treat_flow == "":
        return ""
    if moles == 0:
        return 0
    need = moles * look_up("acids", "protons", acid)
    return acid_volume(need, acid, treat_flow * 60) / 1000


def acid_verdict(acid: Any, rate: Any, ph_target: Any, ph_read: Any) -> Any:
    if is_error(acid) or is_error(rate) or is_error(ph_target) or is_error(ph_read):
        return BLANK
    if acid == NONE:
        return "not used: no acid"
    if not is_number(rate):
        return "not given: alkalinity, both pH, temperature and flow; type them all"
    if rate == 0:
        return "not used: the water is already at the pH wanted, or below it"
    if ph_target < LOWEST_PH:
        return (
            f"caution: pH {shown(ph_target, 1)}: a little too much acid sends it far lower, and "
            f"eats metal and concrete; {shown(LOWEST_PH, 1)} or more, or ask first"
        )
    if ph_read == "":
        return "not checked: pH at the last emitter; begin with half, measure, then correct"
    if abs(ph_read - ph_target) > 0.5:
        return (
            f"caution: pH {shown(ph_read, 1)} at the last emitter, {shown(ph_target, 1)} wanted; "
            "correct the rate in small steps"
        )
    return f"pass: pH {shown(ph_read, 1)} at the last emitter"
