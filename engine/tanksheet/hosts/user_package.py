"""A user's own workbook file: checked before it is read, and copied part by part.

Nothing is unpacked to disk and nothing in the file is run. Parts that are not changed go into the
copy as they are, in pieces, so that memory does not grow with the file.
"""

from __future__ import annotations

import io
import re
import shutil
import zipfile
from collections.abc import Mapping
from pathlib import Path, PurePosixPath
from typing import IO

from tanksheet.errors import WorkbookProblem
from tanksheet.recalc.names import DAMAGE, contents, damaged

# With macros or without; the macros travel in a part of their own, which is copied.
KINDS = (".xlsx", ".xlsm")
BOOK, LINKS, TYPES = "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "[Content_Types].xml"
# The parts that list sheets, names and parts. Only these are read whole, so they have a limit.
INDEXES = (BOOK, LINKS, TYPES)
LARGEST_INDEX = 20_000_000  # bytes
PIECE = 1 << 16


class UserPackage:
    """The parts of an .xlsx or .xlsm file.

    Raises WorkbookProblem when the file is none, is damaged, locked, signed, or built to deceive.
    """

    def __init__(self, path: Path) -> None:
        self.path, self.file = path, path.name
        if path.exists() and path.suffix.lower() not in KINDS:
            raise WorkbookProblem(
                f"{self.file}: only .xlsx and .xlsm files can take the functions; "
                "save it as .xlsx in a spreadsheet program."
            )
        try:
            with zipfile.ZipFile(path) as parts:
                self.infos = parts.infolist()
        except (OSError, *DAMAGE) as problem:
            contents(path)  # it says what the matter is
            raise damaged(self.file, problem) from None
        self._check_parts()
        for index in INDEXES:
            self._check_size(index)
        self.sheets, self.cells = contents(path)

    @property
    def names(self) -> list[str]:
        return [info.filename for info in self.infos]

    def _check_parts(self) -> None:
        seen: set[str] = set()
        for info in self.infos:
            name = info.filename.replace("\\", "/")
            if name[:1] == "/" or name[1:2] == ":" or ".." in PurePosixPath(name).parts:
                raise self._deceptive(f"a part is called {info.filename!r}, a place outside it")
            if name.casefold() in seen:
                raise self._deceptive(f"it holds two parts called {info.filename!r}")
            seen.add(name.casefold())
            if info.flag_bits & 1:
                raise WorkbookProblem(
                    f"{self.file}: {info.filename} is locked with a password; "
                    "save the workbook without one."
                )
        if any(name.startswith("_xmlsignatures/") for name in seen):
            raise WorkbookProblem(
                f"{self.file}: it is digitally signed, and any change would break the signature; "
                "remove the signature in the spreadsheet program first."
            )

    def _deceptive(self, what: str) -> WorkbookProblem:
        return WorkbookProblem(
            f"{self.file}: {what}, which no real workbook does; do not trust this file."
        )

    def size(self, part: str) -> int:
        """Bytes of a part when unpacked."""
        return next((info.file_size for info in self.infos if info.filename == part), 0)

    def _check_size(self, part: str) -> None:
        if self.size(part) > LARGEST_INDEX:
            raise WorkbookProblem(
                f"{self.file}: its part {part} has {self.size(part) / 1e6:.0f} MB, and the most "
                f"taken is {LARGEST_INDEX / 1e6:.0f} MB; delete names that lead nowhere."
            )

    def read(self, part: str) -> bytes:
        """One of the INDEXES. Raises WorkbookProblem when it is missing or damaged."""
        try:
            with zipfile.ZipFile(self.path) as parts:
                return parts.read(part)
        except (KeyError, *DAMAGE) as problem:
            raise damaged(self.file, problem) from None

    def mentions(self, words: re.Pattern[bytes], folder: str) -> bool:
        """Whether a part in a folder holds a text of at most 100 bytes."""
        try:
            with zipfile.ZipFile(self.path) as parts:
                for name in self.names:
                    if name.startswith(folder):
                        with parts.open(name) as stream:
                            if _holds(stream, words):
                                return True
        except DAMAGE as problem:
            raise damaged(self.file, problem) from None
        return False

    def copied(self, changes: Mapping[str, bytes]) -> bytes:
        """The file with some parts changed or added; all others keep their bytes and order."""
        target = io.BytesIO()
        try:
            with zipfile.ZipFile(self.path) as old, zipfile.ZipFile(target, "w") as new:
                new.comment = old.comment
                for info in self.infos:
                    _copy_part(old, new, info, changes.get(info.filename))
                for name in sorted(changes.keys() - set(self.names)):
                    info = zipfile.ZipInfo(name)  # its date is 1980-01-01 on every machine
                    info.compress_type = zipfile.ZIP_DEFLATED
                    new.writestr(info, changes[name])
        except DAMAGE as problem:
            raise damaged(self.file, problem) from None
        return target.getvalue()


def _holds(stream: IO[bytes], words: re.Pattern[bytes]) -> bool:
    tail = b""
    while piece := stream.read(PIECE):
        if words.search(tail + piece):
            return True
        tail = piece[-100:]
    return False


def _copy_part(
    old: zipfile.ZipFile, new: zipfile.ZipFile, info: zipfile.ZipInfo, changed: bytes | None
) -> None:
    copy = zipfile.ZipInfo(info.filename, info.date_time)
    copy.compress_type, copy.external_attr = info.compress_type, info.external_attr
    copy.create_system, copy.comment = info.create_system, info.comment
    if changed is not None:
        new.writestr(copy, changed)
        return
    copy.file_size = info.file_size
    with old.open(info) as source, new.open(copy, "w") as target:
        shutil.copyfileobj(source, target, PIECE)
