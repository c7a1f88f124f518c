"""Stock tank: what to weigh or pour for one tank, how long it lasts, and does the meter agree."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert, element
from tanksheet.calc.ratio import (
    corrected_ratio,
    feed_rate,
    measured_ratio,
    percent_injected,
    ratio_error,
    tank_life,
)
from tanksheet.calc.stock import delivered, liquid_volume, stock_mass
from tanksheet.sheets.book import Book
from tanksheet.sheets.inputs import Beside
from tanksheet.sheets.page import Page, add_page
from tanksheet.subset import helper, is_number, shown
from tanksheet.templates.wording import pounds_and_ounces

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
    "On a drinking-water supply, inject only behind the backflow preventer that the local code asks "
    "for, installed and tested by a licensed person. Labels and safety data sheets come first.",
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
    page.result("percent_setting", "Setting in percent", percent_injected, shape="0.000")
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
    if nutrient == "N":
        page.input(f"label_{name}", "N", "percent_oxide", default, "%", usual=(0, 62))
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
        beside=Beside(f"element_{name}", as_element(oxide), f"% {nutrient}", uses),
    )


def _elements(number: int) -> dict[str, Any]:
    """Which quantities stand for the parameters n, p, k, ca, mg and s of a product."""
    return {each.lower(): f"element_{each.lower()}_{number}" for each in NUTRIENTS}


def _amounts(page: Page) -> None:
    page.section("To put in the tank", "results")
    page.result(
        "content_1",
        "Product 1 contains of its nutrient",
        content_of,
        unit="%",
        nutrient="nutrient_1",
        **_elements(1),
    )
    page.result(
        "mass_1", "Product 1, mass", mass_for, unit="g", target="target_1", content="content_1"
    )
    page.result("pounds_1", "... in pounds and ounces", pounds_ounces, words=True, mass="mass_1")
    page.result(
        "volume_1",
        "Product 1, volume if liquid",
        volume_for,
        unit="L",
        may_be_words=True,
        form="form_1",
        target="target_1",
        content="content_1",
        density="density_1",
    )
    page.result(
        "brought",
        "Product 1 brings of product 2's nutrient",
        brought_by,
        unit="mg/L",
        nutrient="nutrient_2",
        mass="mass_1",
        **_elements(1),
    )
    page.result("still_missing", "Still missing of it", missing, unit="mg/L", target="target_2")
    page.result(
        "content_2",
        "Product 2 contains of its nutrient",
        content_of,
        unit="%",
        nutrient="nutrient_2",
        **_elements(2),
    )
    page.result(
        "mass_2", "Product 2, mass", mass_for, unit="g", target="still_missing", content="content_2"
    )
    page.result("pounds_2", "... in pounds and ounces", pounds_ounces, words=True, mass="mass_2")
    page.result(
        "volume_2",
        "Product 2, volume if liquid",
        volume_for,
        unit="L",
        may_be_words=True,
        form="form_2",
        target="still_missing",
        content="content_2",
        density="density_2",
    )
    page.gap()


def _delivered(page: Page) -> None:
    page.section("What arrives at the emitter", "results")
    for nutrient in NUTRIENTS:
        low = nutrient.lower()
        page.result(
            f"delivered_{low}",
            nutrient,
            delivered_by_both,
            unit="mg/L",
            one=f"element_{low}_1",
            two=f"element_{low}_2",
        )
    everything: dict[str, Any] = {
        f"{each.lower()}": f"delivered_{each.lower()}" for each in NUTRIENTS
    }
    for number in (1, 2):
        page.check(
            f"target_{number}_check",
            f"Target of product {number}",
            target_met,
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
    )
    page.note(
        "What it should read: from the label's table, or mix a bucket by hand at the set "
        "ratio and read that."
    )
    page.result(
        "ratio_by_meter", "It feeds as if set to 1 :", ratio_read, may_be_words=True, unit="parts"
    )
    page.result(
        "feed_error",
        "That is over (+) or under (-) by",
        error_by_meter,
        may_be_words=True,
        unit="%",
    )
    page.result(
        "new_ratio", "Set the injector to 1 :", new_setting, may_be_words=True, unit="parts"
    )
    page.result(
        "new_percent",
        "... or in percent",
        new_in_percent,
        may_be_words=True,
        unit="%",
        shape="0.000",
    )
    page.check("meter_check", "Verdict by meter", meter_verdict)
    page.gap()


def _drawdown(page: Page) -> None:
    page.section("Drawdown test")
    page.input(
        "test_water", "Water that passed", "water", 100, "L", usual=(10, 10000), optional=True
    )
    page.input("test_stock", "Stock drawn meanwhile", "stock", 0.97, "L", usual=(0.01, 100))
    page.result("tested_ratio", "True ratio 1 :", ratio_by_test, may_be_words=True, unit="parts")
    page.check("drawdown_check", "Verdict by drawdown", drawdown_verdict)


def _card(book: Book) -> None:
    page = add_page(book, "Mixing card", widths=(86, 6))
    page.sheet.put(1, "Mixing card", "card title", across=2)
    page.end_row(30)
    page.line("card_tank", card_tank)
    page.line(
        "card_1",
        card_product(1),
        target="target_1",
        mass="mass_1",
        volume="volume_1",
        pounds="pounds_1",
    )
    page.line(
        "card_2",
        card_product(2),
        target="still_missing",
        mass="mass_2",
        volume="volume_2",
        pounds="pounds_2",
    )
    page.line("card_fill", card_fill)
    page.line("card_setting", card_setting)
    page.line("card_draw", card_draw)
    page.line("card_life", card_life)
    page.line("card_meter", card_meter, verdict="meter_check")
    page.gap()
    for line in SAFETY:
        page.sheet.put(1, line, "safety", across=2)
        page.end_row(30)


# The working, in the subset that compiles to formulas.


def as_element(oxide: str) -> Any:
    def content_as_element(printed: Any, content: Any) -> Any:
        return element(oxide, content) if printed == "oxide" else content

    return content_as_element


@helper
def pick(nutrient: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any, s: Any) -> Any:
    if nutrient == "N":
        return n
    if nutrient == "P":
        return p
    if nutrient == "K":
        return k
    if nutrient == "Ca":
        return ca
    return mg if nutrient == "Mg" else s


def content_of(nutrient: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any, s: Any) -> Any:
    return pick(nutrient, n, p, k, ca, mg, s)


def mass_for(target: Any, content: Any, ratio: Any, tank: Any) -> Any:
    return 0 if target == 0 else stock_mass(target, content, ratio, tank)


def volume_for(form: Any, target: Any, content: Any, density: Any, ratio: Any, tank: Any) -> Any:
    if form == "dry":
        return "weigh it"
    return 0 if target == 0 else liquid_volume(target, content, density, ratio, tank)


def pounds_ounces(mass: Any) -> Any:
    return pounds_and_ounces(mass)


@helper
def arriving(mass: Any, content: Any, ratio: Any, tank: Any) -> Any:
    return 0 if content == 0 else delivered(mass, content, ratio, tank)


def brought_by(
    nutrient: Any,
    n: Any,
    p: Any,
    k: Any,
    ca: Any,
    mg: Any,
    s: Any,
    mass: Any,
    ratio: Any,
    tank: Any,
) -> Any:
    return arriving(mass, pick(nutrient, n, p, k, ca, mg, s), ratio, tank)


def missing(target: Any, brought: Any) -> Any:
    return max(0, target - brought)


def delivered_by_both(one: Any, two: Any, mass_1: Any, mass_2: Any, ratio: Any, tank: Any) -> Any:
    return arriving(mass_1, one, ratio, tank) + arriving(mass_2, two, ratio, tank)


def target_met(nutrient: Any, target: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any, s: Any) -> Any:
    if not is_number(n):
        return "stop: mend the entries above that are not ok"
    arrives = pick(nutrient, n, p, k, ca, mg, s)
    if target == 0:
        return f"not used; {shown(arrives, 1)} ppm {nutrient} arrives from the other product"
    off = (arrives / target - 1) * 100
    if abs(off) <= 10:
        return f"pass: {shown(arrives, 1)} ppm {nutrient} arrives, {shown(off, 1)} % from target"
    if abs(off) <= 25:
        return f"caution: {shown(arrives, 1)} ppm {nutrient} arrives, {shown(off, 1)} % from target"
    return f"stop: {shown(arrives, 1)} ppm {nutrient} arrives, {shown(off, 1)} % from target"


def ratio_read(ratio: Any, ec_measured: Any, ec_water: Any, ec_target: Any) -> Any:
    # The dose read, set against the dose planned: corrected_ratio with the two swapped.
    if ec_measured == "":
        return "not measured"
    return corrected_ratio(ratio, ec_target, ec_water, ec_measured)


def error_by_meter(ratio_by_meter: Any, ratio: Any) -> Any:
    if is_number(ratio_by_meter):
        return ratio_error(ratio_by_meter, ratio)
    return ratio_by_meter


def new_setting(ratio: Any, ec_measured: Any, ec_water: Any, ec_target: Any) -> Any:
    if ec_measured == "":
        return "not measured"
    return corrected_ratio(ratio, ec_measured, ec_water, ec_target)


def new_in_percent(new_ratio: Any) -> Any:
    return percent_injected(new_ratio) if is_number(new_ratio) else new_ratio


@helper
def feed_verdict(error: Any) -> Any:
    if abs(error) <= 5:
        return f"pass: within 5 % of the setting ({shown(error, 1)} %)"
    if abs(error) <= 10:
        return f"caution: {shown(error, 1)} % off; correct the setting and read again"
    if error > 0:
        return f"stop: feeds {shown(error, 1)} % too much; check ratio, seals and mixing"
    return f"stop: feeds {shown(-error, 1)} % too little; check suction, screen and air leaks"


def meter_verdict(feed_error: Any) -> Any:
    if is_number(feed_error):
        return feed_verdict(feed_error)
    return "not measured, or a reading above that cannot be right"


def ratio_by_test(test_water: Any, test_stock: Any) -> Any:
    return "not tested" if test_water == "" else measured_ratio(test_water, test_stock)


def drawdown_verdict(tested_ratio: Any, ratio: Any) -> Any:
    if is_number(tested_ratio):
        return feed_verdict(ratio_error(tested_ratio, ratio))
    return "not tested"


def card_tank(tank: Any) -> Any:
    return (
        f"Tank of {shown(tank, 1)} L ({shown(convert(tank, 'L', 'gal'), 1)} gal): "
        "fill it half with water."
    )


def card_product(number: int) -> Any:
    opening = f"Product {number}: "

    def card_amount(target: Any, mass: Any, volume: Any, pounds: Any) -> Any:
        if target == 0:
            return f"{opening}none."
        if is_number(volume):
            return (
                f"{opening}pour {shown(volume, 2)} L "
                f"({shown(convert(volume, 'L', 'gal'), 2)} gal), stirring."
            )
        return f"{opening}weigh {shown(mass, 0)} g ({pounds}), add slowly, stirring."

    return card_amount


def card_fill(tank: Any) -> Any:
    return f"Make up to {shown(tank, 1)} L and stir until all is dissolved."


def card_setting(ratio: Any, percent_setting: Any) -> Any:
    return f"Set the injector to 1 : {shown(ratio, 1)} ({shown(percent_setting, 3)} %)."


def card_draw(stock_per_hour: Any) -> Any:
    return (
        f"It draws {shown(stock_per_hour, 1)} L "
        f"({shown(convert(stock_per_hour, 'L/h', 'gph'), 1)} gal) of stock an hour."
    )


def card_life(hours_per_tank: Any) -> Any:
    return f"The tank lasts {shown(hours_per_tank, 1)} hours of running."


def card_meter(verdict: Any, new_ratio: Any) -> Any:
    if is_number(new_ratio):
        return f"Meter: {verdict}. Corrected setting 1 : {shown(new_ratio, 1)}."
    return "Meter: read the feed at the emitter once the line has filled."
