"""A workbook that is open in an engine, inside the child process.

Kept light, since every child reads this file when it starts. An engine subclasses ``OpenBook``, or
``RestoringBook`` if its workbook stays loaded from one calculation to the next.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Mapping, Sequence

from tanksheet.errors import SheetError
from tanksheet.xlsx.address import Address, Value


class OpenBook(ABC):
    """Made from the path of a private copy; see ``adapter.Session`` for what it must do."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.load()

    @abstractmethod
    def load(self) -> None:
        """Bring the file into the engine. Any exception says that it cannot be read."""

    @abstractmethod
    def calculate(self, inputs: Mapping[Address, Value], wanted: Sequence[Address]) -> list[Value]:
        """The wanted cells in their order. Any exception says that it cannot be done."""

    def clear(self, cells: Iterable[Address]) -> None:
        """Empty cells that this engine wrongly takes for filled (``misreads_blanks``)."""
        raise NotImplementedError


class RestoringBook(OpenBook):
    """Sets what a call sets anew, and puts back what an earlier call set and this one does not."""

    def __init__(self, path: str) -> None:
        self._cleared: list[Address] = []
        self._opened: dict[Address, Value] = {}
        self._now: dict[Address, Value] = {}
        self._unsure = False  # what an interrupted calculation left in the cells
        super().__init__(path)

    def calculate(self, inputs: Mapping[Address, Value], wanted: Sequence[Address]) -> list[Value]:
        changes = None if self._unsure else self._changes(inputs)
        if changes is None:
            self._reload()
            changes = dict(inputs)
        self._unsure = True
        for where in inputs:
            if where not in self._opened:
                # A formula written back may not parse to what the file held, so it never is.
                lost = self.has_formula(where)
                self._opened[where] = _LOST if lost else self.read(where)
        self.put(changes)
        self._now = dict(inputs)
        self.evaluate()
        values = [self.read(where) for where in wanted]
        self._unsure = False
        return values

    def clear(self, cells: Iterable[Address]) -> None:
        self._cleared = list(cells)
        self.put(dict.fromkeys(self._cleared))

    def _changes(self, inputs: Mapping[Address, Value]) -> dict[Address, Value] | None:
        """What has to be written into cells, or None when only a fresh load can do it."""
        stale = [where for where in self._now if where not in inputs]
        if any(self._opened[where] is _LOST for where in stale):
            return None
        changes = {where: self._opened[where] for where in stale}
        for where, value in inputs.items():
            if where not in self._now or not _same(self._now[where], value):
                changes[where] = value
        return changes

    def _reload(self) -> None:
        self._opened, self._now = {}, {}
        self.load()
        self.put(dict.fromkeys(self._cleared))

    @abstractmethod
    def put(self, values: Mapping[Address, Value]) -> None:
        """Write values into cells; None empties a cell."""

    @abstractmethod
    def evaluate(self) -> None:
        """Recalculate."""

    @abstractmethod
    def read(self, where: Address) -> Value:
        """A cell as it stands; "" for a formula that gives nothing."""

    @abstractmethod
    def has_formula(self, where: Address) -> bool: ...


def _same(one: Value, other: Value) -> bool:
    """TRUE is not 1, and the error #N/A is not that text."""
    return type(one) is type(other) and one == other


_LOST = SheetError.UNKNOWN
"""Marks a cell whose content as opened cannot be written again (a formula)."""
