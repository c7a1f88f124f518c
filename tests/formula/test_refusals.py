"""What no formula can say is refused, and the message begins with the file and the very line."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import refused_bodies
from tanksheet.errors import NotCompilable
from tanksheet.formula import Ref, formula_text, read_calculation, read_function

FILE = Path(refused_bodies.__file__)
MARK = "  # refused: "
BODIES = [
    function
    for _, function in inspect.getmembers(refused_bodies, inspect.isfunction)
    if function.__module__ == refused_bodies.__name__
]


def marked(function: Callable[..., Any]) -> tuple[int, str]:
    """The line of the mark in a body, and what it says."""
    lines, first = inspect.getsourcelines(function)
    marks = [(first + at, line.split(MARK)[1]) for at, line in enumerate(lines) if MARK in line]
    assert len(marks) == 1, f"{function.__name__} needs one mark"
    return marks[0][0], marks[0][1].strip()


def refusal(function: Callable[..., Any]) -> NotCompilable:
    names = list(inspect.signature(function).parameters)
    with pytest.raises(NotCompilable) as caught:
        read_function(function, [Ref(name) for name in names], {})
    return caught.value


@pytest.mark.parametrize("function", BODIES, ids=lambda function: function.__name__)
def test_refusal_names_file_line_and_reason(function: Callable[..., Any]) -> None:
    line, reason = marked(function)
    problem = refusal(function)
    if reason.startswith("a bare number"):
        # Of a lone parameter nothing is known; arithmetic is a number for certain.
        assert "shown(" in str(problem)
    assert str(problem).startswith(f"{FILE}:{line}: ")
    assert reason in str(problem)
    assert (problem.file, problem.line) == (str(FILE), line)


def test_every_mark_is_used() -> None:
    assert FILE.read_text(encoding="utf-8").count(MARK) == len(BODIES)


def test_wrong_number_of_arguments_is_refused() -> None:
    with pytest.raises(NotCompilable, match="takes 2 arguments, got 1"):
        read_function(refused_bodies.modulo, [Ref("a")], {})


def test_refusal_in_a_helper_names_the_helper_line() -> None:
    line, _ = marked(refused_bodies.refused_further_in)

    def outer(a: float) -> float:
        return refused_bodies_helper(a)

    refused_bodies_helper = refused_bodies.refused_further_in
    assert refusal(outer).line == line


def test_decorated_function_counts_lines_from_its_decorator() -> None:
    line, _ = marked(refused_bodies.calls_itself)
    source = FILE.read_text(encoding="utf-8").splitlines()
    assert source[line - 1].lstrip().startswith("return")


def test_plain_function_is_no_calculation() -> None:
    with pytest.raises(TypeError, match="is not a calculation"):
        read_calculation(refused_bodies.modulo)


def test_a_formula_longer_than_a_cell_takes_is_refused() -> None:
    def long(a: float) -> float:
        b = a + a + a + a + a + a + a + a
        c = b + b + b + b + b + b + b + b
        d = c + c + c + c + c + c + c + c
        e = d + d + d + d + d + d + d + d
        return e + e

    with pytest.raises(NotCompilable, match="a cell takes 8192"):
        formula_text(read_function(long, [Ref("a")], {}))
