"""The working of why a target is missed, in words, in the subset that compiles to formulas.

What is said holds at the amounts worked out, before they are rounded: there every product that
brings more of what is short also brings something of which there is too much.
"""

from __future__ import annotations

from typing import Any

from tanksheet.subset import among, dot, is_error, nth, position

# A share of a target from which on it is in the way of others, or they of it.
MISSED = 0.02
ALKALI = "alkalinity"
ROUNDED = "rounding to the scale moves it"


def brings(product: Any, free: Any, content: Any) -> Any:
    """1 if the amount of a product that has some of an element is worked out, "fixed" if it is
    typed, 0 if there is none in it."""
    if is_error(product) or is_error(content):
        return 0
    if product == "" or content <= 0:
        return 0
    return 1 if free > 0 else "fixed"


def brings_nitrogen(
    product: Any, free: Any, nitrate: Any, ammonium: Any, urea: Any, other: Any
) -> Any:
    if is_error(product) or is_error(nitrate):
        return 0
    if product == "" or nitrate + ammonium + urea + other <= 0:
        return 0
    return 1 if free > 0 else "fixed"


def brings_more(product: Any, free: Any, one: Any, other: Any) -> Any:
    """The same for acid beyond alkalinity, or the other way round."""
    if is_error(product) or is_error(one):
        return 0
    if product == "" or one <= other:
        return 0
    return 1 if free > 0 else "fixed"


def state_of(weight: Any, miss: Any) -> Any:
    """Whether there is too little or too much of something, by the amounts worked out."""
    if weight == 0:
        return ""
    if miss > MISSED:
        return "short"
    return "over" if miss < -MISSED else ""


def state_of_acid(weight: Any, miss: Any) -> Any:
    """Too little acid is too much alkalinity left."""
    if weight == 0:
        return ""
    if miss > MISSED:
        return "over"
    return "short" if miss < -MISSED else ""


def how_many(brought: Any) -> Any:
    """Products with some of it whose amounts are worked out."""
    return dot(brought, brought)


def in_the_way(state: Any, free: Any, brought: Any, other_state: Any, other: Any) -> Any:
    """ "yes" where each product that brings what is short also brings what there is too much of."""
    if free == 0 or state != "short" or other_state != "over":
        return ""
    return "yes" if dot(brought, other) >= free else ""


def reason_of(element: str) -> Any:
    """Why an element is missed; words for whoever finds it outside the tolerance."""
    short, alone = f"no product brings {element} without ", f"no product brings {element}"
    with_alkali = f"{element} comes only with {ALKALI}"  # shorter, for two lines of a cell

    def reason(
        weight: Any,
        miss: Any,
        goal: Any,
        water: Any,
        tolerance: Any,
        free: Any,
        brought: Any,
        blocks: Any,
        names: Any,
        products: Any,
    ) -> Any:
        if weight == 0:
            return ""
        if abs(miss) * 100 <= tolerance:
            return ROUNDED
        if miss > 0:
            if among("yes", blocks):
                other = nth(names, position("yes", blocks))
                return with_alkali if other == ALKALI else f"{short}{other}"
            if free > 0:
                return "more of it would miss others by more"
            if among("fixed", brought):
                return f"{nth(products, position('fixed', brought))} is fixed"
            return alone
        if water >= weight:
            return "the water alone brings it"
        if goal < 0 and among("fixed", brought):
            return f"{nth(products, position('fixed', brought))} is fixed"
        return "less of it would miss others by more"

    return reason


def reason_of_alkalinity(
    weight: Any,
    miss: Any,
    goal: Any,
    tolerance: Any,
    free_acid: Any,
    acids: Any,
    acid_blocks: Any,
    free_alkali: Any,
    alkalis: Any,
    alkali_blocks: Any,
    names: Any,
    products: Any,
) -> Any:
    """Why the alkalinity left is not as asked."""
    if weight == 0:
        return ""
    if abs(miss) * 100 <= tolerance:
        return ROUNDED
    if miss < 0:
        if among("yes", acid_blocks):
            return f"no product brings acid without {nth(names, position('yes', acid_blocks))}"
        if free_acid > 0:
            return "more acid would miss others by more"
        if among("fixed", acids):
            return f"{nth(products, position('fixed', acids))} is fixed"
        return "no product is an acid"
    if miss > goal + MISSED:
        return "less acid would miss others by more"
    if among("yes", alkali_blocks):
        found = nth(names, position("yes", alkali_blocks))
        return f"alkalinity comes only with {found}"
    if free_alkali > 0:
        return "more of it would miss others by more"
    if among("fixed", acids):
        return f"{nth(products, position('fixed', acids))} is fixed"
    if among("fixed", alkalis):
        return f"{nth(products, position('fixed', alkalis))} is fixed"
    return "no product brings alkalinity"
