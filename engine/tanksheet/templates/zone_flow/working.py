"""The working of the zone flow workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.field import spread_of_numbers
from tanksheet.calc.flow import (
    bucket_flow,
    emitter_flow,
    head_loss,
    narrow_loss,
    stroke_flow,
    travel_time,
    velocity,
)
from tanksheet.subset import (
    among,
    check,
    count,
    helper,
    is_error,
    is_number,
    mean,
    position,
    rounded,
    shown,
    smallest,
)

NOT_MEASURED = "not measured"
TEXT = "text"
# Minutes that feed may take to the last emitter: common practice, no source.
LONG_TRAVEL = 60


def one_catch(seconds: Any, factor: Any, volume: Any) -> Any:
    if seconds == "" or volume == "":
        return ""
    return bucket_flow(volume, seconds * factor) if is_number(seconds) else TEXT


def text_catch(catch_flows: Any) -> Any:
    """Which catch holds no number, from 1; 0 if none."""
    return position(TEXT, catch_flows) if among(TEXT, catch_flows) else 0


def mean_seconds(readings: Any, factor: Any) -> Any:
    # Cells that hold no number are passed over; the check of the catches names them.
    if count(readings) < 1:
        return NOT_MEASURED
    check(smallest(readings, 1) > 0, "a time must be above 0")
    return mean(readings) * factor


def spread_of(readings: Any) -> Any:
    return "one catch" if count(readings) < 2 else spread_of_numbers(readings)


def flow_from_bucket(volume: Any, seconds: Any) -> Any:
    if volume == "" or seconds == NOT_MEASURED:
        return NOT_MEASURED
    return bucket_flow(volume, seconds)


def catches_alike(flow_by_bucket: Any, text_at: Any, time_spread: Any) -> Any:
    if is_error(flow_by_bucket) or is_error(text_at):
        return "stop: an entry above cannot be used; see its note"
    if text_at > 0:
        return f"not checked: catch {shown(text_at, 0)} is text and left out; retype it"
    if flow_by_bucket == NOT_MEASURED:
        return NOT_MEASURED
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
    return picked


def compared(other: Any, flow: Any) -> Any:
    if is_error(flow) or is_error(other):
        return "stop: an entry above cannot be used; see its note"
    if other == NOT_MEASURED:
        return NOT_MEASURED
    if flow == NOT_MEASURED:
        return "not checked: no flow by the way chosen; measure it, or plan with another way"
    if flow <= 0:
        return "stop: the flow to plan with is 0; check count, strokes and volumes"
    off = rounded((other / flow - 1) * 100, 1)
    if abs(off) <= 10:
        return f"pass: {shown(off, 1)} % from the flow planned with"
    if abs(off) <= 20:
        return f"caution: {shown(off, 1)} % off; look for leaks, clogging or a wrong count"
    return f"stop: {shown(off, 1)} % off; measure again before you plan"


@helper
def off_by(other: Any, flow: Any) -> Any:
    if not is_number(other) or flow <= 0:
        return 0
    return abs(rounded((other / flow - 1) * 100, 1))


def furthest_off(
    flow: Any, flow_by_bucket: Any, flow_by_emitters: Any, flow_by_strokes: Any
) -> Any:
    """By how many percent another way of measuring differs from the flow planned with."""
    if not is_number(flow):
        return 0
    return max(
        off_by(flow_by_bucket, flow), off_by(flow_by_emitters, flow), off_by(flow_by_strokes, flow)
    )


def flow_verdict(
    flow: Any,
    method: Any,
    flow_by_bucket: Any,
    flow_by_emitters: Any,
    flow_by_strokes: Any,
    text_at: Any,
    time_spread: Any,
    furthest: Any,
) -> Any:
    if is_error(flow):
        return "stop: an entry of the flow chosen cannot be used; see the notes above"
    if is_error(flow_by_bucket) or is_error(flow_by_emitters) or is_error(flow_by_strokes):
        return "stop: an entry of a flow above cannot be used; mend it or clear it"
    if flow == NOT_MEASURED:
        if is_number(flow_by_bucket) or is_number(flow_by_emitters) or is_number(flow_by_strokes):
            return f"not given: no flow by {method}; measure it, or plan with another way"
        return "not given: no flow was measured; fill a bucket, count emitters or count strokes"
    if flow <= 0:
        return "stop: the flow to plan with is 0; check count, strokes and volumes"
    if furthest > 20:
        return f"stop: the ways of measuring differ by {shown(furthest, 1)} %; measure again"
    spread_now = time_spread if is_number(time_spread) and method == "bucket" else 0
    if rounded(spread_now, 1) > 10:
        return f"stop: the catches spread by {shown(spread_now, 1)} %; find out why"
    if text_at > 0:
        return f"not checked: catch {shown(text_at, 0)} is text and left out; retype it"
    if furthest > 10:
        return f"caution: the ways of measuring differ by {shown(furthest, 1)} %; find out why"
    if rounded(spread_now, 1) > 5:
        return f"caution: the catches spread by {shown(spread_now, 1)} %; catch once more"
    if method == "bucket" and not is_number(time_spread):
        return "caution: one catch only; repeat it at least twice"
    return f"pass: plan with {shown(flow, 1)} L/min"


# Without a flow, what follows from it stays blank, and the verdicts say why.


def speed_at(flow: Any, inside: Any) -> Any:
    return velocity(flow, inside) if is_number(flow) else ""


def loss_at(flow: Any, inside: Any, length: Any, roughness: Any) -> Any:
    return head_loss(flow, inside, length, roughness) if is_number(flow) else ""


def ends_loss(flow: Any, inside: Any, wide_inside: Any, length: Any) -> Any:
    if not is_number(flow):
        return ""
    return narrow_loss(flow, inside, wide_inside) if length > 0 else 0


def both_losses(pipe_loss: Any, neck_loss: Any, neck_ends: Any) -> Any:
    return pipe_loss + neck_loss + neck_ends if is_number(pipe_loss) else ""


def speed_verdict(pipe_speed: Any, neck_speed: Any, neck_length: Any) -> Any:
    if is_error(pipe_speed) or is_error(neck_speed) or is_error(neck_length):
        return "stop: an entry of flow or pipe cannot be used; see the notes"
    if not is_number(pipe_speed):
        return "not checked: no flow to reckon with"
    if pipe_speed > 2.5:
        return "stop: the pipe is too narrow for this flow; water hammer can burst it"
    if pipe_speed > 1.5:
        return "caution: above 1.5 m/s (5 ft/s) in the pipe; close valves slowly"
    if neck_speed > 2.5 and neck_length > 0:
        return f"caution: {shown(neck_speed, 1)} m/s in the necked-down piece; keep it short"
    return "pass: not above 1.5 m/s (5 ft/s) in the pipe"


def plug_minutes(length: Any, inside: Any, flow: Any) -> Any:
    return travel_time(length, inside, flow) if is_number(flow) else ""


def both_minutes(main_minutes: Any, lateral_minutes: Any) -> Any:
    return main_minutes + lateral_minutes if is_number(main_minutes) else ""


def rinse_verdict(flow: Any, rinse: Any, text_at: Any) -> Any:
    if is_error(flow) or is_error(rinse):
        return "stop: an entry of flow, pipe or lateral cannot be used; see the notes"
    if not is_number(rinse):
        return "not checked: no flow to reckon with"
    if text_at > 0:
        return f"not checked: catch {shown(text_at, 0)} is text; retype it"
    if rinse > LONG_TRAVEL:
        return f"caution: {shown(rinse, 0)} min, over an hour: the far end is fed late; split it"
    return f"pass: {shown(rinse, 0)} min to the last emitter, not over an hour"
