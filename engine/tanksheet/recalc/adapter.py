"""What every spreadsheet engine looks like from here: the engine, and a workbook open in it."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from tanksheet.errors import EngineProblem
from tanksheet.xlsx.address import Address, Value

if TYPE_CHECKING:  # a child process that reads this file has no use for it
    from tanksheet.xlsx.reading import Package


# What a command gives an engine for all that it does; with the rest it stays under a minute.
COMMAND_SECONDS = 50.0


class Session(ABC):
    """One workbook open in one engine. Leaving the ``with`` block closes it."""

    package: Package
    """The file as it was opened, checked."""
    until = math.inf
    """When everything has to have ended, by ``time.monotonic``."""
    checked = False
    """Whether whoever calculates has found the file whole, so that it need not look again."""

    @abstractmethod
    def calculate(
        self, inputs: Mapping[Address, Value], wanted: Sequence[Address]
    ) -> dict[Address, Value]:
        """Set the inputs, recalculate, and give the wanted cells.

        Each call starts from the file as it was opened: a cell that an earlier call set and this
        one does not has the file's own value or formula again. An input of None is an empty cell;
        an input of "" is empty text, which is another thing.

        Numbers come back as float, text as str, TRUE and FALSE as bool, errors as SheetError and
        an empty cell as None. A formula never gives None: if its result is empty text, or an engine
        leaves its result blank, "" comes back.

        Raises WorkbookProblem for a sheet that is not there or an input that no cell can hold, and
        EngineProblem when the engine breaks down: OutOfTime when it takes too long, EngineStopped
        when the workbook makes it crash or take more memory than it may. The next call works again.
        """

    @abstractmethod
    def close(self) -> None:
        """Let go of the workbook. Closing twice does no harm."""

    def __enter__(self) -> Session:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


class Engine(ABC):
    """A spreadsheet engine from outside the project."""

    name: str
    limits: tuple[str, ...] = ()
    """What this engine is known to do otherwise than Excel; one sentence each."""
    knows_lambda = False
    """Whether it evaluates a name that holds a LAMBDA."""
    knows_let_in_lambda = False
    """Whether it evaluates LET inside one."""
    misreads_blanks = False
    """Whether it takes a cell that says "number" and holds nothing for 0."""
    skips_errors_in: tuple[str, ...] = ()
    """Functions of a sheet in which it passes over an error that has to come out."""
    takes_truth_for_numbers = False
    """Whether ISNUMBER and COUNT take TRUE in a cell for the number 1."""
    takes_text_for_numbers = False
    """Whether they take text that looks like a number for one."""
    random_cases = 500
    """How many random cases a check gives it at most, by the time that it takes."""
    bad_entries: int | None = None
    """How many bad entries a check gives it at most; None for all."""
    checked_cells: int | None = None
    """How many formula cells a check has it work out at most, random cases and bad entries each."""

    @property
    def is_quick(self) -> bool:
        """Whether it takes hundreds of cases in the time of a few in the others."""
        return self.random_cases >= 100

    def share(self, formulas: int, most: int, least: int) -> int:
        """Of ``most`` cases on a workbook of so many formulas, how many it gets."""
        if self.checked_cells is None:
            return most
        return min(most, max(least, self.checked_cells // formulas))

    @abstractmethod
    def missing(self) -> str | None:
        """None when the engine can run here, else a sentence on what to install."""

    def need(self) -> None:
        """Raise EngineProblem when the engine cannot run here."""
        missing = self.missing()
        if missing:
            raise EngineProblem(missing)

    @abstractmethod
    def version(self) -> str:
        """The engine's version. Raises EngineProblem when the engine is missing."""

    @abstractmethod
    def open(self, path: Path) -> Session:
        """Open an .xlsx file; the file itself is never written to.

        Raises WorkbookProblem when it is no .xlsx file, EngineProblem when the engine is missing
        or cannot read it.
        """

    def begin(self, path: Path, until: float = math.inf) -> Session:
        """As ``open``, but an engine that loads the file in a process of its own may still be at
        it: what it says of the file then comes with the first calculation. ``until`` is the
        session's."""
        session = self.open(path)
        session.until = until
        return session
