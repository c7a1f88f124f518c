"""What a workbook file holds, for people and for programs: its inputs and its results."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tanksheet.errors import SheetError
from tanksheet.recalc import Session
from tanksheet.sheets import listing, settings
from tanksheet.sheets.book import Book
from tanksheet.sheets.listing import Named
from tanksheet.sheets.present import Present, present
from tanksheet.sheets.run import dates_spelled
from tanksheet.sheets.target import Target
from tanksheet.xlsx.address import Block, Value


@dataclass(frozen=True)
class Contents:
    """A workbook with its names in plain words and what stands in them now."""

    present: Present
    inputs: Mapping[str, Named]
    results: Mapping[str, Named]


def contents(session: Session, book: Book | None, typed: Mapping[str, Any]) -> Contents:
    """Everything worth telling of a workbook, worked out anew after some settings.

    Raises: WorkbookProblem for a name that is missing.
    """
    target = Target.of(session.package, book)
    inputs, results = listing.inputs(target), listing.results(target)
    names = [*inputs, *results]
    units = [target.unit_name(name) for name in inputs]
    return Contents(
        present(session, target, typed, [*names, *filter(None, units)]), inputs, results
    )


def unit_now(found: Contents, name: str) -> str | list[str]:
    """The unit of a name as it stands, or one for each row of a table that has them."""
    now, unit_name = found.present, found.present.target.unit_name(name)
    if name in found.inputs and unit_name:
        stands = now.value(unit_name)
        return [str(each or "") for each in stands] if isinstance(stands, list) else str(stands)
    named = found.inputs.get(name) or found.results[name]
    return named.unit


def as_data(found: Contents) -> dict[str, Any]:
    """For programs: lists of "inputs" and "results", each with its name, value, unit and cell."""
    book = found.present.target.book
    return {
        "file": found.present.target.path.name,
        "workbook": book.name if book else None,
        "inputs": [
            _facts(found, each)
            | {"allowed": each.allowed, "units": list(each.units), "fault": _fault(found, each)}
            for each in found.inputs.values()
        ],
        "results": [_facts(found, each) for each in found.results.values()],
    }


def _facts(found: Contents, each: Named) -> dict[str, Any]:
    return {
        "name": each.name,
        "meaning": each.meaning,
        "value": found.present.value(each.name),
        "unit": unit_now(found, each.name),
        "cell": str(_reach(found.present.target, each.name)),
    }


def _fault(found: Contents, each: Named) -> str | None:
    return found.present.bad.get(each.name)


def _reach(target: Target, name: str) -> Block:
    cells = target.cells(name)
    return Block(cells[0], cells[-1])


def as_lines(found: Contents) -> Iterable[str]:
    """For people: a line a name, and below each input what it takes."""
    book = found.present.target.book
    title = f": {book.title}. {book.purpose}" if book else ""
    yield f"{found.present.target.path.name}{title}"
    yield ""
    yield "Inputs"
    for each in found.inputs.values():
        yield f"  {each.name} = {said(found, each.name)}{_behind(each.meaning)}"
        taken = [each.allowed] if each.allowed else []
        if len(each.units) > 1:
            taken.append(f"units: {', '.join(each.units)}")
        if taken:
            yield f"      {'; '.join(taken)}"
    yield ""
    yield "Results"
    for each in found.results.values():
        yield f"  {each.name} = {said(found, each.name)}{_behind(each.meaning)}"


def said(found: Contents, name: str) -> str:
    """A value with its unit, as a person writes it; a list between semicolons."""
    now, unit = found.present, unit_now(found, name)
    value = dates_spelled(now.target.book, {name: now.value(name)})[name]
    if not isinstance(value, list):
        return with_unit(value, str(unit))
    units = unit if isinstance(unit, list) else [""] * len(value)
    parts = [with_unit(each, own) for each, own in zip(value, units, strict=True)]
    while len(parts) > 1 and parts[-1] == "blank":
        parts.pop()
    shared = "" if isinstance(unit, list) or not unit else f" {unit}"
    return "; ".join(parts) + (shared if parts != ["blank"] else "")


def with_unit(value: Value, unit: str) -> str:
    """A number with its unit; words and blanks stand alone."""
    if isinstance(value, float):
        return settings.with_unit(f"{value:.10g}", unit)
    return str(value) if isinstance(value, SheetError) else settings.plainly(value)


def _behind(meaning: str) -> str:
    return f"   ({meaning})" if meaning else ""


def files_apart(paths: Sequence[Path]) -> list[str]:
    """What to call each file: its name, with as many folders as it takes to tell it apart."""
    called = [path.name for path in paths]
    for count in range(2, 1 + max(len(path.parts) for path in paths)):
        if len(set(called)) == len(set(paths)):
            break
        called = ["/".join(path.parts[-count:]) for path in paths]
    return called
