"""The built wheel: all its files, all that it needs, every command from an empty environment."""

from __future__ import annotations

import ast
import json
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest

from fresh_environment import ROOT, run_there
from tanksheet.recalc import ENGINES
from tanksheet.templates import TEMPLATES

CALL = "=FERT.STOCKMASS(150,15.5,100,200)"
MASS = 150 * 100 * 200 / 155  # by hand
# What LibreOffice brings, and what the extras "cluster" and "excel" do.
OTHERS = {"com", "distributed", "org", "uno", "unohelper", "xlwings"}
# What only the extras bring: the environment must not have it, or the tests here prove nothing.
NOT_THERE = ("pytest", "hypothesis", "xlwings", "distributed", "fluids", "mypy")


def engine_files() -> set[str]:
    """Every file of the package as it lies here; git need not be installed."""
    files = (ROOT / "engine" / "tanksheet").rglob("*")
    kept = [path for path in files if path.is_file() and "__pycache__" not in path.parts]
    return {path.relative_to(ROOT / "engine").as_posix() for path in kept}


def imported() -> set[str]:
    """What the package imports from outside the standard library, by name or as a word."""
    found = set()
    for path in (ROOT / "engine" / "tanksheet").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names: list[Any] = []
            if isinstance(node, ast.Import):
                names = [each.name for each in node.names]
            elif isinstance(node, ast.ImportFrom):
                names = [node.module]
            elif isinstance(node, ast.Call) and ast.unparse(node.func).endswith("import_module"):
                names = [getattr(each, "value", None) for each in node.args]
            found |= {name.partition(".")[0] for name in names if isinstance(name, str)}
    return found - sys.stdlib_module_names - {"tanksheet"}


def said(programs: Path, folder: Path, *arguments: str) -> str:
    """What the installed command prints; it must end well and say nothing else but what was set."""
    done = run_there(programs, folder, "tanksheet", *arguments)
    strange = [line for line in done.stderr.splitlines() if not line.startswith("set ")]
    assert (done.returncode, strange) == (0, []), (arguments, done.stdout)
    return done.stdout


def test_the_wheel_carries_every_file_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as package:
        names = set(package.namelist())
        (licence,) = (name for name in names if name.endswith("licenses/LICENSE"))
        assert package.read(licence) == (ROOT / "LICENSE").read_bytes()
    assert {name for name in names if ".dist-info/" not in name} == engine_files()


@pytest.mark.parametrize("module", NOT_THERE)
def test_the_environment_has_no_extras(programs: Path, tmp_path: Path, module: str) -> None:
    done = run_there(programs, tmp_path, "python", "-c", f"import {module}")
    assert done.returncode == 1
    assert f"No module named '{module}'" in done.stderr


def test_everything_imported_is_there(programs: Path, tmp_path: Path) -> None:
    """Also what no command below happens to load."""
    wanted = imported() - OTHERS
    assert wanted >= {"formulas", "ironcalc", "numpy", "openpyxl", "pint", "schedula"}
    done = run_there(programs, tmp_path, "python", "-c", f"import {', '.join(sorted(wanted))}")
    assert done.returncode == 0, done.stderr


def test_it_is_the_wheel_that_runs(programs: Path, tmp_path: Path) -> None:
    done = run_there(programs, tmp_path, "python", "-c", "import tanksheet as t; print(t.__file__)")
    assert Path(done.stdout.strip()).is_relative_to(programs.parent), done.stderr


def test_list(programs: Path, tmp_path: Path) -> None:
    listed = json.loads(said(programs, tmp_path, "list", "--json"))
    assert [each["name"] for each in listed["workbooks"]] == list(TEMPLATES)


@pytest.mark.parametrize(
    "host",
    ["python", *(name for name, each in ENGINES.items() if each.knows_lambda)],
)
def test_calc(programs: Path, tmp_path: Path, host: str) -> None:
    assert float(said(programs, tmp_path, "calc", CALL, "--host", host)) == pytest.approx(MASS)


def test_make_run_and_verify(programs: Path, tmp_path: Path) -> None:
    said(programs, tmp_path, "make", "stock-tank", "--out", "farm")
    settings = ("nutrient_1=N", "target_1=150 ppm", "label_n_1=15.5", "ratio=1:100", "tank=200 L")
    chosen = [word for each in settings for word in ("--set", each)]
    given = ("run", "farm/stock-tank.xlsx", *chosen, "--get", "mass_1", "--json")
    assert json.loads(said(programs, tmp_path, *given))["mass_1"] == pytest.approx(MASS)
    quick = ("--cases", "1", "--no-edges", "--engines", "ironcalc")
    assert "Confirmed in 1 engine" in said(programs, tmp_path, "verify", given[1], *quick)


def test_addin(programs: Path, tmp_path: Path) -> None:
    assert "wrote fert-functions.xlsx" in said(programs, tmp_path, "addin", "lambda")
    assert "wrote" in said(programs, tmp_path, "addin", "xlwings", "--out", "fert")
    said(programs, tmp_path, "addin", "libreoffice", "--out", "fert.oxt")
    with zipfile.ZipFile(tmp_path / "fert.oxt") as extension:
        assert any(name.endswith(".csv") for name in extension.namelist())
