"""The recipe workbook's tables of the feed: contents, what arrives, acid and conductivity."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.conductivity import conductivity
from tanksheet.sheets.book import part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import working as work
from tanksheet.units import QUANTITIES

PRODUCTS = 12
NITROGEN = ("n_nitrate", "n_ammonium", "n_urea")
ELEMENTS = ("p", "k", "ca", "mg", "s", "fe", "mn", "zn", "cu", "b", "mo", "na", "cl", "si")
HEADS = ("NO3-N %", "NH4-N %", "urea-N %", *(f"{each.capitalize()} %" for each in ELEMENTS))
IONS = (
    "calcium magnesium potassium sodium ammonium nitrate sulfate chloride bicarbonate "
    "dihydrogen_phosphate hydrogen"
).split()
TARGETS = {
    "N": 195,
    "P": 40,
    "K": 250,
    "Ca": 170,
    "Mg": 45,
    "S": 60,
    "Fe": 2.0,
    "Mn": 0.55,
    "Zn": 0.25,
    "Cu": 0.05,
    "B": 0.3,
    "Mo": 0.05,
    "Na": None,
    "Cl": None,
    "Si": None,
}
WATER = {
    "n": ("Nitrate, as N", 2),
    "k": ("Potassium", 2),
    "ca": ("Calcium", 20),
    "mg": ("Magnesium", 5),
    "s": ("Sulfate, as S", 5),
    "na": ("Sodium", 12),
    "cl": ("Chloride", 15),
}


def each(function: Any, *arguments: str) -> Maker:
    """Row by row: each argument is the row's part of a column, or with ":" a single value."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        keys = (name[1:] if name[0] == ":" else part(name, i) for name in arguments)
        return function, tuple(keys)

    return make


def contents_table(page: Page) -> None:
    page.heading(
        "Contents",
        "Percent of each element in the products, and mmol of ions from each "
        "gram. Nothing to type here.",
    )
    head = page.sheet.row
    page.end_row()
    table = Table(page, PRODUCTS)
    ions = [ion.replace("dihydrogen_", "") for ion in IONS]
    table.heads(["Product", *HEADS, *ions, "kg/L", "free iron"], head)
    names = each(work.listed_product, "products")
    table.computed("products_again", 1, names, known=TEXT, style="row name")
    percents = [(f"percent_{c}", each(work.content(c), "listed")) for c in (*NITROGEN, *ELEMENTS)]
    amounts = [(f"ion_{ion}", each(work.ions(ion), "listed")) for ion in IONS]
    density = ("densities", each(work.content("density_kgL"), "listed"))
    iron = ("free_irons", each(work.free_iron, "listed", "strengths", "percent_fe"))
    for column, (key, maker) in enumerate([*percents, *amounts, density, iron], 2):
        table.computed(key, column, maker, pattern="0.0##", known=NUMBER)
    table.end()


def elements_table(page: Page) -> None:
    page.section("What arrives at the emitter", "words")
    table = Table(page, len(TARGETS))
    titles = ("Element", "target", "unit", "products", "water", "together", "% off", "verdict")
    table.heads(titles, page.sheet.row - 1)
    names = tuple(TARGETS)
    table.labels(1, names)
    table.labels(3, ["mg/L"] * len(names), "unit")
    label, mass = "Target at the emitter, mg/L", QUANTITIES["target"]
    table.filled("targets", 2, label, list(TARGETS.values()), limits=mass, usual=(0, 300))
    pattern = "0.0##"
    table.computed("from_products", 4, _from_products(names), pattern=pattern, known=NUMBER)
    table.computed("from_water", 5, _from_water(names), pattern=pattern, known=NUMBER)
    both = each(work.both, "from_products", "from_water")
    table.computed("together", 6, both, pattern=pattern, known=NUMBER, style="result")
    table.computed("off_targets", 7, each(work.off_target, "together", "targets"), pattern="0.0")
    verdicts = each(work.target_verdict, "targets", "off_targets", ":tolerance")
    table.computed("met", 8, verdicts, style="grid words", known=TEXT)
    table.end()
    page.gap()


def _from_products(names: tuple[str, ...]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        if names[i] == "N":
            return work.delivered_nitrogen, ("doses", *(f"percent_{n}" for n in NITROGEN))
        return work.delivered_element, ("doses", f"percent_{names[i].lower()}")

    return make


def _from_water(names: tuple[str, ...]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        if names[i].lower() in WATER:
            return work.same, (f"water_{names[i].lower()}",)
        return work.nothing, ()

    return make


def conductivity_rows(page: Page) -> None:
    page.section("Acid and conductivity of the feed", "results")
    for ion in IONS[:-1]:
        name = ion.removeprefix("dihydrogen_")
        page.result(
            f"feed_{name}",
            f"From the products: {name}",
            work.feed_ion,
            unit="mmol/L",
            doses="doses",
            per_gram=f"ion_{ion}",
            pattern="0.000",
        )
    acid = "Acid from the products (base if negative)"
    page.result("acid_given", acid, work.acid_given, unit="meq/L", hydrogen="ion_hydrogen")
    left = "Alkalinity left in the feed"
    page.result("alkalinity_left", left, work.alkalinity_left, unit="meq/L", acid="acid_given")
    _readings(page)


def _readings(page: Page) -> None:
    """What the meter should read for the products, for the water, and for both."""
    ions: dict[str, Any] = {ion: f"feed_{ion.removeprefix('dihydrogen_')}" for ion in IONS[:-1]}
    page.result("ec_products", "EC of the products in pure water", conductivity, **ions)
    page.result("ec_water", "EC of the water alone", work.ec_of_water, unit="mS/cm")
    feed: dict[str, Any] = {ion: f"feed_{ion}" for ion in IONS[:8]}
    page.result(
        "ec_feed",
        "EC that the meter should read",
        work.ec_of_feed,
        unit="mS/cm",
        phosphate="feed_phosphate",
        alkalinity="alkalinity_left",
        note="at 25 degrees C",
        **feed,
    )
