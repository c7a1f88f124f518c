"""Rejected rows on their way to rejects.csv: on the disk, since a file may be bad throughout."""

from __future__ import annotations

import csv
import io
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from tanksheet.batch.layout import Reject

HEADER = ("file", "row", "column", "value", "reason")
_PIECE = 1 << 20


class Rejects:
    """A file without a name, so that a killed run leaves nothing of it behind."""

    def __init__(self, folder: Path) -> None:
        self._file = tempfile.TemporaryFile(dir=folder)
        self._text = io.TextIOWrapper(self._file, "utf-8", newline="")
        self._writer = csv.writer(self._text, lineterminator="\n")
        self._writer.writerow(HEADER)
        self.reasons: dict[tuple[str, str], int] = {}

    def add(self, file: str, rejects: Sequence[Reject]) -> None:
        """Writes rejects of a file, in order of their lines."""
        for each in rejects:
            self._writer.writerow((file, each.line, each.column, each.value, each.reason))
            key = file, each.reason.partition(":")[0]
            self.reasons[key] = self.reasons.get(key, 0) + 1

    def pieces(self) -> Iterator[bytes]:
        """All that was written."""
        self._text.flush()
        self._file.seek(0)
        while piece := self._file.read(_PIECE):
            yield piece

    def close(self) -> None:
        self._text.close()
