"""Which injector to take, in which way, and what is said of it; in the subset that compiles to
formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import among, begins, helper, is_error, is_number, nth, position, shown
from tanksheet.templates.injector.fit_working import BYPASS_PART
from tanksheet.templates.injector.working import COLDEST, FACTORS, HOTTEST, NAMES, ZONES
from tanksheet.templates.working import BLANK

ALONE, PAIR, BYPASS = "one alone", "two in parallel", "on a bypass"


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
        beside: Any,
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
        if way == BYPASS:
            return f"caution: no unit takes all of the flow; {unit_name} {beside}"
        if way == PAIR:
            return (
                f"caution: no unit alone covers every zone; two of {unit_name} in parallel do, one "
                "shut off where flow is low"
            )
        if kind == "marginal":
            return f"caution: {unit_name} is marginal; {said}"
        return f"pass: {unit_name} fits every zone and the duty"

    return verdict


def bypass_words(edition: str) -> Any:
    """How a unit is built in on a bypass."""
    factor, unit = FACTORS[edition]["flow"], NAMES[edition]["flow"]

    def said(way: Any, bypass: Any, setting: Any) -> Any:
        if way != BYPASS:
            return ""
        return (
            f"on a bypass, {figure(bypass / factor)} {unit} beside it, set to 1:{figure(setting)}; "
            "hold the split by a valve and prove it by a meter"
        )

    return said


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
    return largest / least if is_number(least) else ""


# tiles


def tile_name(name: Any) -> Any:
    return "none" if name == "" else name


def tile_flow(edition: str) -> Any:
    factor = FACTORS[edition]["flow"]

    def said(flow: Any) -> Any:
        return shown(flow / factor, 0) if is_number(flow) else ""

    return said


def coldest_of(typed: Any) -> Any:
    return COLDEST if typed == "" else typed


def hottest_of(typed: Any) -> Any:
    return HOTTEST if typed == "" else typed
