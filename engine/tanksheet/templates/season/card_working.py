"""The words of a week's card, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import begins, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.field_event.card_working import MASS_WORDS, MIX, STOP
from tanksheet.templates.field_event.time_working import (
    RATE_WORDS,
    VOLUME_WORDS,
    sure,
    time_words,
)
from tanksheet.templates.recipe.working import OWN_LABEL, is_words


def amount_of(edition: str) -> Any:
    """What to weigh of a product for an event, or to measure off of a liquid."""
    weight, measure = MASS_WORDS[edition], VOLUME_WORDS[edition]

    def amount(mass: Any, density: Any) -> Any:
        if is_error(mass) or is_error(density):
            return "?"
        if mass <= 0:
            return ""
        return measure(mass / (density if density > 0 else 1)) if density > 0 else weight(mass)

    return amount


def card_state(overall: Any, fed: Any) -> Any:
    """Whether the card says what to do, or only why not."""
    if is_error(overall) or is_error(fed):
        return STOP
    if begins(overall, "stop") or fed == 0:
        return STOP
    return MIX


def card_said(overall: Any, fed: Any) -> Any:
    """The verdict, unless all is well."""
    if is_error(overall) or is_error(fed):
        return "not checked: an entry is blank or no number"
    if fed == 0 and not begins(overall, "stop"):
        return "nothing is fed in this week"
    return "" if begins(overall, "pass") else overall


def title_of(label: Any) -> Any:
    return "Week" if is_error(label) else label


def season_said(name: Any) -> Any:
    if not is_words(name):
        return ""
    return "" if name == "" else name


def step_of(state: Any, product: Any, amount: Any) -> Any:
    if state == STOP or amount == "" or is_error(product):
        return ""
    return product


def dose_of(state: Any, amount: Any) -> Any:
    return "" if state == STOP else amount


def mix_of(state: Any, tank: Any, amount: Any) -> Any:
    if state == STOP or amount == "" or is_error(tank):
        return ""
    return f"into mix {tank}"


def hazard_of(state: Any, product: Any, amount: Any) -> Any:
    if state == STOP or amount == "" or is_error(product) or product == "":
        return ""
    if look_up("fertilizers", "basis", product) == OWN_LABEL:
        return f"{product}: as its label says"
    return f"{product}: {look_up('fertilizers', 'hazard', product)}"


def full_of(edition: str) -> Any:
    """To what mark a mix is filled, where it is used."""
    measure = VOLUME_WORDS[edition]

    def full(state: Any, strength: Any, tank: Any) -> Any:
        if state == STOP or is_error(strength) or is_error(tank):
            return ""
        return measure(tank) if strength > 0 else ""

    return full


def mark_of(letter: str) -> Any:
    words = f"Fill mix {letter} to the mark, stir"

    def mark(state: Any, strength: Any) -> Any:
        if state == STOP or is_error(strength):
            return ""
        return words if strength > 0 else ""

    return mark


def rate_of(edition: str) -> Any:
    """The injector's rate for a mix of this week."""
    said = RATE_WORDS[edition]

    def rate(state: Any, strength: Any, tank: Any, hours: Any) -> Any:
        if state == STOP or is_error(strength) or is_error(tank):
            return ""
        if strength <= 0 or not is_number(hours):
            return ""
        return f"inject {said(tank / max(1e-6, sure(hours)))}"

    return rate


def events_said(state: Any, events: Any) -> Any:
    if state == STOP or not is_number(events):
        return ""
    return f"{figure(events)}"


def clock(state: Any, hours: Any) -> Any:
    if state == STOP or not is_number(hours):
        return ""
    return time_words(hours)


def grams_said(state: Any, grams: Any) -> Any:
    if state == STOP or not is_number(grams):
        return ""
    return f"{shown(grams, 1)} g/L"
