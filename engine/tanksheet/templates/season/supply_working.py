"""Whether a season's plan is complete, and what arrives of it; in the subset that compiles to
formulas."""

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
    rounded,
    shown,
)
from tanksheet.templates.recipe.cost_working import cost_verdict
from tanksheet.templates.season.runs_working import OFF, off_kind_of, off_words
from tanksheet.templates.season.weeks_working import LEAST_KG, PPM, RATES, WATERS
from tanksheet.templates.working import BLANK

NOT_FED = "not used: no week is fed"
_priced = helper(cost_verdict)
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
    return rounded((given - need) / asked * 100, 9) if asked > LEAST_KG else ""


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


# products


def chosen_said(
    listed: Any, choice: Any, content: Any, typed: Any, strength: Any, dissolved: Any
) -> Any:
    """What is wrong with a product, beside it."""
    if is_error(listed) or is_error(dissolved):
        return "stop: choose a product from the list"
    if listed == "":
        return ""
    if is_error(content):
        return "stop: choose a nutrient from the list"
    if is_error(typed):
        return "stop: choose mix A, B or C"
    if is_error(strength):
        return "not checked: its amounts; see Plan"
    if choice == "":
        return dissolved if begins(dissolved, "stop") else "not used but by hand"
    if content == 0:
        return f"stop: it holds no {choice}"
    return "" if begins(dissolved, "pass") else dissolved


def products_verdict(fed: Any, words: Any, products: Any) -> Any:
    """Whether each product can be used, and holds what it is chosen for."""
    if among("stop", words):
        return (
            f"stop: {nth(products, position('stop', words))} cannot be used as it stands; the "
            "words beside it say why"
        )
    if is_error(fed):
        return BLANK
    return NOT_FED if fed == 0 else "pass: every product holds what it is chosen for"


def first_word(said: Any) -> Any:
    return before(said, ":")


def cost_verdict_of(plan: Any, lacking: Any, ones: Any, used: Any, names: Any) -> Any:
    if is_error(plan):
        return BLANK
    if begins(plan, "not given"):
        return "not given: amounts to buy; the plan above lacks something"
    return _priced(lacking, ones, used, names)
