"""The recipe workbook's tables of the feed: contents, what arrives, acid and conductivity."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tanksheet.calc.meter import feed_conductivity
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.choices import nutrient_units
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import feed_working as work_feed
from tanksheet.templates.recipe import target_working as target
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.pipe import acid_rows, indices
from tanksheet.templates.recipe.pipe_working import spoiled_by_chlorine
from tanksheet.templates.recipe.weighing_working import weighed_verdict
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself
from tanksheet.units import Number, Quantity

PRODUCTS = 12
WANTED = Quantity(Number, "target of an element, in its unit", 0, 1e6)
NITROGEN = ("n_nitrate", "n_ammonium", "n_urea", "n_other")
ELEMENTS = ("p", "k", "ca", "mg", "s", "fe", "mn", "zn", "cu", "b", "mo", "na", "cl", "si")
HEADS = (
    "NO3-N %",
    "NH4-N %",
    "urea-N %",
    "other N %",
    *(f"{each.capitalize()} %" for each in ELEMENTS),
)
IONS = (
    "calcium magnesium potassium sodium ammonium nitrate sulfate chloride bicarbonate "
    "dihydrogen_phosphate hydrogen thiosulfate borate silicate metal complex chlorine molybdate"
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
    "Cu": 0.06,
    "B": 0.3,
    "Mo": 0.08,
    "Na": None,
    "Cl": None,
    "Si": None,
}
TARGET_UNITS = tuple(dict.fromkeys(unit for each in TARGETS for unit in nutrient_units(each)))


@dataclass(frozen=True)
class Reported:
    """A line of the water's report: its nutrient, and the ion as which laboratories report it.

    ``ion`` is that of the feed, with its molar mass; a trace brings none that counts. An
    ``optional`` line may be blank: then what the water brings of it is not known.
    """

    label: str
    default: float
    nutrient: str
    reported: str
    ion: str = ""
    weight: float = 1.0
    usual: tuple[float, float] = (0, 200)
    optional: bool = False


WATER = {
    "n": Reported("Nitrate (ppm as N)", 2, "N", "NO3", "nitrate", work.N),
    "k": Reported("Potassium", 2, "K", "K", "potassium", work.K),
    "ca": Reported("Calcium", 20, "Ca", "Ca", "calcium", work.CA),
    "mg": Reported("Magnesium", 5, "Mg", "Mg", "magnesium", work.MG),
    "s": Reported("Sulfate (ppm as S)", 5, "S", "SO4", "sulfate", work.S),
    "na": Reported("Sodium", 12, "Na", "Na", "sodium", work.NA),
    "cl": Reported("Chloride", 15, "Cl", "Cl", "chloride", work.CL),
    "nh4": Reported(
        *("Ammonium (ppm as N)", 0, "N", "NH4", "ammonium", work.N), usual=(0, 5), optional=True
    ),
    "fe": Reported("Iron", 0, "Fe", "Fe", usual=(0, 5), optional=True),
    "mn": Reported("Manganese", 0, "Mn", "Mn", usual=(0, 2), optional=True),
    "b": Reported("Boron", 0, "B", "B", usual=(0, 3), optional=True),
}

# Contents and ions that must tell the same of a product.
ION_NAMES = {"phosphate": "dihydrogen_phosphate"}
KNOWN_BY = (
    *(f"percent_{each}" for each in "n_nitrate n_ammonium k ca mg p s".split()),
    *(f"ion_{each}" for each in "nitrate ammonium potassium calcium magnesium".split()),
    *(f"ion_{each}" for each in "dihydrogen_phosphate sulfate thiosulfate".split()),
)


def each(function: Any, *arguments: str) -> Maker:
    """Row by row: each argument is the row's part of a column, or with ":" a single value."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        keys = (name[1:] if name[0] == ":" else part(name, i) for name in arguments)
        return function, tuple(keys)

    return make


def contents_table(page: Page) -> Table:
    page.sheet.hidden = True
    page.heading(
        "Contents",
        "Percent of each element in the products, and mmol of ions from each "
        "gram. Nothing to type here.",
    )
    head = page.sheet.row
    page.end_row()
    table = Table(page, len(page.book.entries["products"].cells))
    ions = [ion.replace("dihydrogen_", "") for ion in IONS]
    more = ("urea", "free iron", "free copper", "kg/L", "known", "acid", "unsure")
    table.heads(["Product", *HEADS, *ions, *more], head)
    names = each(work.listed_product, "products")
    table.computed("products_again", 1, names, known=TEXT, style="row name")
    percents = [(f"percent_{c}", each(work.content(c), "listed")) for c in (*NITROGEN, *ELEMENTS)]
    amounts = [(f"ion_{ion}", each(work.ions(ion), "listed")) for ion in IONS]
    rest = [
        ("ureas", each(work.urea_of, "listed")),
        ("irons", each(work.iron_of, "listed")),
        ("coppers", each(work.copper_of, "listed")),
        ("densities", each(work.content("density_kgL"), "listed")),
        ("ions_known", each(work.ions_known, "listed", *KNOWN_BY)),
        ("acids", each(work.acid_part, "ion_hydrogen")),
    ]
    for column, (key, maker) in enumerate([*percents, *amounts, *rest], 2):
        table.computed(key, column, maker, pattern="0.0##", known=NUMBER)
    table.end()
    return table


def unsure_products(table: Table) -> None:
    """Which products in a tank nobody gave the ions of, in the last columns of the contents."""
    column = 2 + len((*NITROGEN, *ELEMENTS, *IONS)) + 6
    unsure = each(work.one_if_unsure, "strengths", "ions_known")
    table.computed("unsure", column, unsure, pattern="0.0##", known=NUMBER)
    said = each(work.word_if_unsure, "unsure")
    table.computed("unsure_said", column + 1, said, known=TEXT)


# ions of the feed, on a sheet of their own

# In the order of ``feed_working.strength_of``.
STRENGTH = (
    *("calcium", "magnesium", "potassium", "sodium", "ammonium", "nitrate", "sulfate", "chloride"),
    *("carbonate", "dihydrogen_phosphate", "thiosulfate", "metal", "hydrogen"),
)


def feed_sheet(book: Book) -> None:
    """The ions of the water, of the products and of both."""
    page = add_page(book, "Feed", (34, 14, 14, 14), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("Ions of the feed", "mmol/L at the emitter. Nothing to type here.")
    for i, head in enumerate(("products", "water", "together"), 2):
        page.sheet.put(i, head, "table head")
    page.end_row()
    page.sheet.put(1, "alkalinity of the water, meq/L", "label")
    page.place("water_alkali_again", 3, itself, ("water_alkali",), "0.000")
    page.end_row()
    water = {line.ion: (f"water_{key}", line.weight) for key, line in WATER.items() if line.ion}
    for ion in IONS:
        page.sheet.put(1, ion.replace("_", " "), "label")
        page.place(f"given_{ion}", 2, work_feed.given, ("doses", f"ion_{ion}"), "0.000")
        parts: tuple[str, ...] = (f"given_{ion}",)
        if ion in water:
            key, weight = water[ion]
            page.place(f"water_ion_{ion}", 3, work_feed.water_ion(weight), (key,), "0.000")
            parts = (f"given_{ion}", f"water_ion_{ion}")
        whole = work_feed.both if len(parts) == 2 else itself
        page.place(f"feed_{ion}", 4, whole, parts, "0.000")
        page.end_row()
    _sums(page)


def _sums(page: Page) -> None:
    """What the products and the water add up to besides."""
    page.sheet.put(1, "urea", "label")
    page.place("given_urea", 2, work_feed.given, ("doses", "ureas"), "0.000")
    page.end_row()
    page.sheet.put(1, "carbonate, the water's too", "label")
    both = ("given_bicarbonate", "water_alkali")
    page.place("feed_carbonate", 4, work_feed.both, both, "0.000")
    page.end_row()
    page.sheet.put(1, "ionic strength", "label")
    ions = tuple(f"feed_{ion}" for ion in STRENGTH)
    page.place("feed_strength", 4, work_feed.strength_of, ions, "0.0")
    page.end_row()
    page.sheet.put(1, "the first product whose ions nobody gave", "label")
    first = ("unsure_said", "listed")
    page.words("feed_unsure", page.sheet.at(4), work_feed.first_unsure, first, "grid")
    page.end_row()
    page.sheet.put(1, "acids of the products, one by one", "label")
    page.place("given_acids", 2, work_feed.given, ("doses", "acids"), "0.000")
    page.end_row()
    page.sheet.put(1, "1: chlorine beside what spends it, 2: beside acid", "label")
    spent = ("feed_ammonium", "given_urea", "feed_thiosulfate", "feed_complex", "feed_metal")
    keys = ("feed_chlorine", *spent, "given_acids")
    page.place("feed_spoiled", 4, spoiled_by_chlorine, keys, "0")
    page.end_row()


NOTES = ("below 0: too much acid", "in the open it creeps up")


def feed_rows(page: Page, verdicts: Verdicts) -> None:
    page.section("The feed")
    acid_rows(page, "Acid from the products", "Alkalinity left in the feed", "feed_ph", NOTES)
    indices(page)
    _verdicts(page, verdicts)


def pipe_words(page: Page) -> None:
    """What is said of the pipe, products of unknown ions apart."""
    page.working_value(
        "clearness_said",
        work_feed.clear_verdict,
        lime="lime_index",
        phosphate="phosphate_index",
        ph="feed_ph",
        metal="feed_metal",
        silicate="feed_silicate",
        hard="feed_calcium",
        also="also_in_pipe",
    )


def _verdicts(page: Page, verdicts: Verdicts) -> None:
    verdicts.add(
        "feed_acidity",
        "Does the water bear the acid?",
        work_feed.acidity_of_all,
        said="acidity_said",
        unsure="feed_unsure",
    )
    pipe_words(page)
    verdicts.add(
        "feed_clear",
        "Does the feed stay clear?",
        work_feed.clearness_of_all,
        said="clearness_said",
        unsure="feed_unsure",
        gap="pipe_gap",
    )
    _asked(verdicts)


def _asked(verdicts: Verdicts) -> None:
    """Whether what arrives is what is asked for, by the scales that there are."""
    verdicts.add(
        "targets_check",
        "Are the targets met?",
        target.targets_verdict,
        kinds="met_kinds",
        verdicts="met",
        elements="elements",
        offs="off_targets",
    )
    verdicts.add(
        "alkalinity_met",
        "Is the alkalinity as asked?",
        work_feed.alkalinity_verdict,
        typed="target_alkalinity",
        target="alkalinity_wanted",
        left="alkalinity_left",
        tolerance=part("tolerances_used", len(TARGETS)),
        why="why_alkalinity",
        unsure="feed_unsure",
    )
    verdicts.add(
        "weighed",
        "Are the scales fine enough?",
        weighed_verdict,
        moved="moved",
        words="moved_words",
        elements="elements",
    )


def readings(page: Page) -> None:
    """What the meter should read for the water and for the feed."""
    ions_of_water = (line.ion for line in WATER.values() if line.ion)
    water: dict[str, Any] = {ion: f"water_ion_{ion}" for ion in ions_of_water}
    page.result(
        "ec_water",
        "EC of the water alone",
        work_feed.ec_of_water,
        unit="mS/cm",
        alkalinity="water_alkali",
        **water,
    )
    ions: dict[str, Any] = {ion: f"feed_{ion}" for ion in (*STRENGTH[:8], *STRENGTH[9:11])}
    page.result(
        "ec_feed",
        "EC to read",
        feed_conductivity,
        unit="mS/cm",
        bicarbonate="feed_carbonate",
        ph_feed="feed_ph",
        note="at 25 degrees C",
        **ions,
    )
    page.gap()
