"""The core runs with the standard library alone, down to Python 3.9.

LibreOffice's own Python runs it inside an extension. That it runs at 3.9 is tested with a Python
3.9 where one is found; where none is, that test says "not run", and what remains is the reading of
the source: its syntax, and the few newer things that syntax alone does not show.
"""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from rules_ground import CORE, ENGINE

BLOCKED = (
    "numpy scipy pandas polars pint openpyxl formulas ironcalc xlwings highspy uno "
    "hypothesis pytest fluids dask distributed"
).split()
BLOCKER = f"""
import sys
class Blocker:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {BLOCKED!r}:
            raise ImportError(name + " is blocked")
sys.meta_path.insert(0, Blocker())
sys.path.insert(0, {str(ENGINE)!r})
"""
EXAMPLES = """
import tanksheet
count = 0
for record in tanksheet.catalogue().values():
    arguments, shown = record.example
    result = record.function(*arguments)
    if abs(result - shown) > 1e-3 * abs(shown):
        raise SystemExit(record.name + " gives " + repr(result))
    count += 1
print(count)
"""
# Names of typing that 3.9 has not.
LATER_TYPING = {"TypeAlias", "ParamSpec", "Self", "Never", "TypeGuard", "override", "assert_never"}


def bare(code: str, python: str = sys.executable) -> subprocess.CompletedProcess[str]:
    """Runs code in a fresh Python in which everything outside the standard library is blocked."""
    surroundings = {key: value for key, value in os.environ.items() if "PYTHON" not in key}
    return subprocess.run(
        [python, "-I", "-B", "-c", BLOCKER + code],
        capture_output=True,
        check=False,
        env=surroundings,
        text=True,
        timeout=120,
    )


def too_new(path: str, text: str) -> list[str]:
    """What a core file uses that Python 3.9 has not."""
    try:
        tree = ast.parse(text, feature_version=(3, 9))
    except SyntaxError as problem:
        return [f"{path}:{problem.lineno}: {problem.msg}"]
    annotations = set() if "/calc/" in path else _parts_of_annotations(tree)
    found = []
    for node in ast.walk(tree):
        reason = "" if id(node) in annotations else _newer(node)
        if reason:
            found.append(f"{path}:{getattr(node, 'lineno', 0)}: {reason}")
    if not any(isinstance(n, ast.ImportFrom) and n.module == "__future__" for n in tree.body):
        found.append(f"{path}: needs from __future__ import annotations")
    return found


def _newer(node: ast.AST) -> str:
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.BitOr):
        return "X | Y is evaluated here; write Optional or Union"
    if isinstance(node, ast.ImportFrom) and node.module == "typing":
        names = {alias.name for alias in node.names} & LATER_TYPING
        return f"typing has no {', '.join(sorted(names))}" if names else ""
    if isinstance(node, ast.keyword) and node.arg in ("strict", "slots", "kw_only"):
        return f"{node.arg}= came later"
    if isinstance(node, ast.Match):
        return "match came later"
    return ""


def _parts_of_annotations(tree: ast.AST) -> set[int]:
    """Annotations are not evaluated, save those of calculations, which the register reads."""
    found: set[int] = set()
    for node in ast.walk(tree):
        for name in ("annotation", "returns"):
            annotation = getattr(node, name, None)
            if isinstance(annotation, ast.AST):
                found |= {id(part) for part in ast.walk(annotation)}
    return found


def pythons_39() -> list[str]:
    """Every Python 3.9 on the search path or among pyenv's versions that starts."""
    versions = Path.home() / ".pyenv" / "versions"
    candidates = [shutil.which("python3.9"), *map(str, versions.glob("3.9*/bin/python3.9"))]
    return [python for python in candidates if python and _starts(python)][:1]


def _starts(python: str) -> bool:
    asked = subprocess.run([python, "-V"], capture_output=True, check=False, text=True)
    return asked.returncode == 0 and asked.stdout.startswith("Python 3.9")


def test_every_example_runs_with_the_standard_library_alone() -> None:
    from tanksheet import catalogue

    run = bare(EXAMPLES)
    assert (run.returncode, run.stderr) == (0, "")
    assert int(run.stdout) == len(catalogue()) > 0


def test_every_example_runs_at_python_39() -> None:
    from tanksheet import catalogue

    found = pythons_39()
    if not found:
        pytest.skip("not run: there is no Python 3.9 here")
    run = bare(EXAMPLES, found[0])
    assert (run.returncode, run.stderr) == (0, "")
    assert int(run.stdout) == len(catalogue())


@pytest.mark.parametrize("module", BLOCKED)
def test_the_blocker_blocks(module: str) -> None:
    run = bare(f"import {module}")
    assert run.returncode == 1
    assert f"{module} is blocked" in run.stderr


def test_a_core_that_imports_more_is_seen() -> None:
    assert bare("import tanksheet.formula.arrays").returncode == 1
    assert bare(EXAMPLES.replace("1e-3", "-1")).returncode == 1


@pytest.mark.parametrize("path", CORE, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_core_is_written_for_python_39(path: Path) -> None:
    assert too_new(path.as_posix(), path.read_text(encoding="utf-8")) == []


FUTURE = "from __future__ import annotations\n"


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("core/a.py", FUTURE + "match x:\n    case 1: pass\n"),
        ("core/a.py", FUTURE + "Entry = float | str\n"),
        ("core/a.py", FUTURE + "isinstance(x, int | str)\n"),
        ("core/a.py", FUTURE + "zip(a, b, strict=True)\n"),
        ("core/a.py", FUTURE + "from typing import Self\n"),
        ("core/a.py", FUTURE + "@dataclass(slots=True)\nclass A: ...\n"),
        ("core/a.py", FUTURE + "with (open(a) as b, open(c) as d,): pass\nx = y | z"),
        ("core/calc/a.py", FUTURE + "def f(a: Litre | Gram) -> Gram: ...\n"),
        ("core/a.py", "x = 1\n"),
    ],
)
def test_newer_python_is_seen(path: str, text: str) -> None:
    assert len(too_new(path, text)) == 1


def test_annotations_that_nobody_evaluates_may_be_newer() -> None:
    assert too_new("core/a.py", FUTURE + "def f(a: int | None) -> str | int: ...\n") == []
