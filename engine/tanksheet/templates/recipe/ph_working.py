"""The working of the recipe workbook's pH in the tanks: worked out, typed, and where it is from."""

from __future__ import annotations

from typing import Any

from tanksheet.subset import is_error, log10, power, shown, sqrt

HYPOCHLORITE, WATER = 7.5, 14  # pK of HOCl (CRC) and of water at 25 degrees C
# Ionic strength, mmol/L, beyond which the pH is a rough guide.
ROUGH = 2000


def ph_used(worked: Any, typed: Any) -> Any:
    """The pH typed, else the one worked out."""
    if typed == "":
        return worked
    return typed


def ph_words(typed: Any, kinds: Any, strength: Any, unsure: Any) -> Any:
    if is_error(strength):
        return ""
    if typed != "":
        return "typed"
    if unsure > 0:
        return "a guess, since nobody gave the acidity of a product; measure"
    if kinds == 0:
        return "the water's own"
    if strength > ROUGH:
        return "worked out, a rough guide: above 2 mol/L of ionic strength; measure"
    return "worked out, within 0.4; measure"


def ph_said(ph: Any, words: Any) -> Any:
    if is_error(ph):
        return "not checked: mend the products of this tank"
    return f"{shown(ph, 1)}, {words}"


def ph_worked(taken: Any, hydrogen: Any, chlorine: Any) -> Any:
    """The pH of a tank, from the one that is worked out as if its hypochlorite, which counts as a
    base, took up all the H+ it may: as a weak base it holds the pH lower."""
    if chlorine == 0:
        return taken
    if hydrogen >= 0:
        return taken
    acid = hydrogen + chlorine
    if acid > 0:
        return min(taken, HYPOCHLORITE + log10(-hydrogen / acid))
    own = sqrt(power(10, HYPOCHLORITE - WATER) * chlorine / 1000)
    return min(taken, WATER + log10(own - acid / 1000))
