"""Installing into LibreOffice and out of it: the real thing in a home of its own, then refusals."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from engines_needed import need
from tanksheet.cli import main
from tanksheet.hosts.libreoffice import install as libreoffice_install
from tanksheet.hosts.libreoffice.extension import IDENTIFIER
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.recalc.libreoffice_found import soffice

Capture = pytest.CaptureFixture[str]
CALL = "=FERT.STOCKMASS(150,15.5,100,200)"
MASS = 150 * 100 * 200 / 155
LATEST_SECONDS = 120


@pytest.fixture
def home(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty home folder. Where the tests run as root, programs run as an ordinary user."""
    need(LibreOffice())
    folder = Path(tempfile.mkdtemp(prefix="tanksheet-home-"))
    monkeypatch.setenv("HOME", str(folder))
    for name in ("XDG_CONFIG_HOME", "BUNDLED_EXTENSIONS"):
        monkeypatch.delenv(name, raising=False)
    if os.geteuid() == 0:
        nobody = pwd.getpwnam("nobody")
        os.chown(folder, nobody.pw_uid, nobody.pw_gid)
        real = subprocess.run
        who = {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}
        monkeypatch.setattr(subprocess, "run", lambda *a, **k: real(*a, **k, **who))
        monkeypatch.setattr(os, "geteuid", lambda: nobody.pw_uid)
    yield folder
    shutil.rmtree(folder, ignore_errors=True)


def value_in_libreoffice(home: Path) -> Any:
    """What a saved cell holds after LibreOffice, with the profile of this home, has read it."""
    workbook = Workbook()
    workbook.active["A1"] = CALL
    source = home / "farm.xlsx"
    workbook.save(source)
    source.chmod(0o644)
    subprocess.run(
        [str(soffice()), "--headless", "--norestore", "--convert-to", "xlsx:Calc MS Excel 2007 XML"]
        + ["--outdir", str(home / "out"), str(source)],
        check=True,
        cwd=home,
        capture_output=True,
        timeout=LATEST_SECONDS,
    )
    return load_workbook(home / "out" / "farm.xlsx", data_only=True).active["A1"].value


def test_install_use_install_again_and_remove(home: Path, capsys: Capture) -> None:
    assert main(["addin", "libreoffice"]) == 0
    assert "installed for the current user" in capsys.readouterr().out
    assert value_in_libreoffice(home) == pytest.approx(MASS, rel=1e-9)
    assert main(["addin", "libreoffice"]) == 0
    capsys.readouterr()
    assert main(["addin", "libreoffice", "--uninstall"]) == 0
    assert "removed for the current user" in capsys.readouterr().out
    assert value_in_libreoffice(home) == "#NAME?"
    assert main(["addin", "libreoffice", "--uninstall"]) == 2
    assert "nothing to remove" in capsys.readouterr().err


def stand_in(folder: Path, monkeypatch: pytest.MonkeyPatch, said: str = "", code: int = 0) -> Path:
    """A program in place of unopkg: notes its arguments, says something, ends with a code."""
    program, notes = folder / "unopkg", folder / "notes"
    program.write_text(f'#!/bin/sh\necho "$@" >>"{notes}"\ncat >&2 <<"."\n{said}\n.\nexit {code}\n')
    program.chmod(0o755)
    monkeypatch.setattr(libreoffice_install, "_program", lambda: str(program))
    return notes


@pytest.mark.parametrize(("user", "scope"), [(0, "--shared "), (1000, "")])
def test_root_installs_for_all_users_and_is_told(
    user: int, scope: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    notes = stand_in(tmp_path, monkeypatch)
    monkeypatch.setattr(os, "geteuid", lambda: user)
    assert main(["addin", "libreoffice"]) == 0
    assert main(["addin", "libreoffice", "--uninstall"]) == 0
    added, removed = notes.read_text().splitlines()
    assert added.startswith(f"add {scope}--force ")
    assert added.endswith(".oxt")
    assert removed == f"remove {scope}{IDENTIFIER}"
    assert ("all users of this computer" in capsys.readouterr().out) == (user == 0)


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
