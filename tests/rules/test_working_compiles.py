"""What a workbook computes stands in its ``working`` modules and compiles; its pages only place.

A plain function is compiled with cells for its parameters. One that makes functions, or needs words
that a page hands it, is compiled in the formulas of the workbooks that use it.
"""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any

import pytest

from rules_ground import PACKAGE, module_name
from tanksheet.errors import NotCompilable
from tanksheet.formula import Ref, formula_text, read_function, reading
from tanksheet.sheets.compiled import compiled
from tanksheet.templates import TEMPLATES, book

Function = Callable[..., Any]
FILES = sorted((PACKAGE / "templates").rglob("*.py"))
WORKING = [module_name(path) for path in FILES if path.stem.endswith("working")]
PAGES = [
    module_name(path)
    for path in FILES
    if not path.stem.endswith("working") and path.stem != "__init__"
]


@pytest.fixture(scope="module")
def compiled_functions() -> set[Function]:
    """Every function that the compiler reads while it writes the formulas of all workbooks."""
    seen: set[Function] = set()

    def read(function: Function, arguments: Any, facts: Any) -> Any:
        seen.add(function)
        return read_function(function, arguments, facts)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reading, "read_function", read)
        for name in TEMPLATES:
            compiled(book(name))
    return seen


def functions_of(module: ModuleType) -> Iterator[Function]:
    for each in vars(module).values():
        if inspect.isfunction(each) and each.__module__ == module.__name__:
            yield each


def refusal(function: Function) -> str:
    """Why a function does not compile with cells for its parameters, or ""."""
    arguments = [Ref(f"A{at}") for at, _ in enumerate(inspect.signature(function).parameters, 1)]
    try:
        formula_text(read_function(function, arguments, {}))
    except NotCompilable as problem:
        return str(problem)
    return ""


def is_used(function: Function, seen: set[Function]) -> bool:
    """Whether the function, or one that it makes, stands in a formula of a workbook."""
    made = f"{function.__qualname__}.<locals>."
    return function in seen or any(
        each.__module__ == function.__module__ and each.__qualname__.startswith(made)
        for each in seen
    )


def unfit(module: ModuleType, seen: set[Function]) -> list[str]:
    """One line for each function that neither compiles nor stands in a formula."""
    return [
        f"{module.__name__}.{each.__name__}: {why}"
        for each in functions_of(module)
        if not is_used(each, seen) and (why := refusal(each))
    ]


def misplaced(module: ModuleType, seen: set[Function]) -> list[str]:
    """The functions of a page that compute."""
    inner = [each for each in seen if each.__module__ == module.__name__]
    own = [each for each in functions_of(module) if not refusal(each)]
    return [f"{module.__name__}.{each.__qualname__}" for each in {*inner, *own}]


@pytest.mark.parametrize("name", WORKING)
def test_every_function_of_a_working_module_compiles(
    name: str, compiled_functions: set[Function]
) -> None:
    module = importlib.import_module(name)
    assert list(functions_of(module))
    assert unfit(module, compiled_functions) == []


@pytest.mark.parametrize("name", PAGES)
def test_no_function_of_a_page_computes(name: str, compiled_functions: set[Function]) -> None:
    module = importlib.import_module(name)
    assert list(functions_of(module))
    assert misplaced(module, compiled_functions) == []


def test_every_workbook_has_both() -> None:
    for folder in TEMPLATES.values():
        assert any(f".{folder}." in name for name in WORKING)
        assert any(name.endswith(f".{folder}.page") for name in PAGES)
    assert len(WORKING) > len(TEMPLATES) and len(PAGES) > len(TEMPLATES)


def test_what_does_not_compile_and_what_is_out_of_place_are_seen() -> None:
    module = ModuleType("strange")

    def loops(volume: Any) -> Any:
        for each in volume:
            return each

    def doubled(volume: Any) -> Any:
        return volume * 2

    for each in (loops, doubled):
        each.__module__ = "strange"
        setattr(module, each.__name__, each)
    [line] = unfit(module, set())
    assert line.startswith("strange.loops: ") and "for statement" in line
    assert unfit(module, {loops}) == []
    [line] = misplaced(module, set())
    assert line.endswith("doubled")
    assert len(misplaced(module, {loops})) == 2
