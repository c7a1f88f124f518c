"""What workbooks ask of a product of the table, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.errors import NotListed
from tanksheet.subset import check, helper, is_error, shown
from tanksheet.tables import is_listed, look_up

# What stands for a limit where a product has none.
NO_FIGURE = "no figure"


def listed_product(chosen: Any) -> Any:
    """The product, a blank, or #N/A for a name that is in no table."""
    if chosen == "":
        return ""
    check(is_listed("fertilizers", chosen), "choose a product from the list", NotListed)
    return chosen


@helper
def product_said(chosen: Any) -> Any:
    if is_error(chosen):
        return "choose a product from the list, or leave it blank"
    if chosen == "":
        return ""
    if is_listed("fertilizers", chosen):
        return ""
    return "choose a product from the list, or leave it blank"


def product_message(chosen: Any) -> Any:
    return product_said(chosen)


@helper
def nitrogen_of(product: Any) -> Any:
    """Percent of nitrogen in all its forms."""
    return (
        look_up("fertilizers", "n_nitrate", product)
        + look_up("fertilizers", "n_ammonium", product)
        + look_up("fertilizers", "n_urea", product)
    )


@helper
def contents_of(product: Any) -> Any:
    """The nutrients of a product in words, each as the element."""
    return (
        f"N {shown(nitrogen_of(product), 1)}, P {shown(look_up('fertilizers', 'p', product), 1)}, "
        f"K {shown(look_up('fertilizers', 'k', product), 1)}, "
        f"Ca {shown(look_up('fertilizers', 'ca', product), 1)}, "
        f"Mg {shown(look_up('fertilizers', 'mg', product), 1)}, "
        f"S {shown(look_up('fertilizers', 's', product), 1)} %"
    )
