"""A user's own file, read in pieces: a text that lies across two of them is found."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest

from small_cells import MakeBook
from tanksheet.xlsx.reading import PIECE
from tanksheet.xlsx.user_package import UserPackage

WORD = re.compile(rb"FERT\.STOCKMASS")


def padded_book(path: Path, book: Path, before: int) -> Path:
    """A copy of a workbook with a part in which the word begins after so many bytes."""
    with zipfile.ZipFile(book) as old, zipfile.ZipFile(path, "w") as new:
        for info in old.infolist():
            new.writestr(info, old.read(info))
        new.writestr("xl/worksheets/more.xml", b"<w>".ljust(before) + b"FERT.STOCKMASS</w>")
    return path


@pytest.mark.parametrize("before", [3, PIECE - 14, PIECE - 13, PIECE - 7, PIECE - 1, PIECE])
def test_a_word_across_two_pieces_is_found(
    before: int, make_book: MakeBook, tmp_path: Path
) -> None:
    path = padded_book(tmp_path / "padded.xlsx", make_book({"A1": 1}), before)
    package = UserPackage(path)
    assert package.mentions(WORD, "xl/worksheets/")
    assert not package.mentions(WORD, "xl/charts/")
    assert not package.mentions(re.compile(rb"FERT\.STOCKMASSES"), "xl/worksheets/")
