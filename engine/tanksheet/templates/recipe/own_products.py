"""The recipe workbook's sheet My products: twenty labels as printed, beside ours in the list.

Each becomes a row below the table of fertilizers on the sheet Tables, so that every look-up and
the list of choices finds it. What a label does not tell, its acidity and what else it holds, makes
the product one of unknown ions: ``basis`` says so, and no tank or feed with it passes.
"""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import AddedRow, Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.choices import OFFERED
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.reference import added_cell
from tanksheet.sheets.rows import NUMBER, TABLE_HEIGHT, TEXT
from tanksheet.tables import Datum, rows
from tanksheet.templates.recipe import own_working as work
from tanksheet.templates.recipe import working
from tanksheet.templates.recipe.cost_working import (
    PACK,
    PACK_UNITS,
    PRICE,
    PRICE_SHOWN,
    own_pack,
    own_price,
)
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.working import itself
from tanksheet.units import Number, Percent, Quantity

OWN = 20
TABLE = "fertilizers"
BASIS = working.OWN_LABEL
NAMES = tuple(
    f"{kind} {grade}"
    for kind in ("blend", "my bag")
    for grade in ("20-10-20", "12-2-14", "5-12-26", "20-20-20", "0-0-5", "9-0-1")
)
LABEL = Quantity(Percent, "what the label prints of it", 0, 100)
DENSITY = Quantity(Number, "how heavy a liquid is, in its unit", 0, 4000, above=True)
OXIDES = {"pk": ("P2O5 K2O", "P K"), "camg": ("Ca Mg", "CaO MgO"), "s": ("S", "SO3")}
OXIDES["si"] = ("SiO2", "Si")
# Column of the table of fertilizers: the entry of the sheet, and its usual range on labels.
PLAIN: dict[str, tuple[str, str, tuple[float, float]]] = {
    "n_nitrate": ("nitrate", "Nitrate N", (0, 8)),
    "n_ammonium": ("ammonium", "Ammonium N", (0, 6)),
    "n_urea": ("urea", "Urea N", (0, 8)),
    "fe": ("fe", "Iron", (0, 0.4)),
    "mn": ("mn", "Manganese", (0, 0.2)),
    "zn": ("zn", "Zinc", (0, 0.2)),
    "cu": ("cu", "Copper", (0, 0.1)),
    "b": ("b", "Boron", (0, 0.1)),
    "mo": ("mo", "Molybdenum", (0, 0.02)),
    "na": ("na", "Sodium", (0, 1)),
    "cl": ("cl", "Chloride", (0, 2)),
}
# The same for what may be printed as an oxide: the choice, the oxide, the word for it.
PRINTED: dict[str, tuple[str, str, str, str, tuple[float, float]]] = {
    "p": ("Phosphorus", "pk", "P2O5", "P2O5 K2O", (0, 15)),
    "k": ("Potassium", "pk", "K2O", "P2O5 K2O", (0, 20)),
    "ca": ("Calcium", "camg", "CaO", "CaO MgO", (0, 5)),
    "mg": ("Magnesium", "camg", "MgO", "CaO MgO", (0, 3)),
    "s": ("Sulfur", "s", "SO3", "SO3", (0, 6)),
    "si": ("Silicon", "si", "SiO2", "SiO2", (0, 1)),
}
# Ions that come wholly from the element of a column: what the chemistry of a label tells.
IONS: dict[str, tuple[str, float]] = {
    "calcium": ("ca", working.CA),
    "magnesium": ("mg", working.MG),
    "potassium": ("k", working.K),
    "sodium": ("na", working.NA),
    "ammonium": ("n_ammonium", working.N),
    "nitrate": ("n_nitrate", working.N),
    "sulfate": ("s", working.S),
    "chloride": ("cl", working.CL),
    "dihydrogen_phosphate": ("p", working.P),
    "borate": ("b", 10.81),
    "silicate": ("si", 28.085),
    "molybdate": ("mo", 95.95),
}
WEIGHED = (
    *("n_nitrate", "n_ammonium", "n_urea", "n_other", "p", "k", "ca", "mg", "s", "fe", "mn", "zn"),
    *("cu", "b", "mo", "na", "cl", "si"),
)
METALS = ("fe", "mn", "zn", "cu")
COLUMNS = tuple(rows(TABLE)[0])
LEAD = (
    "Products that are not in our list, from their labels as printed; then choose them in the "
    "workbook by name. What a label does not tell (acidity, solubility, chelates) is not checked, "
    "and no tank with such a product passes. Phosphorus counts as phosphate, sulfur as sulfate."
)


def own_products(book: Book, priced: bool = True) -> None:
    """The sheet; where nothing is ``priced`` it asks for no packs and no prices."""
    widths = (26, 11, 8, 9, 8, 8, 8, 10, 7, 7, 9, 7, 8, 23)
    page = add_page(book, "My products", widths, landscape=True)
    page.heading("My products", LEAD)
    names = _main_nutrients(page)
    traces = _traces(page)
    packs = _packs(page, priced)
    _table_rows(book)
    _judged(page, names, traces, packs)


def _filled(table: Table, name: str, column: int, label: str, usual: tuple[float, float]) -> None:
    table.filled(
        f"own_{name}",
        column,
        label,
        [None] * OWN,
        limits=LABEL,
        usual=usual,
        pattern='0.0###" %"',
        rare=name == "total",
        like="" if name in ("total", "nitrate", "p") else "own_nitrate",
    )


def _printed(table: Table, choice: str, column: int) -> None:
    words = OXIDES[choice]
    table.filled(
        f"own_{choice}_as",
        column,
        "As the label prints it",
        [words[0]] * OWN,
        words=words,
        optional=False,
        like="" if choice == "pk" else "own_pk_as",
    )


def _head(page: Page, title: str, heads: str, columns: int) -> Table:
    page.section_words(title, columns)
    table = Table(page, OWN)
    for i in range(OWN):
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.heads([title, *heads.split(",")], page.sheet.row - 1)
    return table


def _main_nutrients(page: Page) -> Table:
    heads = "total N,NO3-N,NH4-N,urea-N,P,K,as,Ca,Mg,as,S,as,verdict"
    table = _head(page, "Name and nutrients", heads, 14)
    table.filled("own_names", 1, "Name", [None] * OWN, usual_words=NAMES, style="typed maybe word")
    _filled(table, "total", 2, "Total N", (5, 25))
    for column, key in enumerate(("n_nitrate", "n_ammonium", "n_urea"), 3):
        _filled(table, PLAIN[key][0], column, PLAIN[key][1], PLAIN[key][2])
    for key, column in (("p", 6), ("k", 7), ("ca", 9), ("mg", 10), ("s", 12)):
        _filled(table, key, column, PRINTED[key][0], PRINTED[key][4])
    for choice, column in (("pk", 8), ("camg", 11), ("s", 13)):
        _printed(table, choice, column)
    cleaned = each(work.clean_name, "own_names")
    table.computed("own_cleaned", 15, cleaned, behind=True, known=TEXT, hidden=True)
    numbers = lambda i: (work.numbered(i + 1), ())  # noqa: E731
    table.computed("own_numbers", 16, numbers, behind=True, known=NUMBER, hidden=True)
    table.end()
    page.gap()
    return table


def _traces(page: Page) -> Table:
    table = _head(page, "Traces", "Fe,Mn,Zn,Cu,are,B,Mo,Na,Cl,Si,as", 12)
    table.computed(
        "own_again", 1, each(itself, "own_cleaned"), style="row name", known=TEXT, hidden=True
    )
    for key, column in zip(
        (*METALS, "b", "mo", "na", "cl"), (2, 3, 4, 5, 7, 8, 9, 10), strict=True
    ):
        _filled(table, PLAIN[key][0], column, PLAIN[key][1], PLAIN[key][2])
    table.filled("own_metals", 6, "The metals are", [None] * OWN, words=(work.CHELATED, work.SALTS))
    _filled(table, "si", 11, PRINTED["si"][0], PRINTED["si"][4])
    _printed(table, "si", 12)
    table.end()
    page.gap()
    return table


def _packs(page: Page, priced: bool) -> Table:
    title = "Density and pack" if priced else "Density"
    heads = "sold as,density,unit,pack,unit,price" if priced else "sold as,density,unit"
    table = _head(page, title, heads, 7 if priced else 4)
    table.computed(
        "own_once_more", 1, each(itself, "own_cleaned"), style="row name", known=TEXT, hidden=True
    )
    forms = [work.DRY] * OWN
    table.filled("own_forms", 2, "Sold as", forms, words=work.FORMS, optional=False)
    blank = [None] * OWN
    table.filled("own_density", 3, "Density", blank, limits=DENSITY, usual=(1.05, 1.5))
    units = OFFERED["kg/L"]
    table.filled(
        "own_density_units",
        4,
        "Unit of the density",
        ["kg/L"] * OWN,
        words=units,
        usual_words=("kg/L",),
        optional=False,
    )
    if priced:
        _prices(table)
    table.end()
    return table


def _prices(table: Table) -> None:
    blank = [None] * OWN
    table.filled("own_packs", 5, "A pack holds", blank, limits=PACK, usual=(0.5, 50))
    units = PACK_UNITS[table.page.book.edition]
    table.filled(
        "own_pack_units",
        6,
        "Unit of the pack",
        [units[0]] * OWN,
        words=units,
        usual_words=(units[0],),
        optional=False,
    )
    money: dict[str, Any] = {"limits": PRICE, "usual": (1, 200), "pattern": PRICE_SHOWN}
    table.filled("own_prices", 7, "Price of a pack", blank, **money)


# the row of the table of fertilizers behind each label


def _table_rows(book: Book) -> None:
    """The figures of every own product, then the ions that follow from them."""
    liquid = ("own_forms", "mine_density_kgL")
    _computed(book, "density_kgL", work.density, "own_forms", "own_density", "own_density_units")
    for column, (name, _, _) in PLAIN.items():
        _computed(book, column, work.percent, f"own_{name}", *liquid)
    forms = tuple(f"own_{each}" for each in ("total", "nitrate", "ammonium", "urea"))
    _computed(book, "n_other", work.other_nitrogen, *forms, *liquid)
    for column, (_, choice, oxide, word, _) in PRINTED.items():
        plain = next(each for each in OXIDES[choice] if each != word)
        function = work.percent_of(oxide, word, plain)
        _computed(book, column, function, f"own_{column}", f"own_{choice}_as", *liquid)
    for ion, (column, mass) in IONS.items():
        _computed(book, ion, work.moles(mass), f"mine_{column}")
    metals = ("own_metals", *(f"mine_{each}" for each in METALS))
    _computed(book, "metal", work.metals_as(work.SALTS), *metals)
    _computed(book, "complex", work.metals_as(work.CHELATED), *metals)
    _computed(book, "kind", work.kind_of_form, "own_forms", known=TEXT)


def _computed(
    book: Book, column: str, function: Any, *arguments: str, known: Quantity = NUMBER
) -> None:
    """A column of the added rows."""
    name = f"mine_{column}"
    for i in range(OWN):
        keys = tuple(part(book.key_for(argument), i) for argument in arguments)
        cell = added_cell(TABLE, column, i)
        book.add_formula(Formula(part(name, i), cell, function, keys, name, known=known))
    book.add_range(name, tuple(part(name, i) for i in range(OWN)), hidden=True)


def _judged(page: Page, names: Table, traces: Table, packs: Table) -> None:
    """What is wrong with a label, beside it, and which products are fit for the list."""
    book = page.book
    quiet: dict[str, Any] = {"behind": True, "pattern": "0.0", "known": NUMBER, "hidden": True}
    weights = each(work.weight, *(f"mine_{column}" for column in WEIGHED))
    traces.computed("own_weights", 15, weights, **quiet)
    total = each(work.percent, "own_total", "own_forms", "mine_density_kgL")
    traces.computed("own_totals", 16, total, **quiet)
    forms = each(work.nitrogen_of, *(f"mine_{column}" for column in WEIGHED[:4]))
    traces.computed("own_nitrogen", 17, forms, **quiet)
    named = each(
        work.name_fault,
        *("own_names", "own_cleaned", "own_numbers", ":own_cleaned", ":own_numbers"),
        *("own_weights", "own_totals"),
    )
    quiet_words: dict[str, Any] = {"behind": True, "known": TEXT, "hidden": True}
    traces.computed("own_name_faults", 18, named, **quiet_words)
    faults = each(
        work.fault,
        *("own_name_faults", "own_names", "mine_kind", "mine_density_kgL", "mine_metal"),
        *("own_weights", "own_total", "own_totals", "own_nitrogen"),
    )
    names.computed("own_faults", 14, faults, known=TEXT, behind=True)
    brief = each(work.briefly, "own_faults")
    names.computed("own_said", 14, brief, style="grid said", known=TEXT, hidden=True)
    quiet = {"behind": True, "hidden": True}
    if "own_packs" in book.entries:
        packed = each(own_pack, "own_packs", "own_pack_units", "mine_density_kgL")
        packs.computed("own_pack_kgs", 15, packed, **quiet)
        packs.computed("own_pack_prices", 16, each(own_price, "own_prices"), **quiet)
    for table, name in ((traces, "own_said_of_traces"), (packs, "own_said_of_density")):
        table.computed(name, 14, brief, style="grid said", known=TEXT, hidden=True)
    _computed(book, "product", work.listed_name, "own_cleaned", "own_faults", known=TEXT)
    columns = [column for column in COLUMNS if f"mine_{column}" in book.ranges]
    fixed = {column: _fixed(column) for column in COLUMNS if column not in columns}
    for i in range(OWN):
        computed = {column: part(f"mine_{column}", i) for column in columns}
        book.added.append(AddedRow(TABLE, part("own_names", i), computed, fixed))


def _fixed(column: str) -> Datum:
    """What a label does not tell stands as a word, or as a number that says nothing."""
    known: dict[str, Datum] = {
        "basis": BASIS,
        "molar_mass": 1000.0,
        "ph_high": 14.0,
        "source": "the sheet My products",
        "hazard": "see its label",
    }
    number = isinstance(rows(TABLE)[0][column], float)
    return known.get(column, 0.0 if number else BASIS)
