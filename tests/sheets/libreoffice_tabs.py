"""Presses Tab in each sheet of a workbook in LibreOffice and prints where the cursor then stands.

A script for the Python that has LibreOffice's ``uno`` module. It gets
``{"path": ..., "presses": {sheet: how often}}`` and prints ``{sheet: [[row, column], ...]}``, rows
and columns counted from 1. In a locked sheet Tab is the command "jump to the next open cell".
"""

from __future__ import annotations

import importlib.util
import json
import sys
from typing import Any


def main(worker: str, soffice: str, asked: str) -> None:
    spec = importlib.util.spec_from_file_location("libreoffice_worker", worker)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    job = json.loads(asked)
    office = module.Office(soffice, 60.0)
    try:
        document = office.load(job["path"])
        tab = office.uno.createUnoStruct("com.sun.star.util.URL")
        tab.Protocol, tab.Path = ".uno:", "JumpToNextUnprotected"
        tab.Complete = tab.Main = tab.Protocol + tab.Path
        said = {title: walk(office, tab, document, title, n) for title, n in job["presses"].items()}
        document.close(True)
    finally:
        office.stop()
    print(json.dumps(said))


def walk(office: Any, tab: Any, document: Any, title: str, presses: int) -> list[tuple[int, int]]:
    controller, sheet = document.getCurrentController(), document.Sheets.getByName(title)
    controller.setActiveSheet(sheet)
    # A1 may be merged, and Tab would stay within its cells while they are marked.
    controller.select(sheet.getCellByPosition(100, 0))
    controller.select(document.createInstance("com.sun.star.sheet.SheetCellRanges"))
    at_once = office._properties({"SynchronMode": True})
    press = controller.getFrame().queryDispatch(tab, "", 0)
    seen = []
    for _ in range(presses):
        press.dispatch(tab, at_once)
        place = document.getCurrentSelection().getRangeAddress()
        seen.append((place.StartRow + 1, place.StartColumn + 1))
    return seen


if __name__ == "__main__":
    main(*sys.argv[1:])
