"""The working of the zone flow workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.field import mean_reading, spread
from tanksheet.calc.flow import bucket_flow, emitter_flow, stroke_flow
from tanksheet.errors import NotANumber
from tanksheet.subset import check, count, is_number, rounded, shown

NOT_MEASURED = "not measured"


def one_catch(seconds: Any, factor: Any, volume: Any) -> Any:
    if seconds == "":
        return ""
    check(is_number(seconds), "the time must be a number", NotANumber)
    return bucket_flow(volume, seconds * factor)


def mean_seconds(repeats: Any, factor: Any) -> Any:
    return mean_reading(repeats) * factor


def spread_of(readings: Any) -> Any:
    return "one catch" if count(readings) < 2 else spread(readings)


def catches_alike(time_spread: Any) -> Any:
    if not is_number(time_spread):
        return "caution: one catch only; repeat it at least twice"
    off = rounded(time_spread, 1)
    if off <= 5:
        return f"pass: the times spread by {shown(off, 1)} %"
    if off <= 10:
        return f"caution: the times spread by {shown(off, 1)} %; catch once more"
    return f"stop: the times spread by {shown(off, 1)} %; find out why before planning"


def flow_from_emitters(
    emitter_count: Any, nominal_flow: Any, pressure: Any, nominal_pressure: Any, exponent: Any
) -> Any:
    if emitter_count == "":
        return NOT_MEASURED
    return emitter_flow(emitter_count, nominal_flow, pressure, nominal_pressure, exponent)


def flow_from_strokes(strokes: Any, stroke_volume: Any, seconds: Any) -> Any:
    return NOT_MEASURED if strokes == "" else stroke_flow(strokes, stroke_volume, seconds)


def chosen_flow(
    method: Any, flow_by_bucket: Any, flow_by_emitters: Any, flow_by_strokes: Any
) -> Any:
    picked = flow_by_emitters if method == "emitters" else flow_by_strokes
    if method == "bucket":
        picked = flow_by_bucket
    check(is_number(picked), "the flow chosen to plan with was not measured", NotANumber)
    return picked


def compared(other: Any, flow: Any) -> Any:
    if other == NOT_MEASURED:
        return NOT_MEASURED
    off = rounded((other / flow - 1) * 100, 1)
    if abs(off) <= 10:
        return f"pass: {shown(off, 1)} % from the flow planned with"
    if abs(off) <= 20:
        return f"caution: {shown(off, 1)} % off; look for leaks, clogging or a wrong count"
    return f"stop: {shown(off, 1)} % off; measure again before you plan"


def injector_suits(flow: Any, low: Any, high: Any) -> Any:
    if low >= high:
        return "stop: the lowest flow must be below the highest"
    if flow < low:
        return "stop: too little water; the injector would stall or feed unevenly"
    if flow > high:
        return "stop: too much water; use a larger injector or a bypass"
    if flow < low * 1.1 or flow > high * 0.9:
        return "caution: within 10 % of the end of the injector's range"
    return "pass: the flow lies inside the injector's range"


def both_losses(pipe_loss: Any, neck_loss: Any) -> Any:
    return pipe_loss + neck_loss


def speed_verdict(pipe_speed: Any, neck_speed: Any) -> Any:
    if pipe_speed > 2.5:
        return "stop: the pipe is too narrow for this flow; water hammer can burst it"
    if pipe_speed > 1.5:
        return "caution: above 1.5 m/s (5 ft/s) in the pipe; close valves slowly"
    if neck_speed > 2.5:
        return "caution: fast in the necked-down piece; keep it short"
    return "pass: not above 1.5 m/s (5 ft/s) in the pipe"


def both_minutes(main_minutes: Any, lateral_minutes: Any) -> Any:
    return main_minutes + lateral_minutes
