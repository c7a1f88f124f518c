"""What all the adapters do alike: check the file, keep a copy of it, and check what goes in."""

from __future__ import annotations

import math
import re
import shutil
import tempfile
import time
from abc import abstractmethod
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc.adapter import Engine, Session
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import bound_cells

TYPED_ERRORS = (
    SheetError.VALUE,
    SheetError.NUM,
    SheetError.DIV,
    SheetError.NA,
    SheetError.NAME,
    SheetError.REF,
)
LONGEST_TEXT = 32_767  # Excel's limit for one cell
# How long an engine may be waited for at most: when it opens a workbook and calculates it first,
# together, and at each later calculation. A busy machine may need it for a good file.
SECONDS = 240.0

# XML 1.0, section 2.2; a carriage return is allowed there but turns into a line feed.
_NO_XML = re.compile(r"[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]")


class BookSession(Session):
    """A session on a private copy of the file.

    With a copy the session keeps the file as it was opened even if someone saves over it, and no
    engine can leave lock files beside it.
    """

    engine = "this engine"

    def __init__(self, path: Path, until: float = math.inf) -> None:
        self.path, self.until = Path(path), until
        self._left, self._calculated = SECONDS, False
        self._folder = tempfile.TemporaryDirectory(prefix="tanksheet-")
        self._closed = False
        try:
            self.copy = Path(self._folder.name) / "book.xlsx"
            _copied(self.path, self.copy)
            self._begin()
            self.package = Package(self.copy, self.path.name)
            self._sheets = {name.casefold(): name for name in self.package.sheets}
            self._bound = bound_cells(self.package)
            self._load()
        except BaseException:
            self.close()
            raise

    def calculate(
        self, inputs: Mapping[Address, Value], wanted: Sequence[Address]
    ) -> dict[Address, Value]:
        if self._closed:
            raise EngineProblem(f"{self.path.name} is closed in {self.engine}; open it again.")
        set_to = {self._there(where): self._settable(where, v) for where, v in inputs.items()}
        for where in set_to:
            self._refuse_bound(where)
        places = {where: self._there(where) for where in wanted}
        if self._calculated:
            self._left = SECONDS
        self._calculated = True
        values = self._calculate(set_to, dict.fromkeys(places.values()))
        return {where: values[place] for where, place in places.items()}

    def close(self) -> None:
        if not self._closed:
            self._closed = True
            try:
                self._unload()
            finally:
                self._folder.cleanup()

    def _there(self, where: Address) -> Address:
        sheet = self._sheets.get(where.sheet.casefold())
        if sheet is None:
            raise WorkbookProblem(
                f"{self.path.name}: there is no sheet {where.sheet!r}; "
                f"its sheets are {', '.join(self._sheets.values())}."
            )
        return where if sheet == where.sheet else Address(sheet, where.row, where.column)

    def _refuse_bound(self, where: Address) -> None:
        for reach in self._bound.get(where.sheet, ()):
            if where in reach:
                raise WorkbookProblem(
                    f"{self.path.name}, {where.a1}: one formula serves the cells {reach.reach} "
                    "and those that share it, so no value can replace it; "
                    "set a cell it refers to instead."
                )

    def _settable(self, where: Address, value: Value) -> Value:
        if value is None or isinstance(value, bool):
            return value
        if isinstance(value, SheetError):
            return self._typed_error(where, value)
        if isinstance(value, str):
            if len(value) > LONGEST_TEXT:
                raise self._unsettable(where, f"text longer than {LONGEST_TEXT} characters")
            if _NO_XML.search(value):
                raise self._unsettable(where, "text with a character that .xlsx files cannot hold")
            return value
        if not math.isfinite(value):
            raise self._unsettable(where, f"{value}, which is no number a cell can hold")
        return float(value)

    def _typed_error(self, where: Address, error: SheetError) -> SheetError:
        if error not in TYPED_ERRORS:
            raise self._unsettable(where, f"{error}, which cannot be typed into a cell")
        return error

    def _unsettable(self, where: Address, what: str) -> WorkbookProblem:
        return WorkbookProblem(f"{self.path.name}, {where.a1}: the input is {what}.")

    def _broke(self, problem: object) -> EngineProblem:
        reason = " ".join(str(problem).split()) or type(problem).__name__
        kind = type(problem) if isinstance(problem, EngineProblem) else EngineProblem
        return kind(f"{self.engine} could not calculate {self.path.name}: {reason}")

    def _waited(self, work: Callable[[float], Any], most: float = math.inf) -> Any:
        """What ``work`` gives, called with the seconds that it may take."""
        start = time.monotonic()
        try:
            return work(max(0.0, min(self._left, most, self.until - start)))
        finally:
            self._left -= time.monotonic() - start

    def _begin(self) -> None:
        """Start what can go on while the file is being checked: nothing, in most engines."""
        return None

    @abstractmethod
    def _load(self) -> None:
        """Bring ``self.copy`` into the engine."""

    @abstractmethod
    def _calculate(
        self, inputs: Mapping[Address, Value], wanted: Iterable[Address]
    ) -> dict[Address, Value]:
        """As ``calculate``, with addresses and values already checked."""

    def _unload(self) -> None:
        """Let go of the engine's side; most engines hold nothing that needs it."""
        return None


def _copied(path: Path, copy: Path) -> None:
    if not path.is_file():
        Package(path)  # it says what the matter is
    try:
        shutil.copyfile(path, copy)
    except OSError as problem:
        raise WorkbookProblem(f"{path.name}: cannot be read ({problem.strerror}).") from None


class OutsideEngine(Engine):
    """An engine whose sessions are BookSessions."""

    def open(self, path: Path) -> Session:
        return self.begin(path)

    def begin(self, path: Path, until: float = math.inf) -> Session:
        self.need()
        return self._session(Path(path), until)

    @abstractmethod
    def _session(self, path: Path, until: float) -> Session: ...
