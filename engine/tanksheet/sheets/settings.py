"""What is typed for a name of a workbook, as values for its cells.

A name may cover a table's column. "a; b; c" then fills it from the top and blanks the rest; one
value, or ``name[3]``, sets one row and leaves the others as they stand.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping, Sequence

from tanksheet.errors import NotANumber, NotListed, WorkbookProblem
from tanksheet.sheets import phrases
from tanksheet.sheets.book import Book
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.sheets.target import Target
from tanksheet.units import DATES, iso_of
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values

# What a person types for a name; a program may also give a number, None for a blank, or several.
Typed = str | float | datetime.date | None | Sequence[Value | datetime.date]
Cells = dict[Address, Value]


def set_cells(target: Target, name: str, typed: Typed) -> Cells:
    """What a setting puts into cells.

    Raises: WorkbookProblem, naming the cell, for a name that is unknown or computed, and for what
    does not fit its unit or its room.
    """
    cells = target.cells(name)
    whole, row = target.row_of(name)
    _refuse_formula(target, whole)
    several = [typed] if row is not None else _several(target, name, typed)
    if not isinstance(several, (list, tuple)):
        several = list(several)
    if len(several) > len(cells):
        raise WorkbookProblem(
            f"{target.path.name}: {name} has room for {len(cells)} values, "
            f"{len(several)} were given"
        )
    found: Cells = {}
    for place, each in enumerate(several, row or 0):
        cell = target.cells(whole)[place]
        try:
            found.update(_one(target, whole, place, each))
        except (NotListed, NotANumber) as fault:
            raise WorkbookProblem(f"{target.path.name}: {cell.a1} ({name}): {fault}") from None
    if not _is_one_row(target, name, typed):
        found.update(dict.fromkeys(list(cells)[len(several) :]))
    return found


def understood(package: Package, book: Book | None, settings: Mapping[str, Typed]) -> list[str]:
    """What was made of each setting, a line each: "target_n = 150 ppm"."""
    target = Target.of(package, book)
    inputs: Cells = {}
    for name, typed in settings.items():
        inputs.update(set_cells(target, name, typed))
    return [_understood(target, name, typed, inputs) for name, typed in settings.items()]


def _several(target: Target, name: str, typed: Typed) -> Sequence[Value | datetime.date]:
    """The values of a setting of a whole name, each as it was given."""
    if isinstance(typed, datetime.date):
        return [typed.isoformat()[:10]]
    if typed is None or isinstance(typed, (int, float)):
        return [typed]
    if not isinstance(typed, str):
        return list(typed)
    if len(target.cells(name)) == 1:
        return [typed]
    if _is_date(target, name):  # no comma or blank stands inside a date
        return re.split(r"\s*[;\n]\s*|\s*,\s*|\s+", typed.strip(" ,"))
    return list(phrases.lines_of(typed) if _has_words(target, name) else phrases.run_parts(typed))


def _is_one_row(target: Target, name: str, typed: Typed) -> bool:
    """Whether a setting leaves the other rows of its name alone."""
    if len(target.cells(name)) == 1:
        return True
    if isinstance(typed, str):
        ends = ";" in typed or not typed.strip()
        return not ends and len(_several(target, name, typed)) == 1
    return isinstance(typed, (int, float, datetime.date))


def _has_words(target: Target, name: str) -> bool:
    """Whether a name holds words, in which a blank or a comma is a part of a word."""
    entry = target.book.entries.get(name) if target.book else None
    return entry is not None and entry.limits is None


def _is_date(target: Target, name: str) -> bool:
    entry = target.book.entries.get(name) if target.book else None
    return entry is not None and entry.limits is not None and entry.limits.is_date


def _words(target: Target, name: str) -> tuple[str, ...]:
    book = target.book
    return book.entries[name].words if book and name in book.entries else ()


def _one(target: Target, name: str, place: int, typed: Value | datetime.date) -> Cells:
    """What a value for one cell of a name puts into it, and into the cell of its unit."""
    cell = target.cells(name)[place]
    if isinstance(typed, datetime.date):
        typed = typed.isoformat()[:10]
    if not isinstance(typed, str):
        return {cell: typed}
    if _is_date(target, name):
        return {cell: phrases.date_in(typed)}
    if _has_words(target, name):
        same = [word for word in _words(target, name) if word.lower() == typed.strip().lower()]
        return {cell: same[0] if same else phrases.plain(typed)}
    unit_name = target.unit_name(name)
    if not unit_name:
        return {cell: phrases.plain(typed)}
    value, unit = phrases.with_unit(typed, target.offered(unit_name))
    if unit is None:
        return {cell: value}
    units = target.cells(unit_name)
    if len(units) == 1 and len(target.cells(name)) > 1:
        _refuse_other_unit(target, name, units[0], unit)
        return {cell: value}
    return {cell: value, units[place]: unit}


def _refuse_other_unit(target: Target, name: str, cell: Address, unit: str) -> None:
    """One unit serves all the rows, and those that are not set now stay in it."""
    stands = stored_values(target.package, [cell])[cell]
    if str(stands).lower() != unit.lower():
        raise NotListed(
            f"all rows of {name} are in {stands} ({cell.a1}); give it in {stands}, or set the unit "
            "by its own name"
        )


def _refuse_formula(target: Target, name: str) -> None:
    if target.book and name not in target.book.entries:
        formulas = {each.name for each in target.book.formulas.values()} | set(target.book.ranges)
        if name in formulas:
            raise WorkbookProblem(
                f"{target.path.name}: {target.names[name][0].a1} ({name}) is computed; "
                f"set one of its inputs instead"
            )


# what was understood


def _understood(target: Target, name: str, typed: Typed, inputs: Cells) -> str:
    whole, row = target.row_of(name)
    cells, count = list(target.cells(whole)), len(target.cells(whole))
    if row is None and count > 1 and _is_one_row(target, name, typed):
        row = 0
        rest = f" (the other {count - 1} stand)" if count > 2 else " (the other stands)"
    else:
        rest = ""
    shown = whole if row is None else f"{whole}[{row + 1}]"
    places = range(count) if row is None else [row]
    values = [_with_unit(target, whole, cells, place, inputs) for place in places]
    while len(values) > 1 and values[-1] == "blank":
        values.pop()
    return f"{shown} = {'; '.join(values)}{rest}"


def _with_unit(
    target: Target, name: str, cells: Sequence[Address], place: int, inputs: Cells
) -> str:
    said = plainly(inputs.get(cells[place]))
    if said != "blank" and _is_date(target, name):
        return as_date(inputs[cells[place]])
    unit_name = target.unit_name(name)
    if said == "blank" or not unit_name:
        return said
    units = target.cells(unit_name)
    cell = units[place] if len(units) == len(cells) else units[0]
    unit = str(inputs.get(cell) or stored_values(target.package, [cell])[cell] or "")
    return with_unit(said, unit)


def with_unit(said: str, unit: str) -> str:
    """A value as a person writes it: "150 ppm", "1:100"."""
    return f"1:{said}" if unit == RATIO_FORMS[0] else f"{said} {unit}".rstrip()


def as_date(value: Value) -> str:
    """The date behind a number, and what is none as it stands."""
    if isinstance(value, float) and DATES.holds(value):
        return iso_of(value)
    return plainly(value)


def plainly(value: Value) -> str:
    """A value as a line of words shows it."""
    if isinstance(value, float):
        return f"{value:.15g}"
    return "blank" if value is None or value == "" else str(value)
