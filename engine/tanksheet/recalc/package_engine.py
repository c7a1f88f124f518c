"""An engine that is a Python package: it works in a child process with limits of memory and time.

Kept light, since every child reads this file when it starts.
"""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path
from typing import TYPE_CHECKING

from tanksheet.recalc.adapter import Engine, Session
from tanksheet.recalc.open_book import OpenBook

if TYPE_CHECKING:
    from tanksheet.recalc.child import Child

# Beside it stand this program and what it reads: together they stay under 1 GB.
MOST_BYTES = 950_000_000


class PackageEngine(Engine):
    """An engine that is a Python package of the same name."""

    title: str
    """What messages call it."""
    book: type[OpenBook]
    """What a workbook is in the child process."""

    def __init__(self) -> None:
        self._idle: list[Child] = []

    def missing(self) -> str | None:
        if importlib.util.find_spec(self.name):
            return None
        return f"The Python package {self.name} is not installed; run: pip install {self.name}"

    def version(self) -> str:
        import importlib.metadata

        self.need()
        return importlib.metadata.version(self.name)

    def open(self, path: Path) -> Session:
        return self._session(path, math.inf, wait=True)

    def begin(self, path: Path, until: float = math.inf) -> Session:
        return self._session(path, until, wait=False)

    def _session(self, path: Path, until: float, wait: bool) -> Session:
        from tanksheet.recalc.child_session import ChildSession

        self.need()
        return ChildSession(self, Path(path), until, wait)

    def child(self) -> Child:
        """A child process for one workbook: one that has done with another, or a new one."""
        from tanksheet.recalc.child_session import started

        while self._idle:
            child = self._idle.pop()
            if child.alive:
                return child
        return started(self)

    def give_back(self, child: Child) -> None:
        """Keep a child for the next workbook; one is enough, and a fresh start costs most."""
        if child.alive and not self._idle:
            self._idle.append(child)
        else:
            child.kill()

    def close(self) -> None:
        """End the child that is kept."""
        while self._idle:
            self._idle.pop().kill()
