"""Prints what LibreOffice's Function Wizard knows of the FERT functions.

A script for the Python that has LibreOffice's ``uno`` module.
"""

from __future__ import annotations

import importlib.util
import json
import sys
from typing import Any


def main(worker: str, soffice: str) -> None:
    spec = importlib.util.spec_from_file_location("libreoffice_worker", worker)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    office = module.Office(soffice, 60.0)
    try:
        document = office.desktop.loadComponentFromURL(
            "private:factory/scalc", "_blank", 0, office._properties({"Hidden": True})
        )
        known = document.createInstance("com.sun.star.sheet.FunctionDescriptions")
        print(json.dumps(dict(filter(None, map(entry, map(known.getByIndex, range(known.Count)))))))
        document.close(True)
    finally:
        office.stop()


def entry(properties: Any) -> Any:
    facts = {each.Name: each.Value for each in properties}
    if not str(facts["Name"]).upper().startswith("FERT."):
        return None
    arguments = [
        {"name": each.Name, "description": each.Description, "optional": each.IsOptional}
        for each in facts["Arguments"]
    ]
    return facts["Name"], {
        "description": facts["Description"],
        "category": facts["Category"],
        "arguments": arguments,
    }


if __name__ == "__main__":
    main(*sys.argv[1:])
