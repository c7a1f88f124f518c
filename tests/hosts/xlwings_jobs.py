"""Sends work to ``udf_runs.py`` and compares what comes back with the engine."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
ENGINE = HERE.parents[1] / "engine"
SECONDS = 300


def run_jobs(folder: Path, jobs: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The answers of one process that has the project in ``folder`` and stand-ins for Windows."""
    done = subprocess.run(
        [sys.executable, str(HERE / "udf_runs.py"), str(folder)],
        input=json.dumps(jobs),
        capture_output=True,
        text=True,
        timeout=SECONDS,
        env={**os.environ, "PYTHONPATH": str(ENGINE), "PYTHONDONTWRITEBYTECODE": "1"},
    )
    assert done.returncode == 0, done.stderr
    answers: list[dict[str, Any]] = json.loads(done.stdout)
    return answers


def call(name: str, *arguments: Any) -> dict[str, Any]:
    return {"do": "call", "name": name, "arguments": arguments}


def same(ours: Any, theirs: Any) -> bool:
    """Equal text, or numbers within 1e-12: NumPy's powers differ from Python's in the last bit."""
    if isinstance(ours, str) or isinstance(theirs, str):
        return bool(ours == theirs)
    return math.isclose(ours, theirs, rel_tol=1e-12, abs_tol=1e-15)
