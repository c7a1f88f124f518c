"""When it runs, how fast it is injected, and whether pump and tank can, in the subset that
compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.cost import packs
from tanksheet.calc.field import injection_rate
from tanksheet.calc.ratio import measured_ratio
from tanksheet.calc.stock import delivered
from tanksheet.sheets.measures import figure
from tanksheet.subset import floor, helper, is_error, is_number, rounded, shown
from tanksheet.templates.weight_working import in_gallons, in_litres
from tanksheet.templates.working import BLANK
from tanksheet.units import QUANTITIES

# A pump within 10 % of the end of its range is near its limit: common practice, no source.
NEAR = 0.9
# A thousandth of a second: less than this is rounding noise.
GRAIN = 1e-6
WEAKEST = QUANTITIES["ratio"].high
NO_RATE = "not checked: no rate to inject at yet; the lines above say what is missing"


@helper
def sure(number: Any) -> Any:
    """A number, 0 for a blank or for words: the sheet reckons the steps of a wording before it
    asks whether there is a number at all."""
    return number if is_number(number) else 0


@helper
def in_minutes(hours: Any) -> Any:
    return f"{shown(sure(hours) * 60, 0)} min"


@helper
def time_words(hours: Any) -> Any:
    """A time as a clock has it."""
    minutes = rounded(sure(hours) * 60, 0)
    if minutes < 1:
        return f"{shown(sure(hours) * 60, 1)} min"
    whole = floor((minutes + 0.01) / 60)
    if whole == 0:
        return f"{shown(minutes, 0)} min"
    left = minutes - 60 * whole
    return f"{shown(whole, 0)} h" if left == 0 else f"{shown(whole, 0)} h {shown(left, 0)} min"


@helper
def in_litres_an_hour(rate: Any) -> Any:
    return f"{figure(sure(rate))} L/h"


@helper
def in_gallons_an_hour(rate: Any) -> Any:
    return f"{figure(convert(sure(rate), 'L/h', 'gph'))} gph"


@helper
def litres_said(volume: Any) -> Any:
    return in_litres(sure(volume))


@helper
def gallons_said(volume: Any) -> Any:
    return in_gallons(sure(volume))


RATE_WORDS = {"metric": in_litres_an_hour, "us": in_gallons_an_hour}
VOLUME_WORDS = {"metric": litres_said, "us": gallons_said}


# times


def window_of(set_time: Any, fill_time: Any, flush_time: Any) -> Any:
    """Hours that filling and flushing leave of the set; 0 or less if nothing."""
    return set_time - fill_time - flush_time


def injecting(window: Any, inject_time: Any) -> Any:
    """Hours of injecting: as typed, else all that is left; a blank where nothing is left."""
    if inject_time != "":
        return inject_time
    return window if window > GRAIN else ""


def clean_after(set_time: Any, fill_time: Any, inject_hours: Any) -> Any:
    """Hours of plain water behind the injecting."""
    return set_time - fill_time - inject_hours if is_number(inject_hours) else ""


def rate_of(stock: Any, inject_hours: Any) -> Any:
    """The stock in the time, all of it as on one hectare."""
    if not is_number(stock) or not is_number(inject_hours):
        return ""
    return injection_rate(stock, 1, inject_hours)


def ratio_of(flow: Any, rate: Any) -> Any:
    """Parts of water to one of stock, by what passes in an hour."""
    return measured_ratio(flow * 60, rate) if is_number(rate) else ""


@helper
def arriving(needed: Any, content: Any, ratio: Any, stock: Any) -> Any:
    """mg/L; a blank where there is more stock than water. Beyond the weakest ratio that there is
    the line holds next to nothing."""
    if not is_number(ratio) or not is_number(needed):
        return ""
    if ratio < 1:
        return ""
    return 0 if content == 0 else delivered(needed * 1000, content, min(WEAKEST, ratio), stock)


def concentration(needed: Any, content: Any, ratio: Any, stock: Any) -> Any:
    """mg/L of the nutrient while it is injected."""
    return arriving(needed, content, ratio, stock)


def product_in_feed(needed: Any, ratio: Any, stock: Any) -> Any:
    """Grams of product in a litre of what is fed."""
    if not is_number(ratio) or not is_number(needed):
        return ""
    return arriving(needed, 100, ratio, stock) / 1000 if ratio >= 1 else ""


def water_depth(flow: Any, set_time: Any, area: Any) -> Any:
    """Millimetres of water that the set gives the area: 10 m3 on a hectare are 1 mm."""
    return flow * 60 * set_time / area / 10000 if is_number(area) else ""


def time_verdict(
    set_time: Any, fill_time: Any, flush_time: Any, window: Any, inject_hours: Any
) -> Any:
    if is_error(window) or is_error(inject_hours):
        return BLANK
    if window <= GRAIN:
        return (
            f"stop: filling {in_minutes(fill_time)} and flushing {in_minutes(flush_time)} leave "
            f"nothing of a set of {in_minutes(set_time)}; run longer"
        )
    if inject_hours > window + GRAIN:
        return (
            f"stop: injecting takes {time_words(inject_hours)}, and {time_words(window)} are left "
            "between filling and flushing; inject faster, or run longer"
        )
    if fill_time == 0:
        return "caution: no time to fill the lines; near plants get most: fill them first"
    if flush_time < fill_time - GRAIN:
        return (
            f"caution: {in_minutes(flush_time)} of flushing, {in_minutes(fill_time)} of filling: "
            "feed stays in the lines; flush as long as they take to fill"
        )
    if inject_hours < fill_time - GRAIN:
        return (
            f"caution: {in_minutes(inject_hours)} of injecting, {in_minutes(fill_time)} of "
            "filling: the far end gets less; inject longer, with weaker stock"
        )
    return (
        f"pass: {in_minutes(fill_time)} to fill, {time_words(inject_hours)} to inject, "
        f"{in_minutes(flush_time)} or more to flush"
    )


# the pump


@helper
def cure_of(density_used: Any, water_parts: Any) -> Any:
    """What else helps where the time is too short: a liquid as it comes has no water to lose."""
    if is_number(density_used) and water_parts == 0:
        return "a larger injector"
    return "make stronger stock"


def over_most(edition: str) -> Any:
    """More than the injector gives: how long it would take, and what helps."""
    said = RATE_WORDS[edition]

    @helper
    def told(
        rate: Any, pump_most: Any, stock: Any, window: Any, density_used: Any, water_parts: Any
    ) -> Any:
        longer = sure(stock) / max(GRAIN, sure(pump_most))
        if longer > window:
            cure = cure_of(density_used, water_parts)
            return (
                f"stop: {said(rate)} asked, the injector gives {said(pump_most)}; it takes "
                f"{time_words(longer)}: run longer, or {cure}"
            )
        return (
            f"stop: {said(rate)} asked, the injector gives {said(pump_most)}; inject for "
            f"{time_words(longer)} or longer"
        )

    return told


def pump_verdict(edition: str) -> Any:
    """Whether the injector can, in an edition's units."""
    said, too_much = RATE_WORDS[edition], over_most(edition)

    def verdict(
        rate: Any,
        pump_most: Any,
        pump_least: Any,
        stock: Any,
        window: Any,
        density_used: Any,
        water_parts: Any,
    ) -> Any:
        if is_error(rate) or is_error(pump_most) or is_error(pump_least) or is_error(window):
            return BLANK
        if is_error(density_used) or is_error(water_parts):
            return BLANK
        if not is_number(rate):
            return NO_RATE
        if pump_most == "":
            return f"not given: the most that the injector gives; {said(rate)} are asked of it"
        if rate > pump_most * (1 + GRAIN):
            return too_much(rate, pump_most, stock, window, density_used, water_parts)
        if pump_least == "":
            return "not given: the least that the injector gives; 0 if it has none"
        if rate < pump_least:
            return (
                f"stop: {said(rate)} asked, the injector gives no less than {said(pump_least)}; "
                "add water to it, or inject for less long"
            )
        if rate > NEAR * pump_most:
            return (
                f"caution: {said(rate)} of at most {said(pump_most)}: near its limit; inject "
                "longer, or with less water in it"
            )
        return f"pass: {said(rate)} of at most {said(pump_most)}"

    return verdict


def fills_of(stock: Any, tank: Any) -> Any:
    """How many fills of the tank it takes."""
    return packs(stock, tank) if is_number(stock) and is_number(tank) else ""


def each_fill(amount: Any, fills: Any) -> Any:
    """Of what is asked for, in each of so many equal fills; one without a tank to tell."""
    if not is_number(amount):
        return ""
    return amount / max(1, fills) if is_number(fills) else amount


def tank_verdict(edition: str) -> Any:
    said = VOLUME_WORDS[edition]

    def verdict(stock: Any, tank: Any, fills: Any) -> Any:
        if is_error(stock) or is_error(tank) or is_error(fills):
            return BLANK
        if not is_number(stock):
            return "not checked: no volume to inject yet; the lines above say what is missing"
        if tank == "":
            return f"not given: what the tank holds; {said(stock)} are to be injected"
        if fills > 1:
            return (
                f"caution: {said(stock)} in a tank of {said(tank)}: {shown(fills, 0)} fills; "
                "stop injecting while you refill, or take a larger tank"
            )
        return f"pass: {said(stock)} fit in the tank"

    return verdict


def inject_said(inject_hours: Any) -> Any:
    """How long to inject, as a clock has it."""
    return time_words(inject_hours) if is_number(inject_hours) else ""
