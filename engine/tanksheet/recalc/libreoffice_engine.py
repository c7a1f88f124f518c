"""LibreOffice, headless, with a throw-away profile, driven by ``libreoffice_worker.py``."""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import queue
import shutil
import signal
import subprocess
import tempfile
import threading
import weakref
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, Literal

from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc.adapter import Session
from tanksheet.recalc.libreoffice_found import python_with_uno, said_version, soffice
from tanksheet.recalc.session import BookSession, OutsideEngine
from tanksheet.xlsx.address import Address, Value, as_number
from tanksheet.xlsx.reading import sheet_names

START_SECONDS = CALL_SECONDS = CONVERT_SECONDS = 60.0
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
    random_cases, bad_entries = 20, 60
    limits = (
        'It knows TRUE as 1 with a number format: ISNUMBER(TRUE) is TRUE, TRUE&"" is 1, and TRUE '
        "in a cell with a number format of its own is reported as 1.",
        "It does not know LAMBDA (version 7.4): cells that call one give an error.",
    )

    def __init__(self) -> None:
        self._worker: Worker | None = None

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

    def _session(self, path: Path) -> Session:
        if self._worker is None or not self._worker.alive:
            self.close()
            self._worker = Worker(str(python_with_uno()), str(soffice()))
        return LibreOfficeSession(path, self._worker)


class LibreOfficeSession(BookSession):
    engine = "LibreOffice"
    _numbers = itertools.count(1)

    def __init__(self, path: Path, worker: Worker) -> None:
        self._worker = worker
        self._book = next(self._numbers)
        super().__init__(path)

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
                "inputs": [[*_place(where), *_sent(value)] for where, value in inputs.items()],
                "wanted": [_place(where) for where in places],
            }
        )
        return {where: _received(kind, v) for where, (kind, v) in zip(places, answer, strict=True)}

    def _ask(self, request: dict[str, Any]) -> Any:
        try:
            return self._worker.ask({**request, "book": self._book})
        except EngineProblem as problem:
            raise self._broke(problem) from None


class Worker:
    """The worker process: starts with the object, ends with ``close`` or with this program."""

    def __init__(self, python: str, program: str) -> None:
        self._turn = threading.Lock()
        self._answers: queue.Queue[str | None] = queue.Queue()
        surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
        self._process = subprocess.Popen(
            [python, str(WORKER), program, str(START_SECONDS)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            env={**surroundings, "LC_ALL": "C.UTF-8", "PYTHONIOENCODING": "utf-8"},
            start_new_session=True,  # Ctrl-C is for this program, which then stops the worker
        )
        reading = threading.Thread(
            target=_pass_on, args=(self._process, self._answers), daemon=True
        )
        reading.start()
        self._offices: list[int] = []
        self._end = weakref.finalize(self, _stop, self._process, self._offices)
        try:
            self._offices.append(int(self._answer(START_SECONDS + STOP_SECONDS)))
        except BaseException:
            self.close()
            raise

    @property
    def alive(self) -> bool:
        return self._end.alive and self._process.poll() is None

    def ask(self, request: dict[str, Any]) -> Any:
        """Send one request and wait for its answer; EngineProblem if none comes in time."""
        with self._turn:
            if not self.alive or self._process.stdin is None:
                raise EngineProblem("LibreOffice is no longer running; open the workbook again.")
            try:
                print(json.dumps(request), file=self._process.stdin, flush=True)
            except OSError as problem:
                self.close()
                raise EngineProblem(f"LibreOffice broke off ({problem}).") from None
            return self._answer(CALL_SECONDS)

    def close(self) -> None:
        self._end()

    def _answer(self, seconds: float) -> Any:
        try:
            line = self._answers.get(timeout=seconds)
        except queue.Empty:
            _kill(self._offices)
            self.close()
            raise EngineProblem(
                f"LibreOffice gave no answer for {seconds:.0f} s and was stopped."
            ) from None
        except BaseException:
            # Interrupted: the answer may still come and would be taken for the next one.
            _kill(self._offices)
            self.close()
            raise
        if line is None:
            self.close()
            raise EngineProblem("LibreOffice broke off.")
        answer = json.loads(line)
        if "problem" in answer:
            if answer["gone"]:
                self.close()
            raise EngineProblem(answer["problem"])
        return answer["ok"]


def convert(path: Path, out_dir: Path, kind: Literal["pdf", "ods", "xlsx"]) -> Path:
    """Have LibreOffice write an .xlsx file as PDF, ODS or XLSX into a folder; gives the new file.

    A file of that name in the folder is replaced once the new one is complete. Raises
    WorkbookProblem for a file that is no workbook or would be its own result, and EngineProblem
    when LibreOffice is missing, fails or takes more than a minute.
    """
    path, target = Path(path), Path(out_dir) / f"{Path(path).stem}.{kind}"
    LibreOffice().need()
    sheet_names(path)
    if target.resolve() == path.resolve():
        raise WorkbookProblem(f"{path.name}: the result would replace it; choose another folder.")
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".tanksheet-", dir=target.parent) as made:
        source = Path(made) / "in" / path.name
        source.parent.mkdir()
        shutil.copyfile(path, source)
        _run_conversion(source, Path(made), kind)
        result = Path(made) / target.name
        if not result.exists():
            raise EngineProblem(f"LibreOffice could not convert {path.name} to {kind}.")
        os.replace(result, target)
    return target


def _run_conversion(source: Path, folder: Path, kind: str) -> None:
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
        process.wait(CONVERT_SECONDS)
    except subprocess.TimeoutExpired:
        raise EngineProblem(
            f"LibreOffice took more than {CONVERT_SECONDS:.0f} s to convert {source.name}."
        ) from None
    finally:
        _kill([process.pid])
        process.kill()
        process.wait()


def _place(where: Address) -> list[Any]:
    return [where.sheet, where.row, where.column]


def _sent(value: Value) -> list[Any]:
    if value is None:
        return ["empty", None]
    if isinstance(value, SheetError):
        return ["error", str(value)]
    if isinstance(value, bool):
        return ["truth", value]
    return ["text" if isinstance(value, str) else "number", value]


def _received(kind: str, value: Any) -> Value:
    if kind == "error":
        return ERRORS.get(value, SheetError.UNKNOWN)
    if kind == "number":
        return as_number(value)
    if kind == "empty":
        return None
    return bool(value) if kind == "truth" else str(value)


def _pass_on(process: subprocess.Popen[str], answers: queue.Queue[str | None]) -> None:
    assert process.stdout
    with process.stdout as lines:
        for line in lines:
            answers.put(line)
    answers.put(None)


def _stop(process: subprocess.Popen[str], offices: list[int]) -> None:
    """End the worker, and LibreOffice by force if the worker cannot do it."""
    if process.stdin:
        with contextlib.suppress(OSError):
            process.stdin.close()
    try:
        process.wait(STOP_SECONDS)
    except subprocess.TimeoutExpired:
        _kill(offices)
        process.kill()
        process.wait()


def _kill(groups: Iterable[int]) -> None:
    for group in groups:
        with contextlib.suppress(OSError):
            if os.name == "posix":
                os.killpg(group, signal.SIGKILL)
