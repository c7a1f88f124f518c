"""Zone by zone what each unit makes of flow, pressure and heat, and which unit to take; in the
subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import among, begins, helper, is_error, nth, position, shown
from tanksheet.templates.injector.working import (
    COLDEST,
    FACTORS,
    HOTTEST,
    NAMES,
    NEAR,
    UNITS,
    ZONES,
)
from tanksheet.templates.working import BLANK

BYPASS_PART = 0.9  # of the unit's largest flow that a bypass leaves to it
ALONE, PAIR, BYPASS = "one alone", "two in parallel", "on a bypass"


def pressure_left_of(share: int) -> Any:
    """kPa behind a unit that takes the ``share``-th part of the flow: less its own loss, which goes
    with the square of the flow, and that of a reduced length."""

    def left(zone: Any, state: Any, high: Any, there: Any, loss: Any, rated: Any, neck: Any) -> Any:
        if zone != "used" or state != "used":
            return ""
        if there == "" or loss == "" or rated == "":
            return ""
        return there - loss * (high / share / rated) ** 2 - neck

    return left


def fit_of(edition: str, share: int) -> Any:
    """What a unit that takes the ``share``-th part of a zone's flow makes of it."""
    factors, names = FACTORS[edition], NAMES[edition]
    flow, litre = names["flow"], factors["flow"]
    pressure, kilopascal = names["pressure"], factors["pressure"]

    def said(
        zone: Any,
        state: Any,
        low: Any,
        high: Any,
        there: Any,
        needed: Any,
        heat: Any,
        least: Any,
        most: Any,
        weakest: Any,
        strongest: Any,
        coldest: Any,
        hottest: Any,
        left: Any,
    ) -> Any:
        if zone == "" or state == "":
            return ""
        if zone != "used" or state == "bad" or is_error(left):
            return "no: a figure cannot be read; mend it where it says so"
        if least != "" and low / share < least * (1 - 1e-9):
            return (
                f"no: {figure(low / share / litre)} is below its least flow of "
                f"{figure(least / litre)} {flow}; dosing becomes erratic"
            )
        if most != "" and high / share > most * (1 + 1e-9):
            return (
                f"no: {figure(high / share / litre)} is above its largest flow of "
                f"{figure(most / litre)} {flow}"
            )
        if there != "" and weakest != "" and there < weakest * (1 - 1e-9):
            return f"no: it needs {figure(weakest / kilopascal)} {pressure} before it"
        if there != "" and strongest != "" and there > strongest * (1 + 1e-9):
            return (
                f"no: {figure(there / kilopascal)} is above its {figure(strongest / kilopascal)} "
                f"{pressure}; a pressure regulator"
            )
        if left != "" and needed != "" and left < needed * (1 - 1e-9):
            return (
                f"no: it leaves {figure(left / kilopascal)} of the {figure(needed / kilopascal)} "
                f"{pressure} that the emitters need"
            )
        if heat != "" and (heat < coldest or heat > hottest):
            return "no: the water is too cold or too hot for it"
        if least == "" or most == "":
            return "not checked: its range of flow is not on record"
        if there == "" or weakest == "" or strongest == "":
            return "not checked: the pressure there, or its range, is not on record"
        if left == "" or needed == "":
            return "not checked: what it loses, or what the emitters need, is not on record"
        if heat == "":
            return "not checked: how warm the water gets is not given"
        if low / share < least * (1 + NEAR) or high / share > most * (1 - NEAR):
            return "marginal: the flow is near the end of its range"
        if there > strongest * (1 - NEAR):
            return "marginal: the pressure is near the most it bears"
        if left < needed * (1 + NEAR):
            return "marginal: hardly enough pressure is left for the emitters"
        return "fits"

    return said


def kind_of_fit(said: Any) -> Any:
    """ "no", "open", "marginal", "fits" or a blank."""
    if begins(said, "no:"):
        return "no"
    if begins(said, "not checked"):
        return "open"
    return "marginal" if begins(said, "marginal") else said


@helper
def better(one: Any, two: Any) -> Any:
    if one == "fits" or two == "fits":
        return "fits"
    if one == "marginal" or two == "marginal":
        return "marginal"
    return "open" if one == "open" or two == "open" else one


def as_pair(alone: Any, shared: Any) -> Any:
    """The zone with two alike in parallel, of which one may be shut off."""
    return better(alone, shared)


def through_unit(zone: Any, high: Any, most: Any) -> Any:
    """The part of a zone's flow that a bypass leaves to the unit; 1 where it takes all."""
    if zone != "used" or most == "":
        return ""
    return BYPASS_PART * most / high if high > most * BYPASS_PART else 1


def on_bypass(alone: Any, part: Any, low: Any, least: Any, rich: Any, richest: Any) -> Any:
    """The zone with a part of its flow through the unit, set so much richer."""
    if alone == "" or alone == "fits" or alone == "marginal":
        return alone
    if part == "" or least == "" or richest == "":
        return "open"
    if part == 1:
        return alone
    return "marginal" if low * part >= least and rich * part >= richest else "no"


def worst_kind(duty: Any, zones: Any) -> Any:
    """Of a unit over all zones, with what it makes of the duty."""
    if duty == "":
        return ""
    if duty == "no" or among("no", zones):
        return "no"
    if duty == "open" or among("open", zones):
        return "open"
    if duty == "marginal" or among("marginal", zones):
        return "marginal"
    return "fits" if among("fits", zones) else ""


# the choice


def way_of(alone: Any, pair: Any, bypass: Any) -> Any:
    """How the best unit is to be built in; a blank if none will do."""
    if among("fits", alone) or among("marginal", alone):
        return ALONE
    if among("fits", pair) or among("marginal", pair):
        return PAIR
    if among("marginal", bypass):
        return BYPASS
    return "unknown" if among("open", alone) else ""


@helper
def best_place(kinds: Any) -> Any:
    if among("fits", kinds):
        return position("fits", kinds)
    if among("marginal", kinds):
        return position("marginal", kinds)
    return position("open", kinds) if among("open", kinds) else 0


def chosen_place(way: Any, alone: Any, pair: Any, bypass: Any) -> Any:
    """The row of the unit that is taken; 0 for none."""
    if way == ALONE or way == "unknown":
        return best_place(alone)
    if way == PAIR:
        return best_place(pair)
    return best_place(bypass) if way == BYPASS else 0


def of_chosen(place: Any, column: Any) -> Any:
    return nth(column, place) if place > 0 else ""


def of_pair(zone: int) -> Any:
    """What the chosen unit makes of a zone, from the list of all pairs."""

    def said(place: Any, words: Any) -> Any:
        return nth(words, (place - 1) * ZONES + zone) if place > 0 else ""

    return said


def silent(said: Any) -> Any:
    return "" if said == "fits" else said


def first_said(kind: Any, duty: Any, kinds: Any, words: Any) -> Any:
    """The words of the chosen unit that are of its kind: the duty's, else the first zone's."""
    if kind == "" or kind == "fits" or is_error(kind):
        return ""
    if begins(duty, "marginal") or begins(duty, "not checked"):
        return duty
    return nth(words, position(kind, kinds)) if among(kind, kinds) else ""


def zones_verdict(kinds: Any, units: Any) -> Any:
    if among("bad", kinds) or among("bad", units):
        return "stop: a figure of a zone or an injector cannot be read; type a number"
    if among("crossed", kinds):
        return "stop: a zone's flow goes from more to less; type the smaller one first"
    if not among("used", kinds):
        return "not given: the flow of a zone; from and to"
    if not among("used", units):
        return "not given: an injector; type nameplates on the sheet Injectors"
    return "pass: every zone and every nameplate can be read"


def choice_verdict(edition: str) -> Any:
    factor, unit = FACTORS[edition]["flow"], NAMES[edition]["flow"]

    def verdict(
        zones: Any,
        way: Any,
        kind: Any,
        unit_name: Any,
        said: Any,
        smallest_flow: Any,
        largest_flow: Any,
        bypass: Any,
        setting: Any,
    ) -> Any:
        if is_error(zones) or is_error(way):
            return BLANK
        if not begins(zones, "pass"):
            return "not checked: no unit can be judged; see the line above"
        if way == "":
            return (
                "stop: no unit listed will do, alone, as a pair or on a bypass; ask for one of "
                f"{figure(smallest_flow / factor)} to {figure(largest_flow / factor)} {unit}, or "
                "part the zones"
            )
        if way == "unknown":
            return f"not checked: {unit_name}; {said}"
        if way == PAIR:
            return (
                f"caution: no unit alone covers every zone; two of {unit_name} in parallel do, one "
                "shut off where flow is low"
            )
        if way == BYPASS:
            return (
                f"caution: no unit takes all of the flow; {unit_name} on a bypass, "
                f"{figure(bypass / factor)} {unit} beside it, set to 1:{figure(setting)}; hold the "
                "split by a valve and prove it by a meter"
            )
        if kind == "marginal":
            return f"caution: {unit_name} is marginal; {said}"
        return f"pass: {unit_name} fits every zone and the duty"

    return verdict


def way_said(way: Any) -> Any:
    return "" if way == "unknown" else way


def bypass_flow(way: Any, most_flow: Any, largest: Any) -> Any:
    """What runs beside the chosen unit where flow is largest; a blank without a bypass."""
    if way != BYPASS:
        return ""
    return largest - most_flow * BYPASS_PART


def bypass_setting(way: Any, most_flow: Any, largest: Any, rich: Any) -> Any:
    """The setting on the unit that gives the richest ratio to all of the flow (mass balance of the
    stock where the bypass joins again)."""
    if way != BYPASS:
        return ""
    return rich * most_flow * BYPASS_PART / largest


def turn_down(largest: Any, least: Any) -> Any:
    return largest / least


# tiles


def tile_name(name: Any) -> Any:
    return "none" if name == "" else name


def tile_flow(edition: str) -> Any:
    factor = FACTORS[edition]["flow"]

    def said(flow: Any) -> Any:
        return "" if is_error(flow) else shown(flow / factor, 0)

    return said


def coldest_of(typed: Any) -> Any:
    return COLDEST if typed == "" else typed


def hottest_of(typed: Any) -> Any:
    return HOTTEST if typed == "" else typed


PAIRS = ZONES * UNITS
