"""Stretch by stretch how long feed travels, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.arrival import front_spread, is_turbulent, lateral_spread
from tanksheet.calc.convert import convert
from tanksheet.calc.flow import lateral_time, travel_time, velocity
from tanksheet.subset import count, helper, is_error, is_number, shown, smallest, sqrt
from tanksheet.templates.working import MEND

HALF, TEXT = "half", "text"
# In what a stretch is typed, by edition: inside diameter, length, flow.
UNITS = {"metric": ("mm", "m", "L/min"), "us": ("in", "ft", "gpm")}
BASE = ("mm", "m", "L/min")
MOST = {"mm": 1e4, "m": 1e6, "L/min": 1e6}
# Speed in mains, m/s: ASAE S376 (from memory).
FAST = 1.5
# A pipe that brings a thousandth less than the next one takes is a matter of rounding.
GRAIN = 0.999


def in_base(unit: str, base: str) -> Any:
    """A typed figure in its base unit; a blank stays blank, what is no number above 0 is told."""
    most = MOST[base]

    def value(typed: Any) -> Any:
        if is_error(typed):
            return TEXT
        if typed == "":
            return ""
        if not is_number(typed):
            return TEXT
        if typed <= 0:
            return TEXT
        return TEXT if convert(typed, unit, base) > most else convert(typed, unit, base)

    return value


def outlets_of(typed: Any) -> Any:
    """Branches along a stretch; a blank is a plain pipe."""
    if is_error(typed):
        return TEXT
    if typed == "":
        return 1
    if not is_number(typed):
        return TEXT
    return typed if typed >= 1 and typed <= 1e6 else TEXT


def state_of(inside: Any, length: Any, flow: Any, outlets: Any) -> Any:
    """ "" for a stretch that is not there, "half" or "text" for one that cannot be used, "there"
    for one that can."""
    if inside == TEXT or length == TEXT or flow == TEXT or outlets == TEXT:
        return TEXT
    if inside == "" and length == "" and flow == "":
        return "" if outlets == 1 else HALF
    if inside == "" or length == "" or flow == "":
        return HALF
    return "there"


def minutes_of(state: Any, inside: Any, length: Any, flow: Any, outlets: Any) -> Any:
    """To the end of a stretch; along one with branches the flow falls from branch to branch."""
    if state != "there":
        return ""
    if outlets == 1:
        return travel_time(length, inside, flow)
    return lateral_time(length, inside, outlets, flow * 60 / outlets)


def figure_or_one(value: Any) -> Any:
    """A figure; 1 where there is none, since a sheet reckons the steps of a row that is not used
    all the same."""
    return value if is_number(value) else 1


def variance_of(state: Any, inside: Any, length: Any, flow: Any, outlets: Any, minutes: Any) -> Any:
    """Square of the front's spread that a stretch adds. Where the flow is too slow for Taylor's
    formula the stretch counts as one vessel that is mixed through: broad rather than sharp."""
    if state != "there":
        return ""
    if outlets > 1:
        return lateral_spread(length, inside, outlets, flow * 60 / outlets) ** 2
    if not is_turbulent(flow, inside):
        return minutes**2
    return front_spread(length, inside, flow) ** 2


def speed_of(state: Any, inside: Any, flow: Any) -> Any:
    return velocity(flow, inside) if state == "there" else ""


def slow_row(row: int) -> Any:
    """The number of a plain stretch whose flow is not turbulent, or nothing."""

    def slow(state: Any, inside: Any, flow: Any, outlets: Any) -> Any:
        if state != "there" or outlets != 1:
            return ""
        return "" if is_turbulent(flow, inside) else row

    return slow


def half_row(row: int) -> Any:
    """The number of a stretch of which something is missing."""

    def half(state: Any) -> Any:
        return row if state == HALF else ""

    return half


def bad_row(row: int) -> Any:
    """The number of a stretch that holds what is no number above 0."""

    def bad(state: Any) -> Any:
        return row if state == TEXT else ""

    return bad


def rising_row(row: int) -> Any:
    """The number of a stretch that takes more than the one before it brings, or nothing."""

    def rising(flow: Any, before: Any) -> Any:
        if not is_number(flow) or not is_number(before):
            return ""
        return row if flow * GRAIN > before else ""

    return rising


def last_flow(before: Any, flow: Any) -> Any:
    return flow if is_number(flow) else before


def first_flow(flow: Any) -> Any:
    return flow if is_number(flow) else ""


def added(before: Any, own: Any) -> Any:
    return before + own if is_number(own) else before


def first_added(own: Any) -> Any:
    return own if is_number(own) else 0


def first_of(rows: Any) -> Any:
    return smallest(rows, 1) if count(rows) > 0 else 0


def how_many(amounts: Any) -> Any:
    return count(amounts)


def note_of(state: Any) -> Any:
    """Beside a stretch: what is odd about it."""
    if is_error(state):
        return "an entry cannot be used"
    if state == HALF:
        return "type bore, length and flow"
    return "not a number above 0" if state == TEXT else ""


# the lateral


def lateral_state(inside: Any, length: Any, emitters: Any, emitter_flow: Any) -> Any:
    if inside == "" and length == "" and emitters == "" and emitter_flow == "":
        return ""
    if inside == "" or length == "" or emitters == "" or emitter_flow == "":
        return HALF
    return "there"


def lateral_minutes(state: Any, inside: Any, length: Any, emitters: Any, emitter_flow: Any) -> Any:
    if state != "there":
        return 0
    return lateral_time(length, inside, emitters, emitter_flow)


def lateral_variance(state: Any, inside: Any, length: Any, emitters: Any, emitter_flow: Any) -> Any:
    if state != "there":
        return 0
    return lateral_spread(length, inside, emitters, emitter_flow) ** 2


def lateral_flow(state: Any, emitters: Any, emitter_flow: Any) -> Any:
    """What one lateral takes, L/min."""
    return emitters * emitter_flow / 60 if state == "there" else ""


# sums


@helper
def whole(counted: Any, half: Any, bad: Any, lateral: Any) -> Any:
    """Whether the way to the last emitter is told: nothing half, and something there."""
    if half > 0 or bad > 0 or lateral == HALF:
        return False
    return counted > 0 or lateral == "there"


def far_minutes(counted: Any, half: Any, bad: Any, lateral: Any, pipes: Any, along: Any) -> Any:
    return pipes + along if whole(counted, half, bad, lateral) else ""


def far_spread(counted: Any, half: Any, bad: Any, lateral: Any, pipes: Any, along: Any) -> Any:
    """Standard deviation at the last emitter, minutes."""
    return sqrt(pipes + along) if whole(counted, half, bad, lateral) else ""


NO_PIPE = "not given: no pipe between injector and lateral; type each stretch"
NO_LATERAL = (
    "caution: no lateral is told, so the last emitter is taken to be at the end of the pipe; "
    "type the lateral if there is one"
)


def flows_odd(edition: str) -> Any:
    """What cannot be of the flows, or nothing."""
    flow_unit = "gpm" if edition == "us" else "L/min"

    @helper
    def said(rising: Any, last: Any, one: Any) -> Any:
        if rising > 0:
            return (
                f"stop: stretch {shown(rising, 0)} takes more than the one before brings; mend "
                "the flows, from the injector on"
            )
        if is_number(one) and one * GRAIN > last:
            return (
                f"stop: one lateral takes {shown(convert(one, 'L/min', flow_unit), 1)} "
                f"{flow_unit}, more than its pipe brings; mend flows or emitters"
            )
        return ""

    return said


def fast_words(edition: str) -> Any:
    unit = "ft/s" if edition == "us" else "m/s"

    @helper
    def said(fastest: Any) -> Any:
        return (
            f"caution: {shown(convert(fastest, 'm/s', unit), 1)} {unit} in a pipe: water hammer; "
            "open valves slowly, or take a wider pipe"
        )

    return said


def pipes_verdict(edition: str) -> Any:
    too_fast, flows_said = fast_words(edition), flows_odd(edition)

    def verdict(
        counted: Any,
        half: Any,
        bad: Any,
        lateral: Any,
        rising: Any,
        last: Any,
        one: Any,
        fastest: Any,
    ) -> Any:
        if (
            is_error(half)
            or is_error(counted)
            or is_error(bad)
            or is_error(lateral)
            or is_error(rising)
        ):
            return MEND
        if is_error(last) or is_error(one) or is_error(fastest):
            return MEND
        if bad > 0:
            return f"stop: mend stretch {shown(bad, 0)}, which cannot be used; see its note"
        if half > 0:
            return f"not given: stretch {shown(half, 0)} needs bore, length, flow; see its note"
        if lateral == HALF:
            return "not given: the lateral needs bore, length, emitters, flow; type all four"
        if counted == 0:
            return NO_PIPE
        if flows_said(rising, last, one) != "":
            return flows_said(rising, last, one)
        if fastest > FAST:
            return too_fast(fastest)
        if lateral == "":
            return NO_LATERAL
        return "pass: the pipes are told from the injector on"

    return verdict
