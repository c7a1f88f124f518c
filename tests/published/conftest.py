"""Says at the end of a test session how many outside figures of each kind ran."""

from __future__ import annotations

from collections import Counter

import pytest

from reading import KIND_PROPERTY, KINDS


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Counts the tests that recorded the kind of their figure."""
    ran: Counter[str] = Counter()
    failed: Counter[str] = Counter()
    for outcome in ("passed", "failed"):
        for report in terminalreporter.stats.get(outcome, ()):
            kind = dict(getattr(report, "user_properties", ())).get(KIND_PROPERTY)
            if kind is not None and report.when == "call":
                ran[kind] += 1
                failed[kind] += outcome == "failed"
    if ran:
        terminalreporter.section("outside figures")
        for kind in KINDS:
            terminalreporter.write_line(f"{kind:10}{ran[kind]:5} rows ran,{failed[kind]:3} failed")
