"""The working of the stock tank workbook, in the subset of Python that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert, element
from tanksheet.calc.ratio import corrected_ratio, measured_ratio, percent_injected, ratio_error
from tanksheet.calc.stock import delivered, liquid_volume, stock_mass
from tanksheet.subset import begins, helper, is_error, is_number, rounded, shown
from tanksheet.tables import is_listed, look_up
from tanksheet.templates.product_working import nitrogen_of, product_said
from tanksheet.templates.weight_working import (
    in_gallons,
    in_kilograms,
    in_litres,
    in_pounds_and_ounces,
)
from tanksheet.templates.working import MEND, pounds_and_ounces

# Added conductivity, mS/cm, of which 10 % is what a hand-held meter tells: common practice.
TELLABLE = 0.5


def counted_as_element(column: str, oxide: str) -> Any:
    """What counts: the list's figure for a product of it, else the label's, as the element."""

    def content_as_element(product: Any, printed: Any, content: Any) -> Any:
        if product != "":
            return look_up("fertilizers", column, product)
        return element(oxide, content) if printed == "oxide" else content

    return content_as_element


def nitrogen_counted(product: Any, content: Any) -> Any:
    return nitrogen_of(product) if product != "" else content


def density_counted(product: Any, form: Any, density: Any) -> Any:
    """kg/L of a liquid, or words for what is weighed."""
    if product == "":
        return density if form == "liquid" else "weigh it"
    listed = look_up("fertilizers", "density_kgL", product)
    return listed if listed > 0 else "weigh it"


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


def volume_for(target: Any, content: Any, density_used: Any, ratio: Any, tank: Any) -> Any:
    if density_used == "weigh it":
        return "weigh it"
    return 0 if target == 0 else liquid_volume(target, content, density_used, ratio, tank)


def holds_none(chosen: Any, nutrient: Any) -> Any:
    """A product's note: also where it holds nothing of what it is chosen for."""
    if is_error(nutrient) or is_error(chosen):
        return product_said(chosen)
    if chosen == "" or not is_listed("fertilizers", chosen):
        return product_said(chosen)
    content = pick(
        nutrient,
        nitrogen_of(chosen),
        look_up("fertilizers", "p", chosen),
        look_up("fertilizers", "k", chosen),
        look_up("fertilizers", "ca", chosen),
        look_up("fertilizers", "mg", chosen),
        look_up("fertilizers", "s", chosen),
    )
    return f"it holds no {nutrient}: choose another" if content == 0 else "ok"


def chosen_without(nutrient: str) -> Any:
    """A label's note for a product that is chosen for what it does not contain."""

    def note_of(usual: Any) -> Any:
        def note(content: Any, chosen: Any, product: Any) -> Any:
            if is_error(chosen) or is_error(content) or is_error(product):
                return usual(content)
            if product != "":
                return "not used: the choice counts"
            if content == 0 and chosen == nutrient:
                return "the product is chosen for this: type how much"
            return usual(content)

        return note

    return note_of


def no_stronger_than_water(usual: Any) -> Any:
    """The note of a reading that shows that nothing is injected."""

    def note(typed: Any, reading: Any, factor: Any, ec_water: Any) -> Any:
        if is_error(ec_water) or not is_number(reading):
            return usual(typed, reading, factor)
        if reading <= ec_water:
            return "as plain water: is stock drawn?"
        return usual(typed, reading, factor)

    return note


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
        return MEND
    arrives = pick(nutrient, n, p, k, ca, mg, s)
    if target == 0:
        return f"not used; {shown(arrives, 1)} ppm {nutrient} arrives from the other product"
    off = rounded((arrives / target - 1) * 100, 1)
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
def feed_verdict(exact: Any) -> Any:
    # Judged as it is shown: 10.00001 reads "10 %".
    error = rounded(exact, 1)
    if abs(error) <= 5:
        return f"pass: within 5 % of the setting ({shown(error, 1)} %)"
    if abs(error) <= 10:
        return f"caution: {shown(error, 1)} % off; correct the setting and read again"
    if error > 0:
        return f"stop: feeds {shown(error, 1)} % too much; check ratio, seals and mixing"
    return f"stop: feeds {shown(-error, 1)} % too little; check suction, screen and air leaks"


def meter_verdict(feed_error: Any, ec_water: Any, ec_target: Any) -> Any:
    if is_number(feed_error):
        if ec_target - ec_water < TELLABLE:
            return (
                f"not checked: the feed adds {shown(ec_target - ec_water, 2)} mS/cm, and a meter "
                "tells 0.05 at best; measure by drawdown"
            )
        return feed_verdict(feed_error)
    return "not measured, or a reading above that cannot be right"


def ratio_by_test(test_water: Any, test_stock: Any) -> Any:
    return "not tested" if test_water == "" else measured_ratio(test_water, test_stock)


def drawdown_verdict(tested_ratio: Any, ratio: Any) -> Any:
    if is_number(tested_ratio):
        return feed_verdict(ratio_error(tested_ratio, ratio))
    return "not tested, or an entry above that cannot be right"


def first_stop(fits: Any, dissolves: Any, clash: Any, target_1: Any, target_2: Any) -> Any:
    """What the card says in place of amounts, or a blank."""
    if begins(fits, "stop"):
        return fits
    if begins(clash, "stop"):
        return clash
    if begins(dissolves, "stop"):
        return dissolves
    if begins(target_1, "stop"):
        return target_1
    return target_2 if begins(target_2, "stop") else ""


def card_tank(tank: Any, card_stop: Any) -> Any:
    if card_stop != "":
        return ""
    return (
        f"Tank of {shown(tank, 1)} L ({shown(convert(tank, 'L', 'gal'), 1)} gal): "
        "fill it half with water."
    )


def card_product(number: int) -> Any:
    usual = f"Product {number}: "

    def card_amount(
        product: Any, target: Any, mass: Any, volume: Any, pounds: Any, card_stop: Any
    ) -> Any:
        if card_stop != "":
            return ""
        opening = usual if product == "" else f"{product}: "
        if target == 0:
            return f"{opening}none."
        if is_number(volume):
            return (
                f"{opening}pour {shown(volume, 2)} L "
                f"({shown(convert(volume, 'L', 'gal'), 2)} gal), stirring."
            )
        return f"{opening}weigh {shown(mass, 0)} g ({pounds}), add slowly, stirring."

    return card_amount


def weigh_name(number: int) -> Any:
    """What the table of weights calls a product."""
    usual = f"product {number}, by its label"

    def name(product: Any) -> Any:
        return usual if product == "" else product

    return name


def weight_in(edition: str) -> Any:
    """What to weigh, or to pour where it is a liquid, in the words of an edition."""
    weight = in_kilograms if edition == "metric" else in_pounds_and_ounces
    volume_said = in_litres if edition == "metric" else in_gallons

    def amount(target: Any, mass: Any, volume: Any) -> Any:
        if target == 0:
            return ""
        return volume_said(volume) if is_number(volume) else weight(mass)

    return amount


def card_fill(tank: Any, card_stop: Any) -> Any:
    if card_stop != "":
        return ""
    return f"Make up to {shown(tank, 1)} L and stir until all is dissolved."


def card_setting(ratio: Any, percent_setting: Any, card_stop: Any) -> Any:
    if card_stop != "":
        return ""
    return f"Set the injector to 1 : {shown(ratio, 1)} ({shown(percent_setting, 3)} %)."


def card_draw(stock_per_hour: Any, card_stop: Any) -> Any:
    if card_stop != "":
        return ""
    if stock_per_hour < 1:
        return (
            f"It draws {shown(stock_per_hour * 1000, 1)} mL "
            f"({shown(convert(stock_per_hour, 'L/h', 'gph') * 128, 2)} fl oz) of stock an hour."
        )
    return (
        f"It draws {shown(stock_per_hour, 1)} L "
        f"({shown(convert(stock_per_hour, 'L/h', 'gph'), 1)} gal) of stock an hour."
    )


def card_life(hours_per_tank: Any, card_stop: Any) -> Any:
    if card_stop != "":
        return ""
    return f"The tank lasts {shown(hours_per_tank, 1)} hours of running."


def card_meter(verdict: Any, new_ratio: Any, card_stop: Any) -> Any:
    if card_stop != "":
        return ""
    if is_number(new_ratio):
        return f"Meter: {verdict}. Corrected setting 1 : {shown(new_ratio, 1)}."
    return "Meter: read the feed at the emitter once the line has filled."
