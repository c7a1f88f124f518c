"""The working of the recipe workbook's labels, and of the page with all tanks, in the subset that
compiles."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import after, floor, helper, is_error, nth, smallest
from tanksheet.templates.recipe.card_working import MIX, MOST_ON_SMALL_LABEL, STOP, UNUSED

LINES = 5  # products that a label lists with their amounts


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

    def words(state: Any, one: Any, other: Any, never: Any, either: Any, never_any: Any) -> Any:
        if state != MIX:
            return ""
        if one > 0 and other > 0:
            return f"{never} {first} {either} {second}."
        if one > 0:
            return f"{never} {first}."
        return f"{never} {second}." if other > 0 else never_any

    return words
