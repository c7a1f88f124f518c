"""The recipe workbook's hidden sheet "Placing": the tank of each product left to the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import placing_working as work
from tanksheet.templates.recipe.feed import PRODUCTS, each
from tanksheet.templates.recipe.working import TANKS
from tanksheet.templates.working import itself

# Each feature of a product that decides its tank: how it is told, and from what.
FEATURES: dict[str, tuple[Any, tuple[str, ...]]] = {
    "calcium": (work.one_if_any, ("percent_ca",)),
    "salts": (work.one_if_salts, ("percent_p", "percent_s", "ion_metal")),
    "traces": (work.one_if_traces, ("ion_metal", "ion_borate", "ion_molybdate")),
    "thio": (work.one_if_any, ("ion_thiosulfate",)),
    "acid": (work.one_if_acid, ("ion_hydrogen", "ion_molybdate")),
    "alkali": (work.one_if_either, ("ion_silicate", "ion_bicarbonate")),
    "chlorine": (work.one_if_any, ("ion_chlorine",)),
    "chelates": (work.one_if_any, ("ion_complex",)),
    "amines": (work.one_if_either, ("ion_ammonium", "ureas")),
    "any_of": (work.one_if_named, ("listed",)),
}
OF_CLASS = ("calcium", "salts", "traces", "thio", "acid", "alkali", "chlorine", "chelates")
# Class by class: its harm in a tank, what starts it in A, B and C, and what it looks at there.
Harm = tuple[Any, tuple[float, float, float], tuple[str, ...]]
LAST_FEATURES = ("acid", "alkali", "chlorine")
HARMS: dict[str, Harm] = {
    "calcium": (
        work.harm_of_calcium,
        (0, 0.4, 0.8),
        ("calcium", "salts", "traces", "thio", "alkali", "chlorine"),
    ),
    "salts": (
        work.harm_of_salts,
        (0.4, 0, 0.8),
        ("salts", "calcium", "traces", "alkali", "chlorine"),
    ),
    "traces": (
        work.harm_of_traces,
        (0.4, 0, 0.8),
        ("salts", "calcium", "traces", "alkali", "chlorine"),
    ),
    "chelates": (work.harm_of_chelates, (0, 0.4, 0.8), ("chelates", "acid", "alkali", "chlorine")),
    "thiosulfate": (
        work.harm_of_thiosulfate,
        (0.4, 0, 0.8),
        ("thio", "acid", "calcium", "alkali", "chlorine"),
    ),
    "chlorine": (
        work.harm_of_chlorine,
        (0.8, 0.4, 0),
        ("chlorine", "acid", "amines", "thio", "chelates", "any_of"),
    ),
    "alkali": (
        work.harm_of_alkali,
        (0.8, 0.4, 0),
        ("alkali", "acid", "calcium", "traces", "amines", "any_of"),
    ),
    "acid": (
        work.harm_of_acid,
        (0.8, 0.4, 0),
        ("acid", "thio", "alkali", "chlorine", "chelates", "any_of"),
    ),
    "sour salts": (
        work.harm_of_sour_salts,
        (0.8, 0.4, 0),
        ("acid", "thio", "alkali", "chlorine", "chelates", "calcium", "any_of"),
    ),
    "fixed": (work.harm_of_others, (0, 0.4, work.SPARED), LAST_FEATURES),
}
# The tanks before the rest is balanced.
LAST_PLACED = f"placed_{len(work.CLASSES)}"


def places(book: Book) -> Page:
    """Works out ``placed_first``: the tank of each product but of those that harm little and whose
    amount is worked out, which is blank. Reads the contents."""
    page = add_page(book, "Placing", (30, *[11] * 24), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading(
        "Tanks left to the sheet",
        "What each product is, and class by class the tank where it harms least beside what is "
        "there. Nothing to type here.",
    )
    head = page.sheet.row
    page.end_row()
    products = Table(page, PRODUCTS)
    rounds = [f"after {name}" for name in work.CLASSES]
    products.heads(["Product", *FEATURES, "class", "as typed", *rounds], head)
    again = each(itself, "listed")
    products.computed("products_to_place", 1, again, known=TEXT, style="row name")
    for column, (name, (function, source)) in enumerate(FEATURES.items(), 2):
        products.computed(f"is_{name}", column, each(function, *source), known=NUMBER)
    column = 2 + len(FEATURES)
    features = (f"is_{name}" for name in OF_CLASS)
    kinds = each(work.class_of, "tanks", "listed", "amounts", *features)
    products.computed("classes", column, kinds, known=TEXT)
    products.computed("placed_0", column + 1, each(work.as_typed, "tanks", "listed"), known=TEXT)
    products.end()
    page.gap()
    for i, name in enumerate(work.CLASSES, 1):
        _round(page, i, name)
        where = each(work.placed(name), f"placed_{i - 1}", "classes", f":tank_of_{i}")
        products.computed(f"placed_{i}", column + 1 + i, where, known=TEXT)
    return page


def _round(page: Page, i: int, name: str) -> None:
    """The harm of a class in each tank, and the tank that is chosen for it."""
    harm, starts, features = HARMS[name]
    before = f"placed_{i - 1}"
    page.section_words(name, 4)
    for feature in features:
        _there(page, f"there_{i}", feature, before)
    _in_tanks(page, f"harm_{i}", harm, starts, tuple(f"there_{i}_{each}" for each in features))
    page.sheet.put(1, "tank", "label")
    keys = (*(f"harm_{i}_{letter.lower()}" for letter in TANKS), "auto_tanks")
    page.words(f"tank_of_{i}", page.sheet.at(2), work.least, keys, "grid")
    page.end_row()


def _there(page: Page, key: str, feature: str, tanks: str) -> None:
    page.sheet.put(1, feature, "label")
    for column, letter in enumerate(TANKS, 2):
        name = f"{key}_{feature}_{letter.lower()}"
        page.place(name, column, work.one_if_there(letter), (tanks, f"is_{feature}"), "0")
    page.end_row()


def _in_tanks(
    page: Page, key: str, harm: Any, starts: Sequence[float], features: tuple[str, ...]
) -> None:
    page.sheet.put(1, "harm", "label")
    for column, (letter, start) in enumerate(zip(TANKS, starts, strict=True), 2):
        low = letter.lower()
        keys = tuple(f"{feature}_{low}" for feature in features)
        page.place(f"{key}_{low}", column, harm(start), keys, "0.0")
    page.end_row()


def balance(page: Page) -> None:
    """Works out ``chosen_tanks``. Reads ``worked_doses`` and ``limits``."""
    page.section_words("the rest", 4)
    for feature in LAST_FEATURES:
        _there(page, "there_last", feature, LAST_PLACED)
    starts = (0, 0, work.SPARED)
    keys = tuple(f"there_last_{each}" for each in LAST_FEATURES)
    _in_tanks(page, "harm_last", work.harm_of_others, starts, keys)
    head = page.sheet.row
    page.end_row()
    table = Table(page, PRODUCTS)
    table.heads(["Product", "load, %", *(f"before in {each}" for each in TANKS), "tank"], head)
    table.computed("products_last", 1, each(itself, "listed"), known=TEXT, style="row name")
    own = each(work.load_of, "worked_doses", ":ratio", "limits")
    table.computed("loads", 2, own, pattern="0.0", known=NUMBER)
    for i in range(PRODUCTS):
        page.sheet.row = table.first + i
        _one_more(page, i)
    for name in ("load_a", "load_b", "load_c", "chosen_tanks"):
        page.book.add_range(name, tuple(part(name, i) for i in range(PRODUCTS)), True)
    table.end()


def _one_more(page: Page, i: int) -> None:
    """A row: the loads before a product is placed, and its tank."""
    before = tuple(part(f"load_{letter.lower()}", i) for letter in TANKS)
    for column, (key, letter) in enumerate(zip(before, TANKS, strict=True), 3):
        if i == 0:
            _cell(page, key, column, work.load_in(letter), (LAST_PLACED, "loads"))
            continue
        above = (f"load_{letter.lower()}", "classes", "chosen_tanks", "loads")
        keys = tuple(part(name, i - 1) for name in above)
        _cell(page, key, column, work.load_then(letter), keys)
    harms = tuple(f"harm_last_{letter.lower()}" for letter in TANKS)
    own = (part("classes", i), part(LAST_PLACED, i))
    _cell(page, part("chosen_tanks", i), 6, work.balanced, (*own, *harms, *before, "auto_tanks"))


def _cell(page: Page, key: str, column: int, function: Any, keys: tuple[str, ...]) -> None:
    arguments = tuple(page.book.key_for(each) for each in keys)
    name, cell = key.partition("[")[0], page.sheet.at(column)
    known = TEXT if name == "chosen_tanks" else NUMBER
    page.formula(Formula(key, cell, function, arguments, name, known=known), "quiet", "0.0")
