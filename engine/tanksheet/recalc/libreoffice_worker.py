"""LibreOffice at the far end of a pipe: one JSON request a line in, one JSON answer a line out.

This file is a script of its own. It runs under whatever Python has LibreOffice's ``uno`` module,
often another Python than the caller's, so it imports the standard library and ``uno`` only. It
starts one headless LibreOffice with a throw-away profile and stops it when its input ends,
whatever brought the caller to its end.

    request                                                      answer
    (none: on starting)                                          {"ok": <LibreOffice's process id>}
    {"do": "open", "book": 1, "path": "/a/b.xlsx"}               {"ok": null}
    {"do": "calculate", "book": 1,
     "inputs": [[sheet, row, column, kind, value], ...],
     "wanted": [[sheet, row, column], ...]}                      {"ok": [[kind, value], ...]}
    {"do": "close", "book": 1}                                   {"ok": null}
    anything that fails                                          {"problem": "one sentence",
                                                                  "gone": <whether the office is>}

Rows and columns count from 1. A kind is "number", "text", "truth", "error", "empty" or "blank" (a
formula with no result). The value of an "error" is LibreOffice's error number in an answer, and
the text to type in a request.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import queue
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

STOP_SECONDS = 10.0
MOST_CELLS_AT_ONCE = 20_000
LOGICAL = 1024  # com.sun.star.util.NumberFormat.LOGICAL
NO_MACROS = NO_LINK_UPDATES = 0

Place = tuple[str, int, int]
Read = list[Any]


class Office:
    """One headless LibreOffice, reached over a named pipe."""

    def __init__(self, soffice: str, start_seconds: float) -> None:
        self.uno: Any = importlib.import_module("uno")
        self.profile = tempfile.mkdtemp(prefix="tanksheet-office-")
        pipe = "tanksheet" + "".join(filter(str.isalnum, Path(self.profile).name))
        self.process = subprocess.Popen(
            [
                soffice,
                "-env:UserInstallation=" + Path(self.profile).as_uri(),
                f"--accept=pipe,name={pipe};urp;",
                *("--headless", "--invisible", "--norestore", "--nodefault", "--nologo"),
            ],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,  # soffice starts others; as a group they can all be ended
        )
        try:
            self.desktop = self._connect(pipe, time.monotonic() + start_seconds)
        except BaseException:
            self.stop()
            raise

    def _connect(self, pipe: str, deadline: float) -> Any:
        no_connection = self.uno.getClass("com.sun.star.connection.NoConnectException")
        here = self.uno.getComponentContext()
        resolver = here.ServiceManager.createInstanceWithContext(
            "com.sun.star.bridge.UnoUrlResolver", here
        )
        while True:
            try:
                there = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
                break
            except no_connection:
                if self.process.poll() is not None:
                    raise RuntimeError("LibreOffice stopped while starting") from None
                if time.monotonic() > deadline:
                    raise RuntimeError("LibreOffice took too long to start") from None
                time.sleep(0.1)
        return there.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", there)

    def load(self, path: str) -> Any:
        options = {
            "Hidden": True,
            "MacroExecutionMode": NO_MACROS,
            "UpdateDocMode": NO_LINK_UPDATES,
        }
        document = self.desktop.loadComponentFromURL(
            self.uno.systemPathToFileUrl(path), "_blank", 0, self._properties(options)
        )
        spreadsheet = "com.sun.star.sheet.SpreadsheetDocument"
        if document is None or not document.supportsService(spreadsheet):
            raise RuntimeError("LibreOffice cannot read this file as a spreadsheet")
        return document

    def _properties(self, options: dict[str, Any]) -> tuple[Any, ...]:
        made = []
        for name, value in options.items():
            made.append(self.uno.createUnoStruct("com.sun.star.beans.PropertyValue"))
            made[-1].Name, made[-1].Value = name, value
        return tuple(made)

    def stop(self) -> None:
        # The office may have gone already, in any of several ways; what counts is that it ends.
        with contextlib.suppress(Exception):
            self.desktop.terminate()
            self.process.wait(STOP_SECONDS)
        self.kill()
        shutil.rmtree(self.profile, ignore_errors=True)

    def kill(self) -> None:
        with contextlib.suppress(OSError):
            if os.name == "posix":
                os.killpg(self.process.pid, signal.SIGKILL)
            self.process.kill()
        self.process.wait()


class Book:
    """One open workbook that can be put back as it was opened.

    Every call into LibreOffice takes part of a millisecond, so what cannot change is asked once.
    """

    def __init__(self, document: Any) -> None:
        self.document = document
        self.sheets = document.Sheets
        self.formats = document.getNumberFormats()
        self.undo: dict[Place, Callable[[], None]] = {}
        self.holds: dict[Place, tuple[str, Any]] = {}
        self.cells: dict[Place, Any] = {}
        self.kinds: dict[Place, str] = {}
        self.own_format: dict[Place, bool] = {}
        for sheet in self.sheets:
            with contextlib.suppress(Exception):  # with a password it stays locked, see _set
                sheet.unprotect("")

    def cell(self, place: Place) -> Any:
        if place not in self.cells:
            sheet, row, column = place
            found = self.sheets.getByName(sheet).getCellByPosition(column - 1, row - 1)
            self.cells[place] = found
        return self.cells[place]

    def kind(self, place: Place) -> str:
        """EMPTY, VALUE, TEXT or FORMULA; asked once of a cell that stands as it was opened."""
        if place in self.undo:
            return str(self.cell(place).Type.value)
        if place not in self.kinds:
            self.kinds[place] = self.cell(place).Type.value
        return self.kinds[place]

    def may_be_truth(self, place: Place) -> bool:
        """Whether 0 and 1 may mean FALSE and TRUE: not in a cell with a format of its own."""
        if place not in self.own_format:
            known = self.formats.getByKey(self.cell(place).NumberFormat)
            self.own_format[place] = known.FormatString != "General" and not known.Type & LOGICAL
        return not self.own_format[place]

    def calculate(self, inputs: list[Read], wanted: list[Place]) -> list[Read]:
        settings = {(i[0], i[1], i[2]): (i[3], i[4]) for i in inputs}
        for place in [place for place in self.undo if place not in settings]:
            self.undo.pop(place)()
            self.holds.pop(place, None)
        for place, setting in settings.items():
            if self.holds.get(place) != setting:
                self._set(place, *setting)
        self.document.calculateAll()
        values = self._values(wanted)
        return [self._read(place, values[place]) for place in wanted]

    def _set(self, place: Place, kind: str, value: Any) -> None:
        cell = self.cell(place)
        if cell.CellProtection.IsLocked and self.sheets.getByName(place[0]).isProtected():
            raise RuntimeError(f"sheet {place[0]!r} is locked with a password")
        if place not in self.undo:
            self.undo[place] = self._undoing(cell)
        self.undo[place]()
        self.holds.pop(place, None)
        put(cell, kind, value)
        self.holds[place] = (kind, value)

    def _undoing(self, cell: Any) -> Callable[[], None]:
        shown, kind, formula = cell.NumberFormat, cell.Type.value, cell.getFormula()
        content = cell.getString() if kind == "TEXT" else cell.getValue()

        def undo() -> None:
            # TRUE changes a General cell's format, and the format tells TRUE from 1.
            cell.NumberFormat = shown
            if kind == "FORMULA":
                cell.setFormula(formula)
            else:
                put(cell, {"TEXT": "text", "VALUE": "number"}.get(kind, "empty"), content)

        return undo

    def _values(self, wanted: list[Place]) -> dict[Place, Any]:
        """Each cell as LibreOffice hands it over in bulk: a call a cell would take far longer."""
        values = {}
        for sheet in {place[0] for place in wanted}:
            places = [place for place in wanted if place[0] == sheet]
            rows, columns = [p[1] for p in places], [p[2] for p in places]
            top, left, bottom, right = min(rows), min(columns), max(rows), max(columns)
            if (bottom - top + 1) * (right - left + 1) > MOST_CELLS_AT_ONCE:
                values.update({p: self.cell(p).getDataArray()[0][0] for p in places})
                continue
            block = self.sheets.getByName(sheet).getCellRangeByPosition(
                left - 1, top - 1, right - 1, bottom - 1
            )
            data = block.getDataArray()
            values.update({p: data[p[1] - top][p[2] - left] for p in places})
        return values

    def _read(self, place: Place, value: Any) -> Read:
        """Ask more about a cell only where the bulk value leaves a doubt."""
        if value is None:
            return ["error", self.cell(place).getError()]
        if value == "":
            kind = {"EMPTY": "empty", "TEXT": "text"}.get(self.kind(place), "blank")
            return [kind, ""]
        if isinstance(value, str):
            return ["text", value]
        if value in (0, 1) and self.may_be_truth(place):
            shown = self.formats.getByKey(self.cell(place).NumberFormat).Type
            if shown & LOGICAL:
                return ["truth", bool(value)]
        return ["number", float(value)]


def put(cell: Any, kind: str, value: Any) -> None:
    """Set a cell's content; text stays text whatever it looks like."""
    if kind == "number":
        cell.setValue(value)
    elif kind == "truth":
        cell.setFormula("=TRUE()" if value else "=FALSE()")
    elif kind == "error":
        cell.setFormula(f"={value}")
    elif kind == "text" and value:
        cell.setString(value)
    else:
        # setString("") would leave the cell empty, and empty text is something else.
        cell.setFormula('=""' if kind == "text" else "")


class Desk:
    """Carries out requests."""

    def __init__(self, office: Office) -> None:
        self.office = office
        self.books: dict[int, Book] = {}

    def answer(self, request: dict[str, Any]) -> list[Read] | None:
        task, book = request["do"], request["book"]
        if task == "open":
            self.books[book] = Book(self.office.load(request["path"]))
        elif task == "close":
            self.books.pop(book).document.close(True)
        else:
            wanted = [(sheet, row, column) for sheet, row, column in request["wanted"]]
            return self.books[book].calculate(request["inputs"], wanted)
        return None


def requests(offices: list[Office]) -> Iterator[str]:
    """Requests as they come. When they end, a LibreOffice that hangs is ended by force.

    Reading happens in a thread of its own because a call into LibreOffice may never return.
    """
    lines: queue.Queue[str | None] = queue.Queue()

    def read() -> None:
        for line in sys.stdin:
            lines.put(line)
        lines.put(None)
        time.sleep(2 * STOP_SECONDS)
        for office in offices:
            office.kill()
            shutil.rmtree(office.profile, ignore_errors=True)
        os._exit(1)

    threading.Thread(target=read, daemon=True).start()
    return iter(lines.get, None)


def say(answer: dict[str, Any]) -> None:
    print(json.dumps(answer), flush=True)


def failure(problem: Exception, office: Office | None) -> dict[str, Any]:
    said = " ".join(str(getattr(problem, "Message", "") or problem).split())
    # A broken connection shows before the system has counted the office as ended.
    broken = type(problem).__name__ == "DisposedException" or "disposed" in said
    gone = office is None or broken or office.process.poll() is not None
    return {"problem": said or repr(problem), "gone": gone}


def serve(office: Office, lines: Iterator[str]) -> None:
    """Answer requests until they end, or until LibreOffice has."""
    desk = Desk(office)
    for line in lines:
        try:
            answer: dict[str, Any] = {"ok": desk.answer(json.loads(line))}
        except Exception as problem:
            answer = failure(problem, office)
        say(answer)
        if answer.get("gone"):
            return


def main(soffice: str, start_seconds: str) -> int:
    offices: list[Office] = []
    lines = requests(offices)
    try:
        offices.append(Office(soffice, float(start_seconds)))
    except Exception as problem:
        say(failure(problem, None))
        return 1
    try:
        say({"ok": offices[0].process.pid})
        serve(offices[0], lines)
    finally:
        offices[0].stop()
    return 0


if __name__ == "__main__":
    # This folder's modules must not stand in for any that uno looks for.
    sys.path[:] = [p for p in sys.path if Path(p or ".").resolve() != Path(__file__).parent]
    sys.exit(main(*sys.argv[1:]))
