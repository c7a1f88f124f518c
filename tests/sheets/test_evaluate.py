"""The Python side of the comparison: blanks, faults that travel, branches that are not taken."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from small_books import page_of, small_book
from tanksheet.errors import SheetError
from tanksheet.sheets.cases import edge_settings, random_settings
from tanksheet.sheets.evaluate import cell_values, entry_cells, evaluate
from tanksheet.templates import TEMPLATES, book

# By hand: what may stand in any cell, whatever belongs there.
STRANGE = (*(SheetError(f"#{code}") for code in "VALUE! N/A REF! DIV/0! NUM! NAME?".split()), True)
STRANGE += ("12", "*", "~")
VALUE, NUM, NA = SheetError.VALUE, SheetError.NUM, SheetError.NA


def test_defaults() -> None:
    values = evaluate(small_book(), {})
    assert values["doubled"] == 400.0
    assert values["doubled_other"] == "106 gal"  # 400 / 3.785411784 = 105.7
    assert values["minutes"] == "no flow"
    assert values["way_check"] == "pass: one"


def test_settings_take_the_place_of_defaults() -> None:
    values = evaluate(small_book(), {"tank": 10.0, "tank_unit": "gal", "flow": 2.0})
    assert values["doubled"] == pytest.approx(20 * 3.785411784)
    assert values["minutes"] == pytest.approx(5 * 3.785411784)


@pytest.mark.parametrize(
    ("typed", "error"), [("much", VALUE), (None, VALUE), (0.0, NUM), (-1.0, NUM), (NA, VALUE)]
)
def test_a_fault_travels_to_everything_that_uses_it(typed: Any, error: SheetError) -> None:
    values = evaluate(small_book(), {"tank": typed, "flow": 2.0})
    assert [values[key] for key in ("tank_in_L", "doubled", "minutes")] == [error] * 3
    assert values["tank_note"] != "ok"
    assert values["way_check"] == "pass: one"


def test_a_branch_that_is_not_taken_does_no_harm() -> None:
    """As a sheet's IF: the tank is at fault, but nothing reads it."""
    values = evaluate(small_book(), {"tank": "much", "flow": None})
    assert values["minutes"] == "no flow"


def test_the_branch_that_is_taken_does() -> None:
    assert evaluate(small_book(), {"tank": "much", "flow": 1.0})["minutes"] == VALUE


def test_words_are_compared_without_regard_to_case() -> None:
    values = evaluate(small_book(), {"method": "TWO"})
    assert values["way_check"] == "caution: two"
    assert values["method_checked"] == "TWO"  # as the cell holds it
    assert evaluate(small_book(), {"method": "three"})["method_checked"] == NA


def test_truth_is_no_number() -> None:
    assert evaluate(small_book(), {"tank": True})["tank_in_L"] == VALUE


def test_values_by_cell_are_the_same() -> None:
    plan = small_book()
    by_cell = cell_values(plan, {"tank": 3.0})
    assert by_cell[plan.formulas["doubled"].cell] == 6.0
    assert len(by_cell) == len(plan.formulas)


def test_entry_cells_hold_defaults_and_settings() -> None:
    plan = small_book()
    cells = entry_cells(plan, {"tank": 3.0})
    assert cells[plan.entries["tank"].cells[0]] == 3.0
    assert cells[plan.entries["flow"].cells[0]] is None
    assert cells[plan.entries["method"].cells[0]] == "one"


def test_a_range_reads_all_its_cells() -> None:
    plan = small_book()
    plan.add_range("both", ("doubled", "tank_in_L"))

    def added(both: Any) -> Any:
        return both[0] + both[1]

    page_of(plan).result("added", "Added", added, unit="L", both="both")
    assert evaluate(plan, {"tank": 10.0})["added"] == 30.0


@pytest.mark.parametrize("name", TEMPLATES)
def test_random_draws_are_valid(name: str) -> None:
    """Words from their lists, blanks where they are allowed, numbers inside their limits once they
    are in the base unit; only a draw at the very edge may be rounded over it."""
    plan = book(name)
    drawn = outside = 0
    for settings in itertools.islice(random_settings(plan, 3), 200):
        assert set(settings) == set(plan.entries)
        used = evaluate(plan, settings)
        for entry in plan.entries.values():
            value = settings[entry.key]
            for each in value if isinstance(value, list) else [value]:
                if each is None:
                    assert entry.optional, entry.key
                elif entry.words:
                    own = plan.entries[entry.also].usual_words if entry.also else ()
                    assert each in (*entry.words, *own)
                elif entry.is_text:
                    assert each in entry.usual_words
                else:
                    assert isinstance(each, float)
            key = plan.key_for(entry.key)
            if entry.single and not entry.words and value is not None and key in used:
                assert entry.limits is not None
                number = used[key]
                drawn += 1
                outside += not isinstance(number, float) or not entry.limits.holds(number)
    assert outside <= drawn / 500


def test_random_draws_reach_beyond_the_usual() -> None:
    """Mostly what is common on a farm, now and then what is merely possible, in any unit."""
    plan = book("stock-tank")
    tanks = [s["tank"] for s in itertools.islice(random_settings(plan, 1), 300)]
    units = {s["tank_unit"] for s in itertools.islice(random_settings(plan, 1), 300)}
    blanks = [s["ec_measured"] for s in itertools.islice(random_settings(plan, 1), 300)].count(None)
    assert units == set(plan.entries["tank_unit"].words)
    assert len(set(tanks)) > 250
    assert 10 < blanks < 100


@pytest.mark.parametrize("name", TEMPLATES)
def test_the_same_seed_draws_the_same(name: str) -> None:
    plan = book(name)

    def first(seed: int) -> list[Any]:
        return list(itertools.islice(random_settings(plan, seed), 5))

    assert first(1) == first(1)
    assert first(1) != first(2)


def test_books_draw_differently_from_one_seed() -> None:
    one, other = (next(random_settings(book(name), 1)) for name in ("stock-tank", "zone-flow"))
    assert one != other


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_entry_has_every_kind_of_bad_case(name: str) -> None:
    plan = book(name)
    bad: dict[str, list[Any]] = {key: [] for key in plan.entries}
    for settings in edge_settings(plan):
        [(key, value)] = settings.items()
        bad[key].append(value[0] if isinstance(value, list) else value)
    for key, entry in plan.entries.items():
        if entry.like:  # the same formulas read it
            assert not bad[key] and bad[entry.like]
            continue
        usual = ["no such word", None, 7.0] if entry.words else [0.0, -3.0, 1e17, "12 L", None]
        if entry.is_text:
            usual = ["x" * 300]
        assert {repr(each) for each in (*usual, *STRANGE)} <= {repr(each) for each in bad[key]}
        wrong_case = [
            each for each in bad[key] if isinstance(each, str) and each.swapcase() in entry.words
        ]
        assert bool(wrong_case) == any(word.swapcase() != word for word in entry.words)
