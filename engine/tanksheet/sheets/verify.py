"""Proves that a workbook file computes what the engine computes, in outside spreadsheet engines."""

from __future__ import annotations

import itertools
import random
import time
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from tanksheet.errors import OutOfTime
from tanksheet.recalc import Case, Engine, EngineRun, engine, run_cases
from tanksheet.recalc.compare import AGREES, NOT_RUN
from tanksheet.sheets import phrases
from tanksheet.sheets.book import Book
from tanksheet.sheets.cases import Drawn, edge_settings, random_settings
from tanksheet.sheets.evaluate import cell_values, entry_cells
from tanksheet.sheets.integrity import named_places
from tanksheet.sheets.known_faults import excuse_for
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.reading import Package

FEWEST_RANDOM, FEWEST_BAD_ENTRIES = 2, 6
RESERVED = 4.0  # seconds that an engine leaves for each of those that come after it


def verify(
    path: Path,
    book: Book,
    engines: Sequence[str],
    cases: int,
    seed: int = 1,
    edges: bool = True,
    seconds: float | None = None,
) -> list[EngineRun]:
    """Runs random and bad entries through each engine and compares every formula cell.

    In ``seconds``, if given, all of it ends: each engine has its share of what is left, starts no
    new case after that, and the report says how many it had.
    Raises: WorkbookProblem when the file cannot be read or lacks a name of the book; EngineStopped
    when the workbook brings down a quick engine, OutOfTime when no engine had time for one case.
    """
    end = None if seconds is None else time.monotonic() + seconds
    moved = moved_cells(path, book)
    runs = []
    for place, name in enumerate(engines):
        until = None
        if end is not None:
            now, others = time.monotonic(), len(engines) - place - 1
            until = now + max(0.0, end - now) / (others + 1), end - RESERVED * others
        runs.append(_run(path, book, name, _settings(book, name, cases, seed, edges), moved, until))
    if seconds is not None and runs and not any(run.cases for run in runs):
        if any(run.stopped == NOT_RUN and not engine(run.engine).missing() for run in runs):
            raise OutOfTime(f"{path.name}: no engine worked out one case in {seconds:.0f} s.")
    return runs


def _settings(book: Book, name: str, cases: int, seed: int, edges: bool) -> list[Drawn]:
    """The cases of an engine, bad entries among the random ones: whatever runs is a bit of each."""
    drawn = list(itertools.islice(random_settings(book, seed), random_count(book, name, cases)))
    bad = edges_for(book, name, seed) if edges else []
    mixed = [*drawn, *bad]
    random.Random(seed).shuffle(mixed)
    return mixed


def _run(
    path: Path,
    book: Book,
    name: str,
    settings: Iterable[Drawn],
    moved: Mapping[Address, Address],
    until: tuple[float, float] | None,
) -> EngineRun:
    if until and until[1] <= time.monotonic():
        return EngineRun(name, stopped=NOT_RUN, why="no time was left for it.")
    able = engine(name)
    cases = _cases(book, settings, moved)
    return run_cases(able, path, cases, None, excuse_for(able, book, moved), until)


def random_count(book: Book, name: str, cases: int | None = None) -> int:
    """How many random cases an engine gets of those wanted, or at most."""
    able = engine(name)
    most = able.random_cases if cases is None else min(cases, able.random_cases)
    return able.share(len(book.formulas), most, FEWEST_RANDOM)


def edges_for(book: Book, name: str, seed: int = 1) -> list[Drawn]:
    """The bad entries that an engine sees: all of them, or a drawn share in the slow engines."""
    able = engine(name)
    bad = [each for each in edge_settings(book) if not _is_beyond(able, book, each)]
    most = len(bad) if able.bad_entries is None else min(able.bad_entries, len(bad))
    if not able.is_quick:
        most = min(most, able.share(len(book.formulas), most, FEWEST_BAD_ENTRIES))
    return bad if most == len(bad) else random.Random(seed).sample(bad, most)


def _is_beyond(able: Engine, book: Book, settings: Drawn) -> bool:
    """Whether a bad entry is a number to this engine, though to no other: a fact of its adapter."""
    for key, value in settings.items():
        first = value[0] if isinstance(value, list) else value
        if book.entries[key].limits is None:
            continue
        if first is True and able.takes_truth_for_numbers:
            return True
        looks = isinstance(first, str) and isinstance(phrases.plain(first), float)
        if looks and able.takes_text_for_numbers:
            return True
    return False


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
    """Where each named cell of the book stands in the file.

    Raises: WorkbookProblem naming the first name that is missing or has another size.
    """
    return named_places(Package(path), book)


def closing_line(runs: Sequence[EngineRun]) -> str:
    """How many engines confirm the file, in one line."""
    agreed = [run for run in runs if run.verdict == AGREES]
    if not agreed:
        return "Not confirmed in any engine."
    cells = sum(run.cells - len(run.known) for run in agreed)
    worst = max((run.worst for run in agreed if run.worst is not None), default=0.0)
    engines = "1 engine" if len(agreed) == 1 else f"{len(agreed)} engines"
    line = (
        f"Confirmed in {engines} ({', '.join(run.engine for run in agreed)}): "
        f"{cells:,} cells compared, worst relative difference {worst:.0e}."
    )
    known = [f"{run.engine} {len(run.known):,} cells" for run in agreed if run.known]
    if known:
        line += f" Known faults of engines, not counted: {', '.join(known)}."
    others = [f"{run.engine} {run.verdict}" for run in runs if run.verdict != AGREES]
    return f"{line} But: {', '.join(others)}." if others else line
