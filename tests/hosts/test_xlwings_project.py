"""The files of the xlwings project: names, VBA text, help texts, and what is never overwritten."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from tanksheet.cli import main
from tanksheet.definition import catalogue
from tanksheet.errors import WorkbookProblem
from tanksheet.hosts import cheapest_table, table_functions
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS, TableFunction
from tanksheet.hosts.xlwings import project as xlwings_project
from tanksheet.hosts.xlwings.project import LONGEST_HELP, LONGEST_LINE, RESERVED, write_project
from tanksheet.recalc import ENGINES
from tanksheet.recalc.libreoffice_found import python_with_uno, soffice
from xlwings_jobs import HERE, call, run_jobs

NAMES = ("fert_functions.py", "fert_functions.bas", "README.txt")
# Microsoft's XlCVError constants, as the documentation of Excel's VBA lists them.
CV_ERRORS = {
    "#NULL!": 2000,
    "#DIV/0!": 2007,
    "#VALUE!": 2015,
    "#REF!": 2023,
    "#NAME?": 2029,
    "#NUM!": 2036,
    "#N/A": 2042,
}


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("xlwings")
    write_project(folder)
    return folder


@pytest.fixture(scope="module")
def button(project: Path) -> dict[str, Any]:
    """What xlwings' own "Import Functions" makes of the module."""
    (found,) = run_jobs(project, [{"do": "import"}])
    return found


def text(project: Path, name: str) -> str:
    return (project / name).read_bytes().decode("ascii")


def vba_functions(vba: str) -> dict[str, list[str]]:
    found = re.findall(r"^(?:Public )?Function (FERT_\w+)\((.*?)\)", vba, re.MULTILINE)
    assert len({name for name, _ in found}) == len(found)
    return {name: re.findall(r"\w+", arguments) for name, arguments in found}


def expected() -> dict[str, list[str]]:
    records = {f"FERT_{c.name}": list(c.parameters) for c in catalogue().values()}
    return records | {f"FERT_{t.name}": list(t.arguments) for t in TABLE_FUNCTIONS.values()}


def test_the_files(project: Path) -> None:
    assert sorted(path.name for path in project.iterdir()) == sorted(NAMES)
    assert "\r" not in text(project, NAMES[0])
    for name in NAMES[1:]:  # the VBA editor reads no other line ends
        assert "\n" not in text(project, name).replace("\r\n", "")


def test_names_are_one_to_one_everywhere(project: Path, button: dict[str, Any]) -> None:
    tree = ast.parse(text(project, NAMES[0]))
    python = {
        node.name: [each.arg for each in node.args.args]
        for node in tree.body
        if isinstance(node, ast.FunctionDef) and node.name.startswith("FERT_")
    }
    listed = re.findall(r"^  (FERT\.\w+) +(FERT_\w+)\((.*)\)\r$", text(project, NAMES[2]), re.M)
    assert python == vba_functions(text(project, NAMES[1])) == expected()
    assert vba_functions(button["vba"]) == expected()
    assert {ours: arguments.split(", ") for _, ours, arguments in listed} == expected()
    assert all(dotted.replace(".", "_") == ours for dotted, ours, _ in listed)


def test_the_text_that_xlwings_generates(button: dict[str, Any]) -> None:
    assert 'Attribute VB_Name = "xlwings_udfs"' in button["vba"]
    assert (
        'FERT_STOCKMASS = XLPy.CallUDF("fert_functions", "FERT_STOCKMASS", '
        "Array(target, content, ratio, tank), ThisWorkbook, Application.Caller)"
    ) in button["vba"]
    assert max(map(len, button["vba"].splitlines())) <= LONGEST_LINE


def test_help_texts_reach_the_wizard(button: dict[str, Any]) -> None:
    helps = button["helps"]
    assert set(helps) == set(expected())
    mass = helps["FERT_STOCKMASS"]
    assert mass["Description"].startswith("Fertilizer to weigh out")
    assert mass["Description"].endswith("Result: g.")
    assert mass["Category"] == "Tanksheet"
    assert "mg/L" in mass["ArgumentDescriptions"][0]
    for each in helps.values():
        shown = [each["Description"], *each["ArgumentDescriptions"]]
        assert all(0 < len(one) <= LONGEST_HELP for one in shown)


def test_the_vba_text_is_within_vbas_limits(project: Path) -> None:
    lines = text(project, NAMES[1]).split("\r\n")
    assert lines[0] == 'Attribute VB_Name = "fert_functions"'
    assert max(map(len, lines)) <= LONGEST_LINE
    continued = "".join("_" if line.endswith(" _") else "." for line in lines)
    assert max(map(len, continued.split("."))) <= 24  # line continuations of one statement
    for arguments in expected().values():
        assert not {argument.lower() for argument in arguments} & RESERVED


def test_a_name_that_vba_keeps_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    percent = catalogue()["PERCENT"]
    bad = replace(percent, parameters={"Date": percent.parameters["ratio"]})
    monkeypatch.setattr(xlwings_project, "catalogue", lambda: {"PERCENT": bad})
    with pytest.raises(ValueError, match=r"FERT.PERCENT: VBA keeps the word 'Date' for itself"):
        xlwings_project.listed()


def test_a_table_function_of_a_taken_name_is_refused() -> None:
    taken = TableFunction("PERCENT", "", {}, list, "", ())
    with pytest.raises(ValueError, match=r"FERT.PERCENT is defined twice"):
        table_functions._by_name([taken])
    own = replace(taken, name="OWN")
    with pytest.raises(ValueError, match=r"FERT.OWN is defined twice"):
        table_functions._by_name([own, own])
    assert set(table_functions._by_name([own])) == {"OWN"}


def test_table_functions_fit_libreoffices_python() -> None:
    """Standard library, the core, and the syntax of 3.9."""
    core = {f"tanksheet.{name}" for name in ("definition", "errors", "subset", "units")}
    core |= {"tanksheet", cheapest_table.__name__}
    library = {"__future__", "collections.abc", "dataclasses", "fractions", "typing"}
    for each in (table_functions, cheapest_table):
        tree = ast.parse(Path(str(each.__file__)).read_text(), feature_version=(3, 9))
        modules = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
        assert modules <= core | library


def test_the_command_and_a_second_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "new" / "project"
    assert main(["addin", "xlwings", "--out", str(folder)]) == 0
    first = {name: (folder / name).read_bytes() for name in NAMES}
    (folder / NAMES[1]).write_bytes(first[NAMES[1]] + b"' an older version\r\n")
    (folder / "mine.xlsm").write_bytes(b"mine")
    assert main(["addin", "xlwings", "--out", str(folder)]) == 0
    assert {name: (folder / name).read_bytes() for name in NAMES} == first
    assert (folder / "mine.xlsm").read_bytes() == b"mine"
    assert capsys.readouterr().out.count("wrote ") == 2 * len(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_file_of_somebody_else_stays(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(b"my own notes")
    with pytest.raises(WorkbookProblem, match=f"{name} is there and is not ours"):
        write_project(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == [name]
    assert (tmp_path / name).read_bytes() == b"my own notes"


def run_vba(project: Path, calls: list[dict[str, Any]]) -> list[str]:
    need(ENGINES["libreoffice"])
    done = subprocess.run(
        [str(python_with_uno()), str(HERE / "vba_runs.py"), str(soffice())],
        input=json.dumps({"text": text(project, NAMES[1]), "calls": calls}),
        capture_output=True,
        text=True,
        timeout=240,
        env={key: value for key, value in os.environ.items() if not key.startswith("PYTHON")},
    )
    assert done.returncode == 0, done.stderr
    shown: list[str] = json.loads(done.stdout)
    return shown


def test_the_vba_module_turns_error_texts_into_errors(project: Path) -> None:
    """In LibreOffice's Basic with its VBA support, on what the xlwings path really returns."""
    rows = [[150.0], [0.0], ["x"], [-2146826265]]
    contents = [[15.5], [0.0], [15.5], [15.5]]
    jobs = [
        call("FERT_STOCKMASS", rows, contents, 100.0, 200.0),
        call("FERT_PERCENT", [[100.0, 0.0]]),
        call("FERT_PERCENT", "x"),
        call("FERT_PERCENT", 100.0),
    ]
    made = [each["result"] for each in run_jobs(project, jobs)]
    made += [[[text] for text in CV_ERRORS], "#N/A yet"]
    rest = [15.5, 100, 200]
    calls = [{"name": "FERT_STOCKMASS", "rest": rest, "result": made[0]}]
    calls += [{"name": "FERT_PERCENT", "rest": [], "result": each} for each in made[1:]]
    calls.append({"name": "FERT_PERCENT", "rest": []})  # here the stand-in raises
    column, row, single, number, every, words, missing = run_vba(project, calls)
    first, *others = column.rstrip("/").split("/")
    assert first.startswith("Double 19354.8387")
    assert others == ["Error 2036,", "Error 2015,", "Error 2023,"]
    assert row == "Double 1,/Error 2036,/"
    assert (single, number, words) == ("Error 2015", "Double 1", "String #N/A yet")
    assert missing == "String Python is not there"
    assert every == "".join(f"Error {code},/" for code in CV_ERRORS.values())
