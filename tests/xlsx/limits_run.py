"""Runs one command on many files in a process of its own and says what came of each, as JSON.

Called as: limits_run.py COMMAND FOLDER SHARE. The limits on the number of elements are brought down
to their SHARE, so that smaller files show what they do; all others are as they are.
"""

from __future__ import annotations

import contextlib
import io
import json
import sys
import time
from pathlib import Path

from tanksheet.cli import main
from tanksheet.xlsx import elements, listing


def call(command: str, path: Path) -> list[str]:
    if command == "run":
        return ["run", str(path), "--get", "first"]
    if command == "verify":
        return ["verify", str(path), "--engines", "ironcalc", "--cases", "1", "--no-edges"]
    return ["addin", "lambda", "--into", str(path), "--out", str(path.with_suffix(".out.xlsx"))]


def result(command: str, path: Path) -> list[object]:
    """Exit code, lines of the error output, seconds."""
    out, err, start = io.StringIO(), io.StringIO(), time.monotonic()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(call(command, path))
    return [code, err.getvalue().splitlines(), round(time.monotonic() - start, 2)]


def lower(share: float) -> None:
    elements.MOST_ELEMENTS = elements.Elements.most = int(elements.MOST_ELEMENTS * share)
    most = int(elements.MOST_LISTED * share)
    listing.BookList.most = listing.LinkList.most = elements.MOST_LISTED = most


if __name__ == "__main__":
    command, folder, share = sys.argv[1:]
    lower(float(share))
    files = sorted(Path(folder).glob("*.xlsx"))
    print(json.dumps({path.stem: result(command, path) for path in files}))
