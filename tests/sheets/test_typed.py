"""What people type: numbers with units, ratios, percents, runs of readings."""

from __future__ import annotations

import time

import pytest

from tanksheet.errors import NotListed
from tanksheet.sheets.choices import ALKALINITY_UNITS, ION_UNITS, OFFERED, nutrient_units
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.sheets.numerals import UnclearNumber
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
    ("1:128", OFFERED["L"]),
    ("1 to 100", RATIO_FORMS),
    ("2:100", RATIO_FORMS),
    ("100 parts", RATIO_FORMS),
    ("100 ppm", RATIO_FORMS),
    ("12 __import__('os')", OFFERED["L"]),
    ("12 L.__class__", OFFERED["L"]),
    ("12 L**9**9**9", OFFERED["L"]),
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
        ("26.11.2026", "26.11.2026"),
        ("row 5, left", "row 5, left"),
        ("5, left", "5, left"),
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
        ("1 200; 1 300", [1200.0, 1300.0]),
        ("1,200, 1,300", [1200.0, 1300.0]),
        ("1,505;", [1505.0, None]),
        ("100; 200", [100.0, 200.0]),
        ("100, 200", [100.0, 200.0]),
        ("99 98", [99.0, 98.0]),
        ("25.2\n24.8\n\n", [25.2, 24.8]),
        ("", [None]),
    ],
)
def test_plain_run(text: str, values: list[object]) -> None:
    assert plain_run(text) == values


# The rule: a point is the decimal sign, commas (apostrophes, blanks) stand between groups of three
# digits. Blanks as ISO 80000-1 sets them; apostrophes and commas are common practice, no source.
GROUPED = [
    ("1,505", 1505.0),
    ("1,505.25", 1505.25),
    ("1,234,567.8", 1234567.8),
    ("12,345", 12345.0),
    ("-1,505", -1505.0),
    ("+5", 5.0),
    ("\u22125", -5.0),
    ("1 505", 1505.0),
    ("1\u00a0505", 1505.0),
    ("1\u2009505.5", 1505.5),
    ("1\u202f505", 1505.0),
    ("1'505", 1505.0),
    ("1\u2019505", 1505.0),
    ("5.", 5.0),
    ("1e3", 1000.0),
    ("1E3", 1000.0),
    ("1.5e-3", 0.0015),
    ("0.125", 0.125),
]


@pytest.mark.parametrize(("text", "number"), GROUPED)
def test_marks_between_groups_of_three(text: str, number: float) -> None:
    assert plain(text) == number
    assert with_unit(text, OFFERED["mg/L"]) == (number, None)
    assert with_unit(f"{text} ppm", OFFERED["mg/L"]) == (number, "ppm")
    assert plain_run(f"{text};7") == [number, 7.0]


# Each with both readings, as the message must spell them out.
UNCLEAR = [
    ("150,5", "150.5", "1505"),
    ("0,8", "0.8", "8"),
    ("1,5", "1.5", "15"),
    ("-1,5", "-1.5", "-15"),
    (",5", "0.5", "5"),
    ("0,125", "0.125", "125"),
    ("10,00", "10.00", "1000"),
    ("1,0000", "1.0000", "10000"),
    ("1,5e3", "1.5e3", "15e3"),
    ("1.505,5", "1505.5", "1.5055"),
    ("1 505,5", "1505.5", "15055"),
    ("1'505,5", "1505.5", "15055"),
    ("12 3", "12.3", "123"),
    ("12'3", "12.3", "123"),
    ("150, 5", "150.5", "1505"),
]


@pytest.mark.parametrize(("text", "one", "other"), UNCLEAR)
def test_a_comma_is_never_dropped(text: str, one: str, other: str) -> None:
    """In Python terms: a tenfold dose."""
    for call, unit in (
        (lambda: plain(text), ""),
        (lambda: plain_run(f"{text}; 24,9"), ""),
        (lambda: with_unit(text, OFFERED["mg/L"]), ""),
        (lambda: with_unit(f"{text} ppm", OFFERED["mg/L"]), " ppm"),
        (lambda: with_unit(f"{text} %", RATIO_FORMS), " %"),
    ):
        with pytest.raises(UnclearNumber) as caught:
            call()
        assert str(caught.value).endswith(f"write {one}{unit} or {other}{unit}")
    with pytest.raises(UnclearNumber) as caught:
        with_unit(f"1:{text}", RATIO_FORMS)
    assert str(caught.value).endswith(f"write 1:{one} or 1:{other}")


@pytest.mark.parametrize(
    "text",
    ["1.234.567", "1,23,456", "1,000,00", "5,", "1e3,5", "25.2 24.8", "1..5", "1,505.5.5", "1e400"],
)
def test_what_is_not_one_number(text: str) -> None:
    with pytest.raises(UnclearNumber, match="is not one number|too large"):
        with_unit(f"{text} ppm", OFFERED["mg/L"])


@pytest.mark.parametrize("text", ["1:", "1:x", "1:100:5", "1:100 L", "1:1,5", "1:100, 200"])
def test_what_is_no_ratio(text: str) -> None:
    with pytest.raises(UnclearNumber, match="write 1:"):
        with_unit(text, RATIO_FORMS)
    assert with_unit("1:1,000", RATIO_FORMS) == (1000.0, "1:N")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("25,1; 24,9", "write 25.1 or 251"),
        ("25,1, 24,9", "write 25.1 or 251"),
        ("25,1 24,9", "write 25.1 or 251"),
        ("25,1", "write 251 or 25; 1 or 25.1"),
        ("100,200", "write 100200 or 100; 200 or 100.200"),
        ("25,24,26", "write 252426 or 25; 24; 26"),
        ("25.1,24.9", "write 25.1; 24.9"),
        ("1 505", "write 1505 or 1; 505"),
        ("25.2 1 505", "write 1505 or 1; 505"),
        ("1 505 000", "write 1505000 or 1; 505; 000"),
        ("1 000.5, 2", "write 1000 or 1; 000"),
        ("25,1\n24,9", "write 25.1 or 251"),
    ],
)
def test_a_run_with_a_comma_that_may_be_two_things(text: str, says: str) -> None:
    with pytest.raises(UnclearNumber) as caught:
        plain_run(text)
    assert str(caught.value).endswith(says)


@pytest.mark.parametrize(
    ("text", "offered", "number", "unit"),
    [
        ("12 gpg", ALKALINITY_UNITS, 12.0, "gpg"),
        ("8 dH", ALKALINITY_UNITS, 8.0, "dH"),
        ("8 °dH", ALKALINITY_UNITS, 8.0, "dH"),
        ("8 deg dH", ALKALINITY_UNITS, 8.0, "dH"),
        ("30 °fH", ALKALINITY_UNITS, 30.0, "fH"),
        ("20 °e", ALKALINITY_UNITS, 20.0, "e"),
        ("4 meq/L", ALKALINITY_UNITS, 4.0, "meq/L"),
        ("1.2 mmho/cm", OFFERED["mS/cm"], 1.2, "mmho/cm"),
        ("800 umho/cm", OFFERED["mS/cm"], 800.0, "umho/cm"),
        ("800 µmho/cm", OFFERED["mS/cm"], 800.0, "umho/cm"),
        ("800 µS/cm", OFFERED["mS/cm"], 800.0, "uS/cm"),
        ("40 ppm P2O5", nutrient_units("P"), 40.0, "ppm P2O5"),
        ("40 mg/L as p2o5", nutrient_units("P"), 40.0, "ppm P2O5"),
        ("200 ppm K2O", nutrient_units("K"), 200.0, "ppm K2O"),
        ("5 mmol/L", nutrient_units("K"), 5.0, "mmol/L"),
        ("5 meq/L", nutrient_units("Ca"), 5.0, "meq/L"),
        ("150 mg/L", nutrient_units("N"), 150.0, "mg/L"),
    ],
)
def test_units_of_water_and_nutrients(
    text: str, offered: tuple[str, ...], number: float, unit: str
) -> None:
    assert with_unit(text, offered) == (number, unit)


# One degree, one digit, one sign of a ratio, whatever the keyboard makes of it.
@pytest.mark.parametrize(
    ("text", "offered", "number", "unit"),
    [
        ("20 \u00b0C", OFFERED["degC"], 20.0, "degC"),
        ("20\u00baC", OFFERED["degC"], 20.0, "degC"),
        ("20 \u2103", OFFERED["degC"], 20.0, "degC"),
        ("20 deg C", OFFERED["degC"], 20.0, "degC"),
        ("-5 C", OFFERED["degC"], -5.0, "degC"),
        ("68\u00b0F", OFFERED["degC"], 68.0, "degF"),
        ("68 fahrenheit", OFFERED["degC"], 68.0, "degF"),
        ("\uff11\uff15\uff10 ppm", OFFERED["mg/L"], 150.0, "ppm"),
        ("\u0661\u0665\u0660\u066b\u0665 ppm", OFFERED["mg/L"], 150.5, "ppm"),
        ("1\uff1a100", RATIO_FORMS, 100.0, "1:N"),
        ("1\u2236100", RATIO_FORMS, 100.0, "1:N"),
        ("11 grains/gal", ION_UNITS["Ca"], 11.0, "gpg"),
        ("11 grains per gallon", ION_UNITS["Ca"], 11.0, "gpg"),
        ("305 mg/L HCO3", ION_UNITS["HCO3"], 305.0, "mg/L as HCO3"),
        ("250 ppm CaCO3", ION_UNITS["HCO3"], 250.0, "mg/L as CaCO3"),
    ],
)
def test_other_spellings(text: str, offered: tuple[str, ...], number: float, unit: str) -> None:
    assert with_unit(text, offered) == (number, unit)


@pytest.mark.parametrize(
    ("text", "offered"),
    [
        # A grain in a gallon is one of calcium carbonate: 11 of them are 75 mg/L Ca and not 188.
        ("11 grains/gal", nutrient_units("N")),
        # 250 mg/L is 4.1 meq/L of bicarbonate and 5.0 counted as CaCO3.
        ("250 mg/L", ION_UNITS["HCO3"]),
        ("250 ppm", ION_UNITS["HCO3"]),
        ("10 mg/L", ION_UNITS["NO3"]),
        # Products, to whoever multiplies what stands side by side.
        ("5 gal 3", OFFERED["L"]),
        ("5 L*2", OFFERED["L"]),
        ("5 L/2", OFFERED["L"]),
        ("12 °dH", OFFERED["mg/L"]),
        ("50 mg/L as CaCO3", nutrient_units("N")),
        ("50 ppm P2O5", nutrient_units("K")),
        ("5 meq/L", OFFERED["mg/L"]),
        ("12 gpg", nutrient_units("N")),
    ],
)
def test_an_amount_of_something_else_is_refused(text: str, offered: tuple[str, ...]) -> None:
    with pytest.raises(NotListed, match="does not fit here"):
        with_unit(text, offered)


def test_a_capital_that_may_be_a_prefix_is_asked_about() -> None:
    with pytest.raises(NotListed, match="millilitres or megalitres"):
        with_unit("2 ML", OFFERED["L"])
    assert with_unit("2 mL", OFFERED["L"]) == (2.0, "mL")


@pytest.mark.parametrize("text", ["100:1", "1/100", "1 in 100", "1 to 100", "2:100"])
def test_how_a_ratio_is_written(text: str) -> None:
    with pytest.raises(NotListed, match="write 1:100 or 1 %"):
        with_unit(text, RATIO_FORMS)
