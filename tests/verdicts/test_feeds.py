"""The recipe's cases of waters.csv, judged by the workbook; and every limit is needed."""

from __future__ import annotations

from typing import Any

import pytest

from case_files import Case, feed_cases, verdict_word
from judged import feed_settings, recipe, verdict
from tank_chemistry import tanks, water
from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.templates.recipe import feed, feed_working, page, pipe_working

CASES = {case.name: case for case in feed_cases() if case["workbook"] == "recipe"}
# A limit of the feed's verdicts, and a value at which it never speaks.
MUTE = {
    "ALKALINE": 99.0,
    "LITTLE_LEFT": -99.0,
    "CERTAIN_LIME": 99.0,
    "CERTAIN_PHOSPHATE": 99.0,
    "CLEARLY": 99.0,
}
MUTE_IN_PIPE = {
    "STRUVITE_NEAR": 99.0,
    "CERTAIN_STRUVITE": 99.0,
    "GYPSUM_NEAR": 99.0,
    "CERTAIN_GYPSUM": 99.0,
    "SILICA": 99.0,
}


def settings(case: Case) -> dict[str, Any]:
    return feed_settings(tanks(case["products"]), water(case["water"]), float(case["celsius"]))


def red(book: Book) -> list[str]:
    """Cases that are judged wrongly."""

    def said(case: Case) -> str:
        return str(chosen_values(book, settings(case), [case["verdict"]])[case["verdict"]])

    return [name for name, case in CASES.items() if verdict_word(said(case)) not in case.allowed]


def test_there_are_enough_cases() -> None:
    assert len(CASES) >= 90


@pytest.mark.parametrize("name", CASES)
def test_a_feed_is_judged_as_a_chemist_would(name: str) -> None:
    case = CASES[name]
    words = verdict(settings(case), case["verdict"])
    assert verdict_word(words) in case.allowed, words


@pytest.mark.parametrize("limit", MUTE)
def test_a_case_turns_red_without_the_limit(limit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(feed_working, limit, MUTE[limit])
    assert red(recipe())


@pytest.mark.parametrize("limit", MUTE_IN_PIPE)
def test_a_case_turns_red_without_the_limit_in_the_pipe(
    limit: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pipe_working, limit, MUTE_IN_PIPE[limit])
    assert red(recipe())


def test_a_case_turns_red_without_the_rule_on_chlorine(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(feed, "spoiled_by_chlorine", never_spoiled)
    assert red(page.make())


def never_spoiled(
    chlorine: Any,
    ammonium: Any,
    urea: Any,
    thiosulfate: Any,
    chelates: Any,
    metal: Any,
    acid: Any,
) -> Any:
    return 0


def test_cases_turn_red_if_acid_beyond_the_alkalinity_is_not_seen(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two limits say so together: nothing left of the alkalinity, and a sour pH."""
    monkeypatch.setattr(feed_working, "SOUR", -99.0)
    monkeypatch.setattr(feed_working, "left_over", plenty_left)
    assert len(red(page.make())) > 10


def plenty_left(alkalinity: Any, carbonate: Any, acid: Any) -> Any:
    return alkalinity + 99 if alkalinity >= carbonate - acid else 99
