"""Says at the end of a test session how many cases ran in which engine for which workbook."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from harness_runs import HEADINGS, RUN_PROPERTY


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """One row a run; an engine that was absent or broke down has a row as well."""
    rows = sorted(_rows(terminalreporter))
    if not rows:
        return
    terminalreporter.section("workbooks in spreadsheet engines")
    for row in (HEADINGS, *rows):
        cells = (str(cell).ljust(width) for cell, width in zip(row, _widths(rows), strict=True))
        terminalreporter.write_line("  ".join(cells).rstrip())


def _rows(reporter: pytest.TerminalReporter) -> Iterator[tuple[Any, ...]]:
    for outcome in ("passed", "failed", "skipped"):
        for report in reporter.stats.get(outcome, ()):
            for name, value in getattr(report, "user_properties", ()):
                if name == RUN_PROPERTY and report.when == "call":
                    yield tuple(value)


def _widths(rows: list[tuple[Any, ...]]) -> list[int]:
    return [max(len(str(row[i])) for row in (HEADINGS, *rows)) for i in range(len(HEADINGS))]
