"""Bad input: one clear line a problem, exit code 2, and the user's file byte for byte as it was."""

from __future__ import annotations

import errno
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from engines_needed import need
from package_edits import GetWorkbook, delete_name, delete_sheet, edit_part, part_of, type_into
from tanksheet.cli import main
from tanksheet.recalc import ENGINES
from tanksheet.xlsx.address import Value
from tanksheet.xlsx.writing import read_parts, write_parts

Capture = pytest.CaptureFixture[str]
Spoil = Callable[[Path], object]


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


def refused(arguments: list[str], path: Path, capsys: Capture) -> list[str]:
    """Runs a command that must fail; gives its lines, after checking that no harm was done."""
    before = path.read_bytes() if path.is_file() else None
    beside = sorted(path.parent.iterdir())
    assert main(arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert sorted(path.parent.iterdir()) == beside, "something was left beside the file"
    assert (path.read_bytes() if path.is_file() else None) == before, "the file was changed"
    lines = said.err.splitlines()
    assert lines and all(line.startswith("tanksheet: ") for line in lines)
    assert not any("Traceback" in line for line in lines)
    return lines


# workbook, name, what is typed (for --set), what stands in the file, what the line says
ENTRIES: list[tuple[str, str, str, Value, str]] = [
    ("stock-tank", "tank", "twelve", "twelve", "is 'twelve' L; it must be above 0 L"),
    ("stock-tank", "tank", "", None, "is blank; it must be above 0 L"),
    ("stock-tank", "tank", "-3", -3.0, "is -3 L; it must be above 0 L"),
    ("stock-tank", "tank", "0", 0.0, "is 0 L; it must be above 0 L"),
    ("stock-tank", "tank", "1e17", 1e17, "at most 10,000,000 L"),
    ("stock-tank", "tank", "TRUE", True, "it must be above 0 L"),
    ("stock-tank", "tank_unit", "hogshead", "hogshead", "choose one of: L, mL, m3, gal"),
    ("stock-tank", "tank_unit", "", None, "is blank; choose one of: L"),
    ("stock-tank", "tank_unit", "12", 12.0, "is 12; choose one of: L"),
    ("stock-tank", "flow", "0", 0.0, "is 0 L/min; it must be above 0 L/min"),
    ("stock-tank", "flow", "-12", -12.0, "is -12 L/min; it must be above 0 L/min"),
    ("stock-tank", "ratio", "0", 0.0, "is 0 1:N; it must be at least 1"),
    ("stock-tank", "ratio", "-100", -100.0, "is -100 1:N; it must be at least 1"),
    (
        "stock-tank",
        "label_k_1",
        "150 %",
        150.0,
        "is 150 %; it must be at least 0 % and at most 100 %",
    ),
    ("stock-tank", "label_k_1", "-1", -1.0, "is -1 %; it must be at least 0 %"),
    ("stock-tank", "nutrient_1", "Zn", "Zn", "is 'Zn'; choose one of: N, P, K, Ca, Mg, S"),
    ("stock-tank", "nutrient_1", "", None, "is blank; choose one of: N"),
    ("stock-tank", "density_1", "13.2", 13.2, "is 13.2 kg/L; it must be at least 0.3 kg/L"),
    ("stock-tank", "ec_measured", "-1", -1.0, "is -1 mS/cm; it must be at least 0 mS/cm"),
    ("zone-flow", "method", "guess", "guess", "choose one of: bucket, emitters, strokes"),
    ("zone-flow", "bucket_time", "long", "long", "is 'long'; it must be above 0 s"),
    ("zone-flow", "bucket_time", "-3; 20", -3.0, "is -3; it must be above 0 s"),
    ("zone-flow", "pipe_inside", "0", 0.0, "is 0 mm; it must be above 0 mm"),
    ("zone-flow", "lateral_emitters", "0.5", 0.5, "is 0.5; it must be at least 1"),
    ("ratio-table", "content", "0", 0.0, "is 0 %; it must be above 0 %"),
    ("ratio-table", "content", "150", 150.0, "is 150 %; it must be above 0 % and at most 100 %"),
    ("ratio-table", "ratios", "0; 16", 0.0, "is 0; it must be at least 1"),
    ("ratio-table", "targets", "x", "x", "is 'x'; it must be at least 0 mg/L"),
]


@pytest.mark.parametrize(("name", "entry", "typed", "stored", "says"), ENTRIES)
def test_a_bad_entry_on_the_command_line(
    name: str,
    entry: str,
    typed: str,
    stored: Value,
    says: str,
    workbook: GetWorkbook,
    capsys: Capture,
) -> None:
    path = workbook(name)
    [line] = refused(["run", str(path), "--set", f"{entry}={typed}"], path, capsys)
    assert re.match(rf"tanksheet: {name}\.xlsx: '?[A-Z][a-z ]+'?![A-Z]+\d+ \({entry}\) ", line), (
        line
    )
    assert says in line


@pytest.mark.parametrize(("name", "entry", "typed", "stored", "says"), ENTRIES)
def test_a_bad_entry_in_the_file(
    name: str,
    entry: str,
    typed: str,
    stored: Value,
    says: str,
    workbook: GetWorkbook,
    capsys: Capture,
) -> None:
    path = workbook(name)
    type_into(path, entry, stored)
    [line] = refused(["run", str(path)], path, capsys)
    assert re.match(rf"tanksheet: {name}\.xlsx: '?[A-Z][a-z ]+'?![A-Z]+\d+ \({entry}\) ", line), (
        line
    )
    assert says in line


def test_every_problem_has_a_line_of_its_own(workbook: GetWorkbook, capsys: Capture) -> None:
    path = workbook("stock-tank")
    typed = ["--set", "tank=twelve", "--set", "flow_unit=psi", "--set", "nutrient_1=Zn"]
    lines = refused(["run", str(path), *typed], path, capsys)
    assert len(lines) == 3
    for line, name in zip(lines, ("tank", "flow_unit", "nutrient_1"), strict=True):
        assert f"({name})" in line


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("tank=12 bogles", r"'Stock tank'!B\d+ \(tank\): the unit 'bogles' does not fit here"),
        ("tank=12 psi", r"'Stock tank'!B\d+ \(tank\): the unit 'psi' does not fit"),
        ("tank=12 pounds/acre", r"\(tank\): the unit 'pounds/acre' does not fit"),
        ("ratio=100 ppm", r"\(ratio\): the unit 'ppm' does not fit here; use one of: 1:N, %"),
        ("ratio=1:0", r"\(ratio\) is 0 1:N; it must be at least 1"),
        ("ratio=0 %", r"\(ratio\) is 0 %"),
        ("ratio=150 %", r"\(ratio\) is 150 %"),
        ("ratio=150 percent", r"\(ratio\) is 150 %"),
        ("no_such=1", r"there is no name 'no_such'"),
        ("mass_1=1", r"\(mass_1\) is computed"),
        ("tank", r"--set 'tank': write name=value"),
        ("tank=1e999", r"'Stock tank'!B\d+ \(tank\): '1e999' is too large a number"),
        ("target_1=150,5 ppm", r"'Stock tank'!B\d+ \(target_1\): .*write 150.5 ppm or 1505 ppm$"),
        ("ratio=0,8 %", r"\(ratio\): .*write 0.8 % or 8 %$"),
        ("ratio=1:1,5", r"\(ratio\): .*write 1:1.5 or 1:15$"),
        ("nutrient_1=\x07", r"a character that .xlsx files cannot hold"),
    ],
)
def test_bad_settings(typed: str, says: str, workbook: GetWorkbook, capsys: Capture) -> None:
    path = workbook("stock-tank")
    [line] = refused(["run", str(path), "--set", typed], path, capsys)
    assert re.search(says, line), line


def half(path: Path) -> None:
    content = path.read_bytes()
    path.write_bytes(content[: len(content) // 2])


def damaged_sheet(path: Path) -> None:
    """One byte of the first sheet's packed content is flipped; the zip's own lists are whole."""
    part = part_of(path, "Stock tank")
    with zipfile.ZipFile(path) as archive:
        info = archive.getinfo(part)
        at = info.header_offset + 30 + len(part) + info.compress_size // 2
    content = bytearray(path.read_bytes())
    content[at] ^= 0xFF
    path.write_bytes(content)


def without_sheet_part(path: Path) -> None:
    parts = read_parts(path.read_bytes())
    del parts[part_of(path, "Stock tank")]
    path.write_bytes(write_parts(parts))


def broken_xml(path: Path) -> None:
    edit_part(path, part_of(path, "Stock tank"), lambda text: text[: len(text) // 2])


def other_zip(path: Path) -> None:
    path.write_bytes(write_parts({"readme.txt": b"hello"}))


def folder_instead(path: Path) -> None:
    path.unlink()
    path.mkdir()


FILES: dict[str, tuple[Spoil, str]] = {
    "text": (lambda path: path.write_text("a,b\n1,2\n"), "this is not an .xlsx workbook"),
    "old .xls": (lambda path: path.write_bytes(b"\xd0\xcf\x11\xe0" + b"\0" * 600), "old .xls"),
    "empty": (lambda path: path.write_bytes(b""), "the file is empty"),
    "missing": (lambda path: path.unlink(), "there is no such file"),
    "folder": (folder_instead, "this is a folder"),
    "truncated": (half, "damaged or cut short"),
    "another zip": (other_zip, "not an .xlsx workbook"),
    "damaged sheet": (damaged_sheet, "damaged or cut short"),
    "no sheet part": (without_sheet_part, ""),
    "broken XML": (broken_xml, "XML is damaged"),
    "missing sheet": (lambda path: delete_sheet(path, "Stock tank"), "'"),
    "missing name": (lambda path: delete_name(path, "tank"), "'tank'"),
}


@pytest.mark.parametrize("command", ["run", "verify"])
@pytest.mark.parametrize("kind", FILES)
def test_files_that_cannot_be_used(
    kind: str, command: str, workbook: GetWorkbook, capsys: Capture
) -> None:
    path = workbook("stock-tank")
    spoil, says = FILES[kind]
    spoil(path)
    more = ["--engines", "ironcalc", "--cases", "1"] if command == "verify" else []
    [line] = refused([command, str(path), *more], path, capsys)
    assert line.startswith("tanksheet: stock-tank.xlsx: "), line
    assert says in line


def test_verify_needs_one_of_our_workbooks(workbook: GetWorkbook, capsys: Capture) -> None:
    path = workbook("stock-tank")
    delete_name(path, "workbook_id")
    [line] = refused(["verify", str(path)], path, capsys)
    assert "stock-tank.xlsx is not a Tanksheet workbook" in line


# making


def test_make_does_not_replace_without_force(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "stock-tank.xlsx"
    path.write_bytes(b"my own")
    [line] = refused(["make", "zone-flow", "stock-tank", "--out", str(tmp_path)], path, capsys)
    assert "stock-tank.xlsx is there already; say --force to replace it" in line
    assert main(["make", "stock-tank", "--out", str(tmp_path), "--force"]) == 0
    assert path.read_bytes().startswith(b"PK")
    assert list(tmp_path.iterdir()) == [path]


def test_make_onto_a_read_only_file(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Permissions do not bind root, so the answer of the system is stood in for here; that the
    real ones count is tested with replace_file (tests/sheets)."""
    path = tmp_path / "stock-tank.xlsx"
    path.write_bytes(b"my own")
    real = Path.open

    def guarded(self: Path, mode: str = "r", *more: object) -> object:
        if self == path and mode != "rb":
            raise PermissionError(errno.EACCES, "Permission denied", str(self))
        return real(self, mode, *more)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", guarded)
    call = ["make", "stock-tank", "--out", str(tmp_path), "--force"]
    [line] = refused(call, path, capsys)
    assert "stock-tank.xlsx: cannot be written (Permission denied)" in line


def test_make_into_a_folder_that_is_missing(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "new" / "farm" / "stock-tank.xlsx"
    assert main(["make", "stock-tank", "--out", str(path.parent)]) == 0
    assert capsys.readouterr().out == f"wrote {path}\n"
    assert path.is_file()


def test_make_into_what_is_no_folder(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "farm"
    path.write_text("notes", encoding="utf-8")
    [line] = refused(["make", "stock-tank", "--out", str(path)], path, capsys)
    assert line == f"tanksheet: {path}: File exists"


def test_make_names_what_there_is(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "any"
    [line] = refused(["make", "zone-flow", "rain-dance", "--out", str(tmp_path)], path, capsys)
    assert "no workbook is called 'rain-dance'; there are: zone-flow, stock-tank" in line
    [line] = refused(["make", "--out", str(tmp_path)], path, capsys)
    assert "name a workbook or say --all" in line


def test_verify_and_run_of_unknown_engines(workbook: GetWorkbook, capsys: Capture) -> None:
    path = workbook("stock-tank")
    for call in (["run", str(path), "--engine", "abacus"], ["verify", str(path), "--engines", "x"]):
        [line] = refused(call, path, capsys)
        assert "There is no engine" in line
        assert ", ".join(ENGINES) in line


def test_verify_without_a_file(tmp_path: Path, capsys: Capture) -> None:
    [line] = refused(["verify"], tmp_path / "any", capsys)
    assert "name a workbook file or say --all" in line


@pytest.mark.parametrize(
    "call",
    [
        [],
        ["dance"],
        ["run"],
        ["calc"],
        ["make", "--nonsense"],
        ["verify", "x.xlsx", "--cases", "-1"],
        ["verify", "x.xlsx", "--cases", "some"],
    ],
)
def test_wrong_calls_show_the_usage(call: list[str], capsys: Capture) -> None:
    with pytest.raises(SystemExit) as left:
        main(call)
    assert left.value.code == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("usage: tanksheet")
