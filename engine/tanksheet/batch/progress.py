"""A bar on the error stream while a long batch runs, and only if a person sees it."""

from __future__ import annotations

import sys
import time

WIDTH, EVERY = 30, 0.1  # characters, seconds


class Bar:
    """Shows how much of the whole is done. On anything but a terminal it writes nothing."""

    def __init__(self, what: str, whole: int) -> None:
        self.what, self.whole = what, max(1, whole)
        self.is_shown = sys.stderr.isatty()
        self.next = time.monotonic() + EVERY
        self.was_drawn = False

    def reach(self, done: int) -> None:
        if not self.is_shown or time.monotonic() < self.next:
            return
        self.next = time.monotonic() + EVERY
        self.was_drawn = True
        share = min(1.0, done / self.whole)
        filled = int(share * WIDTH)
        line = f"\r{self.what} [{'#' * filled}{'.' * (WIDTH - filled)}] {share:4.0%}"
        print(line, end="", file=sys.stderr, flush=True)

    def close(self) -> None:
        """Takes the bar away."""
        if self.was_drawn:
            blank = " " * (len(self.what) + WIDTH + 9)
            print(f"\r{blank}\r", end="", file=sys.stderr, flush=True)
