"""Fault finder: choose the symptom, answer the checks, read what to do."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, TEXT, UNIT
from tanksheet.templates.fault_finder import working as work
from tanksheet.templates.fault_finder.telling import SAFETY, SOURCES, STEPS, tiles
from tanksheet.templates.verdicts import verdicts_of
from tanksheet.units import Litre, Quantity

DRAWN = Quantity(Litre, "stock or water drawn during the test", 0, 1e9, above=True)
# Answers of the example, an invented unit that doses too little.
TRIED = {"B1": work.YES, "B2": work.NO}
# Letters of a check, and of what confirms it, in one line of their columns.
CHECK_LINE, CONFIRM_LINE = 30, 30


def make(edition: str = "metric") -> Book:
    book = Book(
        "fault-finder",
        "Fault finder",
        "From what an injector does wrong, check by check, to what to do about it.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Fault finder")
    page.opening("Fault finder")
    verdicts = verdicts_of(page)
    page.section("What do you see?")
    page.choice("symptom", "Symptom", (work.NONE, *work.SYMPTOMS), work.SYMPTOMS[1])
    said = page.keep_rows(4)
    _drawdown(page)
    verdicts.add(
        "drawdown_check", "Does it draw as set?", work.drawn_verdict, minor=True, off="dose_off"
    )
    page.gap()
    page.note(
        "Checks: what to try, your answer, and what confirms it. Leave blank what is untried."
    )
    for place, symptom in enumerate(work.SYMPTOMS):
        _checks(page, place, symptom)
    _walk(book)
    below, page.sheet.row = page.sheet.row, said
    _said(page, verdicts)
    page.sheet.row = below
    _beside(page)
    page.safety(SAFETY)
    verdicts.close(*tiles())
    _actions(book)
    book.sources += SOURCES
    return book


def _drawdown(page: Page) -> None:
    page.section("A drawdown with plain water, if you did one")
    page.input("ratio", "Injector is set to", "ratio", 100, "1:N", usual=(20, 500))
    page.input(
        "water",
        "Water that passed",
        "water",
        50,
        "L",
        usual=(10, 500),
        optional=True,
        us=(13, "gal"),
    )
    page.input(
        "drawn",
        "Drawn from the cylinder",
        DRAWN,
        430,
        "mL",
        usual=(0.02, 5),
        optional=True,
        us=(423, "mL"),
    )
    maybe: dict[str, Any] = {"may_be_words": True}
    page.result(
        "found_ratio", "Ratio found", work.drawn_ratio, unit="parts", stock="drawn", **maybe
    )
    page.result(
        "dose_off", "Dose is off by", work.drawn_off, unit="%", found="found_ratio", **maybe
    )


def letter(place: int) -> str:
    return "abcdfghjkl"[place]


def checks_of(place: int) -> list[dict[str, Any]]:
    return [row for row in work.CHECKS if str(row["symptom"]).lower() == letter(place)]


def _checks(page: Page, place: int, symptom: str) -> None:
    """The checks of a symptom: what to try, the answer, what confirms it."""
    checks = checks_of(place)
    page.section(symptom.capitalize())
    table = Table(page, len(checks))
    for row in checks:
        page.sheet.put(LABEL, f"{row['step']}: {row['words']}", "table")
        page.sheet.put(UNIT, str(row["confirms"]), "table", across=3)
        lines = max(
            1 + len(str(row["words"])) // CHECK_LINE, 1 + len(str(row["confirms"])) // CONFIRM_LINE
        )
        page.end_row(14.0 * lines + 4)
    table.filled(
        f"answers_{letter(place)}",
        2,
        f"Answer of {symptom}",
        [TRIED.get(str(row["step"])) for row in checks],
        words=work.ANSWERS,
    )
    table.end()
    page.gap()


def _walk(book: Book) -> None:
    """Where each check leads, the last of each symptom first, since answers lead onward only."""
    page = add_page(book, "Walk", widths=(20.0, 16.0, 16.0), working=True)
    page.sheet.hidden = True
    for place in range(len(work.SYMPTOMS)):
        checks = checks_of(place)
        steps = {str(row["step"]): i for i, row in enumerate(checks)}
        for row in reversed(checks):
            step, yes, no = (str(row[key]) for key in ("step", "yes", "no"))
            onward = tuple(leads_of(to) for to in (yes, no) if to in steps)
            if len(onward) == 2:
                function = work.goes_on(step)
            elif onward:
                function = work.no_ends(step, no) if yes in steps else work.yes_ends(step, yes)
            else:
                function = work.both_end(step, yes, no)
            answer = part(f"answers_{letter(place)}", steps[step])
            page.back(2, leads_of(step), function, (answer, *onward), label=step, known=TEXT)
            page.end_row()
    table = Table(page, len(work.SYMPTOMS))
    firsts = [leads_of(str(checks_of(i)[0]["step"])) for i in range(len(work.SYMPTOMS))]
    table.computed("ends", 2, lambda i: (work.itself, (firsts[i],)), known=TEXT)
    table.end()
    symptom = (book.key_for("symptom"),)
    page.back(2, "symptom_place", work.place_of, symptom, label="place of the symptom")
    page.end_row()
    ends = ("symptom_place", "ends")
    page.back(2, "found_step", work.found_of, ends, label="where it ends", known=TEXT)
    page.end_row()


def leads_of(step: str) -> str:
    return f"leads_{step.lower()}_to"


def _said(page: Page, verdicts: Any) -> None:
    """What to try or to do, below the symptom, and the verdict."""
    page.line("next_said", work.next_check, "card head", 38, found="found_step")
    page.line("confirms_said", work.confirms, "card", 38, found="found_step")
    verdicts.add("fault_check", "What is found?", work.fault_verdict, 46, found="found_step")
    page.gap()


def _beside(page: Page) -> None:
    for place in range(len(work.SYMPTOMS)):
        checks = checks_of(place)
        cells = page.book.entries[f"answers_{letter(place)}"].cells
        for row, cell in zip(checks, cells, strict=True):
            step, before = str(row["step"]), page.sheet.row
            page.sheet.row = cell.row
            key = f"{step.lower()}_says"
            words = work.row_words(step)
            answer = part(f"answers_{letter(place)}", cells.index(cell))
            page.words(key, page.sheet.at(6), words, (answer, "found_step"), "said", hidden=True)
            page.sheet.row = before


def _actions(book: Book) -> None:
    """All that the checks may end in, to print."""
    page = add_page(book, "Actions")
    page.heading("Actions", "All that the checks may end in: what is found, and what to do.")
    for row in work.ACTIONS:
        page.sheet.put(LABEL, str(row["words"]), "table")
        page.sheet.put(2, f"{row['kind']}: {row['confirms']}", "table", across=5)
        page.end_row(32)
