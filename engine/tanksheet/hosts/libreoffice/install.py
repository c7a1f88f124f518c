"""Puts the extension into LibreOffice for the current user, and takes it out again."""

from __future__ import annotations

import os
import subprocess
import tempfile
from pathlib import Path

from tanksheet.errors import EngineProblem
from tanksheet.hosts.libreoffice.extension import IDENTIFIER, extension_bytes
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.recalc.libreoffice_found import soffice

SECONDS = 180.0
NAME = "tanksheet-functions.oxt"
RESTART = "Close LibreOffice if it is open; the change shows when it starts again."


def install() -> str:
    """Installs the extension, over an older one if there is one. Gives what to tell the user.

    For the current user; LibreOffice refuses that to root, for whom it is installed for all users.
    Raises: EngineProblem when LibreOffice is missing or refuses.
    """
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / NAME
        file.write_bytes(extension_bytes())
        # LibreOffice copies the file while it may be another user's process.
        Path(folder).chmod(0o755)
        _unopkg("add", "--force", str(file))
    return f"The FERT functions are installed for {_whom()}. {RESTART}"


def uninstall() -> str:
    """Removes the extension. Gives what to tell the user.

    Raises: EngineProblem when it is not installed, or LibreOffice is missing or refuses.
    """
    _unopkg("remove", IDENTIFIER)
    return f"The FERT functions are removed for {_whom()}. {RESTART}"


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _whom() -> str:
    if _is_root():
        return "all users of this computer (root has no LibreOffice of its own)"
    return "the current user"


def _unopkg(task: str, *rest: str) -> None:
    scope = ["--shared"] if _is_root() else []
    try:
        done = subprocess.run(
            [_program(), task, *scope, *rest],
            # It fails in a folder that its user may not enter, such as another user's home.
            cwd=tempfile.gettempdir(),
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            errors="replace",
            timeout=SECONDS,
        )
    except subprocess.TimeoutExpired:
        raise EngineProblem(
            f"LibreOffice's unopkg took more than {SECONDS:.0f} s; close LibreOffice and try again."
        ) from None
    except OSError as problem:
        raise EngineProblem(f"LibreOffice's unopkg does not start: {problem}") from None
    if done.returncode:
        raise EngineProblem(_refusal(done.stdout + done.stderr))


def _program() -> str:
    """LibreOffice's own program for extensions, which stands beside soffice."""
    LibreOffice().need()
    folder = Path(str(soffice())).resolve().parent
    for name in ("unopkg", "unopkg.com", "unopkg.exe"):
        if (folder / name).exists():
            return str(folder / name)
    raise EngineProblem(f"LibreOffice has no unopkg in {folder}; install LibreOffice anew.")


def _refusal(said: str) -> str:
    if "no such extension" in said.lower():
        return f"The extension is not installed for {_whom()}, so there is nothing to remove."
    if "lock file" in said or "already running" in said:
        return "Another program is changing LibreOffice's extensions; close it and try again."
    reason = next((line for line in said.splitlines() if line.startswith("ERROR")), said)
    return f"LibreOffice refuses the extension: {' '.join(reason.split())}"
