"""The words of the card of a line, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import after, before, begins, helper, is_error, is_number, shown
from tanksheet.tables import look_up
from tanksheet.templates.field_event.card_working import MASS_WORDS, STOP
from tanksheet.templates.field_event.time_working import VOLUME_WORDS
from tanksheet.templates.injector.working import FACTORS, NAMES
from tanksheet.templates.recipe.working import OWN_LABEL
from tanksheet.templates.series.mixing_working import FOOT

CARRY_ON = "go"


def card_state(overall: Any, count: Any) -> Any:
    """Whether the card says what to do, or only why not."""
    if is_error(overall) or is_error(count):
        return STOP
    if begins(overall, "stop") or begins(overall, "not used") or count <= 0:
        return STOP
    return CARRY_ON


def card_said(overall: Any) -> Any:
    """The verdict, unless all is well."""
    if is_error(overall):
        return "not checked: an entry is blank or no number"
    return "" if begins(overall, "pass") else overall


def if_on(words: str) -> Any:
    def said(state: Any) -> Any:
        return "" if state == STOP else words

    return said


def flow_words(edition: str) -> Any:
    """Flow and pressure before the first injector."""
    litre, unit = FACTORS[edition]["flow"], NAMES[edition]["flow"]

    def words(state: Any, flow: Any) -> Any:
        if state == STOP or not is_number(flow):
            return ""
        return f"{figure(flow / litre)} {unit}"

    return words


def shown_if_on(state: Any, said: Any) -> Any:
    if state == STOP or is_error(said):
        return ""
    return said


def there_if_on(state: Any, name: Any, setting: Any) -> Any:
    """A place of the line whose injector is set."""
    if state == STOP or not is_number(setting):
        return ""
    return name


def expected(state: Any, ec: Any, ph: Any) -> Any:
    """What a meter should read."""
    if state == STOP or not is_number(ec) or not is_number(ph):
        return ""
    return f"EC {shown(ec, 2)}, pH {shown(ph, 1)}"


def drawn_line(state: Any, percent: Any, drawn: Any) -> Any:
    """The other scale, and what the injector draws."""
    if state == STOP or percent == "":
        return ""
    return f"{percent}, draws {drawn}"


def stock_line(edition: str) -> Any:
    """What a product weighs in its stock, or measures if it is a liquid."""
    weight, measure = MASS_WORDS[edition], VOLUME_WORDS[edition]

    def said(state: Any, mass: Any, density: Any) -> Any:
        if state == STOP or is_error(mass) or is_error(density):
            return ""
        if mass <= 0:
            return ""
        return measure(mass / 1000 / density) if density > 0 else weight(mass / 1000)

    return said


def product_line(state: Any, product: Any, mass: Any) -> Any:
    if state == STOP or is_error(product) or is_error(mass):
        return ""
    return product if mass > 0 else ""


def into_stock(state: Any, stock: Any, mass: Any) -> Any:
    if state == STOP or is_error(stock) or is_error(mass):
        return ""
    return stock if mass > 0 else ""


@helper
def first_two(hazard: Any) -> Any:
    """The first two of the words for what a product does; its label has all."""
    rest = after(hazard, "; ")
    if rest == "":
        return hazard
    more = "" if after(rest, "; ") == "" else "; see its label"
    return f"{before(hazard, ';')}; {before(rest, ';')}{more}"


def hazard_line(state: Any, product: Any, mass: Any) -> Any:
    """What a product does to a person, in short."""
    if state == STOP or is_error(product) or is_error(mass):
        return ""
    if product == "" or mass <= 0:
        return ""
    if look_up("fertilizers", "basis", product) == OWN_LABEL:
        return "as its label says"
    return first_two(look_up("fertilizers", "hazard", product))


def mixed_words(edition: str) -> Any:
    """How far behind an injector a sample is mixed."""
    metre, unit = (FOOT, "ft") if edition == "us" else (1.0, "m")

    def words(state: Any, length: Any) -> Any:
        if state == STOP or not is_number(length):
            return ""
        return f"{figure(length / metre)} {unit}"

    return words
