"""LibreOffice, headless, with a throw-away profile, driven by ``libreoffice_worker.py``."""

from __future__ import annotations

import contextlib
import itertools
import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, Literal

from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc.adapter import Session
from tanksheet.recalc.child import Child, kill_groups
from tanksheet.recalc.libreoffice_found import python_with_uno, said_version, soffice
from tanksheet.recalc.session import BookSession, OutsideEngine
from tanksheet.recalc.wire import place, received, sent
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.ods import is_ods, refuse_unless_ods
from tanksheet.xlsx.reading import sheet_names

START_SECONDS = CALL_SECONDS = 60.0
CONVERT_SECONDS = 180.0
STOP_SECONDS = 15.0
WORKER = Path(__file__).with_name("libreoffice_worker.py")
ERRORS = {
    502: SheetError.NUM,
    503: SheetError.NUM,
    519: SheetError.VALUE,
    522: SheetError.CIRCULAR,
    523: SheetError.CIRCULAR,
    524: SheetError.REF,
    525: SheetError.NAME,
    532: SheetError.DIV,
    32767: SheetError.NA,
}


class LibreOffice(OutsideEngine):
    """One LibreOffice for all sessions of an engine object; it ends with ``close`` or at exit."""

    name = "libreoffice"
    takes_truth_for_numbers = True
    random_cases, bad_entries, checked_cells = 20, 60, 200_000
    limits = (
        'It knows TRUE as 1 with a number format: ISNUMBER(TRUE) is TRUE, TRUE&"" is 1, and TRUE '
        "in a cell with a number format of its own is reported as 1.",
        "It does not know LAMBDA (version 7.4): cells that call one give an error.",
    )

    def __init__(self) -> None:
        self._worker: Child | None = None

    def missing(self) -> str | None:
        if not soffice():
            return "LibreOffice is not installed, or its soffice is not on the search path."
        if not python_with_uno():
            return (
                "No Python with LibreOffice's uno module was found; on Debian and Ubuntu install "
                "python3-uno."
            )
        return None

    def version(self) -> str:
        self.need()
        return said_version(str(soffice()))

    def close(self) -> None:
        """Stop LibreOffice; sessions that are still open break off."""
        if self._worker:
            self._worker.close()
            self._worker = None

    def _session(self, path: Path, until: float) -> Session:
        if self._worker is None or not self._worker.alive:
            self.close()
            self._worker = _started(until)
        return LibreOfficeSession(path, until, self._worker)


class LibreOfficeSession(BookSession):
    engine = "LibreOffice"
    _numbers = itertools.count(1)

    def __init__(self, path: Path, until: float, worker: Child) -> None:
        self._worker = worker
        self._book = next(self._numbers)
        super().__init__(path, until)

    def _load(self) -> None:
        self._ask({"do": "open", "path": str(self.copy)})

    def _unload(self) -> None:
        # A book that did not open, or an office that has stopped, has nothing left to close.
        with contextlib.suppress(EngineProblem):
            self._ask({"do": "close"})

    def _calculate(
        self, inputs: Mapping[Address, Value], wanted: Iterable[Address]
    ) -> dict[Address, Value]:
        places = list(wanted)
        answer = self._ask(
            {
                "do": "calculate",
                "inputs": [[*place(where), *sent(value)] for where, value in inputs.items()],
                "wanted": [place(where) for where in places],
            }
        )
        return {where: _value(kind, v) for where, (kind, v) in zip(places, answer, strict=True)}

    def _ask(self, request: dict[str, Any]) -> Any:
        try:
            numbered = {**request, "book": self._book}
            return self._waited(lambda left: self._worker.ask(numbered, left), CALL_SECONDS)
        except EngineProblem as problem:
            raise self._broke(problem) from None


def _started(until: float) -> Child:
    """A worker with a LibreOffice of its own, ready for requests."""
    seconds = max(0.0, min(START_SECONDS, until - time.monotonic()))
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    worker = Child(
        "LibreOffice",
        [str(python_with_uno()), str(WORKER), str(soffice()), str(seconds)],
        {**surroundings, "LC_ALL": "C.UTF-8", "PYTHONIOENCODING": "utf-8"},
        STOP_SECONDS,
    )
    try:
        worker.groups.append(
            int(worker.answer(min(seconds + STOP_SECONDS, until - time.monotonic())))
        )
    except BaseException:
        worker.close()
        raise
    return worker


def convert(
    path: Path,
    out_dir: Path,
    kind: Literal["pdf", "ods", "xlsx"],
    seconds: float = CONVERT_SECONDS,
) -> Path:
    """Have LibreOffice write an .xlsx or .ods file as another kind into a folder; gives the new.

    A file of that name in the folder is replaced once the new one is complete. Raises
    WorkbookProblem for a file that is no workbook or would be its own result, and EngineProblem
    when LibreOffice is missing, fails or takes more seconds than it may.
    """
    path, target = Path(path), Path(out_dir) / f"{Path(path).stem}.{kind}"
    LibreOffice().need()
    if is_ods(path):
        refuse_unless_ods(path)
    else:
        sheet_names(path)
    if target.resolve() == path.resolve():
        raise WorkbookProblem(f"{path.name}: the result would replace it; choose another folder.")
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".tanksheet-", dir=target.parent) as made:
        source = Path(made) / "in" / path.name
        source.parent.mkdir()
        shutil.copyfile(path, source)
        _run_conversion(source, Path(made), kind, seconds)
        result = Path(made) / target.name
        if not result.exists():
            raise EngineProblem(f"LibreOffice could not convert {path.name} to {kind}.")
        os.replace(result, target)
    return target


def _run_conversion(source: Path, folder: Path, kind: str, seconds: float) -> None:
    profile = (folder / "profile").resolve().as_uri()
    process = subprocess.Popen(
        [
            str(soffice()),
            f"-env:UserInstallation={profile}",
            *("--headless", "--norestore", "--convert-to", kind),
            *("--outdir", str(folder), str(source)),
        ],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        process.wait(seconds)
    except subprocess.TimeoutExpired:
        raise EngineProblem(
            f"LibreOffice took more than {seconds:.0f} s to convert {source.name}."
        ) from None
    finally:
        kill_groups([process.pid])
        process.kill()
        process.wait()


def _value(kind: str, value: Any) -> Value:
    """LibreOffice tells an error by its number."""
    if kind == "error":
        return ERRORS.get(value, SheetError.UNKNOWN)
    return received(kind, value)
