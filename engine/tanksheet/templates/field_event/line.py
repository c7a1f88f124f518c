"""The hidden sheets with the ions of the line and of the tank, and what they come to."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.feed import feed_ph
from tanksheet.calc.meter import feed_conductivity
from tanksheet.sheets.book import Book
from tanksheet.sheets.page import add_page
from tanksheet.templates.field_event import line_working as work
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import pipe_working as pipe
from tanksheet.templates.recipe.feed import IONS, STRENGTH
from tanksheet.templates.working import itself

# Ions that are asked of the water, and g/mol of each.
WATER = {"calcium": ("water_ca", 40.078), "magnesium": ("water_mg", 24.305)}
PHOSPHATE = "dihydrogen_phosphate"


class Mixture:
    """Product and water, on a hidden sheet of their own; ``prefix`` begins every name."""

    def __init__(self, book: Book, title: str, prefix: str, grams: str) -> None:
        self.prefix, self.grams = prefix, grams
        self.page = add_page(book, title, widths=(34, 14, 14, 14), working=True)
        self.page.sheet.hidden = True
        self.page.section_words(f"{title}, mmol/L: product, water, both", 4)
        for ion in IONS:
            self._ion(ion)
        self._worked_out()

    def of(self, *names: str) -> tuple[str, ...]:
        return tuple(f"{self.prefix}_{name}" for name in names)

    def row(self, name: str, function: Any, *keys: str, pattern: str = "0.000") -> None:
        self.page.sheet.put(1, name.replace("_", " "), "label")
        self.page.place(f"{self.prefix}_{name}", 4, function, keys, pattern)
        self.page.end_row()

    def said(self, name: str, function: Any, *keys: str) -> None:
        self.page.sheet.put(1, name.replace("_", " "), "label")
        cell = self.page.sheet.at(4)
        self.page.words(f"{self.prefix}_{name}", cell, function, keys, "grid")
        self.page.end_row()

    def _ion(self, ion: str) -> None:
        brought, water = self.of(f"brought_{ion}", f"water_{ion}")
        self.page.place(brought, 2, work.ion_of(ion), ("product", self.grams), "0.000")
        key, weight = WATER.get(ion, ("", 0.0))
        if key:
            self.page.place(water, 3, work.water_ion(weight), (key,), "0.000")
            self.row(ion, work.both, brought, water)
        else:
            self.row(ion, itself, brought)

    def _worked_out(self) -> None:
        self.row("told", work.reported_alkalinity, "water_alkalinity")
        self.row("ph_told", work.reported_ph, "water_ph")
        self.row("celsius", work.line_celsius)
        self.row("alkali", feed.water_alkali, *self.of("told"))
        self.row("carbonate", work.both, *self.of("bicarbonate", "alkali"))
        self.row("strength", feed.strength_of, *self.of(*STRENGTH), pattern="0.0")
        known = ("alkali", "ph_told", "celsius", "hydrogen", "bicarbonate", PHOSPHATE)
        others = ("ammonium", "sulfate", "silicate", "borate", "calcium", "magnesium", "strength")
        self.row("ph", feed_ph, *self.of(*known, *others))
        self.row("left", feed.left_over, *self.of("alkali", "bicarbonate", "hydrogen"))
        at = self.of("calcium", "left", "ph", "celsius", "strength")
        self.row("calcite", feed.calcite, *at)
        self.row("dicalcium", feed.dicalcium, *self.of("calcium", PHOSPHATE, "ph", "strength"))
        self.row("gypsum", pipe.gypsum, *self.of("calcium", "sulfate", "strength"))


def ions(book: Book) -> None:
    """What product and water are in a litre of the line and of the tank, and what that does."""
    line = Mixture(book, "In the line", "line", "in_feed")
    _line_settling(line)
    _conductivity(line)
    Mixture(book, "In the tank", "tank", "in_stock")


def _line_settling(line: Mixture) -> None:
    settlers = ("calcium", PHOSPHATE, "hydrogen", "bicarbonate", "silicate", "sulfate", "metal")
    brought = line.of(*(f"brought_{each}" for each in settlers))
    line.row("settler", work.is_settler, *brought, pattern="0")
    water = ("water_ca", "water_mg", "water_alkalinity", "water_ph")
    keys = tuple(map(line.page.book.key_for, water))
    line.row("known", work.water_known, *keys, pattern="0")
    at = line.of("magnesium", "ammonium", PHOSPHATE, "ph", "strength")
    line.row("struvite", pipe.struvite, *at)
    # A product alone meets nothing in the line that chlorine spoils.
    line.row("spoiled", work.nothing, pattern="0")
    line.said("also", pipe.also, *line.of("struvite", "gypsum", "spoiled", "silicate", "ph"))
    named = ("calcite", "dicalcium", "ph", "brought_metal", "brought_silicate", "calcium", "also")
    line.said("clear", feed.clear_verdict, *line.of(*named))
    line.said("acid", feed.acidity_verdict, *line.of("hydrogen", "left", "ph"))


def _conductivity(line: Mixture) -> None:
    water = line.of("water_calcium", "water_magnesium", "alkali", "ph_told")
    line.row("of_water", work.water_conductivity, *water)
    line.row("of_both", feed_conductivity, *line.of(*STRENGTH[:11], "ph"))
