"""The recipe workbook's sheets for the tanks: what each holds, its pH, what may settle in it."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.feed import feed_ph
from tanksheet.calc.mixing import gypsum_index, gypsum_settling
from tanksheet.sheets.book import Book
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import ph_working as acidity
from tanksheet.templates.recipe import tank_working as mixing
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.feed import ION_NAMES, IONS, STRENGTH, each
from tanksheet.templates.recipe.reason_working import clear_verdict
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself

# What a product brings to its tank beyond its ions.
PARTS = ("acid", "alkali", "urea", "iron", "copper")
IN_TANK = (*IONS, *PARTS)
# Ions that the filling water brings too, by their name on the Feed sheet.
OF_WATER = "calcium magnesium potassium sodium ammonium nitrate sulfate chloride".split()
# What a sentence may name a product by, and the column that says which tank has some of it.
NAMED = (
    *("calcium", "magnesium", "ammonium", "sulfate", "bicarbonate", "dihydrogen_phosphate"),
    *("thiosulfate", "borate", "silicate", "molybdate", "metal", "complex", "chlorine", *PARTS),
)
MORE = ("strength", "used", "faulty", "liquid %", "unknown", "trace %", "share %", "A", "B", "C")
# Name on the sheet, function, arguments with "*" for the tank's letter, and number format.
Placed = tuple[str, Any, tuple[str, ...], str]


def tank_sheets(book: Book) -> None:
    """What each product of ``listed`` brings to its tank, and each tank as a whole."""
    page = add_page(book, "Tanks", (38, *[12] * 32), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading(
        "What the tanks hold",
        "Each tank as it stands, the water that fills it counted. Nothing to type here.",
    )
    _products(page)
    page.gap()
    _columns(page, "Each tank, mmol/L unless it says otherwise")
    for label, row in (*whole_tank(), *ph_rows()):
        tank_row(page, label, row)
    page.gap()
    _by_ph(page)
    page.gap()
    _columns(page, "What could go wrong in each tank")
    for label, row in (*settling(), *counted(_rows(page))):
        tank_row(page, label, row)
    page.gap()
    _names(page)


def clear_verdicts(verdicts: Verdicts, what: str = "Tank") -> None:
    """Whether each tank stays clear, by the sheet Reasons."""
    for letter in work.TANKS:
        low = letter.lower()
        verdicts.add(
            f"clear_{low}",
            f"{what} {letter}",
            clear_verdict,
            tall=38,
            kinds=f"kinds_{low}",
            faults=f"sum_faulty_{low}",
            worst=f"worst_{low}",
            second=f"second_{low}",
            words=f"words_{low}",
        )


def _rows(page: Page) -> int:
    return len(page.book.ranges["listed"])


def _columns(page: Page, title: str) -> None:
    page.section_words(title, 4)
    page.sheet.row -= 1
    for i, letter in enumerate(work.TANKS, 2):
        page.sheet.put(i, f"Tank {letter}", "column head")
    page.end_row()


def tank_row(page: Page, label: str, row: Placed) -> None:
    """One quantity in the three tanks."""
    name, make, arguments, pattern = row
    page.sheet.put(1, label, "label")
    for i, letter in enumerate(work.TANKS, 2):
        low = letter.lower()
        keys = tuple(each.replace("*", low) for each in arguments)
        function = make(letter) if name.startswith("+") else make
        if pattern == "words":
            cell = page.sheet.at(i)
            page.words(f"{name.strip('+')}_{low}", cell, function, _keys(page, keys), "grid")
        else:
            page.place(f"{name.strip('+')}_{low}", i, function, keys, pattern)
    page.end_row()


def _keys(page: Page, keys: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(page.book.key_for(key) for key in keys)


# what each product brings


def _products(page: Page) -> None:
    page.section_words("Each product in its tank, mmol/L", 33)
    table = Table(page, _rows(page))
    heads = ["Product", *(ion.replace("_", " ") for ion in IN_TANK), *MORE]
    table.heads(heads, page.sheet.row - 1)
    names = each(itself, "listed")
    table.computed("products_in_tanks", 1, names, known=TEXT, style="row name")
    amounts: dict[str, Any] = {"pattern": "#,##0.0", "known": NUMBER}
    for i, ion in enumerate(IONS, 2):
        table.computed(f"tank_{ion}", i, each(work.times, "strengths", f"ion_{ion}"), **amounts)
    column = 2 + len(IONS)
    for i, (key, maker) in enumerate(_parts(), column):
        table.computed(key, i, maker, **amounts)
    table.end()
    _letters(page, table)


def _parts() -> list[tuple[str, Maker]]:
    ten = ("calcium", "magnesium", "potassium", "sodium", "ammonium", "nitrate", "sulfate")
    ions = (*ten, "chloride", "bicarbonate", "dihydrogen_phosphate")
    return [
        ("tank_acid", each(work.acid_part, "tank_hydrogen")),
        ("tank_alkali", each(work.alkali_part, "tank_hydrogen")),
        ("tank_urea", each(work.times, "strengths", "ureas")),
        ("tank_iron", each(work.times, "strengths", "irons")),
        ("tank_copper", each(work.times, "strengths", "coppers")),
        ("ionic", each(mixing.ionic_of_product, *(f"tank_{ion}" for ion in ions))),
        ("used", each(mixing.one_if_used, "strengths")),
        ("faulty", each(mixing.one_if_faulty, "strengths")),
        ("liquid_shares", each(mixing.liquid_share, "strengths", "densities")),
        (
            "unknown",
            each(mixing.one_if_unknown(work.NO_FIGURE_NEEDED), "strengths", "ions_known", "shares"),
        ),
        (
            "trace_shares",
            each(
                mixing.share_of_trace,
                *("shares", "tank_metal", "tank_complex", "tank_borate", "tank_silicate"),
            ),
        ),
        ("all_shares", each(mixing.share_or_nothing, "shares")),
        *(
            (f"shares_{letter.lower()}", each(mixing.share_in(letter), "used_tanks", "shares"))
            for letter in work.TANKS
        ),
    ]


def _letters(page: Page, table: Table) -> None:
    """Which tank each thing is in, so that a tank's first product with it can be named."""
    page.section_words("Which tank has some of it", 33)
    letters = Table(page, _rows(page))
    for i, ion in enumerate(NAMED, 2):
        maker = each(mixing.letter_if_over(0), "used_tanks", f"tank_{ion}")
        letters.computed(f"has_{ion}", i, maker, style="quiet", known=TEXT)
    column = 2 + len(NAMED)
    others = (("share", "shares", 85), ("unknown", "unknown", 0))
    for i, (name, amounts, limit) in enumerate(others, column):
        maker = each(mixing.letter_if_over(limit), "used_tanks", amounts)
        letters.computed(f"has_{name}", i, maker, style="quiet", known=TEXT)
    letters.end()


# each tank


def whole_tank() -> list[tuple[str, Placed]]:
    sums: list[tuple[str, Placed]] = []
    for ion in IN_TANK:
        label = ion.replace("dihydrogen_", "").replace("_", " ")
        name = f"+sum_{ion}"
        if ion in OF_WATER:
            water = ("used_tanks", f"tank_{ion}", f"water_ion_{ion}")
            sums.append((label, (name, mixing.total_with_water, water, "#,##0.0")))
        else:
            products = ("used_tanks", f"tank_{ion}")
            sums.append((label, (name, mixing.total, products, "#,##0.0##")))
    carbonate = ("sum_carbonate", feed.both, ("sum_bicarbonate_*", "water_alkali"), "#,##0.0")
    strength = tuple(f"sum_{ion}_*" for ion in STRENGTH)
    return [
        *sums,
        ("carbonate, the water's too", carbonate),
        ("ionic strength", ("sum_strength", feed.strength_of, strength, "#,##0")),
        ("products in it", ("+kinds", mixing.total, ("used_tanks", "used"), "0")),
        ("of them with unknown ions", ("+sum_unsure", mixing.total, ("used_tanks", "unsure"), "0")),
    ]


def ph_rows() -> list[tuple[str, Placed]]:
    ions = ("phosphate", "ammonium", "sulfate", "silicate", "borate", "calcium", "magnesium")
    sums = tuple(f"sum_{ION_NAMES.get(ion, ion)}_*" for ion in ions)
    water = ("water_alkali", "water_ph", "temperature")
    rest = ("sum_bicarbonate_*", *sums, "sum_strength_*")
    given = ("sum_hydrogen_*", "sum_chlorine_*")
    words = ("ph_*", "kinds_*", "sum_strength_*", "sum_unsure_*")
    return [
        ("pH, hypochlorite as HOCl", ("taken_ph", feed_ph, (*water, given[0], *rest), "0.00")),
        ("pH worked out", ("worked_ph", acidity.ph_worked, ("taken_ph_*", *given), "0.00")),
        ("pH used", ("used_ph", acidity.ph_used, ("worked_ph_*", "ph_*"), "0.00")),
        ("where the pH is from", ("ph_words", acidity.ph_words, words, "words")),
    ]


def _by_ph(page: Page) -> None:
    """Products that the pH of their tank does not suit."""
    page.section_words("Does each product bear the pH of its tank? 1 if not", 5)
    table = Table(page, _rows(page))
    table.heads(["Product", "pH", "too acid", "too alkaline"], page.sheet.row - 1)
    names = each(itself, "listed")
    table.computed("products_by_ph", 1, names, known=TEXT, style="row name")
    here = each(mixing.ph_here, "used_tanks", ":used_ph_a", ":used_ph_b", ":used_ph_c")
    table.computed("ph_here", 2, here, pattern="0.0", known=NUMBER)
    for i, (name, function) in enumerate(
        (("too_acid", mixing.one_if_too_acid), ("too_alkaline", mixing.one_if_too_alkaline)), 3
    ):
        table.computed(f"tank_{name}", i, each(function, "listed", "used", "ph_here"))
        maker = each(mixing.letter_if_over(0), "used_tanks", f"tank_{name}")
        table.computed(f"has_{name}", i + 2, maker, style="quiet", known=TEXT)
    table.end()


# What the rules ask of a tank's sums; "*" stands for its letter.
CALCIUM, MAGNESIUM, SULFATE, AMMONIUM, NITRATE = (
    f"sum_{ion}_*" for ion in ("calcium", "magnesium", "sulfate", "ammonium", "nitrate")
)
PHOSPHATE, PH, SUM_STRENGTH = "sum_dihydrogen_phosphate_*", "used_ph_*", "sum_strength_*"
SINGLES = ("sum_potassium_*", "sum_sodium_*", AMMONIUM)
ANIONS = (NITRATE, "sum_chloride_*", "sum_carbonate_*", PHOSPHATE)
LIME = ("water_alkali", "sum_bicarbonate_*", "sum_alkali_*", "sum_acid_*")
GYPSUM = (CALCIUM, MAGNESIUM, "singles_*", SULFATE, "anions_*")
NEAR = (CALCIUM, PHOSPHATE, PH, "ph_*", SUM_STRENGTH)
AMMONIA = (AMMONIUM, PH, "temperature", SUM_STRENGTH)
STRUVITE = (MAGNESIUM, AMMONIUM, PHOSPHATE, PH, SUM_STRENGTH)
CRYSTALS = (
    *(CALCIUM, MAGNESIUM, *SINGLES, NITRATE, SULFATE, "sum_chloride_*", "sum_carbonate_*"),
    *(PHOSPHATE, "sum_urea_*", "sum_borate_*", "sum_thiosulfate_*", "temperature", "kinds_*"),
)


def settling() -> list[tuple[str, Placed]]:
    """What settles by the calculations of ``calc``."""
    settled = (CALCIUM, PHOSPHATE, PH, SUM_STRENGTH)
    index = (CALCIUM, SULFATE, SUM_STRENGTH)
    return [
        ("K, Na and NH4", ("singles", mixing.singles_of, SINGLES, "#,##0.0")),
        ("NO3, Cl, HCO3 and H2PO4", ("anions", mixing.anions_of, ANIONS, "#,##0.0")),
        ("gypsum, g/L", ("sum_gypsum", gypsum_settling, GYPSUM, "0.0")),
        ("gypsum index", ("sum_gypsum_index", gypsum_index, index, "0.0")),
        ("calcium phosphate, g/L", ("sum_dicalcium", mixing.dicalcium_of, settled, "0.0")),
        ("its index", ("sum_dicalcium_index", mixing.dicalcium_near, NEAR, "0.0")),
        ("struvite, g/L", ("sum_struvite", mixing.struvite_of, STRUVITE, "0.0")),
        ("ammonia, g/L", ("sum_ammonia", mixing.ammonia_of, AMMONIA, "0.0")),
        ("mixed salts, %", ("sum_crystals", mixing.crystals_of, CRYSTALS, "0")),
    ]


def counted(products: int) -> list[tuple[str, Placed]]:
    """What so many products, each in its tank, add up to."""
    faults = ("used_tanks", "faulty", SUM_STRENGTH)
    totals = {
        "unknown products": ("unknown", "unknown"),
        "chelates too acid": ("too_acid", "tank_too_acid"),
        "chelates too alkaline": ("too_alkaline", "tank_too_alkaline"),
        "liquids, %": ("liquids", "liquid_shares"),
        "all shares, %": ("all_shares", "all_shares"),
        "trace shares, %": ("other_shares", "trace_shares"),
    }
    return [
        ("faults", ("+sum_faulty", mixing.faults_of, faults, "0")),
        ("carbonate that can settle", ("sum_lime", mixing.lime_of, LIME, "#,##0.0")),
        ("nitric acid", ("sum_nitric", mixing.nitric_of, ("sum_acid_*", NITRATE), "#,##0.0")),
        ("largest share, %", ("sum_product_share", mixing.largest(products), ("shares_*",), "0")),
        *(
            (label, (f"+sum_{name}", mixing.total, ("used_tanks", column), "0"))
            for label, (name, column) in totals.items()
        ),
    ]


def _names(page: Page) -> None:
    page.section_words("The first product with it, or the water", 4)
    for ion in (*NAMED, "share", "unknown", "too_acid", "too_alkaline"):
        row = (f"+from_{ion}", mixing.first_with, (f"has_{ion}", "listed"), "words")
        tank_row(page, ion.replace("_", " "), row)
