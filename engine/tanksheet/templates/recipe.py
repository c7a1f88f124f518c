"""Recipe: up to twelve products over tanks A, B and C, from labels to what arrives and settles."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.ratio import feed_rate, percent_injected, tank_life
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.tables import rows
from tanksheet.templates import recipe_working as work
from tanksheet.templates.recipe_tanks import cards, keep_apart
from tanksheet.units import QUANTITIES

PRODUCTS = 12
TANKS = work.TANKS
NAMES = tuple(str(row["product"]) for row in rows("fertilizers"))
# Invented: a tomato feed for 100 L tanks at 1:100.
START: tuple[tuple[str, str, float, str], ...] = (
    ("calcium nitrate 15.5-0-0", "A", 8.0, "kg"),
    ("potassium nitrate", "A", 2.0, "kg"),
    ("iron DTPA 11 %", "A", 180.0, "g"),
    ("potassium nitrate", "B", 3.0, "kg"),
    ("monopotassium phosphate", "B", 1.8, "kg"),
    ("magnesium sulfate heptahydrate", "B", 4.5, "kg"),
    ("manganese sulfate monohydrate", "B", 17.0, "g"),
    ("boric acid", "B", 17.0, "g"),
    ("zinc sulfate heptahydrate", "B", 11.0, "g"),
    ("copper sulfate pentahydrate", "B", 2.0, "g"),
    ("sodium molybdate dihydrate", "B", 1.2, "g"),
)
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
SAFETY = (
    "Goggles and gloves. Fill each tank half with water, add the products one by one while "
    "stirring, then make up to the mark. Acid into water, never water into acid; face shield, "
    "apron, eyewash.",
    "Never bring chlorine products together with acid, ammonium or urea: poisonous gas. On a "
    "drinking-water supply, inject only behind the backflow preventer that the local code asks "
    "for. Labels and safety data sheets come first.",
)
SOURCES = (
    ("Contents and ions of the products.", "data/fertilizers.csv, a source on each row"),
    (
        "Up to 70 % of the solubility passes, up to 90 % is near the limit.",
        "common practice, no source",
    ),
    (
        "Amounts that settle out.",
        "closed forms checked against PHREEQC 3.8; in concentrates "
        "beyond an ionic strength of 1 mol/L speciation programs themselves differ by 5 to 10 %",
    ),
    (
        "Conductivity counts what is dissolved as free ions and pairs; chelates and urea add "
        "almost nothing.",
        "common practice, no source",
    ),
)


def make() -> Book:
    book = Book(
        "recipe",
        "Recipe for tanks A, B and C",
        "A whole feed from up to twelve products: what arrives, what dissolves, what settles.",
    )
    page = add_page(book, "Recipe", widths=(34, 11, 10, 11, 11, 11, 9, 44, 9))
    page.heading(
        "Recipe for tanks A, B and C",
        f"{book.purpose} Type in the yellow cells and "
        "watch the verdicts; a product left blank is not used.",
    )
    _tanks(page)
    products = _products(page)
    _water(page)
    contents = add_page(book, "Contents", widths=(32, *[8.5] * 36), landscape=True)
    _contents(contents)
    _elements(page)
    _conductivity(page)
    keep_apart(book, products)
    page.gap()
    _clear(page)
    cards(book, SAFETY)
    page.gap()
    page.safety(SAFETY)
    book.sources += SOURCES
    return book


def _tanks(page: Page) -> None:
    page.section("Tanks and injector")
    for letter in TANKS:
        page.input(
            f"tank_{letter.lower()}",
            f"Stock that tank {letter} holds",
            "tank",
            100,
            "L",
            usual=(100, 5000),
        )
    page.input("ratio", "Setting of all the injectors", "ratio", 100, "1:N", usual=(50, 300))
    page.input("flow", "Water flow through them", "flow", 30, "L/min", usual=(1, 3000))
    page.input("temperature", "Coldest the tanks get", "table_celsius", 10, "degC", usual=(2, 35))
    page.input("ph_tank", "pH in the tanks", "ph_tank", 5, usual=(3, 7))
    page.result("percent_setting", "Setting in percent", percent_injected, shape="0.000")
    page.result("stock_per_hour", "Drawn from each tank", feed_rate)
    page.result("hours_per_tank", "Tank A lasts", tank_life, tank="tank_a", note="hours of running")
    page.gap()


def _products(page: Page) -> Table:
    page.section("Products", "words")
    table = Table(page, PRODUCTS)
    titles = (
        "Products",
        "tank",
        "amount",
        "unit",
        "g/L of stock",
        "dissolves",
        "% of it",
        "verdict",
    )
    table.heads(titles, page.sheet.row - 1)
    start = [*START, *[("", "A", None, "g")] * (PRODUCTS - len(START))]
    units = ("g", "kg", "oz", "lb", "L", "mL", "gal", "fl oz")
    table.typed(
        "products",
        1,
        "Product",
        [row[0] or None for row in start],
        words=NAMES,
        list_name="fert_fertilizers_product",
    )
    table.typed("tanks", 2, "Tank", [row[1] for row in start], words=TANKS, optional=False)
    table.typed(
        "amounts",
        3,
        "Amount for one tank",
        [row[2] for row in start],
        limits=QUANTITIES["mass"],
        usual=(0.05, 6),
    )
    table.typed(
        "amount_units",
        4,
        "Unit",
        [row[3] for row in start],
        words=units,
        usual_words=("g", "kg"),
        optional=False,
    )
    table.computed("listed", 10, each(work.listed_product, "products"), style="quiet", known=TEXT)
    table.computed(
        "masses",
        11,
        each(work.grams, "listed", "amounts", "amount_units"),
        style="quiet",
        shape="0.0",
        known=NUMBER,
    )
    table.computed(
        "strengths",
        5,
        each(work.in_tank, "masses", "tanks", ":tank_a", ":tank_b", ":tank_c"),
        shape="#,##0.00",
        known=NUMBER,
    )
    table.computed(
        "doses",
        12,
        each(work.in_feed, "strengths", ":ratio"),
        style="quiet",
        shape="0.0000",
        known=NUMBER,
    )
    table.computed("limits", 6, each(work.dissolves, "listed", ":temperature"), shape="#,##0")
    table.computed("shares", 7, each(work.share_of_limit, "strengths", "limits"), shape="0")
    table.computed(
        "dissolved",
        8,
        each(work.dissolves_verdict, "listed", "strengths", "shares"),
        style="grid words",
        known=TEXT,
    )
    table.end()
    page.gap()
    return table


def each(function: Any, *arguments: str) -> Maker:
    """Row by row: each argument is the row's part of a column, or with ":" a single value."""

    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        keys = (name[1:] if name[0] == ":" else part(name, i) for name in arguments)
        return function, tuple(keys)

    return make


def _water(page: Page) -> None:
    page.section("What the water brings")
    for name, (label, default) in WATER.items():
        page.input(f"water_{name}", label, "target", default, "ppm", usual=(0, 200))
    page.input(
        "water_alkalinity", "Alkalinity, as CaCO3", "alkalinity_as_caco3", 60, "ppm", usual=(0, 300)
    )
    page.gap()


def _contents(page: Page) -> None:
    page.heading(
        "Contents",
        "Percent of each element in the products, and mmol of ions from each "
        "gram. Nothing to type here.",
    )
    columns = [*NITROGEN, *ELEMENTS]
    head = page.sheet.row
    page.end_row()
    table = Table(page, PRODUCTS)
    ions = [ion.replace("dihydrogen_", "") for ion in IONS]
    table.heads(["Product", *HEADS, *ions, "kg/L", "free iron"], head)
    table.computed(
        "products_again", 1, each(work.listed_product, "products"), known=TEXT, style="row name"
    )
    for i, column in enumerate(columns):
        table.computed(
            f"percent_{column}",
            2 + i,
            each(work.content(column), "listed"),
            shape="0.0##",
            known=NUMBER,
        )
    for i, ion in enumerate(IONS):
        table.computed(
            f"ion_{ion}",
            2 + len(columns) + i,
            each(work.ions(ion), "listed"),
            shape="0.0##",
            known=NUMBER,
        )
    last = 2 + len(columns) + len(IONS)
    table.computed(
        "densities", last, each(work.content("density_kgL"), "listed"), shape="0.0##", known=NUMBER
    )
    table.computed(
        "free_irons",
        last + 1,
        each(work.free_iron, "listed", "strengths", "percent_fe"),
        shape="0.0##",
        known=NUMBER,
    )
    table.end()


def _elements(page: Page) -> None:
    page.section("What arrives at the emitter", "words")
    table = Table(page, len(TARGETS))
    titles = ("Element", "target", "unit", "products", "water", "together", "% off", "verdict")
    table.heads(titles, page.sheet.row - 1)
    names = tuple(TARGETS)
    table.labels(1, names)
    table.labels(3, ["mg/L"] * len(names), "unit")
    table.typed(
        "targets",
        2,
        "Target at the emitter, mg/L",
        list(TARGETS.values()),
        limits=QUANTITIES["target"],
        usual=(0, 300),
    )
    table.computed("from_products", 4, _from_products(names), shape="0.0##", known=NUMBER)
    table.computed("from_water", 5, _from_water(names), shape="0.0##", known=NUMBER)
    table.computed(
        "together",
        6,
        each(work.both, "from_products", "from_water"),
        shape="0.0##",
        known=NUMBER,
        style="result",
    )
    table.computed("off_targets", 7, each(work.off_target, "together", "targets"), shape="0.0")
    table.computed(
        "met",
        8,
        each(work.target_verdict, "targets", "off_targets"),
        style="grid words",
        known=TEXT,
    )
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


def _conductivity(page: Page) -> None:
    page.section("Acid and conductivity of the feed", "results")
    page.result(
        "acid_given",
        "Acid from the products (base if negative)",
        work.acid_given,
        unit="meq/L",
        doses="doses",
        hydrogen="ion_hydrogen",
    )
    page.result(
        "alkalinity_left",
        "Alkalinity left in the feed",
        work.alkalinity_left,
        unit="meq/L",
        acid="acid_given",
    )
    for ion in IONS[:-1]:
        name = "phosphate" if ion == "dihydrogen_phosphate" else ion
        page.result(
            f"feed_{name}",
            f"From the products: {name.replace('_', ' ')}",
            work.feed_ion,
            unit="mmol/L",
            doses="doses",
            per_gram=f"ion_{ion}",
            shape="0.000",
        )
    ions: dict[str, Any] = {name: f"feed_{name}" for name in (*IONS[:-2], "phosphate")}
    page.result(
        "ec_products", "EC of the products in pure water", work.ec_of_products, unit="mS/cm", **ions
    )
    page.result("ec_water", "EC of the water alone", work.ec_of_water, unit="mS/cm")
    feed = {name: key for name, key in ions.items() if name != "bicarbonate"}
    page.result(
        "ec_feed",
        "EC that the meter should read",
        work.ec_of_feed,
        unit="mS/cm",
        alkalinity="alkalinity_left",
        note="at 25 degrees C",
        **feed,
    )


def _clear(page: Page) -> None:
    page.section("Does each tank stay clear?", "words")
    for letter in TANKS:
        page.check(
            f"clear_{letter.lower()}",
            f"Tank {letter}",
            work.same,
            amount=f"verdict_{letter.lower()}",
        )
