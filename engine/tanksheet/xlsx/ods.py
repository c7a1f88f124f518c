"""An OpenDocument spreadsheet (.ods): whether it is one, before a program is started to convert it.

OpenDocument 1.3 part 2, 3.3: the zip's part ``mimetype`` says what the file is.
"""

from __future__ import annotations

import zipfile
from pathlib import Path

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.refusals import DAMAGE, damaged, refuse_bombs, too_much

ENDING = ".ods"
KIND = b"application/vnd.oasis.opendocument.spreadsheet"
MOST_BYTES = 50_000_000  # unpacked; the converting program holds some ten times that


def is_ods(path: Path) -> bool:
    """By its name."""
    return path.suffix.lower() == ENDING


def refuse_unless_ods(path: Path) -> None:
    """Raises WorkbookProblem for a file that is no .ods, is locked, damaged or too large."""
    if path.is_dir():
        raise WorkbookProblem(f"{path.name}: this is a folder, not an {ENDING} file.")
    try:
        with zipfile.ZipFile(path) as parts:
            refuse_bombs(path.name, parts.infolist())
            kind = parts.read("mimetype") if "mimetype" in parts.namelist() else b""
            size = sum(info.file_size for info in parts.infolist())
            locked = b"encryption-data" in parts.read("META-INF/manifest.xml")
    except FileNotFoundError:
        raise WorkbookProblem(f"{path.name}: there is no such file ({path}).") from None
    except OSError as problem:
        raise WorkbookProblem(f"{path.name}: cannot be read ({problem.strerror}).") from None
    except (KeyError, ValueError, *DAMAGE) as problem:
        raise damaged(path.name, problem) from None
    if kind.strip() != KIND:
        raise WorkbookProblem(f"{path.name}: this is not an {ENDING} spreadsheet.")
    if size > MOST_BYTES:
        raise too_much(path.name, f"more than {MOST_BYTES / 1e6:.0f} MB")
    if locked:
        raise WorkbookProblem(f"{path.name}: it is locked with a password; save it without one.")
