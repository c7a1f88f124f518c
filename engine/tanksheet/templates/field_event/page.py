"""Field event: one fertigation of an area, from the dose to the injector's rate and the clock."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.inputs import Beside, Doubt
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.field_event import dose_working as work
from tanksheet.templates.field_event.card import card, make_ready
from tanksheet.templates.field_event.line_working import JARS
from tanksheet.templates.field_event.results import amounts, running, stays_clear
from tanksheet.templates.field_event.telling import SAFETY, SOURCES, STEPS, tiles_of
from tanksheet.templates.products import STRENGTH, product_choice
from tanksheet.templates.verdicts import verdicts_of
from tanksheet.units import (
    PH,
    Gram,
    Hour,
    KgPerHa,
    LitrePerHa,
    LitrePerHour,
    Number,
    Quantity,
)

NUTRIENT_DOSE = Quantity(KgPerHa, "nutrient wanted on each hectare", 0, 1e5, above=True)
PRODUCT_DOSE = Quantity(KgPerHa, "product wanted on each hectare", 0, 1e6, above=True)
LIQUID_DOSE = Quantity(LitrePerHa, "liquid wanted on each hectare", 0, 1e6, above=True)
PLANT_DOSE = Quantity(Gram, "wanted for each plant", 0, 1e6, above=True)
PLANTS = Quantity(Number, "plants fed", 1, 1e9)
STOCK_STRENGTH = Quantity(STRENGTH.alias, "product in a litre of stock", 0, 2000, above=True)
WATER_PARTS = Quantity(Number, "litres of water to each litre of a liquid", 0, 1000)
RUN = Quantity(Hour, "time from opening to closing the valve", 0, 1000, above=True)
PART_OF_RUN = Quantity(Hour, "part of the run", 0, 1000)
INJECTING = Quantity(Hour, "time of injecting", 0, 1000, above=True)
MOST_RATE = Quantity(LitrePerHour, "most that the injector gives", 0, 1e7, above=True)
JAR_PH = Quantity(PH, "pH of the jar", 1, 12)
LEAST_RATE = Quantity(LitrePerHour, "least that the injector gives", 0, 1e7)
FORMS, PRINTED = ("dry", "liquid"), ("oxide", "element")
# What a label may print for an element: its oxide.
OXIDES = {"P": "P2O5", "K": "K2O", "Ca": "CaO", "Mg": "MgO", "S": "SO3"}
EXAMPLE = "urea ammonium nitrate 32-0-0"
EVENTS = ("Almonds, block 4, bloom", "Corn, pivot 2, V10", "Tomatoes, row 1 to 60")


def make(edition: str = "metric") -> Book:
    book = Book(
        "field-event",
        "Field event",
        "One fertigation of an area: product, stock, rate of injection, and the clock.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Field event")
    page.named_opening("Field event", "event_name", "Name of this event", EVENTS)
    verdicts = verdicts_of(page)
    ready = page.keep_rows(4)
    _dose(page)
    _product(page)
    _run(page)
    _injector(page)
    _water(page)
    _label(page)
    amounts(page, verdicts)
    running(page, verdicts)
    stays_clear(page, verdicts)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*tiles_of(edition))
    card(book)
    make_ready(page, ready)
    book.sources += SOURCES
    return book


def _dose(page: Page) -> None:
    page.section("Dose: type one of the five")
    page.choice("nutrient", "Nutrient", work.NUTRIENTS, "N")
    page.input(
        "dose",
        "Nutrient on the area",
        NUTRIENT_DOSE,
        20,
        "kg/ha",
        usual=(1, 80),
        optional=True,
        us=(20, "lb/acre"),
    )
    for name, label, limits, usual, unit, us in (
        ("product_dose", "... or product, by weight", PRODUCT_DOSE, (2, 400), "kg/ha", "lb/acre"),
        ("liquid_dose", "... or product, by volume", LIQUID_DOSE, (2, 400), "L/ha", "gal/acre"),
        ("plant_dose", "... or nutrient a plant", PLANT_DOSE, (0.1, 200), "g", "oz"),
        ("plant_product", "... or product a plant", PLANT_DOSE, (0.5, 1000), "g", "oz"),
    ):
        page.input(name, label, limits, None, unit, usual=usual, optional=True, us=(None, us))
    page.input("area", "Area", "area", 8, "ha", usual=(0.01, 200), optional=True, us=(40, "acre"))
    page.input("plants", "Plants", PLANTS, None, usual=(10, 200000), optional=True)
    page.gap()


def _product(page: Page) -> None:
    page.section("Product")
    product_choice(
        page, "fertilizer", "Product, if in the list", work.product_note, ("nutrient",), EXAMPLE
    )
    page.book.aliases["product"] = page.book.key_for("fertilizer")
    page.note("A product that is not in the list goes by its label, lower down.")
    page.input(
        "stock_strength",
        "Dry: product in stock",
        STOCK_STRENGTH,
        150,
        "g/L",
        usual=(10, 600),
        optional=True,
        us=(1.25, "lb/gal"),
    )
    page.input(
        "water_parts",
        "Liquid: parts of water to one",
        WATER_PARTS,
        0,
        usual=(0, 50),
    )
    page.input(
        "temperature",
        "Coldest the tank gets",
        "table_celsius",
        10,
        "degC",
        usual=(2, 35),
        us=(50, "degF"),
    )
    page.gap()


def _run(page: Page) -> None:
    page.section("Water and clock")
    page.input(
        "flow", "Water flow of the zone", "flow", 1000, "L/min", usual=(5, 20000), us=(600, "gpm")
    )
    page.input("set_time", "The zone runs for", RUN, 6, "h", usual=(0.3, 72))
    page.input("fill_time", "Fill and pressurise, before", PART_OF_RUN, 45, "min", usual=(0.05, 6))
    page.input("flush_time", "Flush, after", PART_OF_RUN, 60, "min", usual=(0.05, 8))
    page.input(
        "inject_time",
        "Inject for, if not all between",
        INJECTING,
        None,
        "h",
        usual=(0.2, 60),
        optional=True,
    )
    page.gap()


def _injector(page: Page) -> None:
    page.section("Injector and tank")
    page.input(
        "pump_most",
        "The injector gives at most",
        MOST_RATE,
        150,
        "L/h",
        usual=(1, 3000),
        optional=True,
        us=(70, "gph"),
    )
    page.input(
        "pump_least",
        "... and no less than",
        LEAST_RATE,
        15,
        "L/h",
        usual=(0, 500),
        optional=True,
        us=(4, "gph"),
    )
    page.input(
        "tank",
        "The tank holds",
        "tank",
        500,
        "L",
        usual=(20, 50000),
        optional=True,
        us=(300, "gal"),
    )
    page.gap()


def _water(page: Page) -> None:
    page.section("Water of the line")
    page.input("ec_water", "EC of the water", "ec_water", 0.6, "mS/cm", usual=(0, 3), optional=True)
    for name, label, element, default, most in (
        ("water_ca", "Calcium", "Ca", 60, 200),
        ("water_mg", "Magnesium", "Mg", 15, 80),
    ):
        page.input(
            name,
            label,
            "target",
            default,
            "ppm",
            usual=(0, most),
            nutrient=element,
            optional=True,
        )
    page.input(
        "water_alkalinity",
        "Alkalinity, as CaCO3",
        "alkalinity_as_caco3",
        150,
        "ppm",
        usual=(0, 400),
        optional=True,
    )
    page.input("water_ph", "pH", "ph_water", 7.4, usual=(6, 9), optional=True)
    page.choice("jar", "A jar at the ratio above", JARS, JARS[0])
    page.input("jar_ec", "... its EC", "ec_water", None, "mS/cm", usual=(0, 8), optional=True)
    page.input("jar_ph", "... its pH", JAR_PH, None, usual=(4, 9), optional=True)
    page.gap()


def _label(page: Page) -> None:
    page.section("Label, if not in the list", "printed", "", "as element")
    page.choice("form", "Form", FORMS, "liquid")
    page.input(
        "density",
        "Density, if liquid",
        "density",
        None,
        "kg/L",
        usual=(1.0, 1.6),
        optional=True,
        us=(None, "lb/gal"),
    )
    page.input(
        "saturated",
        "Saturated stock, if known",
        STRENGTH,
        None,
        "g/L",
        usual=(20, 1500),
        optional=True,
    )
    page.choice("printed_pk", "Label prints P and K as", PRINTED, "oxide")
    page.choice("printed_other", "Label prints Ca, Mg, S as", PRINTED, "element")
    for element in ("N", *OXIDES):
        _label_row(page, element)
    _trace_row(page)
    page.gap()


def _label_row(page: Page, element: str) -> None:
    low = element.lower()
    uses, function = {"content": f"label_{low}"}, work.label_nitrogen
    if element != "N":
        uses["printed"] = "printed_pk" if element in ("P", "K") else "printed_other"
        function = work.label_element(low, OXIDES[element])
    page.input(
        f"label_{low}",
        f"{element} or {OXIDES[element]}" if element in OXIDES else element,
        "percent_oxide",
        None,
        "%",
        usual=(0, 62),
        optional=True,
        doubt=Doubt(work.not_used, ("product",)),
        beside=Beside(f"element_{low}", function, f"% {element}", uses),
    )


def _trace_row(page: Page) -> None:
    uses = {"content": "label_trace"}
    page.input(
        "label_trace",
        "Trace element chosen above",
        "percent_oxide",
        None,
        "%",
        usual=(0, 30),
        optional=True,
        doubt=Doubt(work.not_used, ("product",)),
        beside=Beside("element_trace", work.label_trace, "%", uses),
    )
