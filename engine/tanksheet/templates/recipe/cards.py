"""The recipe workbook's mixing cards: one a tank and page, a second page where one is not enough,
and all tanks on one page."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Mark
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.recipe import expect_working as expect
from tanksheet.templates.recipe import label_working as label
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.card_plan import (
    LETTERS,
    ON_A_PAGE,
    STEPS,
    WEIGHTS,
    card_plan,
    say,
)
from tanksheet.templates.recipe.feed import PRODUCTS
from tanksheet.templates.recipe.labels import labels
from tanksheet.templates.recipe.wording import begins_with_one_of, is_one_of
from tanksheet.templates.working import itself

WIDTHS = (29, 20, 6, 22, 21)
WHAT, AMOUNT, TICK, LOT, READ = range(1, 6)
STEP, BETWEEN = 36, 4  # points: a step, and the gap to the next
Placed = tuple[Any, tuple[str, ...]]  # what works a cell out, from which keys
FILLS = 5  # of the same recipe that one card is for
LOG = ("when", "ec_read", "ph_read", "mixed_by", "checked_by")
HEADS = ("order", "weigh", "tick", "lot", "scale_read")
PAIRED = {"metric": "card amount", "us": "card pair"}


def cards(book: Book) -> None:
    """All that is printed and carried to the tanks."""
    card_plan(book)
    for low, letter in zip(LETTERS, work.TANKS, strict=True):
        _card(book, low, letter)
    _second_page(book)
    _all_on_one(book)
    labels(book)


def placed(
    page: Page,
    name: str,
    column: int,
    function: Any,
    keys: tuple[str, ...],
    style: str,
    across: int = 1,
    down: int = 1,
) -> None:
    """Words in a cell of a card; their name is no one's business."""
    page.words(name, page.sheet.at(column), function, keys, style, across, True, down)


def marked(page: Page, columns: tuple[int, int], formula: str, style: str, row: int = 0) -> None:
    """A mark on the cells of a row from one column to another."""
    row = row or page.sheet.row
    cells = tuple(page.sheet.at(column, row) for column in range(columns[0], columns[1] + 1))
    page.sheet.marks.append(Mark(cells, formula, style))


def sheet_of(book: Book, title: str, widths: tuple[float, ...] = WIDTHS) -> Page:
    page = add_page(book, title, widths)
    page.sheet.one_page = True
    return page


def _card(book: Book, low: str, letter: str) -> None:
    page = sheet_of(book, f"Card {letter}")
    cell = page.sheet.at(WHAT)
    page.words(f"card_{low}", cell, expect.title(letter), (say("tank"),), "card tank", 2, False, 2)
    _who(page, low, f"who_{low}")
    _hazards(page, low)
    state = f"state_{low}"
    placed(page, f"box_{low}_here", WHAT, itself, (f"box_{low}",), "card box", READ)
    for key, style in (("not_checked", "not checked"), ("caution", "caution")):
        marked(page, (WHAT, READ), begins_with_one_of(f"$A${page.sheet.row}", key), style)
    page.end_row(30)
    _heads(page, low, state, HEADS, log=False)
    for i in range(ON_A_PAGE):
        step = part(f"steps_{low}", i)
        lines, doses = (step, part(f"lines_{low}", i)), (step, part(f"doses_{low}", i))
        _step(page, f"{i + 1}_{low}", (expect.unless_set, lines), (expect.unless_set, doses))
    placed(page, f"going_on_{low}_here", WHAT, itself, (f"going_on_{low}",), "card words", READ)
    page.end_row(16)
    _ending(page, low, f"ending_{low}", f"set_words_{low}", f"setting_{low}")


def _who(page: Page, low: str, who: str) -> None:
    """Name and version at the right of the title, which is two rows high."""
    placed(page, f"name_on_{low}", LOT, itself, ("card_name",), "card who", 2)
    page.end_row(24)
    placed(page, f"version_on_{low}", LOT, itself, (who,), "card who", 2)
    page.end_row(20)


def _bar(page: Page, low: str, bar: str, wear: str) -> None:
    row = page.sheet.row
    placed(page, f"signal_on_{low}", WHAT, itself, (bar,), "card signal", 2)
    placed(page, f"wear_on_{low}", TICK, itself, (wear,), "card wear", 3)
    danger = is_one_of(f"$A${row}", "danger", "do_not_mix")
    marked(page, (WHAT, READ), danger, "danger")
    marked(page, (WHAT, READ), is_one_of(f"$A${row}", "warning"), "warning")
    marked(page, (WHAT, READ), is_one_of(f"$A${row}", "unknown"), "unknown")
    page.end_row(26)


def _hazards(page: Page, low: str) -> None:
    """The bar, what the products can do, first aid and spills; of a stopped tank why and the
    cure."""
    _bar(page, low, f"bar_{low}", f"wear_{low}")
    for name, tall in (("first_words", 46), ("second_words", 46)):
        placed(page, f"{name}_on_{low}", WHAT, itself, (f"{name}_{low}",), "card words", READ)
        page.end_row(tall)


def _heads(page: Page, low: str, state: str, keys: tuple[str, ...], log: bool) -> None:
    for column, key in enumerate(keys, 1):
        style = {AMOUNT: "card column right", TICK: "card column middle"}.get(column)
        style = "card column" if log or style is None else style
        name = f"{'log' if log else 'head'}_{column}_{low}"
        placed(page, name, column, expect.if_mix, (state, say(key)), style)
    marked(page, (WHAT, READ), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(16)


def _step(page: Page, end: str, line: Placed, dose: Placed) -> None:
    """What to do, how much, a box to tick, and room for the lot and the reading of the scale."""
    row = page.sheet.row
    placed(page, f"step_{end}", WHAT, *line, "card step")
    placed(page, f"dose_{end}", AMOUNT, *dose, PAIRED[page.book.edition])
    page.sheet.put(TICK, "", "tick")
    page.sheet.put(LOT, "", "write here")
    page.sheet.put(READ, "", "write here")
    marked(page, (TICK, TICK), f"LEN($A{row})>0", "tick box")
    marked(page, (LOT, READ), f"LEN($B{row})>0", "line")
    page.end_row(STEP)
    page.gap(BETWEEN)


def _ending(page: Page, low: str, end: str, set_words: str, setting: str) -> None:
    """The injector, what to expect and when to stop, how long a fill lasts, and lines to write
    on."""
    line, dose = (expect.if_mix, (end, set_words)), (expect.if_mix, (end, setting))
    _step(page, f"set_{low}", line, dose)
    placed(page, f"emitter_{low}", WHAT, expect.if_mix, (end, say("emitter")), "card column", 2)
    placed(page, f"expect_{low}", LOT, expect.if_mix, (end, say("expect")), "card column")
    marked(page, (WHAT, READ), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(18)
    for key, value, bounds in (
        ("ec", f"card_ec_{low}", f"ec_bounds_{low}"),
        ("ph", f"card_ph_{low}", f"ph_bounds_{low}"),
    ):
        placed(page, f"label_{key}_{low}", WHAT, expect.if_mix, (end, say(key)), "card label")
        placed(page, f"{key}_on_{low}", AMOUNT, itself, (value,), "card amount")
        placed(page, f"{key}_stop_{low}", LOT, itself, (bounds,), "card bounds", 2)
        page.end_row(28)
    for key, column in (("lasts", WHAT), ("makes", LOT)):
        placed(page, f"label_{key}_{low}", column, expect.if_mix, (end, say(key)), "card label")
        beside = AMOUNT if column == WHAT else READ
        placed(page, f"{key}_on_{low}", beside, itself, (f"{key}_{low}",), "card pair")
    page.end_row(24)
    _log(page, low, end)


def _log(page: Page, low: str, end: str) -> None:
    _heads(page, low, end, LOG, log=True)
    head = page.sheet.row - 1
    for _ in range(FILLS):
        for column in range(WHAT, READ + 1):
            page.sheet.put(column, "", "write here")
        marked(page, (WHAT, READ), f"LEN($A${head})>0", "line")
        page.end_row(19)
    # Last, since one program does not print the empty rows behind the last words of a sheet.
    placed(
        page, f"label_{low}", WHAT, expect.if_mix, (end, say("label_first")), "card column", READ
    )
    page.end_row(16)


def _second_page(book: Book) -> None:
    """The steps after the tenth of the one tank that has so many."""
    page = sheet_of(book, "Card page 2")
    low = "second"
    keys: tuple[str, ...] = ("second_tank", say("tank"), say("page_2"))
    placed(page, "card_second", WHAT, expect.second_title, keys, "card tank", 3, 2)
    _who(page, low, "who_second")
    _bar(page, low, "bar_second", "wear_second")
    keys = ("second_tank", say("no_page_2"))
    placed(page, "no_second", WHAT, expect.unless_filled, keys, "card words", READ)
    page.end_row(18)
    _heads(page, low, "state_2", HEADS, log=False)
    for i in range(ON_A_PAGE, STEPS - 1):
        steps, lines, doses = (_of_second(run, i) for run in ("steps", "lines", "doses"))
        line = (expect.second_step, ("second_tank", *steps, *lines))
        dose = (expect.second_step, ("second_tank", *steps, *doses))
        _step(page, f"{i + 1}_second", line, dose)
    keys = ("second_tank", say("stir"))
    placed(page, "stir_second", WHAT, expect.if_filled, keys, "card words", READ)
    page.end_row(18)
    _ending(page, "2", "state_2", "set_words_second", "setting_a")


def _of_second(run: str, i: int) -> tuple[str, ...]:
    return tuple(part(f"{run}_{low}", i) for low in LETTERS)


# all tanks on one page

TANK, NAME, DOSE, DONE, NOTES = range(1, 6)
ALL_WIDTHS = (14, 30, 18, 6, 30)


def _all_on_one(book: Book) -> None:
    page = sheet_of(book, "Cards", ALL_WIDTHS)
    placed(page, "all_tanks_title", TANK, itself, (say("all_tanks"),), "card title", 3)
    placed(page, "all_tanks_who", DONE, itself, ("who_on_label",), "card who", 2)
    page.end_row(28)
    for low, letter in zip(LETTERS, work.TANKS, strict=True):
        _tank_in_short(page, low, letter)
    page.gap()
    _products_in_short(page)
    page.gap()
    placed(page, "all_tanks_stir", TANK, itself, (say("label_first"),), "card words", NOTES)
    page.end_row(18)
    for number in (1, 2):
        line = say(f"safety_{number}")
        placed(page, f"all_tanks_safety_{number}", TANK, itself, (line,), "safety", NOTES)
        page.end_row(28)


def _tank_in_short(page: Page, low: str, letter: str) -> None:
    """A tank's bar, and what it must be filled to; or why it is not mixed."""
    row = page.sheet.row
    title = expect.title(letter)
    placed(page, f"short_{low}", TANK, title, (say("tank"),), "card signal")
    placed(page, f"short_bar_{low}", NAME, itself, (f"bar_{low}",), "card signal")
    keys: tuple[str, ...] = (f"state_{low}", f"full_{low}")
    placed(page, f"short_full_{low}", DOSE, expect.if_mix, keys, "card pair")
    keys = (f"state_{low}", f"setting_{low}")
    placed(page, f"short_set_{low}", DONE, expect.if_mix, keys, "card pair", 2)
    marked(page, (NAME, NAME), is_one_of(f"$B${row}", "danger", "do_not_mix"), "danger")
    marked(page, (NAME, NAME), is_one_of(f"$B${row}", "warning"), "warning")
    marked(page, (NAME, NAME), is_one_of(f"$B${row}", "unknown"), "unknown")
    page.end_row(26)
    keys = (f"state_{low}", f"wear_{low}", f"card_{low}_verdict")
    placed(page, f"short_words_{low}", TANK, expect.in_short, keys, "card words", NOTES)
    page.end_row(30)
    placed(page, f"short_box_{low}", TANK, itself, (f"box_{low}",), "card box", NOTES)
    for key, style in (("not_checked", "not checked"), ("caution", "caution")):
        marked(page, (TANK, NOTES), begins_with_one_of(f"$A${page.sheet.row}", key), style)
    page.end_row(32)


def _products_in_short(page: Page) -> None:
    for column, key in enumerate(("tank", "order", "weigh", "tick", "lot"), 1):
        style = {DOSE: "card column right", DONE: "card column middle"}.get(column, "card column")
        placed(page, f"short_head_{column}", column, itself, (say(key),), style)
    marked(page, (TANK, NOTES), f"LEN($A{page.sheet.row})>0", "line")
    page.end_row(18)
    for i in range(PRODUCTS):
        code = part("ranked_codes", i)
        row = page.sheet.row
        placed(page, f"short_tank_{i + 1}", TANK, label.tank_of, (code,), "card signal")
        keys = (code, "card_names")
        placed(page, f"short_name_{i + 1}", NAME, label.of_place, keys, "card step")
        keys = (code, WEIGHTS)
        placed(page, f"short_dose_{i + 1}", DOSE, label.of_place, keys, "card pair")
        page.sheet.put(DONE, "", "tick")
        keys = (code, say("slowly"))
        placed(page, f"short_note_{i + 1}", NOTES, label.slowly_if_acid, keys, "write here")
        marked(page, (DONE, DONE), f"LEN($A{row})>0", "tick box")
        marked(page, (NOTES, NOTES), f"LEN($A{row})>0", "line")
        page.end_row(34)
