"""The child process in which an engine works that would otherwise live in ours.

A workbook can make such an engine crash, eat gigabytes, or never end; here it can take down
nothing but this process, which has a limit of memory and of time. This file is a script: it is
started with the name of the workbook class (``module:Class``), the most bytes of memory, and the
folders where modules are looked for. See ``child`` for the pipe.

    request                                                      answer
    {"do": "open", "path": "/a/b.xlsx"}                          {"ok": null}
    {"do": "clear", "cells": [place, ...]}                       {"ok": null}
    {"do": "calculate", "inputs": [[place, value], ...],
     "wanted": [place, ...], "seconds": 45}                      {"ok": [value, ...]}
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import select
import signal
import sys
import types
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

SPARE_SECONDS = 5.0  # the parent's own deadline comes first


def main(book: str, most_bytes: str, *folders: str) -> int:
    answers = _answers_only()
    _limit(int(most_bytes))
    sys.path[:] = folders
    _skip_the_rest()
    module, _, name = book.partition(":")
    desk = Desk(getattr(importlib.import_module(module), name))
    for line in sys.stdin:
        answer = desk.answered(json.loads(line))
        print(json.dumps(answer), file=answers, flush=True)
        if answer.get("gone"):
            return 1
    return 0


class Desk:
    """Carries out requests, for one workbook at a time."""

    def __init__(self, make: Any) -> None:
        self.make = make
        self.book: Any = None

    def answered(self, request: dict[str, Any]) -> dict[str, Any]:
        try:
            with _watched(request.get("seconds")):
                return {"ok": self._done(request)}
        except MemoryError:
            said = "it needed more memory than it may take; refer to fewer cells"
            return {"problem": said, "gone": True}
        except RecursionError:
            said = "a formula nests too deeply or calls itself without end"
            return {"problem": said, "gone": True}
        except Exception as problem:
            return {"problem": _sentence(problem), "gone": False}
        except BaseException as problem:
            # A panic in Rust arrives as an exception outside Exception; what it left is not known.
            return {"problem": _sentence(problem), "gone": True}

    def _done(self, request: dict[str, Any]) -> list[Any] | None:
        from tanksheet.recalc import wire
        from tanksheet.xlsx.address import Address

        if request["do"] == "open":
            self.book = None  # the memory of the one before, first
            self.book = self.make(request["path"])
        elif request["do"] == "clear":
            self.book.clear([Address(*cell) for cell in request["cells"]])
        else:
            inputs = {Address(*p): wire.received(*value) for p, value in request["inputs"]}
            wanted = [Address(*cell) for cell in request["wanted"]]
            return [wire.sent(value) for value in self.book.calculate(inputs, wanted)]
        return None


def _sentence(problem: BaseException) -> str:
    return " ".join(str(problem).split()) or type(problem).__name__


def _answers_only() -> IO[str]:
    """The pipe to the parent; whatever an engine prints goes to the log or nowhere."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    return answers


def _limit(most_bytes: int) -> None:
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource  # POSIX only

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        # Memory that is written to, without what is only mapped; where a system does not count
        # that, the whole of the address space.
        kind = resource.RLIMIT_DATA if sys.platform == "linux" else resource.RLIMIT_AS
        resource.setrlimit(kind, (most_bytes, most_bytes))


def _skip_the_rest() -> None:
    """Lets the few light modules of the package be imported without all of its calculations."""
    here = Path(__file__).parent
    for name, folder in (("tanksheet", here.parent), ("tanksheet.recalc", here)):
        package = types.ModuleType(name)
        package.__path__ = [str(folder)]
        sys.modules[name] = package


@contextlib.contextmanager
def _watched(seconds: float | None) -> Iterator[None]:
    """While an engine works no line of Python may run for a minute, so the system watches: this
    process is ended when its input ends, and when a request takes too long."""
    if os.name != "posix":
        yield
        return
    import fcntl

    flags = fcntl.fcntl(0, fcntl.F_GETFL)
    if seconds:
        signal.setitimer(signal.ITIMER_REAL, seconds + SPARE_SECONDS)
    try:
        with contextlib.suppress(OSError):  # not every system has it for pipes
            fcntl.fcntl(0, fcntl.F_SETOWN, os.getpid())
            fcntl.fcntl(0, fcntl.F_SETFL, flags | os.O_ASYNC)
        _end_if_alone()
        yield
    finally:
        with contextlib.suppress(OSError):
            fcntl.fcntl(0, fcntl.F_SETFL, flags)
        signal.setitimer(signal.ITIMER_REAL, 0.0)


def _end_if_alone() -> None:
    """The input may have ended just before it was watched."""
    poll = select.poll()
    poll.register(0, select.POLLHUP)
    if any(event & select.POLLHUP for _, event in poll.poll(0)):
        os._exit(1)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
