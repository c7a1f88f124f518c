"""The working of the recipe workbook's reasons: each rule in each tank, and the worst of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tanksheet.calc.mixing import gypsum_index
from tanksheet.subset import floor, helper, is_error, nth, shown, smallest

# Ranks, each by its row: 101 to 199 stop, 201 to 299 caution, 301 to 399 not checked, 401 to 499
# not checked since a figure is an error; 999 nothing.
CAUTION, UNCHECKED, FAILED, NOTHING = 200, 300, 400, 999


def amount_of(one_share: float, other_share: float, factor: float) -> Any:
    """How much of a clash a tank holds, from the scarcer of its two sides."""

    def amount(one: Any, other: Any) -> Any:
        return min(one / one_share, other / other_share) * factor

    return amount


def amount_at(
    one_share: float, other_share: float, factor: float, above: float, below: float
) -> Any:
    """As ``amount_of``, for sides that clash only between two pH values."""

    def amount(one: Any, other: Any, ph: Any) -> Any:
        if ph < above:
            return 0
        if ph >= below:
            return 0
        return min(one / one_share, other / other_share) * factor

    return amount


def rank_of(number: int, unchecked_above: float, caution_above: float, stop_above: float) -> Any:
    """How bad a rule's amount is; the smaller the worse."""
    stop, caution, unchecked = 100 + number, CAUTION + number, UNCHECKED + number
    failed = FAILED + number

    def rank(amount: Any) -> Any:
        if is_error(amount):
            return failed
        if amount > stop_above:
            return stop
        if amount > caution_above:
            return caution
        return unchecked if amount > unchecked_above else NOTHING

    return rank


@helper
def figure(amount: Any) -> Any:
    return shown(amount, 1) if amount >= 1 else shown(amount, 2)


@helper
def failed_words(clash: Any) -> Any:
    return f"not checked: {clash}; mend what shows an error"


@helper
def opened(rank: Any, clash: Any, words: Any) -> Any:
    """What a rule says, by its rank."""
    if rank == NOTHING:
        return ""
    if rank > FAILED:
        return failed_words(clash)
    if rank > UNCHECKED:
        return f"not checked: {words}"
    return f"stop: {words}" if rank < CAUTION else f"caution: {words}"


def plain_words(clash: str, text: str) -> Any:
    def words(rank: Any) -> Any:
        return opened(rank, clash, text)

    return words


def words_with_amount(clash: str, text: str, tail: str) -> Any:
    def words(rank: Any, amount: Any) -> Any:
        if is_error(amount):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{figure(amount)}{tail}")

    return words


def words_with_one(clash: str, text: str, tail: str) -> Any:
    def words(rank: Any, one: Any) -> Any:
        if is_error(one):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{one}{tail}")

    return words


def words_with_one_amount(clash: str, text: str, middle: str, tail: str) -> Any:
    def words(rank: Any, one: Any, amount: Any) -> Any:
        if is_error(one):
            return failed_words(clash)
        if is_error(amount):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{one}{middle}{figure(amount)}{tail}")

    return words


def words_with_both(clash: str, text: str, middle: str, tail: str) -> Any:
    def words(rank: Any, one: Any, other: Any) -> Any:
        if is_error(one):
            return failed_words(clash)
        if is_error(other):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{one}{middle}{other}{tail}")

    return words


def words_with_both_amount(clash: str, text: str, middle: str, then: str, tail: str) -> Any:
    def words(rank: Any, one: Any, other: Any, amount: Any) -> Any:
        if is_error(one):
            return failed_words(clash)
        if is_error(other):
            return failed_words(clash)
        if is_error(amount):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{one}{middle}{other}{then}{figure(amount)}{tail}")

    return words


def words_with_both_total(clash: str, text: str, middle: str, then: str, tail: str) -> Any:
    """The amount in the whole tank."""

    def words(rank: Any, one: Any, other: Any, amount: Any, tank: Any) -> Any:
        if is_error(one):
            return failed_words(clash)
        if is_error(other):
            return failed_words(clash)
        if is_error(amount):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{one}{middle}{other}{then}{figure(amount * tank)}{tail}")

    return words


def words_with_one_total(clash: str, text: str, middle: str, tail: str) -> Any:
    def words(rank: Any, one: Any, amount: Any, tank: Any) -> Any:
        if is_error(one):
            return failed_words(clash)
        if is_error(amount):
            return failed_words(clash)
        return opened(rank, clash, f"{text}{one}{middle}{figure(amount * tank)}{tail}")

    return words


# By what a row's words leave room for.
WORDS: dict[tuple[str, ...], Callable[..., Any]] = {
    (): plain_words,
    ("amount",): words_with_amount,
    ("one",): words_with_one,
    ("one", "amount"): words_with_one_amount,
    ("one", "total"): words_with_one_total,
    ("one", "other"): words_with_both,
    ("one", "other", "amount"): words_with_both_amount,
    ("one", "other", "total"): words_with_both_total,
}


def worst_of(ranks: Any) -> Any:
    """The rank of the worst rule of a tank."""
    return smallest(ranks, 1)


def clear_verdict(kinds: Any, faults: Any, worst: Any, second: Any, words: Any) -> Any:
    """The verdict of a tank, its worst reason first; water alone is no stock to judge."""
    if is_error(worst):
        return "stop: mend the products of this tank; a figure in its row shows an error"
    if kinds + faults == 0:
        return "not used"
    if worst == NOTHING:
        return "pass: it dissolves, and nothing in it settles or reacts; nothing was left unchecked"
    first = nth(words, worst - 100 * floor(worst / 100))
    return f"{first}; and more on sheet Reasons" if second < NOTHING else first


def second_of(ranks: Any) -> Any:
    return smallest(ranks, 2)


# what each pair of products would do in one tank


@helper
def cross(one_1: Any, one_2: Any, other_1: Any, other_2: Any) -> Any:
    """Above 0 where one side of a clash is in one product and the other in the other."""
    return min(one_1, other_2) + min(one_2, other_1)


@helper
def by_tank(tank_1: Any, tank_2: Any, word: Any) -> Any:
    return f"together: {word}" if tank_1 == tank_2 else f"apart: {word}"


def hard_of(calcium: Any, magnesium: Any, metal: Any) -> Any:
    """What carbonate and silicate throw down."""
    return calcium + magnesium + metal


def no_pair() -> Any:
    return ""


def numbered(number: int) -> Any:
    opening = f"{number}  "

    def named(product: Any) -> Any:
        return f"{opening}{product}"

    return named


def violent(
    hard_1: Any,
    hard_2: Any,
    carbonate_1: Any,
    carbonate_2: Any,
    silicate_1: Any,
    silicate_2: Any,
    thiosulfate_1: Any,
    thiosulfate_2: Any,
    acid_1: Any,
    acid_2: Any,
    chlorine_1: Any,
    chlorine_2: Any,
    amines_1: Any,
    amines_2: Any,
) -> Any:
    """What two products do at once in one tank, or a blank."""
    if cross(chlorine_1, chlorine_2, acid_1 + amines_1, acid_2 + amines_2) > 0:
        return "poisonous gas"
    if cross(acid_1, acid_2, thiosulfate_1, thiosulfate_2) > 0:
        return "poisonous gas"
    if cross(acid_1, acid_2, carbonate_1, carbonate_2) > 0:
        return "gas"
    if cross(silicate_1, silicate_2, acid_1 + amines_1 + hard_1, acid_2 + amines_2 + hard_2) > 0:
        return "gel"
    if cross(carbonate_1, carbonate_2, hard_1, hard_2) > 0:
        return "lime"
    return ""


def pair(
    one: Any,
    other: Any,
    tank_1: Any,
    tank_2: Any,
    at_once: Any,
    calcium_1: Any,
    calcium_2: Any,
    sulfur_1: Any,
    sulfur_2: Any,
    phosphate_1: Any,
    phosphate_2: Any,
    alkali_1: Any,
    alkali_2: Any,
    amines_1: Any,
    amines_2: Any,
    strength_1: Any,
    strength_2: Any,
) -> Any:
    """What two products do to each other in one tank, each as strong as it stands in its own."""
    if one == "" or other == "":
        return ""
    if at_once != "":
        return by_tank(tank_1, tank_2, at_once)
    gypsum = gypsum_index(calcium_1 + calcium_2, sulfur_1 + sulfur_2, strength_1 + strength_2)
    if min(gypsum, cross(calcium_1, calcium_2, sulfur_1, sulfur_2)) > 0:
        return by_tank(tank_1, tank_2, "gypsum")
    if cross(calcium_1, calcium_2, phosphate_1, phosphate_2) > 0:
        return by_tank(tank_1, tank_2, "phosphate")
    if cross(alkali_1, alkali_2, amines_1, amines_2) > 0:
        return by_tank(tank_1, tank_2, "ammonia")
    return "none known"
