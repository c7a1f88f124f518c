"""Least-cost problems as JSON: variables with costs and bounds, constraints with terms.

A file holds one problem, a list of them, or an object whose ``problems`` is such a list. A problem:

    {"id": "...", "sense": "min", "most_variables": 4,
     "variables": [{"name": "urea", "cost": 0.6, "lower": 0, "upper": null, "integer": false,
                    "least": 0, "step": 0}],
     "constraints": [{"name": "N", "terms": {"urea": 460}, "lower": 150, "upper": null}]}

Bounds that are null or missing are none, but for the lower bound of a variable, which is then 0 if
it is missing. ``least`` (0, or at least so much), ``step`` and ``most_variables`` may be left out.
Other keys are passed over.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tanksheet.errors import Fault, WorkbookProblem
from tanksheet.recipes.blend import Blend, Limit, Part


def read_problems(path: Path) -> list[tuple[str, Blend]]:
    """The problems of a file with their ids. Raises: WorkbookProblem, saying where it is wrong."""
    try:
        held = json.loads(path.read_text(encoding="utf-8"))
    except UnicodeDecodeError:
        raise WorkbookProblem(f"{path.name}: is not text in UTF-8; save it as UTF-8") from None
    except (json.JSONDecodeError, RecursionError) as fault:
        raise WorkbookProblem(f"{path.name}: is no JSON: {fault}") from None
    listed = held["problems"] if isinstance(held, Mapping) and "problems" in held else held
    problems = [listed] if isinstance(listed, Mapping) else listed
    if not isinstance(problems, list) or not problems:
        raise WorkbookProblem(f"{path.name}: holds no problem, nor a list of problems")
    found = []
    for number, each in enumerate(problems, 1):
        name = str(each.get("id", number)) if isinstance(each, Mapping) else str(number)
        try:
            found.append((name, blend_of(each)))
        except Fault as fault:
            raise WorkbookProblem(f"{path.name}: problem {name}: {fault}") from None
    return found


def blend_of(problem: Mapping[str, Any]) -> Blend:
    """One problem of that form. Raises: Fault, saying which variable or constraint is wrong."""
    if not isinstance(problem, Mapping):
        raise Fault(f"{problem!r:.60} is no object with variables and constraints")
    variables = _listed(problem, "variables")
    constraints = _listed(problem, "constraints")
    most = problem.get("most_variables")
    if most is not None and (isinstance(most, bool) or not isinstance(most, int)):
        raise Fault(f"most_variables is {most!r}; it must be a whole number")
    return Blend(
        tuple(_part(each) for each in variables),
        tuple(_limit(each) for each in constraints),
        most,
        problem.get("sense", "min"),
    )


def _listed(problem: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    held = problem.get(key)
    if not isinstance(held, list) or not all(isinstance(each, Mapping) for each in held):
        raise Fault(f"{key!r} must be a list of objects")
    return held


def _part(row: Mapping[str, Any]) -> Part:
    whole = row.get("integer", False)
    if not isinstance(whole, bool):
        raise Fault(f"variable {row.get('name')!r}: integer is {whole!r}; write true or false")
    return Part(
        row.get("name", ""),
        row.get("cost", math.nan),
        _end(row.get("lower", 0.0), -math.inf),
        _end(row.get("upper"), math.inf),
        row.get("least", 0.0),
        1.0 if whole else row.get("step", 0.0),
    )


def _limit(row: Mapping[str, Any]) -> Limit:
    terms = row.get("terms")
    if not isinstance(terms, Mapping):
        raise Fault(f"constraint {row.get('name')!r}: terms must be an object of numbers")
    return Limit(
        row.get("name", ""),
        dict(terms),
        _end(row.get("lower"), -math.inf),
        _end(row.get("upper"), math.inf),
        row.get("given", 0.0),
    )


def _end(value: Any, none: float) -> Any:
    return none if value is None else value
