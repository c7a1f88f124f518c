"""The peer of the batch in scripts/bench: one loop over the rows with the csv module.

    python plain_csv_loop.py FOLDER OUT

It takes good CSV in the order of columns that the bench writes, checks what the batch checks of a
row, and writes statements and order; no summary. Its sums are in the batch's own grains, so that
the bench can compare the statements byte by byte.
"""

from __future__ import annotations

import csv
import math
import sys
from pathlib import Path
from typing import Any

GRAINS = 10**10
ACRE, POUND, GALLON, POUND_AN_ACRE = 0.40468564224, 0.45359237, 3.785411784, 1.12085115619446
GALLON_AN_ACRE = 9.35395622895623
UNITS = {
    "kg/ha": (1.0, True, False),
    "lb/acre": (POUND_AN_ACRE, True, False),
    "L/ha": (1.0, True, True),
    "gal/acre": (GALLON_AN_ACRE, True, True),
    "kg": (1.0, False, False),
    "lb": (POUND, False, False),
    "L": (1.0, False, True),
    "gal": (GALLON, False, True),
}


def main(folder: Path, out: Path) -> None:
    def rows(name: str) -> Any:
        stream = (folder / f"{name}.csv").open(encoding="utf-8", newline="")
        reader = csv.reader(stream)
        next(reader)
        return reader

    members = {row[0] for row in rows("members")}
    areas = {(m, b): float(a) * (ACRE if u == "acre" else 1) for m, b, a, u in rows("blocks")}
    density = {row[0]: float(row[2]) if row[1] == "liquid" else None for row in rows("products")}
    packs = {
        row[0]: float(row[3]) * (float(row[2]) if row[4] == "L" else 1) for row in rows("products")
    }
    prices = {row[0]: round(float(row[1]) * 100) for row in rows("prices")}
    used: dict[tuple[str, str], int] = {}
    rejects = []
    for line, (member, block, week, product, rate, unit) in enumerate(rows("programs"), 2):
        try:
            factor, is_by_area, is_volume = UNITS[unit]
            area = areas[member, block]
            heavy = density[product]
            amount = float(rate)
            if not (0 <= amount < math.inf and 1 <= int(week) <= 53 and member in members):
                raise ValueError("out of range")
            one = factor * heavy if is_volume and heavy is not None else factor
            if is_volume and heavy is None:
                raise ValueError("no liquid")
        except (KeyError, ValueError) as problem:
            rejects.append((line, str(problem)))
            continue
        grains = round(amount * (area if is_by_area else 1.0) * one * GRAINS)
        key = member, product
        used[key] = used.get(key, 0) + grains
    write(out, used, packs, prices, rejects)


def write(
    out: Path,
    used: dict[tuple[str, str], int],
    packs: dict[str, float],
    prices: dict[str, int],
    rejects: list[tuple[int, str]],
) -> None:
    out.mkdir(exist_ok=True)
    order: dict[str, list[int]] = {}
    with (out / "statements.csv").open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("member", "product", "used_kg", "packs", "cost"))
        for (member, product), grains in sorted(used.items()):
            count = math.ceil(grains / GRAINS / packs[product] * (1 - 1e-9))
            cents = count * prices[product]
            writer.writerow((member, product, kilograms(grains), count, money(cents)))
            whole = order.setdefault(product, [0, 0, 0])
            whole[0], whole[1], whole[2] = whole[0] + grains, whole[1] + count, whole[2] + cents
    with (out / "order.csv").open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        for product, (grains, count, cents) in sorted(order.items()):
            writer.writerow((product, kilograms(grains), count, money(cents)))
    with (out / "rejects.csv").open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rejects)


def kilograms(grains: int) -> str:
    whole, part = divmod(grains, GRAINS)
    return f"{whole}.{part:010}".rstrip("0").rstrip(".")


def money(cents: int) -> str:
    return f"{cents // 100}.{cents % 100:02}"


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
