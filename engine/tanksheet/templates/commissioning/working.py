"""What ticks and first readings come to, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.ratio import (
    corrected_ratio,
    measured_ratio,
    percent_injected,
    ratio_error,
)
from tanksheet.sheets.measures import figure
from tanksheet.subset import count, helper, is_error, is_number, nth, rounded, shown, smallest
from tanksheet.templates.working import MEND

STATES = ("done", "not done", "does not apply")
DONE = "done"
NOT_DONE = "not done"
NO_NEED = "does not apply"
WRONG = "wrong"
OPEN = "open"
# Good dosing within 5 %, to be acted on beyond 10 %; scales alike within 1 %; pH within 0.3
# (common practice, no source).
GOOD = 5
ACT = 10
ALIKE = 1
PH_GOOD = 0.3
PH_ACT = 0.7


def ticked(must: bool) -> Any:
    """What a step's cell says; a step that every injector needs cannot "not apply"."""

    def needed(chosen: Any) -> Any:
        if is_error(chosen):
            return WRONG
        if chosen == "":
            return OPEN
        if chosen == DONE or chosen == NOT_DONE:
            return chosen
        return "needed" if chosen == NO_NEED else WRONG

    def free(chosen: Any) -> Any:
        if is_error(chosen):
            return WRONG
        if chosen == "":
            return OPEN
        return chosen if chosen in STATES else WRONG

    return needed if must else free


def tick_note(state: Any) -> Any:
    if state == WRONG:
        return "stop: choose from the list"
    if state == "needed":
        return "every injector needs it"
    return "not ticked" if state == OPEN else ""


def row_if(row: int, *words: str) -> Any:
    """The row's number where its state is one of the words."""
    first, last = words[0], words[-1]

    def number(state: Any) -> Any:
        return row if state == first or state == last else ""

    return number


def how_many(rows: Any) -> Any:
    return count(rows)


def steps_verdict(undone: Any, wrong: Any, unticked: Any, names: Any) -> Any:
    """The list: a step that is not ticked is never a pass."""
    if count(wrong) > 0:
        name = nth(names, smallest(wrong, 1))
        return f"stop: {name}: the cell holds no word of its list, or it is needed; choose again"
    if count(undone) > 0:
        name = nth(names, smallest(undone, 1))
        return f"stop: {name}: not done; do it before stock is injected"
    if count(unticked) > 0:
        name = nth(names, smallest(unticked, 1))
        return f"not checked: {shown(count(unticked), 0)} steps not ticked; the first is: {name}"
    return "pass: every step is done, or does not apply"


def flow_verdict(unit: str) -> Any:
    """The flow against the nameplate, told in an edition's unit."""

    @helper
    def told(flow: Any) -> Any:
        return f"{figure(convert(flow, 'L/min', unit))} {unit}"

    def verdict(flow: Any, low: Any, high: Any) -> Any:
        if is_error(flow) or is_error(low) or is_error(high):
            return MEND
        if flow == "":
            return "not checked: no flow read; read the water meter over a minute"
        if low == "" or high == "":
            return "not checked: the injector's range is blank; type both flows of its nameplate"
        if low >= high:
            return "stop: the lowest flow of the nameplate is not below the highest; mend the two"
        if flow < low:
            return (
                f"stop: {told(flow)}, below the {told(low)} of the nameplate, dosing is erratic; "
                "water through more valves, or use a smaller unit"
            )
        if flow > high:
            return (
                f"stop: {told(flow)}, above the {told(high)} of the nameplate; "
                "water through fewer valves, or use a larger unit"
            )
        return f"pass: {told(flow)} is within the nameplate"

    return verdict


def scale_off(percent: Any, ratio: Any) -> Any:
    """Percent by which the two scales differ."""
    if is_error(percent) or is_error(ratio) or percent == "" or not is_number(percent):
        return ""
    return (percent * ratio / 100 - 1) * 100


def scales_verdict(percent: Any, ratio: Any, off: Any) -> Any:
    """Whether the percent scale reads what the ratio scale does."""
    if is_error(percent) or is_error(ratio) or is_error(off):
        return MEND
    if not is_number(off):
        return (
            "not checked: the percent scale is not read; blank if it has none, then judge by ratio"
        )
    wanted = percent_injected(ratio)
    if abs(rounded(off, 1)) <= ALIKE:
        return f"pass: both scales say 1 : {figure(ratio)}, {shown(wanted, 2)} %"
    return (
        f"stop: the scale reads {shown(percent, 2)} %, and 1 : {figure(ratio)} is "
        f"{shown(wanted, 2)} %; set one scale and read both again"
    )


def lean_verdict(ratio: Any, planned: Any) -> Any:
    """Whether it starts a little leaner than planned."""
    if is_error(ratio) or is_error(planned):
        return MEND
    if planned == "":
        return "not checked: the planned ratio is blank; type it"
    leaner = (rounded(ratio / planned, 6) - 1) * 100
    if leaner < 0:
        return (
            f"caution: starts richer than 1 : {figure(planned)}; set a larger number, more can "
            "be added later"
        )
    if leaner == 0:
        return "caution: starts at the planned ratio; a little leaner is safer, 5 to 20 %"
    if leaner > 30:
        return f"caution: {shown(leaner, 0)} % leaner than planned; 5 to 20 % will do"
    return f"pass: starts {shown(leaner, 0)} % leaner than planned"


def found_ratio(water: Any, stock: Any) -> Any:
    """One part of stock in so many of water, from a drawdown test."""
    if is_error(water) or is_error(stock):
        return ""
    return "" if water == "" or stock == "" else measured_ratio(water, stock)


def drawn_off(found: Any, ratio: Any) -> Any:
    if is_error(ratio) or not is_number(found):
        return ""
    return ratio_error(found, ratio)


def drawn_verdict(off: Any, found: Any, ratio: Any, water: Any, stock: Any) -> Any:
    if is_error(off) or is_error(found) or is_error(ratio):
        return MEND
    if is_error(water) or is_error(stock):
        return MEND
    if not is_number(off):
        return "not checked: no drawdown test; let it draw from a cylinder, type water and stock"
    far = rounded(off, 1)
    way = "too much" if far > 0 else "too little"
    cure = "look for air, screen, valve, then test again"
    if abs(far) > ACT:
        return f"stop: doses {shown(abs(far), 1)} % {way}, true 1 : {figure(found)}; {cure}"
    if abs(far) > GOOD:
        return f"caution: doses {shown(abs(far), 1)} % {way}, true 1 : {figure(found)}; {cure}"
    return f"pass: true 1 : {figure(found)}, within {shown(abs(far), 1)} %"


def ec_off(feed: Any, water: Any, target: Any) -> Any:
    """Percent by which what the feed adds to the water's EC misses the target."""
    if is_error(feed) or is_error(water) or is_error(target):
        return ""
    if feed == "" or water == "" or target == "":
        return ""
    return ((feed - water) / (target - water) - 1) * 100 if target > water else ""


def new_ratio(off: Any, ratio: Any, feed: Any, water: Any, target: Any) -> Any:
    """The setting that should bring the target; none where the meter sees plain water."""
    if is_error(ratio) or not is_number(off):
        return ""
    if feed <= water:
        return "none"
    return max(1, corrected_ratio(ratio, feed, water, target))


def ec_verdict(off: Any, feed: Any, water: Any, target: Any, setting: Any) -> Any:
    if is_error(feed) or is_error(water) or is_error(target):
        return MEND
    if is_error(off) or is_error(setting):
        return MEND
    if feed == "" or water == "" or target == "":
        return "not checked: EC of water, of feed or target is blank; read both, type all three"
    if target <= water:
        return "stop: the target EC is not above that of the water; mend the two"
    if feed <= water:
        return (
            "stop: the feed reads no higher than the water; nothing is injected: air, valve, tank"
        )
    far = rounded(off, 1)
    way = "more" if far > 0 else "less"
    said = f"EC shows {shown(abs(far), 1)} % {way} feed than the target"
    if abs(far) <= GOOD:
        return f"pass: EC within {shown(abs(far), 1)} % of the target"
    kind = "stop" if abs(far) > 2 * ACT else "caution"
    return f"{kind}: {said}; set 1 : {figure(setting)}, wait, read again"


def ph_verdict(read: Any, target: Any) -> Any:
    if is_error(read) or is_error(target):
        return MEND
    if read == "" or target == "":
        return "not checked: pH of the feed or its target is blank; read it, type both"
    far = rounded(abs(read - target), 2)
    if far <= PH_GOOD:
        return f"pass: pH within {shown(far, 1)} of the target"
    way = "above" if read > target else "below"
    cure = "calibrate the meter, then look at acid and alkalinity"
    if far > PH_ACT:
        return f"stop: pH {shown(read, 1)} is {shown(far, 1)} {way} the target; {cure}"
    return f"caution: pH {shown(read, 1)} is {shown(far, 1)} {way} the target; {cure}"


def tile_left(undone: Any, unticked: Any, wrong: Any) -> Any:
    return shown(count(undone) + count(unticked) + count(wrong), 0)


def tile_figure(number: Any) -> Any:
    if is_error(number):
        return ""
    return figure(number) if is_number(number) else ""


def tile_percent(number: Any) -> Any:
    if is_error(number):
        return ""
    return shown(number, 1) if is_number(number) else ""


def tile_setting(setting: Any) -> Any:
    if is_error(setting) or setting == "":
        return ""
    return f"1 : {figure(setting)}" if is_number(setting) else "none"


def named(step: str) -> Any:
    def name() -> Any:
        return step

    return name
