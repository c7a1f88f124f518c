"""Every case of compatibility.csv, judged by the recipe workbook; and every rule is needed.

The words allowed and their sources stand on the rows of the file; test_cases_file.py holds the
rows against PHREEQC and published solubilities.
"""

from __future__ import annotations

import functools
from collections.abc import Sequence
from typing import Any

import pytest

from case_files import Case, tank_cases, verdict_word
from judged import recipe, tank_settings, verdict
from tank_chemistry import Tank, portions, water
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.templates.recipe import page, reasons

CASES = {case.name: case for case in tank_cases()}
RULES = [str(rule["clash"]) for rule in reasons.RULES]


def settings(case: Case) -> dict[str, Any]:
    return tank_settings(
        Tank(
            portions(case["products"]),
            float(case["tank_L"]),
            float(case["temperature"]),
            water(case["water"]),
        )
    )


def said(book: Book, case: Case) -> str:
    return str(chosen_values(book, settings(case), ["clear_a"])["clear_a"])


@pytest.mark.parametrize("name", CASES)
def test_a_tank_is_judged_as_a_chemist_would(name: str) -> None:
    case = CASES[name]
    words = verdict(settings(case), "clear_a")
    assert verdict_word(words) in case.allowed, words


@functools.cache
def ranks(name: str) -> Sequence[float]:
    """How bad each rule finds the tank of a case."""
    keys = [part("ranks_a", i) for i in range(len(RULES))]
    values = chosen_values(recipe(), settings(CASES[name]), keys)
    return [float(str(values[key])) for key in keys]


def by_rank(rank: float) -> str:
    words = {1: "stop", 2: "caution", 3: "not checked", 4: "not checked"}
    return words.get(int(rank // 100), "pass")


def test_the_worst_rank_is_the_verdict() -> None:
    for name, case in list(CASES.items())[::7]:
        assert by_rank(min(ranks(name))) == verdict_word(verdict(settings(case), "clear_a"))


def missed_without(rule: int) -> list[str]:
    """Cases that are judged rightly, and would not be by all the other rules."""
    return [
        name
        for name, case in CASES.items()
        if by_rank(min(ranks(name))) in case.allowed
        and by_rank(min(r for i, r in enumerate(ranks(name)) if i != rule)) not in case.allowed
    ]


@pytest.mark.parametrize("rule", RULES)
def test_a_case_turns_red_without_the_rule(rule: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The rule's limits are put out of reach, and the workbook is made anew."""
    number = RULES.index(rule)
    missed = missed_without(number)
    assert missed, f"no case needs the rule {rule!r}"
    case = CASES[missed[0]]
    assert verdict_word(said(page.make(), case)) in case.allowed
    for limit in ("unchecked_above", "caution_above", "stop_above"):
        monkeypatch.setitem(reasons.RULES[number], limit, 1e99)
    assert verdict_word(said(page.make(), case)) not in case.allowed
