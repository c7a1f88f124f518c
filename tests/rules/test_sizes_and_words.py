"""Modules and functions stay small, and some words may not stand in the project."""

from __future__ import annotations

import ast
import zipfile
from pathlib import Path

import pytest

from rules_ground import ROOT, engine_files, module_name, project_files

# "About 300 lines": the longest is the LibreOffice worker, which must be one file.
MODULE_LINES, FUNCTION_LINES = 340, 40
# In two parts each, since this file is searched too.
FORBIDDEN = tuple(
    (first + second).encode()
    for first, second in (("trans", "cript"), ("seed ", "document"), ("/wo", "rk/"))
)


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


def forbidden_words(path: Path) -> list[str]:
    """Forbidden words in a file, in any case; of a zip (a workbook), in its parts."""
    content = path.read_bytes()
    if zipfile.is_zipfile(path):
        with zipfile.ZipFile(path) as parts:
            content = b"\n".join(parts.read(name) for name in parts.namelist())
    lowered = content.lower()
    return [f"{path.name}: {word.decode()!r}" for word in FORBIDDEN if word in lowered]


@pytest.mark.parametrize("path", engine_files(), ids=module_name)
def test_sizes(path: Path) -> None:
    assert too_long(module_name(path), path.read_text(encoding="utf-8")) == []


def test_no_forbidden_words() -> None:
    files = project_files()
    assert ROOT / "engine" / "tanksheet" / "units.py" in files
    assert [word for path in files for word in forbidden_words(path)] == []


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


@pytest.mark.parametrize("word", FORBIDDEN)
def test_forbidden_words_are_seen(word: bytes, tmp_path: Path) -> None:
    file = tmp_path / "a.txt"
    file.write_bytes(b"A plain line.\nThe " + word.upper() + b" of it.\n")
    assert len(forbidden_words(file)) == 1
    with zipfile.ZipFile(tmp_path / "a.xlsx", "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("docProps/app.xml", b"<a>" + word + b"</a>")
    assert len(forbidden_words(tmp_path / "a.xlsx")) == 1
    file.write_bytes(b"A plain line.\n")
    assert forbidden_words(file) == []
