"""The water report against worked figures, and where its verdicts turn.

Limits: Ayers and Westcot 1985, FAO Irrigation and Drainage Paper 29 rev. 1, table 1 (in me/L for
chloride, sodium and bicarbonate), and Bucks, Nakayama and Gilbert 1979 as FAO 29 reprints them.
"""

from __future__ import annotations

from typing import Any

import pytest

from phreeqc_runs import run, solution
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
    "carbonate": None,
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
        # 1 gpg is 17.118 mg/L as CaCO3, 1 dH 17.848, 1 fH 10 (by hand; NIST, IUPAC masses).
        ("magnesium", (10, "gpg"), (171.1806104527, "mg/L as CaCO3")),
        ("bicarbonate", (10, "dH"), (178.479590563, "mg/L as CaCO3")),
        ("bicarbonate", (10, "fH"), (100, "mg/L as CaCO3")),
        ("carbonate", (60.008, "mg/L"), (2, "meq/L")),
        ("hardness", (10, "gpg"), (171.1806104527, "mg/L as CaCO3")),
        ("hardness", (10, "dH"), (178.479590563, "ppm")),
        ("ec_measured", (610, "umho/cm"), (0.61, "dS/m")),
        ("ec_measured", (0.61, "mmho/cm"), (610, "uS/cm")),
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
        # Bucks, Nakayama and Gilbert 1979.
        ("clog_sulfide", {"sulfide": 0.49, "sulfide_unit": "mg/L"}, "pass"),
        ("clog_sulfide", {"sulfide": 0.51}, "caution"),
        ("clog_sulfide", {"sulfide": 2.1}, "stop"),
        ("clog_sulfide", {"sulfide": None}, "not given"),
        ("clog_bacteria", {"bacteria": 9_999}, "pass"),
        ("clog_bacteria", {"bacteria": 10_001}, "caution"),
        ("clog_bacteria", {"bacteria": 50_001}, "stop"),
        ("clog_bacteria", {"bacteria": None}, "not given"),
        # Wilcox 1955, USDA Circular 969, beside 4.98 meq/L of calcium with magnesium.
        ("residual_check", meq("bicarbonate", 6.2), "pass"),
        ("residual_check", meq("bicarbonate", 6.3), "caution"),
        ("residual_check", meq("bicarbonate", 7.6), "stop"),
        ("residual_check", {**meq("bicarbonate", 5.2), **meq("carbonate", 1.1)}, "caution"),
        ("residual_check", {"magnesium": None}, "not given"),
        ("residual_check", {"magnesium": None, "hardness": 250}, "pass"),
        ("residual_check", {"bicarbonate": None}, "not given"),
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


def test_thin_water_is_judged_by_what_a_laboratory_can_tell() -> None:
    """Standard Methods 1030 E (from memory): 0.2 meq/L up to 3 meq/L of anions. The meter's 0.02
    mS/cm: common practice, no source."""
    nothing = {name: 0 for name in WATER if not name.endswith("_unit")}

    def said(check: str, cations: float, anions: float, reading: float = 0.02) -> str:
        salts = {**meq("sodium", cations), **meq("chloride", anions), **ec(reading)}
        return str(results(**{**nothing, **salts, "hardness": None, "dissolved": None})[check])

    assert said("balance_check", 0.29, 0.1).startswith("pass")
    assert said("balance_check", 0.31, 0.1).startswith("stop")
    assert said("balance_check", 3.7, 3.1).startswith("caution")
    assert said("ec_check", 0.02, 0.02, 0.015).startswith("pass")
    assert said("ec_check", 0.02, 0.02, 0.03).startswith("stop")
    assert said("ec_check", 0.0, 0.0, 0.019).startswith("pass")


def test_calcium_alone_may_not_exceed_the_hardness() -> None:
    """80 mg/L of calcium alone are 200 mg/L as CaCO3, by the definition of hardness."""
    for hardness, said in ((150, "stop"), (250, "not used")):
        found = results(magnesium=None, hardness=hardness)["hardness_check"]
        assert str(found).startswith(said)


@pytest.mark.parametrize(
    ("name", "check"),
    [("iron", "clog_iron"), ("chloride", "chloride_check"), ("nitrate", "nitrate_check")],
)
def test_a_line_is_called_by_its_name(name: str, check: str) -> None:
    """The line at the top repeats the words alone."""
    assert str(results(**{name: 2.5})[check]).split(": ")[1].startswith(f"{name} ")
    assert str(results(**{name: None})[check]) == f"not given: {name}"


def test_a_blank_report_says_so() -> None:
    blank = [name for name in book("water-report").entries if not name.endswith("_unit")]
    found = results(**{name: None for name in blank if name != "meter"})
    assert found["balance"] == "not given"
    for key, said in found.items():
        if key.endswith("_check") or key.startswith("clog"):
            assert str(said).startswith(("not given", "not used")), (key, said)
    for key in (
        "sar_value",
        "hard_meq",
        "total_hardness",
        "alkalinity_caco3",
        "residual",
        "solids",
    ):
        assert found[key] == "not given"
    for key in ("calcite", "ec_used", "ec_at_25", "brings_n", "brings_k", "brings_ca", "brings_s"):
        assert found[key] == "not given"
    assert str(found["overall"]).startswith("not given")


CHECKED = {
    "sodium": ("sodium_check", "infiltration_check", "overhead_check", "balance_check", "ec_check"),
    "calcium": ("sodium_check", "residual_check", "calcite_check", "balance_check", "ec_check"),
    "magnesium": ("sodium_check", "infiltration_check", "residual_check", "balance_check"),
    "bicarbonate": ("bicarbonate_check", "residual_check", "calcite_check", "balance_check"),
    "chloride": ("chloride_check", "overhead_check", "balance_check", "ec_check"),
    "sulfate": ("balance_check", "ec_check"),
    "water_ph": ("ph_check", "calcite_check"),
    "temperature": ("calcite_check",),
    "ec_measured": ("ec_check",),
    "boron": ("boron_check",),
    "nitrate": ("nitrate_check",),
    "iron": ("clog_iron",),
}


@pytest.mark.parametrize("name", CHECKED)
@pytest.mark.parametrize("typed", [None, "much"])
def test_a_line_left_out_passes_nothing(name: str, typed: str | None) -> None:
    """A blank is not 0 and a text is no number: neither passes what needs the line."""
    given: dict[str, Any] = {"ec_measured": 598, "nitrate": 2.5}
    before, found = results(**given), results(**{**given, name: typed})
    for check in CHECKED[name]:
        assert not str(before[check]).startswith("not"), (check, before[check])
        said = found[check]
        assert isinstance(said, str) and not isinstance(said, SheetError), (check, said)
        assert said.startswith(("not given", "not checked")), (check, said)


def test_conductivity_of_ions_stands_in_for_the_meter_only_if_all_are_there() -> None:
    assert str(results(ec_measured=None)["salinity_check"]).startswith("pass")
    found = results(ec_measured=None, sulfate=None)
    assert found["ec_used"] == "not given"
    for check in ("salinity_check", "infiltration_check", "clog_dissolved"):
        assert str(found[check]).startswith("not given")


def test_sodium_alone_has_no_ratio() -> None:
    """A softened water: SAR grows without limit as calcium and magnesium go (its definition)."""
    soft = {"calcium": 0, "magnesium": 0}
    for check in ("sodium_check", "infiltration_check"):
        assert str(results(**soft)[check]).startswith("stop: sodium with no calcium")
    assert results(**soft, sodium=0)["sar_value"] == 0


def test_hardness_stands_in_for_calcium_and_magnesium() -> None:
    """Na 63, Ca 108, Mg 33 mg/L: SAR 1.36 (the textbook's water above), whose hardness is 2.497 Ca
    + 4.118 Mg = 405.6 mg/L as CaCO3 (Standard Methods 2340 B)."""
    found = results(sodium=63, calcium=None, magnesium=None, hardness=405.6)
    assert found["sar_value"] == pytest.approx(1.361, abs=0.002)
    assert found["total_hardness"] == pytest.approx(405.6)


@pytest.mark.parametrize(
    ("printed", "verdict"), [(249, "pass"), (290, "caution"), (350, "stop"), (None, "not used")]
)
def test_hardness_beside_its_ions(printed: float | None, verdict: str) -> None:
    """249.2 mg/L as CaCO3 by 2.497 Ca + 4.118 Mg; 10 and 20 %: common practice, no source."""
    assert str(results(hardness=printed)["hardness_check"]).startswith(verdict)


def in_phreeqc(found: dict[str, Value], ph: float, celsius: float) -> float:
    """Calcite's saturation index of WATER with other calcium and alkalinity: PHREEQC 3.8."""
    ions = {
        "calcium": number(found["calcium_in_mmolL"]),
        "magnesium": 12 / 24.305,
        "sodium": 27.7 / 22.9898,
        "sulfate": 30 / 96.056,
        "chloride": 20 / 35.45,
        "bicarbonate": number(found["alkalinity_meq"]),
    }
    block = solution(ions, ph=f"{ph}", balance="chloride", celsius=celsius)
    return run("phreeqc.dat", block, {"index": 'SI("Calcite")'})[0]["index"]


def number(value: Value) -> float:
    assert isinstance(value, float)
    return value


@pytest.mark.parametrize(
    ("calcium", "alkalinity", "ph", "celsius", "verdict"),
    [
        (8, 8, 7.5, 35, "stop"),
        (0.5, 0.5, 8.3, 20, "pass"),
        (4, 5, 7.2, 15, "caution"),
        (4, 5, 7.6, 15, "caution"),
        (4, 5, 6.5, 25, "pass"),
        (1.5, 2.0, 7.6, 20, "pass"),
        (6, 6, 7.8, 25, "stop"),
    ],
)
def test_scale_against_phreeqc(
    calcium: float, alkalinity: float, ph: float, celsius: float, verdict: str
) -> None:
    """The index within 0.1 of PHREEQC's; 0 is saturation, 0.5 common practice without a source."""
    found = results(
        **meq("calcium", calcium),
        **meq("bicarbonate", alkalinity),
        water_ph=ph,
        temperature=celsius,
        temperature_unit="degC",
    )
    index = in_phreeqc(found, ph, celsius)
    assert found["calcite"] == pytest.approx(index, abs=0.1)
    assert str(found["calcite_check"]).startswith(verdict), (index, found["calcite_check"])
    assert verdict == ("stop" if index > 0.5 else "pass" if index < -0.1 else "caution"), index


def test_a_water_of_known_index() -> None:
    """Ca 8 and HCO3 8 meq/L at pH 7.5 and 35 degC: PHREEQC 3.8 gives +0.99; soft water at pH 8.3
    -0.33 (calcium and alkalinity 0.5 meq/L at 20 degC)."""
    hard = {**meq("calcium", 8), **meq("bicarbonate", 8), "water_ph": 7.5}
    warm = {"temperature": 35, "temperature_unit": "degC"}
    found = results(**hard, **warm)
    assert found["calcite"] == pytest.approx(0.99, abs=0.05)
    assert "scale" in str(found["calcite_check"]) and "acid to pH 6.5" in str(
        found["calcite_check"]
    )
    # A blank ion: the ionic strength follows the meter's reading.
    without = results(**hard, **warm, sulfate=None, ec_measured=950)
    assert without["calcite"] == pytest.approx(0.99, abs=0.06)
    assert without["strength"] == pytest.approx(13 * 0.95)


def test_the_worst_reason_stands_on_top() -> None:
    found = str(results(boron=3.1, iron=2, iron_unit="mg/L")["overall"])
    assert found.startswith("stop: boron 3.10 mg/L, above 3: for tolerant crops only")
    assert "2 stop" in found


def test_an_uncorrected_reading_is_brought_to_25_degrees() -> None:
    """KCl 0.01 mol/kg reads 1.27303 at 20 and 1.40823 mS/cm at 25 degC (CRC Handbook); 0.1 %."""
    found = results(**ec(1.27303), meter="not corrected", temperature=20)
    assert found["ec_at_25"] == pytest.approx(1.40823, rel=1e-3)
    assert results(**ec(1.27303))["ec_at_25"] == pytest.approx(1.27303)


def test_meter_verdicts() -> None:
    """10 and 20 %: common practice, no source."""
    ions = float(str(results()["ec_of_ions"]))
    for share, verdict in ((1.08, "pass"), (1.15, "caution"), (1.3, "stop"), (0.7, "stop")):
        assert str(results(**ec(ions * share))["ec_check"]).startswith(verdict)


def test_text_on_a_line_is_said_and_never_a_zero() -> None:
    found = results(chloride="twenty")
    assert found["chloride_meq"] == found["anions"] == SheetError.VALUE
    assert str(found["chloride_check"]).startswith(
        "not given: an entry above is blank or no number"
    )
    assert "type a number" in str(found["chloride_note"])


def test_a_unit_of_another_ion_is_refused() -> None:
    assert results(calcium_unit="mg/L as N")["calcium_meq"] == SheetError.NA
