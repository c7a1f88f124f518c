"""The working of tanks that are left to the sheet, in the subset that compiles to formulas.

Products fall into classes that are placed one after the other, each where it harms least beside
what is there by then: calcium apart from sulfate and phosphate, acids apart from what they attack,
alkalis and chlorine apart from nearly all. What is left goes where the tank is least loaded.
The weights only rank tanks; whether the choice holds is judged by the rules of every tank.
Order of harm: compatibility charts of extension services (calcium with sulfate or phosphate, acids
with chelates, thiosulfates and carbonates); the numbers are common practice, no source.
"""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.measures import unless_pass
from tanksheet.subset import helper, is_error, is_number, sum_where

AUTO = "auto"
CLASSES = (
    *("calcium", "salts", "traces", "chelates", "thiosulfate", "chlorine", "alkali", "acid"),
    *("sour salts", "fixed"),
)
# What must not meet at all; what falls out or breaks; what a third tank is worth; like with like.
NEVER, APART, SPARED, LIKE = 100, 20, 2, 1
# Of a product whose solubility nobody gave, g/L that load a tank fully: common practice.
UNKNOWN_LOAD = 300
# No load outweighs a harm.
MORE_THAN_LOADS = 1000
# The tanks that the sheet may choose from.
THREE, TWO = "A, B and C", "A and B"


# what a product is


def one_if_any(amount: Any) -> Any:
    """1 for a product that brings some of an element or ion."""
    if is_error(amount):
        return 0
    return 1 if amount > 0 else 0


def one_if_named(product: Any) -> Any:
    if is_error(product):
        return 0
    return 0 if product == "" else 1


def one_if_either(one: Any, other: Any) -> Any:
    if is_error(one) or is_error(other):
        return 0
    return 1 if max(one, other) > 0 else 0


def one_if_salts(phosphorus: Any, sulfur: Any, metal: Any) -> Any:
    """1 for sulfates and phosphates, but those of metals, of which there is little."""
    if is_error(phosphorus) or is_error(metal):
        return 0
    return 1 if phosphorus + sulfur > 0 and metal == 0 else 0


def one_if_traces(metal: Any, borate: Any, molybdate: Any) -> Any:
    if is_error(metal) or is_error(borate):
        return 0
    return 1 if metal + borate + molybdate > 0 else 0


def one_if_acid(hydrogen: Any, molybdate: Any) -> Any:
    if is_error(hydrogen):
        return 0
    return 1 if hydrogen > 0 and molybdate == 0 else 0


@helper
def class_by(
    calcium: Any,
    salts: Any,
    traces: Any,
    thiosulfate: Any,
    acid: Any,
    alkali: Any,
    chlorine: Any,
    chelate: Any,
) -> Any:
    """What decides a product's tank, or a blank for one that does little harm anywhere."""
    if chlorine > 0:
        return "chlorine"
    if alkali > 0:
        return "alkali"
    if thiosulfate > 0:
        return "thiosulfate"
    if acid > 0:
        return "sour salts" if salts > 0 else "acid"
    if calcium > 0:
        return "calcium"
    if traces > 0:
        return "traces"
    if salts > 0:
        return "salts"
    return "chelates" if chelate > 0 else ""


def class_of(
    typed: Any,
    product: Any,
    fixed: Any,
    calcium: Any,
    salts: Any,
    traces: Any,
    thiosulfate: Any,
    acid: Any,
    alkali: Any,
    chlorine: Any,
    chelate: Any,
) -> Any:
    """The class of a product whose tank is left to the sheet, else a blank."""
    if is_error(typed) or is_error(product):
        return ""
    if typed != AUTO or product == "":
        return ""
    kind = class_by(calcium, salts, traces, thiosulfate, acid, alkali, chlorine, chelate)
    if kind != "":
        return kind
    if is_error(fixed):
        return "fixed"
    return "free" if fixed == "" else "fixed"


# what is where


def as_typed(typed: Any, product: Any) -> Any:
    """The tank that a person chose; a blank row is nowhere, and "?" is no tank."""
    if is_error(typed):
        return "?"
    if typed == "":
        return "?"
    if typed != AUTO:
        return typed
    if is_error(product):
        return "A"
    return "A" if product == "" else ""


def one_if_there(letter: str) -> Any:
    """1 if some product of a tank has a feature."""

    def there(tanks: Any, features: Any) -> Any:
        return 1 if sum_where(tanks, letter, features) > 0 else 0

    return there


@helper
def least(a: Any, b: Any, c: Any, at_hand: Any) -> Any:
    """The tank of the least number."""
    if at_hand == TWO:
        return "A" if a <= b else "B"
    if a <= min(b, c):
        return "A"
    return "B" if b <= c else "C"


def placed(of_class: str) -> Any:
    """A product's tank once its class is placed."""

    def tank(before: Any, kind: Any, letter: Any) -> Any:
        return letter if kind == of_class else before

    return tank


# the harm of each class in a tank, by what is there


def harm_of_calcium(start: float) -> Any:
    def harm(calcium: Any, salts: Any, traces: Any, thio: Any, alkali: Any, chlorine: Any) -> Any:
        worst = max(salts, thio, alkali, chlorine)
        return start + APART * worst + 3 * traces - LIKE * calcium

    return harm


def harm_of_salts(start: float) -> Any:
    def harm(salts: Any, calcium: Any, traces: Any, alkali: Any, chlorine: Any) -> Any:
        worst = max(calcium, alkali, chlorine)
        return start + APART * worst - LIKE * max(salts, traces)

    return harm


def harm_of_traces(start: float) -> Any:
    def harm(salts: Any, calcium: Any, traces: Any, alkali: Any, chlorine: Any) -> Any:
        worst = max(alkali, chlorine)
        return start + APART * worst + 3 * calcium - LIKE * max(salts, traces)

    return harm


def harm_of_chelates(start: float) -> Any:
    def harm(chelates: Any, acid: Any, alkali: Any, chlorine: Any) -> Any:
        return start + NEVER * chlorine + APART * max(acid, alkali) - LIKE * chelates

    return harm


def harm_of_thiosulfate(start: float) -> Any:
    def harm(thio: Any, acid: Any, calcium: Any, alkali: Any, chlorine: Any) -> Any:
        never = max(acid, chlorine)
        return start + NEVER * never + APART * calcium + 5 * alkali - LIKE * thio

    return harm


def harm_of_chlorine(start: float) -> Any:
    def harm(chlorine: Any, acid: Any, amines: Any, thio: Any, chelates: Any, any_of: Any) -> Any:
        never = max(acid, amines, thio, chelates)
        return start + NEVER * never + APART * any_of - APART * chlorine

    return harm


def harm_of_alkali(start: float) -> Any:
    def harm(alkali: Any, acid: Any, calcium: Any, traces: Any, amines: Any, any_of: Any) -> Any:
        worst = max(calcium, traces, amines)
        return start + NEVER * acid + APART * worst + 10 * any_of - 10 * alkali

    return harm


def harm_of_acid(start: float) -> Any:
    def harm(acid: Any, thio: Any, alkali: Any, chlorine: Any, chelates: Any, any_of: Any) -> Any:
        never = max(thio, alkali, chlorine)
        return start + NEVER * never + APART * chelates + SPARED * any_of - 2 * SPARED * acid

    return harm


def harm_of_sour_salts(start: float) -> Any:
    def harm(
        acid: Any, thio: Any, alkali: Any, chlorine: Any, chelates: Any, calcium: Any, any_of: Any
    ) -> Any:
        never = max(thio, alkali, chlorine)
        apart = max(chelates, calcium)
        return start + NEVER * never + APART * apart + SPARED * any_of - 2 * SPARED * acid

    return harm


def harm_of_others(start: float) -> Any:
    """Of what harms little: nitrates, chlorides, urea."""

    def harm(acid: Any, alkali: Any, chlorine: Any) -> Any:
        return start + NEVER * chlorine + APART * alkali + 3 * acid

    return harm


# balancing the rest, when the amounts are known


def load_of(dose: Any, ratio: Any, limit: Any) -> Any:
    """Share of what a tank could hold of a product, percent of its saturated stock."""
    if is_error(dose) or is_error(limit):
        return 0
    return dose * ratio / (limit if is_number(limit) else UNKNOWN_LOAD) * 100


def load_in(letter: str) -> Any:
    """What the products that are placed already load a tank with."""

    def load(tanks: Any, loads: Any) -> Any:
        return sum_where(tanks, letter, loads)

    return load


def load_then(letter: str) -> Any:
    """The load of a tank when one more product is placed."""

    def load(before: Any, kind: Any, tank: Any, of_product: Any) -> Any:
        return before + of_product if kind == "free" and tank == letter else before

    return load


def balanced(
    kind: Any,
    before: Any,
    harm_a: Any,
    harm_b: Any,
    harm_c: Any,
    load_a: Any,
    load_b: Any,
    load_c: Any,
    at_hand: Any,
) -> Any:
    """The tank of a product that harms little: the one that is least loaded of those it suits."""
    if kind != "free":
        return before
    a = harm_a * MORE_THAN_LOADS + load_a
    b = harm_b * MORE_THAN_LOADS + load_b
    return least(a, b, harm_c * MORE_THAN_LOADS + load_c, at_hand)


def told(typed: Any, tank: Any, verdict: Any) -> Any:
    """What is said of a product, and the tank that was chosen for it."""
    said = unless_pass(verdict)
    if is_error(typed):
        return said
    if typed != AUTO or is_error(verdict):
        return said
    if verdict == "":
        return said
    return f"tank {tank}" if said == "" else f"tank {tank}; {said}"
