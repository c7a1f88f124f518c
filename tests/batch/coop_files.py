"""Small co-ops as files, and what came out of a run."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import polars as pl
from openpyxl import Workbook

HEADERS = {
    "members": "member,name",
    "blocks": "member,block,area,area_unit",
    "products": "product,form,density_kgL,pack,pack_unit,n,p2o5,k2o",
    "prices": "product,price,currency",
    "programs": "member,block,week,product,rate,rate_unit",
}
# Two members; urea in bags of 50 lb, a solution in cans of 20 L.
SMALL: dict[str, list[str]] = {
    "members": ["A,Alder Acre", "B,Birch Bank"],
    "blocks": ["A,home,10,ha", "A,river,2.5,acre", "B,home,4,ha"],
    "products": ["urea,dry,,50,lb,46,0,0", "solution,liquid,1.25,20,L,10,0,5"],
    "prices": ["urea,19.75,EUR", "solution,8.405,EUR"],
    "programs": [
        "A,home,20,urea,12.5,kg/ha",
        "B,home,21,urea,10,lb/acre",
        "A,river,22,solution,3,L/ha",
    ],
}
Output = dict[str, list[dict[str, str]]]


def small(**tables: Sequence[str]) -> dict[str, list[str]]:
    """The small co-op with some tables replaced."""
    return {name: list(rows) for name, rows in (SMALL | tables).items()}


def write(folder: Path, tables: Mapping[str, Sequence[str]], **headers: str) -> Path:
    """The tables as CSV files, line by line as they are given."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, lines in tables.items():
        text = "\n".join([headers.get(name, HEADERS[name]), *lines]) + "\n"
        (folder / f"{name}.csv").write_bytes(text.encode())
    return folder


def read(out: Path) -> Output:
    """The three text files of a run, row by row."""
    found = {}
    for name in ("statements", "order", "rejects"):
        with (out / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
            found[name] = list(csv.DictReader(stream))
    return found


def cents(text: str) -> int:
    """Whole cents of a cost, which must be written with two digits."""
    whole, point, part = text.partition(".")
    assert point and len(part) == 2, text
    return int(whole) * 100 + int(part)


def exact(rows: Sequence[Mapping[str, str]], column: str) -> Decimal:
    return sum((Decimal(row[column]) for row in rows), Decimal(0))


def as_parquet(folder: Path, to: Path, typed: bool) -> Path:
    """The same tables as Parquet files: all text, or numbers where a column holds only those."""
    to.mkdir()
    for path in folder.glob("*.csv"):
        frame = pl.read_csv(path, infer_schema=typed, infer_schema_length=None)
        frame.write_parquet(to / f"{path.stem}.parquet")
    return to


def as_workbook(folder: Path, to: Path) -> Path:
    """The same tables as sheets; numbers where the text is one."""
    book = Workbook()
    book.remove(book.active)
    for name in HEADERS:
        sheet = book.create_sheet(name)
        with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
            for row in csv.reader(stream):
                sheet.append([_cell(text) for text in row])
    book.save(to)
    return to


def _cell(text: str) -> Any:
    try:
        return float(text)
    except ValueError:
        return text or None
