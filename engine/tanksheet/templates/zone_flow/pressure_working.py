"""What is left of the supply's pressure, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.flow import KPA_PER_METRE, pressure_left
from tanksheet.subset import helper, is_error, is_number, shown

# Times the pressure that the emitters need: common practice, no source.
MUCH_PRESSURE = 3


@helper
def given(loss: Any) -> Any:
    return 0 if loss == "" else loss


def left_over(
    supply_pressure: Any,
    injector_loss: Any,
    pipe_loss: Any,
    neck_loss: Any,
    neck_ends: Any,
    other_loss: Any,
    rise: Any,
) -> Any:
    if supply_pressure == "" or not is_number(pipe_loss):
        return ""
    both = neck_loss + neck_ends
    injector = given(injector_loss)
    other = given(other_loss)
    return pressure_left(supply_pressure, injector, pipe_loss, both, other, rise)


@helper
def worst_part(pipe: Any, neck: Any, injector: Any, rise: Any) -> Any:
    """The greatest loss in words, with its remedy."""
    lift = rise * KPA_PER_METRE
    if neck >= pipe and neck >= injector and neck >= lift:
        return f"the necked-down piece takes {shown(neck, 0)} kPa: widen or shorten it"
    if pipe >= injector and pipe >= lift:
        return f"the pipe takes {shown(pipe, 0)} kPa: a wider pipe or a smaller zone"
    if injector >= lift:
        return f"the injector takes {shown(injector, 0)} kPa: a larger one, or a bypass"
    return f"the rise takes {shown(lift, 0)} kPa: a booster pump"


def greatest_loss(
    pipe_loss: Any, neck_loss: Any, neck_ends: Any, injector_loss: Any, rise: Any
) -> Any:
    if not is_number(pipe_loss):
        return ""
    return worst_part(pipe_loss, neck_loss + neck_ends, given(injector_loss), rise)


def pressure_verdict(
    flow: Any,
    supply: Any,
    left: Any,
    needed: Any,
    injector_loss: Any,
    other_loss: Any,
    greatest: Any,
    text_at: Any,
) -> Any:
    if is_error(flow) or is_error(left) or is_error(greatest):
        return "stop: an entry of flow or pressure cannot be used; see the notes"
    if is_error(needed) or is_error(injector_loss) or is_error(other_loss):
        return "stop: an entry of the pressures cannot be used; see the notes"
    if not is_number(flow):
        return "not checked: no flow to reckon with"
    if supply == "":
        return "not given: type the pressure of the supply, read while the zone runs"
    if not is_number(left):
        return "stop: an entry of flow or pipe cannot be used; see the notes"
    if left <= 0:
        return f"stop: nothing arrives, {shown(-left, 0)} kPa short; {greatest}"
    if is_number(needed):
        if left < needed:
            return f"stop: {shown(left, 1)} kPa left of {shown(needed, 1)} needed; {greatest}"
    if injector_loss == "" or other_loss == "":
        return "not checked: type what injector, filter and valves take at this flow"
    if needed == "":
        return f"not checked: {shown(left, 0)} kPa are left; type what the emitters need"
    if text_at > 0:
        return f"not checked: catch {shown(text_at, 0)} is text; retype it"
    if left < needed * 1.1:
        return f"caution: {shown(left, 1)} kPa left, barely {shown(needed, 1)} needed; {greatest}"
    if left > needed * MUCH_PRESSURE:
        return (
            f"caution: {shown(left, 0)} kPa left, {shown(needed, 0)} needed: emitters may burst; "
            "a regulator"
        )
    return f"pass: {shown(left, 0)} kPa left, {shown(needed, 0)} needed"


@helper
def untold(left: Any, injector_loss: Any, other_loss: Any) -> Any:
    """What the injector's verdict lacks."""
    if left == "" or injector_loss == "":
        return "not checked: its flow fits; type supply pressure and the pressure it takes"
    if other_loss == "":
        return "not checked: its flow fits; type what filter and valves take"
    return "not checked: its flow fits; type the pressure that the emitters need"


def injector_suits(
    flow: Any,
    low: Any,
    high: Any,
    left: Any,
    needed: Any,
    injector_loss: Any,
    other_loss: Any,
    text_at: Any,
) -> Any:
    if is_error(flow) or is_error(low) or is_error(high):
        return "stop: an entry of flow or nameplate cannot be used; see the notes"
    if is_error(left) or is_error(needed) or is_error(injector_loss) or is_error(other_loss):
        return "stop: an entry of the pressures cannot be used; see the notes"
    if not is_number(flow):
        return "not checked: no flow to hold against the nameplate"
    if low == "" or high == "":
        return "not given: type the lowest and highest flow of the nameplate"
    if low >= high:
        return "stop: the lowest flow must be below the highest"
    if flow < low:
        return (
            f"stop: too little water, {shown(flow, 1)} of {shown(low, 1)} L/min; a smaller injector"
        )
    if flow > high:
        return (
            f"stop: too much water, {shown(flow, 1)} of {shown(high, 1)} L/min; larger, or a bypass"
        )
    if is_number(left):
        if left <= 0:
            return f"stop: nothing arrives, {shown(-left, 0)} kPa short; see the pressure"
    if left == "" or injector_loss == "" or other_loss == "" or needed == "":
        return untold(left, injector_loss, other_loss)
    if text_at > 0:
        return f"not checked: catch {shown(text_at, 0)} is text; retype it"
    if left < needed:
        return "caution: it leaves less pressure than the emitters need; see above"
    if flow < low * 1.1 or flow > high * 0.9:
        return "caution: within 10 % of the end of the injector's range"
    return "pass: the flow lies inside the injector's range, and pressure is left"
