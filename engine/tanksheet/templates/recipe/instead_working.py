"""The working of what would pass where a tank does not, in the subset that compiles to formulas.

A split is tried where products clash, and a smaller ratio (or, of typed amounts, a larger tank)
where they do not dissolve. What is tried is put through every rule of a tank, and only said where
it passes.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.subset import among, helper, is_error, nth, position, shown, smallest
from tanksheet.templates.recipe.placing_working import class_by
from tanksheet.templates.recipe.reason_working import CAUTION, FAILED, NOTHING, UNCHECKED

# The leanest ratio that is worth naming.
LEAST_RATIO = 2
FAULTY = 101


# where each product would go


def class_if_auto(
    product: Any,
    calcium: Any,
    salts: Any,
    traces: Any,
    thiosulfate: Any,
    acid: Any,
    alkali: Any,
    chlorine: Any,
    chelate: Any,
) -> Any:
    """The class of a product, whether its tank is left to the sheet or not."""
    if is_error(product):
        return ""
    if product == "":
        return ""
    kind = class_by(calcium, salts, traces, thiosulfate, acid, alkali, chlorine, chelate)
    return kind if kind != "" else "free"


def worst_clash(ranks: Any, more_ranks: Any) -> Any:
    """The worst rank of the rules that no thinning helps."""
    return min(smallest(ranks, 1), smallest(more_ranks, 1))


def one_if_split(way: Any, a: Any, b: Any, c: Any) -> Any:
    """1 if products must be kept apart, and what they bring does not change with their tank."""
    return 1 if min(a, b, c) < UNCHECKED and way != "none" else 0


def tank_of(word: str) -> Any:
    """The tank of the first product of a class, or a blank."""

    def tank(classes: Any, tanks: Any) -> Any:
        return nth(tanks, position(word, classes)) if among(word, classes) else ""

    return tank


def one_if_class(word: str) -> Any:
    def one(classes: Any) -> Any:
        return 1 if among(word, classes) else 0

    return one


def salts_tank(salts: Any, calcium: Any) -> Any:
    """Where the first of them is: they are mostly the more."""
    if salts == "A" or salts == "B" or salts == "C":
        return salts
    return "B" if calcium == "A" or calcium == "" else "A"


def calcium_tank(calcium: Any, salts: Any) -> Any:
    if calcium != salts and (calcium == "A" or calcium == "B" or calcium == "C"):
        return calcium
    return "B" if salts == "A" else "A"


def third_tank(calcium: Any, salts: Any) -> Any:
    if calcium != "C" and salts != "C":
        return "C"
    return "B" if calcium != "B" and salts != "B" else "A"


def acid_tank(harsh: Any, thio: Any, chelates: Any, calcium: Any, salts: Any, third: Any) -> Any:
    """Apart; where an alkali is apart already, with what bears it."""
    if harsh == 0:
        return third
    return calcium if thio > 0 and chelates == 0 else salts


def instead_tank(
    split: Any,
    tank: Any,
    kind: Any,
    unsuited: Any,
    calcium: Any,
    salts: Any,
    third: Any,
    acid: Any,
    sharp: Any,
) -> Any:
    """The tank that would suit a product; what does no harm where it is stays there. ``sharp`` is
    1 if the third tank is for an acid, an alkali or chlorine."""
    if split == 0 or kind == "":
        return tank
    if kind == "calcium":
        return calcium
    if kind == "chlorine" or kind == "alkali":
        return third
    if kind == "acid" or kind == "sour salts":
        return acid
    if kind == "salts" or kind == "traces" or kind == "thiosulfate":
        if tank == calcium:
            return salts
        return salts if tank == third and sharp > 0 else tank
    if kind == "chelates" and unsuited > 0:
        return calcium
    if tank == third and sharp > 0:
        return calcium
    return tank


def both_flags(acid: Any, alkaline: Any) -> Any:
    return acid + alkaline


def larger(one: Any, other: Any) -> Any:
    return max(one, other)


# in words


def moved_word(product: Any, tank: Any, then: Any, used: Any) -> Any:
    """What is to be done with a product, or a blank."""
    if is_error(product) or is_error(used):
        return ""
    if used == 0 or tank == then:
        return ""
    return f"{product} to tank {then}"


def more_moves(before: Any, word: Any) -> Any:
    if word == "":
        return before
    return word if before == "" else f"{before}, {word}"


def ratio_words(ratio: Any, now: Any) -> Any:
    if ratio >= now:
        return ""
    told = shown(ratio, 0) if ratio >= 10 else shown(ratio, 1)
    return f"set 1 : {told} at most"


def tank_words(letter: str, unit: str) -> Any:
    def words(volume: Any, now: Any) -> Any:
        if volume <= now:
            return ""
        return f"take a tank {letter} of {shown(convert(volume, 'L', unit), 0)} {unit} or more"

    return words


@helper
def joined(one: Any, other: Any) -> Any:
    if one == "":
        return other
    return one if other == "" else f"{one}; {other}"


def all_words(moves: Any, ratio: Any, tank_a: Any, tank_b: Any, tank_c: Any) -> Any:
    """All that is to be changed."""
    moved = "" if moves == "" else f"move {moves}"
    return joined(joined(moved, ratio), joined(joined(tank_a, tank_b), tank_c))


def what_would_pass(
    worst_a: Any,
    worst_b: Any,
    worst_c: Any,
    then_a: Any,
    then_b: Any,
    then_c: Any,
    words: Any,
    way: Any,
    ratio: Any,
) -> Any:
    """A split, a ratio or a tank at which every tank passes, if one was found; silent where nothing
    is wrong, and where an entry is to be mended first."""
    if is_error(worst_a) or is_error(worst_b) or is_error(worst_c):
        return ""
    now = min(worst_a, worst_b, worst_c)
    if now == FAULTY or now >= UNCHECKED:
        return ""
    if max(worst_a, worst_b, worst_c) > FAILED and max(worst_a, worst_b, worst_c) < NOTHING:
        return ""
    if is_error(words) or is_error(then_a) or is_error(then_b) or is_error(then_c):
        return ""
    then = min(then_a, then_b, then_c)
    if words != "" and ratio >= LEAST_RATIO and then == NOTHING:
        return f"every tank passes if you {words}"
    if words != "" and ratio >= LEAST_RATIO and then > CAUTION and now < CAUTION:
        return f"no tank is stopped if you {words}; what is left is no pass: read on"
    if way == "none" or way == "split":
        return "cannot be told while some amounts are typed; clear them to see"
    return "no split over three tanks and no ratio was found that passes; change a product"
