"""The catch test: how evenly emitters give water and feed."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.field import low_quarter
from tanksheet.subset import (
    ceil,
    count,
    helper,
    is_error,
    is_number,
    mean,
    rounded,
    shown,
    smallest,
)
from tanksheet.templates.proving.working import HALF, MOST, MOST_EC, TEXT, UNUSABLE
from tanksheet.templates.working import MEND

LEAST = 16  # emitters, common practice
# Classes of distribution uniformity: Merriam and Keller 1978 (from memory).
FAIR, POOR = 80, 70


def caught(catch: Any) -> Any:
    if catch == "":
        return ""
    if not is_number(catch):
        return TEXT
    return catch if catch >= 0 and catch <= MOST else TEXT


def fed(catch: Any, reading: Any, ec_water: Any) -> Any:
    """What an emitter gives of the feed, in catch times EC above plain water; a blocked one
    gives nothing, whatever its EC."""
    if catch == "" and reading == "":
        return ""
    if catch == "":
        return HALF
    if not is_number(catch):
        return TEXT
    if catch == 0:
        return 0
    if reading == "" or ec_water == "":
        return ""
    if not is_number(reading):
        return TEXT
    if catch < 0 or catch > MOST or reading < 0 or reading > MOST_EC:
        return TEXT
    return catch * max(0, reading - ec_water)


def catch_note(water: Any, feed: Any) -> Any:
    if is_error(water) or is_error(feed):
        return "an entry cannot be used"
    if feed == HALF:
        return "type the catch too"
    return "not a number: retype" if water == TEXT or feed == TEXT else ""


def bad_catch(row: int) -> Any:
    def bad(water: Any, feed: Any) -> Any:
        if is_error(water) or is_error(feed):
            return row
        return row if water == TEXT or feed in UNUSABLE else ""

    return bad


def how_many(amounts: Any) -> Any:
    return count(amounts)


def first_of(bads: Any) -> Any:
    return smallest(bads, 1) if count(bads) > 0 else 0


@helper
def low(amounts: Any, place: Any, quarter: Any) -> Any:
    return smallest(amounts, place) if place <= quarter else 0


@helper
def low_sum(amounts: Any, quarter: Any) -> Any:
    """Sum over the poorest quarter of up to 24 emitters, some of which may be blank."""
    return (
        low(amounts, 1, quarter)
        + low(amounts, 2, quarter)
        + low(amounts, 3, quarter)
        + low(amounts, 4, quarter)
        + low(amounts, 5, quarter)
        + low(amounts, 6, quarter)
    )


def evenness(amounts: Any) -> Any:
    """Low-quarter distribution uniformity in percent, from two emitters on."""
    if count(amounts) < 2:
        return ""
    if mean(amounts) <= 0:
        return 0
    quarter = ceil(count(amounts) / 4)
    return low_quarter(low_sum(amounts, quarter), quarter, mean(amounts))


def poorest_dose(share: Any, planned: Any) -> Any:
    if not is_number(share) or planned == "":
        return ""
    return planned * share / 100


def water_verdict(even: Any, emitters: Any, bad: Any) -> Any:
    if is_error(even) or is_error(emitters) or is_error(bad):
        return MEND
    if bad > 0:
        return f"stop: mend emitter {shown(bad, 0)}, which cannot be used; see the note beside it"
    if emitters == 0:
        return "not used: no catch test"
    if emitters < LEAST:
        return f"not checked: {shown(emitters, 0)} emitters caught; catch at 16 or more"
    share = rounded(even, 1)
    if share >= FAIR:
        return f"pass: the poorest quarter gets {shown(share, 1)} % of the mean water"
    cure = "flush, clean or replace emitters, look at pressure"
    if share >= POOR:
        return f"caution: the poorest quarter gets {shown(share, 1)} % of the water; {cure}"
    return f"stop: the poorest quarter gets {shown(share, 1)} % of the water; {cure}"


def feed_verdict(even: Any, emitters: Any, fed_emitters: Any, bad: Any) -> Any:
    if is_error(even) or is_error(fed_emitters) or is_error(bad) or is_error(emitters):
        return MEND
    if bad > 0:
        return f"stop: mend emitter {shown(bad, 0)}, which cannot be used; see the note beside it"
    if emitters == 0:
        return "not used: no catch test"
    if fed_emitters < emitters or fed_emitters < LEAST:
        few = shown(fed_emitters, 0)
        return f"not checked: EC at {few} emitters; read it at each, 16 or more, and in the water"
    share = rounded(even, 1)
    if share >= FAIR:
        return f"pass: the poorest quarter gets {shown(share, 1)} % of the mean dose"
    cure = "inject longer, flush later, mend what makes the water uneven"
    if share >= POOR:
        return f"caution: the poorest quarter gets {shown(share, 1)} % of the dose; {cure}"
    return f"stop: the poorest quarter gets {shown(share, 1)} % of the dose; {cure}"
