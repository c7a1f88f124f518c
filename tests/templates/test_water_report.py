"""The water report against worked figures, and where its verdicts turn.

Limits: Ayers and Westcot 1985, FAO Irrigation and Drainage Paper 29 rev. 1, table 1 (in me/L for
chloride, sodium and bicarbonate), and Bucks, Nakayama and Gilbert 1979 as FAO 29 reprints them.
"""

from __future__ import annotations

from typing import Any

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

# Ca 80, Mg 12, Cl 20, SO4 30 mg/L, alkalinity 250 mg/L as CaCO3, sodium by charge balance.
WATER: dict[str, Any] = {
    "calcium": 80,
    "magnesium": 12,
    "sodium": 27.7,
    "sodium_unit": "mg/L",
    "potassium": None,
    "ammonium": None,
    "bicarbonate": 250,
    "sulfate": 30,
    "chloride": 20,
    "nitrate": None,
}


def results(**settings: Any) -> dict[str, Value]:
    return evaluate(book("water-report"), {**WATER, **settings})


def test_a_hard_water_against_phreeqc() -> None:
    """PHREEQC 3.8, phreeqc.dat: 598 uS/cm, sum of cations 6.18 meq/L. Tolerance 3 % for the
    conductivity, which is what the formula promises; 0.2 % for the sum, printed to 3 digits."""
    found = results(ec_measured=598)
    assert found["ec_of_ions"] == pytest.approx(0.598, rel=0.03)
    assert found["cations"] == pytest.approx(6.18, rel=0.002)
    assert found["alkalinity_caco3"] == pytest.approx(250)
    assert abs(float(str(found["balance"]))) < 0.2
    assert str(found["balance_check"]).startswith("pass")
    assert str(found["ec_check"]).startswith("pass")


def test_hardness_by_the_method_s_own_factors() -> None:
    """Standard Methods 2340 B (from memory): 2.497 Ca + 4.118 Mg, in mg/L; four digits."""
    assert results()["total_hardness"] == pytest.approx(2.497 * 80 + 4.118 * 12, rel=5e-4)


@pytest.mark.parametrize(
    ("name", "one", "other"),
    [
        # 1 meq/L is 50.043 mg/L as CaCO3, half of 100.086 g/mol (IUPAC atomic weights).
        ("calcium", (200.172, "mg/L as CaCO3"), (2, "mmol/L")),
        ("calcium", (80.156, "ppm"), (4, "meq/L")),
        ("bicarbonate", (305.08, "mg/L as HCO3"), (250.215, "mg/L as CaCO3")),
        ("nitrate", (62.004, "mg/L as NO3"), (14.007, "mg/L as N")),
        ("ammonium", (18.039, "mg/L as NH4"), (14.007, "mg/L as N")),
        ("sulfate", (96.056, "mg/L as SO4"), (32.06, "mg/L as S")),
        ("boron", (500, "ug/L"), (0.5, "mg/L")),
        ("iron", (55.845, "mg/L"), (1000, "umol/L")),
    ],
)
def test_units_of_a_line_agree(name: str, one: tuple[Any, str], other: tuple[Any, str]) -> None:
    first = results(**{name: one[0], f"{name}_unit": one[1]})
    second = results(**{name: other[0], f"{name}_unit": other[1]})
    key = book("water-report").key_for(name)
    assert first[key] == pytest.approx(second[key], rel=1e-9)
    assert float(str(first[key])) > 0


def test_sodium_adsorption_of_a_textbook_water() -> None:
    """Na 63, Ca 108, Mg 33 mg/L: SAR 1.36 (textbook example 6.8, supply B, drdarrinlew.us)."""
    found = results(sodium=63, calcium=108, magnesium=33)
    assert found["sar_value"] == pytest.approx(1.361, abs=0.002)


def test_nutrients_count_nitrate_and_ammonium() -> None:
    found = results(nitrate=6, ammonium=2, ammonium_unit="mg/L as N")
    assert found["brings_n"] == pytest.approx(8)
    assert found["brings_ca"] == pytest.approx(80)
    # 96.056 g of sulfate hold 32.06 g of sulfur (IUPAC atomic weights).
    assert found["brings_s"] == pytest.approx(30 * 32.06 / 96.056)


def meq(name: str, amount: float) -> dict[str, Any]:
    return {name: amount, f"{name}_unit": "meq/L"}


def ec(reading: float) -> dict[str, Any]:
    return {"ec_measured": reading, "ec_measured_unit": "mS/cm"}


@pytest.mark.parametrize(
    ("check", "settings", "verdict"),
    [
        ("salinity_check", ec(0.69), "pass"),
        ("salinity_check", ec(0.7), "caution"),
        ("salinity_check", ec(3.0), "caution"),
        ("salinity_check", ec(3.01), "stop"),
        ("chloride_check", meq("chloride", 3.9), "pass"),
        ("chloride_check", meq("chloride", 4), "caution"),
        ("chloride_check", meq("chloride", 10.1), "stop"),
        ("chloride_check", {"chloride": None}, "not given"),
        ("boron_check", {"boron": 0.69}, "pass"),
        ("boron_check", {"boron": 0.71}, "caution"),
        ("boron_check", {"boron": 3.1}, "stop"),
        ("boron_check", {"boron": None}, "not given"),
        ("nitrate_check", {"nitrate": 4.9}, "pass"),
        ("nitrate_check", {"nitrate": 29}, "caution"),
        ("nitrate_check", {"nitrate": 31}, "stop"),
        ("bicarbonate_check", meq("bicarbonate", 1.4), "pass"),
        ("bicarbonate_check", meq("bicarbonate", 8.4), "caution"),
        ("bicarbonate_check", meq("bicarbonate", 8.6), "stop"),
        ("overhead_check", meq("sodium", 3.0), "pass"),
        ("overhead_check", meq("sodium", 3.1), "caution"),
        ("overhead_check", meq("chloride", 3.1), "caution"),
        ("ph_check", {"water_ph": 6.5}, "pass"),
        ("ph_check", {"water_ph": 8.5}, "caution"),
        ("clog_ph", {"water_ph": 6.9}, "pass"),
        ("clog_ph", {"water_ph": 7.5}, "caution"),
        ("clog_ph", {"water_ph": 8.1}, "stop"),
        ("clog_dissolved", {"dissolved": 499}, "pass"),
        ("clog_dissolved", {"dissolved": 501}, "caution"),
        ("clog_dissolved", {"dissolved": 2001}, "stop"),
        ("clog_dissolved", ec(3.2), "stop"),  # 640 mg/L for each mS/cm is 2048
        ("clog_suspended", {"suspended": 49}, "pass"),
        ("clog_suspended", {"suspended": 101}, "stop"),
        ("clog_suspended", {"suspended": None}, "not given"),
        ("clog_iron", {"iron": 0.09, "iron_unit": "mg/L"}, "pass"),
        ("clog_iron", {"iron": 100.1, "iron_unit": "ug/L"}, "caution"),
        ("clog_iron", {"iron": 1.6, "iron_unit": "ppm"}, "stop"),
        ("clog_manganese", {"manganese": 1.6}, "stop"),
        ("clog_lime", {**meq("bicarbonate", 2.0), "water_ph": 7.6}, "caution"),
        ("clog_lime", {**meq("bicarbonate", 1.9), "water_ph": 7.6}, "pass"),
        ("clog_lime", {**meq("bicarbonate", 2.0), "water_ph": 7.5}, "pass"),
    ],
)
def test_where_verdicts_turn(check: str, settings: dict[str, Any], verdict: str) -> None:
    assert str(results(**settings)[check]).startswith(verdict)


@pytest.mark.parametrize(
    ("sar", "none_above", "severe_below"),
    [(2, 0.7, 0.2), (5, 1.2, 0.3), (10, 1.9, 0.5), (18, 2.9, 1.3), (30, 5.0, 2.9)],
)
def test_infiltration_table(sar: float, none_above: float, severe_below: float) -> None:
    """FAO 29 table 1. With 1 meq/L each of calcium and magnesium SAR equals sodium in meq/L."""
    salts = {**meq("sodium", sar), **meq("calcium", 1), **meq("magnesium", 1)}

    def verdict(reading: float) -> str:
        return str(results(**salts, **ec(reading))["infiltration_check"]).partition(":")[0]

    assert results(**salts)["sar_value"] == pytest.approx(sar)
    assert verdict(none_above + 0.01) == "pass"
    assert verdict(none_above - 0.01) == "caution"
    assert verdict(severe_below + 0.01) == "caution"
    assert verdict(severe_below - 0.01) == "stop"


def test_charge_balance_verdicts() -> None:
    """5 and 10 %: common practice in water laboratories, no source."""
    balanced = {name: 0 for name in WATER if not name.endswith("_unit")}

    def verdict(cations: float, anions: float) -> str:
        settings = {**balanced, **meq("calcium", cations), **meq("chloride", anions)}
        return str(results(**settings)["balance_check"])

    assert verdict(10.4, 9.6).startswith("pass")  # 4 %
    assert verdict(10.8, 9.2).startswith("caution")  # 8 %
    assert "too few anions" in verdict(11.2, 8.8)  # 12 %
    assert "too few cations" in verdict(8.8, 11.2)
    assert verdict(11.2, 8.8).startswith("stop")


def test_a_blank_report_says_so() -> None:
    found = results(**{name: None for name in WATER if not name.endswith("_unit")}, ec_measured="")
    assert found["balance"] == "not given"
    assert str(found["balance_check"]).startswith("not given")
    for check in ("salinity_check", "infiltration_check", "sodium_check", "clog_dissolved"):
        assert found[check] == "not given"
    assert found["ec_check"] == "not measured"


def test_an_uncorrected_reading_is_brought_to_25_degrees() -> None:
    """KCl 0.01 mol/kg reads 1.27303 at 20 and 1.40823 mS/cm at 25 degC (CRC Handbook); 0.1 %."""
    found = results(**ec(1.27303), meter="not corrected", temperature=68)
    assert found["ec_at_25"] == pytest.approx(1.40823, rel=1e-3)
    assert results(**ec(1.27303))["ec_at_25"] == pytest.approx(1.27303)


def test_meter_verdicts() -> None:
    """10 and 20 %: common practice, no source."""
    ions = float(str(results()["ec_of_ions"]))
    for share, verdict in ((1.08, "pass"), (1.15, "caution"), (1.3, "stop"), (0.7, "stop")):
        assert str(results(**ec(ions * share))["ec_check"]).startswith(verdict)


def test_text_on_a_line_is_an_error_not_a_zero() -> None:
    found = results(chloride="twenty")
    assert found["chloride_meq"] == found["anions"] == found["chloride_check"] == SheetError.VALUE
    assert "type a number" in str(found["chloride_note"])


def test_a_unit_of_another_ion_is_refused() -> None:
    assert results(calcium_unit="mg/L as N")["calcium_meq"] == SheetError.NA
