"""The rule on absent engines: a failure, unless the caller has said that they may be absent."""

from __future__ import annotations

import os

import pytest

from tanksheet.recalc import Engine


def need(engine: Engine) -> None:
    """Fail the test when the engine cannot run here; where that is allowed, skip it and say why."""
    missing = engine.missing()
    if missing and os.environ.get("TANKSHEET_ALLOW_MISSING_ENGINES") == "1":
        pytest.skip(f"not run: {missing}")
    if missing:
        pytest.fail(f"{missing} (TANKSHEET_ALLOW_MISSING_ENGINES=1 skips such tests)")
