"""What is due and what lacks, in words, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import (
    count,
    dot,
    floor,
    helper,
    is_error,
    is_number,
    nth,
    shown,
    smallest,
    sum_where,
)
from tanksheet.templates.upkeep.working import (
    BAD,
    GOOD,
    PLACE,
    SHIFT,
    UNUSED,
    amount_ok,
    given,
)
from tanksheet.templates.working import MEND


@helper
def row_in(coded: Any) -> Any:
    return coded - PLACE * floor(coded / PLACE)


@helper
def days_in(coded: Any) -> Any:
    return floor(coded / PLACE) - SHIFT


@helper
def name_at(row: Any, names: Any) -> Any:
    return f"task {shown(row, 0)}" if nth(names, row) == "" else nth(names, row)


def name_of(coded: Any, names: Any) -> Any:
    return name_at(row_in(coded), names) if is_number(coded) else ""


def date_of(coded: Any, dues: Any) -> Any:
    return nth(dues, row_in(coded)) if is_number(coded) else ""


def days_of(coded: Any) -> Any:
    return days_in(coded) if is_number(coded) else ""


@helper
def overdue(coded: Any, names: Any) -> Any:
    name = name_at(row_in(coded), names)
    days = 0 - days_in(coded)
    return f"{name} is due today" if days == 0 else f"{name} is overdue by {shown(days, 0)} days"


def stop_verdict(
    lates: Any,
    goods: Any,
    bads: Any,
    opens: Any,
    names: Any,
    today: Any,
    use: Any,
    flow: Any,
) -> Any:
    """Whether a task is late that must not wait."""
    if is_error(today) or is_error(use) or is_error(flow):
        return MEND
    if count(bads) > 0:
        return f"stop: mend task {shown(smallest(bads, 1), 0)}; its date or numbers cannot be used"
    if count(lates) > 0:
        return f"stop: {overdue(smallest(lates, 1), names)}; do it before the injector runs again"
    if count(opens) > 0:
        name = name_at(smallest(opens, 1), names)
        return f"not checked: {name} lacks an entry; the note beside it says which"
    if count(goods) == 0:
        return "not given: no task; type tasks, dates and intervals"
    return "pass: nothing is overdue that must not wait"


def due_verdict(
    lates: Any, soons: Any, goods: Any, opens: Any, bads: Any, names: Any, notice: Any, today: Any
) -> Any:
    """Whether any other task is late or due soon."""
    if is_error(today) or is_error(notice):
        return MEND
    if count(lates) > 0:
        return f"caution: {overdue(smallest(lates, 1), names)}; do it now and type the date"
    if count(soons) > 0:
        first = smallest(soons, 1)
        name = name_at(row_in(first), names)
        return f"caution: {name} is due in {shown(days_in(first), 0)} days; lay its kit out"
    if count(opens) + count(bads) > 0:
        return "not checked: a task lacks an entry; the note beside it says which"
    if count(goods) == 0:
        return "not given: no task; type tasks, dates and intervals"
    first = smallest(goods, 1)
    return f"pass: next is {name_at(row_in(first), names)} in {shown(days_in(first), 0)} days"


def season_verdict(
    season: Any, goods: Any, opens: Any, bads: Any, names: Any, begins: Any, ends: Any, today: Any
) -> Any:
    """Whether what belongs into the off-season falls due while the injector must run."""
    if is_error(begins) or is_error(ends) or is_error(today):
        return MEND
    if begins == "" and ends == "":
        return "not used: no season typed"
    if begins == "" or ends == "":
        return "not given: type both days, when the season begins and when it ends"
    if begins >= ends:
        return "stop: the season ends before it begins; mend the two days"
    if count(season) > 0:
        name = name_at(row_in(smallest(season, 1)), names)
        return f"caution: {name} falls due in the season; do it before the season begins"
    if count(opens) + count(bads) > 0 or count(goods) == 0:
        return "not checked: a task lacks an entry; the note beside it says which"
    if ends < today:
        return "not checked: that season is over; type the days of the next one"
    return "pass: off-season work does not fall due in the season"


def to_order(on_hand: Any, wanted: Any) -> Any:
    """Kits to order; nothing where nobody says how many there shall be."""
    if is_error(on_hand) or is_error(wanted):
        return ""
    if not is_number(wanted):
        return ""
    return max(0, wanted - given(on_hand)) if amount_ok(on_hand) and amount_ok(wanted) else ""


def kit_state(name: Any, on_hand: Any, wanted: Any) -> Any:
    if is_error(name) or is_error(on_hand) or is_error(wanted):
        return BAD
    if not amount_ok(on_hand) or not amount_ok(wanted):
        return BAD
    if name == "" and on_hand == "" and wanted == "":
        return UNUSED
    return "gap" if on_hand == "" or wanted == "" else GOOD


def kit_note(state: Any) -> Any:
    if state == BAD:
        return "stop: type a number"
    if state == "gap":
        return "type on hand and wanted"
    return ""


def one_of(state: Any) -> Any:
    return 0 if state == "" else 1


def due_said(coded: Any) -> Any:
    """When a task of the printed list is due, in words."""
    if not is_number(coded):
        return ""
    days = days_in(coded)
    if days < 0:
        return f"{shown(0 - days, 0)} days late"
    return "today" if days == 0 else f"in {shown(days, 0)} days"


def spares_verdict(states: Any, ones: Any, orders: Any, each: Any) -> Any:
    if sum_where(states, BAD, ones) > 0:
        return "stop: mend Spares, a line is no number; the note beside it says which"
    kits = sum_where(states, GOOD, ones)
    if sum_where(states, "gap", ones) > 0:
        return "not given: a kit of Spares is not counted; type on hand and wanted"
    if kits == 0:
        return "not given: no spare kits; list them on Spares"
    if each > 0:
        return f"caution: spare parts to order: {shown(each, 0)}; see the sheet Spares"
    return "pass: all spare kits are on hand"


def total(orders: Any, ones: Any) -> Any:
    return dot(orders, ones)


def tile_text(text: Any) -> Any:
    return "" if is_error(text) else text


def tile_days(days: Any) -> Any:
    if is_error(days) or not is_number(days):
        return ""
    return shown(days, 0)


def tile_count(codes: Any) -> Any:
    return shown(count(codes), 0)


def log_note(typed: Any) -> Any:
    """What is odd about a date of the log, which nothing else is worked out from."""
    if is_error(typed):
        return "stop: type a date"
    if typed == "":
        return ""
    if not is_number(typed):
        return "stop: type a date"
    return "" if typed >= 36526 and typed <= 73050 else "stop: type a date"
