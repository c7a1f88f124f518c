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
from pathlib import Path
from typing import IO

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.reading import PIECE, Package
from tanksheet.xlsx.refusals import DAMAGE, damaged

# With macros or without; the macros travel in a part of their own, which is copied.
KINDS = (".xlsx", ".xlsm")


class UserPackage(Package):
    """The parts of an .xlsx or .xlsm file that is to be changed.

    Raises WorkbookProblem as ``Package`` does, and for a file that is signed.
    """

    def __init__(self, path: Path) -> None:
        if path.exists() and path.suffix.lower() not in KINDS:
            raise WorkbookProblem(
                f"{path.name}: only .xlsx and .xlsm files can take the functions; "
                "save it as .xlsx in a spreadsheet program."
            )
        super().__init__(path)
        if any(name.casefold().startswith("_xmlsignatures/") for name in self.parts):
            raise WorkbookProblem(
                f"{self.file}: it is digitally signed, and any change would break the signature; "
                "remove the signature in the spreadsheet program first."
            )

    def mentions(self, words: re.Pattern[bytes], folder: str) -> bool:
        """Whether a part in a folder holds a text of at most 100 bytes."""
        try:
            with zipfile.ZipFile(self.path) as parts:
                for name in self.parts:
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
                for name in sorted(changes.keys() - set(self.parts)):
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
