"""Prints the table of the sweep at the end of a test session."""

from __future__ import annotations

import pytest

TABLE_PROPERTY = "table of the sweep"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Looks for the lines that the test of the table recorded, whether it passed or failed."""
    for outcome in ("passed", "failed"):
        for report in terminalreporter.stats.get(outcome, ()):
            lines = dict(getattr(report, "user_properties", ())).get(TABLE_PROPERTY)
            if lines is not None and report.when == "call":
                terminalreporter.section("verdicts beside PHREEQC")
                for line in str(lines).splitlines():
                    terminalreporter.write_line(line)
