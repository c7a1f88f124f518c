"""Problems that cannot be read or solved say what is wrong, where, and how to mend it."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tanksheet.errors import Fault, WorkbookProblem
from tanksheet.recipes import Blend, Limit, Part, least_cost, least_cost_many, read_problems

GOOD: dict[str, Any] = {
    "variables": [{"name": "urea", "cost": 0.6}],
    "constraints": [{"name": "N", "terms": {"urea": 460}, "lower": 46}],
}


def changed(where: str, **new: Any) -> dict[str, Any]:
    return {**GOOD, where: [{**GOOD[where][0], **new}]}


def test_the_good_one_is_good() -> None:
    assert least_cost(GOOD).amounts == pytest.approx({"urea": 0.1})


@pytest.mark.parametrize(
    ("problem", "words"),
    [
        ({}, "'variables' must be a list"),
        ({**GOOD, "constraints": 3}, "'constraints' must be a list"),
        (changed("variables", name=""), "name of a part"),
        (changed("variables", cost="dear"), "'urea': cost is 'dear'"),
        (changed("variables", cost=None), "'urea': cost is None"),
        (changed("variables", cost=True), "'urea': cost is True"),
        (changed("variables", upper="lots"), "'urea': upper is 'lots'"),
        (changed("variables", lower=5, upper=4), "least 5 is above its most 4"),
        (changed("variables", integer=1), "integer is 1; write true or false"),
        (changed("constraints", terms={"coal": 1}), "'coal'"),
        (changed("constraints", terms=[1]), "'N': terms must be"),
        (changed("constraints", lower=5, upper=4), "exclude each other"),
        (changed("constraints", terms={"urea": math.inf}), "term of urea is infinite"),
        ({**GOOD, "sense": "best"}, 'must be "min" or "max"'),
        ({**GOOD, "most_variables": 1.5}, "most_variables is 1.5"),
        ({**GOOD, "variables": GOOD["variables"] * 2}, "2 parts are called 'urea'"),
    ],
)
def test_a_bad_problem_names_what_is_wrong(problem: dict[str, Any], words: str) -> None:
    with pytest.raises(Fault, match=words.replace("(", r"\(")):
        least_cost(problem)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"{", "is no JSON"),
        (b"\xff\xfe", "UTF-8"),
        (b"3", "holds no problem"),
        (b"[]", "holds no problem"),
        (json.dumps([GOOD, {**GOOD, "id": "odd", "sense": 3}]).encode(), "problem odd: sense"),
        (json.dumps([GOOD, 7]).encode(), "problem 2: 7 is no object"),
    ],
)
def test_a_bad_file_names_file_and_problem(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "mine.json"
    path.write_bytes(content)
    with pytest.raises(WorkbookProblem, match=f"mine.json.*{words}"):
        read_problems(path)


def test_one_problem_and_a_list_of_them(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    for held in (GOOD, [GOOD], {"problems": [GOOD]}):
        path.write_text(json.dumps(held), encoding="utf-8")
        ((_, blend),) = read_problems(path)
        assert least_cost(blend).amounts == pytest.approx({"urea": 0.1})


def test_the_more_the_cheaper() -> None:
    found = least_cost(Blend((Part("p", -1.0),), (Limit("n", {"p": 1.0}, lower=1.0),)))
    assert (found.status, found.amounts) == ("unbounded", {})


def test_a_choice_without_bounds_is_asked_for() -> None:
    with pytest.raises(Fault, match="'p' may grow without bound"):
        least_cost(Blend((Part("p", -1.0, least=2.0),), ()))


@pytest.mark.parametrize(("parts", "status"), [((), "optimal"), ((Part("p", 1.0),), "optimal")])
def test_nothing_is_wanted(parts: tuple[Part, ...], status: str) -> None:
    found = least_cost(Blend(parts, ()))
    assert (found.status, found.cost) == (status, 0)


def test_no_parts_cannot_give_anything() -> None:
    found = least_cost(Blend((), (Limit("n", {}, lower=1.0),)))
    assert (found.status, found.conflict) == ("infeasible", ("n",))


BLEND = Blend((Part("p", 1.0, upper=9),), (Limit("n", {"p": 1.0}, lower=1.0),))


@pytest.mark.parametrize(
    ("arrays", "words"),
    [
        ({}, "give costs or bounds"),
        ({"costs": [[1, 2]]}, r"costs: its shape is \(1, 2\)"),
        ({"lower": [[1], [2]], "costs": [[1]]}, "different numbers of rows"),
        ({"lower": [[1], [math.nan]]}, "lower: row 1, column 0 is no number"),
        ({"costs": [[math.inf]]}, "a price is infinite"),
        ({"lower": [[2], [5]], "upper": [[3], [4]]}, "row 1.*above"),
    ],
)
def test_arrays_that_do_not_fit(arrays: dict[str, Any], words: str) -> None:
    with pytest.raises(Fault, match=words):
        least_cost_many(BLEND, **arrays)


def test_many_with_choices_are_refused() -> None:
    with pytest.raises(Fault, match="bounds alone"):
        least_cost_many(Blend(BLEND.parts, BLEND.limits, 1), costs=[[1]])


def test_nothing_heavy_is_loaded_before_it_is_used() -> None:
    ask = (
        "import sys; import tanksheet as ts; ts.recipes.Recipe; ts.recipes.least_cost_many; "
        "print([n for n in ('numpy', 'highspy', 'scipy', 'tanksheet.templates') "
        "if n in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", ask], capture_output=True, check=True, text=True)
    assert run.stdout.strip() == "[]"


def test_the_solver_prints_nothing() -> None:
    """Its greeting would stand in front of what a program reads as JSON."""
    ask = f"from tanksheet.recipes import least_cost; least_cost({GOOD!r})"
    run = subprocess.run([sys.executable, "-c", ask], capture_output=True, check=True, text=True)
    assert (run.stdout, run.stderr) == ("", "")
