"""The text of formulas as a file holds them (ECMA-376 part 1, 18.3.1.40)."""

from __future__ import annotations

from collections.abc import Iterable

from tanksheet.xlsx.address import Address, address
from tanksheet.xlsx.elements import Elements
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import by_sheet, column_of


def formula_texts(package: Package, wanted: Iterable[Address]) -> dict[Address, str]:
    """The formula in each wanted cell that holds one, without "=".

    A cell that shares the formula of another has none of its own, and gives "".
    Raises WorkbookProblem when a sheet is not in the file, or the file is damaged.
    """
    found: dict[Address, str] = {}
    for sheet, places in by_sheet(package, wanted).items():
        reader = _Formulas(package.file, {where.cell for where in places})
        for _ in package.parse(reader, package.sheets[sheet]):
            pass
        found.update({address(sheet, cell): text for cell, text in reader.found.items()})
    return found


class _Formulas(Elements):
    def __init__(self, file: str, wanted: set[str]) -> None:
        super().__init__(file)
        self.wanted, self.found = wanted, dict[str, str]()
        self.row = self.column = 0
        self.place = ""

    def begin_row(self, facts: dict[str, str]) -> None:
        self.row = int(facts["r"]) if "r" in facts else self.row + 1
        self.column = 0

    def begin_c(self, facts: dict[str, str]) -> None:
        self.column = column_of(facts["r"]) if "r" in facts else self.column + 1
        self.place = facts.get("r") or Address("-", self.row, self.column).cell

    def begin_f(self, facts: dict[str, str]) -> None:
        if self.place in self.wanted:
            self.listen()

    def end_f(self) -> None:
        if self.place in self.wanted:
            self.deafen()
            self.found[self.place] = self.heard()
