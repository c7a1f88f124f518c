"""Workbooks of an engine that misbehaves, for the child process: what their first input says."""

from __future__ import annotations

import ctypes
import os
import sys
import time
from collections.abc import Mapping, Sequence

from tanksheet.recalc.open_book import OpenBook
from tanksheet.xlsx.address import Address, Value


class OddBook(OpenBook):
    def load(self) -> None:
        print("loading")
        os.write(2, b"chatter\n")

    def calculate(self, inputs: Mapping[Address, Value], wanted: Sequence[Address]) -> list[Value]:
        what = str(next(iter(inputs.values()), ""))
        if what == "sleep":
            time.sleep(100)
        elif what == "hold on":  # as an engine does that lets no other code run meanwhile
            ctypes.PyDLL(None).sleep(100)
        elif what == "crash":
            ctypes.string_at(0)
        elif what == "eat":
            sum(len(block) for block in [bytearray(1 << 20) for _ in range(5_000)])
        elif what == "nest":
            self.calculate(inputs, wanted)
        elif what == "panic":
            raise PanicException("index out of bounds")
        elif what == "say":
            print("thread 'main' panicked", file=sys.stderr)
            print('{"ok": ["number", 13]}')
            os.write(1, b'{"ok": ["number", 13]}\n')
        elif what == "refuse":
            raise ValueError("no such\nfunction")
        return [float(len(what)) for _ in wanted]


class PanicException(BaseException):
    """As a panic in Rust arrives."""
