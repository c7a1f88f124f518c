"""The words of the field event's card and of its first table, in the subset that compiles."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.sheets.measures import figure
from tanksheet.subset import begins, helper, is_error, is_number, shown
from tanksheet.tables import is_listed, look_up
from tanksheet.templates.field_event.dose_working import DRY
from tanksheet.templates.field_event.time_working import RATE_WORDS, VOLUME_WORDS, sure, time_words
from tanksheet.templates.weight_working import in_grams, in_kilograms

MIX, STOP = "mix", "stop"
# kg from which three figures tell enough, and below which a US reader's small scale is used.
LARGE, SMALL = 100, 0.2


@helper
def large_kilograms(mass: Any) -> Any:
    """kg as a scale reads them."""
    kilograms = sure(mass)
    if kilograms >= LARGE:
        return f"{figure(kilograms)} kg"
    return f"{shown(kilograms, 1)} kg" if kilograms >= 10 else in_kilograms(kilograms * 1000)


@helper
def large_pounds(mass: Any) -> Any:
    kilograms = sure(mass)
    if kilograms < SMALL:
        return in_grams(kilograms * 1000)
    return f"{figure(convert(kilograms, 'kg', 'lb'))} lb"


MASS_WORDS = {"metric": large_kilograms, "us": large_pounds}


# the first table


def product_name(product: Any, doses: Any) -> Any:
    """What the product is called; a blank before anything is asked for."""
    if is_error(product) or is_error(doses):
        return ""
    if product == "":
        return "product, by its label"
    return product


def product_amount(edition: str) -> Any:
    """What to weigh, or to measure off where it is a liquid."""
    weight, measure = MASS_WORDS[edition], VOLUME_WORDS[edition]

    def amount(needed: Any, volume: Any) -> Any:
        if is_error(needed) or is_error(volume) or not is_number(needed):
            return ""
        return measure(volume) if is_number(volume) else weight(needed)

    return amount


def other_amount(edition: str) -> Any:
    """A liquid's weight, beside its volume."""
    weight = MASS_WORDS[edition]

    def amount(needed: Any, volume: Any) -> Any:
        if is_error(needed) or is_error(volume) or not is_number(volume):
            return ""
        return weight(needed)

    return amount


def volume_amount(edition: str) -> Any:
    """What goes through the injector, where it is more than the product itself."""
    measure = VOLUME_WORDS[edition]

    def amount(stock: Any, density_used: Any, water_parts: Any) -> Any:
        if is_error(stock) or is_error(water_parts) or not is_number(stock):
            return ""
        if is_number(density_used) and water_parts == 0:
            return ""
        return measure(stock)

    return amount


def stock_name(density_used: Any, water_parts: Any) -> Any:
    if is_error(density_used) or is_error(water_parts):
        return "to inject"
    if density_used == DRY:
        return "stock to make of it"
    return "inject it as it comes" if water_parts == 0 else "to inject, with its water"


# the card


def card_state(overall: Any, rate: Any) -> Any:
    """Whether the card says what to do, or only why not."""
    if is_error(overall) or is_error(rate):
        return STOP
    if begins(overall, "stop") or not is_number(rate):
        return STOP
    return MIX


def card_said(overall: Any) -> Any:
    """The verdict, unless all is well."""
    if is_error(overall):
        return "not checked: an entry is blank or no number"
    return "" if begins(overall, "pass") else overall


def hazard_said(state: Any, product: Any) -> Any:
    if state == STOP:
        return ""
    if product == "" or not is_listed("fertilizers", product):
        return "Hazards: as its label and safety data sheet say. Goggles and gloves."
    hazard = look_up("fertilizers", "hazard", product)
    return f"Hazards: {hazard}. Goggles and gloves; its label comes first."


def if_mix(words: str) -> Any:
    """Words of a card that says what to do."""

    def said(state: Any) -> Any:
        return words if state == MIX else ""

    return said


def first_step(state: Any, density_used: Any, water_parts: Any) -> Any:
    if state == STOP:
        return ""
    if density_used == DRY or water_parts > 0:
        return "Rinse the tank; fill it half with water"
    return "Rinse tank, hose and screen"


def first_amount(edition: str) -> Any:
    """Half of each fill of the tank, in water."""
    measure = VOLUME_WORDS[edition]

    def amount(state: Any, density_used: Any, water_parts: Any, fill: Any) -> Any:
        if state == STOP or not is_number(fill):
            return ""
        if density_used == DRY or water_parts > 0:
            return measure(sure(fill) * min(0.5, water_share(density_used, water_parts)))
        return ""

    return amount


@helper
def water_share(density_used: Any, water_parts: Any) -> Any:
    """How much of a fill is water: nearly all of it where a dry product goes in."""
    return 1 if density_used == DRY else sure(water_parts) / (1 + sure(water_parts))


def product_step(state: Any, product: Any) -> Any:
    if state == STOP:
        return ""
    return "The product" if product == "" else product


def product_dose(edition: str) -> Any:
    """Of each fill."""
    weight, measure = MASS_WORDS[edition], VOLUME_WORDS[edition]

    def amount(state: Any, mass: Any, liquid: Any) -> Any:
        if state == STOP or not is_number(mass):
            return ""
        return measure(liquid) if is_number(liquid) else weight(mass)

    return amount


def last_step(state: Any, density_used: Any, water_parts: Any) -> Any:
    if state == STOP:
        return ""
    if density_used == DRY or water_parts > 0:
        return "Fill to the mark, stir until clear"
    return "Check: the tank holds"


def filled_to(edition: str) -> Any:
    measure = VOLUME_WORDS[edition]

    def amount(state: Any, fill: Any) -> Any:
        if state == STOP or not is_number(fill):
            return ""
        return measure(fill)

    return amount


def fills_said(state: Any, fills: Any) -> Any:
    if state == STOP:
        return ""
    return shown(sure(fills), 0) if is_number(fills) else "tank not told"


def clock(state: Any, hours: Any) -> Any:
    if state == STOP or not is_number(hours):
        return ""
    return time_words(hours)


def rate_said(edition: str) -> Any:
    said = RATE_WORDS[edition]

    def words(state: Any, rate: Any) -> Any:
        if state == STOP or not is_number(rate):
            return ""
        return said(rate)

    return words


def ratio_said(state: Any, ratio: Any) -> Any:
    if state == STOP or not is_number(ratio):
        return ""
    return f"1 : {figure(sure(ratio))}"


def ec_said(state: Any, ec_line: Any) -> Any:
    if state == STOP:
        return ""
    return f"{figure(sure(ec_line))} mS/cm" if is_number(ec_line) else "not known"


def ppm_said(state: Any, ppm: Any, nutrient: Any) -> Any:
    if state == STOP or not is_number(ppm):
        return ""
    return f"{figure(sure(ppm))} ppm {nutrient}"
