"""``run FILE --into OTHER``: what is carried, in which unit, and what is said to stay behind."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from package_edits import GetWorkbook, add_name, add_sheet, cells_of, set_formula, type_into
from small_cells import SHEET, MakeBook
from tanksheet.cli import main
from tanksheet.recalc import ENGINES, differences
from tanksheet.sheets.amounts import Amount, as_typed, converted
from tanksheet.sheets.refreshed import formula_cells
from tanksheet.sheets.run import run
from tanksheet.tables import is_listed
from tanksheet.templates import TEMPLATES, book
from tanksheet.templates.carrying import MEANINGS
from tanksheet.xlsx.address import Value
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values
from tanksheet.xlsx.writing import read_parts

Capture = pytest.CaptureFixture[str]

# By hand from molar masses (IUPAC 2021, abridged): Ca 40.078, Mg 24.305, Na 22.990, K 39.098,
# N 14.007, O 15.999, S 32.06, Cl 35.45, H 1.008, C 12.011; a meq of CaCO3 is half of 100.086 mg.
BY_HAND = {
    "calcium=4 meq/L": ("water_ca_in_mgL", 4 * 40.078 / 2),
    "magnesium=0.5 mmol/L": ("water_mg_in_mgL", 0.5 * 24.305),
    "sodium=23 ppm": ("water_na_in_mgL", 23.0),
    "potassium=0.1 meq/L": ("water_k_in_mgL", 0.1 * 39.098),
    "sulfate=96.056 mg/L as SO4": ("water_s_in_mgL", 96.056 * 32.06 / (32.06 + 4 * 15.999)),
    "chloride=10 mg/L as CaCO3": ("water_cl_in_mgL", 10 / 50.043 * 35.45),
    "nitrate=44.3 mg/L as NO3": ("water_n_in_mgL", 44.3 * 14.007 / (14.007 + 3 * 15.999)),
    "bicarbonate=122 mg/L as HCO3": (
        "water_alkalinity_in_mgL",
        122 / (1.008 + 12.011 + 3 * 15.999) * 50.043,
    ),
    "ammonium=2.5 mg/L as NH4": ("water_nh4_in_mgL", 2.5 * 14.007 / (14.007 + 4 * 1.008)),
    "iron=150 ug/L": ("water_fe_in_mgL", 0.15),
    "manganese=2 umol/L": ("water_mn_in_mgL", 0.002 * 54.938),
    "boron=0.4 ppm": ("water_b_in_mgL", 0.4),
    "water_ph=7.9": ("water_ph", 7.9),
}


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


def carried(source: Path, into: Path, capsys: Capture, *more: str) -> tuple[Path, dict[str, Any]]:
    """The copy, and what is said of it."""
    out = into.with_name("out.xlsx")
    assert main(["run", str(source), "--into", str(into), "--out", str(out), "--json", *more]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert found["wrote"] == str(out)
    return out, found


def refused(arguments: list[str], capsys: Capture) -> str:
    """The one line that a command ends with."""
    assert main(arguments) == 2
    said = capsys.readouterr()
    lines = [line for line in said.err.splitlines() if not line.startswith("set ")]
    assert said.out == "" and len(lines) == 1
    return lines[0]


def stands(path: Path, name: str) -> Value:
    cell = cells_of(path)[name][0]
    return stored_values(Package(path), [cell])[cell]


def test_water_lines_into_a_recipe(workbook: GetWorkbook, capsys: Capture) -> None:
    report, recipe = workbook("water-report"), workbook("recipe")
    before = report.read_bytes(), recipe.read_bytes()
    settings = [word for each in BY_HAND for word in ("--set", each)]
    out, found = carried(report, recipe, capsys, *settings)
    wanted = dict(BY_HAND.values())
    got = run(out, book("recipe"), {}, list(wanted))
    assert got == {name: pytest.approx(value, rel=2e-4) for name, value in wanted.items()}
    assert len(found["carried"]) == len(BY_HAND)
    assert (report.read_bytes(), recipe.read_bytes()) == before
    assert sorted(each.name for each in recipe.parent.iterdir()) == sorted(
        [report.name, recipe.name, "out.xlsx"]
    )


def test_the_copy_is_the_workbook_with_new_numbers(workbook: GetWorkbook, capsys: Capture) -> None:
    """All else is byte for byte what it was, and the numbers in it are what an engine gives."""
    tank = workbook("stock-tank")
    out, found = carried(workbook("water-report"), tank, capsys)
    old, new = read_parts(tank.read_bytes()), read_parts(out.read_bytes())
    changed = {part for part in old if old[part] != new[part]}
    assert old.keys() == new.keys()
    assert changed and all(part.startswith("xl/worksheets/sheet") for part in changed)
    places = formula_cells(Package(out))
    assert places == formula_cells(Package(tank))
    with ENGINES["ironcalc"].open(out) as session:
        assert differences(session.calculate({}, places), stored_values(Package(out), places)) == []
    assert stands(out, "water_ca") == stands(workbook("water-report"), "calcium")
    assert {"from": "ec_at_25", "to": "ec_water", "unit": "mS/cm"}.items() <= next(
        each for each in found["carried"] if each["to"] == "ec_water"
    ).items()


def test_blanks_are_not_carried_as_zero(workbook: GetWorkbook, capsys: Capture) -> None:
    report, tank = workbook("water-report"), workbook("stock-tank")
    was = stands(tank, "water_ca"), stands(tank, "ec_water")
    out, found = carried(report, tank, capsys, "--set", "calcium=", "--set", "ec_measured=")
    assert (stands(out, "water_ca"), stands(out, "ec_water")) == was
    assert f"water_ca stays {was[0]:g} ppm: calcium is blank" in found["left"]
    assert [line for line in found["left"] if line.startswith("ec_water stays ")]
    assert "water_ca" not in {each["to"] for each in found["carried"]}
    # A zero that was typed is another thing.
    out, found = carried(report, tank, capsys, "--set", "calcium=0", "--force")
    assert stands(out, "water_ca") == 0


def test_what_has_no_place_is_said(workbook: GetWorkbook, capsys: Capture) -> None:
    _, found = carried(workbook("water-report"), workbook("stock-tank"), capsys)
    [line] = [line for line in found["left"] if line.startswith("no place in stock-tank.xlsx for ")]
    names = line.removeprefix("no place in stock-tank.xlsx for ").split(", ")
    assert {"magnesium", "sodium", "iron", "bacteria"} <= set(names)
    assert not {"calcium", "bicarbonate", "potassium", "calcium_unit"} & set(
        names
    )  # blank, carried


def test_alkalinity_counts_carbonate(workbook: GetWorkbook, capsys: Capture) -> None:
    """By hand: 305.1 mg/L of HCO3 is 5.000 meq/L, 30 mg/L of CO3 1.000 meq/L."""
    settings = ["--set", "bicarbonate=305.1 mg/L as HCO3", "--set", "carbonate=30"]
    out, found = carried(workbook("water-report"), workbook("acid"), capsys, *settings)
    got = run(out, book("acid"), {}, ["alkalinity_in_meqL"])
    assert got == {"alkalinity_in_meqL": pytest.approx(6.0, rel=3e-4)}
    [line] = [each for each in found["carried"] if each["to"] == "alkalinity"]
    assert (line["from"], line["unit"]) == ("bicarbonate", "meq/L")


def test_the_flow_of_a_zone(workbook: GetWorkbook, capsys: Capture) -> None:
    zone, acid = workbook("zone-flow"), workbook("acid")
    flow = run(zone, book("zone-flow"), {"method": "emitters"}, ["flow"])["flow"]
    out, found = carried(zone, acid, capsys, "--set", "method=emitters")
    got = run(out, book("acid"), {}, ["flow", "flow_unit", "flow_in_Lmin"])
    assert got == {"flow": flow, "flow_unit": "L/min", "flow_in_Lmin": flow}
    assert found["carried"] == [{"from": "flow", "to": "flow", "value": flow, "unit": "L/min"}]


def test_a_zone_without_a_flow(workbook: GetWorkbook, capsys: Capture) -> None:
    settings = ["--set", "method=strokes", "--set", "stroke_count="]
    acid = workbook("acid")
    call = ["run", str(workbook("zone-flow")), "--into", str(acid), *settings]
    line = refused(call, capsys)
    assert "zone-flow.xlsx has nothing for acid.xlsx; nothing was written; flow stays 45 " in line
    assert "flow is not measured" in line
    assert not acid.with_name("acid-with-zone-flow.xlsx").exists()


def test_the_acid_becomes_a_product(workbook: GetWorkbook, capsys: Capture) -> None:
    """In the place of the acid that stands there, for the recipe's own tank and setting: a tank
    twice as large as the acid workbook's at half its ratio takes as much."""
    acid, recipe, plan = workbook("acid"), workbook("recipe"), book("recipe")
    old = run(acid, book("acid"), {"tank": "50 L", "ratio": "1:100"}, ["acid", "acid_per_tank"])
    [row] = [i for i, p in enumerate(plan.entries["products"].default) if _is_acid(p)]
    tank = str(plan.entries["tanks"].default[row]).lower()
    type_into(recipe, f"tank_{tank}", 100.0)
    type_into(recipe, "ratio", 50.0)
    out, found = carried(acid, recipe, capsys)
    asked = [f"products[{row + 1}]", f"amounts[{row + 1}]", f"amount_units[{row + 1}]", "products"]
    got = run(out, plan, {}, asked)
    assert got[asked[0]] == old["acid"] != plan.entries["products"].default[row]
    assert got[asked[1]] == pytest.approx(old["acid_per_tank"], rel=1e-9)
    assert got[asked[2]] == "L"
    others = [each for i, each in enumerate(got["products"]) if i != row]
    assert others == [p for i, p in enumerate(plan.entries["products"].default) if i != row]
    assert {each["to"] for each in found["carried"]} >= {*asked[:2], "flow", "water_alkalinity"}


def test_an_acid_that_cannot_be_placed(workbook: GetWorkbook, capsys: Capture) -> None:
    acid, recipe, plan = workbook("acid"), workbook("recipe"), book("recipe")
    [row] = [i for i, p in enumerate(plan.entries["products"].default) if _is_acid(p)]
    products = [str(each) for each in plan.entries["products"].default]
    for other, says in (("phosphoric acid 85 %", "has 2 acids"), ("urea", "no row of products")):
        changed = [
            other if i == (row if other == "urea" else 0) else p for i, p in enumerate(products)
        ]
        cells = cells_of(recipe)["products"]
        fresh = recipe.with_name("changed.xlsx")
        fresh.write_bytes(recipe.read_bytes())
        for i, (cell, product) in enumerate(zip(cells, changed, strict=True)):
            add_name(fresh, f"one_product_{i}", f"'{cell.sheet}'!{cell.absolute}")
            type_into(fresh, f"one_product_{i}", product)
        out, found = carried(acid, fresh, capsys, "--force")
        assert [
            line
            for line in found["left"]
            if line.startswith("acid is not carried: ") and says in line
        ]
        assert run(out, plan, {}, ["products"])["products"] == changed


def _is_acid(product: Value) -> bool:
    return isinstance(product, str) and is_listed("acids", product)


def test_into_a_blank_workbook(workbook: GetWorkbook, tmp_path: Path, capsys: Capture) -> None:
    """What it still lacks does not hinder it."""
    assert main(["make", "acid", "--blank", "--out", str(tmp_path / "blank")]) == 0
    capsys.readouterr()
    out, found = carried(workbook("water-report"), tmp_path / "blank" / "acid.xlsx", capsys)
    assert stands(out, "alkalinity") == stands(workbook("water-report"), "bicarbonate")
    assert stands(out, "tank") is None


def test_the_same_workbook_takes_everything(
    workbook: GetWorkbook, tmp_path: Path, capsys: Capture
) -> None:
    """Entries into a fresh copy: tables, units, choices and blanks."""
    old, plan = workbook("zone-flow"), book("zone-flow")
    settings = {
        "bucket_time": "31; ; 33",
        "bucket": "12 L",
        "method": "strokes",
        "stroke_count": "40",
    }
    fresh = tmp_path / "fresh.xlsx"
    fresh.write_bytes(old.read_bytes())
    more = [word for name, value in settings.items() for word in ("--set", f"{name}={value}")]
    out, found = carried(old, fresh, capsys, *more)
    assert run(out, plan, {}) == run(old, plan, settings)
    assert found["left"] == []
    asked = ["bucket_time", "bucket", "bucket_unit"]
    assert run(out, plan, {}, asked) == {
        "bucket_time": [31.0, None, 33.0, None, None],
        "bucket": 12.0,
        "bucket_unit": "L",
    }


def test_to_and_from_ones_own_workbook(
    workbook: GetWorkbook, make_book: MakeBook, capsys: Capture
) -> None:
    """By their names; units are converted to the one that stands there (NIST SP 811)."""
    names = {"flow": "A$1", "flow_unit": "B$1", "mean_time": "A$2", "overall": "A$3", "half": "A$4"}
    own = make_book(
        {"A1": 1, "B1": "gpm", "A2": 2, "A3": "x", "A4": "=A1/2"},
        {name: f"'{SHEET}'!${place}" for name, place in names.items()},
        file="own.xlsx",
    )
    zone = workbook("zone-flow")
    flow, seconds = run(zone, book("zone-flow"), {}, ["flow", "mean_time"]).values()
    out, found = carried(zone, own, capsys)
    assert stands(out, "flow") == pytest.approx(flow / 3.785411784, rel=1e-9)
    assert (stands(out, "flow_unit"), stands(out, "mean_time")) == ("gpm", seconds)
    assert stands(out, "half") == pytest.approx(flow / 3.785411784 / 2, rel=1e-9)
    assert str(stands(out, "overall")).startswith("pass")
    again = out.with_name("filled.xlsx")
    out.rename(again)
    acid = workbook("acid")
    out, found = carried(again, acid, capsys)
    assert run(out, book("acid"), {}, ["flow_in_Lmin"])["flow_in_Lmin"] == pytest.approx(flow)


def test_what_the_other_would_refuse_or_has_its_own_formula_for(
    workbook: GetWorkbook, capsys: Capture
) -> None:
    acid = workbook("acid")
    set_formula(acid, "water_chloride", "5*4")
    much = ["--set", "bicarbonate=200 meq/L"]
    out, found = carried(workbook("water-report"), acid, capsys, *much)
    left = "\n".join(found["left"])
    assert "bicarbonate is not carried: acid.xlsx: Acid!" in left
    assert "(alkalinity) is 200 meq/L; it must be at least 0 meq/L and at most 100 meq/L" in left
    assert "(water_chloride) holds a formula of your own" in left
    assert not {"alkalinity", "water_chloride"} & {each["to"] for each in found["carried"]}
    assert stands(out, "alkalinity") == stands(acid, "alkalinity")


def test_no_file_is_lost(workbook: GetWorkbook, capsys: Capture) -> None:
    report, tank = workbook("water-report"), workbook("stock-tank")
    call = ["run", str(report), "--into", str(tank)]
    usual = tank.with_name("stock-tank-with-water-report.xlsx")
    usual.write_text("mine")
    assert "is there already; say --force to replace it" in refused(call, capsys)
    assert usual.read_text() == "mine"
    for same in (report, tank):
        line = refused([*call, "--out", str(same), "--force"], capsys)
        assert "is one of the files that are read; give another --out" in line
    assert main([*call, "--force"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == f"wrote {usual}" and "  calcium -> water_ca = 80 mg/L" in lines
    assert stands(usual, "water_ca") == 80


def test_what_cannot_be_done_is_one_line(
    workbook: GetWorkbook, tmp_path: Path, capsys: Capture
) -> None:
    report, tank = workbook("water-report"), workbook("stock-tank")
    call = ["run", str(report), "--into"]
    assert "say one of them" in refused([*call, str(tank), "--get", "sar"], capsys)
    assert "there is no such file" in refused([*call, str(tmp_path / "none.xlsx")], capsys)
    (tmp_path / "a.ods").write_text("x")
    assert "only .xlsx and .xlsm files" in refused([*call, str(tmp_path / "a.ods")], capsys)
    line = refused([*call, str(workbook("ratio-table"))], capsys)
    assert "water-report.xlsx has nothing for ratio-table.xlsx; nothing was written" in line
    type_into(tank, "mass_1", 5.0)
    assert "(mass_1) has lost its formula" in refused([*call, str(tank)], capsys)
    type_into(report, "calcium", "much")
    assert "(calcium) is 'much'" in refused([*call, str(workbook("acid"))], capsys)
    assert "go with --into" in refused(["run", str(report), "--out", "x.xlsx"], capsys)


def test_every_meaning_is_in_the_plans() -> None:
    """Names of the plans, or ones that a plan may have one day; never a name of nothing at all."""
    for meaning in MEANINGS:
        known = [
            name in book(workbook).entries or name in book(workbook).formulas
            for workbook, name in meaning.names.items()
        ]
        assert any(known), meaning.what
        assert meaning.names.keys() <= TEMPLATES.keys()
        for workbook, (name, _) in meaning.also.items():
            assert name in book(workbook).entries


# Each amount in its base unit, and what it must be in another (masses as above).
@pytest.mark.parametrize(
    ("base", "unit", "ion", "other", "expected"),
    [
        (2.0, "mmol/L", "Ca", "mg/L", 2 * 40.078),
        (2.0, "mmol/L", "Ca", "meq/L", 4.0),
        (1.0, "mmol/L", "SO4", "mg/L", 32.06),
        (1.0, "mmol/L", "NO3", "mg/L", 14.007),
        (14.007, "mg/L", "NH4", "mmol/L", 1.0),
        (5.0, "meq/L", "HCO3", "mg/L", 250.2),
        (5.0, "mmol/L", "HCO3", "meq/L", 5.0),
        (100.086, "mg/L", "HCO3", "mmol/L", 2.0),
        (0.3, "mg/L", "B", "mg/L", 0.3),
        (20.0, "degC", "", "degC", 20.0),
    ],
)
def test_amounts_in_other_units(
    base: float, unit: str, ion: str, other: str, expected: float
) -> None:
    amount = Amount(base, unit, base, unit)
    assert converted(amount, ion, other) == pytest.approx(expected, rel=2e-4)


def test_amounts_of_nothing_alike() -> None:
    with pytest.raises(KeyError):
        converted(Amount(1.0, "L/min", 1.0, "L/min"), "", "mg/L")


@pytest.mark.parametrize("unit", ["mg/L", "gpg", "mmol/L", "dH", "mg/L as CaCO3"])
def test_a_number_stays_where_a_unit_means_the_same(unit: str) -> None:
    given, entry = book("water-report").entries["calcium"], book("stock-tank").entries["water_ca"]
    units = book("stock-tank").entries["water_ca_unit"].words
    assert given.to_base
    amount = Amount(12.0, unit, 12 * float(given.to_base(unit)), given.base_unit)
    assert as_typed(amount, "Ca", entry, units, "ppm") == (12.0, unit)


def test_a_number_is_converted_where_no_unit_means_the_same() -> None:
    entry, units = book("stock-tank").entries["water_ca"], ("ppm", "mg/L", "g/L")
    got = as_typed(Amount(3.0, "meq/L", 1.5, "mmol/L"), "Ca", entry, units, "ppm")
    assert got == (pytest.approx(1.5 * 40.078, rel=1e-4), "ppm")
    got = as_typed(Amount(3.0, "meq/L", 1.5, "mmol/L"), "Ca", entry, units, "g/L")
    assert got == (pytest.approx(1.5 * 0.040078, rel=1e-4), "g/L")


def test_sheets_of_ones_own_stay(workbook: GetWorkbook, capsys: Capture) -> None:
    """And the results on them follow."""
    acid = workbook("acid")
    add_sheet(acid, "Mine", '<row r="1"><c r="A1"><f>flow*2</f><v>1</v></c></row>')
    out, _ = carried(workbook("zone-flow"), acid, capsys)
    add_name(out, "twice", "'Mine'!$A$1")
    assert stands(out, "twice") == pytest.approx(2 * float(str(stands(out, "flow"))))
