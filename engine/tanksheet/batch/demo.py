"""An invented co-op of 200 members, the same each time: nothing in it is anybody's.

Prices are made up; label percents are those of the project's own list of products. A few rows are
bad on purpose, as rows that people type are, so that there is something to reject.
"""

from __future__ import annotations

import csv
import io
import random
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from tanksheet.batch.layout import COLUMNS, BatchProblem
from tanksheet.xlsx.writing import replace_files

MEMBERS, SEED = 200, 11
FIRST = (
    "Alder Ash Beech Birch Bramble Cedar Clover Fern Hazel Heron Holly Juniper Larch Lark".split()
)
SECOND = (
    "Acre Bank Bottom Brook Corner Croft Field Gate Hill Lane Meadow Orchard Ridge Vale".split()
)
BLOCKS = ("home", "east", "river", "terrace", "young trees")
# product, form, kg/L, pack, its unit, n, p2o5, k2o, ca, mg, s, price, rate unit, lowest, highest
PRODUCTS: tuple[tuple[Any, ...], ...] = (
    ("calcium nitrate 15.5-0-0", "dry", "", 25, "kg", 15.5, 0, 0, 19, 0, 0, 14.60, "kg/ha", 15, 60),
    (
        "potassium nitrate 13.5-0-46",
        "dry",
        "",
        25,
        "kg",
        13.5,
        0,
        46,
        0,
        0,
        0,
        38.90,
        "kg/ha",
        10,
        40,
    ),
    (
        "monopotassium phosphate 0-52-34",
        "dry",
        "",
        25,
        "kg",
        0,
        52,
        34,
        0,
        0,
        0,
        51.25,
        "kg",
        5,
        40,
    ),
    ("urea 46-0-0", "dry", "", 50, "lb", 46, 0, 0, 0, 0, 0, 19.75, "lb/acre", 10, 45),
    ("ammonium sulfate 21-0-0", "dry", "", 50, "lb", 21, 0, 0, 0, 0, 24, 13.40, "lb", 20, 200),
    ("magnesium sulfate 0-0-0", "dry", "", 25, "kg", 0, 0, 0, 0, 9.8, 13, 11.85, "kg/ha", 5, 25),
    ("UAN 32-0-0", "liquid", 1.326, 1000, "L", 32, 0, 0, 0, 0, 0, 512.00, "L/ha", 15, 70),
    ("10-34-0", "liquid", 1.396, 275, "gal", 10, 34, 0, 0, 0, 0, 905.00, "gal/acre", 1, 5),
    (
        "potassium thiosulfate 0-0-25",
        "liquid",
        1.46,
        20,
        "L",
        0,
        0,
        25,
        0,
        0,
        17,
        34.80,
        "L",
        5,
        60,
    ),
)
SCENARIOS = {"": 1.0, "early order": 0.94, "late": 1.12}


def write_demo(folder: Path) -> list[Path]:
    """Writes the five tables of the demo co-op as CSV. Raises: BatchProblem where one is there."""
    made = {folder / f"{name}.csv": _text(name, rows) for name, rows in demo().items()}
    for path in made:
        if path.exists():
            raise BatchProblem(f"{path} is there already; name an empty folder")
    folder.mkdir(parents=True, exist_ok=True)
    replace_files({path: [text.encode()] for path, text in made.items()})
    return list(made)


def demo() -> dict[str, list[tuple[Any, ...]]]:
    """The rows of each table."""
    draw = random.Random(SEED)
    members = [(f"M{at:03}", _name(at)) for at in range(1, MEMBERS + 1)]
    blocks = [
        (member, block, f"{draw.uniform(0.4, 22):.2f}", draw.choice(("ha", "ha", "acre")))
        for member, _ in members
        for block in draw.sample(BLOCKS, draw.randint(1, 4))
    ]
    return {
        "members": members,
        "blocks": blocks,
        "products": [(*each[:11],) for each in PRODUCTS],
        "prices": [
            (each[0], f"{each[11] * factor:.2f}", "EUR", scenario)
            for scenario, factor in SCENARIOS.items()
            for each in PRODUCTS
        ],
        "programs": list(_with_slips(_programs(draw, blocks))),
    }


def _name(at: int) -> str:
    return f"{FIRST[at % len(FIRST)]} {SECOND[at // len(FIRST) % len(SECOND)]}"


def _programs(draw: random.Random, blocks: Iterable[tuple[Any, ...]]) -> Iterator[list[str]]:
    for member, block, *_ in blocks:
        for each in sorted(draw.sample(PRODUCTS, draw.randint(2, 4))):
            for week in sorted(draw.sample(range(10, 36), draw.randint(2, 8))):
                rate = f"{draw.uniform(each[13], each[14]):.1f}"
                yield [member, block, str(week), each[0], rate, each[12]]


def _with_slips(rows: Iterator[list[str]]) -> Iterator[tuple[str, ...]]:
    """The rows, every 700th of them with a slip of the pen."""
    slips = ((4, "2O"), (5, "kg/acre"), (1, "hmoe"), (4, "-12.5"), (3, "urea"), (4, ""), (2, "61"))
    for at, row in enumerate(rows, 1):
        if at % 700 == 0:
            place, text = slips[at // 700 % len(slips)]
            row[place] = text
        yield tuple(row)


def _text(table: str, rows: Iterable[tuple[Any, ...]]) -> str:
    more = {"products": ("n", "p2o5", "k2o", "ca", "mg", "s"), "prices": ("scenario",)}
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS[table] + more.get(table, ()))
    writer.writerows(rows)
    return stream.getvalue()
