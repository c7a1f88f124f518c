"""Flushing of lateral ends, and the filter against the emitter, in the subset that compiles to
formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.cleaning import filter_opening, flush_flow, mesh_opening
from tanksheet.calc.convert import convert
from tanksheet.calc.flow import velocity
from tanksheet.subset import helper, is_error, is_number, rounded, shown
from tanksheet.templates.working import BLANK

# m/s at the open end: University of California; 0.5 where dirt has settled.
FLUSH = 0.3


def flush_needed(bore: Any) -> Any:
    """L/min out of one open end."""
    return "" if bore == "" else flush_flow(bore, FLUSH)


def all_ends(needed: Any, ends: Any) -> Any:
    if not is_number(needed) or ends == "":
        return ""
    return needed * ends


def end_speed(bore: Any, measured: Any) -> Any:
    return "" if bore == "" or measured == "" else velocity(measured, bore)


def flushing_verdict(edition: str) -> Any:
    unit = "ft/s" if edition == "us" else "m/s"

    def verdict(speed: Any, bore: Any) -> Any:
        if is_error(speed) or is_error(bore):
            return BLANK
        if bore == "":
            return "not given: bore of the lateral, on the sheet Timing"
        if not is_number(speed):
            return "not given: flow out of an open end; catch it in a bucket and time it"
        seen = shown(convert(speed, "m/s", unit), 2)
        least = shown(convert(FLUSH, "m/s", unit), 2)
        if rounded(speed, 3) < FLUSH:
            return (
                f"caution: {seen} {unit} at the open end, dirt needs {least}; open fewer ends at "
                "once, or raise the pressure"
            )
        return f"pass: {seen} {unit} at the open end carry dirt out"

    return verdict


def opening_wanted(passage: Any, passage_part: Any) -> Any:
    if passage == "" or passage_part == "":
        return ""
    return filter_opening(passage, passage_part)


def filter_verdict(opening: Any, wanted: Any) -> Any:
    if is_error(opening) or is_error(wanted):
        return BLANK
    if not is_number(wanted):
        return "not given: smallest passage of the emitter; its sheet tells it"
    if opening == "":
        return "not given: opening of the filter; its sheet tells it, or the list of meshes"
    if opening > wanted * 1.001:
        return (
            f"stop: the filter lets through {shown(opening, 0)} um, the emitter asks for "
            f"{shown(wanted, 0)}; a finer screen"
        )
    return f"pass: {shown(opening, 0)} um guard the passage"


# Screens that irrigation filters have, by mesh number.
MESHES = (40, 60, 80, 100, 120, 140, 170, 200)
BY_UM = "by its opening"
SCREENS = (BY_UM, *(f"mesh {mesh}" for mesh in MESHES))


@helper
def coarse(screen: Any) -> Any:
    """Mesh number of the coarser half of the list, 0 for another."""
    if screen == "mesh 40":
        return 40
    if screen == "mesh 60":
        return 60
    if screen == "mesh 80":
        return 80
    return 100 if screen == "mesh 100" else 0


@helper
def fine(screen: Any) -> Any:
    if screen == "mesh 120":
        return 120
    if screen == "mesh 140":
        return 140
    return 170 if screen == "mesh 170" else 200


def mesh_of(screen: Any) -> Any:
    """The mesh number that is chosen; a blank where the opening itself is typed."""
    if screen == BY_UM:
        return ""
    return coarse(screen) if coarse(screen) > 0 else fine(screen)


def opening_of(mesh: Any, typed: Any) -> Any:
    """Opening of the filter, um."""
    return mesh_opening(mesh) if is_number(mesh) else typed
