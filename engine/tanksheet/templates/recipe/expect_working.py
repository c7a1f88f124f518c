"""The working of what stands on cards and labels besides the steps: hazards, what to expect, when
to stop, what a label lists."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import figure
from tanksheet.subset import after, helper, is_error, is_number, nth, shown
from tanksheet.templates.recipe.card_working import (
    EC_BOUND,
    MIX,
    PH_BOUND,
    SET,
    STOP,
    UNUSED,
    WHOLE,
)
from tanksheet.templates.weight_working import volume_words

MORE = "more"  # the steps of a tank go on on a second page


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
