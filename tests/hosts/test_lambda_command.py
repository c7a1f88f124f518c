"""``tanksheet addin lambda``: what it writes where, and the help texts that Excel shows."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from openpyxl import load_workbook

from engines_needed import need
from lambda_files import by_openpyxl
from package_edits import BOOK, GetPackage
from tanksheet import catalogue
from tanksheet.cli import main
from tanksheet.formula import lambda_comment, lambda_text, named_calculations
from tanksheet.formula.lambdas import LONGEST_COMMENT, MARK
from tanksheet.hosts.lambdas import data as lambda_data
from tanksheet.recalc import ENGINES
from tanksheet.sheets.functions import TITLE
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.writing import first_difference, read_parts


@pytest.fixture
def farm(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return by_openpyxl(tmp_path / "farm.xlsx")


def run(*arguments: object) -> int:
    return main(["addin", "lambda", *(str(argument) for argument in arguments)])


def test_a_copy_beside_the_file(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = farm.read_bytes()
    assert run("--into", farm) == 0
    assert farm.read_bytes() == before
    said = capsys.readouterr().out
    count = len(named_calculations())
    assert said == f"wrote {farm.with_name('farm-with-fert.xlsx')}: {count} functions, " + (
        "data on sheet 'fert_tables'\n"
    )
    assert run("--into", farm.with_name("farm-with-fert.xlsx"), "--force") == 0
    assert "the functions were up to date" in capsys.readouterr().out
    assert sorted(p.name for p in farm.parent.glob("*.xlsx")) == [
        "farm-with-fert.xlsx",
        "farm.xlsx",
    ]


@pytest.mark.parametrize("target", ["farm.xlsx", "./sub/../farm.xlsx", "link.xlsx"])
def test_the_users_file_is_replaced_only_by_force(target: str, farm: Path) -> None:
    (farm.parent / "sub").mkdir()
    (farm.parent / "link.xlsx").symlink_to(farm)
    before = farm.read_bytes()
    assert run("--into", farm, "--out", target) == 2
    assert farm.read_bytes() == before
    assert run("--into", farm, "--out", target, "--force") == 0
    written = (farm.parent / target).read_bytes()
    assert b"FERT.STOCKMASS" in read_parts(written)[BOOK]


def test_another_file_is_replaced_only_by_force(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = farm.with_name("other.xlsx")
    other.write_bytes(b"mine")
    assert run("--into", farm, "--out", other) == 2
    assert capsys.readouterr().err == (
        f"tanksheet: {other} is there already; say --force to replace it\n"
    )
    assert other.read_bytes() == b"mine"
    assert run("--into", farm, "--out", other, "--force") == 0
    assert other.read_bytes() != b"mine"


def test_problems_are_one_line(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--into", "none.xlsx") == 2
    assert run("--into", farm, "--out", "farm.xlsm") == 2
    assert run("--into", farm, "--out", "no/such/folder.xlsx") == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 3
    assert "there is no such file" in lines[0]
    assert "call it farm.xlsx" in lines[1]
    assert "cannot be written" in lines[2]


def test_a_new_workbook_shows_every_function(farm: Path) -> None:
    assert run() == 0
    path = Path("fert-functions.xlsx")
    sheet, shown = load_workbook(path)[TITLE], load_workbook(path, data_only=True)[TITLE]
    calls = {
        str(cell.value): Address(TITLE, cell.row, cell.column)
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }
    names = {call.partition("(")[0].removeprefix("=FERT.") for call in calls}
    assert names == set(named_calculations())
    need(ENGINES["ironcalc"])
    with ENGINES["ironcalc"].open(path) as session:
        values = session.calculate({}, list(calls.values()))
    for call, place in calls.items():
        record = catalogue()[call.partition("(")[0].removeprefix("=FERT.")]
        wanted = record.function(*record.example[0])
        assert values[place] == pytest.approx(wanted, rel=1e-9, abs=1e-10), call
        assert shown[place.cell].value == pytest.approx(wanted), call


def test_a_new_workbook_is_the_same_each_time(farm: Path) -> None:
    assert run("--out", "one.xlsx") == run("--out", "two.xlsx") == 0
    one, two = Path("one.xlsx").read_bytes(), Path("two.xlsx").read_bytes()
    assert first_difference(one, two) is None
    assert one == two


@pytest.mark.parametrize("name", list(catalogue()))
def test_comments(name: str) -> None:
    """255 characters are Excel's limit for a name's comment; none of ours is cut short."""
    record = catalogue()[name]
    comment = lambda_comment(record)
    assert len(comment) <= LONGEST_COMMENT == 255
    assert comment.startswith(record.summary)
    assert comment.endswith(MARK)
    listed = re.search(r"Arguments: (.*?\])\.", comment)
    assert listed
    words = re.sub(r" \[[^]]*\]", "", listed[1]).split(", ")
    assert words == list(record.parameters)


def test_a_comment_in_full() -> None:
    assert lambda_comment(catalogue()["STOCKMASS"]) == (
        "Fertilizer to weigh out for one tank of stock solution. Arguments: target [mg/L], "
        "content [%], ratio [parts], tank [L]. Result: g. (Tanksheet)"
    )
    assert 'reading ["in" or "to"]' in lambda_comment(catalogue()["DILUTION"])
    assert "readings [range]" in lambda_comment(catalogue()["UNIFORMITY"])


@pytest.mark.parametrize("name", ["stock-tank", "ratio-table", "zone-flow"])
def test_our_own_workbooks_have_the_same_comments(name: str, package_of: GetPackage) -> None:
    root = ElementTree.fromstring(read_parts(package_of(name))[BOOK])
    found = {
        str(e.get("name")): (e.text, e.get("comment"))
        for e in root.iterfind("./{*}definedNames/{*}definedName")
        if str(e.get("name")).startswith("FERT.")
    }
    assert found == {
        each.sheet_name: (lambda_text(each), lambda_comment(each))
        for each in named_calculations().values()
    }


def test_the_data_sheet_has_what_the_functions_look_up_and_no_more() -> None:
    texts = " ".join(lambda_text(each) for each in named_calculations().values())
    columns = lambda_data.columns()
    assert set(re.findall(r"fert_\w+", texts)) == set(columns)
    factors = (float(factor) for factor in columns["fert_units_factor"])
    units = dict(zip(columns["fert_units_unit"], factors, strict=True))
    # The US gallon of 231 cubic inches: 3.785411784 L exactly (NIST Handbook 44, appendix C).
    assert units["gal"] / units["L"] == pytest.approx(3.785411784, rel=1e-12)
