"""Modules and functions stay small."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from rules_ground import engine_files, module_name

# "About 300 lines": the longest is the LibreOffice worker, which must be one file.
MODULE_LINES, FUNCTION_LINES = 340, 40


def too_long(module: str, text: str) -> list[str]:
    """The module, and its functions (docstrings not counted), that are longer than agreed."""
    found = []
    lines = len(text.splitlines())
    if lines > MODULE_LINES:
        found.append(f"{module}: {lines} lines, at most {MODULE_LINES}")
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            size = (node.end_lineno or 0) - node.lineno + 1 - _docstring_lines(node)
            if size > FUNCTION_LINES:
                found.append(f"{module}.{node.name}: {size} lines, at most {FUNCTION_LINES}")
    return found


def _docstring_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    first = node.body[0]
    if ast.get_docstring(node) is None:
        return 0
    return (first.end_lineno or 0) - first.lineno + 1


@pytest.mark.parametrize("path", engine_files(), ids=module_name)
def test_sizes(path: Path) -> None:
    assert too_long(module_name(path), path.read_text(encoding="utf-8")) == []


def test_long_code_is_seen() -> None:
    assert len(too_long("m", "x = 1\n" * (MODULE_LINES + 1))) == 1
    assert too_long("m", "x = 1\n" * MODULE_LINES) == []
    body = "    x = 1\n" * (FUNCTION_LINES - 1)
    assert too_long("m", "def f():\n" + body) == []
    assert too_long("m", 'def f():\n    """One.\n\n    Two.\n    """\n' + body) == []
    assert len(too_long("m", "def f():\n" + body + "    x = 2\n")) == 1
    assert (
        len(
            too_long(
                "m",
                "class A:\n    async def f():\n    " + body.replace("\n", "\n    ") + "    x = 2\n",
            )
        )
        == 1
    )
