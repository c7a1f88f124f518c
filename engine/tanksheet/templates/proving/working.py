"""The working of the proving workbook: row by row what each test says, in the subset of Python that
compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.proving import ec_uncertainty, ratio_uncertainty
from tanksheet.calc.ratio import corrected_ratio, measured_ratio, percent_injected, ratio_error
from tanksheet.sheets.measures import figure
from tanksheet.subset import (
    among,
    count,
    helper,
    is_error,
    is_number,
    position,
    rounded,
    shown,
    smallest,
)
from tanksheet.units import DATES

DRAWN, READ = "drawdown tests", "EC readings"
WAYS = (DRAWN, READ)
# In what water and stock are read, by edition.
UNITS = {"metric": ("L", "mL"), "us": ("gal", "fl oz")}
# What a row holds besides numbers: half a test, or what is no number above 0.
HALF, TEXT = "half", "text"
UNUSABLE = (HALF, TEXT)
MOST, MOST_EC = 1e6, 500  # of water or stock in one test, and mS/cm: beyond it is a slip
EARLIEST, LATEST = DATES.low, DATES.high  # days
NOTHING = -100  # percent: nothing is injected


def drawn_ratio(water_unit: str, stock_unit: str) -> Any:
    def ratio(water: Any, stock: Any) -> Any:
        """Parts of water to one of stock in one drawdown test."""
        if water == "" and stock == "":
            return ""
        if water == "" or stock == "":
            return HALF
        if not is_number(water) or not is_number(stock):
            return TEXT
        if water <= 0 or stock <= 0 or water > MOST or stock > MOST:
            return TEXT
        return measured_ratio(convert(water, water_unit, "L"), convert(stock, stock_unit, "L"))

    return ratio


def drawn_off(found: Any, ratio: Any) -> Any:
    return ratio_error(found, ratio) if is_number(found) else found


def drawn_doubt(water_unit: str, stock_unit: str) -> Any:
    def doubt(found: Any, water: Any, stock: Any, water_error: Any, stock_error: Any) -> Any:
        if not is_number(found):
            return ""
        drawn = convert(stock, stock_unit, "L")
        return ratio_uncertainty(convert(water, water_unit, "L"), drawn, water_error, stock_error)

    return doubt


def read_off(reading: Any, ec_water: Any, ec_target: Any, ratio: Any) -> Any:
    """Percent by which an EC reading stands off what the feed should add to the water."""
    if is_error(reading):
        return TEXT  # told beside it, even while tests are judged by drawdown
    if reading == "":
        return ""
    if ec_water == "" or ec_target == "":
        return HALF
    if not is_number(reading):
        return TEXT
    if ec_target <= ec_water or reading < 0 or reading > MOST_EC:
        return TEXT
    if reading <= ec_water:
        return NOTHING
    return ratio_error(ratio, corrected_ratio(ratio, reading, ec_water, ec_target))


def read_doubt(off: Any, reading: Any, ec_water: Any, ec_error: Any) -> Any:
    """Nothing injected is no question of uncertainty: the meter sees plain water."""
    if not is_number(off):
        return ""
    return 0 if off <= NOTHING else ec_uncertainty(reading, ec_water, ec_error)


def of_way(way: Any, drawn: Any, read: Any) -> Any:
    return drawn if way == DRAWN else read


@helper
def is_day(typed: Any) -> Any:
    if is_error(typed):
        return False
    if not is_number(typed):
        return False
    return typed >= EARLIEST and typed <= LATEST


def first_day(typed: Any) -> Any:
    return typed if is_day(typed) else 0


def latest_day(before: Any, typed: Any) -> Any:
    """The latest day down to this row; what is no day is passed over."""
    return max(before, typed) if is_day(typed) else before


def day_kind(typed: Any, latest: Any) -> Any:
    """ "bad" for what is no day, "back" for one before a day further up, or "good"."""
    if is_error(typed):
        return "bad"
    if typed == "":
        return ""
    if not is_day(typed):
        return "bad"
    return "back" if typed < latest else "good"


def order_verdict(kinds: Any) -> Any:
    """Whether the readings stand in the order of their days, which drift is read from."""
    if among("bad", kinds):
        return (
            f"stop: mend the day of reading {shown(position('bad', kinds), 0)}; a date, or nothing"
        )
    if among("back", kinds):
        return (
            f"caution: reading {shown(position('back', kinds), 0)} is of an earlier day than one "
            "above it; the oldest first, or drift is read wrongly"
        )
    return "pass: the days follow each other" if among("good", kinds) else "not used: no days"


def row_note(drawn: Any, read: Any, outside: Any, day: Any) -> Any:
    """What is odd about a row."""
    if is_error(drawn) or is_error(read) or is_error(outside):
        return "an entry cannot be used"
    if day == "bad":
        return "the day is no date"
    if drawn == HALF:
        return "water and stock belong together"
    if drawn == TEXT:
        return "not a number above 0"
    if read == HALF:
        return "type EC of water and feed"
    if read == TEXT:
        return "EC cannot be used: retype"
    if day == "back":
        return "an earlier day than above"
    return "outside the limits" if outside == 1 else ""


def bad_row(row: int) -> Any:
    """The number of the row where it holds what is left out, or nothing."""

    def bad(drawn: Any, read: Any) -> Any:
        if is_error(drawn) or is_error(read):
            return row
        return row if drawn in UNUSABLE or read in UNUSABLE else ""

    return bad


def first_bad(bads: Any) -> Any:
    return smallest(bads, 1) if count(bads) > 0 else 0


# from row to row


def first_count(off: Any) -> Any:
    return 1 if is_number(off) else 0


def next_count(before: Any, off: Any) -> Any:
    return before + (1 if is_number(off) else 0)


def first_last(off: Any) -> Any:
    return off if is_number(off) else ""


def next_last(before: Any, off: Any) -> Any:
    return off if is_number(off) else before


def follows(before: Any, off: Any, value: Any) -> Any:
    """What belongs to the newest test so far."""
    return value if is_number(off) else before


def follows_first(off: Any, value: Any) -> Any:
    return value if is_number(off) else ""


def moving_range(before: Any, off: Any) -> Any:
    if not is_number(off) or not is_number(before):
        return ""
    return abs(off - before)


def no_step(off: Any) -> Any:
    """The first row has no reading above it to step from."""
    return "" if is_number(off) else off


def within(value: Any, so_far: Any, baseline: Any) -> Any:
    """A value while the limits are being found, nothing after."""
    if not is_number(value):
        return ""
    return value if so_far <= baseline else ""


def both_ways(drawn: Any, read: Any) -> Any:
    if not is_number(drawn) or not is_number(read):
        return ""
    return read - drawn


# what is drawn: a chart takes a blank for 0, so a line stays level where a reading is missing


def drawn_held(last: Any) -> Any:
    return last if is_number(last) else 0


def drawn_step(step: Any) -> Any:
    return step if is_number(step) else 0


def drawn_limit(limit: Any, line: Any) -> Any:
    """A limit; while there is none the line that it belongs to."""
    return limit if is_number(limit) else line


# the newest test


def held(value: Any) -> Any:
    """A number, nothing where a row is blank or cannot be used; an error comes through."""
    return "" if value in UNUSABLE else value


def new_ratio(latest: Any, ratio: Any) -> Any:
    """The setting that should dose right, in parts; no injector goes below 1."""
    if not is_number(latest):
        return ""
    if latest <= NOTHING:
        return "none"
    return max(1, ratio * (1 + latest / 100))


def new_percent(setting: Any) -> Any:
    return percent_injected(setting) if is_number(setting) else setting


def latest_ratio(latest: Any, ratio: Any) -> Any:
    """The ratio that the newest test shows."""
    if not is_number(latest):
        return ""
    return "none" if latest <= NOTHING else ratio / (1 + latest / 100)


def tile_setting(latest: Any, setting: Any, good: Any, ratio: Any) -> Any:
    if is_error(latest) or is_error(setting) or is_error(good) or is_error(ratio):
        return ""
    if not is_number(latest):
        return ""
    if abs(rounded(latest, 1)) <= good:
        return f"leave 1 : {figure(ratio)}"
    return f"1 : {figure(setting)}" if is_number(setting) else "none"


def tile_off(latest: Any) -> Any:
    if is_error(latest) or not is_number(latest):
        return ""
    return shown(latest, 1)


def tile_plain(number: Any) -> Any:
    if is_error(number) or not is_number(number):
        return ""
    return figure(number)
