"""A word is compared as it stands, in every engine: ``*``, ``?``, ``~`` and "<5" are no patterns.

What a pattern would find is documented for MATCH and SUMIF in Microsoft's reference pages; here no
word may find anything but itself, in any case.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from formula_bench import Bench
from small_books import in_python
from tanksheet.calc.convert import element
from tanksheet.errors import SheetError
from tanksheet.formula import Ref, formula_text, read_call
from tanksheet.formula.nodes import Facts
from tanksheet.recalc import ENGINES
from tanksheet.subset import among, begins, position, sum_where
from tanksheet.units import Quantity, Word
from tanksheet.xlsx.address import Value

NA = SheetError.NA
LISTED = ["P2O5", "a*b", "what?", "<5", "last", "P2O5"]
AMOUNTS = [1.0, 2.0, 4.0, 8.0, None, 32.0]
ALMOST = ["P*", "K2?", "*", "?", "????", "<5 ", "<9", "<>", "las~t", "a~*b", "~", "*t"]


def place_of(word: Any, words: Any) -> Any:
    return position(word, words)


def stands_in(word: Any, words: Any) -> Any:
    return "there" if among(word, words) else "not there"


def opens(text: Any) -> Any:
    return "stops" if begins(text, "stop") else "goes on"


def total_of(word: Any, words: Any, amounts: Any) -> Any:
    return sum_where(words, word, amounts)


def total_of_a_comparison(words: Any, amounts: Any) -> Any:
    return sum_where(words, "<5", amounts)


def total_of_a_pattern(words: Any, amounts: Any) -> Any:
    return sum_where(words, "a*b", amounts)


def place_of_a_pattern(words: Any) -> Any:
    return position("?2O5", words)


# Function, arguments, what must come out: by eye, from the two lists above.
CASES: list[tuple[Callable[..., Any], list[Any], Value]] = [
    *[(place_of, [word, LISTED], NA) for word in (*ALMOST, "")],
    *[(place_of, [word, LISTED], i + 1.0) for i, word in enumerate(LISTED[:5])],
    (place_of, ["LAST", LISTED], 5.0),
    (place_of_a_pattern, [LISTED], NA),
    *[(stands_in, [word, LISTED], "not there") for word in ALMOST],
    *[(stands_in, [word, LISTED], "there") for word in (*LISTED, "A*B", "p2o5")],
    *[(opens, [text], "stops") for text in ("stop: too much", "STOP", "stop")],
    *[(opens, [text], "goes on") for text in ("caution: stop", "sto", "*", "s*", "s???", "")],
    *[(total_of, [word, LISTED, AMOUNTS], 0.0) for word in ALMOST],
    (total_of, ["p2o5", LISTED, AMOUNTS], 33.0),
    (total_of, ["A*b", LISTED, AMOUNTS], 2.0),
    (total_of, ["what?", LISTED, AMOUNTS], 4.0),
    (total_of, ["<5", LISTED, AMOUNTS], 8.0),
    (total_of, ["last", LISTED, AMOUNTS], 0.0),
    (total_of_a_comparison, [LISTED, AMOUNTS], 8.0),
    (total_of_a_pattern, [LISTED, AMOUNTS], 2.0),
    *[(element, [word, 50.0], NA) for word in ("P*", "K2?", "*", "?2O", "P2O5~", "~P2O5", "")],
    (element, ["p2o5", 50.0], 50 * 0.4364268),
]


def formula(function: Callable[..., Any], cells: list[str], facts: Facts | None = None) -> str:
    return formula_text(read_call(function, [Ref(cell) for cell in cells], facts or {}))


def test_in_python() -> None:
    for function, arguments, expected in CASES:
        [got] = in_python([(function, tuple(arguments))])
        assert got == pytest.approx(expected) if isinstance(expected, float) else got is expected


@pytest.mark.parametrize("engine", ENGINES)
def test_in_every_engine(engine: str, tmp_path: Path) -> None:
    bench = Bench()
    for function, arguments, _ in CASES:
        bench.add(arguments, partial(formula, function))
    wrong = [
        (function.__name__, arguments[0], expected, got)
        for (function, arguments, expected), got in zip(
            CASES, bench.results(engine, tmp_path / "words.xlsx"), strict=True
        )
        if got != (pytest.approx(expected, rel=1e-9) if isinstance(expected, float) else expected)
    ]
    assert wrong == []


def test_a_word_from_a_list_is_searched_as_it_stands() -> None:
    """No engine need do the work for a word that was compared with its list already."""
    listed = {"A1": Quantity(Word, "an oxide", words=("P2O5", "K2O"))}
    assert "SUBSTITUTE" in formula(element, ["A1", "B1"])
    assert "SUBSTITUTE" not in formula(element, ["A1", "B1"], listed)
