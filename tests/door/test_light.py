"""What is not needed is not loaded, and a million rows are quick.

Times are ratios within one run, since the machine may be busy.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np
import pandas as pd
import pytest

import tanksheet as ts

HEAVY = "numpy pint pandas polars openpyxl ironcalc formulas highspy".split()
ROOMS = [f"tanksheet.{room}" for room in "recipes sheets recalc formula templates".split()]
ROWS = 1_000_000
LOOPED = 5_000


def loaded_after(code: str) -> list[str]:
    """Which heavy libraries, and which rooms of ours, are loaded once the code has run."""
    ask = f"import sys\n{code}\nprint(*(n for n in {HEAVY + ROOMS!r} if n in sys.modules))"
    run = subprocess.run(
        [sys.executable, "-c", ask], capture_output=True, check=True, text=True, timeout=60
    )
    return run.stdout.split()


@pytest.mark.parametrize(
    "code",
    [
        "import tanksheet",
        "import tanksheet as ts; dir(ts); ts.__all__",
        "import tanksheet as ts; ts.stock_mass(150, 15.5, 100, 200)",
        "import tanksheet as ts; ts.stock_mass(-1, 15.5, 100, tank=200, errors='nan')",
        "import tanksheet as ts; ts.uniformity([1, 2, None], 'CU')",
        "import tanksheet as ts; ts.stock_mass.__doc__; ts.stock_mass.__signature__",
        "from tanksheet import stock_mass",
    ],
)
def test_numbers_load_nothing(code: str) -> None:
    assert loaded_after(code) == []


def test_a_column_loads_numpy_alone() -> None:
    column = "import tanksheet as ts; ts.stock_mass([150], 15.5, 100, 200)"
    assert loaded_after(column) == ["numpy", "tanksheet.formula"]


def test_bare_import_is_quick() -> None:
    """At most four times what an empty Python with the same standard library takes."""
    needed = "import csv, dataclasses, decimal, enum, inspect, re, statistics, typing, zipfile"

    def best(code: str) -> float:
        times = []
        for _ in range(5):
            start = time.perf_counter()
            subprocess.run([sys.executable, "-c", code], check=True)
            times.append(time.perf_counter() - start)
        return min(times)

    ratio = best("import tanksheet") / best(needed)
    print(f"import tanksheet takes {ratio:.1f} times the standard library that it needs")
    assert ratio < 4


def seconds(work: Callable[[], Any]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def test_a_million_rows() -> None:
    """One call against a loop over the same rows (a part of them, scaled up)."""
    draw = np.random.default_rng(1)
    target, tank = draw.uniform(10, 300, ROWS), draw.uniform(50, 2000, ROWS)
    rows = list(zip(target[:LOOPED].tolist(), tank[:LOOPED].tolist(), strict=True))
    loop = min(seconds(lambda: [ts.stock_mass(t, 15.5, 100, v) for t, v in rows]) for _ in range(3))
    for kind, columns in {
        "NumPy": (target, tank),
        "pandas": (pd.Series(target), pd.Series(tank)),
        "list": (target.tolist(), tank.tolist()),
    }.items():
        whole = min(
            seconds(partial(ts.stock_mass, columns[0], 15.5, 100, columns[1])) for _ in range(3)
        )
        ratio = loop / LOOPED * ROWS / whole
        print(f"{kind}: a million rows {ratio:.0f} times as fast as a loop")
        assert ratio > (20 if kind != "list" else 8), kind
