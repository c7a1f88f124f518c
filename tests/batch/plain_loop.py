"""The batch once more, as a plain loop over the rows with exact fractions: what the tests compare
with. It is written from the description of the format and shares no code with the engine.
"""

from __future__ import annotations

import csv
import math
import re
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

# NIST SP 811: exact.
POUND, ACRE, GALLON = Fraction("0.45359237"), Fraction("0.40468564224"), Fraction("3.785411784")
HECTARES = {"ha": Fraction(1), "acre": ACRE}
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?", re.ASCII | re.IGNORECASE)
Row = dict[str, str]
Use = dict[tuple[str, str], Fraction]


@dataclass
class Found:
    """Kilograms, packs and cents by member and product, and by product; rejected lines by file."""

    used: Use = field(default_factory=dict)
    packs: dict[tuple[str, str], int] = field(default_factory=dict)
    cents: dict[tuple[str, str], int] = field(default_factory=dict)
    order: dict[str, tuple[Fraction, int, Fraction, int]] = field(default_factory=dict)
    rejected: set[tuple[str, int]] = field(default_factory=set)
    read: int = 0


def number(text: str) -> Fraction | None:
    """A number of at least 0, or None."""
    text = text.strip()
    if not NUMBER.fullmatch(text) or math.isinf(float(text)):
        return None
    found = Fraction(text)
    return found if found >= 0 else None


def priced(folder: Path, pool: bool = False, scenario: str = "") -> Found:
    """What the tables in a folder come to."""
    found = Found()
    members = {row["member"].strip() for row in good(folder, "members", found, is_member)}
    areas: dict[tuple[str, str], Fraction] = {}
    for line, row in rows(folder, "blocks", found):
        key, area = (row["member"].strip(), row["block"].strip()), number(row["area"])
        unit = row["area_unit"].strip().lower()
        if key[0] in members and key[1] and key not in areas and area and unit in HECTARES:
            areas[key] = area * HECTARES[unit]
        else:
            found.rejected.add(("blocks", line))
    products = {row["product"].strip(): row for row in good(folder, "products", found, is_product)}
    prices = read_prices(folder, products, scenario, found)
    for line, row in rows(folder, "programs", found):
        kg = kilograms(row, areas, products) if row["product"].strip() in prices else None
        key = row["member"].strip(), row["product"].strip()
        if kg is None or not is_week(row["week"]):
            found.rejected.add(("programs", line))
        else:
            found.used[key] = found.used.get(key, Fraction(0)) + kg
    charge(found, products, prices, pool)
    return found


def rows(folder: Path, table: str, found: Found) -> list[tuple[int, Row]]:
    made, line = [], 1
    with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as stream:
        reader = csv.reader(stream)
        header = next(reader)
        for fields in reader:
            line, at = reader.line_num, line + 1
            found.read += 1
            if len(fields) == len(header):
                made.append((at, dict(zip(header, fields, strict=True))))
            else:
                found.rejected.add((table, at))
    return made


def good(folder: Path, table: str, found: Found, is_good: object) -> list[Row]:
    """The rows with a key of their own that pass."""
    kept: dict[str, Row] = {}
    for line, row in rows(folder, table, found):
        key = next(iter(row.values())).strip()
        if key and key not in kept and is_good(row):  # type: ignore[operator]
            kept[key] = row
        else:
            found.rejected.add((table, line))
    return list(kept.values())


def is_member(row: Row) -> bool:
    return bool(row["member"].strip())


def is_product(row: Row) -> bool:
    density, pack = number(row["density_kgL"]), number(row["pack"])
    is_liquid = row["form"] == "liquid"
    units = ("kg", "lb", "L", "gal") if is_liquid else ("kg", "lb")
    dense = density is not None and Fraction("0.3") <= density <= 3
    labels = [row[each] for each in ("n", "p2o5", "k2o") if row.get(each, "").strip()]
    percents = [number(each) for each in labels]
    return (
        row["form"] in ("dry", "liquid")
        and (dense or not is_liquid)
        and bool(pack)
        and row["pack_unit"] in units
        and all(each is not None and each <= 100 for each in percents)
    )


def read_prices(
    folder: Path, products: dict[str, Row], scenario: str, found: Found
) -> dict[str, Fraction]:
    every: dict[tuple[str, str], Fraction] = {}
    currency = ""
    for line, row in rows(folder, "prices", found):
        key = row.get("scenario", "").strip(), row["product"].strip()
        price, mine = number(row["price"]), row["currency"].strip()
        fits = mine and mine == (currency or mine)
        if key not in every and key[1] in products and price is not None and fits:
            every[key], currency = price, mine
        else:
            found.rejected.add(("prices", line))
    base = {product: price for (name, product), price in every.items() if not name}
    own = {product: price for (name, product), price in every.items() if name == scenario}
    return base | own


def is_week(text: str) -> bool:
    week = number(text)
    return not text.strip() or (week is not None and week.denominator == 1 and 1 <= week <= 53)


def kilograms(
    row: Row, areas: dict[tuple[str, str], Fraction], products: dict[str, Row]
) -> Fraction | None:
    area = areas.get((row["member"].strip(), row["block"].strip()))
    product, rate = products.get(row["product"].strip()), number(row["rate"])
    if area is None or product is None or rate is None:
        return None
    amount, _, ground = row["rate_unit"].strip().lower().partition("/")
    one = {"kg": Fraction(1), "lb": POUND, "l": Fraction(1), "gal": GALLON}.get(amount)
    pairs = ("kg/ha", "lb/acre", "l/ha", "gal/acre")
    if one is None or (ground and f"{amount}/{ground}" not in pairs):
        return None
    if amount in ("l", "gal"):
        if product["form"] != "liquid":
            return None
        one *= Fraction(product["density_kgL"].strip())
    return rate * one * (area / HECTARES[ground] if ground else 1)


def pack_mass(product: Row) -> Fraction:
    one = {"kg": Fraction(1), "lb": POUND, "L": Fraction(1), "gal": GALLON}[product["pack_unit"]]
    volume = product["pack_unit"] in ("L", "gal")
    return (
        Fraction(product["pack"].strip())
        * one
        * (Fraction(product["density_kgL"].strip()) if volume else 1)
    )


def charge(found: Found, products: dict[str, Row], prices: dict[str, Fraction], pool: bool) -> None:
    for product in sorted({name for _, name in found.used}):
        mine = {key: kg for key, kg in sorted(found.used.items()) if key[1] == product}
        mass, price, total = pack_mass(products[product]), prices[product], sum(mine.values())
        if pool:
            packs = math.ceil(total / mass)
            found.packs |= shared(packs, mine)
            found.cents |= shared(half_up(packs * price * 100), mine)
        else:
            found.packs |= {key: math.ceil(kg / mass) for key, kg in mine.items()}
            found.cents |= {key: half_up(found.packs[key] * price * 100) for key in mine}
        packs = sum(found.packs[key] for key in mine)
        cents = sum(found.cents[key] for key in mine)
        found.order[product] = (Fraction(total), packs, packs * mass - total, cents)


def half_up(number: Fraction) -> int:
    return math.floor(number + Fraction(1, 2))


def shared(whole: int, parts: Use) -> dict[tuple[str, str], int]:
    """Largest remainders; the first of equals."""
    total = sum(parts.values())
    if not total:
        return dict.fromkeys(parts, 0)
    exact = {key: whole * part / total for key, part in parts.items()}
    down = {key: math.floor(each) for key, each in exact.items()}
    left = whole - sum(down.values())
    for key in sorted(exact, key=lambda key: down[key] - exact[key])[:left]:
        down[key] += 1
    return down
