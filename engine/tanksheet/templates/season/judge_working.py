"""The verdicts of a season, in the subset that compiles to formulas.

What mixes and line hold is judged with every product as strong as it gets in any week: more of a
salt never settles less. Acid is another thing, so that an uneven one is not judged.
"""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import (
    among,
    before,
    begins,
    dot,
    helper,
    is_error,
    is_number,
    nth,
    position,
    shown,
)
from tanksheet.templates.field_event.line_working import STRONG_EC, STRONGEST_EC
from tanksheet.templates.field_event.time_working import RATE_WORDS
from tanksheet.templates.recipe.cost_working import cost_verdict
from tanksheet.templates.recipe.feed_working import acidity_of_all, clearness_of_all
from tanksheet.templates.season.weeks_working import (
    EVEN,
    LEAST_KG,
    OFF,
    PPM,
    RATES,
    WATERS,
    off_kind_of,
    off_words,
)
from tanksheet.templates.working import BLANK

NOT_FED = "not used: no week is fed"
OPEN = "not checked: for some weeks nobody knows how long injecting takes; see their verdict above"
_priced = helper(cost_verdict)
_acidity, _clearness = helper(acidity_of_all), helper(clearness_of_all)
BY_AREA, BY_PLANT = (RATES[0], RATES[3]), (RATES[1], RATES[4])
DEPTHS = (WATERS[1], WATERS[3])


# the plan


def typed_rates(n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    """Above 0 where any rate is typed."""
    return dot(n, n) + dot(p, p) + dot(k, k) + dot(ca, ca) + dot(mg, mg)


def plan_verdict(
    typed: Any,
    rates_in: Any,
    water_in: Any,
    area: Any,
    plants: Any,
    soil: Any,
    lacking: Any,
    labels: Any,
    asked: Any,
) -> Any:
    if is_error(typed) or is_error(rates_in) or is_error(water_in) or is_error(asked):
        return BLANK
    if is_error(area) or is_error(plants) or is_error(soil):
        return BLANK
    if typed == 0:
        return "not used: no week asks for a nutrient; type rates on Plan"
    if area == "" and rates_in in BY_AREA:
        return "not given: the area; rates are typed by it"
    if plants == "" and rates_in in BY_PLANT:
        return "not given: how many plants there are; rates are typed by them"
    if area == "" and water_in in DEPTHS:
        return "not given: the area; water is typed as a depth on it"
    if area == "" and soil > 0:
        return "not given: the area; soil credits are typed by it"
    if rates_in == PPM and among("lacks", lacking):
        return (
            f"not given: the water of {nth(labels, position('lacks', lacking))}; its rates go by it"
        )
    return "pass: the plan is complete"


def soil_typed(n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    return n + p + k + ca + mg


# what arrives


def named(nutrient: str) -> Any:
    def name() -> Any:
        return nutrient

    return name


def total_off(asked: Any, need: Any, given: Any) -> Any:
    """Percent of the plan by which products are off; a blank where nothing is asked for."""
    return (given - need) / asked * 100 if asked > LEAST_KG else ""


def total_kind(nutrient: str) -> Any:
    """How bad it is; soil and water that bring more than is asked for are told of nitrogen only,
    which burns and leaches."""

    def of_nitrogen(off: Any, asked: Any, credits: Any) -> Any:
        if not is_number(off):
            return ""
        if off_kind_of(off) == "stop":
            return "stop"
        return "caution" if credits > asked * (1 + OFF / 100) else off_kind_of(off)

    def plain(off: Any, asked: Any, credits: Any) -> Any:
        return off_kind_of(off) if is_number(off) else ""

    return of_nitrogen if nutrient == "N" else plain


def total_said(off: Any, asked: Any, credits: Any) -> Any:
    """What is to be said of a nutrient, beside it."""
    if not is_number(off):
        return ""
    if off_kind_of(off) != "":
        return f"{off_kind_of(off)}: {off_words(off)}"
    if credits > asked * (1 + OFF / 100):
        return f"soil and water bring {figure(credits / asked * 100)} %"
    return ""


def first_off(kinds: Any, offs: Any) -> Any:
    """The first of the worst kind; 0 where nothing is off."""
    if among("stop", kinds):
        return nth(offs, position("stop", kinds))
    return nth(offs, position("caution", kinds)) if among("caution", kinds) else 0


def first_name(kinds: Any, names: Any) -> Any:
    """What that one is called, or a blank."""
    if among("stop", kinds):
        return nth(names, position("stop", kinds))
    return nth(names, position("caution", kinds)) if among("caution", kinds) else ""


def supply_verdict(
    plan: Any,
    kinds: Any,
    nutrient: Any,
    off_season: Any,
    judged: Any,
    week_name: Any,
    off_week: Any,
) -> Any:
    if is_error(plan) or is_error(off_season) or is_error(off_week):
        return BLANK
    if not begins(plan, "pass"):
        return "not used: the plan above is not complete"
    if among("stop", kinds):
        return f"stop: {of_season(nutrient, off_season)}"
    if among("stop", judged):
        return f"stop: {in_week(week_name, off_week)}"
    if among("caution", kinds):
        return f"caution: {of_season(nutrient, off_season)}"
    if among("caution", judged):
        return f"caution: {in_week(week_name, off_week)}"
    return f"pass: every nutrient within {shown(OFF, 0)} % of its plan, in every week"


@helper
def of_season(nutrient: Any, off: Any) -> Any:
    if abs(off) <= OFF:
        return f"soil and water bring more {nutrient} than is asked for; plan less of it"
    return (
        f"{nutrient} is {off_words(off)} over the season; change products, their order, shares or "
        "credits"
    )


@helper
def in_week(label: Any, off: Any) -> Any:
    return (
        f"a nutrient is {off_words(off)} in {label}; see Plan, and change products, shares or "
        "amounts by hand"
    )


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
            return (
                f"stop: {said(over)} asked in "
                f"{nth(labels, position('over', kinds))}, the injector gives {said(pump_most)}; "
                "smaller mixes, or inject for longer"
            )
        if among("under", kinds):
            return (
                f"stop: {said(under)} asked in "
                f"{nth(labels, position('under', kinds))}, the injector gives no less than "
                f"{said(pump_least)}; larger mixes, or inject for less long"
            )
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
            f"stop: up to {shown(most, 1)} g of product in each litre of the line, over 5, first in "
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
    if most == 0 or hydrogen == 0:
        return ""
    return "uneven" if least < EVEN * most else ""


def even_verdict(fed: Any, found: Any, products: Any) -> Any:
    if is_error(fed):
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


# products


def chosen_said(listed: Any, choice: Any, content: Any, typed: Any, dissolved: Any) -> Any:
    """What is wrong with a product, beside it."""
    if is_error(listed) or is_error(dissolved):
        return "stop: choose a product from the list"
    if listed == "":
        return ""
    if is_error(content):
        return "stop: choose a nutrient from the list"
    if is_error(typed):
        return "stop: choose mix A, B or C"
    if choice == "":
        return dissolved if begins(dissolved, "stop") else "not used but by hand"
    if content == 0:
        return f"stop: it holds no {choice}"
    return "" if begins(dissolved, "pass") else dissolved


def products_verdict(fed: Any, words: Any, products: Any) -> Any:
    """Whether each product can be used, and holds what it is chosen for."""
    if is_error(fed):
        return BLANK
    if among("stop", words):
        return (
            f"stop: {nth(products, position('stop', words))} cannot be used as it stands; the "
            "words beside it say why"
        )
    return NOT_FED if fed == 0 else "pass: every product holds what it is chosen for"


def first_word(said: Any) -> Any:
    return before(said, ":")


def cost_verdict_of(plan: Any, lacking: Any, ones: Any, used: Any, names: Any) -> Any:
    if is_error(plan):
        return BLANK
    if begins(plan, "not given"):
        return "not given: amounts to buy; the plan above lacks something"
    return _priced(lacking, ones, used, names)
