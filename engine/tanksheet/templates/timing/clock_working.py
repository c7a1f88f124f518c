"""The set on the clock: filling, injecting, flushing, and what the emitters get of it, in the
subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.arrival import front, pulse_share
from tanksheet.sheets.measures import stopped
from tanksheet.subset import begins, helper, is_error, is_number, rounded, shown
from tanksheet.templates.field_event.time_working import sure, time_words
from tanksheet.templates.working import BLANK

# Standard deviations between the middle of a front and 5 or 95 % of it: the normal distribution.
TAIL = 1.645
# A front of no width cannot be drawn: a thousandth of a minute is none to a meter.
SHARPEST = 1e-3
GRAIN = 1e-6  # min
# Share of its due that the last emitter should get before the valve closes, in percent, and how
# far apart near and far may be: common practice, no source.
GOOD, POOR = 95, 90
NO_WAY = "not given: the pipes and the times above; their notes say what is missing"


# Times of the page are minutes; what is typed of the set comes in hours, its base unit.


def full_at(minutes: Any, spread: Any) -> Any:
    """Minutes until the front has passed the last emitter but for 5 %."""
    return minutes + TAIL * spread if is_number(minutes) else ""


def window_of(set_time: Any, fill_time: Any, full: Any) -> Any:
    """What filling and a flush to the last emitter leave of the set; below 0 if nothing."""
    if fill_time == "" or not is_number(full):
        return ""
    return (set_time - fill_time) * 60 - full


def injecting(window: Any, inject_time: Any) -> Any:
    """As typed, else all that is left; a blank where nothing is left."""
    if inject_time != "":
        return inject_time * 60
    if not is_number(window):
        return ""
    return window if window > GRAIN else ""


def flush_of(set_time: Any, fill_time: Any, inject_minutes: Any) -> Any:
    """Clean water behind the injecting, below 0 if the set is too short."""
    if fill_time == "" or not is_number(inject_minutes):
        return ""
    return (set_time - fill_time) * 60 - inject_minutes


def start_of(fill_time: Any) -> Any:
    return fill_time * 60 if is_number(fill_time) else ""


def stop_of(start: Any, inject_minutes: Any) -> Any:
    if not is_number(start) or not is_number(inject_minutes):
        return ""
    return start + inject_minutes


def rises_at(start: Any, minutes: Any, spread: Any) -> Any:
    """When 5 % of a change that began at the injector has come."""
    if not is_number(start) or not is_number(minutes):
        return ""
    return start + max(0, minutes - TAIL * spread)


def half_at(start: Any, minutes: Any) -> Any:
    if not is_number(start) or not is_number(minutes):
        return ""
    return start + minutes


def up_at(start: Any, minutes: Any, spread: Any) -> Any:
    """When 95 % of it has come."""
    if not is_number(start) or not is_number(minutes):
        return ""
    return start + minutes + TAIL * spread


def share_at(inject_minutes: Any, flush: Any, minutes: Any, spread: Any) -> Any:
    """Percent of its due that has left an emitter when the valve closes."""
    if not is_number(inject_minutes) or not is_number(flush) or not is_number(minutes):
        return ""
    if inject_minutes + flush <= 0:
        return 0
    run = inject_minutes + flush
    return rounded(pulse_share(minutes, max(SHARPEST, spread), inject_minutes, run), 6)


@helper
def told(minutes: Any) -> Any:
    """Minutes as a clock has them."""
    return time_words(sure(minutes) / 60)


def set_verdict(
    set_time: Any, fill_time: Any, inject_minutes: Any, window: Any, flush: Any, minutes: Any
) -> Any:
    if is_error(window) or is_error(inject_minutes) or is_error(flush) or is_error(minutes):
        return BLANK
    if is_error(set_time) or is_error(fill_time):
        return BLANK
    if fill_time == "":
        return "not given: how long the lines take to fill; time it from opening the valve"
    if not is_number(minutes):
        return "not checked: travel is not known yet; the pipes say what is missing"
    if not is_number(inject_minutes):
        return (
            f"stop: filling and clearing leave nothing of a set of {told(set_time * 60)}; run "
            "longer"
        )
    if flush < -GRAIN:
        return (
            f"stop: filling and injecting take {told(fill_time * 60 + inject_minutes)} of a set "
            f"of {told(set_time * 60)}; run longer, or inject faster"
        )
    if window <= GRAIN:
        return (
            f"stop: no window: filling and clearing take all {told(set_time * 60)} of the set; "
            "run longer"
        )
    if fill_time * 60 < minutes - GRAIN:
        return (
            f"caution: {told(fill_time * 60)} to fill, travel takes {told(minutes)}: near "
            "emitters get most; begin to inject later"
        )
    if inject_minutes < minutes - GRAIN:
        return (
            f"caution: {told(inject_minutes)} of injecting, {told(minutes)} of travel: the dose "
            "hangs on the flush; inject longer, with weaker stock"
        )
    return f"pass: {told(inject_minutes)} of injecting fit between filling and clearing"


def flush_verdict(flush: Any, minutes: Any, full: Any) -> Any:
    """Whether clean water has passed the last emitter before the valve closes."""
    if is_error(flush) or is_error(minutes) or is_error(full):
        return BLANK
    if not is_number(flush) or not is_number(minutes):
        return NO_WAY
    if flush < minutes - GRAIN:
        return (
            f"stop: {told(max(0, flush))} of flush, {told(minutes)} of travel: feed stays in the "
            "pipe; stop injecting sooner, or run longer"
        )
    if flush < full - GRAIN:
        return (
            f"caution: {told(flush)} of flush, clear after {told(full)}: a tail of feed stays; "
            "flush longer"
        )
    return f"pass: {told(flush)} of flush, clear after {told(full)}"


def share_verdict(near: Any, far: Any) -> Any:
    """Whether the last emitter gets its share before the valve closes."""
    if is_error(near) or is_error(far):
        return BLANK
    if not is_number(near) or not is_number(far):
        return NO_WAY
    got = f"the last emitter gets {shown(far, 0)} % of its share, the nearest {shown(near, 0)} %"
    if far < POOR:
        return f"stop: {got}; stop injecting sooner, or run longer"
    if far < GOOD:
        return f"caution: {got}; flush longer"
    if near < GOOD:
        return f"caution: {got}; look at the pipes typed, the nearest should not lag"
    return f"pass: {got}"


def front_verdict(spread: Any, inject_minutes: Any, slow: Any) -> Any:
    """Whether the last emitter ever sees full strength, and whether the front can be reckoned."""
    if is_error(spread) or is_error(inject_minutes) or is_error(slow):
        return BLANK
    if not is_number(spread) or not is_number(inject_minutes):
        return NO_WAY
    if inject_minutes < 2 * TAIL * spread:
        return (
            f"caution: {told(inject_minutes)} of injecting never read full strength at the last "
            f"emitter; inject {told(2 * TAIL * spread)} or longer"
        )
    if slow > 0:
        return (
            f"caution: flow in stretch {shown(slow, 0)} is too slow to be turbulent: feed comes "
            "early and clears late; find both with a meter"
        )
    return "pass: the front is sharp against the time of injecting"


# the chart: percent of full strength


def moment(step: int, steps: int) -> Any:
    """Minutes after the opening of the valve, of the set in equal steps."""
    part = step / steps

    def at(set_time: Any) -> Any:
        return set_time * 60 * part if is_number(set_time) else 0

    return at


def strength_at(moment: Any, fill_time: Any, inject_minutes: Any, minutes: Any, spread: Any) -> Any:
    """Percent of full strength at an emitter: the front of the feed less that of the clean water
    behind it. A chart takes no blanks: nothing is 0."""
    if not is_number(inject_minutes) or not is_number(fill_time) or not is_number(minutes):
        return 0
    since = moment - fill_time * 60
    if since <= 0:
        return 0
    travel = max(SHARPEST, minutes)
    # A pipe at 1 m/s, as many metres long as the way takes seconds, that smears alike.
    smear = 30 * max(SHARPEST, spread) ** 2 / travel
    fed = front(travel * 60, 1, smear, since)
    clean = since - inject_minutes
    if clean <= 0:
        return rounded(fed, 4)
    return rounded(max(0, fed - front(travel * 60, 1, smear, clean)), 4)


# words


def tile_clock(overall: Any, total: Any) -> Any:
    """A time as a clock has it; none where the verdict stops."""
    if stopped(overall) or is_error(total):
        return ""
    return told(total) if is_number(total) else ""


def card_clock(state: Any, total: Any) -> Any:
    if state == "stop" or not is_number(total):
        return ""
    return told(total)


def card_state(overall: Any, inject_minutes: Any) -> Any:
    """Whether the card says what to do, or only why not."""
    if is_error(overall) or is_error(inject_minutes):
        return "stop"
    if begins(overall, "stop") or not is_number(inject_minutes):
        return "stop"
    return "go"


def if_go(words: str) -> Any:
    """Words of a card that says what to do."""

    def said(state: Any) -> Any:
        return words if state == "go" else ""

    return said
