"""The names of a workbook in plain words: what each means, in which unit, within which limits."""

from __future__ import annotations

from dataclasses import dataclass

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.run import default_names
from tanksheet.sheets.target import Target
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.values import computed_cells, stored_values


@dataclass(frozen=True)
class Named:
    """A name of a workbook. ``units`` are those that may be typed, ``unit`` is the one it is in.

    ``allowed`` is the range or the words that it takes, "" where none are known; ``cells`` says
    how many values it holds.
    """

    name: str
    meaning: str = ""
    unit: str = ""
    units: tuple[str, ...] = ()
    allowed: str = ""
    cells: int = 1

    def __str__(self) -> str:
        parts = [self.name]
        if self.unit:
            parts.append(f"[{self.unit}]")
        if self.cells > 1:
            parts.append(f"({self.cells} values)")
        told = [each for each in (self.meaning, self.allowed) if each]
        return " ".join(parts) + (f": {'; '.join(told)}" if told else "")


def inputs(target: Target) -> dict[str, Named]:
    """The names that may be set. A name and its unit count as one."""
    if target.book is None:
        return _own(target, computed=False)
    entries = target.book.entries
    units = {entry.unit_key for entry in entries.values()}
    now = _stored(target, [unit for unit in units if unit])
    return {key: _input(entry, entries, now) for key, entry in entries.items() if key not in units}


def results(target: Target) -> dict[str, Named]:
    """The names that compute and are worth reading."""
    if target.book is None:
        return _own(target, computed=True)
    units = _units_beside(target.book)
    formulas = {each.name: each for each in target.book.formulas.values()}
    found = {}
    for name in default_names(target):
        count = len(target.cells(name))
        formula = formulas.get(name)
        unit = units.get(_right_of(formula.cell), "") if formula else ""
        label = formula.label if formula and formula.label != name else ""
        found[name] = Named(name, label, unit, cells=count)
    return found


def _input(entry: Entry, entries: dict[str, Entry], now: dict[str, Value]) -> Named:
    units = entries[entry.unit_key].words if entry.unit_key else ()
    unit = str(now[entry.unit_key] or units[0]) if entry.unit_key else ""
    allowed = entry.limits.allowed if entry.limits else "one of " + ", ".join(entry.words)
    if entry.also:
        allowed += f", or one of {entry.also}"
    if entry.is_text:
        allowed = "any words"
    blank = ", or blank" if entry.optional else ""
    return Named(entry.key, entry.label, unit, units, allowed + blank, len(entry.cells))


def _units_beside(book: Book) -> dict[Address, str]:
    """The units that stand on the page, by cell; one that is worked out is not among them."""
    styles = ("unit", "unit tall")
    specs = [spec for sheet in book.sheets for spec in sheet.specs if spec.style in styles]
    return {spec.cell: spec.content for spec in specs if isinstance(spec.content, str)}


def _right_of(cell: Address) -> Address:
    return Address(cell.sheet, cell.row, cell.column + 1)


def _own(target: Target, computed: bool) -> dict[str, Named]:
    """The names of a user's own workbook: those whose first cell holds a formula, or the rest."""
    firsts = {name: target.names[name][0] for name in target.listed}
    formulas = computed_cells(target.package, firsts.values())
    found = {}
    for name in sorted(firsts):
        unit_name = f"{name}_unit"
        is_unit = name.endswith("_unit") and name.removesuffix("_unit") in firsts
        if is_unit or (firsts[name] in formulas) is not computed:
            continue
        units = target.offered(unit_name) if unit_name in firsts else ()
        unit = units[0] if units else ""
        found[name] = Named(name, unit=unit, units=units, cells=len(target.names[name]))
    return found


def _stored(target: Target, names: list[str]) -> dict[str, Value]:
    cells = {name: target.cells(name)[0] for name in names}
    values = stored_values(target.package, cells.values())
    return {name: values[cell] for name, cell in cells.items()}
