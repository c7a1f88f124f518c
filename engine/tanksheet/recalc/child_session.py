"""A session whose engine works in a child process."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from tanksheet.errors import EngineProblem
from tanksheet.recalc.child import Child
from tanksheet.recalc.package_engine import MOST_BYTES, PackageEngine
from tanksheet.recalc.session import BookSession
from tanksheet.recalc.wire import place, received, sent
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.values import blank_numbers

PROGRAM = Path(__file__).with_name("in_child.py")
# One thread for each library of numbers: more would take memory, and time from the parent.
SINGLE = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "RAYON_NUM_THREADS")


def started(engine: PackageEngine) -> Child:
    """A new child process for an engine.

    It takes over where modules are looked for, so it need not work that out again.
    """
    folders = [str(Path(__file__).parents[2]), *filter(None, sys.path)]
    book = f"{engine.book.__module__}:{engine.book.__qualname__}"
    command = [sys.executable, "-I", "-S", str(PROGRAM), book, str(MOST_BYTES), *folders]
    surroundings = {**os.environ, **dict.fromkeys(SINGLE, "1"), "RUST_BACKTRACE": "0"}
    return Child(engine.title, command, surroundings)


class ChildSession(BookSession):
    """The child loads the file while this process checks it.

    One request is on its way at a time: while the child works it takes anything that comes for the
    end of its input (see ``in_child``).
    """

    def __init__(self, engine: PackageEngine, path: Path, until: float, wait: bool) -> None:
        self.engine = engine.title
        self._engine = engine
        self._child: Child | None = None
        self._loading = False
        self._wait = wait
        self._blanks: list[Address] = []
        super().__init__(path, until)

    def _begin(self) -> None:
        """A child with the workbook in it, or about to be."""
        self._child, self._loading = self._engine.child(), True
        self._send({"do": "open", "path": str(self.copy)})

    def _load(self) -> None:
        if self._engine.misreads_blanks:
            self._blanks = blank_numbers(self.package)
        if self._wait:
            self._have_loaded()

    def _have_loaded(self) -> None:
        if self._child is None or not self._child.alive:
            self._begin()  # the workbook has brought down the one before
        if not self._loading:
            return
        try:
            self._fetch()
            if self._blanks:
                self._send({"do": "clear", "cells": [place(where) for where in self._blanks]})
                self._fetch()
        except BaseException:
            self._end()
            raise
        self._loading = False

    def _calculate(
        self, inputs: Mapping[Address, Value], wanted: Iterable[Address]
    ) -> dict[Address, Value]:
        self._have_loaded()
        places = list(wanted)
        self._send(
            {
                "do": "calculate",
                "inputs": [[place(where), sent(value)] for where, value in inputs.items()],
                "wanted": [place(where) for where in places],
                "seconds": max(1.0, min(self._left, self.until - time.monotonic())),
            }
        )
        values = self._fetch()
        return {where: received(*value) for where, value in zip(places, values, strict=True)}

    def _send(self, request: dict[str, Any]) -> None:
        assert self._child is not None
        try:
            self._child.send(request)
        except EngineProblem as problem:
            raise self._broke(problem) from None

    def _fetch(self) -> Any:
        assert self._child is not None
        try:
            return self._waited(self._child.answer)
        except EngineProblem as problem:
            raise self._broke(problem) from None

    def _unload(self) -> None:
        if self._loading:
            self._end()
        elif self._child is not None:
            self._engine.give_back(self._child)
            self._child = None

    def _end(self) -> None:
        if self._child is not None:
            self._child.kill()
            self._child = None
