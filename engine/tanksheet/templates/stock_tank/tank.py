"""What stands in the tank of the stock tank workbook, and the verdicts on it."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.mixing import gypsum_index, gypsum_settling
from tanksheet.sheets.book import Book
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import ph_working as acidity
from tanksheet.templates.recipe import reason_working as reason
from tanksheet.templates.recipe import reasons
from tanksheet.templates.recipe import tank_working as mixing
from tanksheet.templates.recipe import working as parts
from tanksheet.templates.stock_tank import table_working as by_table
from tanksheet.templates.stock_tank import tank_working as work
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself

# Ions that a label tells: column of the list, nutrient of the label, g/mol of it.
BY_LABEL = {
    "calcium": ("ca", 40.078),
    "magnesium": ("mg", 24.305),
    "potassium": ("k", 39.098),
    "sulfate": ("s", 32.06),
    "dihydrogen_phosphate": ("p", 30.974),
}
# Ions that only the list tells.
BY_LIST = (
    "sodium",
    "ammonium",
    "nitrate",
    "chloride",
    "bicarbonate",
    "hydrogen",
    "thiosulfate",
    "borate",
    "silicate",
    "metal",
    "chlorine",
    "complex",
    "molybdate",
)
# Parameters of the working that stand for a sum over both products.
SUMS = (*BY_LABEL, *BY_LIST, *by_table.BY_FUNCTION)
NAMES = {each: f"sum_{each}_s" for each in SUMS} | {"phosphate": "sum_dihydrogen_phosphate_s"}

SALTS = {"carbonate": "sum_bicarbonate_s"}


def shares(page: Page) -> None:
    """How much of what the stock holds each product takes."""
    for number in (1, 2):
        limit, name = f"limit_{number}", f"Product {number}"
        page.result(
            limit,
            f"{name}: saturated stock holds",
            work.limit_of,
            unit="g/L",
            may_be_words=True,
            product=f"product_{number}",
            own=f"saturated_{number}",
            density_used=f"density_used_{number}",
        )
        uses: dict[str, Any] = {"mass": f"mass_{number}", "limit": limit}
        page.result(
            f"share_{number}", "... used of it", work.share_of, unit="%", may_be_words=True, **uses
        )


def contents(book: Book) -> None:
    """The hidden sheet with what the tank holds, mmol/L: each product, and both."""
    page = add_page(book, "In the tank", widths=(34, 14, 14, 14), working=True)
    page.sheet.hidden = True
    page.section_words("In the tank, mmol/L: product 1, product 2, both (and the water)", 4)
    for ion in SUMS:
        page.sheet.put(1, ion, "label")
        for number in (1, 2):
            product, mass = f"product_{number}", f"mass_{number}"
            arguments: tuple[str, ...] = (product, mass, "tank")
            if ion in BY_LABEL:
                nutrient, weight = BY_LABEL[ion]
                arguments += (f"element_{nutrient}_{number}",)
                function = work.ion_or_label(ion, weight)
            else:
                function = by_table.BY_FUNCTION.get(ion) or work.ion_of(ion)
            page.place(f"{ion}_in_{number}", 1 + number, function, arguments, "0.00")
        pair: tuple[str, ...] = (f"{ion}_in_1", f"{ion}_in_2")
        whole: Any = work.both
        if ion == "calcium":
            pair, whole = (*pair, "water_ca"), work.with_water(BY_LABEL[ion][1])
        page.place(f"sum_{ion}_s", 4, whole, tuple(map(book.key_for, pair)), "0.00")
        page.end_row()
    _worked_out(page)


def _worked_out(page: Page) -> None:
    def row(name: str, label: str, function: Any, **more: str) -> None:
        page.sheet.put(1, label, "label")
        names = function.__code__.co_varnames[: function.__code__.co_argcount]
        arguments = tuple((NAMES | more).get(each, each) for each in names)
        page.place(name, 4, function, arguments, "0.000")
        page.end_row()

    for number in (1, 2):
        mine = {"product": f"product_{number}", "mass": f"mass_{number}"}
        row(f"by_label_{number}", "known by its label only", work.unlisted, **mine)
        filled = {"mass": f"mass_{number}", "density_used": f"density_used_{number}"}
        row(f"room_{number}", "percent of the tank that it fills", work.room_of, **filled)
    row("by_label", "products known by label only", work.both, one="by_label_1", two="by_label_2")
    row("ionic", "ionic strength, mmol/L", feed.strength_of)
    row("water_alkali", "the water's alkalinity, meq/L", feed.water_alkali)
    uses = {"strength": "ionic", "alkalinity": "water_alkali"}
    row("taken_ph", "pH, hypochlorite as HOCl", work.tank_ph, **uses)
    row("ph", "pH of the tank", acidity.ph_worked, taken="taken_ph")
    for number in (1, 2):
        mine = {"product": f"product_{number}", "mass": f"mass_{number}"}
        row(f"bears_{number}", "1: too acid for it, 2: not acid enough", work.unbearable, **mine)
    row("kinds", "products in the tank", work.kinds_of)
    row(
        "crystals", "share of the nearest salt that may crystallize, %", mixing.crystals_of, **SALTS
    )
    _by_the_table(page)


# Rules of the table that this workbook judges by rows of its own.
OWN = (
    *("faulty", "unknown"),
    *("too_acid", "too_alkaline", "liquids", "product_share", "crystals", "all_shares"),
    "other_shares",
)
RULES = [rule for rule in reasons.RULES if rule["one"] not in OWN]


def _by_the_table(page: Page) -> None:
    """What the two do to each other, by the table of the recipe workbook."""
    for part_of, function in (("acid", parts.acid_part), ("alkali", parts.alkali_part)):
        page.sheet.put(1, part_of, "label")
        for number in (1, 2):
            hydrogen = (f"hydrogen_in_{number}",)
            page.place(f"{part_of}_in_{number}", 1 + number, function, hydrogen, "0.00")
        pair = (f"{part_of}_in_1", f"{part_of}_in_2")
        page.place(f"sum_{part_of}_s", 4, work.both, pair, "0.00")
        page.end_row()
    for name, rule, keys in _settling():
        page.sheet.put(1, name.removesuffix("_s").replace("_", " "), "label")
        page.place(name, 4, rule, tuple(page.book.key_for(key) for key in keys), "0.00")
        page.end_row()
    _names(page)
    table = Table(page, len(RULES))
    table.labels(1, [str(rule["clash"]) for rule in RULES])
    reasons.judged(table, "s", 2, 1, RULES)
    table.end()
    page.sheet.put(1, "the worst of them", "label")
    page.place("worst_s", 3, reason.worst_of, ("ranks_s",), "0")
    page.words("said_s", page.sheet.at(4), by_table.said_of, ("worst_s", "words_s"), "grid")
    page.end_row()


def _settling() -> list[tuple[str, Any, tuple[str, ...]]]:
    """What the rules ask of the tank beyond its ions."""
    acid, carbonate, calcium, nitrate = (
        f"sum_{each}_s" for each in ("acid", "bicarbonate", "calcium", "nitrate")
    )
    magnesium, ammonium, sulfate = (
        f"sum_{each}_s" for each in ("magnesium", "ammonium", "sulfate")
    )
    phosphate = NAMES["phosphate"]
    return [
        ("used_ph_s", itself, ("ph",)),
        ("tank_s", itself, ("tank",)),
        ("sum_carbonate_s", feed.both, (carbonate, "water_alkali")),
        ("sum_lime_s", mixing.lime_of, ("water_alkali", carbonate, "sum_alkali_s", acid)),
        ("sum_nitric_s", mixing.nitric_of, (acid, nitrate)),
        ("sum_ammonia_s", mixing.ammonia_of, (ammonium, "ph", "temperature", "ionic")),
        ("singles_s", mixing.singles_of, ("sum_potassium_s", "sum_sodium_s", ammonium)),
        ("anions_s", mixing.anions_of, (nitrate, "sum_chloride_s", "sum_carbonate_s", phosphate)),
        (
            "sum_gypsum_s",
            gypsum_settling,
            (calcium, magnesium, "singles_s", sulfate, "anions_s"),
        ),
        ("sum_gypsum_index_s", gypsum_index, (calcium, sulfate, "ionic")),
        ("sum_dicalcium_s", mixing.dicalcium_of, (calcium, phosphate, "ph", "ionic")),
        ("sum_dicalcium_index_s", work.near_lime_phosphate, (calcium, phosphate, "ph", "ionic")),
        ("sum_struvite_s", mixing.struvite_of, (magnesium, ammonium, phosphate, "ph", "ionic")),
    ]


def _names(page: Page) -> None:
    """By which product a sentence names what it is about."""
    for name in dict.fromkeys(name for rule in RULES for name in reasons.named_by(rule)):
        page.sheet.put(1, f"{name}: the first product with it", "label")
        amount = {"ammonia": "ammonium"}.get(name, name)
        keys = (f"{amount}_in_1", f"{amount}_in_2", "product_1", "product_2")
        asked = tuple(page.book.key_for(key) for key in keys)
        page.words(f"from_{name}_s", page.sheet.at(4), by_table.first_with, asked, "grid")
        page.end_row()


def judge(verdicts: Verdicts) -> None:
    verdicts.page.section("Does the tank stay clear?")
    verdicts.add("fits_check", "Does it fit?", work.fits_verdict)
    verdicts.add("dissolves_check", "Does it dissolve?", work.dissolves_verdict)
    verdicts.add("clash_check", "May it share a tank?", work.clash_verdict, tall=38, said="said_s")
    verdicts.page.gap()
