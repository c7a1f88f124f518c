"""The working of the recipe workbook's cards, in the subset that compiles."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.subset import count, floor, is_error, nth, shown, smallest
from tanksheet.tables import look_up
from tanksheet.templates.recipe.reason_working import CAUTION
from tanksheet.templates.working import pounds_and_ounces


def card_head(letter: str) -> Any:
    opening = f"Tank {letter}"
    stopped = f"Tank {letter}: do not mix"

    def head(tank: Any, worst: Any) -> Any:
        if is_error(worst):
            return stopped
        if worst < CAUTION:
            return stopped
        return (
            f"{opening}: {shown(tank, 1)} L ({shown(convert(tank, 'L', 'gal'), 1)} gal). Half "
            "fill with water, then add in this order, then fill up:"
        )

    return head


def order_code(letter: str, number: int) -> Any:
    """Acids first, then salts, liquids, chelates, each in the order of the list; blank if the
    product is not in this tank, or the tank is not to be mixed."""

    def code(product: Any, tank: Any, grams: Any, worst: Any) -> Any:
        if is_error(worst):
            return ""
        if worst < CAUTION:
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


def place_in_list(rank: int) -> Any:
    """Number of the product that goes in as the rank-th, or a blank."""

    def place(codes: Any) -> Any:
        if count(codes) < rank:
            return ""
        code = smallest(codes, rank)
        return code - 100 * floor(code / 100)

    return place


def hazard_of(product: Any) -> Any:
    """Hazard words of a product as they follow its amount, or a blank."""
    if product == "":
        return ""
    words = look_up("fertilizers", "hazard", product)
    return "" if words == "" else f" - {words}"


def card_line(rank: int) -> Any:
    opening = f"{rank}. "

    def line(place: Any, products: Any, masses: Any, densities: Any, hazards: Any) -> Any:
        if place == "":
            return ""
        if nth(densities, place) > 0:
            litres = nth(masses, place) / nth(densities, place) / 1000
            return (
                f"{opening}{nth(products, place)}: pour {shown(litres, 2)} L "
                f"({shown(convert(litres, 'L', 'gal'), 2)} gal){nth(hazards, place)}"
            )
        return (
            f"{opening}{nth(products, place)}: weigh {shown(nth(masses, place), 1)} g "
            f"({pounds_and_ounces(nth(masses, place))}){nth(hazards, place)}"
        )

    return line
