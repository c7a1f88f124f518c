"""The sweep: random and daily tanks, random feeds, no false pass and few false stops."""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from sweep import (
    CLEAR,
    SETTLES,
    Tried,
    counted,
    table,
    tried_feeds,
    tried_tanks,
)

README = Path(__file__).parents[2] / "README.md"
SEED, TANKS, DAILY, FEEDS = 20, 500, 150, 300
# Under this name the test below hands its lines to the end of the session.
TABLE_PROPERTY = "table of the sweep"


@functools.cache
def lots() -> dict[str, list[Tried]]:
    both, feeds = tried_tanks(SEED, TANKS, DAILY), tried_feeds(SEED, FEEDS)
    return {
        "random tanks": [each for each in both if not each.daily],
        "daily tanks": [each for each in both if each.daily],
        "lime and phosphate in feeds": [e for e in feeds if e.lot.startswith("feed_clear")],
        "acidity of feeds": [each for each in feeds if each.lot.startswith("feed_acidity")],
    }


def counts() -> dict[str, Counter[str]]:
    return {name: counted(each) for name, each in lots().items()}


def every() -> list[Tried]:
    return [lot for each in lots().values() for lot in each]


def test_no_false_pass() -> None:
    wrong = [each for each in every() if each.word == "pass" and each.truth == SETTLES]
    assert wrong == []


def test_false_stops_are_few() -> None:
    for name, each in lots().items():
        clear = [lot for lot in each if lot.truth == CLEAR]
        wrong = [lot for lot in clear if lot.word == "stop"]
        assert len(wrong) < 0.1 * len(clear), (name, wrong)


def test_daily_tanks_are_not_alarmed() -> None:
    daily = [each for each in lots()["daily tanks"] if each.truth == CLEAR]
    assert len(daily) > 0.6 * DAILY
    assert [each for each in daily if each.word == "stop"] == []
    assert sum(each.word != "pass" for each in daily) < 0.1 * len(daily)


def test_nothing_is_left_unchecked() -> None:
    assert {each.word for each in every()} == {"pass", "caution", "stop"}


def test_the_lots_are_of_every_kind() -> None:
    for each in lots().values():
        truths = Counter(lot.truth for lot in each)
        assert truths[CLEAR] > 0.2 * len(each)
    random_ones = Counter(lot.truth for lot in lots()["random tanks"])
    assert random_ones[SETTLES] > 0.15 * TANKS
    why = Counter(solid for lot in every() for solid in lot.why.split(", ") if lot.why)
    for solid in ("Gypsum", "CaHPO4:2H2O", "Struvite", "Calcite", "potassium sulfate"):
        assert why[solid] >= 3, why


def test_the_table_of_the_readme(record_property: Callable[[str, object], None]) -> None:
    lines = table(counts())
    record_property(TABLE_PROPERTY, "\n".join(lines))
    assert "".join(f"  {line}\n" for line in lines) in README.read_text(encoding="utf-8")


def test_a_wrong_verdict_would_show() -> None:
    lot = Tried("x", SETTLES, "gypsum", "pass: nothing settles")
    stop = Tried("x", CLEAR, "", "stop: gypsum", daily=True)
    count = counted([lot, stop])
    assert (count["false pass"], count["false stop"], count["daily alarmed"]) == (1, 1, 1)
