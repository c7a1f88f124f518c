"""A picture of a workbook's first page, as LibreOffice prints it."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path

from tanksheet.errors import EngineProblem
from tanksheet.recalc import convert
from tanksheet.xlsx.writing import replace_file


def write_preview(workbook: Path, picture: Path, dots_per_inch: int = 90) -> None:
    """Prints the workbook to PDF and turns its first page into a PNG.

    Raises: EngineProblem when LibreOffice or pdftoppm is missing or fails.
    """
    if shutil.which("pdftoppm") is None:
        raise EngineProblem("pdftoppm is missing; install Debian's package poppler-utils")
    with tempfile.TemporaryDirectory() as folder:
        pdf = convert(workbook, Path(folder), "pdf")
        stem = Path(folder) / "page"
        options = ["-r", str(dots_per_inch), "-png", "-f", "1", "-singlefile"]
        call = ["pdftoppm", *options, str(pdf), str(stem)]
        try:
            subprocess.run(call, check=True, timeout=60, capture_output=True)
        except subprocess.SubprocessError as problem:
            raise EngineProblem(f"{workbook.name}: pdftoppm made no picture ({problem})") from None
        replace_file(picture, stem.with_suffix(".png").read_bytes())
