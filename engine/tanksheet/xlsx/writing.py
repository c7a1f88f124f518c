"""Finishes the .xlsx package: cached values in every formula cell, fixed dates, fixed order.

A library that writes formulas leaves their values out, so a preview, a phone or a protected view
would show empty cells. The values come from the Python engine and are set here, in the XML.
"""

from __future__ import annotations

import contextlib
import errno
import io
import math
import os
import re
import secrets
import shutil
import time
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from xml.etree import ElementTree

from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.listing import BookList, LinkList, sheet_homes
from tanksheet.xlsx.reading import BOOK, LINKS, MAIN, RELATIONS

CORE = "docProps/core.xml"
FIXED = (1980, 1, 1, 0, 0, 0)  # the earliest date that a zip entry can carry
FIXED_TEXT = "2026-01-01T00:00:00Z"
BESIDE = ".tanksheet-new-"  # begins the names of files that are being written
LEFT_OVER_SECONDS = 3600.0
WORKED = re.compile(rb"(?<=</f><v>)[-+.0-9eE]+(?=</v>)")  # a number that a formula gave
SAME_VALUE = 1e-11


def finished(package: bytes, values: Mapping[Address, Value]) -> bytes:
    """The package with cached values, and nothing in it that depends on when it was built."""
    parts = read_parts(package)
    for title, part in sheet_parts(parts).items():
        mine = {cell.cell: value for cell, value in values.items() if cell.sheet == title}
        if mine:
            parts[part] = _with_values(parts[part], mine)
    parts[CORE] = _fixed_dates(parts[CORE])
    return write_parts(parts)


def read_parts(package: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def write_parts(parts: Mapping[str, bytes]) -> bytes:
    stream = io.BytesIO()
    # The content types come first, as readers expect; the rest in order of name.
    order = sorted(parts, key=lambda name: (name != "[Content_Types].xml", name))
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in order:
            info = zipfile.ZipInfo(name, FIXED)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o600 << 16
            info.create_system = 3
            archive.writestr(info, parts[name])
    return stream.getvalue()


def sheet_parts(parts: Mapping[str, bytes]) -> dict[str, str]:
    """Which part holds each sheet, by the sheet's title."""
    file = "this workbook"
    book, links = BookList(file), LinkList(file)
    for reader, part in ((book, BOOK), (links, LINKS)):
        for _ in reader.read([parts[part]]):
            pass
    return sheet_homes(file, book.sheets, links.links, parts)


def _with_values(part: bytes, values: Mapping[str, Value]) -> bytes:
    ElementTree.register_namespace("", MAIN)
    ElementTree.register_namespace("r", RELATIONS)
    root = ElementTree.fromstring(part)
    for cell in root.iter(f"{{{MAIN}}}c"):
        if cell.find(f"{{{MAIN}}}f") is not None:
            _set_value(cell, values[str(cell.get("r"))])
        elif not len(cell):
            cell.attrib.pop("t", None)  # one engine reads an empty cell of type "n" as 0
    return bytes(ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True))


def _set_value(cell: ElementTree.Element, value: Value) -> None:
    node = cell.find(f"{{{MAIN}}}v")
    if node is None:
        node = ElementTree.SubElement(cell, f"{{{MAIN}}}v")
    cell.attrib.pop("t", None)
    if isinstance(value, SheetError):
        cell.set("t", "e")
        node.text = str(value)
    elif isinstance(value, bool):
        cell.set("t", "b")
        node.text = str(int(value))
    elif isinstance(value, (int, float)):
        node.text = repr(float(value))
    else:
        cell.set("t", "str")
        node.text = value or ""


def _fixed_dates(part: bytes) -> bytes:
    root = ElementTree.fromstring(part)
    for node in root:
        if node.tag.endswith(("}created", "}modified")):
            node.text = FIXED_TEXT
    return bytes(ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True))


def first_difference(one: bytes, other: bytes) -> str | None:
    """Where two packages differ after unzipping: None when every part is equal.

    The last digits of a worked value are no difference: processors round powers and logarithms
    in their own ways.
    """
    left, right = read_parts(one), read_parts(other)
    if sorted(left) != sorted(right):
        return f"parts differ: {sorted(set(left) ^ set(right))}"
    for name in sorted(left):
        beside = _with_digits_of(left[name], right[name])
        if left[name] != beside:
            return f"part {name}: {_around(left[name], beside)}"
    return None


def _with_digits_of(left: bytes, right: bytes) -> bytes:
    """The right part, its worked values written as in the left one where they are the same."""
    numbers = iter(WORKED.findall(left))

    def written(found: re.Match[bytes]) -> bytes:
        number = next(numbers, found[0])
        same = math.isclose(float(number), float(found[0]), rel_tol=SAME_VALUE, abs_tol=SAME_VALUE)
        return number if same else found[0]

    return WORKED.sub(written, right)


def _around(left: bytes, right: bytes) -> str:
    both = zip(left, right, strict=False)
    at = next((i for i, (a, b) in enumerate(both) if a != b), min(len(left), len(right)))
    start = max(0, at - 60)
    return f"at byte {at}: {left[start : at + 60]!r} against {right[start : at + 60]!r}"


def replace_file(path: Path, content: bytes) -> None:
    """Writes beside the target, then swaps: a failure leaves the old file as it was.

    Other runs may write the same target: whoever swaps last wins, and the file is whole at any
    time. A link stays a link; the file that it leads to is replaced.

    Raises: WorkbookProblem when the file or its folder is read-only, missing or full.
    """
    replace_files({path: [content]})


def replace_files(contents: Mapping[Path, Iterable[bytes]]) -> None:
    """As ``replace_file`` for files that belong together, in pieces: all are written before the
    first is swapped in, so a failure to write one leaves every old file as it was."""
    written: list[tuple[Path, Path, Path]] = []
    path = Path()
    try:
        for path, pieces in contents.items():
            target = Path(os.path.realpath(path))
            beside = target.with_name(f"{BESIDE}{secrets.token_hex(8)}")
            written.append((path, target, beside))
            _write_beside(target, beside, pieces)
        for path, target, beside in written:  # noqa: B007 - the message names it
            beside.replace(target)
        for folder in {target.parent for _, target, _ in written}:
            _settle(folder)
    except OSError as problem:
        raise WorkbookProblem(
            f"{path}: cannot be written ({problem.strerror}); nothing was changed"
        ) from None
    finally:
        for _, _, beside in written:
            with contextlib.suppress(OSError):
                beside.unlink()
    for folder in {target.parent for _, target, _ in written}:
        _sweep(folder)


def _write_beside(target: Path, beside: Path, pieces: Iterable[bytes]) -> None:
    if target.is_symlink():  # links in a circle, which nothing stands behind
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP))
    old = target.stat() if target.exists() else None
    if old:  # the swap asks the folder only, so ask the file itself first
        target.open("r+b").close()
    with beside.open("xb") as file:
        for piece in pieces:
            file.write(piece)
        file.flush()
        os.fsync(file.fileno())  # else a loss of power may swap in a file without content
    if old:
        _keep_owner(target, beside, old)


def _keep_owner(target: Path, beside: Path, old: os.stat_result) -> None:
    if hasattr(os, "chown"):
        with contextlib.suppress(OSError):  # only root may give a file away
            os.chown(beside, old.st_uid, old.st_gid)
    shutil.copymode(target, beside)


def _settle(folder: Path) -> None:
    """The swap itself is on the disk only once the folder is."""
    if os.name == "posix":
        with contextlib.suppress(OSError):
            handle = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def _sweep(folder: Path) -> None:
    """Removes what killed runs have left, once no run can still be writing it."""
    with contextlib.suppress(OSError):
        for left in folder.glob(f"{BESIDE}*"):
            if time.time() - left.stat().st_mtime > LEFT_OVER_SECONDS:
                left.unlink()
