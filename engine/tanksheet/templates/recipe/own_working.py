"""The working of a person's own products, from the label as printed to a row of the table of
fertilizers, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import element, unit_factor
from tanksheet.errors import NotANumber, NotListed
from tanksheet.subset import before, check, helper, is_error, is_number, shown, sum_where
from tanksheet.tables import is_listed

DRY, LIQUID, BY_VOLUME = "dry", "liquid, by weight", "liquid, by volume"
FORMS = (DRY, LIQUID, BY_VOLUME)
CHELATED, SALTS = "chelated", "salts"
METALS_ARE = ("", CHELATED, SALTS)
LEAST_DENSITY, MOST_DENSITY = 0.5, 3  # kg/L: what pours and is no metal
# Together the parts of a label may weigh this much, percent: labels are rounded.
MOST_TOGETHER = 102
# Percent of nitrogen by which its forms may miss the total: each is rounded to a tenth.
FORMS_MISS = 0.25
# Grams of the lightest thing that an element of a label can be, per gram of the element, from IUPAC
# weights: NO3, NH4, CO(NH2)2, PO3 (as in polyphosphates), SiO2; the others as the element alone.
AS_NITRATE, AS_AMMONIUM, AS_UREA, AS_PHOSPHATE, AS_SILICA = 4.4267, 1.2878, 2.1438, 2.5496, 2.1393
FE, MN, ZN, CU = 55.845, 54.938, 65.38, 63.546  # g/mol


def clean_name(name: Any) -> Any:
    """A name that can be searched for, or a blank: words without the signs of a pattern."""
    if is_error(name) or is_number(name):
        return ""
    if name == "":
        return ""
    if before(name, "*") == name and before(name, "?") == name and before(name, "~") == name:
        return name
    return ""


def numbered(number: int) -> Any:
    """The number of a row, in a cell."""

    def row() -> Any:
        return number

    return row


def density(form: Any, typed: Any, unit: Any) -> Any:
    """kg/L of a liquid, 0 of what is dry."""
    check(form in FORMS, "choose dry or liquid", NotListed)
    if form == DRY:
        return 0
    check(is_number(typed), "a liquid needs its density", NotANumber)
    check(unit != "", "choose a unit from the list", NotListed)
    heavy = typed * unit_factor(unit, "kg/L")
    check(heavy >= LEAST_DENSITY and heavy <= MOST_DENSITY, "a density is 0.5 to 3 kg/L")
    return heavy


@helper
def by_weight(typed: Any, form: Any, heavy: Any) -> Any:
    """Percent by weight; a blank on a label is none."""
    if typed == "":
        return 0
    check(is_number(typed), "type a percent", NotANumber)
    check(typed >= 0 and typed <= 100, "a percent is from 0 to 100")
    return typed / heavy if form == BY_VOLUME else typed


def percent(typed: Any, form: Any, heavy: Any) -> Any:
    return by_weight(typed, form, heavy)


def percent_of(oxide: str, as_oxide: str, as_element: str) -> Any:
    """Percent of an element that may be printed as its oxide, and the choices for both."""
    share = float(element(oxide, 100)) / 100

    def content(typed: Any, printed: Any, form: Any, heavy: Any) -> Any:
        if printed == as_oxide:
            return by_weight(typed, form, heavy) * share
        check(printed == as_element, "choose how the label prints it", NotListed)
        return by_weight(typed, form, heavy)

    return content


def other_nitrogen(
    total: Any, nitrate: Any, ammonium: Any, urea: Any, form: Any, heavy: Any
) -> Any:
    """Nitrogen of unknown form: all of it where the label gives the total alone."""
    if nitrate == "" and ammonium == "" and urea == "":
        return by_weight(total, form, heavy)
    return 0


def moles(mass: float) -> Any:
    """mol of an ion in a kg, from percent of its element."""

    def per_kg(content: Any) -> Any:
        return content * 10 / mass

    return per_kg


@helper
def metals(iron: Any, manganese: Any, zinc: Any, copper: Any) -> Any:
    return 10 * (iron / FE + manganese / MN + zinc / ZN + copper / CU)


def metals_as(word: str) -> Any:
    """mol of metals in a kg if the label says that they are such."""

    def per_kg(printed: Any, iron: Any, manganese: Any, zinc: Any, copper: Any) -> Any:
        check(printed in METALS_ARE, "choose from the list, or leave it blank", NotListed)
        return metals(iron, manganese, zinc, copper) if printed == word else 0

    return per_kg


def nitrogen_of(nitrate: Any, ammonium: Any, urea: Any, other: Any) -> Any:
    return nitrate + ammonium + urea + other


def kind_of_form(form: Any) -> Any:
    return "salt" if form == DRY else "liquid"


def weight(
    nitrate: Any,
    ammonium: Any,
    urea: Any,
    other: Any,
    phosphorus: Any,
    potassium: Any,
    calcium: Any,
    magnesium: Any,
    sulfur: Any,
    iron: Any,
    manganese: Any,
    zinc: Any,
    copper: Any,
    boron: Any,
    molybdenum: Any,
    sodium: Any,
    chlorine: Any,
    silicon: Any,
) -> Any:
    """Percent that the parts of a label weigh together at least."""
    nitrogen = nitrate * AS_NITRATE + ammonium * AS_AMMONIUM + urea * AS_UREA + other
    main = phosphorus * AS_PHOSPHATE + potassium + calcium + magnesium + sulfur
    traces = iron + manganese + zinc + copper + boron + molybdenum + sodium + chlorine
    return nitrogen + main + traces + silicon * AS_SILICA


def name_fault(
    name: Any, clean: Any, number: Any, names: Any, numbers: Any, together: Any, total: Any
) -> Any:
    """What is wrong with the name of an own product, or a blank."""
    if is_error(name):
        return "stop: its name shows an error; type the name"
    if name == "":
        if is_error(together) or is_error(total):
            return "stop: give it a name, or clear its row"
        return "stop: give it a name, or clear its row" if together > 0 else ""
    if clean == "":
        return "stop: its name must be words, without * ? and ~"
    if is_listed("saturation", clean):
        return "stop: this name is in the list already; give yours another"
    if sum_where(names, clean, numbers) > number:
        return "stop: this name stands twice; give each its own"
    return ""


def fault(
    named: Any,
    name: Any,
    form: Any,
    heavy: Any,
    metal: Any,
    together: Any,
    typed_total: Any,
    total: Any,
    nitrogen: Any,
) -> Any:
    """What keeps an own product out of the list, or a blank."""
    if is_error(form):
        return "stop: choose dry or liquid"
    if is_error(heavy):
        return "stop: dry or liquid? A liquid needs its density; type it, 0.5 to 3 kg/L"
    if is_error(metal):
        return "stop: choose what the metals are, or leave it blank; type their percents"
    if named != "" or name == "":
        return named
    if is_error(together):
        return "stop: type percents from 0 to 100, and choose how they are printed"
    if together == 0:
        return "stop: type what its label says"
    if together > MOST_TOGETHER:
        return f"stop: its parts weigh {shown(together, 0)} %; check each percent, oxide or element"
    if is_error(total):
        return "stop: type total N from 0 to 100 percent, or leave it blank"
    if typed_total != "" and abs(total - nitrogen) > FORMS_MISS:
        return (
            f"stop: its forms make {shown(nitrogen, 1)} % N, the total is "
            f"{shown(total, 1)} %; type what is missing, or leave all three blank"
        )
    return ""


def briefly(fault: Any) -> Any:
    """A fault without its cure, for a narrow column."""
    return before(fault, ";")


def listed_name(clean: Any, fault: Any) -> Any:
    """The name of an own product if it is fit for the list, else a blank."""
    return clean if fault == "" else ""
