"""Treats a workbook file as a function: set names, recalculate, read names."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tanksheet.errors import NotListed, SheetError, WorkbookProblem
from tanksheet.recalc import Session, engine
from tanksheet.sheets import phrases
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import stored_values

MOST_CELLS = 100_000  # of one name that is set or read
Result = dict[str, Any]
# What a person types for a name; a program may also give a number, None for a blank, or several.
Typed = str | float | None | Sequence[Value]


@dataclass(frozen=True)
class Target:
    """The file, its names (the hidden ones too), and the plan behind it if it is one of ours."""

    path: Path
    names: Mapping[str, Sequence[Address]]
    book: Book | None
    package: Package

    @classmethod
    def of(cls, package: Package, book: Book | None) -> Target:
        return cls(Path(package.file), package.names | package.hidden_names, book, package)

    @property
    def listed(self) -> list[str]:
        """The names that a spreadsheet program shows."""
        return sorted(self.package.names)

    def cells(self, name: str) -> Sequence[Address]:
        if name not in self.names:
            near = difflib.get_close_matches(name, self.names, 3) or self.listed[:8]
            raise WorkbookProblem(
                f"{self.path.name}: there is no name {name!r}; did you mean {', '.join(near)}?"
            )
        cells = self.names[name]
        if len(cells) > MOST_CELLS:
            raise WorkbookProblem(
                f"{self.path.name}: the name {name!r} covers {len(cells):,} cells, and the most "
                f"taken is {MOST_CELLS:,}; name the part of them that you need."
            )
        return cells


def run(
    path: Path,
    book: Book | None,
    settings: Mapping[str, Typed],
    wanted: Sequence[str] = (),
    engine_name: str = "ironcalc",
) -> Result:
    """Sets names in a private copy of the file, recalculates it, and reads names.

    The file itself is never written to. Without ``wanted``, every result of the book is read.
    Raises: WorkbookProblem with one line an unusable entry, naming its cell.
    """
    with engine(engine_name).begin(path) as session:
        return run_in(session, book, settings, wanted)


def run_in(
    session: Session,
    book: Book | None,
    settings: Mapping[str, Typed],
    wanted: Sequence[str] = (),
) -> Result:
    """As ``run``, in a workbook that is open in an engine; each call starts from the file."""
    target = Target.of(session.package, book)
    inputs: dict[Address, Value] = {}
    for name, typed in settings.items():
        inputs.update(_inputs(target, name, typed))
    names = list(wanted) or default_names(target)
    cells = [cell for name in names for cell in target.cells(name)]
    values = session.calculate(inputs, [*cells, *_entry_cells(target)])
    _refuse_bad_entries(target, values)
    return {name: _shaped([values[cell] for cell in target.cells(name)]) for name in names}


def default_names(target: Target) -> list[str]:
    """Every result worth reading: the book's, less hidden ones; else all named single cells."""
    if target.book is None:
        return [name for name in target.listed if len(target.names[name]) == 1]
    plan = [each.name for each in target.book.formulas.values() if each.name]
    return [name for name in [*plan, *target.book.ranges] if name not in target.book.hidden]


def _inputs(target: Target, name: str, typed: Typed) -> dict[Address, Value]:
    cells = target.cells(name)
    _refuse_formula(target, name)
    if len(cells) > 1 or not (typed is None or isinstance(typed, (str, float))):
        values = _several(typed)
        if len(values) > len(cells):
            raise WorkbookProblem(
                f"{target.path.name}: {name} has room for {len(cells)} values, "
                f"{len(values)} were given"
            )
        blanks = [None] * (len(cells) - len(values))
        return dict(zip(cells, [*values, *blanks], strict=True))
    unit_name = f"{name}_unit"
    if not isinstance(typed, str):
        return {cells[0]: typed}
    if unit_name not in target.names:
        return {cells[0]: phrases.plain(typed)}
    try:
        value, unit = phrases.with_unit(typed, offered_units(target, unit_name))
    except NotListed as fault:
        raise WorkbookProblem(f"{target.path.name}: {cells[0].a1} ({name}): {fault}") from None
    return {cells[0]: value} | ({target.cells(unit_name)[0]: unit} if unit else {})


def _several(typed: Typed) -> Sequence[Value]:
    if isinstance(typed, str):
        return phrases.plain_run(typed)
    if typed is None or isinstance(typed, float):
        return [typed]
    return [phrases.plain(each) if isinstance(each, str) else each for each in typed]


def _refuse_formula(target: Target, name: str) -> None:
    if target.book and name not in target.book.entries:
        formulas = {each.name for each in target.book.formulas.values()} | set(target.book.ranges)
        if name in formulas:
            raise WorkbookProblem(
                f"{target.path.name}: {target.names[name][0].a1} ({name}) is computed; "
                f"set one of its inputs instead"
            )


def offered_units(target: Target, unit_name: str) -> tuple[str, ...]:
    if target.book and unit_name in target.book.entries:
        return target.book.entries[unit_name].words
    # A user's own pair of cells: the unit that stands there now tells what is measured.
    now = stored_values(target.package, target.names[unit_name])
    return tuple(str(value) for value in now.values())


def _entry_cells(target: Target) -> list[Address]:
    if target.book is None:
        return []
    return [cell for key in target.book.entries for cell in target.cells(key)]


def _refuse_bad_entries(target: Target, values: Mapping[Address, Value]) -> None:
    if target.book is None:
        return
    now = {
        key: _shaped([values[cell] for cell in target.cells(key)]) for key in target.book.entries
    }
    book = target.book
    used = chosen_values(book, now, [book.key_for(key) for key in book.entries])
    lines = [_complaint(target, entry, now, used) for entry in target.book.entries.values()]
    bad = [line for line in lines if line]
    if bad:
        raise WorkbookProblem("\n".join(bad))


def _complaint(
    target: Target, entry: Entry, now: Mapping[str, Any], used: Mapping[str, Value]
) -> str:
    """What is wrong with an entry as it stands ``now``, or ""; ``used`` is what came of it."""
    book = target.book
    assert book is not None
    value, place = now[entry.key], f"{target.path.name}: {target.cells(entry.key)[0].a1}"
    if not entry.single:
        return _run_complaint(target, entry, value)
    if entry.words:
        if _listed(entry, value):
            return ""
        return f"{place} ({entry.key}) is {_quoted(value)}; choose one of: {', '.join(entry.words)}"
    assert entry.limits is not None
    if entry.unit_key and not _listed(book.entries[entry.unit_key], now[entry.unit_key]):
        return ""  # the unit has a complaint of its own
    if isinstance(used[book.key_for(entry.key)], SheetError):
        unit = f" {now[entry.unit_key]}" if entry.unit_key else ""
        return f"{place} ({entry.key}) is {_quoted(value)}{unit}; it must be {entry.limits.allowed}"
    return ""


def _listed(entry: Entry, value: Value) -> bool:
    return isinstance(value, str) and value.lower() in (word.lower() for word in entry.words)


def _run_complaint(target: Target, entry: Entry, values: Sequence[Value]) -> str:
    for cell, value in zip(target.cells(entry.key), values, strict=True):
        if value is None or value == "" or _fits(entry, value):
            continue
        allowed = entry.limits.allowed if entry.limits else "one of: " + ", ".join(entry.words)
        return (
            f"{target.path.name}: {cell.a1} ({entry.key}) is {_quoted(value)}; "
            f"it must be {allowed}, or blank"
        )
    return ""


def _fits(entry: Entry, value: Value) -> bool:
    if entry.limits is None:
        return _listed(entry, value)
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return number and entry.limits.holds(float(value))  # type: ignore[arg-type]


def _quoted(value: Any) -> str:
    """A value as a message quotes it."""
    if value is None or value == "":
        return "blank"
    return f"{value:g}" if isinstance(value, float) else repr(str(value))


def _shaped(values: list[Value]) -> Any:
    return values[0] if len(values) == 1 else values
