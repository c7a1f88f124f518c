"""The recipe workbook's hidden sheet "Instead": what would pass where a tank does not, tried on
every rule of a tank."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import LABEL, NOTE, NUMBER, TEXT, TYPED
from tanksheet.templates.recipe import instead_working as work
from tanksheet.templates.recipe import reason_working as reason
from tanksheet.templates.recipe import tank_working as mixing
from tanksheet.templates.recipe import thinning_working as thinning
from tanksheet.templates.recipe.feed import PRODUCTS, each
from tanksheet.templates.recipe.placing import OF_CLASS
from tanksheet.templates.recipe.reasons import RULES, ranked
from tanksheet.templates.recipe.tanks import (
    OF_WATER,
    Placed,
    counted,
    ph_rows,
    settling,
    tank_row,
    whole_tank,
)
from tanksheet.templates.recipe.working import TANKS
from tanksheet.templates.working import itself

OF = "then_"
LOW = tuple(letter.lower() for letter in TANKS)
# Rules that a thinner stock helps; the others ask for a split.
THINNED = (
    *("strong acid", "more liquid than the tank holds", "one product beyond its solubility"),
    *("mixed salts crystallize", "more than fits", "trace products together"),
)
# Sums that shrink as the stock is thinned, beyond the ions.
SHRINKING = ("sum_liquids", "sum_all_shares", "sum_other_shares")


def instead(book: Book) -> None:
    """Works out ``instead_words``, ``instead_way``, ``then_ratio`` and ``then_worst_a`` to ``_c``:
    what to change, and the worst rank of each tank after it."""
    page = add_page(book, "Instead", (34, *[11] * 20), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading(
        "What would pass",
        "Other tanks, a smaller ratio or a larger tank, tried on every rule. Nothing to type here.",
    )
    _clashes(page)
    table = _products(page)
    _which_tanks(page, table)
    _shares(page, table)
    _scales(page)
    _tanks_then(page)
    _ranks_then(page)
    _words(page, table)


def _single(page: Page, key: str, label: str, function: Any, keys: tuple[str, ...]) -> None:
    page.sheet.put(1, label, "label")
    arguments = tuple(page.book.key_for(each) for each in keys)
    page.words(key, page.sheet.at(2), function, arguments, "grid")
    page.end_row()


def _clashes(page: Page) -> None:
    """Whether products clash, and what may be changed."""
    first = next(i for i, rule in enumerate(RULES) if rule["clash"] in THINNED)
    last = max(i for i, rule in enumerate(RULES) if rule["clash"] not in THINNED)
    run = page.book.cells_of
    clashes = []
    for low in LOW:
        before = run(tuple(part(f"ranks_{low}", i) for i in range(1, first)))
        after = run(tuple(part(f"ranks_{low}", i) for i in range(first + 1, last + 1)))
        clashes.append((before, after))
    page.sheet.put(1, "worst clash", "label")
    for column, (low, keys) in enumerate(zip(LOW, clashes, strict=True), 2):
        page.place(f"clash_{low}", column, work.worst_clash, keys, "0")
    page.end_row()
    for word, function in (("typed", thinning.one_if_typed), ("worked", thinning.one_if_worked)):
        table = Table(page, PRODUCTS)
        table.computed(f"is_{word}", 2, each(function, "used", "free"), known=NUMBER)
        table.end()
        page.sheet.put(1, word, "label")
        page.place(f"some_{word}", 2, mixing.largest(PRODUCTS), (f"is_{word}",), "0")
        page.end_row()
    volumes = tuple(f"tank_{low}" for low in LOW)
    _single(page, "instead_way", "way", thinning.way_of, ("some_typed", "some_worked", *volumes))
    page.sheet.put(1, "split", "label")
    of_all = ("instead_way", *(f"clash_{low}" for low in LOW))
    page.place("instead_split", 2, work.one_if_split, of_all, "0")
    page.end_row()


def _products(page: Page) -> Table:
    page.sheet.put(1, "Product", "table head")
    page.end_row()
    table = Table(page, PRODUCTS)
    table.computed("products_then", 1, each(itself, "listed"), known=TEXT, style="row name")
    features = (f"is_{name}" for name in OF_CLASS)
    kinds = each(work.class_if_auto, "listed", *features)
    table.computed("kinds_of_all", 2, kinds, known=TEXT)
    unsuited = each(work.both_flags, "tank_too_acid", "tank_too_alkaline")
    table.computed("unsuited", 3, unsuited, known=NUMBER)
    table.end()
    page.gap()
    return table


def _which_tanks(page: Page, table: Table) -> None:
    """The tank that each class would have, then that of each product."""
    for word in ("calcium", "salts"):
        keys = ("kinds_of_all", "used_tanks")
        _single(page, f"{word}_now", f"{word} now", work.tank_of(word), keys)
    for word in ("thiosulfate", "chelates", "chlorine", "alkali", "acid", "sour salts"):
        page.sheet.put(1, word, "label")
        key = f"some_{word.replace(' ', '_')}"
        page.place(key, 2, work.one_if_class(word), ("kinds_of_all",), "0")
        page.end_row()
    _single(page, "then_salts", "salts", work.salts_tank, ("salts_now", "calcium_now"))
    _single(page, "then_calcium", "calcium", work.calcium_tank, ("calcium_now", "then_salts"))
    tanks = ("then_calcium", "then_salts")
    _single(page, "then_third", "the third", work.third_tank, tanks)
    for key, sides in (
        ("then_harsh", ("some_chlorine", "some_alkali")),
        ("then_sour", ("some_acid", "some_sour_salts")),
        ("then_sharp", ("then_harsh", "then_sour")),
    ):
        page.sheet.put(1, key, "label")
        page.place(key, 2, work.larger, sides, "0")
        page.end_row()
    beside = ("then_harsh", "some_thiosulfate", "some_chelates", *tanks, "then_third")
    _single(page, "then_acid", "acid", work.acid_tank, beside)
    own = ("used_tanks", "kinds_of_all", "unsuited")
    of_all = tuple(f":{key}" for key in (*tanks, "then_third", "then_acid", "then_sharp"))
    where = each(work.instead_tank, ":instead_split", *own, *of_all)
    table.computed("instead_tanks", 4, where, known=TEXT)


def _shares(page: Page, table: Table) -> None:
    """What each product takes up in the tank it would have, and each tank as strong as now."""
    for column, letter in enumerate(TANKS, 5):
        own = each(mixing.share_in(letter), "instead_tanks", "shares")
        table.computed(f"then_shares_{letter.lower()}", column, own, known=NUMBER)
    page.gap()
    page.sheet.put(1, "largest share", "label")
    for column, low in enumerate(LOW, 2):
        page.place(
            f"raw_largest_{low}", column, mixing.largest(PRODUCTS), (f"then_shares_{low}",), "0"
        )
    page.end_row()
    sums = {f"raw_{key}": f"tank_{key}" for key in (*RAW, "acid")}
    sums |= {"raw_liquids": "liquid_shares", "raw_traces": "trace_shares"}
    sums |= {"raw_all": "all_shares", "raw_kinds": "used"}
    for key, column_of in sums.items():
        keys = ("instead_tanks", column_of)
        tank_row(page, key, (f"+{key}", thinning.raw, keys, "#,##0.0"))


RAW = (
    *("calcium", "magnesium", "potassium", "sodium", "ammonium", "nitrate", "sulfate", "chloride"),
    *("bicarbonate", "dihydrogen_phosphate", "urea", "borate", "thiosulfate"),
)


def _scales(page: Page) -> None:
    """How much thinner each tank would have to be, and the ratio or tank that makes it so."""
    rest = (*(f"water_ion_{ion}" for ion in OF_WATER), "water_alkali", "temperature", "raw_kinds_*")
    brought = (*(f"raw_{key}_*" for key in RAW), *rest)
    linear = ("raw_largest_*", "raw_all_*", "raw_traces_*", "raw_liquids_*", "raw_acid_*")
    curve = ("scale_1_*", "crystals_1_*", "scale_2_*", "crystals_2_*")
    rows: tuple[tuple[str, Any, tuple[str, ...]], ...] = (
        ("scale_1", thinning.first_scale, linear),
        ("crystals_1", thinning.crystals_at, ("scale_1_*", *brought)),
        ("scale_2", thinning.second_scale, ("scale_1_*", "crystals_1_*")),
        ("crystals_2", thinning.crystals_at, ("scale_2_*", *brought)),
        ("scale_3", thinning.third_scale, curve),
    )
    for key, function, keys in rows:
        tank_row(page, key, (key, function, keys, "0.000"))
    keys = ("instead_way", "ratio_set", *(f"scale_3_{low}" for low in LOW))
    page.sheet.put(1, "ratio", "label")
    page.place("then_ratio", 2, thinning.ratio_then, keys, "0.0")
    page.end_row()
    unit = tank_unit(page.book)
    own = ("instead_way", "tank_*", "scale_3_*")
    tank_row(page, "tank", ("then_tank", thinning.volume_then(unit), own, "#,##0"))
    then = ("then_ratio", "ratio_set", "tank_*", "then_tank_*")
    tank_row(page, "thinner", ("scale", thinning.scale_then, then, "0.000"))


def tank_unit(book: Book) -> str:
    return "gal" if book.edition == "us" else "L"


def _tanks_then(page: Page) -> None:
    """All that the rules ask of a tank, after the change."""
    rows = (*whole_tank(), *ph_rows()[:3])
    page.section_words("Each tank then", 4)
    for label, row in rows:
        tank_row(page, label, _then(row))
    _by_ph_then(page)
    for label, row in (*settling(), *counted(PRODUCTS)):
        tank_row(page, label, _then(row))


def _by_ph_then(page: Page) -> None:
    table = Table(page, PRODUCTS)
    phs = (f":{OF}used_ph_{low}" for low in LOW)
    here = each(mixing.ph_here, "instead_tanks", *phs)
    table.computed("then_ph_here", 2, here, pattern="0.0", known=NUMBER)
    for column, (name, function) in enumerate(
        (("too_acid", mixing.one_if_too_acid), ("too_alkaline", mixing.one_if_too_alkaline)), 3
    ):
        then = each(function, "listed", "used", "then_ph_here")
        table.computed(f"{OF}tank_{name}", column, then, known=NUMBER)
    table.end()


ROWS = {
    row[0].strip("+") for _, row in (*whole_tank(), *ph_rows(), *settling(), *counted(PRODUCTS))
}
RENAMED = {"used_tanks": "instead_tanks", "tank_too_acid": f"{OF}tank_too_acid"}
RENAMED |= {"tank_too_alkaline": f"{OF}tank_too_alkaline", "shares_*": f"{OF}shares_*"}


def _then(row: Placed) -> Placed:
    """The same row of a tank after the change: of other products, and thinner."""
    name, make, keys, pattern = row
    bare = name.strip("+")
    then = tuple(
        f"{OF}{key}" if key.removesuffix("_*") in ROWS else RENAMED.get(key, key) for key in keys
    )
    if make is mixing.total_with_water:
        return f"+{OF}{bare}", thinning.total_then_with_water, (*then, "scale_*"), pattern
    if bare == "sum_product_share":
        return f"{OF}{bare}", thinning.share_then, ("raw_largest_*", "scale_*"), pattern
    ions = len(keys) == 2 and keys[1] == f"tank_{bare.removeprefix('sum_')}"
    if make is mixing.total and (ions or bare in SHRINKING):
        counts = bare in ("sum_too_acid", "sum_too_alkaline")
        if not counts:
            return f"+{OF}{bare}", thinning.total_then, (*then, "scale_*"), pattern
    return name.replace(bare, f"{OF}{bare}"), make, then, pattern


def _ranks_then(page: Page) -> None:
    page.section_words("How bad each rule is then", 7)
    table = Table(page, len(RULES))
    table.labels(1, [str(rule["clash"]) for rule in RULES])
    for i, low in enumerate(LOW):
        ranked(table, low, 2 + i, len(LOW), RULES, OF)
    table.end()
    worst = ("then_worst", reason.worst_of, (f"{OF}ranks_*",), "0")
    tank_row(page, "worst", worst)


def _words(page: Page, table: Table) -> None:
    """What is to be changed, in words."""
    moved = each(work.moved_word, "listed", "used_tanks", "instead_tanks", "used")
    table.computed("move_words", 8, moved, known=TEXT, style="quiet")
    row, book = page.sheet.row, page.book
    for i in range(PRODUCTS):
        page.sheet.row = table.first + i
        keys = [part("move_words", i)]
        keys = [part("all_moves", i - 1), *keys] if i else keys
        function: Any = work.more_moves if i else itself
        key, cell = part("all_moves", i), page.sheet.at(9)
        arguments = tuple(book.key_for(each) for each in keys)
        page.formula(Formula(key, cell, function, arguments, "all_moves", known=TEXT), "quiet")
    page.sheet.row = row
    book.add_range("all_moves", tuple(part("all_moves", i) for i in range(PRODUCTS)), True)
    _single(page, "ratio_words", "ratio", work.ratio_words, ("then_ratio", "ratio_set"))
    unit = tank_unit(book)
    for letter, low in zip(TANKS, LOW, strict=True):
        keys_of = (f"then_tank_{low}", f"tank_{low}")
        _single(page, f"tank_words_{low}", letter, work.tank_words(letter, unit), keys_of)
    parts = (part("all_moves", PRODUCTS - 1), "ratio_words", *(f"tank_words_{low}" for low in LOW))
    _single(page, "instead_words", "in all", work.all_words, parts)


USES = (
    *(f"worst_{low}" for low in LOW),
    *(f"{OF}worst_{low}" for low in LOW),
    *("instead_words", "instead_way", "then_ratio"),
)


def would_pass(page: Page) -> None:
    """The row that says what would pass, where a tank does not: silent where all do."""
    page.sheet.put(LABEL, "What would pass", "label")
    keys = tuple(page.book.key_for(key) for key in USES)
    cell = page.sheet.at(TYPED)
    page.words("what_would_pass", cell, work.what_would_pass, keys, "said", NOTE - 1)
    page.end_row(52)
