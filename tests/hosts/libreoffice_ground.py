"""LibreOffice with the extension, in throw-away profiles."""

from __future__ import annotations

import json
import os
import subprocess
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from engines_needed import need
from tanksheet.hosts.libreoffice.extension import unpack
from tanksheet.recalc import ENGINES, libreoffice_worker
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.recalc.libreoffice_found import python_with_uno, soffice

SECONDS = 120
TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0"
OFFICE = "urn:oasis:names:tc:opendocument:xmlns:office:1.0"
DESCRIBE = Path(__file__).with_name("libreoffice_describe.py")
WORKER = Path(str(libreoffice_worker.__file__))


@contextmanager
def with_extension(folder: Path) -> Iterator[LibreOffice]:
    """A LibreOffice that has the extension among those it is delivered with.

    No profile and no installation is touched: LibreOffice takes the folder of such extensions
    from the environment.
    """
    unpack(folder / "fert.oxt")
    own = LibreOffice()
    need(own)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("BUNDLED_EXTENSIONS", folder.as_uri())
        patch.setitem(ENGINES, "libreoffice", own)
        yield own
        own.close()


def saved_as(source: Path, kind: str, folder: Path) -> Path:
    """A file opened, recalculated on loading where LibreOffice sees need, and saved again."""
    folder.mkdir(exist_ok=True)
    profile = folder / "profile"
    subprocess.run(
        [
            str(soffice()),
            f"-env:UserInstallation={profile.as_uri()}",
            *("--headless", "--norestore", "--convert-to", kind),
            *("--outdir", str(folder), str(source)),
        ],
        check=True,
        capture_output=True,
        timeout=SECONDS,
    )
    return folder / f"{source.stem}.{kind}"


def ods_formulas(path: Path) -> list[str]:
    """The formulas of an .ods file, row by row."""
    with zipfile.ZipFile(path) as parts:
        root = ElementTree.fromstring(parts.read("content.xml"))
    cells = root.iter(f"{{{TABLE}}}table-cell")
    return [text for cell in cells if (text := cell.get(f"{{{TABLE}}}formula"))]


def ods_values(path: Path) -> list[float]:
    """The numbers that an .ods file holds for its formulas, row by row."""
    with zipfile.ZipFile(path) as parts:
        root = ElementTree.fromstring(parts.read("content.xml"))
    cells = [c for c in root.iter(f"{{{TABLE}}}table-cell") if c.get(f"{{{TABLE}}}formula")]
    return [float(cell.get(f"{{{OFFICE}}}value", "nan")) for cell in cells]


def described() -> dict[str, Any]:
    """What LibreOffice's Function Wizard knows of the functions, by name."""
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    done = subprocess.run(
        [str(python_with_uno()), str(DESCRIBE), str(WORKER), str(soffice())],
        env=surroundings,
        check=True,
        capture_output=True,
        text=True,
        timeout=SECONDS,
    )
    found: dict[str, Any] = json.loads(done.stdout)
    return found
