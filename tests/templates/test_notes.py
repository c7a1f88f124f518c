"""A note that says nothing promises something: no result becomes an error because of its cell.

Python's side of the harness, whose agreement with the engines tests/templates/test_harness.py
shows for the same bad entries.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from small_books import page_of, small_book
from tanksheet.errors import SheetError
from tanksheet.sheets.book import Book
from tanksheet.sheets.cases import edge_settings
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Value
from typed_recipe import typed_recipe

SILENT = ("",)
every_workbook = pytest.mark.parametrize("name", TEMPLATES)


def owner(plan: Book, key: str) -> Entry:
    """The entry that a person means: of a unit, the number beside it."""
    return next((each for each in plan.entries.values() if each.unit_key == key), plan.entries[key])


def notes(plan: Book, entry: Entry) -> list[str]:
    """The keys of an entry's notes; the first cell of a run is the one that is spoilt."""
    return [key for key in (f"{entry.key}_note", f"{entry.key}_1_note") if key in plan.formulas]


def new_errors(plan: Book, before: Mapping[str, Value], now: Mapping[str, Value]) -> list[str]:
    return [
        key
        for key in plan.formulas
        if isinstance(now[key], SheetError) and not isinstance(before[key], SheetError)
    ]


def beside(plan: Book, entry: Entry, keys: list[str]) -> bool:
    """Whether one of these stands in the row or the column of the entry's first cell, so that a
    table without notes shows where the trouble comes from."""
    first = entry.cells[0]
    cells = [plan.formulas[key].cell for key in keys]
    own = (first.sheet, f"Behind {first.sheet}")
    near = [cell for cell in cells if cell.sheet in own]
    return any(cell.row == first.row or cell.column == first.column for cell in near)


def told(plan: Book, entry: Entry, now: Mapping[str, Value]) -> bool:
    """Whether words in the row of the entry's first cell say that something must be mended."""
    first = entry.cells[0]
    cells = {key: formula.cell for key, formula in plan.formulas.items()}
    row = [key for key, cell in cells.items() if (cell.sheet, cell.row) == (first.sheet, first.row)]
    return any(str(now[key]).startswith("stop: ") for key in row)


def silences(plan: Book) -> list[str]:
    """One line for each bad entry that makes errors while its note says nothing, or is one."""
    return walked(plan)[0]


def walked(plan: Book) -> tuple[list[str], float]:
    """The silences, and the share of the bad entries that make errors."""
    before, found = evaluate(plan, {}), []
    tried = with_errors = 0
    for settings in edge_settings(plan):
        [(key, value)] = settings.items()
        now, entry = evaluate(plan, settings), owner(plan, key)
        errors, own = new_errors(plan, before, now), notes(plan, entry)
        tried, with_errors = tried + 1, with_errors + bool(errors)
        bad: Any = value[0] if isinstance(value, list) else value
        said = [now[each] for each in own]
        if any(isinstance(each, SheetError) for each in said):
            found.append(f"{key} {bad!r}: the note itself is {said}")
        elif errors and own and all(each in SILENT for each in said):
            found.append(f"{key} {bad!r}: {said} though {len(errors)} errors: {errors[:4]}")
        elif errors and not own and not beside(plan, entry, errors) and not told(plan, entry, now):
            found.append(f"{key} {bad!r}: no note, and errors only elsewhere: {errors[:4]}")
    return found, with_errors / max(tried, 1)


@every_workbook
def test_no_note_is_silent_while_results_show_errors(name: str) -> None:
    """Most bad entries make errors; otherwise this would prove nothing."""
    silent, share = walked(book(name))
    assert silent == []
    assert share > 1 / 3


def test_a_silent_note_is_seen() -> None:
    plan = small_book()
    assert silences(plan) == []

    def risky(length: Any) -> Any:
        return 1 / length

    page_of(plan).input("run", "Run", "length", 5, "m", usual=(0, 1e6))
    page_of(plan).result("risk", "Risk", risky, unit="m", length="run")
    [line] = silences(plan)
    assert line.startswith("run 0.0: [''] though 1 errors: ['risk']")


# Words that a table says where it has a column for them.
@pytest.mark.parametrize("bad", ["no such word", "*", True, SheetError.REF, SheetError.NAME])
@pytest.mark.parametrize("key", ["products", "tanks", "amounts", "amount_units"])
def test_a_product_s_row_says_that_it_must_be_mended(key: str, bad: Value) -> None:
    plan = book("recipe")
    typed = typed_recipe()
    settings = typed | {key: [bad, *typed[key][1:]]}
    said = str(evaluate(plan, settings)["dissolved[0]"])
    if key != "products":
        assert said == "stop: mend the tank, amount or unit of this product"
    elif bad == "no such word":
        assert said.startswith("stop: 'no such word' is not in the list; see My products")
    else:
        assert said == "stop: choose a product from the list"


@pytest.mark.parametrize("bad", ["much", "12", -1.0, 2e6, True, SheetError.NA])
def test_a_target_s_row_says_that_it_must_be_mended(bad: Value) -> None:
    plan = book("recipe")
    settings = {"targets": [bad, *plan.entries["targets"].default[1:]]}
    assert str(evaluate(plan, settings)["met[0]"]).startswith("stop: mend the target")


def test_an_error_typed_keeps_its_code() -> None:
    """Excel hands the error of a cell on as it is; only a cell that asks for a number first, and
    finds none, says #VALUE!."""
    plan = book("stock-tank")
    for error in (SheetError.REF, SheetError.NAME, SheetError.DIV, SheetError.NUM):
        found = evaluate(plan, {"nutrient_1": error})
        assert found["nutrient_1_checked"] is found["mass_1"] is error
        assert found["nutrient_1_note"] == "choose a word from the list"
        assert evaluate(plan, {"tank_unit": error})["tank_factor"] is error
        assert evaluate(plan, {"tank": error})["tank_in_L"] is SheetError.VALUE


def test_notes_on_what_is_odd_beside_other_entries() -> None:
    found = evaluate(book("stock-tank"), {"nutrient_1": "P"})
    assert found["label_p_1_note"] == "the product is chosen for this: type how much"
    assert found["label_n_1_note"] == ""
    found = evaluate(book("stock-tank"), {"ec_measured": 0.4})
    assert str(found["ec_measured_note"]).startswith("as plain water")
    assert evaluate(book("stock-tank"), {"ec_measured": 0.41})["ec_measured_note"] == ""
    found = evaluate(book("water-report"), {"potassium_unit": "mg"})
    assert found["potassium_note"] == "choose a unit from the list"


@every_workbook
def test_a_number_held_as_text_is_read_and_called_out(name: str) -> None:
    """As if it stood there as a number, and its note says so."""
    plan = book(name)
    before, tried = evaluate(plan, {}), 0
    for entry in plan.entries.values():
        if entry.is_text or not entry.single or not isinstance(entry.default[0], (int, float)):
            continue
        if entry.default[0] < 0:
            continue  # a sign is left to the person
        now = evaluate(plan, {entry.key: f" {entry.default[0]:.12g}\u00a0"})
        assert now[f"{entry.key}_note"] == "held as text, read as a number: retype it"
        working = (f"{entry.key}_note", f"{entry.key}_read")
        assert [key for key in before if now[key] != before[key] and key not in working] == []
        tried += 1
    assert tried


@every_workbook
def test_text_with_the_very_unit_that_stands_beside_it_is_read(name: str) -> None:
    """As if the number stood there alone; with another unit it is called out."""
    plan = book(name)
    for entry in plan.entries.values():
        default = entry.default[0]
        if not entry.unit_key or not entry.single or not isinstance(default, (int, float)):
            continue
        unit = str(plan.entries[entry.unit_key].default[0])
        if default < 0 or unit == "1:N":
            continue
        before = evaluate(plan, {})
        for text in (f"{default:.12g} {unit}", f" {default:.12g}{unit.upper()} "):
            now = evaluate(plan, {entry.key: text})
            assert now[f"{entry.key}_note"] == "held as text, read as a number: retype it"
            assert now[plan.key_for(entry.key)] == before[plan.key_for(entry.key)]
        other = evaluate(plan, {entry.key: f"{default:.12g} x{unit}"})
        assert str(other[f"{entry.key}_note"]).startswith(("type", "mend")), entry.key


@every_workbook
def test_text_that_is_no_plain_number_is_called_out(name: str) -> None:
    """ "12,5" may be 12.5 or 125, and a unit may be another than the one chosen."""
    plan = book(name)
    for entry in plan.entries.values():
        if entry.limits is None or not entry.single:
            continue
        for text in ("12,5", "1,505", "12 barrels", "1.2.3", "-3", "1e3", "12:30"):
            now = evaluate(plan, {entry.key: text})
            assert str(now[f"{entry.key}_note"]).startswith(("type", "mend")), (entry.key, text)
