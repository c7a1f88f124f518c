"""The hidden sheet with the ions of the line, and the verdicts on it."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.feed import feed_ph
from tanksheet.calc.meter import feed_conductivity
from tanksheet.sheets.book import Book
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.field_event import line_working as work
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import pipe_working as pipe
from tanksheet.templates.recipe.feed import IONS, STRENGTH
from tanksheet.templates.working import itself

# Ions that are asked of the water, and g/mol of each.
WATER = {"calcium": ("water_ca", 40.078), "magnesium": ("water_mg", 24.305)}
LINE = {ion: f"line_{ion}" for ion in IONS} | {
    "phosphate": "line_dihydrogen_phosphate",
    "carbonate": "line_carbonate",
    "strength": "line_strength",
    "ph": "line_ph",
}


def ions(book: Book) -> None:
    """What product and water bring to a litre of the line, mmol/L, and what it comes to."""
    page = add_page(book, "In the line", widths=(34, 14, 14, 14), working=True)
    page.sheet.hidden = True
    page.section_words("In the line, mmol/L: product, water, both", 4)
    for ion in IONS:
        page.sheet.put(1, ion.replace("_", " "), "label")
        page.place(f"brought_{ion}", 2, work.ion_of(ion), ("product", "in_feed"), "0.000")
        key, weight = WATER.get(ion, ("", 0.0))
        if key:
            page.place(f"water_{ion}", 3, work.water_ion(weight), (key,), "0.000")
            page.place(f"line_{ion}", 4, work.both, (f"brought_{ion}", f"water_{ion}"), "0.000")
        else:
            page.place(f"line_{ion}", 4, itself, (f"brought_{ion}",), "0.000")
        page.end_row()
    _worked_out(page)
    _settling(page)
    _conductivity(page)


def _row(page: Page, name: str, function: Any, *keys: str, pattern: str = "0.000") -> None:
    page.sheet.put(1, name.replace("_", " "), "label")
    page.place(name, 4, function, keys, pattern)
    page.end_row()


def _said(page: Page, name: str, function: Any, *keys: str) -> None:
    page.sheet.put(1, name.replace("_", " "), "label")
    asked = tuple(page.book.key_for(key) for key in keys)
    page.words(name, page.sheet.at(4), function, asked, "grid")
    page.end_row()


def _worked_out(page: Page) -> None:
    _row(page, "alkalinity_told", work.reported_alkalinity, "water_alkalinity")
    _row(page, "ph_told", work.reported_ph, "water_ph")
    _row(page, "line_celsius", work.line_celsius)
    _row(page, "line_alkali", feed.water_alkali, "alkalinity_told")
    _row(page, "line_carbonate", work.both, "line_bicarbonate", "line_alkali")
    strength = tuple(LINE[ion] for ion in STRENGTH)
    _row(page, "line_strength", feed.strength_of, *strength, pattern="0.0")
    sums = ("phosphate", "ammonium", "sulfate", "silicate", "borate", "calcium", "magnesium")
    known = ("line_alkali", "ph_told", "line_celsius", "line_hydrogen", "line_bicarbonate")
    _row(page, "line_ph", feed_ph, *known, *(LINE[each] for each in sums), "line_strength")
    _row(page, "alkali_left", feed.left_over, "line_alkali", "brought_bicarbonate", "line_hydrogen")
    settlers = ("calcium", "dihydrogen_phosphate", "hydrogen", "bicarbonate", "silicate")
    brought = tuple(f"brought_{each}" for each in (*settlers, "sulfate", "metal"))
    _row(page, "settler", work.is_settler, *brought, pattern="0")
    water = ("water_ca", "water_mg", "water_alkalinity", "water_ph")
    _row(page, "water_known", work.water_known, *water, pattern="0")


def _settling(page: Page) -> None:
    calcium, ph, strength = LINE["calcium"], LINE["ph"], LINE["strength"]
    phosphate = LINE["phosphate"]
    _row(page, "line_calcite", feed.calcite, calcium, "alkali_left", ph, "line_celsius", strength)
    _row(page, "line_dicalcium", feed.dicalcium, calcium, phosphate, ph, strength)
    _row(
        page,
        "line_struvite",
        pipe.struvite,
        *(LINE["magnesium"], LINE["ammonium"], phosphate, ph, strength),
    )
    _row(page, "line_gypsum", pipe.gypsum, calcium, LINE["sulfate"], strength)
    # A product alone meets nothing in the line that chlorine spoils.
    _row(page, "line_spoiled", work.nothing, pattern="0")
    _said(
        page,
        "line_also",
        pipe.also,
        *("line_struvite", "line_gypsum", "line_spoiled", LINE["silicate"], ph),
    )
    _said(
        page,
        "line_said",
        feed.clear_verdict,
        *("line_calcite", "line_dicalcium", ph, "brought_metal", "brought_silicate"),
        *(calcium, "line_also"),
    )
    _said(page, "acid_said", feed.acidity_verdict, "line_hydrogen", "alkali_left", ph)


def _conductivity(page: Page) -> None:
    _row(
        page,
        "water_model",
        work.water_conductivity,
        *("water_calcium", "water_magnesium", "line_alkali", "ph_told"),
    )
    ions = tuple(LINE[ion] for ion in STRENGTH[:11])
    _row(page, "line_model", feed_conductivity, *ions, LINE["ph"])
