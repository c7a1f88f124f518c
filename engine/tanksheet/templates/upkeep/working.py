"""When tasks fall due, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.upkeep import service_days
from tanksheet.subset import (
    count,
    floor,
    helper,
    is_error,
    is_number,
    shown,
    smallest,
)
from tanksheet.templates.recipe.card_working import typed_words

ROWS = 14
# What the injector draws: all but the first halve the intervals of screen and valve (common
# practice, no source).
DRAWN = ("clear solution", "thick product", "flaky product", "organic product")
CLEAR = "clear solution"
CLOGGING = "screen or valve"
OFF_SEASON = "off-season"
HALF = 0.5
CLOGS = ("screen or valve", "other part")
WHEN = ("off-season", "any time")
LATE = ("stop", "caution")
UNUSED = "unused"
BAD = "bad"
GOOD = "good"
MOST = 1e6
PLACE = 100
SHIFT = 40000  # a code holds the days, made positive, and the row in two digits
THOUSAND_GALLONS = float(convert(1000, "gal", "L"))
UNIT = {"metric": 1000.0, "us": THOUSAND_GALLONS}
said = helper(typed_words)


@helper
def amount_ok(typed: Any) -> Any:
    """Whether a cell is blank or holds an amount."""
    if typed == "":
        return True
    if not is_number(typed):
        return False
    return typed >= 0 and typed <= MOST


@helper
def given(typed: Any) -> Any:
    return typed if is_number(typed) else 0


def task_name(typed: Any) -> Any:
    return said(typed)


def readable(
    name: Any, last: Any, days: Any, hours: Any, volume: Any, ran: Any, passed: Any
) -> Any:
    """Whether a row is unused, cannot be read, or lacks nothing that stands in it."""
    if is_error(name) or is_error(last) or is_error(days) or is_error(hours):
        return BAD
    if is_error(volume) or is_error(ran) or is_error(passed):
        return BAD
    if not amount_ok(days) or not amount_ok(hours) or not amount_ok(volume):
        return BAD
    if not amount_ok(ran) or not amount_ok(passed):
        return BAD
    if days == "" and hours == "" and volume == "" and last == "":
        return UNUSED if name == "" else "no interval"
    if last != "" and not is_number(last):
        return BAD
    return GOOD


def state_of(
    read: Any,
    last: Any,
    days: Any,
    hours: Any,
    volume: Any,
    today: Any,
    week_hours: Any,
    flow: Any,
    clogs: Any,
    late: Any,
    when: Any,
    drawn: Any,
) -> Any:
    """Whether the next date of a row can be told, else why not."""
    if is_error(today) or is_error(week_hours) or is_error(flow) or is_error(drawn):
        return "no use" if read == GOOD else read
    if is_error(clogs) or is_error(late) or is_error(when):
        return BAD
    if read != GOOD:
        return read
    if given(days) + given(hours) + given(volume) == 0:
        return "no interval"
    chosen = clogs in CLOGS and late in LATE and when in WHEN
    if not chosen:
        return "no choice"
    if last == "":
        return "no date"
    if last > today or last < 36526:
        return BAD
    if given(hours) > 0 and week_hours == "":
        return "no use"
    if given(volume) > 0 and (week_hours == "" or flow == ""):
        return "no use"
    return GOOD


def hours_run(state: Any, typed: Any, past: Any, week_hours: Any) -> Any:
    """Hours since a task was done: what a meter told, else by weekly use."""
    if state != GOOD:
        return 0
    return typed if is_number(typed) else past * given(week_hours) / 7


def litres_passed(edition: str) -> Any:
    """The same of the water."""
    unit = UNIT[edition]

    def litres(state: Any, typed: Any, past: Any, week_hours: Any, flow: Any) -> Any:
        if state != GOOD:
            return 0
        if is_number(typed):
            return typed * unit
        return past * given(week_hours) / 7 * given(flow) * 60

    return litres


def interval(most: float, size: float) -> Any:
    """An interval in its base unit, halved where the product clogs the part; 0 if not counted."""

    def counted(state: Any, typed: Any, clogs: Any, drawn: Any) -> Any:
        if state != GOOD:
            return 0
        part = HALF if clogs == CLOGGING and drawn != CLEAR else 1
        return min(most, given(typed)) * size * part

    return counted


def past_days(state: Any, last: Any, today: Any) -> Any:
    return floor(today) - floor(last) if state == GOOD else 0


def left_of(
    state: Any,
    days: Any,
    past: Any,
    hours: Any,
    ran: Any,
    volume: Any,
    passed: Any,
    week_hours: Any,
    flow: Any,
) -> Any:
    """Days left of a row, a blank where they cannot be told."""
    if state != GOOD:
        return ""
    daily = given(week_hours) / 7
    return service_days(days, past, hours, ran, daily, volume, passed, daily * given(flow) * 60)


def due_date(left: Any, today: Any) -> Any:
    """The day on which a row falls due; none within the next century for what never does."""
    if not is_number(left) or is_error(today):
        return ""
    day = floor(today) + floor(left)
    return day if day >= 36526 and day <= 73050 else ""


def whole_days(left: Any) -> Any:
    return floor(left) if is_number(left) else ""


def row_note(state: Any, left: Any) -> Any:
    """What is odd about a row, or late."""
    if state == BAD:
        return "stop: mend date or numbers"
    if state == "no date":
        return "when was it last done?"
    if state == "no interval":
        return "type an interval on Intervals"
    if state == "no choice":
        return "choose on Intervals"
    if state == "no use":
        return "needs hours and flow above"
    if not is_number(left):
        return ""
    if left < 0:
        return f"overdue by {shown(0 - floor(left), 0)} days"
    if left == 0:
        return "due today"
    return ""


@helper
def code(left: Any, row: Any) -> Any:
    return (floor(left) + SHIFT) * PLACE + row


def due_code(row: int) -> Any:
    """Days left and the row in one number, so that the smallest names the first due."""

    def coded(left: Any) -> Any:
        return code(left, row) if is_number(left) else ""

    return coded


def late_code(row: int, word: str) -> Any:
    """The same of a row that is overdue, of those whose lateness counts as ``word``."""

    def coded(left: Any, late: Any) -> Any:
        if not is_number(left):
            return ""
        return code(left, row) if left <= 0 and late == word else ""

    return coded


def soon_code(row: int) -> Any:
    def coded(left: Any, notice: Any) -> Any:
        if not is_number(left) or is_error(notice):
            return ""
        return code(left, row) if left > 0 and left <= notice else ""

    return coded


def open_row(row: int) -> Any:
    def number(state: Any) -> Any:
        if state == GOOD or state == UNUSED or state == BAD:
            return ""
        return row

    return number


def bad_row(row: int) -> Any:
    def number(state: Any) -> Any:
        return row if state == BAD else ""

    return number


def season_code(row: int) -> Any:
    """A row for the off-season whose date lies within the season, or that is late in it."""

    def coded(left: Any, due: Any, when: Any, begins: Any, ends: Any) -> Any:
        if is_error(begins) or is_error(ends) or not is_number(left):
            return ""
        if when != OFF_SEASON or begins == "" or ends == "" or due == "":
            return ""
        return code(left, row) if due >= floor(begins) and due <= floor(ends) else ""

    return coded


def late_either(stopped: Any, late: Any) -> Any:
    return late if stopped == "" else stopped


def at_rank(rank: int) -> Any:
    def coded(codes: Any) -> Any:
        return smallest(codes, rank) if count(codes) >= rank else ""

    return coded
