"""The working of the recipe workbook's cards and labels, in the subset that compiles.

What a card tells of a tank follows from the tank's state: "mix", "unused", "stop" for a tank that
must not be mixed, and "whole" for one that is fit by itself but belongs to a recipe that is not.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.sheets.measures import figure
from tanksheet.subset import (
    before,
    begins,
    count,
    floor,
    helper,
    is_error,
    is_number,
    nth,
    rounded,
    smallest,
)
from tanksheet.tables import look_up
from tanksheet.templates.recipe.reason_working import CAUTION, FAILED, NOTHING, UNCHECKED
from tanksheet.templates.recipe.working import OWN_LABEL
from tanksheet.templates.weight_working import in_gallons, in_litres, trimmed, volume_words

MIX, UNUSED, STOP, WHOLE = "mix", "unused", "stop", "whole"
# What a step is that puts no product in; products have the number of their row.
WATER, ACID_NEXT, FILL, SET = 100, 101, 102, 103
# Of the EC, in parts, and of the pH: how far a reading may be off before feeding stops. Common
# practice, no source: meters are good for about a half of it.
EC_BOUND, PH_BOUND = 0.10, 0.5
MOST_ON_SMALL_LABEL = 500  # litres


# words


def language_number(languages: tuple[str, ...]) -> Any:
    """The place of the chosen language among those of the table; the first where none is."""
    place, last = len(languages), languages[-1]
    if place == 1:

        @helper
        def first(chosen: Any) -> Any:
            return 1

        return first
    rest = language_number(languages[:-1])

    @helper
    def number(chosen: Any) -> Any:
        if is_error(chosen):
            return 1
        return place if chosen == last else rest(chosen)

    return number


def phrase(texts: tuple[str, ...]) -> Any:
    """Our words in the language whose number is chosen."""
    place, last = len(texts), texts[-1]
    if place == 1:

        @helper
        def first(number: Any) -> Any:
            return last

        return first
    rest = phrase(texts[:-1])

    @helper
    def words(number: Any) -> Any:
        return last if number == place else rest(number)

    return words


def typed_words(typed: Any) -> Any:
    """A name or a version as a person typed it; what is neither words nor a number is left out."""
    if is_error(typed):
        return ""
    if is_number(typed):
        return trimmed(typed)
    if typed == "":
        return ""
    return typed if before(typed, "¤") == typed else ""


def product_name(columns: tuple[str, ...]) -> Any:
    """A listed product's name on a card, short and in the language whose number is chosen."""
    place, column = len(columns), columns[-1]
    if place == 1:

        @helper
        def first(product: Any, number: Any) -> Any:
            return look_up("product_names", column, product)

        return first
    rest = product_name(columns[:-1])

    @helper
    def name(product: Any, number: Any) -> Any:
        if number == place:
            return look_up("product_names", column, product)
        return rest(product, number)

    return name


def named(columns: tuple[str, ...]) -> Any:
    listed = product_name(columns)

    def name(product: Any, number: Any) -> Any:
        if is_error(product):
            return ""
        if product == "":
            return ""
        own = look_up("fertilizers", "basis", product) == OWN_LABEL
        return product if own else listed(product, number)

    return name


def hazard_codes(product: Any) -> Any:
    """The codes of a product between strokes: signal, hazards, wear, first aid, spills; behind the
    last stands a point, since a code is found by there being something behind it."""
    if is_error(product):
        return ""
    if product == "":
        return ""
    if look_up("fertilizers", "basis", product) == OWN_LABEL:
        return "/own/wear_goggles/aid_eyes/."
    return (
        f"/{look_up('hazards', 'signal', product)}/{look_up('hazards', 'hazards', product)}"
        f"/{look_up('hazards', 'wear', product)}/{look_up('hazards', 'aid', product)}"
        f"/{look_up('hazards', 'spill', product)}/."
    )


# a tank


def state(clear: Any, overall: Any) -> Any:
    if is_error(clear):
        return STOP
    if begins(clear, "stop"):
        return STOP
    if begins(clear, "not used"):
        return UNUSED
    if is_error(overall):
        return WHOLE
    return WHOLE if begins(overall, "stop") else MIX


def one_if_used(state: Any) -> Any:
    return 0 if state == UNUSED else 1


def itself(number: Any) -> Any:
    return number


def card_number(used: Any, before: Any) -> Any:
    """Which card of the recipe it is, from whether its tank is used and the numbers before it."""
    return used + before


def reason(state: Any, worst: Any, reasons: Any, failed: Any, whole: Any) -> Any:
    """What speaks against a tank, or its cure from the list of cures; "" where nothing does."""
    if state == WHOLE:
        return whole
    if is_error(worst):
        return failed
    if worst == NOTHING or state == UNUSED:
        return ""
    if worst > FAILED:
        return failed
    return nth(reasons, worst - 100 * floor(worst / 100))


def verdict(
    state: Any,
    worst: Any,
    reason: Any,
    cure: Any,
    overall: Any,
    stopped: Any,
    unused: Any,
    caution: Any,
    unchecked: Any,
    open_words: Any,
    well: Any,
) -> Any:
    """The verdict of a card in its language."""
    if state == UNUSED:
        return unused
    if state != MIX:
        return f"{stopped}. {reason} {cure}"
    if worst > UNCHECKED and worst < NOTHING:
        return f"{unchecked}: {reason} {cure}"
    if worst > CAUTION and worst < NOTHING:
        return f"{caution}: {reason} {cure}"
    return f"{unchecked}: {open_words}" if begins(overall, "not") else well


# the order of addition


def order_code(letter: str, number: int) -> Any:
    """Acids first, then salts, liquids, chelates, each in the order of the list; blank if the
    product is not in this tank, or the tank is not to be mixed."""

    def code(state: Any, product: Any, tank: Any, grams: Any) -> Any:
        if state != MIX:
            return ""
        if product == "" or grams == 0:
            return ""
        if tank != letter:
            return ""
        kind = look_up("fertilizers", "kind", product)
        if kind == "acid":
            return 100 + number
        if kind == "salt":
            return 200 + number
        return 300 + number if kind == "liquid" else 400 + number

    return code


def how_many(codes: Any) -> Any:
    return count(codes)


def one_if_acid(codes: Any) -> Any:
    if count(codes) == 0:
        return 0
    return 1 if smallest(codes, 1) < 200 else 0


def place_in_list(rank: int) -> Any:
    """Number of the product that goes in as the rank-th, or a blank."""

    def place(codes: Any) -> Any:
        if count(codes) < rank:
            return ""
        code = smallest(codes, rank)
        return code - 100 * floor(code / 100)

    return place


def first_step() -> Any:
    def step(state: Any) -> Any:
        return WATER if state == MIX else ""

    return step


def step_at(number: int) -> Any:
    """What the number-th step is, from the second on: the row of a product or one of the codes."""
    earlier = number - 1

    def step(state: Any, products: Any, acid: Any, places: Any) -> Any:
        if state != MIX:
            return ""
        rank = earlier - acid
        if rank == 0:
            return ACID_NEXT
        if rank <= products:
            return nth(places, rank)
        if rank == products + 1:
            return FILL
        return SET if rank == products + 2 else ""

    return step


def line(step: Any, names: Any, water: Any, acid: Any, fill: Any, set_to: Any) -> Any:
    if step == "":
        return ""
    if step == WATER:
        return water
    if step == ACID_NEXT:
        return acid
    if step == FILL:
        return fill
    return set_to if step == SET else nth(names, step)


def dose(step: Any, weights: Any, half: Any, full: Any, setting: Any) -> Any:
    """The amount of a step, in one cell with its unit."""
    if step == "" or step == ACID_NEXT:
        return ""
    if step == WATER:
        return half
    if step == FILL:
        return full
    return setting if step == SET else nth(weights, step)


def set_words(letter: str) -> Any:
    def words(set_to: Any) -> Any:
        return f"{set_to} {letter}"

    return words


def half_in(edition: str) -> Any:
    """Half a tank, to a mark that its scale has: litres, or half gallons from below."""
    if edition == "metric":

        def litres(tank: Any) -> Any:
            if is_error(tank):
                return ""
            return in_litres(rounded(tank / 2, 0) if tank >= 20 else rounded(tank / 2, 1))

        return litres

    def gallons(tank: Any) -> Any:
        if is_error(tank):
            return ""
        halves = floor(convert(tank, "L", "gal") + 0.01)
        return in_gallons(convert(halves / 2, "gal", "L"))

    return gallons


def full_in(scale: str) -> Any:
    def full(tank: Any) -> Any:
        return "" if is_error(tank) else volume_words(tank, scale)

    return full


def setting_words(ratio: Any) -> Any:
    return "" if is_error(ratio) else f"1 : {figure(ratio)}"
