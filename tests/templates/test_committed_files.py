"""The workbooks that people download are what the templates build today."""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from pathlib import Path

import pytest

from package_edits import GetPackage
from tanksheet.sheets.choices import EDITIONS
from tanksheet.templates import TEMPLATES
from tanksheet.xlsx.writing import first_difference, read_parts, write_parts

FOLDER = Path(__file__).parents[2] / "workbook_templates"
PNG = b"\x89PNG\r\n\x1a\n"
REBUILD = "run scripts/build and look at the pictures"


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", TEMPLATES)
def test_the_file_is_a_fresh_build(name: str, edition: str, package_of: GetPackage) -> None:
    file = FOLDER / edition / f"{name}.xlsx"
    assert file.exists(), f"there is no {file.name}; {REBUILD}"
    committed = file.read_bytes()
    difference = first_difference(committed, package_of(name, edition))
    assert difference is None, f"{edition} {name}.xlsx: {difference}; {REBUILD}"


def test_there_is_no_file_without_a_template() -> None:
    # The list of functions is not a plan of named quantities; tests/hosts holds it.
    left = {path.stem for path in FOLDER.glob("**/*.xlsx")} - {*TEMPLATES, "functions"}
    assert left == set(), "no workbook has these names now; remove their files"


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", TEMPLATES)
def test_a_picture_stands_beside_it(name: str, edition: str) -> None:
    """A blank page packs to almost nothing, since every line of it is like the one above."""
    file = FOLDER / edition / f"{name}.png"
    assert file.exists(), f"there is no {file.name}; {REBUILD}"
    picture = file.read_bytes()
    width, height, pixels = read_png(picture)
    assert min(width, height) > 500
    assert len(pixels) > width * height
    assert len(set(pixels)) > 100
    assert len(zlib.compress(pixels)) > 0.005 * len(pixels)


def test_a_blank_page_is_no_picture() -> None:
    blank = bytes([0, *[255] * 2400]) * 1000
    assert len(set(blank)) < 100
    assert len(zlib.compress(blank)) < 0.005 * len(blank)


def read_png(picture: bytes) -> tuple[int, int, bytes]:
    """Width, height and the filtered lines of a PNG file (PNG specification, 5 and 11.2)."""
    assert picture.startswith(PNG)
    width, height = struct.unpack(">II", picture[16:24])
    at, packed = len(PNG), b""
    while at < len(picture):
        (length,) = struct.unpack(">I", picture[at : at + 4])
        if picture[at + 4 : at + 8] == b"IDAT":
            packed += picture[at + 8 : at + 8 + length]
        at += length + 12
    return width, height, zlib.decompress(packed)


def test_a_changed_part_is_reported(package_of: GetPackage) -> None:
    parts = read_parts(package_of("stock-tank"))
    part = "xl/worksheets/sheet1.xml"
    changed = write_parts({**parts, part: parts[part].replace(b"<v>100</v>", b"<v>100.5</v>", 1)})
    found = first_difference(package_of("stock-tank"), changed)
    assert found is not None
    assert part in found
    assert "100.5" in found


@pytest.mark.parametrize(("factor", "told"), [(1 + 1e-14, False), (1 + 1e-9, True)])
def test_last_digits_of_a_worked_value_are_the_processors(
    factor: float, told: bool, package_of: GetPackage
) -> None:
    parts = read_parts(package_of("stock-tank"))
    part = "xl/worksheets/sheet1.xml"
    worked = re.search(rb"(?<=</f><v>)[0-9]+\.[0-9]+(?=</v>)", parts[part])
    assert worked
    other = repr(float(worked[0]) * factor).encode()
    changed = parts[part][: worked.start()] + other + parts[part][worked.end() :]
    found = first_difference(package_of("stock-tank"), write_parts({**parts, part: changed}))
    assert (found is not None) == told


def test_a_missing_part_is_reported(package_of: GetPackage) -> None:
    parts = read_parts(package_of("stock-tank"))
    del parts["xl/styles.xml"]
    found = first_difference(package_of("stock-tank"), write_parts(parts))
    assert found == "parts differ: ['xl/styles.xml']"


def test_an_extra_part_is_reported(package_of: GetPackage) -> None:
    parts = read_parts(package_of("stock-tank"))
    found = first_difference(write_parts({**parts, "xl/extra.xml": b""}), package_of("stock-tank"))
    assert found == "parts differ: ['xl/extra.xml']"


def test_the_way_of_packing_does_not_count(package_of: GetPackage) -> None:
    """Equal parts, other compressed bytes: zlib builds differ, files do not."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for name, content in read_parts(package_of("zone-flow")).items():
            archive.writestr(name, content)
    assert stream.getvalue() != package_of("zone-flow")
    assert first_difference(stream.getvalue(), package_of("zone-flow")) is None
