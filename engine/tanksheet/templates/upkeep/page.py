"""Upkeep: what the injector needs next by calendar, hours or volume, whichever comes first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.upkeep import due_working as told
from tanksheet.templates.upkeep import working as work
from tanksheet.templates.upkeep.printed import due_list, labels, lists, log, spares, tanks
from tanksheet.templates.upkeep.telling import SAFETY, SOURCES, STEPS, TASKS, tiles
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import DATES, Day, Hour, Number, Quantity

ROWS = work.ROWS
USED = Quantity(Number, "interval or use", 0, work.MOST)
WEEK = Quantity(Hour, "hours of running in a week", 0, 168)
NOTICE = Quantity(Day, "days ahead that are told", 0, 365)
NOW = (46000.0, 46700.0)
WIDTHS = (30, 9, 9, 12, 10, 12, 15, 11, 12)


def make(edition: str = "metric") -> Book:
    book = Book(
        "upkeep",
        "Upkeep",
        "What an injector needs next, by calendar, hours or volume; spare kits, lists, labels.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Upkeep")
    page.opening("Upkeep")
    verdicts = verdicts_of(page)
    _use(page)
    tasks = _tasks(page)
    _intervals(book)
    _rows(book)
    _beside(tasks)
    results = page.keep_rows(10)
    page.gap()
    page.safety(SAFETY)
    spares(book)
    _judge(page, verdicts, results)
    verdicts.close(*tiles())
    due_list(book)
    lists(book)
    log(book)
    tanks(book)
    labels(book)
    book.sources += SOURCES
    return book


def _use(page: Page) -> None:
    page.section("Use so far")
    page.input("this_day", "Today", DATES, 46353.0, usual=NOW)
    page.book.aliases["today"] = page.book.key_for("this_day")
    page.input("week_hours", "Runs in a week", WEEK, 12, "h", usual=(1, 80), optional=True)
    page.input(
        "flow",
        "Water flow",
        "flow",
        200,
        "L/min",
        usual=(5, 2000),
        optional=True,
        us=(50, "gpm"),
    )
    page.choice("drawn", "It draws", work.DRAWN, work.DRAWN[0])
    page.input("season_begins", "Season begins", DATES, 46447.0, usual=NOW, optional=True)
    page.input("season_ends", "Season ends", DATES, 46660.0, usual=NOW, optional=True)
    page.input("notice", "Tell ahead, days", NOTICE, 7, usual=(1, 30))
    page.gap()


def filled(given: Sequence[Any], rows: int = ROWS) -> list[Any]:
    return [*given, *[None] * rows][:rows]


def _tasks(page: Page) -> Table:
    page.section("Task", "last done", "days", "due", "")
    table = Table(page, ROWS)
    names = [row[0] for row in TASKS]
    table.filled(
        "tasks", 1, "Task", filled(names), usual_words=tuple(names[:3]), style="typed maybe word"
    )
    table.filled(
        "last_dates",
        2,
        "Last done",
        filled([float(row[1]) for row in TASKS]),
        limits=DATES,
        usual=(46000.0, 46350.0),
        pattern="yyyy-mm-dd",
    )
    table.end()
    page.gap()
    return table


def _intervals(book: Book) -> None:
    volume = "1000 gal" if book.edition == "us" else "m3"
    short = "kgal" if book.edition == "us" else "m3"
    page = add_page(book, "Intervals", WIDTHS, landscape=True)
    page.heading(
        "Intervals",
        "Every so many days, hours or volumes, whichever comes first; blank is not counted. The "
        "maker's manual comes first. Thick, flaky or organic products halve those of screen and "
        "valve. Type what ran since only where a meter tells it.",
    )
    page.section_words("Task", len(WIDTHS))
    table = Table(page, ROWS)
    heads = (
        "Task",
        "days",
        "hours",
        volume,
        "h since",
        f"{short} since",
        "it is",
        "if late",
        "do",
    )
    table.heads(heads, page.sheet.row - 1)
    names = each(work.task_name, "tasks")
    table.computed("task_names", 1, names, style="row name", known=TEXT, hidden=True)
    _interval_columns(table, volume, short)
    for key, column, label, words, place in (
        ("parts_kind", 7, "What part it is", work.CLOGS, 5),
        ("if_late", 8, "What counts if it is late", work.LATE, 6),
        ("when_done", 9, "When it is done", work.WHEN, 7),
    ):
        chosen = filled([words[int(row[place] or 0)] for row in TASKS])
        table.filled(key, column, label, chosen, words=words)
    table.end()


def _interval_columns(table: Table, volume: str, short: str) -> None:
    us = table.page.book.edition == "us"
    litres = [round(row[4] / 3.785, -1) if us and row[4] else row[4] for row in TASKS]
    for key, column, label, values, usual, unit in (
        ("every_days", 2, "Every so many days", [row[2] for row in TASKS], (7, 365), "d"),
        ("every_hours", 3, "Every so many hours", [row[3] for row in TASKS], (20, 2000), "h"),
        ("every_volume", 4, f"Every so many {volume}", litres, (100, 50000), short),
        ("ran", 5, "Hours run since", [], (0, 500), "h"),
        ("passed", 6, f"{volume} passed since", [], (0, 5000), short),
    ):
        facts: dict[str, Any] = {"limits": USED, "usual": usual}
        facts |= {"rare": True} if not values else {}
        numbers = [None if value is None else float(value) for value in values]
        form = f'#,##0.##" {unit}"'
        table.filled(
            key, column, label, filled(numbers), pattern=form, style="typed narrow", **facts
        )


def _rows(book: Book) -> None:
    page = add_page(book, "Rows", widths=(14.0,) * 18, working=True)
    page.sheet.hidden = True
    page.section_words("What follows from each task", 18)
    table = Table(page, ROWS)
    typed = ("last_dates", "every_days", "every_hours", "every_volume")
    since = ("ran", "passed")
    use = (":today", ":week_hours", ":flow")
    read = each(work.readable, "tasks", *typed, *since)
    table.computed("reads", 1, read, known=TEXT)
    kinds = ("parts_kind", "if_late", "when_done")
    state = each(work.state_of, "reads", *typed, *use, *kinds, ":drawn")
    table.computed("states", 2, state, known=TEXT)
    _use_since(table, book.edition)
    parts = ("day_parts", "past_days", "hour_parts", "hours_run", "litre_parts", "litres_passed")
    left = each(work.left_of, "states", *parts, *use[1:])
    table.computed("lefts", 3, left)
    dues = each(work.due_date, "lefts", ":today")
    table.computed("due_days", 4, dues, pattern="yyyy-mm-dd")
    _codes(table)
    table.end()
    ranks = Table(page, ROWS)
    ranks.computed("ranked", 1, lambda i: (work.at_rank(i + 1), ("good_codes",)))
    ranks.end()


def _use_since(table: Table, edition: str) -> None:
    """Intervals and use of each row in base units."""
    use = (":week_hours", ":flow")
    table.computed("past_days", 15, each(work.past_days, "states", "last_dates", ":today"))
    unit = work.UNIT[edition]
    for name, column, key, most, size in (
        ("day_parts", 16, "every_days", 36500, 1.0),
        ("hour_parts", 17, "every_hours", work.MOST, 1.0),
        ("litre_parts", 18, "every_volume", work.MOST, unit),
    ):
        counted = work.interval(most, size)
        table.computed(name, column, each(counted, "states", key, "parts_kind", ":drawn"))
    ran = each(work.hours_run, "states", "ran", "past_days", ":week_hours")
    table.computed("hours_run", 13, ran)
    passed = each(work.litres_passed(edition), "states", "passed", "past_days", *use)
    table.computed("litres_passed", 14, passed)


def by_row(function: Any, *keys: str) -> Maker:
    """Row by row, where the function is made from the number of its row."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        return each(function(i + 1), *keys)(i)

    return make


def _codes(table: Table) -> None:
    table.computed("good_codes", 5, by_row(work.due_code, "lefts"))
    for name, column, word in (("stop_codes", 6, "stop"), ("late_codes", 7, "caution")):

        def made(row: int, word: str = word) -> Any:
            return work.late_code(row, word)

        table.computed(name, column, by_row(made, "lefts", "if_late"))
    table.computed("soon_codes", 8, by_row(work.soon_code, "lefts", ":notice"))
    table.computed("open_rows", 9, by_row(work.open_row, "states"))
    table.computed("bad_rows", 10, by_row(work.bad_row, "states"))
    season = ("lefts", "due_days", "when_done", ":season_begins", ":season_ends")
    table.computed("season_codes", 11, by_row(work.season_code, *season))
    table.computed("late_all", 12, each(work.late_either, "stop_codes", "late_codes"))


def _beside(table: Table) -> None:
    days = each(work.whole_days, "lefts")
    table.computed("days_left", 3, days, style="worked out", pattern="0")
    table.computed(
        "due_dates",
        4,
        each(work.whole_days, "due_days"),
        style="other system",
        pattern="yyyy-mm-dd",
    )
    notes = each(work.row_note, "states", "lefts")
    table.computed("task_notes", 6, notes, style="words", known=TEXT, hidden=True)


def _judge(page: Page, verdicts: Verdicts, row: int) -> None:
    below, page.sheet.row = page.sheet.row, row
    page.section("What is due")
    first = part("ranked", 0)
    page.result("first_due", "First due", told.name_of, words=True, coded=first, names="task_names")
    page.result(
        "first_days", "... in days", told.days_of, may_be_words=True, coded=first, pattern="0"
    )
    page.result(
        "first_date",
        "... on",
        told.date_of,
        unit="date",
        may_be_words=True,
        coded=first,
        dues="due_days",
    )
    page.result(
        "parts_to_order",
        "Spare parts to order",
        told.total,
        orders="orders",
        ones="kit_ones",
        pattern="0",
    )
    _verdicts(verdicts)
    page.sheet.row = below


def _verdicts(verdicts: Verdicts) -> None:
    common: dict[str, Any] = {
        "goods": "good_codes",
        "opens": "open_rows",
        "bads": "bad_rows",
        "names": "task_names",
    }
    verdicts.add(
        "late_check",
        "What must not wait",
        told.stop_verdict,
        lates="stop_codes",
        use="week_hours",
        **common,
    )
    verdicts.add(
        "due_check",
        "All other tasks",
        told.due_verdict,
        lates="late_codes",
        soons="soon_codes",
        **common,
    )
    verdicts.add(
        "season_check",
        "Off-season work",
        told.season_verdict,
        minor=True,
        season="season_codes",
        begins="season_begins",
        ends="season_ends",
        **common,
    )
    _spares(verdicts)


def _spares(verdicts: Verdicts) -> None:
    verdicts.add(
        "spares_check",
        "Spare kits",
        told.spares_verdict,
        minor=True,
        states="kit_states",
        ones="kit_ones",
        orders="orders",
        each="parts_to_order",
    )
