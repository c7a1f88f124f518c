"""The recipe workbook's labels for the tanks: two to a page, or one for a large tank."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Mark
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.recipe import expect_working as expect
from tanksheet.templates.recipe import label_working as label
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.card_plan import LETTERS, WEIGHTS, say
from tanksheet.templates.recipe.wording import is_one_of
from tanksheet.templates.working import itself

WIDTHS = (23, 46, 8, 33)
LETTER, WHAT, BESIDE, AMOUNT = range(1, 5)
LOOKS = {"a": "label letter", "b": "label letter framed", "c": "label letter ruled"}
# Points. Together, at the scale of its sheet, half a page of Letter paper, or one turned page.
TOP, ITEM, ALSO, STOCK, SETTING = 20, 22, 30, 18, 44
SIGNAL, AID, NEVER, WRITE, CUT = 70, 70, 24, 22, 14
SCALES = {"small": 82, "large": 115}


def labels(book: Book) -> None:
    for size, title in (("small", "Labels"), ("large", "Large labels")):
        page = add_page(book, title, WIDTHS, landscape=size == "large")
        page.sheet.scale = SCALES[size]
        for low, letter in zip(LETTERS, work.TANKS, strict=True):
            _label(page, size, low, letter)
            # Two small ones share a page.
            if size == "large" or low == "b":
                page.sheet.breaks.append(page.sheet.row - 1)
        if size == "large":
            page.sheet.breaks.pop()  # the last one ends the sheet


def _placed(page: Page, name: str, column: int, call: Any, style: str, *more: int) -> None:
    """Words in a cell; ``more`` says over how many columns and rows."""
    across, down = (*more, 1, 1)[:2]
    function, keys = call
    page.words(name, page.sheet.at(column), function, keys, style, across, True, down)


def _label(page: Page, size: str, low: str, letter: str) -> None:
    end = f"{size}_{low}"
    _placed(page, f"kind_{end}", LETTER, (itself, (say("fertilizer_stock"),)), "label kind")
    _placed(page, f"drink_{end}", WHAT, (itself, (say("not_drinking"),)), "label drink")
    _placed(page, f"whose_{end}", BESIDE, (itself, ("who_on_label",)), "label who", 2)
    page.end_row(TOP)
    page.sheet.put(LETTER, letter, LOOKS[low], down=label.LINES + 3)
    _contents(page, size, low, letter)
    _dangers(page, end, low)
    _below(page, end, letter)


def _contents(page: Page, size: str, low: str, letter: str) -> None:
    """What is in the tank, in how much stock, and where the injector stands."""
    end = f"{size}_{low}"
    state, places = f"label_{end}", f"places_{low}"
    elsewhere = say("on_large" if size == "small" else "on_small")
    reasons = (say("no_label"), say("not_used"), elsewhere)
    for i in range(1, label.LINES + 1):
        first = (label.first_item, (state, places, "card_names", *reasons))
        item = (label.at_place(i), (state, places, "card_names"))
        _placed(page, f"item_{i}_{end}", WHAT, first if i == 1 else item, "label item", 2)
        dose = (label.at_place(i), (state, places, WEIGHTS))
        _placed(page, f"much_{i}_{end}", AMOUNT, dose, "label amount")
        page.end_row(ITEM)
    also = (label.also, (state, f"others_{low}", say("also")))
    _placed(page, f"also_{end}", WHAT, also, "label line", 3)
    page.end_row(ALSO)
    stock = (label.in_stock, (state, say("in_stock"), f"full_{low}", say("of_stock")))
    _placed(page, f"stock_{end}", WHAT, stock, "label line", 3)
    page.end_row(STOCK)
    injector = (label.injector_words(letter), (state, say("injector"), say("set_to")))
    _placed(page, f"injector_{end}", WHAT, injector, "label set")
    setting = (expect.if_mix, (state, f"setting_{low}"))
    _placed(page, f"ratio_{end}", BESIDE, setting, "label setting", 2)
    page.end_row(SETTING)


def _dangers(page: Page, end: str, low: str) -> None:
    """Signal word, hazards, first aid, what it must not meet; room for the bags' diamonds."""
    state, sheet = f"label_{end}", page.sheet
    cell = sheet.at(LETTER)
    signal = (expect.if_mix, (state, f"signal_{low}"))
    _placed(page, f"label_signal_{end}", LETTER, signal, "label signal")
    for key, style in (("danger", "danger"), ("warning", "warning"), ("unknown", "unknown")):
        sheet.marks.append(Mark((cell,), is_one_of(cell.cell, key), style))
    hazards = (expect.if_mix, (state, f"hazards_said_{low}"))
    _placed(page, f"label_hazards_{end}", WHAT, hazards, "label hazard", 2)
    box = (expect.if_mix, (state, say("diamonds")))
    _placed(page, f"diamonds_{end}", AMOUNT, box, "label box", 1, 3)
    page.end_row(SIGNAL)
    aid = (label.label_aid, (state, f"wear_{low}", f"aid_said_{low}"))
    _placed(page, f"label_aid_{end}", LETTER, aid, "label aid", 3)
    page.end_row(AID)
    letters = [each for each in LETTERS if each != low]
    never = label.never_words(*(each.upper() for each in letters))
    used = tuple(f"card_used_{each}" for each in letters)
    words = (state, *used, *(say(key) for key in ("never", "or", "never_any")))
    _placed(page, f"never_{end}", LETTER, (never, words), "label never", 3)
    page.end_row(NEVER)


def _below(page: Page, end: str, letter: str) -> None:
    """Lines to write on, the word that the bag comes first, and a line to cut along."""
    page.gap(4)
    for column, key in ((LETTER, "mixed_on"), (WHAT, "by"), (AMOUNT, "sheets_at")):
        _placed(page, f"write_{column}_{end}", column, (itself, (say(key),)), "label write")
    page.sheet.put(BESIDE, "", "label write")
    page.end_row(WRITE)
    _placed(page, f"bag_first_{end}", LETTER, (itself, (say("label_first"),)), "cut", 4)
    page.end_row(CUT)
    page.gap(6)
