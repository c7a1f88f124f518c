"""The verdicts on a season's runs, mixes and line, in the subset that compiles to formulas.

What mixes and line hold is judged with every product as strong as it gets in any week: more of a
salt never settles less. Acid is another thing, so that an uneven one is not judged.
"""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import among, helper, is_error, nth, position, shown
from tanksheet.templates.field_event.line_working import STRONG_EC, STRONGEST_EC
from tanksheet.templates.field_event.time_working import RATE_WORDS
from tanksheet.templates.recipe.feed_working import acidity_of_all, clearness_of_all
from tanksheet.templates.season.runs_working import EVEN
from tanksheet.templates.season.supply_working import NOT_FED
from tanksheet.templates.working import BLANK

OPEN = "not checked: for some weeks nobody knows how long injecting takes; see their verdict above"
_acidity, _clearness = helper(acidity_of_all), helper(clearness_of_all)


# the clock and the injectors


def time_verdict(fed: Any, kinds: Any, labels: Any) -> Any:
    if is_error(fed):
        return BLANK
    if fed == 0:
        return NOT_FED
    if among("none", kinds):
        return (
            f"stop: {nth(labels, position('none', kinds))} leaves no time between filling and "
            "flushing; fewer events, or more water"
        )
    if among("long", kinds):
        return (
            f"stop: injecting takes longer than {nth(labels, position('long', kinds))} leaves; "
            "inject faster, or fewer events"
        )
    if among("open", kinds):
        return (
            f"not given: the water of {nth(labels, position('open', kinds))}; how long it runs is "
            "not known"
        )
    return "pass: every week has time to fill, inject and flush"


def first_with(word: str) -> Any:
    """The number beside a word's first place; 0 without one."""

    def number(kinds: Any, numbers: Any) -> Any:
        return nth(numbers, position(word, kinds)) if among(word, kinds) else 0

    return number


def pump_verdict(edition: str) -> Any:
    said = RATE_WORDS[edition]

    def verdict(
        fed: Any,
        kinds: Any,
        labels: Any,
        over: Any,
        under: Any,
        pump_most: Any,
        pump_least: Any,
        most: Any,
    ) -> Any:
        if is_error(fed) or is_error(pump_most) or is_error(pump_least) or is_error(most):
            return BLANK
        if fed == 0:
            return NOT_FED
        if among("over", kinds):
            asked = f"{said(over)} asked in {nth(labels, position('over', kinds))}"
            return f"stop: {asked}, the injector gives {said(pump_most)}; inject for longer"
        if among("under", kinds):
            asked = f"{said(under)} asked in {nth(labels, position('under', kinds))}"
            return f"stop: {asked}, no less than {said(pump_least)} can be set; larger mixes"
        if among("open", kinds):
            return OPEN
        if pump_most == "":
            return f"not given: the most that an injector gives; {said(most)} are asked of it"
        if pump_least == "":
            return "not given: the least that an injector gives; 0 if it has none"
        if among("near", kinds):
            return (
                f"caution: {said(most)} of at most {said(pump_most)}: near its limit; inject "
                "for longer"
            )
        return f"pass: {said(most)} of at most {said(pump_most)}"

    return verdict


def strength_verdict(fed: Any, kinds: Any, labels: Any, most: Any) -> Any:
    if is_error(fed) or is_error(most):
        return BLANK
    if fed == 0:
        return NOT_FED
    if among("stop", kinds):
        return (
            f"stop: up to {shown(most, 1)} g of product in each litre of the line, over 5, in "
            f"{nth(labels, position('stop', kinds))}: roots and leaves burn; inject longer, or "
            "more events"
        )
    if among("open", kinds):
        return OPEN
    if among("caution", kinds):
        return (
            f"caution: {shown(most, 1)} g of product in each litre of the line, over 2; inject "
            "longer, or more events"
        )
    return f"pass: at most {shown(most, 1)} g of product in each litre of the line"


# mixes and line


def uneven(hydrogen: Any, most: Any, least: Any) -> Any:
    """ "uneven" for an acid or an alkali of which some weeks get clearly less than others."""
    if is_error(hydrogen) or is_error(most) or is_error(least):
        return "faulty"
    if most == 0 or hydrogen == 0:
        return ""
    return "uneven" if least < EVEN * most else ""


def even_verdict(fed: Any, found: Any, products: Any) -> Any:
    if is_error(fed):
        return BLANK
    if among("faulty", found):
        return BLANK
    if fed == 0:
        return NOT_FED
    if among("uneven", found):
        return (
            f"not checked: weeks with less {nth(products, position('uneven', found))}: acid "
            "changes what settles; the workbook recipe or field-event judges such a week"
        )
    return "pass: acid is the same in every week, or there is none"


def higher_ph(line_ph: Any, water_ph: Any) -> Any:
    """The pH at which settling is judged: some weeks may have little that lowers it."""
    return max(line_ph, water_ph)


def acidity_verdict(fed: Any, timed: Any, said: Any, unsure: Any) -> Any:
    if is_error(fed):
        return BLANK
    if fed == 0:
        return NOT_FED
    if among("open", timed) or among("none", timed):
        return OPEN
    return _acidity(said, unsure)


def clear_verdict(fed: Any, timed: Any, said: Any, unsure: Any, gap: Any) -> Any:
    if is_error(fed):
        return BLANK
    if fed == 0:
        return NOT_FED
    if among("open", timed) or among("none", timed):
        return OPEN
    return _clearness(said, unsure, gap)


def ec_verdict(fed: Any, timed: Any, ec_feed: Any, unsure: Any) -> Any:
    if is_error(fed) or is_error(ec_feed) or is_error(unsure):
        return BLANK
    if fed == 0:
        return NOT_FED
    if among("open", timed) or among("none", timed):
        return OPEN
    told = f"EC up to {figure(ec_feed)} mS/cm while injecting"
    if ec_feed > STRONGEST_EC:
        return f"stop: {told}, over 6: roots and leaves burn; inject longer, or more events"
    if ec_feed > STRONG_EC:
        return f"caution: {told}, over 3: harms salt-sensitive crops; inject longer"
    if unsure != "":
        return f"not checked: nobody gave the ions of {unsure}; measure the EC in the line"
    return f"pass: {told}"
