"""A program at the far end of a pipe: one JSON request a line, one JSON answer a line, in time.

It ends with the object, with ``close``, when an answer does not come in time, and with this
program, however that ends: a child must stop when its input does.

    answer                                           meaning
    {"ok": anything}                                 done
    {"problem": "one sentence", "gone": true}        not done; whether the child is of no more use
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import signal
import subprocess
import tempfile
import threading
import weakref
from collections.abc import Iterable, Mapping, Sequence
from typing import IO, Any

from tanksheet.errors import EngineProblem, EngineStopped, OutOfTime

LAST_WORDS = 4_000  # bytes of what the child printed that are looked at when it ends
TOO_DEEP = "a formula nests too deeply or calls itself without end; mend it or try another engine"


class Child:
    """A child process. ``who`` is what messages call it; ``patience`` is how many seconds it may
    take to end by itself once its input has ended. ``groups`` are processes that it started and
    that have to end with it.
    """

    def __init__(
        self,
        who: str,
        command: Sequence[str],
        surroundings: Mapping[str, str],
        patience: float = 0.0,
    ) -> None:
        self.who = who
        self.groups: list[int] = []
        self._turn = threading.Lock()
        self._answers: queue.Queue[str | None] = queue.Queue()
        self._printed: IO[bytes] = tempfile.TemporaryFile()
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._printed,
            text=True,
            encoding="utf-8",
            env=surroundings,
            start_new_session=True,  # Ctrl-C is for this program, which then stops the child
        )
        reading = threading.Thread(
            target=_pass_on, args=(self._process, self._answers), daemon=True
        )
        reading.start()
        self._end = weakref.finalize(
            self, _stop, self._process, self.groups, self._printed, patience
        )

    @property
    def alive(self) -> bool:
        return self._end.alive and self._process.poll() is None

    def ask(self, request: Mapping[str, Any], seconds: float) -> Any:
        """Send one request and wait for its answer.

        Raises EngineProblem with the child's own sentence, OutOfTime when no answer comes in time,
        and EngineStopped when the child breaks off; it has ended then.
        """
        with self._turn:
            self.send(request)
            return self.answer(seconds)

    def send(self, request: Mapping[str, Any]) -> None:
        """Send a request whose answer is fetched later; requests are answered in their order."""
        if not self._end.alive or self._process.stdin is None:
            raise EngineProblem(f"{self.who} is no longer running; open the workbook again.")
        try:
            print(json.dumps(request), file=self._process.stdin, flush=True)
        except OSError:
            raise self._ended() from None

    def answer(self, seconds: float) -> Any:
        """The next answer. Raises as ``ask`` does."""
        try:
            line = self._answers.get(timeout=max(0.0, seconds))
        except queue.Empty:
            self.kill()
            raise OutOfTime(
                f"{self.who} gave no answer for {seconds:.0f} s and was stopped; "
                "refer to fewer cells or try another engine."
            ) from None
        except BaseException:
            # Interrupted: the answer may still come and would be taken for the next one.
            self.kill()
            raise
        if line is None:
            raise self._ended()
        answer = json.loads(line)
        if "problem" not in answer:
            return answer["ok"]
        if not answer["gone"]:
            raise EngineProblem(answer["problem"])
        self.close()
        raise EngineStopped(answer["problem"])

    def close(self) -> None:
        self._end()

    def kill(self) -> None:
        """End it now, whatever it is doing, and what it started."""
        kill_groups(self.groups)
        self.close()

    def _ended(self) -> EngineStopped:
        """What to say of a child that has ended by itself."""
        code = self._process.wait()
        self._printed.seek(0, os.SEEK_END)
        self._printed.seek(max(0, self._printed.tell() - LAST_WORDS))
        words = self._printed.read().decode("utf-8", "replace")
        self.close()
        return EngineStopped(f"{self.who} broke off{_reason(code, words)}.")


def _reason(code: int, words: str) -> str:
    """Why a program ended, by its exit code and the last that it printed."""
    if "memory allocation of" in words or "MemoryError" in words:
        return ": it needed more memory than it may take; refer to fewer cells"
    if "overflowed its stack" in words or code == -signal.SIGSEGV:
        return f": {TOO_DEEP}"
    if code < 0:
        return f" ({signal.Signals(-code).name})"
    return ""


def _pass_on(process: subprocess.Popen[str], answers: queue.Queue[str | None]) -> None:
    assert process.stdout
    # A child that dies may leave half a line, which is no answer.
    with process.stdout as lines, contextlib.suppress(ValueError):
        for line in lines:
            if line.endswith("\n"):
                answers.put(line)
    answers.put(None)


def _stop(
    process: subprocess.Popen[str], groups: Iterable[int], printed: IO[bytes], patience: float
) -> None:
    """End the child: politely if there is patience, and then by force with all that it started."""
    if process.stdin:
        with contextlib.suppress(OSError):
            process.stdin.close()
    try:
        process.wait(patience)
    except subprocess.TimeoutExpired:
        _kill(process, groups)
    except BaseException:  # interrupted a second time
        _kill(process, groups)
        raise
    finally:
        printed.close()


def _kill(process: subprocess.Popen[str], groups: Iterable[int]) -> None:
    kill_groups(groups)
    process.kill()
    process.wait()


def kill_groups(groups: Iterable[int]) -> None:
    """End every process of these groups now."""
    for group in groups:
        with contextlib.suppress(OSError):
            if os.name == "posix":
                os.killpg(group, signal.SIGKILL)
