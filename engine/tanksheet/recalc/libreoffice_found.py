"""Where LibreOffice is on this computer, and a Python that can talk to it."""

from __future__ import annotations

import functools
import os
import shutil
import subprocess
import sys
from pathlib import Path

from tanksheet.errors import EngineProblem

ANSWER_SECONDS = 60.0
_USUAL_PLACES = (
    "/usr/bin/soffice",
    "/Applications/LibreOffice.app/Contents/MacOS/soffice",
    r"C:\Program Files\LibreOffice\program\soffice.exe",
)


@functools.cache
def soffice() -> str | None:
    """The program that starts LibreOffice, or None."""
    for place in ("soffice", "libreoffice", *_USUAL_PLACES):
        found = shutil.which(place)
        if found:
            return found
    return None


@functools.cache
def python_with_uno() -> str | None:
    """This Python, the system's, or LibreOffice's own: the first that can import uno."""
    programs = Path(str(soffice())).resolve().parent
    own = [str(programs / name) for name in ("python", "python.exe")]
    bundled = str(programs.parent / "Resources" / "python")
    for python in (sys.executable, "/usr/bin/python3", *own, bundled):
        if python and shutil.which(python) and _imports_uno(python):
            return python
    return None


def _imports_uno(python: str) -> bool:
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    try:
        tried = subprocess.run(
            [python, "-c", "import uno"],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=ANSWER_SECONDS,
            env=surroundings,
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return tried.returncode == 0


@functools.cache
def said_version(program: str) -> str:
    """LibreOffice's version. Raises EngineProblem when it does not tell."""
    try:
        said = subprocess.run(
            [program, "--version"],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=ANSWER_SECONDS,
        )
        return said.stdout.split()[1]
    except (OSError, subprocess.TimeoutExpired, IndexError) as problem:
        raise EngineProblem(f"LibreOffice did not tell its version ({problem!r}).") from None
