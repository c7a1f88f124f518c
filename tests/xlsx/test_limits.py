"""Hostile and merely big files take at most 1 GB and 60 s; then one line and exit code 2.

The files here unpack to 3 MB and meet limits of a tenth of the real ones, which shows the same in
little time. ``PYTHONPATH=engine:tests python tests/xlsx/test_limits.py`` makes files that unpack to
190 MB and says for each command what it took.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from engines_needed import need
from large_files import HOSTILE, ONE, SHEET, row, sheet, write
from package_edits import GetPackage
from tanksheet.cli import main
from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book
from tanksheet.xlsx import reading
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.reading import BOOK, Package
from tanksheet.xlsx.values import stored_values

COMMANDS = ("run", "verify", "addin")
MOST_BYTES, MOST_SECONDS = 1_000_000_000, 60.0
ENGINE = Path(__file__).parents[2] / "engine"
# The engine may well bear these; or what is wrong stands in a part that addin only copies.
MAY_WORK = ("cells", "shared strings", "empty numbers", "array formulas", "names")
ADDIN_REFUSES = ("names", "one long name", "elements among the names", "many parts", "links")

# Stands between, since a process counts the memory of the one that started it as its own.
WATCH = """
import os, subprocess, sys
process = subprocess.Popen(sys.argv[1:])
_, status, used = os.wait4(process.pid, 0)
print(used.ru_maxrss * 1024)
sys.exit(os.waitstatus_to_exitcode(status))
"""


def made(folder: Path, base: bytes, size: int, kinds: Iterable[str] = HOSTILE) -> None:
    for kind in kinds:
        write(folder / f"{kind}.xlsx", base, HOSTILE[kind](size))


def measured(command: str, folder: Path, share: float) -> tuple[dict[str, list[Any]], int, float]:
    """What came of each file, the most memory of any one process in bytes, and the seconds."""
    start = time.monotonic()
    surroundings = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ENGINE)])}
    script = str(Path(__file__).with_name("limits_run.py"))
    process = subprocess.run(
        [sys.executable, "-c", WATCH, sys.executable, script, command, str(folder), str(share)],
        stdout=subprocess.PIPE,
        env=surroundings,
        check=True,
    )
    *_, results, memory = process.stdout.splitlines()
    return json.loads(results), int(memory), time.monotonic() - start


@pytest.mark.parametrize("command", COMMANDS)
def test_hostile_files(command: str, package_of: GetPackage, tmp_path: Path) -> None:
    need(ENGINES["ironcalc"])
    made(tmp_path, package_of("ratio-table"), 3_000_000)
    results, memory, seconds = measured(command, tmp_path, 0.1)
    wrong = []
    for kind, (code, lines, took) in results.items():
        fine = code == 2 and len(lines) == 1 and lines[0].startswith(f"tanksheet: {kind}.xlsx: ")
        if command == "addin" and kind not in ADDIN_REFUSES:
            fine = code == 0 and not lines
        if kind in MAY_WORK and command != "addin":
            fine = fine or (code in (0, 2) and len(lines) == (code == 2))
        if not fine or took > MOST_SECONDS:
            wrong.append((kind, code, lines, took))
    assert len(results) == len(HOSTILE)
    assert not wrong
    assert memory < MOST_BYTES / 2  # these are small
    assert seconds < MOST_SECONDS


def test_many_names_over_many_cells(package_of: GetPackage, tmp_path: Path) -> None:
    """20,000 names over 100,000 cells each: kept by their corners, whatever they cover."""
    names = "".join(
        f'<definedName name="n{i}">Big!$A$1:$J$10000</definedName>' for i in range(20_000)
    )
    path = write(tmp_path / "names.xlsx", package_of("ratio-table"), {BOOK: names})
    for command in ("run", "addin"):
        results, memory, seconds = measured(command, tmp_path, 1)
        code, lines, _ = results["names"]
        assert (code, lines) == (0, []) or (code == 2 and len(lines) == 1), lines
        assert memory < MOST_BYTES / 2
        assert seconds < MOST_SECONDS
        path.with_suffix(".out.xlsx").unlink(missing_ok=True)
    assert len(Package(path).names["n19999"]) == 100_000


def test_a_name_that_is_too_large_to_read(
    package_of: GetPackage, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = '<definedName name="whole">Big!$A$1:$XFD$1048576</definedName>'
    path = write(tmp_path / "names.xlsx", package_of("ratio-table"), {BOOK: whole})
    for call in (["--get", "whole"], ["--set", "whole=1"]):
        assert main(["run", str(path), *call]) == 2
        said = capsys.readouterr().err
        assert said.startswith("tanksheet: names.xlsx: ") and said.count("\n") == 1
        assert "17,179,869,184 cells" in said


def test_a_big_honest_sheet(package_of: GetPackage, tmp_path: Path) -> None:
    """160,000 numbers are read with the real limits."""
    rows = "".join(row(number) for number in range(20_000))
    path = write(tmp_path / "big.xlsx", package_of("ratio-table"), {SHEET: sheet(rows)})
    where = Address("Big", 20_000, 8)
    assert stored_values(Package(path), [where])[where] == 19_999.0


def test_a_directory_of_very_many_parts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The zip's own list is not even read when it would fill the memory."""
    path = write(tmp_path / "a.xlsx", workbook_bytes(book("ratio-table")), {SHEET: sheet(ONE)})
    monkeypatch.setattr(reading, "LARGEST_CONTENTS", 500)
    with pytest.raises(WorkbookProblem, match=r"^a\.xlsx: it holds more parts than can be listed"):
        Package(path)


if __name__ == "__main__":
    for name in sys.argv[1:] or HOSTILE:
        with tempfile.TemporaryDirectory() as place:
            made(Path(place), workbook_bytes(book("ratio-table")), 190_000_000, [name])
            size = next(Path(place).iterdir()).stat().st_size
            for verb in COMMANDS:
                found, most, whole_time = measured(verb, Path(place), 1)
                code, lines, _ = found[name]
                said = lines[-1][:100] if lines else ""
                print(
                    f"{name:26} {size / 1e6:4.1f} MB {verb:7} exit {code} {whole_time:5.1f} s "
                    f"{most / 1e6:5.0f} MB  {len(lines)} line: {said}",
                    flush=True,
                )
                Path(place, f"{name}.out.xlsx").unlink(missing_ok=True)
