"""The recipe workbook's sheets for the tanks: what must be kept apart, and the mixing cards."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Mark, begins_with
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import tank_working as mixing
from tanksheet.templates.recipe import working as work

IN_TANK = (
    "calcium",
    "magnesium",
    "potassium",
    "sodium",
    "ammonium",
    "nitrate",
    "sulfate",
    "chloride",
    "bicarbonate",
    "dihydrogen_phosphate",
)
ANIONS = ("nitrate", "chloride", "bicarbonate", "dihydrogen_phosphate")
# Name, function, arguments and number format of a cell.
Placed = tuple[str, Any, tuple[str, ...], str]
SUMS = (
    "calcium",
    "magnesium",
    "sulfate",
    "phosphate",
    "ammonium",
    "K+Na+NH4",
    "anions",
    "free iron",
    "strength",
    "gypsum, g/L",
    "Ca-P, g/L",
    "struvite index",
)


def keep_apart(book: Book, products: Table) -> None:
    """Ions of each product in its tank, every pair of products, and each tank as a whole."""
    page = add_page(book, "Keep apart", (32, *[14.5] * 12), landscape=True, working=True)
    page.heading(
        "What must not share a tank",
        "Each pair of products as strong as it stands in "
        'its tank. "stop": they share one now. "apart": keep them apart. Gypsum is '
        "calcium with sulfate, phosphate is calcium with phosphate, iron is iron without "
        "a chelate with phosphate.",
    )
    pairs = _room_for_pairs(page, products.rows)
    page.gap()
    _each_product(page, products.rows)
    _fill_pairs(page, products.rows, pairs)
    page.gap()
    _each_tank(page)


def _room_for_pairs(page: Page, count: int) -> int:
    """Placed first, filled later, since the ions stand further down. Returns the first row."""
    page.sheet.put(1, "Product", "table head")
    for j in range(count):
        page.sheet.put(2 + j, j + 1, "table head")
    page.end_row()
    page.sheet.row += count
    return page.sheet.row - count


def _each_product(page: Page, count: int) -> None:
    page.section_words("Ions of each product in its tank, mmol/L", 13)
    table = Table(page, count)
    heads = ["Product", *(ion.replace("_", " ") for ion in IN_TANK), "strength", "free iron"]
    table.heads(heads, page.sheet.row - 1)
    table.computed("products_in_tanks", 1, _numbered(), known=TEXT, style="row name")
    for i, ion in enumerate(IN_TANK):
        table.computed(
            f"tank_{ion}",
            2 + i,
            _row(work.times, "strengths", f"ion_{ion}"),
            pattern="#,##0.0",
            known=NUMBER,
        )
    table.computed(
        "ionic",
        12,
        _row(mixing.ionic_of_product, *(f"tank_{ion}" for ion in IN_TANK)),
        pattern="#,##0",
        known=NUMBER,
    )
    table.computed("iron_again", 13, _row(work.same, "free_irons"), pattern="0.0##", known=NUMBER)
    _tank_letters(table)
    table.end()


def _numbered() -> Maker:
    return lambda i: (mixing.numbered(i + 1), (part("listed", i),))


def _row(function: object, *names: str) -> Maker:
    return lambda i: (function, tuple(part(name, i) for name in names))  # type: ignore[return-value]


def _fill_pairs(page: Page, count: int, first_row: int) -> None:
    below, page.sheet.row = page.sheet.row, first_row
    table = Table(page, count)
    table.computed("pair_products", 1, _numbered(), known=TEXT, style="label")
    for j in range(count):
        table.computed(f"pair_{j + 1}", 2 + j, _pair(j), known=TEXT, style="grid")
    cells = tuple(page.sheet.at(2 + j, table.first + i) for i in range(count) for j in range(count))
    for word, style in (("stop", "stop"), ("apart", "caution")):
        page.sheet.marks.append(Mark(cells, begins_with(cells[0].cell, word), style))
    page.sheet.row = below


def _pair(j: int) -> Maker:
    def make(i: int) -> tuple[object, tuple[str, ...]]:
        if i <= j:
            return mixing.no_pair, ()
        columns = (
            "listed",
            "tanks",
            "tank_calcium",
            "tank_sulfate",
            "tank_dihydrogen_phosphate",
            "free_irons",
            "ionic",
        )
        keys = [part(name, row) for name in columns for row in (i, j)]
        return mixing.apart, (*keys, "ph_tank")

    return make  # type: ignore[return-value]


def _tank_letters(table: Table) -> None:
    """Which tank each ion is in, so that a tank's first product with it can be named."""
    for i, ion in enumerate(("calcium", "sulfate", "dihydrogen_phosphate")):
        table.computed(
            f"{ion}_tanks",
            15 + i,
            _row(work.tank_if, "tanks", f"tank_{ion}"),
            style="quiet",
            known=TEXT,
        )


def _each_tank(page: Page) -> None:
    page.section_words("Each tank as it stands", 13)
    for i, head in enumerate(SUMS, 2):
        page.sheet.put(i, head, "grid head")
    page.end_row()
    for letter in work.TANKS:
        low = letter.lower()
        _tank_sums(page, letter)
        page.line(
            f"verdict_{low}",
            mixing.tank_verdict(letter),
            "verdict line",
            gypsum=f"gypsum_{low}",
            dicalcium=f"dicalcium_{low}",
            struvite=f"struvite_{low}",
            iron=f"sum_{low}_iron",
            phosphate=f"sum_{low}_dihydrogen_phosphate",
            strength=f"sum_{low}_strength",
            phosphate_tanks="dihydrogen_phosphate_tanks",
        )


def _tank_sums(page: Page, letter: str) -> None:
    page.sheet.put(1, f"Tank {letter}, mmol/L", "result label")
    for i, (name, function, arguments, pattern) in enumerate(_sums(letter) + _settling(letter)):
        page.place(name, 2 + i, function, arguments, pattern)
    page.end_row()


def _sums(letter: str) -> list[Placed]:
    """What a tank holds altogether: the columns of SUMS up to the strength."""
    low = letter.lower()
    plain: list[Placed] = [
        (f"sum_{low}_{ion}", mixing.tank_sum(letter), ("tanks", f"tank_{ion}"), "#,##0.0")
        for ion in ("calcium", "magnesium", "sulfate", "dihydrogen_phosphate", "ammonium")
    ]
    singles = ("tanks", "tank_potassium", "tank_sodium", "tank_ammonium")
    anions = ("tanks", *(f"tank_{ion}" for ion in ANIONS))
    names = ("calcium", "magnesium", "sulfate", "singles", "anions")
    strength = tuple(f"sum_{low}_{name}" for name in names)
    return [
        *plain,
        (f"sum_{low}_singles", mixing.tank_singles(letter), singles, "#,##0.0"),
        (f"sum_{low}_anions", mixing.tank_anions(letter), anions, "#,##0.0"),
        (f"sum_{low}_iron", mixing.tank_sum(letter), ("tanks", "free_irons"), "0.0##"),
        (f"sum_{low}_strength", mixing.ionic_strength, strength, "#,##0"),
    ]


def _settling(letter: str) -> list[Placed]:
    """What settles out of it: the last three columns of SUMS."""
    low = letter.lower()
    calcium, magnesium, singles, sulfate, anions, phosphate, ammonium, strength = (
        f"sum_{low}_{name}"
        for name in (
            "calcium magnesium singles sulfate anions dihydrogen_phosphate ammonium strength"
        ).split()
    )
    gypsum = (calcium, magnesium, singles, sulfate, anions)
    struvite = (magnesium, ammonium, phosphate, "ph_tank", strength)
    return [
        (f"gypsum_{low}", mixing.tank_gypsum, gypsum, "0.0"),
        (
            f"dicalcium_{low}",
            mixing.tank_phosphate,
            (calcium, phosphate, "ph_tank", strength),
            "0.0",
        ),
        (f"struvite_{low}", mixing.tank_struvite, struvite, "0.0"),
    ]


def cards(book: Book, safety: Sequence[str]) -> None:
    """One card a tank: what goes in, in order."""
    page = add_page(book, "Mixing cards", widths=(92, 8, 8))
    page.sheet.put(1, "Mixing cards", "card title")
    page.end_row(30)
    for letter in work.TANKS:
        _card(page, letter)
    for text in safety:
        page.sheet.put(1, text, "safety")
        page.end_row(42)


def _card(page: Page, letter: str) -> None:
    low, count = letter.lower(), 12
    page.line(f"card_{low}", mixing.card_head(letter), "card head", 24, tank=f"tank_{low}")
    page.line(f"card_{low}_verdict", work.same, "verdict line", 17, amount=f"verdict_{low}")
    table = Table(page, count)
    codes = f"codes_{low}"
    table.computed(
        codes,
        5,
        lambda i: (
            mixing.order_code(letter, i + 1),
            (part("listed", i), part("tanks", i), part("masses", i)),
        ),
        style="quiet",
        hidden=True,
    )
    table.computed(
        f"places_{low}",
        6,
        lambda i: (mixing.place_in_list(i + 1), (codes,)),
        style="quiet",
        hidden=True,
    )
    table.computed(
        f"lines_{low}",
        1,
        lambda i: (
            mixing.card_line(i + 1),
            (part(f"places_{low}", i), "listed", "masses", "densities"),
        ),
        style="card",
        known=TEXT,
    )
    table.end()
    page.gap()
