"""README's section for Python says what happens."""

from __future__ import annotations

import doctest
from pathlib import Path

import pytest

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.recalc import ENGINES

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def section(text: str, heading: str) -> str:
    return text.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]


def run(text: str) -> tuple[doctest.TestResults, str]:
    """How the examples of a text end, and what doctest says of those that differ."""
    said: list[str] = []
    test = doctest.DocTestParser().get_doctest(text, {}, "README", "README.md", 0)
    runner = doctest.DocTestRunner(verbose=False, optionflags=doctest.ELLIPSIS)
    return runner.run(test, out=said.append), "".join(said)


def test_the_section_for_python(
    workbook: GetWorkbook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    need(ENGINES["ironcalc"])
    workbook("stock-tank")
    monkeypatch.chdir(tmp_path)
    results, said = run(section(README, "From Python"))
    assert results.failed == 0, said
    assert results.attempted >= 14
    for word in ("help(ts.", "pandas", "polars", "pint", "open_workbook"):
        assert word in section(README, "From Python")


def test_a_wrong_line_is_seen() -> None:
    results, said = run(">>> import tanksheet as ts\n>>> ts.ratio_of_percent(0.5)\n201.0\n")
    assert results.failed == 1 and "200.0" in said
