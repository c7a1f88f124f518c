"""The working of the recipe workbook's nitrogen by form: targets as an amount or a share of the
nitrogen, what arrives of each form, and limits of its share."""

from __future__ import annotations

from typing import Any

from tanksheet.errors import NotANumber
from tanksheet.sheets.entries import nutrient_factor
from tanksheet.subset import (
    among,
    before,
    begins,
    check,
    dot,
    helper,
    is_error,
    is_number,
    nth,
    position,
    rounded,
    shown,
)
from tanksheet.templates.recipe.target_working import told

SHARE = "% of N"  # a unit of a form's target
# What two targets together may be beyond the nitrogen's before they are called too much: rounding.
ROUNDED = 1.005
WATER = "the water"
UNKNOWN = "form of some nitrogen not given; see the labels"

in_mg = helper(nutrient_factor("N"))


def form_in_mg(typed: Any, unit: Any, nitrogen: Any) -> Any:
    """A form's target in mg/L of nitrogen, typed so or as a percent of the nitrogen's target."""
    if typed == "":
        return ""
    check(is_number(typed), "a target must be a number", NotANumber)
    if unit == SHARE:
        check(typed >= 0 and typed <= 100, "a share of the nitrogen is from 0 to 100 %")
        check(is_number(nitrogen), "a share needs a target of nitrogen", NotANumber)
        return typed / 100 * nitrogen
    return typed * in_mg(unit)


def arriving(doses: Any, contents: Any) -> Any:
    """mg/L of nitrogen in a form that the products bring."""
    return dot(doses, contents) * 10


def share_of(form: Any, nitrogen: Any) -> Any:
    """Percent of the nitrogen that arrives, or a blank where none does."""
    return form / nitrogen * 100 if nitrogen > 0 else ""


def form_gap(gap: Any, other: Any) -> Any:
    """What nobody gave of which there may be some of a form, and the cure."""
    if gap != "":
        return gap
    return UNKNOWN if other > 0 else ""


# which product brings most


def brought(dose: Any, ammonium: Any, urea: Any) -> Any:
    """mg/L of nitrogen that a product brings as ammonium and urea; either may be left out."""
    if is_error(dose) or is_error(ammonium) or is_error(urea):
        return 0
    return dose * (ammonium + urea) * 10


def brought_in_one(dose: Any, content: Any) -> Any:
    if is_error(dose) or is_error(content):
        return 0
    return dose * content * 10


def word_if_most(amount: Any, largest: Any) -> Any:
    return "most" if amount > 0 and amount >= largest else ""


def product_of(words: Any, products: Any) -> Any:
    """The product that brings most of a form, or the water."""
    return nth(products, position("most", words)) if among("most", words) else WATER


# limits of the shares


@helper
def is_share(typed: Any) -> Any:
    if is_error(typed) or not is_number(typed):
        return False
    return typed >= 0 and typed <= 100


def at_least(typed: Any, share: Any, other: Any, gap: Any, tolerance: Any, product: Any) -> Any:
    """Whether enough of the nitrogen is nitrate; ``other`` is the share of an unknown form."""
    if is_error(typed):
        return "stop: type a percent from 0 to 100, or leave it blank"
    if typed == "":
        return "not used: no limit"
    if not is_share(typed):
        return "stop: type a percent from 0 to 100, or leave it blank"
    if is_error(share) or is_error(tolerance):
        return "not checked: mend the products and the water"
    if not is_number(share):
        return "not checked: no nitrogen arrives"
    if rounded(share, 1) >= typed and gap != "":
        return f"not checked: {gap}"
    if rounded(share, 1) >= typed:
        return f"pass: {shown(share, 1)} % of the nitrogen is nitrate"
    if share + other >= typed:
        return f"not checked: {UNKNOWN}"
    kind = "caution" if share >= typed * (1 - tolerance / 100) else "stop"
    by = f"replace {product} by a nitrate, or give nitrate a target"
    cure = "the water brings the rest" if product == WATER else by
    return f"{kind}: {shown(share, 1)} % of N is nitrate, less than {shown(typed, 1)}; {cure}"


def at_most(form: str) -> Any:
    """Whether no more of the nitrogen than the limit is of a form."""
    lower = ", or give ammonium a lower target" if form == "ammonium" else ""

    def verdict(typed: Any, share: Any, other: Any, gap: Any, tolerance: Any, product: Any) -> Any:
        if is_error(typed):
            return "stop: type a percent from 0 to 100, or leave it blank"
        if typed == "":
            return "not used: no limit"
        if not is_share(typed):
            return "stop: type a percent from 0 to 100, or leave it blank"
        if is_error(share) or is_error(tolerance):
            return "not checked: mend the products and the water"
        if not is_number(share):
            return "not checked: no nitrogen arrives"
        size = rounded(share, 1)
        if size <= typed and gap != "":
            return f"not checked: {gap}"
        if size <= typed and share + other > typed + 0.05:
            return f"not checked: {UNKNOWN}"
        if size <= typed:
            return f"pass: {shown(share, 1)} % of the nitrogen is {form}"
        kind = "caution" if share <= typed * (1 + tolerance / 100) else "stop"
        said = f"{kind}: {shown(share, 1)} % of N is {form}, more than {shown(typed, 1)}"
        by = f"replace {product}{lower}"
        return f"{said}; the water brings it" if product == WATER else f"{said}; {by}"

    return verdict


def in_short(verdict: Any) -> Any:
    """What stands beside a limit that is not kept; the cure stands with the verdicts."""
    if begins(verdict, "pass") or begins(verdict, "not used"):
        return ""
    return before(verdict, ";")


def together_verdict(nitrogen: Any, nitrate: Any, ammonium: Any) -> Any:
    """Whether the forms asked for fit into the nitrogen asked for."""
    if not is_number(nitrogen) or not is_number(nitrate) or not is_number(ammonium):
        return "not used: not all are asked for"
    if nitrate + ammonium <= nitrogen * ROUNDED:
        return "not used: they fit"
    return (
        f"stop: nitrate and ammonium asked for are {shown(nitrate + ammonium, 0)} ppm of N, the "
        f"nitrogen {shown(nitrogen, 0)}; ask for less of one, or for more nitrogen"
    )


def called(form: str) -> Any:
    """The verdict of a form's target with its name, as the line of all verdicts says it."""

    def words(verdict: Any) -> Any:
        if is_error(verdict):
            return f"stop: mend the target of {form}"
        if begins(verdict, "no target"):
            return "not used: no target"
        if begins(verdict, "pass"):
            return verdict
        return told(verdict, form)

    return words


def forms_verdict(kinds: Any, said: Any) -> Any:
    """The worst of what is asked of the forms."""
    if among("stop", kinds):
        return nth(said, position("stop", kinds))
    if among("caution", kinds):
        return nth(said, position("caution", kinds))
    if among("open", kinds):
        return nth(said, position("open", kinds))
    if among("pass", kinds):
        return "pass: the nitrogen has the forms asked for"
    return "not used: nothing is asked of the nitrogen's forms"
