"""What the upkeep workbook prints: due list, winter and spring lists, log, spares, tank labels."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import TEXT
from tanksheet.templates.recipe.card_working import typed_words
from tanksheet.templates.recipe.cards import marked, placed
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.upkeep import due_working as told
from tanksheet.templates.upkeep import working as work
from tanksheet.templates.upkeep.telling import IN_OUNCES, KITS, SPRING, TANKS, WINTER
from tanksheet.units import DATES, Number, Quantity

KIT_ROWS, LOG_ROWS, TANK_ROWS = 10, 24, 3
KITS_HELD = Quantity(Number, "kits or parts", 0, work.MOST)
CARD = (46, 16, 6, 16, 18)
LIST = (6, 70, 22)


def spares(book: Book) -> None:
    page = add_page(book, "Spares")
    page.heading("Spares", "Count the kits on hand, say how many there shall be, order the rest.")
    page.section("Kit or part", "on hand", "", "wanted", "order")
    table = Table(page, KIT_ROWS)
    blank = [None] * KIT_ROWS
    names: list[Any] = [row[0] for row in KITS]
    usual_words = tuple(names[:3])
    table.filled(
        "kits",
        1,
        "Kit or part",
        [*names, *blank][:KIT_ROWS],
        usual_words=usual_words,
        style="typed maybe word",
    )
    for key, column, label, place in (
        ("kits_on_hand", 2, "On hand", 1),
        ("kits_wanted", 4, "Wanted", 2),
    ):
        counts = [*(float(row[place]) for row in KITS), *blank][:KIT_ROWS]
        table.filled(
            key, column, label, counts, limits=KITS_HELD, usual=(0, 5), pattern='0.##" pc"'
        )
    orders = each(told.to_order, "kits_on_hand", "kits_wanted")
    table.computed("orders", 5, orders, style="worked out", pattern="0.##")
    states = each(told.kit_state, "kits", "kits_on_hand", "kits_wanted")
    table.computed("kit_states", 7, states, known=TEXT, hidden=True, behind=True)
    table.computed("kit_ones", 8, each(told.one_of, "kit_states"), hidden=True, behind=True)
    notes = each(told.kit_note, "kit_states")
    table.computed("kit_notes", 6, notes, style="words", known=TEXT, hidden=True)
    table.end()


def due_list(book: Book) -> None:
    """All tasks, the first due on top, with boxes to tick."""
    page = add_page(book, "Due list", CARD)
    page.sheet.one_page = True
    page.sheet.put(1, "Due list", "card tank", across=2)
    page.end_row(44)
    placed(page, "list_said", 1, told.tile_text, ("overall",), "card box", 5)
    page.end_row(40)
    for column, head in enumerate(("first due on top", "due", "done", "on", "by"), 1):
        page.sheet.put(column, head, "card column")
    page.end_row(18)
    for i in range(work.ROWS):
        row, code = page.sheet.row, part("ranked", i)
        placed(page, f"list_task_{i + 1}", 1, told.name_of, (code, "task_names"), "card words")
        page.words(
            f"list_due_{i + 1}",
            page.sheet.at(2),
            told.due_said,
            (code,),
            "card words",
            hidden=True,
        )
        for column, style in ((3, "tick"), (4, "write here"), (5, "write here")):
            page.sheet.put(column, "", style)
        marked(page, (3, 3), f"LEN($A{row})>0", "tick box")
        marked(page, (4, 5), f"LEN($A{row})>0", "line")
        page.end_row(28)
        page.end_row(4)


def lists(book: Book) -> None:
    """What to do when the season ends and before it begins, ticked by hand."""
    for title, lines in (("Winter list", WINTER), ("Spring list", SPRING)):
        page = add_page(book, title, LIST)
        page.sheet.one_page = True
        page.sheet.put(1, title, "card title", across=2)
        page.sheet.put(3, "year:", "card column")
        page.end_row(34)
        for column, head in enumerate(("done", "what", "date, by"), 1):
            page.sheet.put(column, head, "card column")
        page.end_row(18)
        for line in lines:
            row = page.sheet.row
            page.sheet.put(1, "", "tick")
            page.sheet.put(2, line, "card words")
            page.sheet.put(3, "", "write here")
            marked(page, (1, 1), f"LEN($B{row})>0", "tick box")
            marked(page, (3, 3), f"LEN($B{row})>0", "line")
            page.end_row(38)
            page.end_row(4)
        for line in PRINTED_SAFETY:
            page.sheet.put(1, line, "safety", across=3)
            page.end_row(30)


PRINTED_SAFETY = (
    "Backflow: the preventer is tested by a licensed person as the local code asks; until it "
    "passes, do not inject.",
    "Water off, pressure let off, lines rinsed before you open anything; goggles and gloves. Water "
    "that lay in the sun may scald. Never let chlorine meet acid, ammonium or urea.",
)


def log(book: Book) -> None:
    page = add_page(book, "Log", (16, 32, 34, 16, 18))
    page.heading("Log", "What was done and found; the newest date goes to the sheet Upkeep too.")
    page.section_words("Date", 5)
    table = Table(page, LOG_ROWS)
    table.heads(("Date", "task", "found, changed, reading", "by"), page.sheet.row - 1)
    blank = [None] * LOG_ROWS
    table.filled(
        "log_dates",
        1,
        "Date",
        [46331.0, *blank][:LOG_ROWS],
        limits=DATES,
        usual=(46000.0, 46350.0),
        pattern="yyyy-mm-dd",
    )
    for key, column, label, first in (
        ("log_tasks", 2, "Task", "Check valve"),
        ("log_found", 3, "What was found", "spring tired, new one fitted"),
        ("log_by", 4, "By", None),
    ):
        table.filled(
            key,
            column,
            label,
            [first, *blank][:LOG_ROWS],
            usual_words=("cleaned", "new seal"),
            style="typed maybe word",
            like="tasks",
        )
    notes = each(told.log_note, "log_dates")
    table.computed("log_notes", 5, notes, style="words", known=TEXT, hidden=True)
    table.end()


COLUMNS = (
    ("label_tanks", "Tank"),
    ("label_holds", "Holds"),
    ("label_strength", "Strength"),
    ("label_setting", "Injector set to"),
    ("label_hazard", "Hazard words"),
)


def tanks(book: Book) -> None:
    page = add_page(book, "Tanks", (8, 40, 16, 16, 40), landscape=True)
    page.heading("Tanks", "What each tank holds, for the sheet Tank labels. A blank prints blank.")
    page.section_words("Tank", 5)
    table = Table(page, TANK_ROWS)
    table.heads(tuple(label for _, label in COLUMNS), page.sheet.row - 1)
    for column, (key, label) in enumerate(COLUMNS, 1):
        texts = [row[column - 1] for row in TANKS]
        if book.edition == "us":
            texts = [IN_OUNCES.get(str(text), text) for text in texts]
        usual = tuple(text for text in texts if text)[:2]
        table.filled(
            key, column, label, texts, usual_words=usual, style="typed maybe word", like="tasks"
        )
    table.end()


def labels(book: Book) -> None:
    """Three labels on one page, to cut apart."""
    page = add_page(book, "Tank labels", (30, 46, 34))
    page.sheet.one_page = True
    for i in range(TANK_ROWS):
        _label(page, i)


def _label(page: Page, i: int) -> None:
    def said(name: str, column: int, key: str, style: str, across: int = 1, down: int = 1) -> None:
        placed(page, f"{name}_{i + 1}", column, typed_words, (part(key, i),), style, across, down)

    page.sheet.put(1, "Fertilizer stock", "label kind")
    page.sheet.put(2, "Not drinking water", "label drink", across=2)
    page.end_row(22)
    said("on_tank", 1, "label_tanks", "label letter framed", 1, 4)
    said("on_holds", 2, "label_holds", "label item", 2)
    page.end_row(60)
    said("on_strength", 2, "label_strength", "label set")
    said("on_setting", 3, "label_setting", "label setting")
    page.end_row(52)
    said("on_hazard", 2, "label_hazard", "label hazard", 2)
    page.end_row(40)
    page.sheet.put(
        2, "Goggles and gloves. Eyes: rinse 15 minutes, call a doctor.", "label line", across=2
    )
    page.end_row(34)
    for column, words in enumerate(("mixed on", "by", "best before"), 1):
        page.sheet.put(column, words, "label write")
    page.end_row(30)
    page.sheet.put(1, "The label of the bag comes first.", "cut", across=3)
    page.end_row(16)
    page.end_row(8)
