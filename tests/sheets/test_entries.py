"""From what is typed to the base unit: each function in Python and, compiled, in IronCalc.

Unit factors are exact definitions (NIST SP 811); limits are the glossary's own.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from engines_needed import need
from small_books import Case, in_ironcalc, in_python
from tanksheet.errors import SheetError
from tanksheet.recalc import ENGINES
from tanksheet.sheets import entries
from tanksheet.units import QUANTITIES
from tanksheet.xlsx.address import Value

VALUE, NUM, NA = SheetError.VALUE, SheetError.NUM, SheetError.NA
TANK, TARGET, RATIO = QUANTITIES["tank"], QUANTITIES["target"], QUANTITIES["ratio"]
DENSITY, COUNT = QUANTITIES["density"], QUANTITIES["emitters"]
GALLON = 3.785411784

# function, values as they stand in cells, what must come out
CASES: list[tuple[Case, Value]] = [
    ((entries.factor_to("L"), ("L",)), 1.0),
    ((entries.factor_to("L"), ("gal",)), GALLON),
    ((entries.factor_to("L"), ("GAL",)), GALLON),
    ((entries.factor_to("L"), ("psi",)), NA),
    ((entries.factor_to("L"), ("hogshead",)), NA),
    ((entries.factor_to("L"), (None,)), NA),
    ((entries.factor_to("L"), (12.0,)), NA),
    ((entries.factor_to("L"), (NA,)), NA),
    ((entries.in_base(TANK, False), (50.0, GALLON)), 50 * GALLON),
    ((entries.in_base(TANK, False), (0.0, 1.0)), NUM),
    ((entries.in_base(TANK, False), (-3.0, 1.0)), NUM),
    ((entries.in_base(TANK, False), (1e7, 1.0)), 1e7),
    ((entries.in_base(TANK, False), (1e7, 1.001)), NUM),
    ((entries.in_base(TANK, False), (None, 1.0)), VALUE),
    ((entries.in_base(TANK, False), ("twelve", 1.0)), VALUE),
    ((entries.in_base(TANK, False), (12.0, NA)), NA),
    ((entries.in_base(TANK, False), (NA, 1.0)), VALUE),  # no number stands there
    ((entries.in_base(TANK, False), (True, 1.0)), VALUE),
    ((entries.in_base(TANK, False), ("", 1.0)), VALUE),
    ((entries.in_base(TANK, True), (NA, 1.0)), NA),
    ((entries.ratio_in_parts(RATIO), (1.0, SheetError.DIV)), SheetError.DIV),
    ((entries.listed(("dry", "liquid")), (7.0,)), NA),
    ((entries.in_base(TARGET, False), (0.0, 1.0)), 0.0),
    ((entries.in_base(TANK, True), (None, 1.0)), ""),
    ((entries.in_base(TANK, True), (None, NA)), ""),
    ((entries.in_base(TANK, True), (2.0, 3.0)), 6.0),
    ((entries.in_base(TANK, True), ("twelve", 1.0)), VALUE),
    ((entries.in_base(DENSITY, False), (0.3, 1.0)), 0.3),
    ((entries.in_base(DENSITY, False), (0.29, 1.0)), NUM),
    ((entries.plain_number(COUNT, False), (1.0,)), 1.0),
    ((entries.plain_number(COUNT, False), (0.99,)), NUM),
    ((entries.plain_number(COUNT, False), ("many",)), VALUE),
    ((entries.plain_number(COUNT, False), (None,)), VALUE),
    ((entries.plain_number(COUNT, True), (None,)), ""),
    ((entries.plain_number(COUNT, True), (7.0,)), 7.0),
    ((entries.ratio_in_parts(RATIO), (128.0, "1:N")), 128.0),
    ((entries.ratio_in_parts(RATIO), (1.0, "1:N")), 1.0),
    ((entries.ratio_in_parts(RATIO), (0.5, "1:N")), NUM),
    ((entries.ratio_in_parts(RATIO), (0.0, "1:N")), NUM),
    ((entries.ratio_in_parts(RATIO), (0.8, "%")), 125.0),
    ((entries.ratio_in_parts(RATIO), (100.0, "%")), 1.0),
    ((entries.ratio_in_parts(RATIO), (0.0, "%")), NUM),
    ((entries.ratio_in_parts(RATIO), (150.0, "%")), NUM),
    ((entries.ratio_in_parts(RATIO), (100.0, "parts")), NA),
    ((entries.ratio_in_parts(RATIO), ("1:100", "1:N")), VALUE),
    ((entries.listed(("dry", "liquid")), ("dry",)), "dry"),
    ((entries.listed(("dry", "liquid")), ("gas",)), NA),
    ((entries.listed(("dry", "liquid")), (None,)), NA),
    ((entries.listed(("dry", "liquid")), (NUM,)), NUM),
    ((entries.in_unit("L", "gal", False), (GALLON,)), 1.0),
    ((entries.in_unit("L", "gal", False), (NUM,)), NUM),
    ((entries.in_unit("L", "gal", True), (GALLON,)), 1.0),
    ((entries.in_unit("L", "gal", True), ("not measured",)), ""),
    ((entries.in_unit("L", "gal", True), (NUM,)), ""),
    ((entries.entry_message("mend it", (5.0, 10.0), False), (5.0,)), "ok"),
    ((entries.entry_message("mend it", (5.0, 10.0), False), (10.0,)), "ok"),
    (
        (entries.entry_message("mend it", (5.0, 10.0), False), (10.1,)),
        "unusual: check number and unit",
    ),
    ((entries.entry_message("mend it", (5.0, 10.0), False), (NUM,)), "mend it"),
    ((entries.entry_message("mend it", (5.0, 10.0), True), (None, None)), "left blank"),
    ((entries.entry_message("mend it", (5.0, 10.0), True), ("six", VALUE)), "mend it"),
    ((entries.entry_message("mend it", (5.0, 10.0), True), (6.0, 6.0)), "ok"),
    ((entries.choice_message(("dry", "liquid")), ("dry",)), "ok"),
    ((entries.choice_message(("dry", "liquid")), ("gas",)), "choose a word from the list"),
]


def test_in_python() -> None:
    assert in_python([case for case, _ in CASES]) == pytest.approx([v for _, v in CASES])


def test_in_ironcalc(tmp_path: Path) -> None:
    need(ENGINES["ironcalc"])
    got = in_ironcalc([case for case, _ in CASES], tmp_path / "entries.xlsx")
    wrong = [
        (case[1], expected, came)
        for (case, expected), came in zip(CASES, got, strict=True)
        if not _alike(expected, came)
    ]
    assert not wrong


def _alike(expected: Value, came: Value) -> bool:
    if isinstance(expected, float):
        return isinstance(came, float) and came == pytest.approx(expected, rel=1e-12)
    return expected == came
