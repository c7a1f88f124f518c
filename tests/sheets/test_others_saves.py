"""Our workbooks as LibreOffice and Gnumeric save them: they still run, verify, and keep colours."""

from __future__ import annotations

import json
import shutil
import subprocess
import warnings
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.formula.translate import Translator

from engines_needed import need
from package_edits import GetWorkbook, delete_name
from tanksheet.cli import main
from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES, convert, libreoffice_engine
from tanksheet.recalc.opendocument import as_xlsx
from tanksheet.templates import TEMPLATES
from tanksheet.xlsx.writing import read_parts

Capture = pytest.CaptureFixture[str]


def by_libreoffice(path: Path) -> Path:
    need(ENGINES["libreoffice"])
    return convert(path, path.parent / "saved", "xlsx")


def by_libreoffice_as_ods(path: Path) -> Path:
    need(ENGINES["libreoffice"])
    return convert(path, path.parent / "saved", "ods")


def by_gnumeric(path: Path) -> Path:
    need(ENGINES["gnumeric"])
    target = path.parent / "saved" / path.name
    target.parent.mkdir()
    subprocess.run(["ssconvert", str(path), str(target)], check=True, capture_output=True)
    return target


SAVES: dict[str, Callable[[Path], Path]] = {
    "LibreOffice": by_libreoffice,
    "LibreOffice .ods": by_libreoffice_as_ods,
    "Gnumeric": by_gnumeric,
}


def answer(path: Path, capsys: Capture, *more: str) -> dict[str, object]:
    assert main(["run", str(path), "--json", *more]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize("program", SAVES)
@pytest.mark.parametrize("name", ["stock-tank", "recipe"])
def test_they_run_and_verify(
    name: str, program: str, workbook: GetWorkbook, capsys: Capture
) -> None:
    need(ENGINES["ironcalc"])
    path = workbook(name)
    expected = answer(path, capsys, "--set", "ratio=1:64")
    saved = SAVES[program](path)
    before = saved.read_bytes()
    found = answer(saved, capsys, "--set", "ratio=1:64")
    assert found.keys() == expected.keys() and len(found) > 20
    for key, value in expected.items():
        close = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
        assert found[key] == close, key
    options = ["--engines", "ironcalc", "--cases", "2", "--no-edges"]
    assert main(["verify", str(saved), *options]) == 0
    assert "Confirmed in 1 engine (ironcalc)" in capsys.readouterr().out
    assert (saved.read_bytes(), list(saved.parent.iterdir())) == (before, [saved])


@pytest.mark.parametrize("program", ["LibreOffice", "LibreOffice .ods"])
def test_what_is_missing_is_said(program: str, workbook: GetWorkbook, capsys: Capture) -> None:
    path = workbook("stock-tank")
    delete_name(path, "tank")
    saved = SAVES[program](path)
    for call in (["run", str(saved)], ["verify", str(saved)]):
        assert main(call) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert said.err.startswith(f"tanksheet: {saved.name}: ") and said.err.count("\n") == 1
        assert "'tank'" in said.err


Looks = dict[tuple[str, str], list[tuple[object, ...]]]


def looks(path: Path) -> Looks:
    """For each cell its conditional formats: kind, formula as it reads there, colours, pattern."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # Gnumeric's files name no default style
        book = load_workbook(path)
    found: Looks = {}
    for sheet in book:
        for formatted in sheet.conditional_formatting:
            ranges = sorted(formatted.sqref.ranges, key=lambda each: (each.min_row, each.min_col))
            origin = ranges[0].coord.split(":")[0]
            for rule in formatted.rules:
                look = rule.dxf
                fill = look.fill.bgColor.rgb if look.fill else ""
                colours = look.font.color.rgb, fill
                pattern = look.numFmt.formatCode if look.numFmt else ""
                for row, column in (at for each in ranges for line in each.rows for at in line):
                    cell = sheet.cell(row, column).coordinate
                    formula = Translator(f"={rule.formula[0]}", origin).translate_formula(cell)
                    seen = rule.type, formula.replace(" ", ""), *colours, pattern
                    found.setdefault((sheet.title, cell), []).append(seen)
    return {place: sorted(each, key=str) for place, each in found.items()}


@pytest.mark.parametrize("name", TEMPLATES)
def test_colours_survive_gnumeric(name: str, workbook: GetWorkbook) -> None:
    """Kind, formula, colours and pattern of every cell's rules are what they were."""
    path = workbook(name)
    expected = looks(path)
    assert len(expected) > 10
    assert looks(by_gnumeric(path)) == expected


# .ods


def ods(workbook: GetWorkbook) -> Path:
    return by_libreoffice_as_ods(workbook("ratio-table"))


def rewritten(path: Path, changes: dict[str, bytes]) -> None:
    parts = {**read_parts(path.read_bytes()), **changes}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in parts.items():
            file.writestr(name, content)


def without_kind(path: Path) -> None:
    rewritten(path, {"mimetype": b"application/vnd.oasis.opendocument.text"})


def locked(path: Path) -> None:
    rewritten(path, {"META-INF/manifest.xml": b"<manifest><encryption-data/></manifest>"})


def large(path: Path) -> None:
    text = b"".join(number.to_bytes(4, "big") * 100 for number in range(126_000))
    rewritten(path, {"content.xml": text})


def folder_instead(path: Path) -> None:
    path.unlink()
    path.mkdir()


SPOILT: dict[str, tuple[Callable[[Path], object], str]] = {
    "text": (lambda path: path.write_text("a,b\n"), "damaged or cut short"),
    "cut": (lambda path: path.write_bytes(path.read_bytes()[:-99]), "damaged or cut short"),
    "missing": (lambda path: path.unlink(), "there is no such file"),
    "folder": (folder_instead, "this is a folder"),
    "letter": (without_kind, "this is not an .ods spreadsheet"),
    "locked": (locked, "it is locked with a password"),
    "large": (large, "it holds more than 50 MB"),
}


@pytest.mark.parametrize("kind", SPOILT)
def test_ods_files_that_cannot_be_used(kind: str, tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "a.ods"
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        file.writestr("META-INF/manifest.xml", "<manifest/>")
    spoil, says = SPOILT[kind]
    spoil(path)
    for command in ("run", "verify"):
        assert main([command, str(path)]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert said.err.startswith("tanksheet: a.ods: ") and said.err.count("\n") == 1
        assert says in said.err


def test_without_libreoffice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    path = tmp_path / "a.ods"
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        file.writestr("META-INF/manifest.xml", "<manifest/>")
    monkeypatch.setattr(libreoffice_engine, "soffice", lambda: None)
    assert main(["run", str(path)]) == 2
    assert capsys.readouterr().err == (
        "tanksheet: a.ods: .ods files are read through LibreOffice; save it as .xlsx. "
        "LibreOffice is not installed, or its soffice is not on the search path.\n"
    )


def test_the_private_copy_is_gone_and_has_the_files_name(workbook: GetWorkbook) -> None:
    path = ods(workbook)
    with as_xlsx(path) as copy:
        assert copy.name == path.name and copy != path
        assert copy.read_bytes()[:2] == b"PK"
    assert not copy.parent.exists()
    plain = workbook("ratio-table")
    with as_xlsx(plain) as same:
        assert same == plain


def test_an_ods_file_called_xlsx(workbook: GetWorkbook, tmp_path: Path) -> None:
    path = shutil.copy(ods(workbook), tmp_path / "odd.xlsx")
    with pytest.raises(WorkbookProblem, match=r"^odd\.xlsx: this is a zip file but not an \.xlsx"):
        convert(Path(path), tmp_path / "out", "pdf")
