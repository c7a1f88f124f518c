"""When tasks fall due, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.upkeep import service_days
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
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.working import MEND

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
