"""A build is the same every time and on every machine."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from openpyxl import Workbook

from package_edits import GetPackage
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import TEMPLATES, _made, book
from tanksheet.xlsx.writing import first_difference, read_parts

ENGINE = Path(__file__).parents[2] / "engine"


@pytest.mark.parametrize("name", TEMPLATES)
def test_two_builds_are_equal_byte_for_byte(name: str, package_of: GetPackage) -> None:
    fresh = _made.__wrapped__(name, "metric")
    assert workbook_bytes(fresh) == package_of(name)


@pytest.mark.parametrize("seed", ["0", "1", "4242"])
def test_the_order_of_hashes_does_not_count(
    seed: str, package_of: GetPackage, tmp_path: Path
) -> None:
    """Sets are ordered by hash, which differs from run to run unless PYTHONHASHSEED fixes it."""
    subprocess.run(
        [sys.executable, "-m", "tanksheet.cli", "make", "--all", "--out", str(tmp_path)],
        env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ENGINE)},
        check=True,
        capture_output=True,
        timeout=120,
    )
    for name in TEMPLATES:
        made = (tmp_path / f"{name}.xlsx").read_bytes()
        assert first_difference(made, package_of(name)) is None


def test_a_build_leaves_the_librarys_own_font_alone() -> None:
    """Else a workbook that somebody writes in the same process would come out in another font."""
    before = io.BytesIO(), io.BytesIO()
    Workbook().save(before[0])
    workbook_bytes(book("zone-flow"))
    Workbook().save(before[1])
    styles = [read_parts(stream.getvalue())["xl/styles.xml"] for stream in before]
    assert styles[0] == styles[1]
