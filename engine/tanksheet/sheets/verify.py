"""Proves that a workbook file computes what the engine computes, in outside spreadsheet engines."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import Case, EngineRun, engine, run_cases
from tanksheet.recalc.compare import AGREES
from tanksheet.sheets.book import Book
from tanksheet.sheets.cases import Drawn, edge_settings, random_settings
from tanksheet.sheets.evaluate import cell_values, entry_cells
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import named_cells

FEWEST_BAD_ENTRIES = 6


def verify(
    path: Path, book: Book, engines: Sequence[str], cases: int, seed: int = 1, edges: bool = True
) -> list[EngineRun]:
    """Runs random and bad entries through each engine and compares every formula cell.

    Raises: WorkbookProblem when the file cannot be read or lacks a name of the book.
    """
    moved = moved_cells(path, book)
    return [_run(path, book, name, cases, seed, edges, moved) for name in engines]


def _run(
    path: Path,
    book: Book,
    name: str,
    cases: int,
    seed: int,
    edges: bool,
    moved: Mapping[Address, Address],
) -> EngineRun:
    settings = itertools.islice(random_settings(book, seed), random_count(book, name, cases))
    bad = edges_for(book, name, seed) if edges else []
    return run_cases(engine(name), path, _cases(book, itertools.chain(settings, bad), moved))


def random_count(book: Book, name: str, cases: int | None = None) -> int:
    """How many random cases an engine gets of those wanted, or at most."""
    able = engine(name)
    most = able.random_cases if cases is None else min(cases, able.random_cases)
    return able.share(len(book.formulas), most)


def edges_for(book: Book, name: str, seed: int = 1) -> list[Drawn]:
    """The bad entries that an engine sees: all of them, or a drawn share in the slow engines."""
    bad, able = list(edge_settings(book)), engine(name)
    most = len(bad) if able.bad_entries is None else min(able.bad_entries, len(bad))
    if not able.is_quick:
        most = min(most, able.share(len(book.formulas), most, FEWEST_BAD_ENTRIES))
    return bad if most == len(bad) else random.Random(seed).sample(bad, most)


def _cases(
    book: Book, settings: Iterable[Drawn], moved: Mapping[Address, Address]
) -> Iterable[Case]:
    for each in settings:
        inputs = _placed(entry_cells(book, each), moved)
        yield Case(inputs, _placed(cell_values(book, each), moved))


def _placed(
    values: Mapping[Address, Value], moved: Mapping[Address, Address]
) -> dict[Address, Value]:
    return {moved[cell]: value for cell, value in values.items() if cell in moved}


def moved_cells(path: Path, book: Book) -> dict[Address, Address]:
    """Where each named cell of the book stands in the file, which a user may have rearranged.

    Raises: WorkbookProblem naming the first name that is missing or has another size.
    """
    found = named_cells(path)
    moved: dict[Address, Address] = {}
    for name, cells in book.named_cells().items():
        if name not in found:
            raise WorkbookProblem(
                f"{path.name}: the name {name!r} is missing; define it for the cell that holds it "
                f"(it was {cells[0].a1}), or start from a fresh workbook (tanksheet make)"
            )
        if len(found[name]) != len(cells):
            raise WorkbookProblem(
                f"{path.name}: the name {name!r} covers {len(found[name])} cells; "
                f"it must cover {len(cells)}"
            )
        moved.update(zip(cells, found[name], strict=True))
    return moved


def closing_line(runs: Sequence[EngineRun]) -> str:
    """How many engines confirm the file, in one line."""
    agreed = [run for run in runs if run.verdict == AGREES]
    if not agreed:
        return "Not confirmed in any engine."
    cells = sum(run.cells for run in agreed)
    worst = max((run.worst for run in agreed if run.worst is not None), default=0.0)
    engines = "1 engine" if len(agreed) == 1 else f"{len(agreed)} engines"
    line = (
        f"Confirmed in {engines} ({', '.join(run.engine for run in agreed)}): "
        f"{cells:,} cells compared, worst relative difference {worst:.0e}."
    )
    others = [f"{run.engine} {run.verdict}" for run in runs if run.verdict != AGREES]
    return f"{line} But: {', '.join(others)}." if others else line
