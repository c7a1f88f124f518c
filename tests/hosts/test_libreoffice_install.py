"""Installing into LibreOffice and out of it: the real thing in a home of its own, then refusals."""

from __future__ import annotations

import fcntl
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from engines_needed import need
from tanksheet.cli import main
from tanksheet.hosts.libreoffice import install as libreoffice_install
from tanksheet.hosts.libreoffice import running as libreoffice_running
from tanksheet.hosts.libreoffice.extension import IDENTIFIER
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.recalc.libreoffice_found import soffice

Capture = pytest.CaptureFixture[str]
CALL = "=FERT.STOCKMASS(150,15.5,100,200)"
MASS = 150 * 100 * 200 / 155
LATEST_SECONDS = 120


@pytest.fixture
def alone() -> Iterator[None]:
    """One such test at a time: an ordinary LibreOffice of another worker would be "open" here."""
    with Path(tempfile.gettempdir(), "tanksheet-ordinary-libreoffice.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


@pytest.fixture
def home(alone: None, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty home folder. Where the tests run as root, programs run as an ordinary user."""
    need(LibreOffice())
    folder = Path(tempfile.mkdtemp(prefix="tanksheet-home-"))
    monkeypatch.setenv("HOME", str(folder))
    for name in ("XDG_CONFIG_HOME", "BUNDLED_EXTENSIONS"):
        monkeypatch.delenv(name, raising=False)
    if os.geteuid() == 0:
        nobody = pwd.getpwnam("nobody")
        os.chown(folder, nobody.pw_uid, nobody.pw_gid)
        real: Any = subprocess.run
        who: dict[str, Any] = {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}
        monkeypatch.setattr(subprocess, "run", lambda *a, **k: real(*a, **k, **who))
        monkeypatch.setattr(os, "geteuid", lambda: nobody.pw_uid)
    yield folder
    shutil.rmtree(folder, ignore_errors=True)


def seen_in_libreoffice(source: Path, kind: str = "xlsx") -> Path:
    """A file as LibreOffice, with the profile of this home, shows and saves it."""
    home = Path(os.environ["HOME"])
    source.chmod(0o644)
    out = Path(tempfile.mkdtemp(dir=home))
    out.chmod(0o777)
    filters = {"xlsx": "xlsx:Calc MS Excel 2007 XML", "ods": "ods"}
    subprocess.run(
        [str(soffice()), "--headless", "--norestore", "--convert-to", filters[kind]]
        + ["--outdir", str(out), str(source)],
        check=True,
        cwd=home,
        capture_output=True,
        timeout=LATEST_SECONDS,
    )
    return out / f"farm.{kind}"


def cell(path: Path) -> tuple[str, Any]:
    """The formula and the value of cell A1 of an .xlsx file."""
    values = (load_workbook(path, data_only=only).active["A1"].value for only in (False, True))
    formula, value = values
    return str(formula), value


def farm(folder: Path) -> Path:
    """A file with one call and no stored value, so that LibreOffice works it out."""
    workbook = Workbook()
    workbook.active["A1"] = CALL
    workbook.save(folder / "farm.xlsx")
    return folder / "farm.xlsx"


def test_install_use_install_again_and_remove(home: Path, capsys: Capture) -> None:
    source = farm(home)
    assert main(["addin", "libreoffice"]) == 0
    assert "installed for the current user" in capsys.readouterr().out
    assert cell(seen_in_libreoffice(source)) == (CALL, pytest.approx(MASS, rel=1e-9))
    assert main(["addin", "libreoffice"]) == 0
    capsys.readouterr()
    assert main(["addin", "libreoffice", "--uninstall"]) == 0
    assert "removed for the current user" in capsys.readouterr().out
    assert cell(seen_in_libreoffice(source))[1] == "#NAME?"
    assert main(["addin", "libreoffice", "--uninstall"]) == 2
    assert "nothing to remove" in capsys.readouterr().err


def test_files_outlive_the_extension(home: Path) -> None:
    """Saved with it, opened and saved without it, opened with it again: formula and value return.

    Without it LibreOffice works an .ods file out anew, and shows what an .xlsx file of its own
    holds until something makes it calculate. Version 7.4 writes the unknown name in small letters.
    """
    source = farm(home)
    value = pytest.approx(MASS, rel=1e-9)
    assert main(["addin", "libreoffice"]) == 0
    ods, xlsx = (seen_in_libreoffice(source, kind) for kind in ("ods", "xlsx"))
    assert main(["addin", "libreoffice", "--uninstall"]) == 0
    for file, shown in ((ods, "#NAME?"), (xlsx, value)):
        formula, found = cell(seen_in_libreoffice(file))
        assert (formula.upper(), found) == (CALL, shown)
    resaved = seen_in_libreoffice(ods, "ods"), seen_in_libreoffice(xlsx)
    assert main(["addin", "libreoffice"]) == 0
    for file in resaved:
        assert cell(seen_in_libreoffice(file)) == (CALL, value)


@contextmanager
def libreoffice_open(home: Path) -> Iterator[subprocess.Popen[bytes]]:
    """LibreOffice with the ordinary profile of this home, as its user has it open."""
    program = [str(soffice()), "--headless", "--norestore", "--nologo"]
    # With a new profile it begins anew by itself, and for that moment it is not open.
    subprocess.run([*program, "--terminate_after_init"], cwd=home, timeout=LATEST_SECONDS)
    log = (home / "log").open("wb")
    as_nobody: dict[str, Any] = {"user": "nobody", "group": home.stat().st_gid}
    office = subprocess.Popen(
        program,
        cwd=home,
        stdout=log,
        stderr=log,
        start_new_session=True,
        **(as_nobody if os.getuid() == 0 else {}),
    )
    try:
        deadline = time.monotonic() + LATEST_SECONDS
        while not libreoffice_running.is_open():
            assert time.monotonic() < deadline and office.poll() is None
            time.sleep(0.1)
        yield office
    finally:
        os.killpg(office.pid, signal.SIGKILL)
        office.wait()
        log.close()
        # Its children were killed too, and may take a moment to be gone.
        deadline = time.monotonic() + LATEST_SECONDS
        while libreoffice_running.is_open():
            assert time.monotonic() < deadline
            time.sleep(0.1)


def test_it_waits_until_libreoffice_is_closed(home: Path, capsys: Capture) -> None:
    assert main(["addin", "libreoffice", "--uninstall"]) == 2
    assert "nothing to remove" in capsys.readouterr().err
    with libreoffice_open(home):
        for words in ([], ["--uninstall"]):
            assert main(["addin", "libreoffice", *words]) == 2
            told = capsys.readouterr()
            assert told.out == ""
            assert told.err == "tanksheet: LibreOffice is open; close LibreOffice and try again.\n"
    # It was killed, so its lock is still there, as after a crash; that turns nobody away.
    assert (home / ".config" / "libreoffice" / "4" / ".lock").exists()
    assert main(["addin", "libreoffice"]) == 0
    assert "installed" in capsys.readouterr().out


def test_another_libreoffice_is_in_nobodys_way(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One with a profile of its own, as scripts start it, beside a lock that a crash left."""
    lock = home / ".config" / "libreoffice" / "4" / ".lock"
    lock.parent.mkdir(parents=True)
    lock.touch()
    office = "/usr/lib/libreoffice/program/soffice.bin\0--headless\0"
    for running, is_open in (
        ([office], True),
        ([office + "-env:UserInstallation=file:///tmp/own\0"], False),
        (["/usr/bin/vi\0soffice.bin\0"], False),
        ([r"C:\Program Files\LibreOffice\program\soffice.exe"], True),
        ([], False),
    ):
        monkeypatch.setattr(libreoffice_running, "_running", lambda found=running: iter(found))
        assert libreoffice_running.is_open() == is_open, running
    lock.unlink()
    monkeypatch.setattr(libreoffice_running, "_running", lambda: iter([office]))
    assert not libreoffice_running.is_open()


def stand_in(folder: Path, monkeypatch: pytest.MonkeyPatch, said: str = "", code: int = 0) -> Path:
    """A program in place of unopkg: notes its arguments, says something, ends with a code."""
    program, notes = folder / "unopkg", folder / "notes"
    program.write_text(f'#!/bin/sh\necho "$@" >>"{notes}"\ncat >&2 <<"."\n{said}\n.\nexit {code}\n')
    program.chmod(0o755)
    monkeypatch.setenv("HOME", str(folder))
    monkeypatch.setattr(libreoffice_install, "_program", lambda: str(program))
    return notes


@pytest.mark.parametrize(("user", "scope"), [(0, "--shared "), (1000, "")])
def test_root_installs_for_all_users_and_is_told(
    user: int, scope: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    notes = stand_in(tmp_path, monkeypatch)
    monkeypatch.setattr(os, "geteuid", lambda: user)
    told = []
    real = libreoffice_install._unopkg

    def noting(*words: str) -> None:
        told.append(capsys.readouterr().out)
        real(*words)

    monkeypatch.setattr(libreoffice_install, "_unopkg", noting)
    assert main(["addin", "libreoffice"]) == 0
    assert main(["addin", "libreoffice", "--uninstall"]) == 0
    added, removed = notes.read_text().splitlines()
    assert added.startswith(f"add {scope}--force ")
    assert added.endswith(".oxt")
    assert removed == f"remove {scope}{IDENTIFIER}"
    first, second = told
    assert ("Installing for all users of this computer" in first) == (user == 0)
    assert ("Removing for all users of this computer" in second) == (user == 0)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("ERROR: There is no such extension deployed: org.x", "nothing to remove"),
        ("ERROR: unopkg cannot be started. The lock file indicates it", "close it and try again"),
        ("Copying: x\nERROR: unsatisfied dependencies at ./desktop/x.cxx", "unsatisfied dep"),
    ],
)
def test_refusals_say_what_to_do(
    said: str, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    stand_in(tmp_path, monkeypatch, said, 1)
    assert main(["addin", "libreoffice"]) == 2
    err = capsys.readouterr().err
    assert told in err
    assert "Traceback" not in err


def test_a_program_that_hangs_or_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    stand_in(tmp_path, monkeypatch)
    (tmp_path / "unopkg").write_text("#!/bin/sh\nexec sleep 30\n")
    monkeypatch.setattr(libreoffice_install, "SECONDS", 0.2)
    assert main(["addin", "libreoffice"]) == 2
    assert "close LibreOffice and try again" in capsys.readouterr().err
    monkeypatch.setattr(libreoffice_install, "_program", lambda: str(tmp_path / "none"))
    assert main(["addin", "libreoffice"]) == 2
    assert "does not start" in capsys.readouterr().err
