"""How a command ends when something outside it goes wrong: one line at most, never a traceback."""

from __future__ import annotations

import errno
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from package_edits import GetWorkbook
from tanksheet import cli, commands
from tanksheet.xlsx import writing

ENGINE = Path(cli.__file__).parents[1]
# Output that is kept back, as it is for people, shows its faults later than output that is not.
SURROUNDINGS = {k: v for k, v in os.environ.items() if k != "PYTHONUNBUFFERED"}
SURROUNDINGS["PYTHONPATH"] = str(ENGINE)
COMMAND = [sys.executable, "-m", "tanksheet.cli"]


def shell(line: str) -> subprocess.CompletedProcess[str]:
    """Runs a line of the shell in which $T is the command; the status is that of the first part."""
    return subprocess.run(
        ["bash", "-c", f'{line}\nexit "${{PIPESTATUS[0]}}"'],
        env={**SURROUNDINGS, "T": " ".join(COMMAND)},
        capture_output=True,
        text=True,
        timeout=60,
    )


@pytest.mark.parametrize("what", ["list", "list --json", "--help", "calc '=FERT.PERCENT(128)'"])
def test_a_reader_that_goes_away(what: str) -> None:
    said = shell(f"(sleep 0.5; exec $T {what}) | true")
    assert (said.returncode, said.stdout, said.stderr) == (141, "", "")


def test_the_first_line_only() -> None:
    said = shell("$T list | head -1")
    assert (said.stdout, said.stderr) == ("Workbooks\n", "")
    assert said.returncode in (0, 141)  # whether it had written all before head ended


def test_output_that_cannot_be_written() -> None:
    said = shell("$T list > /dev/full | true")
    assert said.returncode == 2
    assert said.stderr == "tanksheet: No space left on device\n"


@pytest.mark.parametrize("when", ["replace_file", "workbook_bytes"])
def test_stopped_by_the_keyboard(
    when: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    room = writing if when == "replace_file" else "tanksheet.sheets.writer"
    if isinstance(room, str):
        monkeypatch.setattr(f"{room}.{when}", stop)
    else:
        monkeypatch.setattr(room, when, stop)
    assert cli.main(["make", "ratio-table", "--out", str(tmp_path)]) == 130
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", "tanksheet: stopped\n")
    assert list(tmp_path.iterdir()) == []


def test_a_real_ctrl_c(workbook: GetWorkbook) -> None:
    path = workbook("recipe")
    before = path.read_bytes()
    call = [*COMMAND, "verify", str(path), "--engines", "ironcalc"]
    process = subprocess.Popen(
        call, env=SURROUNDINGS, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    time.sleep(2.5)  # it takes some seconds to check the recipe
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert (out, err) == ("", "tanksheet: stopped\n")
    assert (path.read_bytes(), list(path.parent.iterdir())) == (before, [path])


def test_too_little_memory(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(_: object) -> int:
        raise MemoryError

    monkeypatch.setattr(commands, "list_all", fail)
    assert cli.main(["list"]) == 2
    assert capsys.readouterr().err == "tanksheet: this needs more memory than there is\n"


# Everything that writes, on a disk with room for one or two small files


@pytest.fixture
def full_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A disk of 8 kB where root may mount one; else the answer of the system is stood in for."""
    folder = tmp_path / "disk"
    folder.mkdir()
    call = ["mount", "-t", "tmpfs", "-o", "size=8k", "tmpfs", str(folder)]
    if os.geteuid() or subprocess.run(call, capture_output=True).returncode:

        def full(_: int) -> None:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        monkeypatch.setattr(os, "fsync", full)
        yield folder
        return
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def writes(path: Path, folder: Path) -> dict[str, tuple[list[str], Path]]:
    """Each command that writes, with the file that it writes first."""
    made = folder / "ratio-table.xlsx"
    return {
        "make": (["make", made.stem, "--force", "--out", str(folder)], made),
        "page": (["list", "--page", str(folder / "page.md")], folder / "page.md"),
        "lambda": (
            ["addin", "lambda", "--force", "--out", str(folder / "new.xlsx")],
            folder / "new.xlsx",
        ),
        "into": (
            ["addin", "lambda", "--into", str(path), "--out", str(folder / "a.xlsx"), "--force"],
            folder / "a.xlsx",
        ),
        "libreoffice": (
            ["addin", "libreoffice", "--force", "--out", str(folder / "a.oxt")],
            folder / "a.oxt",
        ),
        "xlwings": (["addin", "xlwings", "--out", str(folder)], folder / "fert_functions.py"),
    }  # fmt: skip


WRITES = ("make", "page", "lambda", "into", "libreoffice", "xlwings")


@pytest.mark.parametrize("what", WRITES)
@pytest.mark.parametrize("is_there", [True, False])
def test_a_full_disk(
    what: str,
    is_there: bool,
    workbook: GetWorkbook,
    full_disk: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    call, target = writes(workbook("stock-tank"), full_disk)[what]
    before = (
        {target: b"my own"} if is_there and what != "xlwings" else {}
    )  # it spares others' files
    for path, content in before.items():
        path.write_bytes(content)
    assert cli.main(call) == 2
    said = capsys.readouterr()
    assert said.out == ""
    name = re.escape(str(target))
    assert re.fullmatch(rf"tanksheet: {name}: cannot be written \(No space .*\).*\n", said.err)
    assert {each: each.read_bytes() for each in full_disk.iterdir()} == before


def test_make_makes_the_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "farm" / "2026"
    assert cli.main(["make", "ratio-table", "--out", str(folder)]) == 0
    assert [each.name for each in folder.iterdir()] == ["ratio-table.xlsx"]


def test_make_makes_no_folder_for_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["make", "rain-dance", "--out", str(tmp_path / "farm")]) == 2
    assert list(tmp_path.iterdir()) == []


def test_make_into_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = tmp_path / "farm"
    place.write_bytes(b"mine")
    assert cli.main(["make", "ratio-table", "--out", str(place)]) == 2
    assert capsys.readouterr().err == f"tanksheet: {place}: File exists\n"
    assert place.read_bytes() == b"mine"
