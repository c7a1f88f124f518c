"""What is asked for and what it takes of a product, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import element
from tanksheet.calc.field import field_mass, field_volume
from tanksheet.subset import helper, is_error, is_number, shown
from tanksheet.tables import is_listed, look_up
from tanksheet.templates.product_working import nitrogen_of, product_said
from tanksheet.templates.stock_tank.working import counted_as_element
from tanksheet.templates.working import BLANK

DRY = "weigh it"  # stands for the density of what is no liquid
MAJOR = ("N", "P2O5", "K2O", "P", "K", "Ca", "CaO", "Mg", "MgO", "S", "SO3")
TRACES = ("Fe", "Mn", "Zn", "Cu", "B", "Mo")
NUTRIENTS = MAJOR + TRACES

# the label


def label_element(column: str, oxide: str) -> Any:
    """Percent of an element: the list's for a product of it, else the label's; blank is 0."""
    counted = helper(counted_as_element(column, oxide))

    def content_as_element(product: Any, printed: Any, content: Any) -> Any:
        if product != "":
            return counted(product, printed, content)
        return 0 if content == "" else counted(product, printed, content)

    return content_as_element


def label_nitrogen(product: Any, content: Any) -> Any:
    if product != "":
        return nitrogen_of(product)
    return 0 if content == "" else content


@helper
def trace_of(nutrient: Any, product: Any) -> Any:
    """Percent of a trace element in a product of the list."""
    if nutrient == "Fe":
        return look_up("fertilizers", "fe", product)
    if nutrient == "Mn":
        return look_up("fertilizers", "mn", product)
    if nutrient == "Zn":
        return look_up("fertilizers", "zn", product)
    if nutrient == "Cu":
        return look_up("fertilizers", "cu", product)
    if nutrient == "B":
        return look_up("fertilizers", "b", product)
    return look_up("fertilizers", "mo", product)


def label_trace(nutrient: Any, product: Any, content: Any) -> Any:
    """Percent of the trace element that is chosen; 0 where none is."""
    if nutrient in MAJOR:
        return 0
    if product != "":
        return trace_of(nutrient, product)
    return 0 if content == "" else content


def not_used(usual: Any) -> Any:
    """The note of a label's line beside a product of the list."""

    def note(typed: Any, number: Any, factor: Any, product: Any) -> Any:
        if is_error(product) or is_error(number):
            return usual(typed, number, factor)
        if typed != "" and product != "":
            return "not used: the choice counts"
        return usual(typed, number, factor)

    return note


@helper
def oxide_in(oxide: Any, percent: Any) -> Any:
    """Percent of an oxide that holds so much of the element."""
    return percent * 100 / element(oxide, 100)


@helper
def picked(nutrient: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any, s: Any, trace: Any) -> Any:
    """Percent of a nutrient under the name that it goes by."""
    if nutrient == "N":
        return n
    if nutrient == "P2O5":
        return oxide_in("P2O5", p)
    if nutrient == "K2O":
        return oxide_in("K2O", k)
    if nutrient == "P":
        return p
    if nutrient == "K":
        return k
    if nutrient == "Ca":
        return ca
    if nutrient == "CaO":
        return oxide_in("CaO", ca)
    if nutrient == "Mg":
        return mg
    if nutrient == "MgO":
        return oxide_in("MgO", mg)
    if nutrient == "S":
        return s
    return oxide_in("SO3", s) if nutrient == "SO3" else trace


def content_of(nutrient: Any, n: Any, p: Any, k: Any, ca: Any, mg: Any, s: Any, trace: Any) -> Any:
    return picked(nutrient, n, p, k, ca, mg, s, trace)


def label_sum(n: Any, p: Any, k: Any, ca: Any, mg: Any, s: Any, trace: Any) -> Any:
    """Percent that the elements make up together."""
    return n + p + k + ca + mg + s + trace


def product_note(chosen: Any, nutrient: Any) -> Any:
    """Of a product that holds nothing of the nutrient; where product is dosed it may be so."""
    if is_error(nutrient) or is_error(chosen):
        return product_said(chosen)
    if chosen == "" or not is_listed("fertilizers", chosen):
        return product_said(chosen)
    content = picked(
        nutrient,
        nitrogen_of(chosen),
        look_up("fertilizers", "p", chosen),
        look_up("fertilizers", "k", chosen),
        look_up("fertilizers", "ca", chosen),
        look_up("fertilizers", "mg", chosen),
        look_up("fertilizers", "s", chosen),
        0 if nutrient in MAJOR else trace_of(nutrient, chosen),
    )
    return f"it holds no {nutrient}" if content == 0 else ""


# the amounts


@helper
def one_if(typed: Any) -> Any:
    return 0 if typed == "" else 1


def doses_typed(dose: Any, by_mass: Any, by_volume: Any, plant: Any, plant_product: Any) -> Any:
    """How many of the lines for a dose are filled."""
    of_area = one_if(dose) + one_if(by_mass) + one_if(by_volume)
    return of_area + one_if(plant) + one_if(plant_product)


@helper
def for_plants(plant: Any, plant_product: Any, plants: Any, content: Any) -> Any:
    """kg of product for a dose a plant in grams."""
    if plants == "":
        return ""
    if plant_product != "":
        return plant_product * plants / 1000
    # All of them as on one hectare.
    return field_mass(plant * plants / 1000, 1, content) if content > 0 else ""


def product_needed(
    given: Any,
    dose: Any,
    by_mass: Any,
    by_volume: Any,
    plant: Any,
    plant_product: Any,
    area: Any,
    plants: Any,
    content: Any,
    density_used: Any,
) -> Any:
    """kg of product, or a blank where something that it takes is missing."""
    if given != 1:
        return ""
    if plant != "" or plant_product != "":
        return for_plants(plant, plant_product, plants, content)
    if area == "":
        return ""
    if by_mass != "":
        return by_mass * area
    if by_volume != "":
        return by_volume * area * density_used if is_number(density_used) else ""
    return field_mass(dose, area, content) if content > 0 else ""


def volume_needed(
    needed: Any, dose: Any, given: Any, area: Any, content: Any, density_used: Any
) -> Any:
    """Litres of a liquid; words for what is weighed, a blank where something is missing."""
    if density_used == DRY:
        return DRY
    if not is_number(needed) or not is_number(density_used):
        return ""
    if given == 1 and dose != "" and area != "" and content > 0:
        return field_volume(dose, area, content, density_used)
    return needed / density_used


def stock_volume(
    needed: Any, volume: Any, density_used: Any, strength: Any, water_parts: Any
) -> Any:
    """Litres to inject: a dry product in stock, a liquid with its water."""
    if not is_number(needed):
        return ""
    if density_used == DRY:
        return needed * 1000 / strength if is_number(strength) else ""
    return volume * (1 + water_parts) if is_number(volume) else ""


def stock_per_area(stock: Any, area: Any) -> Any:
    return stock / area if is_number(stock) and is_number(area) else ""


def nutrient_given(needed: Any, content: Any) -> Any:
    """kg of the nutrient on the whole area."""
    return needed * content / 100 if is_number(needed) else ""


def nutrient_per_area(nutrient_kg: Any, area: Any) -> Any:
    return nutrient_kg / area if is_number(nutrient_kg) and is_number(area) else ""


def brings(nutrient: str) -> Any:
    """kg of a nutrient that comes with the product, under the name that labels use."""
    oxide = {"P2O5": "P2O5", "K2O": "K2O"}.get(nutrient, "")

    def amount(needed: Any, percent: Any) -> Any:
        return needed * percent / 100 if is_number(needed) else ""

    def amount_as_oxide(needed: Any, percent: Any) -> Any:
        return needed * oxide_in(oxide, percent) / 100 if is_number(needed) else ""

    return amount_as_oxide if oxide else amount


# the verdict


@helper
def lacking(product: Any, nutrient: Any) -> Any:
    if product == "":
        return f"not given: how much {nutrient} the label shows; type it"
    return f"stop: {product} holds no {nutrient}; choose another"


@helper
def liquid_lacks(by_volume: Any, density_used: Any, strength: Any) -> Any:
    """What is missing of a liquid or of the stock of a dry product, or a blank."""
    if density_used == DRY and by_volume != "":
        return "stop: a dry product is not dosed by volume; type its weight, or choose a liquid"
    if density_used == "":
        return "not given: the density of the liquid; its label tells it"
    if density_used == DRY and strength == "":
        return "not given: how strong the stock shall be; type it"
    return ""


def dose_verdict(
    given: Any,
    dose: Any,
    by_volume: Any,
    plant: Any,
    plant_product: Any,
    area: Any,
    plants: Any,
    nutrient: Any,
    content: Any,
    together: Any,
    product: Any,
    density_used: Any,
    strength: Any,
    stock: Any,
) -> Any:
    """Whether all that the amounts rest on is there, and once."""
    if is_error(given) or is_error(stock) or is_error(content) or is_error(strength):
        return BLANK
    if is_error(area) or is_error(plants) or is_error(density_used):
        return BLANK
    if given == 0:
        return "not given: the dose; type one of the five lines"
    if given > 1:
        return f"stop: {shown(given, 0)} doses are typed; leave one and clear the others"
    if plant != "" or plant_product != "":
        if plants == "":
            return "not given: how many plants there are; type it"
    elif area == "":
        return "not given: the area; type it"
    if together > 100:
        return f"stop: the label adds up to {shown(together, 0)} %; correct its lines"
    if content == 0 and (dose != "" or plant != ""):
        return lacking(product, nutrient)
    missing = liquid_lacks(by_volume, density_used, strength)
    if missing != "":
        return missing
    return "pass: dose, area and product are given"
