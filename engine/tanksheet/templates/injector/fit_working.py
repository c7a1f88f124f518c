"""Zone by zone what each unit makes of flow, pressure and heat, and which unit to take; in the
subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.choosing import by_the_square
from tanksheet.sheets.measures import figure
from tanksheet.subset import among, begins, helper
from tanksheet.templates.injector.working import (
    FACTORS,
    NAMES,
    NEAR,
    UNITS,
    ZONES,
)

GRAIN = 1e-9  # rounding of a figure that stands on its limit
BYPASS_PART = 0.9  # of the unit's largest flow that a bypass leaves to it


def pressure_left_of(share: int) -> Any:
    """kPa behind a unit that takes the ``share``-th part of the flow: less its own loss, which goes
    with the square of the flow, and that of a reduced length."""

    def left(zone: Any, state: Any, high: Any, there: Any, loss: Any, rated: Any, neck: Any) -> Any:
        if zone != "used" or state != "used":
            return ""
        if there == "" or loss == "" or rated == "":
            return ""
        return there - by_the_square(loss, high / share, rated) - neck

    return left


def flow_words(edition: str, share: int) -> Any:
    """What turns a unit down that takes the ``share``-th part of a zone's flow, by that flow."""
    litre, unit = FACTORS[edition]["flow"], NAMES[edition]["flow"]

    def said(zone: Any, state: Any, low: Any, high: Any, least: Any, most: Any) -> Any:
        if zone == "" or state == "":
            return ""
        if zone != "used" or state == "bad":
            return "no: a figure cannot be read; mend it where it says so"
        if least != "" and low / share < least * (1 - GRAIN):
            return (
                f"no: {figure(low / share / litre)} is below its least flow of "
                f"{figure(least / litre)} {unit}; dosing becomes erratic"
            )
        if most != "" and high / share > most * (1 + GRAIN):
            return (
                f"no: {figure(high / share / litre)} is above its largest flow of "
                f"{figure(most / litre)} {unit}"
            )
        return ""

    return said


def pressure_words(edition: str) -> Any:
    """What turns it down by pressure, or by the heat of the water."""
    kilopascal, unit = FACTORS[edition]["pressure"], NAMES[edition]["pressure"]

    def said(
        flow: Any,
        there: Any,
        needed: Any,
        heat: Any,
        weakest: Any,
        strongest: Any,
        coldest: Any,
        hottest: Any,
        left: Any,
    ) -> Any:
        if flow != "":
            return flow
        if there != "" and weakest != "" and there < weakest * (1 - GRAIN):
            return f"no: it needs {figure(weakest / kilopascal)} {unit} before it"
        if there != "" and strongest != "" and there > strongest * (1 + GRAIN):
            return (
                f"no: {figure(there / kilopascal)} is above its {figure(strongest / kilopascal)} "
                f"{unit}; a pressure regulator"
            )
        if left != "" and needed != "" and left < needed * (1 - GRAIN):
            return (
                f"no: it leaves {figure(left / kilopascal)} of the {figure(needed / kilopascal)} "
                f"{unit} that the emitters need"
            )
        if heat != "" and (heat < coldest or heat > hottest):
            return "no: the water is too cold or too hot for it"
        return ""

    return said


def fit_words(share: int) -> Any:
    """The words of a pair: what turns it down, what nobody knows, what is near a limit."""

    def said(
        down: Any,
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
        left: Any,
    ) -> Any:
        if zone == "" or state == "" or down != "":
            return down
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


def left_on_bypass(
    zone: Any, state: Any, part: Any, high: Any, there: Any, loss: Any, rated: Any, neck: Any
) -> Any:
    """kPa behind a unit through which only a part of the flow runs."""
    if zone != "used" or state != "used" or part == "":
        return ""
    if there == "" or loss == "" or rated == "":
        return ""
    return there - by_the_square(loss, high * part, rated) - neck


def no_flow_words() -> Any:
    return ""


def on_bypass(
    alone: Any,
    down: Any,
    left: Any,
    part: Any,
    low: Any,
    least: Any,
    rich: Any,
    richest: Any,
    needed: Any,
    heat: Any,
    weakest: Any,
    strongest: Any,
) -> Any:
    """The zone with a part of its flow through the unit, set so much richer; ``down`` is what
    pressure and heat say of it."""
    if alone == "" or alone == "fits" or alone == "marginal":
        return alone
    if part == "" or least == "" or richest == "" or left == "":
        return "open"
    if needed == "" or heat == "" or weakest == "" or strongest == "":
        return "open"
    if part == 1:
        return alone
    if down != "":
        return "no"
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


PAIRS = ZONES * UNITS
