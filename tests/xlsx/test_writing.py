"""The finished package: cached values, fixed dates, and files that are never left half written."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import zipfile
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest
from openpyxl import Workbook, load_workbook

from small_books import small_book
from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import MAIN, Package
from tanksheet.xlsx.values import stored_values
from tanksheet.xlsx.writing import (
    finished,
    first_difference,
    read_parts,
    replace_file,
    sheet_parts,
    write_parts,
)

NOBODY = 65534


def made(sheets: dict[str, dict[str, object]]) -> bytes:
    """A package as openpyxl writes it, formulas without values."""
    book = Workbook()
    book.remove(book.active)
    for title, cells in sheets.items():
        sheet = book.create_sheet(title)
        for cell, content in cells.items():
            sheet[cell] = content
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


VALUES: list[Value] = [
    1.5,
    7.0,
    0.1 + 0.2,
    -1e-300,
    "text",
    "",
    " spaced <&> ",
    True,
    False,
    *(SheetError(code) for code in ("#N/A", "#NUM!", "#VALUE!", "#DIV/0!", "#REF!", "#NAME?")),
]


@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_cached_values_of_every_type(value: Value, tmp_path: Path) -> None:
    package = finished(made({"Main": {"A1": "=1+1", "B1": 3}}), {Address("Main", 1, 1): value})
    path = tmp_path / "one.xlsx"
    path.write_bytes(package)
    cell = Address("Main", 1, 1)
    [stored] = stored_values(Package(path), [cell]).values()
    assert stored == value
    assert type(stored) is type(value)
    seen = load_workbook(path, data_only=True)["Main"]["A1"].value  # knows no empty text
    assert ("" if seen is None else seen) == (
        str(value) if isinstance(value, SheetError) else value
    )


def test_values_go_to_the_right_sheet(tmp_path: Path) -> None:
    package = made({"One": {"A1": "=1"}, "Two words": {"A1": "=2", "C5": "=3"}})
    cells = {Address("One", 1, 1): 1.0, Address("Two words", 1, 1): 2.0}
    cells[Address("Two words", 5, 3)] = 3.0
    path = tmp_path / "two.xlsx"
    path.write_bytes(finished(package, cells))
    assert stored_values(Package(path), cells) == cells


def test_a_formula_without_a_value_is_refused() -> None:
    with pytest.raises(KeyError, match="B1"):
        finished(made({"Main": {"A1": "=1", "B1": "=2"}}), {Address("Main", 1, 1): 1.0})


def test_empty_cells_have_no_type() -> None:
    """IronCalc reads an empty cell of type "n" as 0; Excel leaves the type out."""
    parts = read_parts(workbook_bytes(small_book()))
    root = ElementTree.fromstring(parts[sheet_parts(parts)["Main"]])
    empty = [cell for cell in root.iter(f"{{{MAIN}}}c") if not len(cell)]
    assert empty
    assert not [cell.get("r") for cell in empty if cell.get("t")]


def test_order_and_dates_do_not_depend_on_the_build() -> None:
    package = finished(made({"Main": {"A1": "=1"}}), {Address("Main", 1, 1): 1.0})
    with zipfile.ZipFile(io.BytesIO(package)) as archive:
        assert archive.namelist()[0] == "[Content_Types].xml"
        assert archive.namelist()[1:] == sorted(archive.namelist()[1:])
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = archive.read("docProps/core.xml").decode()
    assert core.count("2026-01-01T00:00:00Z") == 2


def test_first_difference_says_where() -> None:
    one = write_parts({"a.xml": b"<a>1</a>", "b.xml": b"<b/>"})
    assert first_difference(one, one) is None
    other = write_parts({"a.xml": b"<a>2</a>", "b.xml": b"<b/>"})
    assert first_difference(one, other) == "part a.xml: at byte 3: b'<a>1</a>' against b'<a>2</a>'"
    longer = write_parts({"a.xml": b"<a>1</a>\n", "b.xml": b"<b/>"})
    assert "at byte 8" in str(first_difference(one, longer))
    assert first_difference(one, write_parts({"a.xml": b"<a>1</a>"})) == "parts differ: ['b.xml']"


# files


def test_a_new_file_and_a_replaced_one(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    replace_file(path, b"one")
    assert path.read_bytes() == b"one"
    path.chmod(0o640)
    replace_file(path, b"two")
    assert path.read_bytes() == b"two"
    assert path.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_a_swap_that_fails_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(b"old")

    def refused(self: Path, target: Path) -> Path:
        raise PermissionError(errno.EACCES, "Permission denied", str(self))

    monkeypatch.setattr(Path, "replace", refused)
    with pytest.raises(WorkbookProblem, match=r"book\.xlsx: cannot be written \(Permission"):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@contextlib.contextmanager
def as_ordinary_user(*paths: Path) -> Iterator[None]:
    """Root passes over permissions, so root takes another user's rights, and owns nothing."""
    if os.geteuid() != 0:
        yield
        return
    for path in paths:
        os.chown(path, NOBODY, NOBODY)
    outside = [p for p in paths[0].parents if not p.stat().st_mode & 0o001]
    modes = {p: p.stat().st_mode for p in outside}
    for p in outside:
        p.chmod(modes[p] | 0o011)
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)
        for p, mode in modes.items():
            p.chmod(mode)


def test_a_read_only_file_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    path = folder / "book.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o444)
    with as_ordinary_user(folder, path):
        with pytest.raises(WorkbookProblem, match=r"book\.xlsx: cannot be written \(Permission"):
            replace_file(path, b"new")
        assert path.read_bytes() == b"old"
        assert list(folder.iterdir()) == [path]


def test_a_read_only_folder_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    path = folder / "book.xlsx"
    path.write_bytes(b"old")
    folder.chmod(0o555)
    with as_ordinary_user(folder, path):
        for target in (path, folder / "new.xlsx"):
            with pytest.raises(WorkbookProblem, match=rf"{target.name}: cannot be written"):
                replace_file(target, b"new")
        assert path.read_bytes() == b"old"
        assert list(folder.iterdir()) == [path]
    folder.chmod(0o755)


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "folder").write_bytes(b"a file")
    with pytest.raises(WorkbookProblem, match="cannot be written"):
        replace_file(tmp_path / "folder" / "book.xlsx", b"new")
    assert (tmp_path / "folder").read_bytes() == b"a file"


def test_a_folder_that_is_missing(tmp_path: Path) -> None:
    with pytest.raises(WorkbookProblem, match=r"cannot be written \(No such file"):
        replace_file(tmp_path / "missing" / "book.xlsx", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_target_that_is_a_folder(tmp_path: Path) -> None:
    (tmp_path / "book.xlsx").mkdir()
    with pytest.raises(WorkbookProblem, match=r"book\.xlsx: cannot be written"):
        replace_file(tmp_path / "book.xlsx", b"new")
    assert [p.name for p in tmp_path.iterdir()] == ["book.xlsx"]
