"""Prices from a file: product,price,pack,pack_unit[,currency], one row a product."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from tanksheet.calc.convert import unit_factor
from tanksheet.errors import WorkbookProblem
from tanksheet.sheets.numerals import UnclearNumber, number_in
from tanksheet.tables import is_listed, look_up

NEEDED = ("product", "price")
KNOWN = (*NEEDED, "pack", "pack_unit", "currency", "scenario")


@dataclass(frozen=True)
class Price:
    """Of one pack, of ``pack`` kilograms or litres as ``is_volume`` says."""

    price: float
    pack: float
    is_volume: bool = False

    def kilograms(self, density: float) -> float:
        return self.pack * density if self.is_volume else self.pack


def read_prices(path: Path) -> dict[str, Price]:
    """Prices by product, in small letters. Raises: WorkbookProblem, naming row and column."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise WorkbookProblem(
            f"{path.name}: is not text in UTF-8; save it as CSV in UTF-8"
        ) from None
    reader = csv.DictReader(io.StringIO(text))
    columns = [str(each).strip() for each in reader.fieldnames or ()]
    lacking = [name for name in NEEDED if name not in columns]
    if lacking:
        raise WorkbookProblem(
            f"{path.name}: the first row lacks {', '.join(lacking)}; it names the columns: "
            f"{','.join(KNOWN[:4])}"
        )
    reader.fieldnames = columns
    found: dict[str, Price] = {}
    for row in reader:
        where = f"{path.name}: row {reader.line_num}"
        if None in row or None in row.values():
            raise WorkbookProblem(f"{where} has not {len(columns)} fields as the first row has")
        name = row["product"].strip().lower()
        if not name:
            raise WorkbookProblem(f"{where}, product: is blank")
        if name in found:
            raise WorkbookProblem(f"{where}, product: {name!r} has a price already; keep one row")
        found[name] = _price(where, row)
    return found


def _price(where: str, row: dict[str, str]) -> Price:
    price = _number(where, "price", row["price"])
    pack = _number(where, "pack", row.get("pack", "").strip() or "1")
    if price < 0 or not pack > 0:
        raise WorkbookProblem(f"{where}: the price must be at least 0 and the pack above 0")
    unit = row.get("pack_unit", "").strip() or "kg"
    if not is_listed("units", unit) or look_up("units", "kind", unit) not in ("mass", "volume"):
        raise WorkbookProblem(f"{where}, pack_unit: {unit!r} is no unit of mass or volume")
    is_volume = look_up("units", "kind", unit) == "volume"
    return Price(price, pack * unit_factor(unit, "L" if is_volume else "kg"), is_volume)


def _number(where: str, column: str, text: str) -> float:
    try:
        value = number_in(text)
    except UnclearNumber as fault:
        raise WorkbookProblem(f"{where}, {column}: {fault}") from None
    if value is None:
        raise WorkbookProblem(f"{where}, {column}: {text!r} is no number")
    return value
