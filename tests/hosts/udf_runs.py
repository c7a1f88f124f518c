"""Runs an xlwings project in a process of its own, with stand-ins for Windows and Excel.

Called by tests and by the bench as ``python udf_runs.py FOLDER``, with what to do as JSON on
standard input; the answer is JSON on standard output. Calls go in where Excel's VBA would hand
them over, ``XLPython.CallUDF``, and come out as they would leave for Excel.
"""

from __future__ import annotations

import datetime as dt
import importlib
import json
import sys
import time
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

from com_stand_ins import Cells, Workbook, install

MODULE = "fert_functions"
# Cells that JSON cannot hold, by the words that the tests write for them.
SPECIAL = {
    "<missing>": -2147352572,  # an argument left out, as COM marks it
    "<money>": Decimal("25"),  # a cell in a currency format
    "<date>": dt.datetime(2024, 5, 1),
}


def argument(given: Any) -> Any:
    """A list of rows becomes a range of cells; anything else is a constant in the formula."""
    if isinstance(given, list):
        return Cells([[special(cell) for cell in row] for row in given])
    return special(given)


def special(cell: Any) -> Any:
    # Excel's numbers are all floats; whole numbers are left for its error codes.
    return SPECIAL.get(cell, cell) if isinstance(cell, str) else cell


def called(job: dict[str, Any]) -> dict[str, Any]:
    from xlwings.com_server import XLPython

    arguments = [argument(each) for each in job["arguments"]]
    try:
        result = XLPython().CallUDF(MODULE, job["name"], arguments, Workbook(), Cells([[None]]))
    except Exception as problem:
        return {"raised": f"{type(problem).__name__}: {problem}"}
    reads = [each.reads for each in arguments if isinstance(each, Cells)]
    return {"result": result, "reads": reads}


def imported(_: dict[str, Any]) -> dict[str, Any]:
    """What the ribbon's button puts into a workbook: VBA text and help texts."""
    from xlwings.udfs import import_udfs

    book = Workbook()
    import_udfs(MODULE, book)
    return {"vba": book.modules[0], "helps": book.helps}


def facts(_: dict[str, Any]) -> dict[str, Any]:
    import xlwings

    other = [name for name in sys.modules if name.startswith("xlwings.pro")]
    windows = {
        name.partition(".")[0]
        for name, module in sys.modules.items()
        if getattr(getattr(module, "sys", sys), "platform", "") == "win32"
    }
    return {
        "pro": xlwings.__pro__,
        "other": other,
        "decorator": xlwings.func.__module__,
        "on windows": sorted(windows),
    }


def timed(job: dict[str, Any]) -> dict[str, Any]:
    """Seconds for a column in one call, and for the same column cell by cell; best of three."""
    from xlwings.udfs import call_udf

    count, book, here = job["count"], Workbook(), Cells([[None]])
    rows = [[50.0 + 250.0 * at / count] for at in range(count)]
    whole, cells = Cells(rows), [Cells([row]) for row in rows]

    def call(target: Cells) -> Any:
        return call_udf(MODULE, "FERT_STOCKMASS", (target, 15.5, 100.0, 200.0), book, here)

    def best(work: Any) -> tuple[float, Any]:
        times = []
        for _ in range(3):
            start = time.perf_counter()
            result = work()
            times.append(time.perf_counter() - start)
        return min(times), result

    call(whole)
    column, once = best(lambda: call(whole))
    one_by_one, each = best(lambda: [call(target)[0] for target in cells])
    return {"column": column, "cells": one_by_one, "equal": once == each}


def filled(job: dict[str, Any]) -> dict[str, Any]:
    """The command for a column of an open workbook: real reading, and a sheet that keeps notes."""
    import xlwings
    from fert_functions import fill

    source = xlwings.Range(
        impl=importlib.import_module("xlwings._xlwindows").Range(xl=Cells(job["rows"]))
    )
    target = SimpleNamespace(value=None)
    places = {job["block"]: source, job["first"]: target}
    sheet = SimpleNamespace(range=places.__getitem__)
    try:
        count = fill(sheet, job["name"], job["block"], job["first"])
    except Exception as problem:
        return {"raised": f"{type(problem).__name__}: {problem}"}
    return {"count": count, "written": target.value}


JOBS = {"call": called, "import": imported, "facts": facts, "time": timed, "fill": filled}


def main() -> None:
    sys.path.insert(0, sys.argv[1])
    install()
    jobs = json.load(sys.stdin)
    out, sys.stdout = sys.stdout, sys.stderr  # xlwings talks; the answer must stand alone
    json.dump([JOBS[job["do"]](job) for job in jobs], out)


if __name__ == "__main__":
    main()
