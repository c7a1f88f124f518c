"""What people type: numbers with units, ratios, percents, runs of readings."""

from __future__ import annotations

import time

import pytest

from tanksheet.errors import NotListed
from tanksheet.sheets.choices import OFFERED
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.sheets.phrases import plain, plain_run, with_unit

READ = [
    ("150 ppm", OFFERED["mg/L"], 150.0, "ppm"),
    ("150 PPM", OFFERED["mg/L"], 150.0, "ppm"),
    ("150ppm", OFFERED["mg/L"], 150.0, "ppm"),
    ("2 oz/100 gal", OFFERED["mg/L"], 2.0, "oz/100 gal"),
    ("2 oz/gal", OFFERED["g/L"], 2.0, "oz/gal"),
    ("12 gpm", OFFERED["L/min"], 12.0, "gpm"),
    ("1,200 L", OFFERED["L"], 1200.0, "L"),
    ("1,200.5 l", OFFERED["L"], 1200.5, "L"),
    ("50 GAL", OFFERED["L"], 50.0, "gal"),
    (".5 L", OFFERED["L"], 0.5, "L"),
    ("1e3 L", OFFERED["L"], 1000.0, "L"),
    ("  200   L  ", OFFERED["L"], 200.0, "L"),
    ("15.5 %", OFFERED["%"], 15.5, "%"),
    ("15.5 percent", OFFERED["%"], 15.5, "%"),
    ("1:128", RATIO_FORMS, 128.0, "1:N"),
    ("1 : 128", RATIO_FORMS, 128.0, "1:N"),
    ("1:0", RATIO_FORMS, 0.0, "1:N"),
    ("0.8 %", RATIO_FORMS, 0.8, "%"),
    ("0.8 percent", RATIO_FORMS, 0.8, "%"),
    ("150 percent", RATIO_FORMS, 150.0, "%"),
    ("-3", OFFERED["L"], -3.0, None),
    ("-3 L", OFFERED["L"], -3.0, "L"),
    ("100", RATIO_FORMS, 100.0, None),
    ("", OFFERED["L"], None, None),
    ("   ", OFFERED["L"], None, None),
    ("twelve", OFFERED["L"], "twelve", None),
    ("L", OFFERED["L"], "L", None),
]


@pytest.mark.parametrize(("text", "offered", "number", "unit"), READ)
def test_with_unit(text: str, offered: tuple[str, ...], number: object, unit: str | None) -> None:
    assert with_unit(text, offered) == (number, unit)


CONVERTED = [
    # Exact by definition (NIST SP 811): the first unit offered is the one converted to.
    ("2 quart", OFFERED["L"], 2 * 0.946352946),
    ("1 ft^3", OFFERED["L"], 28.316846592),
    ("1 foot**3", OFFERED["L"], 28.316846592),
    ("3 pounds", OFFERED["kg"], 3 * 0.45359237),
    ("1 atm", OFFERED["kPa"], 101.325),
    ("0.2 g/m^3", OFFERED["mg/L"], 0.2),
    ("1 mile", OFFERED["m"], 1609.344),
    ("1 hour", OFFERED["s"], 3600.0),
]


@pytest.mark.parametrize(("text", "offered", "number"), CONVERTED)
def test_other_units_are_converted(text: str, offered: tuple[str, ...], number: float) -> None:
    value, unit = with_unit(text, offered)
    assert value == pytest.approx(number, rel=1e-12)
    assert unit == offered[0]


REFUSED = [
    ("12 pounds/acre", OFFERED["L"]),
    ("12 psi", OFFERED["L"]),
    ("12 hogsheads of it", OFFERED["L"]),
    ("12 L L", OFFERED["L"]),
    ("12 3", OFFERED["L"]),
    ("1:128", OFFERED["L"]),
    ("1 to 100", RATIO_FORMS),
    ("100 parts", RATIO_FORMS),
    ("100 ppm", RATIO_FORMS),
    ("12 __import__('os')", OFFERED["L"]),
    ("12 L.__class__", OFFERED["L"]),
    ("12 9**9**9**9", OFFERED["L"]),
    ("12 L^99999999", OFFERED["L"]),
    ("12 " + "(" * 3000, OFFERED["L"]),
    ("12 " + "L*" * 3000 + "L", OFFERED["L"]),
]


@pytest.mark.parametrize(("text", "offered"), REFUSED, ids=lambda each: str(each)[:20])
def test_units_of_something_else_are_refused(text: str, offered: tuple[str, ...]) -> None:
    began = time.monotonic()
    with pytest.raises(NotListed) as caught:
        with_unit(text, offered)
    assert "use one of: " + ", ".join(offered) in str(caught.value)
    assert "\n" not in str(caught.value)
    assert time.monotonic() - began < 10


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", 12.0),
        ("1,200", 1200.0),
        ("-0.5e-3", -0.0005),
        ("", None),
        (" ", None),
        ("dry", "dry"),
        ("12 L", "12 L"),
        ("0x10", "0x10"),
        ("nan", "nan"),
        ("inf", "inf"),
        ("1_000", "1_000"),
    ],
)
def test_plain(text: str, value: object) -> None:
    assert plain(text) == value


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("25.2; 24.8; 25.6", [25.2, 24.8, 25.6]),
        ("25.2, 24.8, 25.6", [25.2, 24.8, 25.6]),
        ("25.2 24.8", [25.2, 24.8]),
        ("25.2;;25.6", [25.2, None, 25.6]),
        ("1,200; 1,300", [1200.0, 1300.0]),
        ("25; x", [25.0, "x"]),
        ("25", [25.0]),
        ("", [None]),
    ],
)
def test_plain_run(text: str, values: list[object]) -> None:
    assert plain_run(text) == values
