"""The working of what stands on cards and labels besides the steps: hazards, what to expect, when
to stop, what a label lists."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import after, floor, helper, is_error, is_number, nth, shown, smallest
from tanksheet.templates.recipe.card_working import (
    EC_BOUND,
    MIX,
    MOST_ON_SMALL_LABEL,
    PH_BOUND,
    SET,
    STOP,
    UNUSED,
    WHOLE,
)
from tanksheet.templates.weight_working import volume_words

MORE = "more"  # the steps of a tank go on on a second page
LINES = 5  # products that a label lists with their amounts


@helper
def unless_set(step: Any, words: Any) -> Any:
    """A step before the pause: the setting of the injector stands below it."""
    return "" if step == SET else words


def if_mix(state: Any, word: Any) -> Any:
    return word if state == MIX else ""


def if_filled(text: Any, word: Any) -> Any:
    return "" if text == "" else word


def unless_filled(text: Any, word: Any) -> Any:
    return word if text == "" else ""


def in_short(state: Any, wear: Any, verdict: Any) -> Any:
    """What to wear for a tank, or why it is not mixed."""
    return wear if state == MIX else verdict


# hazards


def joined(number: int) -> Any:
    """The texts of a column's first ``number`` cells in one."""

    if number == 1:

        @helper
        def first(texts: Any) -> Any:
            return nth(texts, 1)

        return first
    rest = joined(number - 1)

    @helper
    def all_of(texts: Any) -> Any:
        return f"{rest(texts)}{nth(texts, number)}"

    return all_of


def in_tank(code: Any, hazards: Any) -> Any:
    """The codes of a product that goes into the tank."""
    return "" if code == "" else hazards


def told(keys: tuple[str, ...], places: tuple[int, ...]) -> Any:
    """The words of those codes that a tank has, worst first; ``places`` are the words' own."""
    sign, place = f"/{keys[-1]}/", places[-1]

    @helper
    def piece(codes: Any, words: Any) -> Any:
        return "" if after(codes, sign) == "" else f" {nth(words, place)}"

    if len(keys) == 1:
        return piece
    rest = told(keys[:-1], places[:-1])

    @helper
    def all_of(codes: Any, words: Any) -> Any:
        return f"{rest(codes, words)}{piece(codes, words)}"

    return all_of


def behind_blank(told: Any) -> Any:
    """The words of a tank's codes, each of which brings a blank, without the first of these."""
    return after(told, " ")


def signal(codes: Any, danger: Any, warning: Any, unknown: Any) -> Any:
    """The worst signal word of a tank's products; that of an own product nobody gave."""
    if after(codes, "/danger/") != "":
        return danger
    if after(codes, "/warning/") != "":
        return warning
    return "" if after(codes, "/own/") == "" else unknown


def bar(state: Any, signal: Any, stopped: Any) -> Any:
    if state == STOP or state == WHOLE:
        return stopped
    return "" if state == UNUSED else signal


def wear(codes: Any, shield: Any, mask: Any, goggles: Any) -> Any:
    """The most that a product of the tank asks for."""
    if codes == "":
        return ""
    if after(codes, "/wear_shield/") != "":
        return shield
    return goggles if after(codes, "/wear_mask/") == "" else mask


# the lines of a card


def words_or_reason(state: Any, words: Any, reason: Any, unused: Any) -> Any:
    if state == MIX:
        return words
    return unused if state == UNUSED else reason


def words_or_cure(state: Any, words: Any, cure: Any) -> Any:
    if state == MIX:
        return words
    return "" if state == UNUSED else cure


def boxed(state: Any, verdict: Any, well: Any) -> Any:
    """What a card says between hazards and steps: nothing where all is well."""
    if state != MIX or verdict == well:
        return ""
    return verdict


def who(version_word: Any, version: Any, card: Any, number: Any, of: Any, cards: Any) -> Any:
    """Version and number of a card; ``number`` is 0 where the tank is not used."""
    if version == "":
        return f"{card} {shown(number, 0)} {of} {shown(cards, 0)}"
    return f"{version_word} {version}, {card} {shown(number, 0)} {of} {shown(cards, 0)}"


def who_on_label(name: Any, version_word: Any, version: Any) -> Any:
    if version == "":
        return name
    return f"{version_word} {version}" if name == "" else f"{name}, {version_word} {version}"


def title(letter: str) -> Any:
    def words(tank: Any) -> Any:
        return f"{tank} {letter}"

    return words


# what to expect


def ending(on_a_page: int) -> Any:
    """Whether a card ends on its first page, with what to expect, or goes on: water, perhaps the
    word before acids, the products and the mark are the steps before the pause."""

    def words(state: Any, products: Any, acid: Any) -> Any:
        if state != MIX:
            return ""
        return MORE if products + acid + 2 > on_a_page else MIX

    return words


def going_on(ending: Any, words: Any, stir: Any) -> Any:
    if ending == "":
        return ""
    return words if ending == MORE else stir


def number_words(unit: str) -> Any:
    """A number with its unit, "?" for one that could not be worked out."""

    def words(ending: Any, number: Any) -> Any:
        if ending != MIX:
            return ""
        if is_error(number):
            return "?"
        return f"{figure(number)}{unit}" if is_number(number) else "?"

    return words


def ph_words(ending: Any, ph: Any) -> Any:
    if ending != MIX:
        return ""
    if is_error(ph):
        return "?"
    return shown(ph, 1) if is_number(ph) else "?"


def ec_bounds(ending: Any, ec: Any, outside: Any, to: Any, stop: Any, none: Any) -> Any:
    """Between which readings a feed may be used."""
    if ending != MIX:
        return ""
    if is_error(ec):
        return none
    if not is_number(ec):
        return none
    low = ec * (1 - EC_BOUND)
    return f"{outside} {figure(low)} {to} {figure(ec * (1 + EC_BOUND))}. {stop}"


def ph_bounds(ending: Any, ph: Any, outside: Any, to: Any, stop: Any, none: Any) -> Any:
    if ending != MIX:
        return ""
    if is_error(ph):
        return none
    if not is_number(ph):
        return none
    return f"{outside} {shown(ph - PH_BOUND, 1)} {to} {shown(ph + PH_BOUND, 1)}. {stop}"


def feed_words(scale: str) -> Any:
    """How much feed a fill makes."""

    def words(ending: Any, tank: Any, ratio: Any) -> Any:
        if ending != MIX:
            return ""
        if is_error(tank) or is_error(ratio):
            return "?"
        return volume_words(tank * ratio, scale)

    return words


# the second page


def goes_on(ending_a: Any, ending_b: Any, ending_c: Any) -> Any:
    """The tank whose steps go on; of twelve products only one tank can have so many."""
    if ending_a == MORE:
        return "A"
    if ending_b == MORE:
        return "B"
    return "C" if ending_c == MORE else ""


def second_state(letter: Any) -> Any:
    return UNUSED if letter == "" else MIX


def of_tank(letter: Any, in_a: Any, in_b: Any, in_c: Any) -> Any:
    if letter == "A":
        return in_a
    if letter == "B":
        return in_b
    return in_c if letter == "C" else ""


def second_step(
    letter: Any,
    step_a: Any,
    step_b: Any,
    step_c: Any,
    in_a: Any,
    in_b: Any,
    in_c: Any,
) -> Any:
    """A step of the second page, the setting of the injector left for below the pause."""
    if letter == "A":
        return unless_set(step_a, in_a)
    if letter == "B":
        return unless_set(step_b, in_b)
    return unless_set(step_c, in_c) if letter == "C" else ""


def second_title(letter: Any, tank: Any, page: Any) -> Any:
    return page if letter == "" else f"{tank} {letter}, {page}"


# all tanks on one page


def code_of_all(in_a: Any, in_b: Any, in_c: Any) -> Any:
    """A product's place among those of all tanks: that in its own, a thousand more for each tank
    before it."""
    if in_a != "":
        return in_a
    if in_b != "":
        return 1000 + in_b
    return "" if in_c == "" else 2000 + in_c


def at_rank(rank: int) -> Any:
    def code(codes: Any, products: Any) -> Any:
        return "" if products < rank else smallest(codes, rank)

    return code


def tank_of(code: Any) -> Any:
    if code == "":
        return ""
    if code < 1000:
        return "A"
    return "B" if code < 2000 else "C"


def of_place(code: Any, texts: Any) -> Any:
    return "" if code == "" else nth(texts, code - 100 * floor(code / 100))


def slowly_if_acid(code: Any, words: Any) -> Any:
    if code == "":
        return ""
    return words if code - 1000 * floor(code / 1000) < 200 else ""


def three(in_a: Any, in_b: Any, in_c: Any) -> Any:
    return in_a + in_b + in_c


# labels


def label_state(small: bool) -> Any:
    """The state of a label on the sheet of small ones or of large ones: a tank that is to be mixed
    has its label on the sheet for its size, and "elsewhere" on the other."""

    def words(state: Any, tank: Any) -> Any:
        if state != MIX:
            return state
        if is_error(tank):
            return STOP
        if tank <= MOST_ON_SMALL_LABEL:
            return MIX if small else "elsewhere"
        return "elsewhere" if small else MIX

    return words


def at_place(rank: int) -> Any:
    """What a column holds of the product that goes in as the rank-th."""

    def words(state: Any, places: Any, texts: Any) -> Any:
        if state != MIX:
            return ""
        return "" if nth(places, rank) == "" else nth(texts, nth(places, rank))

    return words


def first_item(
    state: Any, places: Any, names: Any, stopped: Any, unused: Any, elsewhere: Any
) -> Any:
    """The first product of a label, or why there is no label."""
    if state == MIX:
        return "" if nth(places, 1) == "" else nth(names, nth(places, 1))
    if state == UNUSED:
        return unused
    return elsewhere if state == "elsewhere" else stopped


def others(last: int) -> Any:
    """The products that a label lists without their amounts, each behind a comma."""

    @helper
    def piece(places: Any, names: Any) -> Any:
        return "" if nth(places, last) == "" else f", {nth(names, nth(places, last))}"

    if last == LINES + 1:
        return piece
    rest = others(last - 1)

    @helper
    def all_of(places: Any, names: Any) -> Any:
        return f"{rest(places, names)}{piece(places, names)}"

    return all_of


def also(state: Any, listed: Any, word: Any) -> Any:
    if state != MIX or listed == "":
        return ""
    return f"{word}: {after(listed, ', ')}"


def in_stock(state: Any, inside: Any, full: Any, of_stock: Any) -> Any:
    return f"{inside} {full} {of_stock}" if state == MIX else ""


def injector_words(letter: str) -> Any:
    def words(state: Any, injector: Any, set_to: Any) -> Any:
        return f"{injector} {letter}, {set_to}" if state == MIX else ""

    return words


def label_aid(state: Any, wear: Any, aid: Any) -> Any:
    return f"{wear}. {aid}" if state == MIX else ""


def never_words(first: str, second: str) -> Any:
    """Which other tanks a stock must be kept from."""

    def words(
        state: Any, one: Any, other: Any, never: Any, either: Any, never_any: Any
    ) -> Any:
        if state != MIX:
            return ""
        if one > 0 and other > 0:
            return f"{never} {first} {either} {second}."
        if one > 0:
            return f"{never} {first}."
        return f"{never} {second}." if other > 0 else never_any

    return words
