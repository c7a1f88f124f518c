"""What meets what along the line: each stock as it enters, and the feed between and behind them; in
the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import (
    begins,
    floor,
    helper,
    is_error,
    nth,
    position,
    shown,
    smallest,
)
from tanksheet.templates.field_event.line_working import STRONG_EC, STRONGEST_EC
from tanksheet.templates.recipe.feed_working import acidity_of_all, clearness_of_all
from tanksheet.templates.recipe.reason_working import CAUTION, NOTHING, UNCHECKED
from tanksheet.templates.working import BLANK

# Of a stock where it enters: the middle between the stock and the feed, ten times thinner than one
# and about ten times stronger than the other. Common practice, no source.
ENTERING = 0.1
TIE = 1e-6
OPEN = "not checked: a setting is not found; see the lines above"
LATE_SILICATE = 1000
WORSE = 50  # beyond what indices alone make of two scores: a step of a verdict counts a hundred
_acidity, _clearness = helper(acidity_of_all), helper(clearness_of_all)


# lines with some of the stocks


def none_of() -> Any:
    return 0


def two_of(a: Any, b: Any) -> Any:
    return a + b


def three_of(a: Any, b: Any, c: Any) -> Any:
    return a + b + c


def four_of(a: Any, b: Any, c: Any, d: Any) -> Any:
    return a + b + c + d


def beyond(hydrogen: Any, carbonate: Any) -> Any:
    """Acid that the carbonate of the line leaves, mmol/L."""
    return max(0, hydrogen - carbonate)


def carbonate_left(left: Any) -> Any:
    return max(0, left)


def badness(clear: Any, lime: Any, phosphate: Any, counts: Any) -> Any:
    """How bad a line is: a hundred for each step of its verdict, and its worst index; 0 for one
    that no order can change."""
    if counts == 0:
        return 0
    index = max(-9, min(9, max(lime, phosphate)))
    if begins(clear, "stop"):
        return 200 + index
    return 100 + index if begins(clear, "caution") else index


def some_but_not_all(count_here: Any, count_all: Any) -> Any:
    return 1 if count_here > 0 and count_here < count_all else 0


def score_of(bad_1: Any, bad_2: Any, count_1: Any, count_2: Any, late: Any) -> Any:
    """Of an order, by the lines behind its first and its second stock; one that is not used makes
    no line of its own."""
    return bad_1 + late + bad_2 if count_2 > count_1 else bad_1 + late


def word_if_best(score: Any, scores: Any) -> Any:
    return "best" if score <= smallest(scores, 1) + TIE else ""


def of_order(order: Any, orders: Any, column: Any) -> Any:
    return nth(column, position(order, orders))


def best_order(best: Any, orders: Any) -> Any:
    return nth(orders, position("best", best))


def first_sour(best: Any, acid_a: Any, acid_b: Any, acid_c: Any) -> Any:
    """Acid of the stock that comes first, mmol/L."""
    if begins(best, "A"):
        return acid_a
    return acid_b if begins(best, "B") else acid_c


def silicate_first(
    count_1: Any, count_2: Any, silicate_1: Any, silicate_2: Any, silicate_3: Any
) -> Any:
    """What is to be added to the score of an order in which silicate is not the first to enter."""
    if silicate_1 + silicate_2 + silicate_3 == 0:
        return 0
    if count_1 > 0:
        return 0 if silicate_1 > 0 else LATE_SILICATE
    if count_2 > 0:
        return 0 if silicate_2 > 0 else LATE_SILICATE
    return 0 if silicate_3 > 0 else LATE_SILICATE


def reason_of(sour: Any, silicate_a: Any, silicate_b: Any, silicate_c: Any) -> Any:
    """Why the best order is so."""
    if silicate_a + silicate_b + silicate_c > 0:
        return "silicate enters first, before what turns it to gel"
    if sour > 0:
        return "acid first takes away what throws down lime and phosphate"
    return "the pipe between them stays clearest so"


def order_verdict(
    count: Any, order: Any, score: Any, lowest: Any, best: Any, why: Any, unsure: Any
) -> Any:
    if is_error(unsure) or is_error(order) or is_error(score) or is_error(lowest):
        return BLANK
    if is_error(count) or is_error(why):
        return BLANK
    if count < 0:
        return OPEN
    if count < 2:
        return "not used: one stock alone has no order"
    if unsure != "":
        return f"not checked: nobody gave the ions of {unsure}; which goes first is not judged"
    if score > lowest + WORSE:
        return f"caution: {best} is a better order than {order}; {why}"
    if score > lowest + TIE:
        return f"pass: the order {order} does; {best} would keep a little further from settling"
    return f"pass: the order {order}; {why}"


# a stock as it enters


def meeting(stock: Any, line: Any) -> Any:
    """mmol/L where one part of stock is in nine of the line."""
    return ENTERING * stock + (1 - ENTERING) * line


def before_row(place: Any, place_a: Any, place_b: Any, place_c: Any) -> Any:
    """The row of the line with the stocks that stand before a place."""
    first = 1 if place_a < place else 0
    second = 2 if place_b < place else 0
    third = 4 if place_c < place else 0
    return 1 + first + second + third


def through_row(place: int) -> Any:
    """The row of the line behind a place."""

    def row(place_a: Any, place_b: Any, place_c: Any) -> Any:
        first = 1 if place_a <= place else 0
        second = 2 if place_b <= place else 0
        third = 4 if place_c <= place else 0
        return 1 + first + second + third

    return row


def of_line(column: Any, row: Any) -> Any:
    return nth(column, row)


def enters_verdict(dangerous: int) -> Any:
    """``dangerous`` is how many of the rules, the first of them, are about poison."""

    def verdict(
        count: Any, state: Any, kind: Any, worst: Any, names: Any, unsure: Any, before: Any
    ) -> Any:
        if is_error(count) or is_error(state) or is_error(worst) or is_error(unsure):
            return BLANK
        if state == "" or kind == "idle":
            return "not used"
        if count < 0:
            return OPEN
        if worst == NOTHING:
            if unsure != "":
                return f"not checked: nobody gave the ions of {unsure}; try a jar first"
            return "pass: one part in nine of the line, nothing settles or reacts"
        clash = nth(names, worst - 100 * floor(worst / 100))
        if worst > UNCHECKED:
            return f"not checked: {clash}; mend what shows an error"
        if worst - 100 * floor(worst / 100) <= dangerous:
            return f"{word_of(worst)}: {clash}, poisonous gas{where(before)}; never on one line"
        return (
            f"caution: {clash}{where(before)}, while it mixes; another order, a weaker stock, or "
            "watch the pipe behind it and flush it"
        )

    return verdict


@helper
def word_of(rank: Any) -> Any:
    return "stop" if rank < CAUTION else "caution"


@helper
def where(before: Any) -> Any:
    return ", as it enters the water" if before == 1 else ", as it enters what is in the line"


def between_verdict(
    count: Any, state: Any, follows: Any, clear: Any, acid: Any, unsure: Any
) -> Any:
    """The line behind one stock and before another."""
    if is_error(count) or is_error(state):
        return BLANK
    if is_error(follows) or is_error(clear) or is_error(acid) or is_error(unsure):
        return BLANK
    if state == "" or follows == 0:
        return "not used"
    if count < 0:
        return OPEN
    if begins(clear, "stop"):
        return clear
    if begins(acid, "stop"):
        return acid
    if unsure != "" and begins(clear, "pass"):
        return f"not checked: nobody gave the ions of {unsure}; try a jar first"
    return clear


def follows(count_all: Any, count_through: Any) -> Any:
    """How many stocks come behind a place."""
    return count_all - count_through


# the feed


def ec_verdict(count: Any, ec: Any, unsure: Any) -> Any:
    if is_error(ec) or is_error(unsure) or is_error(count):
        return BLANK
    if count == 0:
        return "not used"
    if count < 0:
        return OPEN
    told = f"EC {shown(ec, 2)} mS/cm"
    if ec > STRONGEST_EC:
        return f"stop: {told}, over 6: roots and leaves burn; lower targets"
    if ec > STRONG_EC:
        return f"caution: {told}, over 3: harms salt-sensitive crops; lower targets"
    if unsure != "":
        return f"not checked: nobody gave the ions of {unsure}; measure the EC"
    return f"pass: {told}"


def targets_or_none(count: Any, said: Any) -> Any:
    """What is said of the targets, once a stock is used."""
    if is_error(count):
        return BLANK
    if count < 0:
        return OPEN
    return "not used" if count == 0 else said


def lowest_of(scores: Any) -> Any:
    return smallest(scores, 1)


def named(word: str) -> Any:
    """A word in a cell."""

    def name() -> Any:
        return word

    return name


def alkali_of_line(hydrogen: Any, row: Any) -> Any:
    return max(0, -nth(hydrogen, row))


def acidity_of_feed(count: Any, said: Any, unsure: Any) -> Any:
    if is_error(count) or is_error(said) or is_error(unsure):
        return BLANK
    if count < 0:
        return OPEN
    return "not used" if count == 0 else _acidity(said, unsure)


def clearness_of_feed(count: Any, said: Any, unsure: Any, gap: Any) -> Any:
    if is_error(count) or is_error(said) or is_error(unsure):
        return BLANK
    if count < 0:
        return OPEN
    return "not used" if count == 0 else _clearness(said, unsure, gap)
