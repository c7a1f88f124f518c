"""Finds a function's text and parses it."""

from __future__ import annotations

import ast
import functools
import inspect
import textwrap
from collections.abc import Callable
from typing import Any

from tanksheet.errors import NotCompilable


@functools.cache
def syntax_of(function: Callable[..., Any]) -> tuple[ast.FunctionDef | ast.Lambda, str, int]:
    """The function's syntax, its file, and the line on which its text begins there."""
    file = inspect.getsourcefile(function) or "<unknown>"
    lines, first = inspect.getsourcelines(function)
    try:
        tree = ast.parse(textwrap.dedent("".join(lines)))
    except SyntaxError:  # a lambda torn out of the middle of a longer expression
        raise NotCompilable(file, first, "this lambda cannot be read alone; use def") from None
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.Lambda)):
            return node, file, first
    raise NotCompilable(file, first, "no function found here")
