"""How a season's weeks are injected, how far off they are, and what is said of them; in the subset
that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.field import injection_rate
from tanksheet.subset import dot, floor, helper, is_error, is_number, nth, rounded, shown, smallest
from tanksheet.templates.recipe.working import is_words
from tanksheet.templates.season.weeks_working import LEAST_KG, MOST_MASS, POUND, WEEKS

# Hours less than which are rounding noise.
GRAIN = 1e-6
# Percent by which a nutrient may be off without a word, and up to which it is a caution; and the
# share of its strongest week that an acid must have in the weakest. Common practice, no source.
OFF, FAR_OFF = 10, 50
EVEN = 0.8


# what is injected, and how


def stock_of(
    masses: Any, in_a: Any, in_b: Any, in_c: Any, tank_a: Any, tank_b: Any, tank_c: Any
) -> Any:
    """Litres of the largest mix of a week; each is made up to the mark and has its own injector."""
    first = tank_a if dot(masses, in_a) > 0 else 0
    second = tank_b if dot(masses, in_b) > 0 else 0
    third = tank_c if dot(masses, in_c) > 0 else 0
    return max(first, second, third)


def least_stock(
    masses: Any, in_a: Any, in_b: Any, in_c: Any, tank_a: Any, tank_b: Any, tank_c: Any
) -> Any:
    """Litres of the smallest one, 0 for none."""
    if dot(masses, masses) == 0:
        return 0
    most = max(tank_a, tank_b, tank_c)
    first = tank_a if dot(masses, in_a) > 0 else most
    second = tank_b if dot(masses, in_b) > 0 else most
    third = tank_c if dot(masses, in_c) > 0 else most
    return min(first, second, third)


def run_of(water: Any, events: Any, flow: Any) -> Any:
    """Hours that an event runs, from its water."""
    return water * 1000 / events / (flow * 60) if is_number(water) else ""


def inject_of(run: Any, fill_time: Any, flush_time: Any, inject_time: Any) -> Any:
    """Hours of injecting: as typed, else all that filling and flushing leave; or a blank."""
    if inject_time != "":
        return inject_time
    if not is_number(run):
        return ""
    return run - fill_time - flush_time if run - fill_time - flush_time > GRAIN else ""


def time_kind(fed: Any, run: Any, fill_time: Any, flush_time: Any, inject: Any) -> Any:
    """ "open" where the run is not known, "none" where nothing is left to inject in, "long" where
    injecting takes more than that; else a blank."""
    if fed == 0:
        return ""
    if not is_number(run):
        return "open"
    if run - fill_time - flush_time <= GRAIN:
        return "none"
    if not is_number(inject):
        return "none"
    return "long" if inject > run - fill_time - flush_time + GRAIN else ""


def draw_of(stock: Any, inject: Any) -> Any:
    """L/h of stock; a blank where nothing is injected or nobody knows for how long."""
    if stock == 0 or not is_number(inject):
        return ""
    return injection_rate(stock, 1, inject)


def number_or_none(draw: Any) -> Any:
    return draw if is_number(draw) else 0


def pump_kind(fed: Any, most: Any, least: Any, pump_most: Any, pump_least: Any) -> Any:
    """ "over" and "under" what the injector gives, "near" its most, "open" where nobody knows; else
    a blank."""
    if fed == 0:
        return ""
    if not is_number(most):
        return "open"
    if is_number(pump_most):
        if most > pump_most * (1 + GRAIN):
            return "over"
    if is_number(pump_least) and is_number(least):
        if least < pump_least * (1 - GRAIN):
            return "under"
    if is_number(pump_most):
        if most > 0.9 * pump_most:
            return "near"
    return ""


def in_line(mass: Any, flow: Any, inject: Any) -> Any:
    """Grams of a product in a litre of the line while it is injected; 0 where nobody knows for how
    long, which is told elsewhere."""
    return mass * 1000 / (flow * 60 * inject) if is_number(inject) else 0


def line_kind(strongest: float, strong: float) -> Any:
    def kind(fed: Any, inject: Any, grams: Any) -> Any:
        if fed == 0:
            return ""
        if not is_number(inject):
            return "open"
        if grams > strongest:
            return "stop"
        return "caution" if grams > strong else ""

    return kind


def sum_of_six(a: Any, b: Any, c: Any, d: Any, e: Any, f: Any) -> Any:
    return a + b + c + d + e + f


def sum_of_five(n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    return n + p + k + ca + mg


# how far off a week is


@helper
def percent_off(asked: Any, need: Any, given: Any) -> Any:
    """Percent of what is asked for by which products bring too much or too little."""
    return rounded((given - need) / asked * 100, 9) if asked > LEAST_KG else 0


def off_of(asked: Any, need: Any, given: Any) -> Any:
    return percent_off(asked, need, given)


def farthest(n: Any, p: Any, k: Any, ca: Any, mg: Any) -> Any:
    """The one of five that is farthest from 0, with its sign."""
    most = max(n, p, k, ca, mg)
    least = min(n, p, k, ca, mg)
    return most if most >= -least else least


@helper
def off_kind_of(off: Any) -> Any:
    if abs(off) > FAR_OFF + GRAIN:
        return "stop"
    return "caution" if abs(off) > OFF + GRAIN else ""


def off_kind(off: Any) -> Any:
    return off_kind_of(off)


def most_of(column: Any) -> Any:
    """The largest number of a column of weeks."""
    return smallest(column, WEEKS)


def least_fed(column: Any, fed: Any) -> Any:
    """The smallest among as many of the largest as there are weeks that are fed."""
    weeks = dot(fed, fed)
    return smallest(column, WEEKS - weeks + 1) if weeks > 0 else 0


def in_grams(kilograms: Any) -> Any:
    return kilograms * 1000


# the week that is shown, and words beside each week


def label_of(number: int) -> Any:
    plain = f"week {number}"

    def label(name: Any) -> Any:
        if not is_words(name):
            return plain
        return plain if name == "" else f"{plain}, {name}"

    return label


def week_number(typed: Any) -> Any:
    return floor(typed)


def of_week(column: Any, week: Any) -> Any:
    return nth(column, week)


@helper
def off_words(off: Any) -> Any:
    word = "over" if off > 0 else "short"
    return f"{shown(abs(off), 0)} % {word}"


def week_said(
    events: Any,
    water: Any,
    asked: Any,
    masses: Any,
    timed: Any,
    pumped: Any,
    lined: Any,
    judged: Any,
    off: Any,
) -> Any:
    """What is wrong with a week, beside it."""
    if is_error(events) or is_error(water) or is_error(asked):
        return "stop: type a number"
    if is_error(masses) or is_error(timed):
        return "not checked: see Season"
    if is_error(pumped) or is_error(lined) or is_error(off):
        return "not checked: see Season"
    if timed == "none":
        return "stop: the run is too short"
    if timed == "long":
        return "stop: injecting too long"
    if pumped == "over":
        return "stop: injector too small"
    if pumped == "under":
        return "stop: injector too large"
    if lined == "stop":
        return "stop: line too strong"
    if judged == "stop":
        return f"stop: a nutrient {off_words(off)}"
    if judged == "caution":
        return f"caution: a nutrient {off_words(off)}"
    if lined == "caution":
        return "caution: line strong"
    if pumped == "near":
        return "caution: injector near limit"
    return "not given: its water" if timed == "open" else ""


@helper
def is_no_mass(typed: Any) -> Any:
    if is_error(typed):
        return True
    if typed == "":
        return False
    if not is_number(typed):
        return True
    return typed < 0 or typed > MOST_MASS


def hand_said(one: Any, two: Any, three: Any, four: Any, five: Any, six: Any) -> Any:
    """Whether a week's amounts by hand can be read, beside them."""
    if is_no_mass(one) or is_no_mass(two) or is_no_mass(three):
        return "stop: type a number"
    if is_no_mass(four) or is_no_mass(five) or is_no_mass(six):
        return "stop: type a number"
    return ""


def units_said(rates_in: Any, water_in: Any) -> Any:
    if is_error(rates_in) or is_error(water_in):
        return "mend the units of rates and water on Season"
    water = "inches" if water_in == "in" else water_in
    return f"Rates in {rates_in}, water in {water}"


def name_or_blank(product: Any) -> Any:
    """A product's name over its column."""
    if not is_words(product):
        return ""
    return "" if product == "" else product


def mass_in(pounds: bool) -> Any:
    """Kilograms in the unit of an edition."""

    def kilograms(mass: Any) -> Any:
        return mass

    def as_pounds(mass: Any) -> Any:
        return mass / POUND

    return as_pounds if pounds else kilograms
