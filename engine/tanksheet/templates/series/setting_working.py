"""What each injector of a line is set to, from one list of targets; in the subset that compiles to
formulas.

A stock brings so many litres to a litre of feed that its own target is met beside what the others
bring: three equations, solved by determinants. A setting that a person typed is one of them too.
"""

from __future__ import annotations

from typing import Any

from tanksheet.subset import after, among, begins, dot, helper, is_error, nth, position
from tanksheet.templates.working import BLANK

ORDERS = ("A, B, C", "A, C, B", "B, A, C", "B, C, A", "C, A, B", "C, B, A")
# Below this a determinant of rows whose largest number is 1, and litres of stock in a litre of
# feed, are rounding noise.
NOTHING = 1e-9
# Litres of stock in a litre of feed beyond which it is no stock.
WEAK, MOST_RATE = 0.25, 0.3


# the order along the line


def place_of(letter: str) -> Any:
    """At which place of the line a stock's injector stands."""

    def place(order: Any) -> Any:
        if begins(order, letter):
            return 1
        return 3 if after(order, letter) == "" else 2

    return place


def stands_before(one: Any, other: Any) -> Any:
    """1 where the place of one is before that of the other."""
    return 1 if one < other else 0


# three equations


def coefficient(own_stock: bool) -> Any:
    """What a litre of a stock counts in the equation of a stock: of its own or of another."""
    alone = 1 if own_stock else 0

    def number(count: Any, parts: Any, share: Any, lead: Any, contents: Any, is_behind: Any) -> Any:
        if count == 0:
            return alone
        if parts != "":
            return 1 + parts / share if own_stock else is_behind
        if lead == 0:
            return alone
        return nth(contents, lead)

    return number


def right_side(count: Any, parts: Any, goal: Any) -> Any:
    if count == 0:
        return 0
    if parts != "":
        return 1
    return 0 if goal == "" else goal


def largest_of(one: Any, two: Any, three: Any) -> Any:
    """The largest size in an equation; 1 where all are 0."""
    most = max(abs(one), abs(two), abs(three))
    return most if most > 0 else 1


def over(number: Any, largest: Any) -> Any:
    return number / largest


def determinant(a: Any, b: Any, c: Any, d: Any, e: Any, f: Any, g: Any, h: Any, i: Any) -> Any:
    """Of three rows of three."""
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)


def solved(own: Any, whole: Any) -> Any:
    """Litres of stock in a litre of feed; 0 where the equations do not tell, which is told."""
    return own / whole if abs(whole) > NOTHING else 0


def set_kind(
    count: Any,
    typed: Any,
    parts: Any,
    lead: Any,
    content: Any,
    goal: Any,
    whole: Any,
    rate: Any,
) -> Any:
    """What came of a stock's setting, in a word; a blank for a stock that is not used."""
    if is_error(count):
        return "faulty"
    if count == 0:
        return ""
    if is_error(parts):
        return "own"
    if is_error(lead):
        return "lead"
    if typed == "" and lead == 0:
        return "open"
    if is_error(content) or is_error(goal):
        return "faulty"
    if typed == "" and content == 0:
        return "lacks"
    if typed == "" and goal == "":
        return "no goal"
    if is_error(whole) or is_error(rate):
        return "faulty"
    if abs(whole) <= NOTHING:
        return "alike"
    if rate < -NOTHING:
        return "below"
    if rate <= NOTHING:
        return "idle"
    return "weak" if rate > WEAK else "set"


def one_if_good(kind: Any) -> Any:
    return 1 if kind == "" or kind == "set" or kind == "idle" else 0


def one_if_all(good: Any) -> Any:
    """1 where every setting is found."""
    return 1 if dot(good, good) == 3 else 0


def rate_of(rate: Any) -> Any:
    """Litres of stock in a litre of feed: none where it would be less than nothing, and no more
    than a weak stock, both of which are told."""
    return max(0, min(MOST_RATE, rate)) if abs(rate) > NOTHING else 0


# what is said of it

SAID_FAULTY = "not checked: an entry above"
SAID_OWN = "stop: type a setting, the N of 1:N"
SAID_LEAD = "stop: choose from the list"
SAID_OPEN = "not given: what it is set by"
SAID_LACKS = "stop: it holds none of that"
SAID_NO_GOAL = "not given: that target"
SAID_ALIKE = "stop: stocks too alike"
SAID_BELOW = "stop: others bring too much"
SAID_WEAK = "stop: stock too weak"
SAID_IDLE = "not used: none is needed"


def stock_said(kind: Any) -> Any:
    """What is wrong with a stock's setting, beside it."""
    if kind == "" or kind == "set":
        return ""
    if kind == "faulty":
        return SAID_FAULTY
    if kind == "own":
        return SAID_OWN
    if kind == "lead":
        return SAID_LEAD
    if kind == "open":
        return SAID_OPEN
    if kind == "lacks":
        return SAID_LACKS
    if kind == "no goal":
        return SAID_NO_GOAL
    if kind == "alike":
        return SAID_ALIKE
    if kind == "below":
        return SAID_BELOW
    return SAID_WEAK if kind == "weak" else SAID_IDLE


def settings_verdict(kinds: Any, stocks: Any) -> Any:
    """Whether every stock's setting is found, the first that is not."""
    if among("own", kinds):
        return f"stop: the setting typed for {at('own', kinds, stocks)}; type the N of 1:N"
    if among("lead", kinds):
        return f"stop: what {at('lead', kinds, stocks)} is set by; choose from the list"
    if among("faulty", kinds):
        return BLANK
    if among("lacks", kinds):
        return (
            f"stop: {at('lacks', kinds, stocks)} holds none of what it is set by; choose what it "
            "holds, or type a setting"
        )
    if among("alike", kinds):
        return (
            "stop: two stocks are too alike in what they are set by; set them by what tells them "
            "apart, or type a setting for one"
        )
    if among("below", kinds):
        return (
            f"stop: {at('below', kinds, stocks)} is not needed, the others bring more than its "
            "target; take it out of them, or raise the target"
        )
    return more_of_settings(kinds, stocks)


@helper
def more_of_settings(kinds: Any, stocks: Any) -> Any:
    if among("weak", kinds):
        return (
            f"stop: {at('weak', kinds, stocks)} is more than a quarter of the feed; a stronger "
            "stock, or another target"
        )
    if among("open", kinds):
        return f"not given: what {at('open', kinds, stocks)} is set by; or type its setting"
    if among("no goal", kinds):
        return f"not given: the target that {at('no goal', kinds, stocks)} is set by; type it"
    if among("set", kinds):
        return "pass: every setting is found; those set by a target meet it"
    return "not used: no stock is needed; type products and targets"


@helper
def at(word: str, kinds: Any, stocks: Any) -> Any:
    return f"stock {nth(stocks, position(word, kinds))}"
