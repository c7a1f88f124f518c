"""Dates that people type: real dates as a spreadsheet counts them, in every engine.

The numbers of dates are held against Python's calendar and against those that each engine's own
DATE gives; text is never read as a date, since each land reads it in its own way.
"""

from __future__ import annotations

import datetime
import io
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from engines_needed import need
from tanksheet.errors import NotANumber, SheetError, WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.listing import inputs
from tanksheet.sheets.page import add_page
from tanksheet.sheets.phrases import date_in
from tanksheet.sheets.run import dates_spelled, run
from tanksheet.sheets.settings import understood
from tanksheet.sheets.target import Target
from tanksheet.sheets.verify import verify
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.units import DATES, iso_of, serial_of
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.reading import Package

every_engine = pytest.mark.parametrize("name", ENGINES)
# From the documentation of DATE in spreadsheets: 2008-01-01 is 39448; the others by Python's
# calendar from there.
KNOWN = (("2008-01-01", 39448.0), ("2000-01-01", 36526.0), ("2026-11-27", 46353.0))


def apart(today: Any, last: Any) -> Any:
    return today - last if last != "" else ""


def later_by_a_year(last: Any) -> Any:
    return last + 365 if last != "" else ""


def dated(edition: str = "metric") -> Book:
    book = Book("dated", "Dated", "To try dates.", edition=edition)
    page = add_page(book, "Main")
    usual = (45658.0, 47848.0)
    page.input("today", "Today", DATES, 46353.0, usual=usual)
    page.input("last", "Last done", DATES, 46000.0, usual=usual, optional=True)
    page.result("next_due", "Next due", later_by_a_year, unit="date", may_be_words=True)
    page.result("gap", "Days since", apart, unit="", may_be_words=True)
    return book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "dated.xlsx"
    file.write_bytes(workbook_bytes(dated()))
    return file


@pytest.mark.parametrize(("text", "serial"), KNOWN)
def test_number_of_a_date(text: str, serial: float) -> None:
    assert date_in(text) == serial_of(datetime.date.fromisoformat(text)) == serial
    assert iso_of(serial) == iso_of(serial + 0.7) == text


def test_every_day_of_the_range_goes_round() -> None:
    for serial in range(int(DATES.low), int(DATES.high) + 1, 7):
        assert date_in(iso_of(serial)) == serial
    assert DATES.allowed == "a date from 2000-01-01 to 2099-12-31"


@pytest.mark.parametrize(
    "text",
    [
        "3/4/2026",
        "27.11.2026",
        "2026-11-31",
        "2026-1-2",
        "20261127",
        "tomorrow",
        "46353",
        "26-11-27",
    ],
)
def test_what_is_no_date_is_refused(text: str) -> None:
    with pytest.raises(NotANumber, match="no date; write year, month and day as 2026-11-27"):
        date_in(text)


def test_set_list_and_read(path: Path) -> None:
    need(ENGINES["ironcalc"])
    book = dated()
    found = run(path, book, {"last": "2026-11-27"})
    assert found["next_due"] == 46353.0 + 365 and found["gap"] == 0
    assert run(path, book, {"last": datetime.date(2026, 11, 27)}) == found
    assert dates_spelled(book, found)["next_due"] == "2027-11-27"
    assert dates_spelled(book, found)["gap"] == 0
    assert run(path, book, {"last": ""})["next_due"] == ""
    package = Package(path)
    assert understood(package, book, {"last": "2026-11-27"}) == ["last = 2026-11-27"]
    told = str(inputs(Target.of(package, book))["last"])
    assert told == "last: Last done; a date from 2000-01-01 to 2099-12-31, or blank"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("27/11/2026", "no date; write year, month and day as 2026-11-27"),
        ("1999-12-31", "it must be a date from 2000-01-01 to 2099-12-31"),
        (12.0, "it must be a date from 2000-01-01 to 2099-12-31"),
    ],
)
def test_a_bad_date_is_refused_by_its_cell(path: Path, typed: Any, said: str) -> None:
    need(ENGINES["ironcalc"])
    with pytest.raises(WorkbookProblem, match=said) as refused:
        run(path, dated(), {"today": typed})
    assert "Main!B1" in str(refused.value)


def test_cells_look_and_are_checked_as_dates(path: Path) -> None:
    workbook = load_workbook(io.BytesIO(path.read_bytes()))
    sheet = workbook["Main"]
    assert sheet["B1"].number_format == sheet["B3"].number_format == "yyyy-mm-dd"
    assert sheet["B1"].value == datetime.datetime(2026, 11, 27)
    [rule] = [each for each in sheet.data_validations.dataValidation if "B1" in each.sqref]
    assert rule.type == "custom" and "36526" in rule.formula1 and "73050" in rule.formula1
    assert rule.prompt == "Today: type a date from 2000-01-01 to 2099-12-31."
    assert rule.promptTitle == "A date"


def test_a_text_is_called_out_beside_it() -> None:
    found = evaluate(dated(), {"last": "27 Nov. 2026"})
    assert found["last_note"] == "type a date: 2026-11-27"
    assert found["next_due"] is SheetError.VALUE
    assert evaluate(dated(), {"last": 36525.0})["last_note"] == "type a date: 2026-11-27"
    assert evaluate(dated(), {"last": 37000.0})["last_note"] == "unusual: check the year"


@every_engine
def test_engines_count_as_we_do(name: str, tmp_path: Path) -> None:
    """Each engine's DATE, over leap years and turns of centuries."""
    able = ENGINES[name]
    need(able)
    workbook = Workbook()
    days = ["2000-02-29", "2008-01-01", "2024-02-29", "2026-11-27", "2099-12-31"]
    for row, day in enumerate(days, 1):
        year, month, number = map(int, day.split("-"))
        workbook.active.cell(row, 1, f"=DATE({year},{month},{number})+0")
    file = tmp_path / "days.xlsx"
    workbook.save(file)
    cells = [Address("Sheet", row, 1) for row in range(1, len(days) + 1)]
    with able.begin(file) as session:
        values = session.calculate({}, cells)
    assert [iso_of(float(values[cell])) for cell in cells] == days  # type: ignore[arg-type]


@every_engine
@pytest.mark.parametrize("edition", ["metric", "us"])
def test_engines_agree_on_dates(name: str, edition: str, tmp_path: Path) -> None:
    need(ENGINES[name])
    book = dated(edition)
    file = tmp_path / "dated.xlsx"
    file.write_bytes(workbook_bytes(book))
    [found] = verify(file, book, [name], 20, seed=3, edges=True)
    assert found.verdict == "agrees", found
