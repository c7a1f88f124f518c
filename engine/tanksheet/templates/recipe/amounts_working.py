"""The working of the recipe's amounts, worked out from the targets, in the subset that compiles.

Each target is a row: what is still to be brought, as a share of the target. Each product without an
amount of its own is a column: the share of each target that one g in a litre of feed brings. The
amounts, none below 0, are those whose misses have the least sum of squares. They are found by
sweeps, each product in turn set to its best, then by steps that each solve for the products in use
exactly (Cholesky) and let the most unwanted one go or take the most wanted one in, as the
active-set method of Lawson and Hanson (Solving Least Squares Problems, 1974, chapter 23).
Columns are scaled to a length of 1; what is smaller than SNAP there is nothing.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.water import alkalinity_meq
from tanksheet.subset import dot, is_error, is_number, rounded, smallest, sqrt
from tanksheet.templates.recipe.working import MOST_WANTED

SNAP = 1e-7
# A product whose column is nearer than this (sine squared) to what others in use can bring is left
# out while these are solved for.
PIVOT = 1e-6
# What is left of a difference between numbers near 1 below which it is nothing but rounding: this
# in decimals, to which the triangle is rounded, else products that are alike would carry the last
# bits of one cell, which engines add up in their own order, into amounts.
NOISE, DECIMALS = 1e-9, 9
# The same for sweeps, as a share of how much a product is wanted.
SWEPT = 1e-6
# And of what is left when a solution is put back, as a share of what there was.
LEFT = 1e-5
# A target that is missed by a smaller share is met: scales round by more.
MET = 3e-4


# what is asked for, row by row


def weight_of(wanted: Any, there: Any) -> Any:
    """A target in mg/L of its element, 0 where there is none to be met."""
    if is_error(wanted) or is_error(there):
        return 0
    if not is_number(wanted):
        return 0
    return wanted if wanted > 0 and wanted <= MOST_WANTED else 0


def alkalinity_wanted(typed: Any) -> Any:
    """Alkalinity to be left in the feed, meq/L, or a blank."""
    return alkalinity_meq(typed) if is_number(typed) else ""


def share_of_one(weight: Any, percent: Any) -> Any:
    """Share of a target that 1 g in a litre of feed brings, from percent of the element."""
    if is_error(percent) or weight == 0:
        return 0
    return percent * 10 / weight


def share_of_nitrogen(weight: Any, nitrate: Any, ammonium: Any, urea: Any, other: Any) -> Any:
    if is_error(nitrate) or weight == 0:
        return 0
    return (nitrate + ammonium + urea + other) * 10 / weight


def share_of_alkalinity(weight: Any, bicarbonate: Any, acid: Any) -> Any:
    """Below 0 for an acid, which takes alkalinity; both ions in mmol from each gram."""
    if is_error(bicarbonate) or is_error(acid):
        return 0
    if weight == 0:
        return 0
    return (bicarbonate - acid) / weight


def left_to_bring(weight: Any, there: Any, shares: Any, fixed: Any) -> Any:
    """Share of a target that neither the water nor the products of a fixed amount bring."""
    return 0 if weight == 0 else 1 - there / weight - dot(shares, fixed)


# products


def litres_of_feed(tank: Any, tank_a: Any, tank_b: Any, tank_c: Any, ratio: Any) -> Any:
    """Litres of feed that one fill of a product's tank makes; 0 for no such tank, and those of
    tank A where the tank is chosen later."""
    if is_error(tank):
        return 0
    if tank == "A" or tank == "":
        return tank_a * ratio
    if tank == "B":
        return tank_b * ratio
    return tank_c * ratio if tank == "C" else 0


def one_if_free(product: Any, typed: Any, feed: Any) -> Any:
    """1 for a product whose amount is to be worked out."""
    if is_error(product) or is_error(typed):
        return 0
    if product == "" or typed != "":
        return 0
    return 1 if feed > 0 else 0


def fixed_dose(grams: Any, feed: Any) -> Any:
    """g in a litre of feed of a product whose amount is typed."""
    if is_error(grams):
        return 0
    return grams / feed if feed > 0 else 0


def length_of(free: Any, shares: Any) -> Any:
    return sqrt(dot(shares, shares)) if free > 0 else 0


def pull_of(length: Any, shares: Any, goals: Any) -> Any:
    """How much a product is wanted when nothing is given."""
    return dot(shares, goals) / length if length > 0 else 0


def likeness(length: Any, other_length: Any, shares: Any, others: Any) -> Any:
    """How much of what one product brings another one brings too: 1 for the same."""
    if length == 0 or other_length == 0:
        return 0
    return dot(shares, others) / (length * other_length)


# sweeps


def none_yet() -> Any:
    return 0


def first_swept(pull: Any, likes_below: Any, below: Any) -> Any:
    """The best amount of the first product beside the others as they stand."""
    best = pull - dot(likes_below, below)
    return best if best > SWEPT * (1 + abs(pull)) else 0


def swept(pull: Any, likes_above: Any, above: Any, likes_below: Any, below: Any) -> Any:
    """The best amount of a product beside those above as set by now and those below as before."""
    best = pull - dot(likes_above, above) - dot(likes_below, below)
    return best if best > SWEPT * (1 + abs(pull)) else 0


def last_swept(pull: Any, likes_above: Any, above: Any) -> Any:
    best = pull - dot(likes_above, above)
    return best if best > SWEPT * (1 + abs(pull)) else 0


# a step: solves for the products in use


def one_if_used(amount: Any) -> Any:
    return 1 if amount > 0 else 0


def first_pivot(used: Any, like: Any) -> Any:
    return like if used > 0 else 0


def pivot(used: Any, like: Any, row: Any) -> Any:
    """What a product brings that those before it cannot: a diagonal cell of the triangle."""
    if used == 0:
        return 0
    left = rounded(like - dot(row, row), DECIMALS)
    return sqrt(left) if left > PIVOT else 0


def first_below(diagonal: Any, like: Any) -> Any:
    return rounded(like, DECIMALS) / diagonal if diagonal > 0 else 0


def below(diagonal: Any, like: Any, row: Any, row_above: Any) -> Any:
    """A cell below the diagonal."""
    return 0 if diagonal == 0 else rounded(like - dot(row, row_above), DECIMALS) / diagonal


def first_pulled(diagonal: Any, pull: Any) -> Any:
    return pull / diagonal if diagonal > 0 else 0


def pulled(diagonal: Any, pull: Any, row: Any, row_above: Any) -> Any:
    """A cell of the last row, below the triangle, where a product's pull stands for likeness."""
    if diagonal == 0:
        return 0
    left = pull - dot(row, row_above)
    return left / diagonal if abs(left) > NOISE * (1 + abs(pull)) else 0


def last_solved(diagonal: Any, pull: Any) -> Any:
    return pull / diagonal if diagonal > 0 else 0


def solved(diagonal: Any, pull: Any, column: Any, amounts: Any) -> Any:
    """The amount that solves, below 0 for a product that is not wanted."""
    if diagonal == 0:
        return 0
    left = pull - dot(column, amounts)
    return left / diagonal if abs(left) > NOISE else 0


def none_below_nothing(amount: Any) -> Any:
    return amount if amount > SNAP else 0


def slope(pull: Any, likes: Any, amounts: Any) -> Any:
    """How much the next bit of a product would mend."""
    gain = pull - dot(likes, amounts)
    return gain if abs(gain) > LEFT * (1 + abs(pull)) else 0


def value_of(amounts: Any, pulls: Any, slopes: Any) -> Any:
    """Half the sum of squares of the misses, less what it is with nothing given."""
    return -(dot(amounts, pulls) + dot(amounts, slopes)) / 2


def lowest_of(amounts: Any) -> Any:
    return smallest(amounts, 1)


def highest_of(count: int) -> Any:
    """The largest of so many numbers."""

    def highest(slopes: Any) -> Any:
        return smallest(slopes, count)

    return highest


def used_next(diagonal: Any, amount: Any, lowest: Any, gain: Any, steepest: Any) -> Any:
    """Whether a product is in use in the next step."""
    if lowest < -SNAP:
        if diagonal == 0:
            return 0
        return 1 if amount > lowest else 0
    if diagonal > 0:
        return 1
    if gain < steepest:
        return 0
    return 1 if gain > SNAP else 0


def better_value(value: Any, best: Any) -> Any:
    return value if value < best + NOISE else best


def better_amount(value: Any, best: Any, amount: Any, before: Any) -> Any:
    """The amount of this step, or of the best one before it."""
    return amount if value < best + NOISE else before


# what comes of it


def dose_of(amount: Any, length: Any) -> Any:
    """g in a litre of feed."""
    return amount / length if length > 0 else 0


def grams_of(dose: Any, feed: Any) -> Any:
    """g for one fill of the product's tank."""
    return dose * feed


def miss_of(goal: Any, shares: Any, doses: Any) -> Any:
    """Share of a target that is missed, above 0 for too little, before anything is rounded."""
    miss = goal - dot(shares, doses)
    return miss if abs(miss) > MET * (1 + abs(goal)) else 0
