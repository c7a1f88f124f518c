"""A copy of a workbook with cells set and with the results that follow, in the file itself.

Whatever opens it, a preview or a phone too, shows the new numbers before anything recalculates.
"""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path

from tanksheet.errors import SheetError
from tanksheet.recalc import Session, engine
from tanksheet.xlsx.address import Address, Value, address
from tanksheet.xlsx.placing import placed_parts
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.user_package import UserPackage
from tanksheet.xlsx.values import cells


def refreshed(path: Path, inputs: Mapping[Address, Value], engine_name: str = "ironcalc") -> bytes:
    """The copy; the file itself is never written to.

    Raises: WorkbookProblem for a file that is no .xlsx or .xlsm file or is signed, or an input that
    no cell can hold; EngineProblem when the engine fails.
    """
    UserPackage(path)  # it refuses what cannot be copied, before any work is done
    with engine(engine_name).open(path) as session:
        return refreshed_in(session, path, inputs)


def recalculated(content: bytes, engine_name: str = "ironcalc") -> bytes:
    """A workbook's package with the results that an engine gives."""
    with tempfile.TemporaryDirectory(prefix="tanksheet-") as folder:
        path = Path(folder) / "book.xlsx"
        path.write_bytes(content)
        return refreshed(path, {}, engine_name)


def refreshed_in(session: Session, path: Path, inputs: Mapping[Address, Value]) -> bytes:
    """The same of a workbook that is open in an engine."""
    package = UserPackage(path)
    places = [where for where in formula_cells(package) if where not in inputs]
    values = session.calculate(inputs, places)
    # A name of an error that the file format does not know would spoil the file.
    results = {where: v for where, v in values.items() if v is not SheetError.UNKNOWN}
    changed = placed_parts(package, inputs, results)
    return package.copied({part: b"".join(pieces) for part, pieces in changed.items()})


def formula_cells(package: Package) -> list[Address]:
    """Every cell of a workbook that holds a formula."""
    return [
        address(title, cell.place)
        for title, part in package.sheets.items()
        for cell in cells(package, part)
        if cell.has_formula
    ]
