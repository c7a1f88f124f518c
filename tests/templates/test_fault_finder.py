"""The fault finder: its table, and where its walk ends."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from tanksheet.sheets.evaluate import evaluate
from tanksheet.tables import rows
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

TABLE = {str(row["step"]): row for row in rows("faults")}
SYMPTOMS = [step for step, row in TABLE.items() if row["kind"] == "symptom"]
CHECKS = [step for step, row in TABLE.items() if row["kind"] == "check"]
ACTIONS = [step for step, row in TABLE.items() if row["kind"] in ("caution", "stop")]
BACK = "water running back into the tank"
# As the work asks for them.
ASKED = [
    *("no suction", "suction but weak dose", "too rich", BACK, "will not prime"),
    *("clicks without drawing", "leaks", "dries and flakes after standing"),
    *("erratic at low flow", "foam or air"),
]


def results(**settings: Any) -> dict[str, Value]:
    return evaluate(book("fault-finder"), settings)


def ways(step: str, before: tuple[str, ...] = ()) -> list[list[tuple[str, str]]]:
    """All ways from a check to an action, as checks with their answers; a loop fails."""
    assert step not in before, f"{step} comes round again"
    found = []
    for answer in ("yes", "no"):
        onward = str(TABLE[step][answer])
        assert onward in TABLE, f"{step} {answer} leads nowhere: {onward!r}"
        if onward in ACTIONS:
            found.append([(step, answer), (onward, "")])
        else:
            assert onward in CHECKS and onward[0] == step[0], onward
            found += [[(step, answer), *way] for way in ways(onward, (*before, step))]
    return found


def answers(way: list[tuple[str, str]]) -> dict[str, Any]:
    """A way as what is typed."""
    settings: dict[str, Any] = {}
    for step, answer in way:
        key = f"answers_{step[0].lower()}"
        of_symptom = [each for each in CHECKS if each[0] == step[0]]
        column = settings.setdefault(key, [None] * len(of_symptom))
        column[of_symptom.index(step)] = answer
    return settings


def test_every_symptom_has_checks_and_nothing_is_left_over() -> None:
    assert SYMPTOMS == ASKED
    reached: set[str] = set()
    for symptom in SYMPTOMS:
        first = str(TABLE[symptom]["yes"])
        own = [step for step in CHECKS if step[0] == first[0]]
        assert len(own) >= 3, symptom
        seen = {step for way in ways(first) for step, _ in way}
        assert set(own) <= seen, symptom
        reached |= seen
    assert set(ACTIONS) == reached - set(CHECKS)
    assert [TABLE[symptom]["place"] for symptom in SYMPTOMS] == [*range(1, 11)]


def test_texts_fit_and_name_a_source() -> None:
    for step, row in TABLE.items():
        for column in ("words", "confirms"):
            assert len(str(row[column])) <= 255, step
            assert row[column] or row["kind"] == "symptom", step
        assert row["source"]
    for step in CHECKS:
        assert str(TABLE[step]["words"]).endswith("?")


def test_a_loop_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(TABLE, "A5", {**TABLE["A5"], "no": "A1"})
    with pytest.raises(AssertionError, match="comes round again"):
        ways("A1")


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_the_workbook_walks_every_way(symptom: str) -> None:
    """To the action at its end, and at each step short of it to the check that comes next."""
    for way in ways(str(TABLE[symptom]["yes"])):
        *tried, (end, _) = way
        for so_far in range(len(tried) + 1):
            found = (
                results(symptom=symptom, answers_b=[None] * 5, **answers(tried[:so_far]))
                if (symptom != "suction but weak dose")
                else results(
                    symptom=symptom, **({"answers_b": [None] * 5} | answers(tried[:so_far]))
                )
            )
            assert found["found_step"] == way[so_far][0]
            said, row = str(found["fault_check"]), TABLE[way[so_far][0]]
            if so_far == len(tried):
                assert said.startswith(f"{row['kind']}: {row['words']}; {row['confirms']}")
            elif symptom == BACK:
                assert said.startswith("stop: backflow")
            else:
                assert said.startswith(f"not checked: try check {way[so_far][0]} ")
            assert str(row["words"]) in str(found["next_said"])
            assert str(row["confirms"]) in str(found["confirms_said"])


def test_water_that_runs_back_always_stops() -> None:
    for tried in itertools.product(("yes", "no", "not tried", None), repeat=3):
        found = results(symptom=BACK, answers_d=list(tried))
        assert str(found["headline"]).startswith("stop: "), tried


def test_answers_of_another_symptom_tell_nothing() -> None:
    found = results(symptom="no suction", answers_b=["yes"] * 5)
    assert found["found_step"] == "A1"
    assert str(found["headline"]).startswith("not checked: ")


def test_no_symptom_and_bad_answers_never_pass() -> None:
    found = results(symptom="no symptom")
    assert str(found["fault_check"]).startswith("not used: ")
    bad = results(symptom="suction but weak dose", answers_b=["maybe", *[None] * 4])
    assert str(bad["headline"]).startswith(("stop: ", "not checked: "))
    assert str(bad["b1_says"]).startswith("stop: ")


@pytest.mark.parametrize(
    ("drawn", "word"),
    [
        (430, "not checked: why"),
        (480, "pass"),
        (460, "not checked: whether"),
        (600, "not checked: why"),
    ],
)
def test_drawdown(drawn: float, word: str) -> None:
    """50 L at 1:100 take 500 mL: 14 % less, 4 % less, 8 % less, 20 % more."""
    found = results(drawn=drawn)
    assert found["dose_off"] == pytest.approx(100 * drawn / 500 - 100)
    assert str(found["drawdown_check"]).startswith(word)
