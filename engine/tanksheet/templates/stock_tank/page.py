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
from tanksheet.templates.stock_tank import working as work

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
SAFETY = (
    "Wear goggles and gloves. Fill the tank part-way with water, add the fertilizer slowly while "
    "stirring, then make up to the mark. If acid is used: acid into water, never water into acid.",
    "Never put chlorine products in a tank with acid or with ammonium or urea: poisonous gas. Keep "
    "calcium products apart from sulfates and phosphates in concentrates: they settle out.",
    "On a drinking-water supply, inject only behind the backflow preventer that the local code "
    "asks for, installed and tested by a licensed person. Labels and safety data sheets come "
    "first.",
)
SOURCES = (
    (
        "A feed within 5 % of the plan passes, beyond 10 % the injector needs attention.",
        "common practice, no source",
    ),
    ("Delivered within 10 % of a target passes.", "common practice, no source"),
    (
        "Order of mixing, protective wear and what must not share a tank.",
        "common extension advice (from memory); UMass Extension, Adjusting Alkalinity with Acids",
    ),
)


def make() -> Book:
    book = Book(
        "stock-tank",
        "Stock tank",
        "What to weigh or pour for one tank of stock, and whether the meter agrees.",
    )
    page = add_page(book, "Stock tank")
    page.heading(
        "Stock tank",
        f"{book.purpose} Type in the yellow cells. Product 1 is worked out "
        "first; product 2 then makes up what is still missing of its own nutrient.",
    )
    _injection(page)
    for number in (1, 2):
        _product(page, number)
    _amounts(page)
    _delivered(page)
    _meter(page)
    _drawdown(page)
    page.gap()
    page.safety(SAFETY)
    _card(book)
    book.sources += SOURCES
    return book


def _injection(page: Page) -> None:
    page.section("Tank and injector")
    page.input("tank", "Stock the tank holds", "tank", 200, "L", usual=(5, 20000))
    page.input("ratio", "Injector setting", "ratio", 100, "1:N", usual=(10, 3000))
    page.input("flow", "Water flow through the injector", "flow", 12, "gpm", usual=(1, 3000))
    page.result("percent_setting", "Setting in percent", percent_injected, pattern="0.000")
    page.result("stock_per_hour", "Stock drawn", feed_rate)
    page.result("hours_per_tank", "One tank lasts", tank_life, note="hours of running")
    page.gap()


def _product(page: Page, number: int) -> None:
    default = "K" if number == 1 else "N"
    page.section(f"Product {number}")
    page.choice(f"nutrient_{number}", "It is chosen for its", NUTRIENTS, default)
    page.input(
        f"target_{number}",
        "Target at the emitter (0: product not used)",
        "target",
        150,
        "ppm",
        usual=(0, 1000),
    )
    page.choice(f"form_{number}", "Form", FORMS, "dry")
    page.input(f"density_{number}", "Density, if liquid", "density", 1.32, "kg/L", usual=(1.0, 1.6))
    page.choice(f"printed_pk_{number}", "Label prints P and K as", PRINTED, "oxide")
    page.choice(f"printed_other_{number}", "Label prints Ca, Mg and S as", PRINTED, "element")
    page.section(f"Label of product {number}", us="as element")
    for nutrient in NUTRIENTS:
        _label_row(page, nutrient, number)
    page.gap()


def _label_row(page: Page, nutrient: str, number: int) -> None:
    name, default = f"{nutrient.lower()}_{number}", GRADES[number][nutrient]
    doubt = Doubt(work.chosen_without(nutrient), (f"nutrient_{number}",))
    if nutrient == "N":
        page.input(f"label_{name}", "N", "percent_oxide", default, "%", usual=(0, 62), doubt=doubt)
        page.book.aliases[f"element_{name}"] = page.book.key_for(f"label_{name}")
        return
    oxide = OXIDES[nutrient]
    printed = "printed_pk" if nutrient in ("P", "K") else "printed_other"
    uses = {"printed": f"{printed}_{number}", "content": f"label_{name}"}
    page.input(
        f"label_{name}",
        f"{nutrient} or {oxide}",
        "percent_oxide",
        default,
        "%",
        usual=(0, 62),
        doubt=doubt,
        beside=Beside(f"element_{name}", work.as_element(oxide), f"% {nutrient}", uses),
    )


def _elements(number: int) -> dict[str, Any]:
    """Which quantities stand for the parameters n, p, k, ca, mg and s of a product."""
    return {each.lower(): f"element_{each.lower()}_{number}" for each in NUTRIENTS}


def _amounts(page: Page) -> None:
    page.section("To put in the tank", "results")
    _amount(page, 1, "target_1")
    nutrient: dict[str, Any] = {"nutrient": "nutrient_2", "mass": "mass_1", **_elements(1)}
    label = "Product 1 brings of product 2's nutrient"
    page.result("brought", label, work.brought_by, unit="mg/L", **nutrient)
    missing = "still_missing"
    page.result(missing, "Still missing of it", work.missing, unit="mg/L", target="target_2")
    _amount(page, 2, missing)
    page.gap()


def _amount(page: Page, number: int, target: str) -> None:
    """Mass, pounds and volume of one product for what it has to bring."""
    content, mass = f"content_{number}", f"mass_{number}"
    label: dict[str, Any] = {"nutrient": f"nutrient_{number}", **_elements(number)}
    name = f"Product {number}"
    page.result(content, f"{name} contains of its nutrient", work.content_of, unit="%", **label)
    page.result(mass, f"{name}, mass", work.mass_for, unit="g", target=target, content=content)
    page.result(
        f"pounds_{number}", "... in pounds and ounces", work.pounds_ounces, words=True, mass=mass
    )
    page.result(
        f"volume_{number}",
        f"{name}, volume if liquid",
        work.volume_for,
        unit="L",
        may_be_words=True,
        form=f"form_{number}",
        target=target,
        content=content,
        density=f"density_{number}",
    )


def _delivered(page: Page) -> None:
    page.section("What arrives at the emitter", "results")
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
        page.verdict(
            f"target_{number}_check",
            f"Target of product {number}",
            work.target_met,
            nutrient=f"nutrient_{number}",
            target=f"target_{number}",
            **everything,
        )
    page.gap()


def _meter(page: Page) -> None:
    page.section("Does the EC meter agree?")
    page.input("ec_water", "Plain water reads", "ec_water", 0.4, "mS/cm", usual=(0, 3))
    page.input("ec_target", "The feed should read", "ec_target", 1.9, "mS/cm", usual=(0.2, 6))
    page.input(
        "ec_measured",
        "The feed reads at the emitter",
        "ec_measured",
        2.02,
        "mS/cm",
        usual=(0, 10),
        optional=True,
        doubt=Doubt(work.no_stronger_than_water, ("ec_water",)),
    )
    page.note(
        "What it should read: from the label's table, or mix a bucket by hand at the set "
        "ratio and read that."
    )
    _meter_results(page)


def _meter_results(page: Page) -> None:
    page.result(
        "ratio_by_meter",
        "It feeds as if set to 1 :",
        work.ratio_read,
        may_be_words=True,
        unit="parts",
    )
    page.result(
        "feed_error",
        "That is over (+) or under (-) by",
        work.error_by_meter,
        may_be_words=True,
        unit="%",
    )
    page.result(
        "new_ratio", "Set the injector to 1 :", work.new_setting, may_be_words=True, unit="parts"
    )
    page.result(
        "new_percent",
        "... or in percent",
        work.new_in_percent,
        may_be_words=True,
        unit="%",
        pattern="0.000",
    )
    page.verdict("meter_check", "Verdict by meter", work.meter_verdict)
    page.gap()


def _drawdown(page: Page) -> None:
    page.section("Drawdown test")
    page.input(
        "test_water", "Water that passed", "water", 100, "L", usual=(10, 10000), optional=True
    )
    page.input("test_stock", "Stock drawn meanwhile", "stock", 0.97, "L", usual=(0.01, 100))
    page.result(
        "tested_ratio", "True ratio 1 :", work.ratio_by_test, may_be_words=True, unit="parts"
    )
    page.verdict("drawdown_check", "Verdict by drawdown", work.drawdown_verdict)


def _card(book: Book) -> None:
    page = add_page(book, "Mixing card", widths=(86, 6))
    page.sheet.put(1, "Mixing card", "card title", across=2)
    page.end_row(30)
    page.line("card_tank", work.card_tank)
    page.line(
        "card_1",
        work.card_product(1),
        target="target_1",
        mass="mass_1",
        volume="volume_1",
        pounds="pounds_1",
    )
    page.line(
        "card_2",
        work.card_product(2),
        target="still_missing",
        mass="mass_2",
        volume="volume_2",
        pounds="pounds_2",
    )
    page.line("card_fill", work.card_fill)
    page.line("card_setting", work.card_setting)
    page.line("card_draw", work.card_draw)
    page.line("card_life", work.card_life)
    page.line("card_meter", work.card_meter, verdict="meter_check")
    page.gap()
    for line in SAFETY:
        page.sheet.put(1, line, "safety", across=2)
        page.end_row(30)
