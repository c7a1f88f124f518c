"""Whether the user has LibreOffice open: its extensions are not to be changed under it.

Two signs together, so that nobody is turned away wrongly. LibreOffice keeps a file ``.lock`` in its
profile, which a crash leaves behind; and a program of this user runs, which may be another's
LibreOffice with a profile of its own, as scripts start it.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ANSWER_SECONDS = 20.0
# The last starts the first, again too: LibreOffice may begin anew when its profile is new.
PROGRAMS = ("soffice.bin", "soffice.exe", "soffice", "oosplash")
OWN_PROFILE = "-env:UserInstallation="


def is_open() -> bool:
    """Whether a LibreOffice with the current user's ordinary profile runs."""
    return (_profile() / ".lock").exists() and any(map(_is_office, _running()))


def _profile() -> Path:
    """Where LibreOffice keeps a user's settings."""
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", "")) / "LibreOffice" / "4"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "LibreOffice" / "4"
    folder = os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config"
    return Path(folder) / "libreoffice" / "4"


def _is_office(command: str) -> bool:
    """For a program as it was started: LibreOffice, with no profile of its own."""
    words = command.split("\0")
    is_office = words[0].replace("\\", "/").rpartition("/")[2].lower() in PROGRAMS
    return is_office and OWN_PROFILE not in command


def _running() -> Iterator[str]:
    """This user's programs as they were started, words parted by NUL."""
    own = getattr(os, "geteuid", int)()
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            if folder.stat().st_uid == own:
                yield (folder / "cmdline").read_text(errors="replace")
        except OSError:
            continue  # it has ended meanwhile
    if not Path("/proc/self").exists():
        yield from _listed()


def _listed() -> Iterator[str]:
    """The same on Windows and macOS, where a system's program lists them."""
    windows = ["tasklist", "/FO", "CSV", "/NH"]
    try:
        done = subprocess.run(
            windows if os.name == "nt" else ["ps", "-x", "-o", "command="],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            errors="replace",
            timeout=ANSWER_SECONDS,
        )
    except (OSError, subprocess.TimeoutExpired):
        return
    for line in done.stdout.splitlines():
        yield line.split('"')[1] if line.startswith('"') else line.replace(" -", "\0-")
