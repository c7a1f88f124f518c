"""Names at package level, what help() shows, and the types that editors and mypy read."""

from __future__ import annotations

import ast
import inspect
import pickle
import pydoc
import subprocess
import sys
from pathlib import Path
from typing import Any, get_type_hints

import pytest

import tanksheet as ts
from tanksheet.definition import Calculation, of
from tanksheet.door import stub
from tanksheet.door.functions import by_python_name

RECORDS = list(ts.catalogue().values())
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
PUBLIC: list[str] = vars(ts)["__all__"]
PACKAGE = Path(ts.__file__).parent


def shown(record: Calculation) -> str:
    return pydoc.plain(pydoc.render_doc(getattr(ts, record.body.__name__)))


def missing_from(text: str, record: Calculation) -> list[str]:
    """What a help text must tell of a calculation and does not."""
    flat = " ".join(text.split())
    wanted = [record.summary, f"Source: {record.source}", f"In a sheet: {record.sheet_name}"]
    for name, entry in record.parameters.items():
        wanted += [f"{name} : {entry.unit.symbol or 'number'}", entry.meaning, entry.allowed]
    arguments, result = record.example
    call = f"tanksheet.{record.body.__name__}({', '.join(map(repr, arguments))})"
    wanted += [f"{call} gives {result} {record.unit.symbol}".strip(), 'errors="nan"']
    wanted += [f"Result: {record.unit.symbol or 'a number'}"]
    return [each for each in wanted if " ".join(each.split()) not in flat]


@EACH
def test_the_name_is_the_calculation(record: Calculation) -> None:
    name = record.body.__name__
    function = getattr(ts, name)
    assert of(function) is record and name in PUBLIC and name in dir(ts)
    arguments, _ = record.example
    assert function(*arguments) == record.function(*arguments)
    assert pickle.loads(pickle.dumps(function)) is function
    assert (function.__module__, function.__qualname__) == ("tanksheet", name)
    assert list(get_type_hints(function)) == [*record.parameters, "return"]


def test_names_do_not_meet() -> None:
    names = list(by_python_name())
    assert len(names) == len(RECORDS), "two calculations of one Python name"
    rooms = {path.stem for path in PACKAGE.iterdir()}
    assert not rooms & set(PUBLIC), "a calculation hides a room of the package"
    assert not any("errors" in record.parameters for record in RECORDS)


@EACH
def test_help(record: Calculation) -> None:
    text = shown(record)
    assert missing_from(text, record) == []
    units = [
        f"{name}: {entry.unit.symbol or 'number'}" for name, entry in record.parameters.items()
    ]
    head = f"{record.body.__name__}({', '.join(units)}, *, errors='raise')"
    assert f"{head} -> {record.unit.symbol or 'number'}\n" in text
    assert max(map(len, text.splitlines())) <= 100 or len(head) > 80
    assert "Readings lie" in text or not any(e.is_readings for e in record.parameters.values())


def test_a_poor_help_text_is_seen() -> None:
    record = ts.catalogue()["STOCKMASS"]
    text = shown(record)
    for word in ("concentration wanted", "above 0 %", "19354.8 g", "mass balance", "tank : L"):
        assert len(missing_from(text.replace(word, ""), record)) >= 1, word


def test_an_unknown_name() -> None:
    with pytest.raises(AttributeError, match="module 'tanksheet' has no attribute 'stock_maas'"):
        eval("ts.stock_maas")
    with pytest.raises(ImportError, match="stock_maas"):
        exec("from tanksheet import stock_maas")


def test_star() -> None:
    names: dict[str, Any] = {}
    exec("from tanksheet import *", names)
    assert set(PUBLIC) <= set(names)


# Types


def test_the_stub_is_that_of_the_register() -> None:
    assert stub.STUB == PACKAGE / "__init__.pyi"
    assert stub.STUB.read_text(encoding="utf-8") == stub.stub_text() + "\n", "run scripts/build"


def test_the_stub_names_all_that_is_public() -> None:
    tree = ast.parse(stub.stub_text())
    names: set[str] = set()
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            names.add(node.name)
        elif isinstance(node, ast.ImportFrom):
            names |= {alias.asname for alias in node.names if alias.asname}
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names.add(node.target.id)
    shown = {name for name in names if not name.startswith("_M") and name != "_Errors"}
    assert shown == {*PUBLIC, "recipes"}  # a room of the package that is public as a whole
    assert (PACKAGE / "py.typed").is_file()


def test_the_stub_has_each_signature() -> None:
    heads = [node for node in ast.parse(stub.stub_text()).body if isinstance(node, ast.FunctionDef)]
    for record in RECORDS:
        own = [node for node in heads if node.name == record.body.__name__]
        assert len(own) == 2
        for node in own:
            assert [each.arg for each in node.args.args] == list(record.parameters)
            assert [each.arg for each in node.args.kwonlyargs] == ["errors"]
        assert ast.get_docstring(own[0]) == inspect.cleandoc(getattr(ts, own[0].name).__doc__)


GOOD = """
import numpy as np
import pint
import polars as pl

import tanksheet as ts

grams: float = ts.stock_mass(150, 15.5, 100, 200)
grams = ts.stock_mass(target=150, content=15.5, ratio=100, tank=200, errors="nan")
share: float = ts.uniformity([1.9, 2.1, None], "CU")
word = "to"
parts: float = ts.dilution(100, word)
units: pint.UnitRegistry[float] = pint.UnitRegistry()
ts.stock_mass(np.array([1.0]), 15.5, [100, 128], 200).sum()
ts.stock_mass(pl.Series([1.0]), 15.5, pl.col("ratio"), 200, errors="nan")
ts.stock_mass(units.Quantity(1, "mg/L"), 15.5, 100, 200).to("pound")
ts.uniformity([[1, 2], [3, 4]], ["CU", "DU"])[0]
with ts.open_workbook("stock-tank.xlsx") as book:
    book.set(tank="200 L")
    book["tank"] = 200
    print(book["mass_1"], book.get("mass_1", "mass_2")["mass_1"], book.inputs["tank"].unit)
mass: str = ts.catalogue()["STOCKMASS"].summary
"""
BAD = """
import tanksheet as ts

ts.stock_mass("150 ppm", 15.5, 100, 200)
ts.stock_mass(150, 15.5, 100)
ts.stock_mass(150, 15.5, 100, 200, errors="skip")
ts.stock_mass(150, 15.5, 100, volume=200)
grams: str = ts.stock_mass(150, 15.5, 100, 200)
ts.stock_maas
"""


def mypy(code: str, folder: Path) -> list[str]:
    """The lines in which mypy, strict, finds an error."""
    file = folder / "user.py"
    file.write_text(code, encoding="utf-8")
    run = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--no-error-summary", file.name],
        capture_output=True,
        check=False,
        cwd=folder,
        text=True,
        timeout=300,
    )
    assert run.returncode in (0, 1), run.stderr
    return [line for line in run.stdout.splitlines() if ": error: " in line]


def test_strict_types_in_a_users_code(tmp_path: Path) -> None:
    assert mypy(GOOD, tmp_path) == []
    wrong = mypy(BAD, tmp_path)
    assert {int(line.split(":")[1]) for line in wrong} == {4, 5, 6, 7, 8, 9}
