"""Workbooks that were saved as .ods: LibreOffice writes an .xlsx copy, which is then read."""

from __future__ import annotations

import contextlib
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tanksheet.errors import EngineProblem
from tanksheet.xlsx.ods import is_ods, refuse_unless_ods

SECONDS = 180.0  # how long LibreOffice may take: 15 for our largest on a machine of its own


@contextlib.contextmanager
def as_xlsx(path: Path) -> Iterator[Path]:
    """The file itself, or for an .ods file a private copy in the other format.

    The copy bears the file's own name, which is the one that messages call it by.

    Raises: WorkbookProblem for a file that is no .ods though called so, EngineProblem when
    LibreOffice is missing or fails.
    """
    if not is_ods(path):
        yield path
        return
    from tanksheet.recalc.libreoffice_engine import LibreOffice, convert

    refuse_unless_ods(path)
    missing = LibreOffice().missing()
    if missing:
        raise EngineProblem(
            f"{path.name}: .ods files are read through LibreOffice; save it as .xlsx. {missing}"
        )
    with tempfile.TemporaryDirectory(prefix="tanksheet-") as folder:
        made = convert(path, Path(folder), "xlsx", SECONDS)
        yield made.rename(made.with_name(path.name))
