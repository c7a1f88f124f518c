"""Puts the extension into LibreOffice for the current user, and takes it out again."""

from __future__ import annotations

import os
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tanksheet.errors import EngineProblem
from tanksheet.hosts.libreoffice.extension import IDENTIFIER, extension_bytes
from tanksheet.hosts.libreoffice.running import is_open
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.recalc.libreoffice_found import soffice

SECONDS = 180.0
NAME = "tanksheet-functions.oxt"


def install() -> Iterator[str]:
    """Installs the extension, over an older one if there is one; gives what to tell, line by line.

    For the current user; LibreOffice refuses that to root, for whom it is installed for all users,
    which is told before it is done.
    Raises: EngineProblem when LibreOffice is missing, open, or refuses.
    """
    program = _ready()
    yield from _warning("Installing")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / NAME
        file.write_bytes(extension_bytes())
        # LibreOffice copies the file while it may be another user's process.
        Path(folder).chmod(0o755)
        _unopkg(program, "add", "--force", str(file))
    yield f"The FERT functions are installed for {_whom()}; {_when()}."


def uninstall() -> Iterator[str]:
    """Removes the extension; gives what to tell, line by line.

    Raises: EngineProblem when it is not installed, or LibreOffice is missing, open, or refuses.
    """
    program = _ready()
    yield from _warning("Removing")
    _unopkg(program, "remove", IDENTIFIER)
    yield f"The FERT functions are removed for {_whom()}; {_when()}."


def _ready() -> str:
    """LibreOffice's program for extensions, LibreOffice itself being closed."""
    program = _program()
    if is_open():
        raise EngineProblem("LibreOffice is open; close LibreOffice and try again.")
    return program


def _warning(doing: str) -> Iterator[str]:
    if _is_root():
        yield f"{doing} for {_whom()}, since root has no LibreOffice of its own."


def _when() -> str:
    if _is_root():
        return "whoever has LibreOffice open sees the change when it starts again"
    return "the change shows when LibreOffice starts"


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _whom() -> str:
    if _is_root():
        return "all users of this computer"
    return "the current user"


def _unopkg(program: str, task: str, *rest: str) -> None:
    scope = ["--shared"] if _is_root() else []
    try:
        done = subprocess.run(
            [program, task, *scope, *rest],
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
