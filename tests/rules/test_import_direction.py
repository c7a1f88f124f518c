"""Arrows between rooms run one way, and inside calc/ only to earlier topics."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from rules_ground import engine_files, module_name
from tanksheet.calc import TOPICS

# A room may use the rooms of the lines above its own, and itself.
ORDER = (
    ("errors", "units"),
    ("subset", "tables", "xlsx"),
    ("definition",),
    ("calc",),
    ("formula", "recalc"),
    ("sheets",),
    ("templates", "hosts", "batch", "expression"),
    ("recipes",),
    ("door", "commands", "money_commands"),
    ("between",),
    ("cli",),
)
LEVEL = {room: level for level, rooms in enumerate(ORDER) for room in rooms}
OUTERMOST = (
    *("templates", "hosts", "expression", "recipes", "door"),
    *("commands", "money_commands", "between", "cli"),
)


def imported(tree: ast.AST) -> list[str]:
    """Every module or name that a file imports, anywhere in it."""
    found: list[str] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            source = "." * node.level + (node.module or "")
            found += [f"{source}.{alias.name}" for alias in node.names]
    return found


def violations(module: str, text: str) -> list[str]:
    """What a module imports against the order."""
    complaints = []
    room = module.split(".")[1]
    if room not in LEVEL:
        return [f"{module}: the room {room!r} has no place in the order"]
    for name in imported(ast.parse(text)):
        if name.startswith("."):
            complaints.append(f"{module}: relative import {name}; write it in full")
        parts = name.split(".")
        if parts[0] != "tanksheet":
            continue
        wrong = _against(module, room, parts)
        if wrong:
            complaints.append(f"{module} imports {name}: {wrong}")
    return complaints


def _against(module: str, room: str, parts: list[str]) -> str:
    target = parts[1] if len(parts) > 1 else ""
    if target not in LEVEL:
        # The package itself loads every calculation; only the outermost rooms may lean on it.
        return "" if room in OUTERMOST else "no room, but a public name of the whole package"
    if target == room:
        return _topic_against(module, parts) if room == "calc" else ""
    return "" if LEVEL[target] < LEVEL[room] else "the arrow points outwards"


def _topic_against(module: str, parts: list[str]) -> str:
    topic, used = module.split(".")[-1], parts[2] if len(parts) > 2 else ""
    if topic not in TOPICS or used not in TOPICS:
        return "calc/ has topics only"
    return "" if TOPICS.index(used) < TOPICS.index(topic) else "a later topic"


FILES = [
    path for path in engine_files() if module_name(path) not in ("tanksheet", "tanksheet.calc")
]


@pytest.mark.parametrize("path", FILES, ids=module_name)
def test_imports_follow_the_order(path: Path) -> None:
    assert violations(module_name(path), path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("module", "text"),
    [
        ("tanksheet.errors", "from tanksheet.units import Litre"),
        ("tanksheet.units", "import tanksheet.definition"),
        ("tanksheet.definition", "from tanksheet import calc"),
        ("tanksheet.definition", "def f():\n    from tanksheet.formula import Ref"),
        ("tanksheet.formula.text", "from tanksheet.sheets.book import Book"),
        ("tanksheet.formula.text", "from tanksheet.recalc import ENGINES"),
        ("tanksheet.recalc.runs", "from tanksheet import catalogue"),
        ("tanksheet.sheets.book", "import tanksheet"),
        ("tanksheet.hosts.excel", "from tanksheet.templates import stock"),
        ("tanksheet.calc.flow", "from tanksheet.calc.stock import stock_mass"),
        ("tanksheet.calc.stock", "from tanksheet.calc import cost"),
        ("tanksheet.calc.flow", "from tanksheet.calc.flow import velocity"),
        ("tanksheet.calc.flow", "from tanksheet.calc import load_all"),
        ("tanksheet.calc.flow", "from . import convert"),
        ("tanksheet.kitchen", "import math"),
        ("tanksheet.sheets.run", "from tanksheet.door import quantities"),
        ("tanksheet.batch.coop", "from tanksheet import catalogue"),
        ("tanksheet.sheets.run", "from tanksheet.batch.coop import price_coop"),
    ],
)
def test_a_wrong_import_is_seen(module: str, text: str) -> None:
    assert len(violations(module, text)) == 1


@pytest.mark.parametrize(
    ("module", "text"),
    [
        ("tanksheet.subset", "from tanksheet.errors import Fault"),
        ("tanksheet.definition", "from tanksheet import subset"),
        ("tanksheet.calc.stock", "from tanksheet.calc.convert import element"),
        ("tanksheet.sheets.book", "from tanksheet.recalc.adapter import Address"),
        ("tanksheet.cli", "from tanksheet import catalogue"),
        ("tanksheet.hosts.excel", "import tanksheet"),
        ("tanksheet.door.workbook", "from tanksheet.templates import book_of"),
        ("tanksheet.recalc.runs", "import numpy as tanksheets"),
    ],
)
def test_a_right_import_passes(module: str, text: str) -> None:
    assert violations(module, text) == []
