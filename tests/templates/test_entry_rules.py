"""Every cell that a person fills has a validation, words to help, and a unit."""

from __future__ import annotations

import datetime
import io
from collections.abc import Callable

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.cell import MergedCell
from openpyxl.worksheet.datavalidation import DataValidation

from package_edits import GetPackage
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.choices import ALKALINITY_UNITS, ION_UNITS
from tanksheet.sheets.rows import TYPED, UNIT
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Address

Open = Callable[[str], Workbook]
every_workbook = pytest.mark.parametrize("name", TEMPLATES)


@pytest.fixture(scope="session")
def opened(package_of: GetPackage) -> Open:
    """The built workbook as openpyxl reads it."""
    known: dict[str, Workbook] = {}

    def read(name: str) -> Workbook:
        if name not in known:
            known[name] = load_workbook(io.BytesIO(package_of(name)))
        return known[name]

    return read


def validation(workbook: Workbook, cell: Address) -> DataValidation:
    """The one validation on a cell."""
    rules = workbook[cell.sheet].data_validations.dataValidation
    found = [rule for rule in rules if cell.cell in rule.sqref]
    assert len(found) == 1, f"{cell.a1} has {len(found)} validations"
    return found[0]


def words_under(workbook: Workbook, name: str) -> list[object]:
    """What stands in the cells of a defined name."""
    [(sheet, area)] = workbook.defined_names[name].destinations
    return [cell.value for row in workbook[sheet][area] for cell in row]


def cells_of(plan: Book, words: bool) -> list[tuple[Entry, Address]]:
    """Every entry cell, of choices or of numbers."""
    return [
        (entry, cell)
        for entry in plan.entries.values()
        for cell in entry.cells
        if bool(entry.words) == words and not entry.is_text
    ]


@every_workbook
def test_number_entries_are_validated(name: str, opened: Open) -> None:
    entries = cells_of(book(name), words=False)
    assert entries, "a workbook without a number to type: add page.input(...)"
    for entry, cell in entries:
        rule = validation(opened(name), cell)
        assert rule.type == "custom"
        assert "ISNUMBER(" in rule.formula1
        assert rule.showErrorMessage and rule.showInputMessage
        assert entry.limits is not None
        for text in (rule.error, rule.prompt):
            assert entry.limits.allowed in text, f"{cell.a1}: {text}"
            assert len(text) <= 255
        assert 0 < len(rule.errorTitle) <= 32
        assert 0 < len(rule.promptTitle) <= 32


def test_texts_are_no_longer_than_a_search_takes(opened: Open) -> None:
    """MATCH takes 255 characters at most (Microsoft's page on it); a list shows far fewer."""
    texts = [entry for entry in book("recipe").entries.values() if entry.is_text]
    assert texts
    for entry in texts:
        for cell in entry.cells:
            rule = validation(opened("recipe"), cell)
            assert rule.type == "custom"
            assert rule.formula1 == f"LEN({entry.cells[0].cell})<=40"


@every_workbook
def test_choices_are_lists_that_fit(name: str, opened: Open) -> None:
    for entry, cell in cells_of(book(name), words=True):
        rule = validation(opened(name), cell)
        assert rule.type == "list"
        if rule.formula1.startswith('"'):
            assert rule.formula1 == '"' + ",".join(entry.words) + '"'
            assert len(rule.formula1) < 255, cell.a1
        else:  # too long to spell out: a defined name for the cells of the list
            listed = words_under(opened(name), rule.formula1)
            assert listed[: len(entry.words)] == list(entry.words)
            rest = listed[len(entry.words) :]
            assert bool(rest) == bool(entry.also)  # own words are worked out below
            assert all(str(text).startswith("=") for text in rest)
        assert all(each in entry.words or entry.optional for each in entry.default)
        assert rule.showErrorMessage
        assert rule.error and rule.prompt


@every_workbook
def test_every_number_shows_its_unit(name: str, opened: Open) -> None:
    """A list beside it, a fixed unit beside it, or the unit in its own number format; money is in
    the currency that the workbook names in a word of its own."""
    plan = book(name)
    for entry, cell in cells_of(plan, words=False):
        sheet = opened(name)[cell.sheet]
        beside = sheet.cell(cell.row, UNIT).value
        if entry.unit_key:
            unit = plan.entries[entry.unit_key]
            assert unit.cells[0] == Address(cell.sheet, entry.cells[0].row, UNIT)
            assert validation(opened(name), unit.cells[0]).type == "list"
            assert beside in (*unit.words, "same")
        elif cell.column == TYPED and entry.single:
            assert entry.limits is not None
            has_none = entry.limits.unit.symbol in ("", "pH", "date")
            assert has_none or (isinstance(beside, str) and beside), f"{cell.a1} has no unit"
        elif sheet.cell(entry.cells[0].row - 1, cell.column + 1).value == "unit":
            unit_beside = sheet.cell(cell.row, cell.column + 1).value
            assert isinstance(unit_beside, str) and unit_beside, f"{cell.a1} has no unit"
        elif entry.limits and entry.limits.unit.symbol == "money":
            assert plan.entries["currency"].is_text and plan.entries["currency"].default[0]
            assert "0.00" in sheet[cell.cell].number_format, f"{cell.a1} is not shown as money"
        elif entry.limits and entry.limits.is_date:
            assert sheet[cell.cell].number_format == "yyyy-mm-dd", cell.a1
        else:
            shape = sheet[cell.cell].number_format
            assert '"' in shape, f"{cell.a1} shows no unit: {shape}"


@every_workbook
def test_lists_of_units_offer_metric_and_us(name: str) -> None:
    """Both systems are first-class wherever a quantity has units in both (DESIGN, section 4)."""
    us = set("gpg degF gal gpm gph psi ft in oz lb oz/gal lb/gal acre lb/acre gal/acre".split()) | {
        "oz/100 gal"
    }
    time, meters = (
        {("s", "min"), ("h", "min", "day")},
        {("mS/cm", "dS/m", "uS/cm", "mmho/cm", "umho/cm")},
    )
    laboratory = set(ION_UNITS.values())  # prints the same units everywhere
    laboratory.add(ALKALINITY_UNITS)
    alike = laboratory | time | meters | {("1:N", "%"), ("%", "g/kg")}
    plan = book(name)
    lists = {plan.entries[e.unit_key].words for e in plan.entries.values() if e.unit_key}
    in_one_system = {frozenset(words) for words in alike}
    for words in lists:
        assert us & set(words) or frozenset(words) in in_one_system, words


@every_workbook
def test_only_entries_are_unlocked(name: str, opened: Open) -> None:
    plan = book(name)
    entries = {(cell.sheet, cell.cell) for e in plan.entries.values() for cell in e.cells}
    unlocked = {
        (sheet.title, cell.coordinate)
        for sheet in opened(name)
        for row in sheet.iter_rows()
        for cell in row
        if not (cell.protection.locked or isinstance(cell, MergedCell))
    }
    assert unlocked == entries


@every_workbook
def test_defaults_are_fit_to_use(name: str, opened: Open) -> None:
    for entry, cell in cells_of(book(name), words=False):
        value = opened(name)[cell.sheet][cell.cell].value
        may_be_blank = entry.optional or not entry.single
        if entry.limits and entry.limits.is_date and value is not None:
            assert isinstance(value, datetime.datetime), cell.a1
            continue
        assert isinstance(value, (int, float)) or (value is None and may_be_blank), cell.a1
