"""What the recipe workbook says of a tank or a feed: entries in, verdicts out."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from typing import Any

from tank_chemistry import Portion, Tank
from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.templates import book

# A name that no list has is judged too: the workbook shows it as it shows any product.
LITRES = 100
RATIO = 100


@functools.cache
def recipe() -> Book:
    """The recipe as it is made from the code, not the built file."""
    return book("recipe")


def tank_settings(tank: Tank, letter: str = "A") -> dict[str, Any]:
    """Entries that put everything of a tank into one tank of the workbook."""
    placed = [(letter, portion) for portion in tank.portions]
    return {
        **_products(placed),
        **_water(tank.water),
        f"tank_{letter.lower()}": tank.litres,
        "temperature": tank.celsius,
    }


def feed_settings(
    tanks: Mapping[str, Iterable[Portion]], water: Mapping[str, float], celsius: float
) -> dict[str, Any]:
    """Entries of a feed from tanks of 100 L at 1:100."""
    placed = [(letter, portion) for letter, portions in tanks.items() for portion in portions]
    sizes = {f"tank_{letter}": LITRES for letter in "abc"}
    # The tanks are as warm as their feed: what does not dissolve in them is another case.
    warm = {"temperature": min(40, celsius), "feed_temperature": celsius}
    return {**_products(placed), **_water(water), **sizes, **warm, "ratio": RATIO}


def _products(placed: list[tuple[str, Portion]]) -> dict[str, Any]:
    entries = recipe().entries
    rows = len(entries["products"].cells)
    if len(placed) > rows:
        raise ValueError(f"{len(placed)} products, and the recipe has room for {rows}")
    blank = [None] * (rows - len(placed))
    columns: dict[str, Any] = {
        "products": [each.product for _, each in placed] + blank,
        "tanks": [letter for letter, _ in placed] + ["A"] * len(blank),
        "amounts": [each.amount for _, each in placed] + blank,
        "amount_units": [each.unit for _, each in placed] + ["g"] * len(blank),
    }
    targets = {name: [None] * len(entries[name].cells) for name in ("targets",) if name in entries}
    return {**columns, **targets}


def _water(water: Mapping[str, float]) -> dict[str, Any]:
    return {f"water_{name}": value for name, value in water.items()}


def verdict(settings: Mapping[str, Any], name: str) -> str:
    """A verdict of the recipe under these entries, computed in Python."""
    return str(chosen_values(recipe(), settings, [name])[name])
