"""Gnumeric, by its converter ``ssconvert``: each calculation is one run of the program.

The inputs are written into a copy of the file. ``ssconvert`` has a ``--set`` option of its own, but
in version 1.12.55 it sets the cell of that address on the first sheet, whichever sheet is named.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from tanksheet.errors import EngineProblem, OutOfTime
from tanksheet.recalc.adapter import Session
from tanksheet.recalc.session import BookSession, OutsideEngine
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values

CALL_SECONDS = 60.0


class Gnumeric(OutsideEngine):
    name = "gnumeric"
    random_cases, bad_entries = 5, 24  # a start of the program for each
    limits = (
        "It does not know LAMBDA: cells that call one give #NAME?.",
        "References to a sheet whose name has an apostrophe cannot be read from .xlsx files.",
        "Cells that refer to each other in a circle give 0.",
    )

    def missing(self) -> str | None:
        if shutil.which("ssconvert"):
            return None
        return "Gnumeric's ssconvert is not on the search path; install Gnumeric."

    def version(self) -> str:
        self.need()
        said = _run(["--version"], "read its version")
        return (said.stdout or said.stderr).split("'")[1]

    def _session(self, path: Path, until: float) -> Session:
        return GnumericSession(path, until)


class GnumericSession(BookSession):
    engine = "Gnumeric"

    def _load(self) -> None:
        """Nothing stays loaded between calls."""

    def _calculate(
        self, inputs: Mapping[Address, Value], wanted: Iterable[Address]
    ) -> dict[Address, Value]:
        from tanksheet.xlsx.placing import write_values  # it loads much that others do not need

        given, result = self.copy.with_name("given.xlsx"), self.copy.with_name("result.xlsx")
        result.unlink(missing_ok=True)
        write_values(self.package, given, inputs)
        arguments, task = ["--recalc", str(given), str(result)], f"calculate {self.path.name}"
        said: Any = self._waited(lambda left: _run(arguments, task, left), CALL_SECONDS)
        if said.returncode or not result.exists():
            raise self._broke(said.stderr)
        return stored_values(Package(result, self.path.name), wanted)


def _run(
    arguments: list[str], task: str, seconds: float = CALL_SECONDS
) -> subprocess.CompletedProcess[str]:
    program = shutil.which("ssconvert") or "ssconvert"
    try:
        return subprocess.run(
            [program, *arguments],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            encoding="utf-8",
            errors="replace",
            timeout=seconds,
            env={**os.environ, "LC_ALL": "C.UTF-8"},
        )
    except subprocess.TimeoutExpired:
        raise OutOfTime(
            f"Gnumeric took more than {seconds:.0f} s to {task}, and was stopped."
        ) from None
    except OSError as problem:
        raise EngineProblem(f"Gnumeric could not {task}: {problem}") from None
