"""How far behind an injector its stock is mixed, and whether that is before the next enters; in the
subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.arrival import is_turbulent, mixing_length
from tanksheet.calc.convert import convert
from tanksheet.calc.flow import travel_time
from tanksheet.sheets.measures import figure
from tanksheet.subset import is_error, is_number
from tanksheet.templates.working import BLANK

EVEN = 5  # percent within which a pipe's cross-section is mixed
UNMIXED, MIXED = MIXERS = ("pipe alone", "a vessel or mixer")
FOOT = float(convert(1, "ft", "m"))


def is_turbulent_flow(flow: Any, inside: Any) -> Any:
    """1 where the flow in the pipe is turbulent."""
    return 1 if is_turbulent(flow, inside) else 0


def length_of(turbulent: Any, inside: Any, flow: Any) -> Any:
    return mixing_length(inside, flow, EVEN) if turbulent == 1 else ""


def mixed_in(length: Any, inside: Any, flow: Any) -> Any:
    return travel_time(length, inside, flow) * 60 if is_number(length) else ""


def distance_of(first: Any, middle: Any, last: Any, gap_first: Any, gap_second: Any) -> Any:
    """The shorter of the distances between stocks that are used; a blank if one is not given, -1
    where there is none between."""
    if first == 1 and middle == 1 and last == 1:
        return "" if gap_first == "" or gap_second == "" else min(gap_first, gap_second)
    if first == 1 and middle == 1:
        return gap_first
    if middle == 1 and last == 1:
        return gap_second
    if first == 1 and last == 1:
        return "" if gap_first == "" or gap_second == "" else gap_first + gap_second
    return -1


def mixing_verdict(edition: str) -> Any:
    factor, unit = (FOOT, "ft") if edition == "us" else (1.0, "m")

    def verdict(distance: Any, length: Any, mixer: Any) -> Any:
        if is_error(distance) or is_error(length) or is_error(mixer):
            return BLANK
        if is_number(distance) and distance < 0:
            return "not used"
        if mixer == MIXED:
            return "pass: a vessel or mixer behind each mixes it"
        if not is_number(distance):
            return "not given: the pipe between the injectors"
        if not is_number(length):
            return "not checked: flow too slow to be turbulent; how far mixing takes is not known"
        if distance < length:
            return (
                f"caution: {figure(distance / factor)} {unit} between the injectors, mixed after "
                f"{figure(length / factor)} {unit}; more pipe between, or a mixing vessel"
            )
        return f"pass: mixed after {figure(length / factor)} {unit}, before the next stock enters"

    return verdict
