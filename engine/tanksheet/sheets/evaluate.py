"""Computes a book in Python: the oracle for cached values and for every spreadsheet engine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from tanksheet import definition
from tanksheet.errors import CarriedFault, Fault, SheetError, fault_for
from tanksheet.sheets.book import AddedRow, Book, part
from tanksheet.sheets.cells import Entry, Formula
from tanksheet.tables import Added, added_rows
from tanksheet.xlsx.address import Address, Value

Settings = Mapping[str, Value | Sequence[Value]]


def evaluate(book: Book, settings: Settings) -> dict[str, Value]:
    """Every formula's value by key, for entries set as told and otherwise at their defaults.

    A fault becomes the error that a cell would show.
    """
    return known_values(book, settings)[1]


def chosen_values(book: Book, settings: Settings, keys: Iterable[str]) -> dict[str, Value]:
    """The same for some formulas: nothing is computed that they do not depend on."""
    known = _entries(book, settings)
    filled = [row for row in book.added if known[row.typed] != ""]
    needed = set(keys).union(*(row.computed.values() for row in filled))
    for formula in reversed(book.formulas.values()):
        if formula.key in needed:
            for argument in formula.arguments:
                needed.update(book.ranges.get(argument, (argument,)))
    with added_rows(_added(filled, known)):
        for formula in book.formulas.values():
            if formula.key in needed:
                known[formula.key] = _computed(book, formula, known)
    return {key: _cell_value(known[key]) for key in book.formulas if key in needed}


def known_values(book: Book, settings: Settings) -> tuple[dict[str, Any], dict[str, Value]]:
    """Every key's value as the functions see it, and every formula's as its cell shows it."""
    known = _entries(book, settings)
    with added_rows(_added(book.added, known)):
        for formula in book.formulas.values():
            known[formula.key] = _computed(book, formula, known)
    return known, {key: _cell_value(known[key]) for key in book.formulas}


class _Row(Mapping[str, Any]):
    """A row that a book adds to a table, as far as it is computed by now."""

    def __init__(self, row: AddedRow, known: Mapping[str, Any]) -> None:
        self.row, self.known = row, known

    def __getitem__(self, column: str) -> Any:
        if column not in self.row.computed:
            return self.row.fixed[column]
        value = self.known[self.row.computed[column]]
        if isinstance(value, CarriedFault):
            raise value.fault
        return value

    def __iter__(self) -> Iterator[str]:
        return iter((*self.row.computed, *self.row.fixed))

    def __len__(self) -> int:
        return len(self.row.computed) + len(self.row.fixed)


def _added(rows: Iterable[AddedRow], known: Mapping[str, Any]) -> Added:
    added: dict[str, list[_Row]] = {}
    for row in rows:
        added.setdefault(row.table, []).append(_Row(row, known))
    return added


def cell_values(book: Book, settings: Settings) -> dict[Address, Value]:
    """The same by cell."""
    values = evaluate(book, settings)
    return {formula.cell: values[key] for key, formula in book.formulas.items()}


def entry_cells(book: Book, settings: Settings) -> dict[Address, Value]:
    """What stands in every entry cell under these settings."""
    cells: dict[Address, Value] = {}
    for entry in book.entries.values():
        cells.update(zip(entry.cells, _given(entry, settings), strict=True))
    return cells


def _given(entry: Entry, settings: Settings) -> Sequence[Value]:
    value = settings.get(entry.key, entry.default)
    if isinstance(value, (list, tuple)):
        return [*value, *[None] * (len(entry.cells) - len(value))]
    if not entry.single:
        raise TypeError(f"{entry.key} takes {len(entry.cells)} values")
    single: Any = value
    return (single,)


def _entries(book: Book, settings: Settings) -> dict[str, Any]:
    known: dict[str, Any] = {}
    for entry in book.entries.values():
        given = _given(entry, settings)
        if entry.single:
            known[entry.key] = _as_typed(given[0])
            continue
        known[entry.key] = [_carried(value) for value in given]
        for i, value in enumerate(given):
            known[part(entry.key, i)] = _as_typed(value)
    return known


class CellText(str):
    """Text in a cell: as it was typed, and compared without regard to case, as sheets do."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, str) and self.lower() == other.lower()

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(self.lower())


def _as_typed(value: Value) -> Any:
    return "" if value is None else _carried(value)


def _carried(value: Value) -> Any:
    if isinstance(value, SheetError):
        return CarriedFault(fault_for(value, f"the cell holds {value}"))
    if isinstance(value, str):
        return CellText(value)
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _computed(book: Book, formula: Formula, known: Mapping[str, Any]) -> Any:
    values = [
        [known[key] for key in book.ranges[argument]]
        if argument in book.ranges
        else known[argument]
        for argument in formula.arguments
    ]
    try:
        if definition.of(formula.function):
            return formula.function(*values)
        return definition.evaluated(formula.function, values)
    except Fault as fault:
        return CarriedFault(fault)


def _cell_value(value: Any) -> Value:
    if isinstance(value, CarriedFault):
        return value.fault.code
    if isinstance(value, CellText):
        return str(value)
    known: Value = value
    return known
