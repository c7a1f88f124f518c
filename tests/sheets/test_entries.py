"""From what is typed to the base unit: each function in Python and, compiled, in IronCalc.

Unit factors are exact definitions (NIST SP 811); limits are the glossary's own.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from small_books import Case, in_ironcalc, in_python
from tanksheet.errors import SheetError
from tanksheet.recalc import ENGINES
from tanksheet.sheets import entries, notes
from tanksheet.units import QUANTITIES
from tanksheet.xlsx.address import Value

VALUE, NUM, NA = SheetError.VALUE, SheetError.NUM, SheetError.NA
TANK, TARGET, RATIO = QUANTITIES["tank"], QUANTITIES["target"], QUANTITIES["ratio"]
DENSITY, COUNT = QUANTITIES["density"], QUANTITIES["emitters"]
GALLON = 3.785411784
# The digits that data/oxides.csv carries are seven, and its atomic weight of P has one more.
P2O5 = pytest.approx(2 * 30.9738 / (2 * 30.9738 + 5 * 15.999), rel=1e-6)
K2O = pytest.approx(2 * 39.0983 / (2 * 39.0983 + 15.999), rel=1e-6)
SAYS = notes.ratio_message("mend it", (10.0, 3000.0))

# What a cell holds, and what is read there: digits with at most one point, whatever the land.
READ: list[tuple[Value, Value]] = [
    (12.5, 12.5),
    (-3.0, -3.0),
    ("12", 12.0),
    ("12.5", 12.5),
    ("25.1", 25.1),
    ("0.1", 0.1),
    ("0.0005", 0.0005),
    (" 12.5 ", 12.5),
    ("\u00a012", 12.0),
    ("007", 7.0),
    ("5.", 5.0),
    (".5", 0.5),
    ("123456789.012345", 123456789.012345),
    ("1234567890123456", "1234567890123456"),
    (None, ""),
    ("", ""),
    (".", "."),
    ("1.2.3", "1.2.3"),
    ("12,5", "12,5"),
    ("1,505", "1,505"),
    ("12 L", "12 L"),
    ("1 2", "1 2"),
    ("-3", "-3"),
    ("1e3", "1e3"),
    ("1/2", "1/2"),
    ("1:100", "1:100"),
    ("50%", "50%"),
    ("twelve", "twelve"),
    (True, True),
    (NA, NA),
    (NUM, NUM),
]
# function, values as they stand in cells, what must come out
CASES: list[tuple[Case, Any]] = [
    ((entries.factor_to("L"), ("L",)), 1.0),
    ((entries.factor_to("L"), ("gal",)), GALLON),
    ((entries.factor_to("L"), ("GAL",)), GALLON),
    ((entries.factor_to("L"), ("psi",)), NA),
    ((entries.factor_to("L"), ("hogshead",)), NA),
    ((entries.factor_to("L"), (None,)), NA),
    ((entries.factor_to("L"), (12.0,)), NA),
    ((entries.factor_to("L"), (NA,)), NA),
    # By hand from IUPAC atomic weights, such as P 30.9738 and S 32.06.
    ((entries.nutrient_factor("P"), ("mmol/L",)), 30.9738),
    *(((entries.read_number, (text,)), number) for text, number in READ),
    ((entries.nutrient_factor("P"), ("ppm P2O5",)), P2O5),
    ((entries.nutrient_factor("K"), ("ppm K2O",)), K2O),
    ((entries.nutrient_factor("K"), ("ppm P2O5",)), NA),
    ((entries.nutrient_factor("N"), ("meq/L",)), 14.007),
    ((entries.nutrient_factor("Ca"), ("meq/L",)), 20.039),
    ((entries.nutrient_factor("S"), ("meq/L",)), 16.03),
    ((entries.nutrient_factor("S"), ("g/L",)), 1000.0),
    ((entries.nutrient_factor("Zn"), ("umol/L",)), 0.06538),
    ((entries.nutrient_factor("Zn"), ("ug/L",)), 0.001),
    ((entries.nutrient_factor("Zn"), (None,)), NA),
    ((entries.nutrient_factor("B"), ("meq/L",)), NA),
    # As CaCO3: equivalent weight 50.043; a grain is 64.79891 mg; 10 mg of CaO (56.077) in a litre.
    ((entries.alkalinity_factor, ("meq/L",)), 50.043),
    ((entries.alkalinity_factor, ("ppm",)), 1.0),
    ((entries.alkalinity_factor, ("mg/L as HCO3",)), 50.043 / 61.016),
    ((entries.alkalinity_factor, ("gpg",)), 64.79891 / GALLON),
    ((entries.alkalinity_factor, ("e",)), 64.79891 / 4.54609),
    ((entries.alkalinity_factor, ("fH",)), 10.0),
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
    # 1:100 typed in a sheet is 1 h 100 min of a day (60 + 100 of 1,440 minutes).
    ((entries.ratio_in_parts(RATIO), (160 / 1440, "1:N")), NUM),
    ((entries.ratio_in_parts(RATIO), (160 / 1440, "%")), NUM),
    ((entries.ratio_in_parts(RATIO), (1540 / 1440, "1:N")), NUM),
    ((entries.ratio_in_parts(RATIO), (1.5, "1:N")), 1.5),
    ((entries.ratio_in_parts(RATIO), (0.25, "%")), 400.0),
    ((SAYS, (160 / 1440, NUM)), "1:100 became a time of day: type 100"),
    ((SAYS, (1540 / 1440, NUM)), "1:1480 became a time of day: type 1480"),
    ((SAYS, ("1:100", VALUE)), "mend it"),
    ((SAYS, (0.01, NUM)), "mend it"),
    ((SAYS, (100.0, 100.0)), ""),
    ((SAYS, (8000.0, 8000.0)), "unusual: check number and unit"),
    # By definition: 1 part in 100, or 1 part and 100 of water.
    ((entries.dilution_of(RATIO), (100.0, "1 in N")), 100.0),
    ((entries.dilution_of(RATIO), (100.0, "1 to N")), 101.0),
    ((entries.dilution_of(RATIO), (1e6, "1 to N")), 1e6),
    ((entries.dilution_of(RATIO), (NUM, "1 to N")), NUM),
    ((entries.listed(("dry", "liquid")), ("dry",)), "dry"),
    ((entries.listed(("dry", "liquid")), ("gas",)), NA),
    ((entries.listed(("dry", "liquid")), (None,)), NA),
    ((entries.listed(("dry", "liquid")), (NUM,)), NUM),
    ((entries.in_unit("L", "gal", False), (GALLON,)), 1.0),
    ((entries.in_unit("L", "gal", False), (NUM,)), NUM),
    ((entries.in_unit("L", "gal", True), (GALLON,)), 1.0),
    ((entries.in_unit("L", "gal", True), ("not measured",)), ""),
    ((entries.in_unit("L", "gal", True), (NUM,)), ""),
    ((notes.entry_message("mend it", (5.0, 10.0), False), (5.0,)), ""),
    ((notes.entry_message("mend it", (5.0, 10.0), False), (10.0,)), ""),
    (
        (notes.entry_message("mend it", (5.0, 10.0), False), (10.1,)),
        "unusual: check number and unit",
    ),
    ((notes.entry_message("mend it", (5.0, 10.0), False), (NUM,)), "mend it"),
    ((notes.entry_message("mend it", (5.0, 10.0), True), (None, None)), ""),
    ((notes.entry_message("mend it", (5.0, 10.0), True), ("six", VALUE)), "mend it"),
    ((notes.entry_message("mend it", (5.0, 10.0), True), (6.0, 6.0)), ""),
    ((notes.choice_message(("dry", "liquid")), ("dry",)), ""),
    ((notes.choice_message(("dry", "liquid")), ("gas",)), "choose a word from the list"),
]


def test_in_python() -> None:
    for (case, expected), came in zip(CASES, in_python([c for c, _ in CASES]), strict=True):
        assert _alike(expected, came), case[1]


def test_in_ironcalc(tmp_path: Path) -> None:
    need(ENGINES["ironcalc"])
    got = in_ironcalc([case for case, _ in CASES], tmp_path / "entries.xlsx")
    wrong = [
        (case[1], expected, came)
        for (case, expected), came in zip(CASES, got, strict=True)
        if not _alike(expected, came)
    ]
    assert not wrong


def _alike(expected: Any, came: Value) -> bool:
    if isinstance(expected, float):
        return isinstance(came, float) and came == pytest.approx(expected, rel=1e-12)
    return expected == came
