"""What each command prints when all is well."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import tanksheet
from engines_needed import need
from package_edits import GetPackage, GetWorkbook
from tanksheet.cli import main
from tanksheet.definition import Calculation, catalogue
from tanksheet.recalc import ENGINES
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.writing import first_difference

Capture = pytest.CaptureFixture[str]
ENGINE = Path(__file__).parents[2] / "engine"
# A few of each kind for the slow host: plain, words, a long body, a run of readings.
IN_LIBREOFFICE = ("STOCKMASS", "CONVERT", "ELEMENT", "UNIFORMITY", "PACKS")


def said(arguments: list[str], capsys: Capture) -> str:
    """What a command prints; it must end well and say nothing else but what was set."""
    assert main(arguments) == 0
    out, err = capsys.readouterr()
    assert [line for line in err.splitlines() if not line.startswith("set ")] == []
    return out


def written(argument: Any) -> str:
    """An argument as a formula spells it."""
    if isinstance(argument, str):
        return f'"{argument}"'
    if isinstance(argument, (list, tuple)):
        return "{" + ";".join(written(each) for each in argument) + "}"
    return repr(argument)


def example(record: Calculation) -> str:
    """The catalogue's example as a formula."""
    arguments, _ = record.example
    return f"={record.sheet_name}({','.join(written(each) for each in arguments)})"


def test_list_names_everything(capsys: Capture) -> None:
    out = said(["list"], capsys)
    for name in TEMPLATES:
        assert f"  {name} " in out
        assert book(name).purpose in out
    for record in catalogue().values():
        assert f"  {record.sheet_name}(" in out
        assert record.summary in out


def test_list_for_programs(capsys: Capture) -> None:
    listed = json.loads(said(["list", "--json"], capsys))
    assert set(listed) == {"workbooks", "functions"}
    assert [each["name"] for each in listed["workbooks"]] == list(TEMPLATES)
    for each in listed["workbooks"]:
        assert set(each) == {"name", "title", "purpose"}
        assert all(isinstance(text, str) and text for text in each.values())
    assert [each["name"] for each in listed["functions"]] == [
        record.sheet_name for record in catalogue().values()
    ]
    keys = {"name", "summary", "arguments", "unit", "example", "source", "python"}
    for each in listed["functions"]:
        assert set(each) == keys
        assert each["summary"] and each["source"], each["name"]
        assert callable(getattr(tanksheet, each["python"].removeprefix("tanksheet.")))
        assert set(each["example"]) == {"arguments", "result"}
        assert len(each["example"]["arguments"]) == len(each["arguments"])
        for argument in each["arguments"]:
            assert set(argument) == {"name", "unit", "meaning", "allowed"}
            assert all(isinstance(text, str) for text in argument.values())
            assert argument["meaning"] and argument["allowed"]


@pytest.mark.parametrize("record", catalogue().values(), ids=lambda record: record.name)
def test_calc_in_python(record: Calculation, capsys: Capture) -> None:
    arguments, _ = record.example
    value = record.function(*arguments)
    shown = value if isinstance(value, str) else f"{value:.12g}"
    assert said(["calc", example(record)], capsys) == f"{shown}\n"


@pytest.mark.parametrize(
    ("host", "name"),
    [*(("ironcalc", name) for name in catalogue()), *(("libreoffice", n) for n in IN_LIBREOFFICE)],
)
def test_calc_in_a_spreadsheet(host: str, name: str, capsys: Capture) -> None:
    need(ENGINES[host])
    formula = example(catalogue()[name])
    here = said(["calc", formula], capsys)
    there = said(["calc", formula, "--host", host], capsys)
    assert there == here or float(there) == pytest.approx(float(here), rel=1e-9)


def test_calc_for_programs(capsys: Capture) -> None:
    """By hand: 100/128, by whichever host was asked."""
    need(ENGINES["formualizer"])
    for host in ("python", "formualizer"):
        call = ["calc", "=FERT.PERCENT(128)", "--host", host, "--json"]
        got = json.loads(said(call, capsys))
        assert got == {"formula": "=FERT.PERCENT(128)", "host": host, "value": 0.78125}


def test_calc_does_arithmetic(capsys: Capture) -> None:
    """By hand: 12 gpm is 45.4249 L/min, a hundredth of it in an hour is 27.2550 L."""
    call = '=FERT.FEEDRATE(FERT.CONVERT(12,"gpm","L/min"),100)*2'
    assert float(said(["calc", call], capsys)) == pytest.approx(54.5099297, rel=1e-8)
    assert said(["calc", "=-(1+2)*3/4"], capsys) == "-2.25\n"
    assert said(["calc", "2.5e3-1"], capsys) == "2499\n"


@pytest.mark.parametrize(
    ("formula", "says"),
    [
        ("=FERT.STOCKMASS(150,0,100,200)", "content is 0; it must be above 0 %"),
        ("=FERT.STOCKMASS(150,150,100,200)", "content is 150"),
        ("=FERT.STOCKMASS(150,15.5,0,200)", "ratio is 0; it must be at least 1"),
        ('=FERT.STOCKMASS("x",15.5,100,200)', "target is 'x'; it must be a number"),
        ('=FERT.CONVERT(1,"L","psi")', ""),
        ('=FERT.CONVERT(1,"L","bogle")', ""),
        ("=FERT.STOCKMASS(150)", "FERT.STOCKMASS takes 4 arguments: target, content, ratio, tank"),
        ("=FERT.NOSUCH(1)", "there is no function FERT.NOSUCH"),
        ("=1/0", "nothing to divide by"),
        ("=A1+1", "cannot evaluate A1"),
    ],
)
def test_calc_says_what_is_wrong(formula: str, says: str, capsys: Capture) -> None:
    assert main(["calc", formula]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("tanksheet: ")
    assert err.count("\n") == 1
    assert says in err


def test_calc_refuses_an_unknown_host(capsys: Capture) -> None:
    assert main(["calc", "=1", "--host", "abacus"]) == 2
    assert "no host 'abacus'; choose from python, ironcalc" in capsys.readouterr().err


def test_calc_reports_an_engines_error(capsys: Capture) -> None:
    need(ENGINES["ironcalc"])
    assert main(["calc", "=FERT.STOCKMASS(150,0,100,200)", "--host", "ironcalc"]) == 2
    assert "ironcalc gives #NUM!" in capsys.readouterr().err


def test_make_writes_what_it_says(tmp_path: Path, package_of: GetPackage, capsys: Capture) -> None:
    path = tmp_path / "stock-tank.xlsx"
    out = said(["make", "stock-tank", "--out", str(tmp_path)], capsys)
    assert out == f"wrote {path}\n"
    assert list(tmp_path.iterdir()) == [path]
    assert first_difference(path.read_bytes(), package_of("stock-tank")) is None


def test_make_draws_a_preview(tmp_path: Path, capsys: Capture) -> None:
    need(ENGINES["libreoffice"])
    out = said(["make", "ratio-table", "--out", str(tmp_path), "--preview"], capsys)
    assert [Path(line.removeprefix("wrote ")).name for line in out.splitlines()] == [
        "ratio-table.xlsx",
        "ratio-table.png",
    ]
    assert (tmp_path / "ratio-table.png").read_bytes().startswith(b"\x89PNG")
    assert len(list(tmp_path.iterdir())) == 2


def test_run_prints_names_and_values(workbook: GetWorkbook, capsys: Capture) -> None:
    """By hand: 150 * 100 * 200 / 155 = 19 354.83871 g."""
    need(ENGINES["ironcalc"])
    typed = ["nutrient_1=N", "target_1=150 ppm", "label_n_1=15.5 %", "tank=200 L", "ratio=1:100"]
    call = ["run", str(workbook("stock-tank"))]
    call += [word for each in typed for word in ("--set", each)]
    call += ["--get", "mass_1", "--get", "nutrient_1", "--get", "volume_1"]
    assert said(call, capsys) == "mass_1 = 19354.83871\nnutrient_1 = N\nvolume_1 = weigh it\n"
    values = json.loads(said([*call, "--json"], capsys))
    assert values == {
        "mass_1": pytest.approx(150 * 100 * 200 / 155),
        "nutrient_1": "N",
        "volume_1": "weigh it",
    }


def test_run_echoes_what_it_understood(workbook: GetWorkbook, capsys: Capture) -> None:
    """On the other stream, so that results can be read by a program; the unit of the file where
    none was typed."""
    need(ENGINES["ironcalc"])
    typed = {
        "target_1=150 ppm": "target_1 = 150 ppm",
        "tank=1,505": "tank = 1505 L",
        "ratio=1:1,000": "ratio = 1:1000",
        "flow=600 quart/hour": "flow = 9.46352946 L/min",
        "nutrient_1=N": "nutrient_1 = N",
        "ec_measured=": "ec_measured = blank",
        "density_1_unit=kg/m3": "density_1_unit = kg/m3",
        "density_1=1,250": "density_1 = 1250 kg/m3",
    }
    call = ["run", str(workbook("stock-tank")), "--get", "mass_1", "--json"]
    for each in typed:
        call += ["--set", each]
    assert main(call) == 0
    assert capsys.readouterr().err.splitlines() == [f"set {line}" for line in typed.values()]


def test_run_shows_runs_and_blanks(workbook: GetWorkbook, capsys: Capture) -> None:
    need(ENGINES["ironcalc"])
    call = [
        "run",
        str(workbook("zone-flow")),
        "--set",
        "bucket_time=25;;26",
        "--get",
        "bucket_time",
    ]
    assert said(call, capsys) == "bucket_time = 25; ; 26; ; \n"
    assert json.loads(said([*call, "--json"], capsys)) == {
        "bucket_time": [25, None, 26, None, None]
    }


@pytest.mark.parametrize("engine", list(ENGINES))
def test_run_in_every_engine(engine: str, workbook: GetWorkbook, capsys: Capture) -> None:
    need(ENGINES[engine])
    call = ["run", str(workbook("ratio-table")), "--set", "content=10", "--engine", engine]
    values = json.loads(said([*call, "--get", "grams_per_litre", "--json"], capsys))
    plan = book("ratio-table")
    ratio, target = plan.entries["ratios"].default[0], plan.entries["targets"].default[0]
    assert isinstance(ratio, (int, float)) and isinstance(target, (int, float))
    assert values["grams_per_litre"][0] == pytest.approx(ratio * target / 100)  # by hand


def test_verify_prints_a_table_and_a_closing_line(workbook: GetWorkbook, capsys: Capture) -> None:
    need(ENGINES["ironcalc"])
    path = workbook("ratio-table")
    before = path.read_bytes()
    call = ["verify", str(path), "--engines", "ironcalc", "--cases", "4", "--no-edges"]
    out = said(call, capsys)
    cells = 4 * len(book("ratio-table").formulas)
    assert "agrees" in out
    assert f"Confirmed in 1 engine (ironcalc): {cells:,} cells compared" in out
    assert path.read_bytes() == before


def test_the_command_itself(tmp_path: Path) -> None:
    """As a process: exit codes and streams, not only the function."""
    environment = {**os.environ, "PYTHONPATH": str(ENGINE)}
    call = [sys.executable, "-m", "tanksheet.cli"]
    good = subprocess.run(
        [*call, "calc", "=FERT.PERCENT(128)"], env=environment, capture_output=True, text=True
    )
    assert (good.returncode, good.stdout, good.stderr) == (0, "0.78125\n", "")
    bad = subprocess.run(
        [*call, "run", str(tmp_path / "none.xlsx")], env=environment, capture_output=True, text=True
    )
    assert (bad.returncode, bad.stdout) == (2, "")
    assert bad.stderr.startswith("tanksheet: none.xlsx: there is no such file")
