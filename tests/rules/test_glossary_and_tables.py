"""The glossary holds what is used, each name once; every data table has a reader and a source."""

from __future__ import annotations

import ast
import csv
from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import Path

import pytest

from rules_ground import PACKAGE, engine_files
from tanksheet import catalogue
from tanksheet.definition import Calculation
from tanksheet.tables import DATA, KEYS
from tanksheet.units import QUANTITIES, Quantity

# Names kept although no calculation takes them yet, each with its reason.
RESERVED: dict[str, str] = {}
# Rows of each table. A changed count is a changed table: look at it, then change the number.
ROWS = {
    "acids": 8,
    "clash_words": 55,
    "clashes": 55,
    "dilution_heats": 5,
    "fertilizers": 57,
    "hazards": 57,
    "ions": 14,
    "nutrients": 15,
    "oxides": 13,
    "product_names": 57,
    "saturation": 57,
    "seals": 5,
    "sieves": 32,
    "faults": 82,
    "solubility": 22,
    "units": 93,
    "water_limits": 21,
    "words": 101,
}


def unused(
    glossary: Mapping[str, Quantity],
    records: Iterable[Calculation],
    reserved: Mapping[str, str],
) -> set[str]:
    """Entries that nothing uses, and reserved ones that are used after all or have no reason."""
    taken = {name for record in records for name in record.parameters}
    idle = {name for name in glossary if name not in taken and not reserved.get(name)}
    return idle | {name for name in reserved if name in taken or name not in glossary}


def named_twice(text: str, variable: str) -> set[str]:
    """Keys that stand twice in a dict written out in a file; Python would keep the last."""
    for node in ast.walk(ast.parse(text)):
        target = getattr(node, "target", None)
        if isinstance(target, ast.Name) and target.id == variable:
            keys = [key.value for key in node.value.keys]  # type: ignore[attr-defined]
            return {key for key, count in Counter(keys).items() if count > 1}
    raise AssertionError(f"{variable} is not written out")


def unread(files: Iterable[Path], keys: Mapping[str, str], constants: set[str]) -> list[str]:
    """Tables that no code names."""
    names = [path.stem for path in files]
    return [name for name in names if name not in keys and name not in constants]


def faulty_table(path: Path, key: str | None, rows: int) -> list[str]:
    with path.open(encoding="utf-8", newline="") as stream:
        reader = csv.DictReader(stream)
        columns, found = list(reader.fieldnames or []), list(reader)
    complaints = []
    if not {"source", "pint"} & set(columns):
        complaints.append(f"{path.name}: neither a source column nor a pint column")
    if len(found) != rows:
        complaints.append(f"{path.name}: {len(found)} rows, not {rows}")
    for at, row in enumerate(found, 2):
        if None in row or not all(row.values()):
            complaints.append(f"{path.name}, line {at}: a cell is empty or too many")
    words = Counter(str(row.get(key)).lower() for row in found) if key else Counter()
    complaints += [f"{path.name}: {word} stands twice" for word, n in words.items() if n > 1]
    return complaints


def string_constants() -> set[str]:
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in engine_files()]
    return {
        node.value.removesuffix(".csv")
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


TABLES = sorted(DATA.glob("*.csv"))


def test_every_entry_is_used() -> None:
    assert unused(QUANTITIES, catalogue().values(), RESERVED) == set()


def test_every_name_stands_once() -> None:
    assert named_twice((PACKAGE / "units.py").read_text(encoding="utf-8"), "QUANTITIES") == set()


def test_every_table_has_a_reader() -> None:
    assert TABLES
    assert unread(TABLES, KEYS, string_constants()) == []
    assert set(KEYS) <= {path.stem for path in TABLES}


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_table(path: Path) -> None:
    assert path.stem in ROWS, f"pin the number of rows of {path.name}"
    assert faulty_table(path, KEYS.get(path.stem), ROWS[path.stem]) == []


def test_unused_entries_are_seen() -> None:
    tank, extra = QUANTITIES["tank"], {"colour": QUANTITIES["tank"]}
    mass = [catalogue()["STOCKMASS"]]
    assert unused({"tank": tank} | extra, mass, {}) == {"colour"}
    assert unused({"tank": tank} | extra, mass, {"colour": "for the next topic"}) == set()
    assert unused({"tank": tank} | extra, mass, {"colour": ""}) == {"colour"}
    assert unused({"tank": tank}, mass, {"tank": "was free once"}) == {"tank"}


def test_doubled_names_are_seen() -> None:
    assert named_twice('Q: dict[str, int] = {"a": 1, "b": 2, "a": 3}', "Q") == {"a"}


def test_idle_tables_are_seen() -> None:
    files = [Path("units.csv"), Path("salts.csv"), Path("acids.csv")]
    assert unread(files, {"units": "unit"}, {"acids"}) == ["salts"]


@pytest.mark.parametrize(
    ("text", "complaints"),
    [
        ("unit,source\nL,book\nmL,book\n", 0),
        ("unit,origin\nL,book\nmL,book\n", 1),
        ("unit,source\nL,book\n", 1),
        ("unit,source\nL,book\nl,book\n", 1),
        ("unit,source\nL,\nmL,book\n", 1),
        ("unit,source\nL,book,2\nmL,book\n", 1),
    ],
)
def test_faulty_tables_are_seen(text: str, complaints: int, tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    path.write_text(text, encoding="utf-8")
    assert len(faulty_table(path, "unit", 2)) == complaints
