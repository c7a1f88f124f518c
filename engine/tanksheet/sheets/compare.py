"""What differs between files of one workbook: what was typed in, and what came of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.errors import Fault, SheetError, WorkbookProblem
from tanksheet.sheets.contents import Contents, unit_now, with_unit
from tanksheet.subset import is_number
from tanksheet.xlsx.address import Value

SAME = 1e-9  # relative: what differs by less comes from arithmetic
WIDEST = 30  # letters of a value that still stands side by side with the others


@dataclass(frozen=True)
class Line:
    """A name, or a row of one, with what each file has for it."""

    name: str
    meaning: str
    values: tuple[Any, ...]
    units: tuple[str, ...]

    def said(self) -> list[str]:
        """Each value with its unit, and by how much a number differs from the first."""
        texts = [with_unit(_short(v), u) for v, u in zip(self.values, self.units, strict=True)]
        return [
            text if change is None else f"{text} ({change:+.3g} %)"
            for text, change in zip(texts, self.changes(), strict=True)
        ]

    def changes(self) -> list[float | None]:
        """Percent by which each number differs from the first; None where that says nothing."""
        first, *_ = self.values
        if not is_number(first) or first == 0 or len(set(self.units)) > 1:
            return [None] * len(self.values)
        return [
            100 * (value - first) / abs(first) if is_number(value) and value != first else None
            for value in self.values
        ]


def _short(value: Value) -> Value:
    """Six figures of a number, which is what people compare."""
    return float(f"{value:.6g}") if isinstance(value, float) else value


@dataclass(frozen=True)
class Comparison:
    """Lines that differ, and how many are the same."""

    files: tuple[str, ...]
    title: str
    inputs: tuple[Line, ...]
    results: tuple[Line, ...]
    same_inputs: int
    same_results: int


def comparison(found: Sequence[Contents], files: Sequence[str]) -> Comparison:
    """Holds the first file against each of the others; ``files`` is what they are called.

    Raises: WorkbookProblem where they are not files of one workbook in one edition.
    """
    _refuse_others(found, files)
    book = found[0].present.target.book
    inputs = list(_lines(found, "inputs", _input_differs))
    results = list(_lines(found, "results", _result_differs))
    return Comparison(
        tuple(files),
        book.title if book else "",
        tuple(line for line, differs in inputs if differs),
        tuple(line for line, differs in results if differs),
        sum(not differs for _, differs in inputs),
        sum(not differs for _, differs in results),
    )


def _refuse_others(found: Sequence[Contents], files: Sequence[str]) -> None:
    first = found[0].present.target.book
    for each, file in zip(found, files, strict=True):
        book = each.present.target.book
        if book is first:
            continue
        kinds = [b.name if b else "no workbook of Tanksheet" for b in (first, book)]
        if kinds[0] == kinds[1]:
            kinds = [f"one edition of {kinds[0]}", "another"]
        raise WorkbookProblem(
            f"{files[0]} is {kinds[0]} and {file} is {kinds[1]}; only files of one workbook in one "
            "edition can be compared"
        )


def _lines(
    found: Sequence[Contents],
    kind: str,
    differs: Callable[[Sequence[Contents], str, int | None, Line], bool],
) -> Iterator[tuple[Line, bool]]:
    """A line for each name, or for each row of one that covers several cells."""
    names = dict.fromkeys(name for each in found for name in getattr(each, kind))
    units = {each.present.target.unit_name(name) for each in found for name in names}
    for name in names:
        if name in units:
            continue  # it stands beside the number that it is the unit of
        rows = max(_count(each, name) for each in found)
        for row in range(rows) if rows > 1 else [None]:
            line = _line(found, kind, name, row)
            if row is None or any(value not in (None, "") for value in line.values):
                yield line, differs(found, name, row, line)


def _count(each: Contents, name: str) -> int:
    names = each.present.target.names
    return len(names[name]) if name in names else 1


def _line(found: Sequence[Contents], kind: str, name: str, row: int | None) -> Line:
    values: list[Value] = []
    units: list[str] = []
    meaning = ""
    for each in found:
        known = getattr(each, kind)
        if name not in known:  # in a workbook of one's own
            values.append("(not there)")
            units.append("")
            continue
        value, unit = each.present.value(name), unit_now(each, name)
        if row is not None:
            value = value[row] if isinstance(value, list) and row < len(value) else None
            unit = unit[row] if isinstance(unit, list) and row < len(unit) else unit
        values.append(value)
        units.append(unit if isinstance(unit, str) and value not in (None, "") else "")
        meaning = meaning or known[name].meaning
    called = name if row is None else f"{name}[{row + 1}]"
    return Line(called, meaning, tuple(values), tuple(units))


def _input_differs(found: Sequence[Contents], name: str, row: int | None, line: Line) -> bool:
    """An entry in another unit is the same if it means the same."""
    first = _meant(found[0], name, row, line, 0)
    return any(not _same(first, _meant(found[i], name, row, line, i)) for i in range(len(found)))


def _meant(each: Contents, name: str, row: int | None, line: Line, place: int) -> Value:
    value: Value = line.values[place]
    unit, book = line.units[place], each.present.target.book
    if value in (None, ""):
        return None
    if book and row is None and name in book.entries and book.entries[name].limits:
        base: Value = each.present.used[book.key_for(name)]
        return base
    if is_number(value) and unit and line.units[0]:
        try:
            return float(convert(float(value), unit, line.units[0]))
        except Fault:  # units of different things
            return f"{value} {unit}"
    return value


def _result_differs(found: Sequence[Contents], name: str, row: int | None, line: Line) -> bool:
    return any(not _same(line.values[0], value) for value in line.values)


def _same(one: Any, other: Any) -> bool:
    if is_number(one) and is_number(other):
        return math.isclose(one, other, rel_tol=SAME, abs_tol=1e-12)
    if isinstance(one, str) and isinstance(other, str) and not isinstance(one, SheetError):
        return one.lower() == other.lower()
    return type(one) is type(other) and one == other


# for people and for programs


def as_lines(found: Comparison) -> Iterator[str]:
    """Side by side; values that are too long for that below each other."""
    yield f"{found.title}: {' | '.join(found.files)}".removeprefix(": ")
    for title, lines, same in (
        ("Inputs", found.inputs, found.same_inputs),
        ("Results", found.results, found.same_results),
    ):
        yield ""
        yield f"{title}: {_counted(len(lines), 'differs', 'differ')}, {same} the same"
        if lines:
            yield from _table(found.files, lines)


def _counted(count: int, one: str, several: str) -> str:
    return f"{count or 'none'} {one if count == 1 else several}"


def _table(files: Sequence[str], lines: Sequence[Line]) -> Iterator[str]:
    told = [(f"{each.name}", each.said(), each.meaning) for each in lines]
    short = [each for each in told if max(map(len, each[1])) <= WIDEST]
    first = max(len(name) for name, _, _ in told)
    widths = [
        max([len(file), *(len(values[i]) for _, values, _ in short)])
        for i, file in enumerate(files)
    ]
    heads = "  ".join(f"{file:<{width}}" for file, width in zip(files, widths, strict=True))
    yield f"  {'':<{first}}  {heads}".rstrip()
    for name, values, meaning in told:
        behind = f"  {meaning}" if meaning else ""
        if max(map(len, values)) <= WIDEST:
            cells = "  ".join(f"{v:<{width}}" for v, width in zip(values, widths, strict=True))
            yield f"  {name:<{first}}  {cells}{behind}".rstrip()
            continue
        yield f"  {name:<{first}}{behind}".rstrip()
        for file, value in zip(files, values, strict=True):
            yield f"      {file}: {value}"


def as_data(found: Comparison) -> dict[str, Any]:
    """For programs: the lines that differ, values and units in the order of the files."""

    def facts(line: Line) -> dict[str, Any]:
        return {
            "name": line.name,
            "meaning": line.meaning,
            "values": list(line.values),
            "units": list(line.units),
            "percent": line.changes(),
        }

    return {
        "files": list(found.files),
        "workbook": found.title or None,
        "inputs": [facts(line) for line in found.inputs],
        "results": [facts(line) for line in found.results],
        "same": {"inputs": found.same_inputs, "results": found.same_results},
    }
