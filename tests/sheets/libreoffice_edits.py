"""Does to workbooks what people do to them in LibreOffice, and saves each under another name.

A script for the Python that has LibreOffice's ``uno`` module: it gets a JSON list of jobs, each
``{"source": ..., "target": ..., "edits": [[name, argument, ...], ...]}``. Rows and columns count
from 0, as LibreOffice counts them.
"""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path
from typing import Any

FILTER = "Calc MS Excel 2007 XML"


def main(worker: str, soffice: str, jobs: str) -> None:
    spec = importlib.util.spec_from_file_location("libreoffice_worker", worker)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    office = module.Office(soffice, 60.0)
    try:
        for job in json.loads(Path(jobs).read_text(encoding="utf-8")):
            document = office.load(job["source"])
            document.unprotect("")
            for sheet in document.Sheets:
                sheet.unprotect("")
            for name, *arguments in job["edits"]:
                EDITS[name](office, document, *arguments)
            document.calculateAll()
            there = office.uno.systemPathToFileUrl(job["target"])
            document.storeToURL(there, office._properties({"FilterName": FILTER}))
            document.close(True)
    finally:
        office.stop()


def insert_rows(office: Any, document: Any, sheet: str, row: int, count: int) -> None:
    document.Sheets.getByName(sheet).Rows.insertByIndex(row, count)


def delete_rows(office: Any, document: Any, sheet: str, row: int, count: int) -> None:
    document.Sheets.getByName(sheet).Rows.removeByIndex(row, count)


def copy_sheet(office: Any, document: Any, sheet: str, new: str) -> None:
    document.Sheets.copyByName(sheet, new, document.Sheets.Count)


def rename_sheet(office: Any, document: Any, sheet: str, new: str) -> None:
    document.Sheets.getByName(sheet).Name = new


def type_in(office: Any, document: Any, sheet: str, row: int, column: int, value: Any) -> None:
    """A number, or text that LibreOffice reads as a person's: a formula where it begins with =."""
    cell = document.Sheets.getByName(sheet).getCellByPosition(column, row)
    cell.setValue(value) if isinstance(value, (int, float)) else cell.setFormula(value)


def sort_rows(
    office: Any, document: Any, sheet: str, top: int, bottom: int, left: int, right: int, by: int
) -> None:
    """Rows of a block by one of its columns, the largest first."""
    block = document.Sheets.getByName(sheet).getCellRangeByPosition(left, top, right, bottom)
    field = office.uno.createUnoStruct("com.sun.star.table.TableSortField")
    field.Field, field.IsAscending = by, False
    fields = office.uno.Any("[]com.sun.star.table.TableSortField", (field,))
    options = office._properties({"SortFields": fields, "ContainsHeader": False})
    office.uno.invoke(
        block, "sort", (office.uno.Any("[]com.sun.star.beans.PropertyValue", options),)
    )


def drag_down(
    office: Any, document: Any, sheet: str, top: int, bottom: int, left: int, right: int, of: int
) -> None:
    """The first ``of`` rows of a block drawn down over the rest of it."""
    block = document.Sheets.getByName(sheet).getCellRangeByPosition(left, top, right, bottom)
    to_bottom = office.uno.Enum("com.sun.star.sheet.FillDirection", "TO_BOTTOM")
    block.fillAuto(to_bottom, of)


def point_name(office: Any, document: Any, name: str, reference: str) -> None:
    """A name made to mean other cells."""
    document.NamedRanges.getByName(name).Content = reference


EDITS = {
    each.__name__: each
    for each in (
        insert_rows,
        delete_rows,
        copy_sheet,
        rename_sheet,
        type_in,
        sort_rows,
        drag_down,
        point_name,
    )
}

if __name__ == "__main__":
    main(*sys.argv[1:])
