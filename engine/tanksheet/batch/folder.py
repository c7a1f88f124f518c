"""Finds the tables of a co-op: files of a folder, or sheets of a workbook."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from tanksheet.batch.csv_table import CsvTable
from tanksheet.batch.layout import COLUMNS, BatchProblem
from tanksheet.batch.parquet_table import ParquetTable
from tanksheet.batch.sheet_table import SheetTable, tables_in
from tanksheet.batch.table import Table

KINDS: dict[str, type[CsvTable] | type[ParquetTable]] = {".csv": CsvTable, ".parquet": ParquetTable}
BOOKS = (".xlsx", ".ods")


@contextlib.contextmanager
def tables(place: Path) -> Iterator[dict[str, Table]]:
    """The tables by name, of a folder or of a workbook.

    Raises: BatchProblem, WorkbookProblem or EngineProblem, in one line that names what is missing
    or cannot be read; OSError.
    """
    if not place.exists():
        raise BatchProblem(f"{place}: there is no such folder")
    if not place.is_dir():
        with _in_workbook(place) as found:
            yield found
        return
    paths = {name: _file(place, name) for name in COLUMNS}
    books = sorted(each for each in place.iterdir() if _is_book(each))
    if not any(paths.values()) and len(books) == 1:
        with _in_workbook(books[0]) as found:
            yield found
        return
    missing = [f"{name}.csv" for name, path in paths.items() if path is None]
    if missing:
        raise BatchProblem(f"{place}: the folder lacks {', '.join(missing)} (or .parquet)")
    yield {name: KINDS[path.suffix.lower()](path, name) for name, path in paths.items() if path}


def _is_book(path: Path) -> bool:
    return path.suffix.lower() in BOOKS and path.name[0] not in ".~"


def _file(place: Path, name: str) -> Path | None:
    found = [place / f"{name}{ending}" for ending in KINDS if (place / f"{name}{ending}").is_file()]
    if len(found) > 1:
        raise BatchProblem(
            f"{place}: it holds both {found[0].name} and {found[1].name}; take one away"
        )
    return found[0] if found else None


@contextlib.contextmanager
def _in_workbook(path: Path) -> Iterator[dict[str, Table]]:
    if not _is_book(path):
        raise BatchProblem(f"{path}: this is neither a folder nor an .xlsx or .ods workbook")
    from tanksheet.recalc.opendocument import as_xlsx  # loads what files of text do not need

    with as_xlsx(path) as readable:
        package, sheets = tables_in(readable)
        missing = [name for name in COLUMNS if name not in sheets]
        if missing:
            raise BatchProblem(f"{path.name}: the workbook lacks the sheets {', '.join(missing)}")
        yield {name: SheetTable(package, sheets[name], name, path.name) for name in COLUMNS}
