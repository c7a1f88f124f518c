"""The Working sheet: the steps of long formulas, for whoever wants to follow them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from tanksheet.errors import CarriedFault, Fault, SheetError
from tanksheet.formula.arrays import run_tree
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Formula, Sheet
from tanksheet.sheets.compiled import FIRST_ROW, WORKING, Compiled
from tanksheet.sheets.evaluate import Settings, known_values
from tanksheet.xlsx.address import Address, Value


def working_sheet(made: Compiled) -> Sheet:
    """One row a step: its name and its formula."""
    sheet = Sheet(WORKING, (34, 18), printed=False)
    sheet.put(1, "Working", "title", across=2)
    sheet.row += 1
    sheet.put(1, "Steps of the longer formulas. Nothing to type here.", "lead", across=2)
    sheet.row = FIRST_ROW
    for step in made.steps:
        sheet.put(1, step.name, "table")
        formula = Formula(step.name, step.cell, _written_out, (), "", step.name)
        sheet.put(2, formula, "grid", "0.000000E+00")
        sheet.row += 1
    return sheet


def _written_out() -> None:
    raise TypeError("a step has no function of its own; it is a part of another formula")


def cached_values(book: Book, made: Compiled, settings: Settings) -> dict[Address, Value]:
    """What every formula cell shows, and what the steps come to."""
    known, values = known_values(book, settings)
    cells = {formula.cell: values[key] for key, formula in book.formulas.items()}
    return cells | _step_values(made, known)


def _step_values(made: Compiled, known: Mapping[str, Any]) -> dict[Address, Value]:
    values: dict[Address, Value] = {}
    names = dict(known)
    for step in made.steps:
        try:
            names[step.name] = run_tree(step.node, names)
            number = float(names[step.name])
            values[step.cell] = number if math.isfinite(number) else SheetError.NUM
        except Fault as fault:  # what it is worked out from is an error: so is it
            names[step.name] = CarriedFault(fault)
            values[step.cell] = fault.code
    return values
