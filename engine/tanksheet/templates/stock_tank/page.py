"""Stock tank: what to weigh or pour for one tank, how long it lasts, and does the meter agree."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.ratio import (
    feed_rate,
    percent_injected,
    tank_life,
)
from tanksheet.sheets.book import Book
from tanksheet.sheets.inputs import Beside, Doubt
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.products import STRENGTH, product_choice
from tanksheet.templates.stock_tank import reading, tank
from tanksheet.templates.stock_tank import working as work
from tanksheet.templates.stock_tank.reading import SAFETY, SOURCES, STEPS
from tanksheet.templates.stock_tank.taps import by_drawdown, by_meter
from tanksheet.templates.verdicts import Verdicts, verdicts_of

NUTRIENTS = ("N", "P", "K", "Ca", "Mg", "S")
# What a label may print for a nutrient: the element, or this oxide of it.
OXIDES = {"P": "P2O5", "K": "K2O", "Ca": "CaO", "Mg": "MgO", "S": "SO3"}
FORMS = ("dry", "liquid")
PRINTED = ("oxide", "element")
# Label contents in percent: potassium nitrate 13.5-0-46, calcium nitrate 15.5-0-0 with 19 % Ca.
GRADES = {
    1: {"N": 13.5, "P": 0, "K": 46, "Ca": 0, "Mg": 0, "S": 0},
    2: {"N": 15.5, "P": 0, "K": 0, "Ca": 19, "Mg": 0, "S": 0},
}


def make(edition: str = "metric") -> Book:
    book = Book(
        "stock-tank",
        "Stock tank",
        "What to weigh or pour for one tank of stock, and whether the meter agrees.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Stock tank")
    page.opening("Stock tank")
    verdicts = verdicts_of(page)
    weigh = page.keep_rows(4)
    _injection(page)
    for number in (1, 2):
        _product(page, number)
    _amounts(page)
    tank.contents(book)
    tank.judge(verdicts)
    _delivered(page, verdicts)
    by_meter(page, verdicts)
    by_drawdown(page, verdicts)
    page.gap()
    page.safety(SAFETY)
    reading.card(book, SAFETY)
    verdicts.close(*reading.tiles_of(edition))
    reading.weigh(page, weigh)
    book.sources += SOURCES
    return book


def _injection(page: Page) -> None:
    page.section("Tank and injector")
    page.input("tank", "Stock the tank holds", "tank", 200, "L", usual=(5, 20000), us=(50, "gal"))
    page.input("ratio", "Injector setting", "ratio", 100, "1:N", usual=(10, 3000))
    page.ratio_reading("ratio")
    page.input("flow", "Water flow", "flow", 45, "L/min", usual=(1, 3000), us=(12, "gpm"))
    page.input(
        "temperature",
        "Coldest the tank gets",
        "table_celsius",
        10,
        "degC",
        usual=(2, 35),
        us=(50, "degF"),
    )
    page.input(
        "water_ca", "Calcium in the water", "target", 20, "ppm", usual=(0, 200), nutrient="Ca"
    )
    page.input(
        "water_alkalinity",
        "Its alkalinity, as CaCO3",
        "alkalinity_as_caco3",
        60,
        "ppm",
        usual=(0, 400),
    )
    # Water over stock is what the injector is set to, however the setting is read.
    page.result(
        "percent_setting",
        "Setting in percent",
        percent_injected,
        pattern="0.000",
        ratio="ratio_set",
    )
    page.result("stock_per_hour", "Stock drawn", feed_rate, ratio="ratio_set")
    page.result("hours_per_tank", "One tank lasts", tank_life, ratio="ratio_set")
    page.gap()


def _product(page: Page, number: int) -> None:
    default = "K" if number == 1 else "N"
    page.section(f"Product {number}")
    page.choice(f"nutrient_{number}", "It is chosen for its", NUTRIENTS, default)
    page.input(
        f"target_{number}",
        "Target, 0 for not used",
        "target",
        150,
        "ppm",
        usual=(0, 1000),
        nutrient=f"nutrient_{number}",
        nutrients=NUTRIENTS,
    )
    product = f"product_{number}"
    uses = (f"nutrient_{number}",)
    product_choice(page, product, "Product, if in the list", work.holds_none, uses)
    page.note("A product of the list brings its own contents; what is typed below then counts not.")
    page.choice(f"form_{number}", "Form", FORMS, "dry")
    page.input(
        f"density_{number}",
        "Density, if liquid",
        "density",
        1.32,
        "kg/L",
        usual=(1.0, 1.6),
        us=(11, "lb/gal"),
    )
    page.input(
        f"saturated_{number}",
        "Saturated stock, if known",
        STRENGTH,
        None,
        "g/L",
        usual=(20, 1500),
        optional=True,
    )
    _label(page, number)


def _label(page: Page, number: int) -> None:
    page.choice(f"printed_pk_{number}", "Label prints P and K as", PRINTED, "oxide")
    page.choice(f"printed_other_{number}", "Label prints Ca, Mg, S as", PRINTED, "element")
    page.section(f"Label of product {number}", "printed", "", "as element")
    for nutrient in NUTRIENTS:
        _label_row(page, nutrient, number)
    page.gap()


def _label_row(page: Page, nutrient: str, number: int) -> None:
    name, default = f"{nutrient.lower()}_{number}", GRADES[number][nutrient]
    doubt = Doubt(work.chosen_without(nutrient), (f"nutrient_{number}", f"product_{number}"))
    uses = {"product": f"product_{number}", "content": f"label_{name}"}
    function = work.nitrogen_counted
    if nutrient != "N":
        printed = "printed_pk" if nutrient in ("P", "K") else "printed_other"
        uses["printed"] = f"{printed}_{number}"
        function = work.counted_as_element(nutrient.lower(), OXIDES[nutrient])
    page.input(
        f"label_{name}",
        f"{nutrient} or {OXIDES[nutrient]}" if nutrient in OXIDES else nutrient,
        "percent_oxide",
        default,
        "%",
        usual=(0, 62),
        doubt=doubt,
        beside=Beside(f"element_{name}", function, f"% {nutrient}", uses),
    )


def _elements(number: int) -> dict[str, Any]:
    """Which quantities stand for the parameters n, p, k, ca, mg and s of a product."""
    return {each.lower(): f"element_{each.lower()}_{number}" for each in NUTRIENTS}


def _amounts(page: Page) -> None:
    page.section("How much of each")
    _amount(page, 1, "target_1")
    nutrient: dict[str, Any] = {"nutrient": "nutrient_2", "mass": "mass_1", **_elements(1)}
    label = "Product 1 brings of it"
    page.result("brought", label, work.brought_by, unit="mg/L", **nutrient)
    missing = "still_missing"
    page.result(missing, "Still missing of it", work.missing, unit="mg/L", target="target_2")
    _amount(page, 2, missing)
    tank.shares(page)
    page.gap()


def _amount(page: Page, number: int, target: str) -> None:
    """Mass, pounds and volume of one product for what it has to bring."""
    content, mass = f"content_{number}", f"mass_{number}"
    label: dict[str, Any] = {"nutrient": f"nutrient_{number}", **_elements(number)}
    name = f"Product {number}"
    page.result(content, f"{name} contains", work.content_of, unit="%", **label)
    page.result(mass, f"{name}, mass", work.mass_for, unit="g", target=target, content=content)
    page.result(
        f"pounds_{number}", "... in pounds and ounces", work.pounds_ounces, words=True, mass=mass
    )
    page.result(
        f"density_used_{number}",
        "... its density if liquid",
        work.density_counted,
        unit="kg/L",
        may_be_words=True,
        product=f"product_{number}",
        form=f"form_{number}",
        density=f"density_{number}",
    )
    page.result(
        f"volume_{number}",
        f"{name}, volume if liquid",
        work.volume_for,
        unit="L",
        may_be_words=True,
        target=target,
        content=content,
        density_used=f"density_used_{number}",
    )


def _delivered(page: Page, verdicts: Verdicts) -> None:
    page.section("What arrives at the emitter")
    for nutrient in NUTRIENTS:
        low = nutrient.lower()
        page.result(
            f"delivered_{low}",
            nutrient,
            work.delivered_by_both,
            unit="mg/L",
            one=f"element_{low}_1",
            two=f"element_{low}_2",
        )
    everything: dict[str, Any] = {
        f"{each.lower()}": f"delivered_{each.lower()}" for each in NUTRIENTS
    }
    for number in (1, 2):
        verdicts.add(
            f"target_{number}_check",
            f"Target of product {number}",
            work.target_met,
            nutrient=f"nutrient_{number}",
            target=f"target_{number}",
            **everything,
        )
    page.gap()
