"""The working of the recipe workbook's tanks and cards, in the subset that compiles."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.mixing import (
    dicalcium_index,
    dicalcium_settling,
    gypsum_index,
    gypsum_settling,
    struvite_index,
)
from tanksheet.subset import count, floor, helper, nth, position, shown, smallest, sum_where
from tanksheet.tables import look_up
from tanksheet.templates.working import pounds_and_ounces

# What a clear tank was checked for, and what it was not.
CLEAR = (
    "pass: no gypsum, calcium phosphate or struvite; "
    "not checked: acids, alkalis, chlorine, other salts"
)
ROUGHLY_CLEAR = (
    "pass: no gypsum, phosphate or struvite, by a rough guide in so strong a stock; "
    "not checked: acids, alkalis, chlorine, other salts"
)


@helper
def ionic(calcium: Any, magnesium: Any, singles: Any, sulfate: Any, anions: Any) -> Any:
    """Half the sum of concentration times charge squared, mmol/L."""
    return (4 * (calcium + magnesium + sulfate) + singles + anions) / 2


def ionic_strength(calcium: Any, magnesium: Any, sulfate: Any, singles: Any, anions: Any) -> Any:
    return ionic(calcium, magnesium, singles, sulfate, anions)


def ionic_of_product(
    calcium: Any,
    magnesium: Any,
    potassium: Any,
    sodium: Any,
    ammonium: Any,
    nitrate: Any,
    sulfate: Any,
    chloride: Any,
    bicarbonate: Any,
    phosphate: Any,
) -> Any:
    singles = potassium + sodium + ammonium
    return ionic(calcium, magnesium, singles, sulfate, nitrate + chloride + bicarbonate + phosphate)


def numbered(number: int) -> Any:
    opening = f"{number}  "

    def named(product: Any) -> Any:
        return f"{opening}{product}"

    return named


def no_pair() -> Any:
    return ""


def apart(
    one: Any,
    other: Any,
    tank_1: Any,
    tank_2: Any,
    calcium_1: Any,
    calcium_2: Any,
    sulfate_1: Any,
    sulfate_2: Any,
    phosphate_1: Any,
    phosphate_2: Any,
    iron_1: Any,
    iron_2: Any,
    strength_1: Any,
    strength_2: Any,
    ph_tank: Any,
) -> Any:
    """What two products would throw down if they shared a tank, each as strong as it is."""
    if one == "" or other == "":
        return ""
    calcium = calcium_1 + calcium_2
    strength = strength_1 + strength_2
    prefix = "stop: " if tank_1 == tank_2 else "apart: "
    if gypsum_index(calcium, sulfate_1 + sulfate_2, strength) > 0:
        return f"{prefix}gypsum"
    if dicalcium_index(calcium, phosphate_1 + phosphate_2, ph_tank, strength) > 0:
        return f"{prefix}phosphate"
    if min(iron_1 + iron_2, phosphate_1 + phosphate_2) > 0:
        return f"{prefix}iron"
    return "ok"


def tank_sum(letter: str) -> Any:
    def total(tanks: Any, amounts: Any) -> Any:
        return sum_where(tanks, letter, amounts)

    return total


def tank_singles(letter: str) -> Any:
    def total(tanks: Any, potassium: Any, sodium: Any, ammonium: Any) -> Any:
        return (
            sum_where(tanks, letter, potassium)
            + sum_where(tanks, letter, sodium)
            + sum_where(tanks, letter, ammonium)
        )

    return total


def tank_anions(letter: str) -> Any:
    def total(tanks: Any, nitrate: Any, chloride: Any, bicarbonate: Any, phosphate: Any) -> Any:
        return (
            sum_where(tanks, letter, nitrate)
            + sum_where(tanks, letter, chloride)
            + sum_where(tanks, letter, bicarbonate)
            + sum_where(tanks, letter, phosphate)
        )

    return total


def tank_gypsum(calcium: Any, magnesium: Any, singles: Any, sulfate: Any, anions: Any) -> Any:
    return gypsum_settling(calcium, magnesium, singles, sulfate, anions)


def tank_phosphate(calcium: Any, phosphate: Any, ph_tank: Any, strength: Any) -> Any:
    if min(calcium, phosphate) == 0:
        return 0
    return dicalcium_settling(calcium, phosphate, ph_tank, strength)


def tank_struvite(
    magnesium: Any, ammonium: Any, phosphate: Any, ph_tank: Any, strength: Any
) -> Any:
    return struvite_index(magnesium, ammonium, phosphate, ph_tank, strength)


def tank_verdict(letter: str) -> Any:
    def verdict(
        gypsum: Any,
        dicalcium: Any,
        struvite: Any,
        iron: Any,
        phosphate: Any,
        strength: Any,
        calcium_tanks: Any,
        sulfate_tanks: Any,
        phosphate_tanks: Any,
    ) -> Any:
        if strength == 0:
            return "empty"
        if gypsum > 0.1:
            return (
                f"stop: calcium from product {shown(position(letter, calcium_tanks), 0)} meets "
                f"sulfate from product {shown(position(letter, sulfate_tanks), 0)}: about "
                f"{shown(gypsum, 1)} g/L of gypsum would settle out"
            )
        if dicalcium > 0.1:
            return (
                f"stop: calcium from product {shown(position(letter, calcium_tanks), 0)} meets "
                f"phosphate from product {shown(position(letter, phosphate_tanks), 0)}: up to "
                f"{shown(dicalcium, 1)} g/L of calcium phosphate would settle out at this pH"
            )
        if struvite > 0:
            return "caution: magnesium, ammonium and phosphate may settle out; keep the tank acid"
        if min(iron, phosphate) > 0:
            return "caution: iron without a chelate meets phosphate and may settle out"
        if strength > 1000:
            return ROUGHLY_CLEAR
        return CLEAR

    return verdict


# the cards


def card_head(letter: str) -> Any:
    opening = f"Tank {letter}"

    def head(tank: Any) -> Any:
        return (
            f"{opening}: {shown(tank, 1)} L ({shown(convert(tank, 'L', 'gal'), 1)} gal). Half "
            "fill with water, then add in this order, then fill up:"
        )

    return head


def order_code(letter: str, number: int) -> Any:
    """Acids first, then salts, liquids, chelates, each in the order of the list; blank if the
    product is not in this tank."""

    def code(product: Any, tank: Any, grams: Any) -> Any:
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


def card_line(rank: int) -> Any:
    opening = f"{rank}. "

    def line(place: Any, products: Any, masses: Any, densities: Any) -> Any:
        if place == "":
            return ""
        if nth(densities, place) > 0:
            litres = nth(masses, place) / nth(densities, place) / 1000
            return (
                f"{opening}{nth(products, place)}: pour {shown(litres, 2)} L "
                f"({shown(convert(litres, 'L', 'gal'), 2)} gal)"
            )
        return (
            f"{opening}{nth(products, place)}: weigh {shown(nth(masses, place), 1)} g "
            f"({pounds_and_ounces(nth(masses, place))})"
        )

    return line
