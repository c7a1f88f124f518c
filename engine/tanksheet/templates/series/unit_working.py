"""What the nameplates make of the settings, and the pressure along the line; in the subset that
compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.choosing import by_the_square
from tanksheet.sheets.measures import figure
from tanksheet.subset import after, helper, is_error, is_number, nth
from tanksheet.tables import look_up
from tanksheet.templates.injector.working import FACTORS, NAMES, NEAR
from tanksheet.templates.working import BLANK

GRAIN = 1e-9  # rounding of a figure that stands on its limit
# mmol/L of acid and of chlorine from which seals must bear it: common practice, no source.
SOUR, BLEACHING = 10, 1


def state_of(count: Any, figures: Any, seal: Any) -> Any:
    """ "used", "bad" where a figure cannot be read, or a blank for a stock that is not used."""
    if is_error(count):
        return ""
    if count == 0:
        return ""
    return "bad" if is_error(figures) or is_error(seal) else "used"


def stock_kind(acid: Any, chlorine: Any) -> Any:
    """What of a stock asks something of the seals, or a blank."""
    if is_error(acid) or is_error(chlorine):
        return ""
    if chlorine > BLEACHING:
        return "chlorine"
    return "acid" if acid > SOUR else ""


def seal_of(state: Any, seal: Any, kind: Any) -> Any:
    """What the seals make of the stock; "blank" where nobody said what they are."""
    if state != "used":
        return ""
    if kind == "":
        return "good"
    if seal == "":
        return "blank"
    return (
        look_up("seals", "chlorine", seal) if kind == "chlorine" else look_up("seals", "acid", seal)
    )


def lost(state: Any, through: Any, loss: Any, rated: Any) -> Any:
    """kPa that a unit takes at its part of the flow; 0 of one that is not used, a blank where
    nobody knows."""
    if state == "":
        return 0
    if is_error(through) or state == "bad":
        return ""
    return by_the_square(loss, through, rated) if loss != "" and rated != "" else ""


def lost_at(place_stock: Any, losses: Any) -> Any:
    return nth(losses, place_stock)


def behind(before: Any, loss: Any, neck: Any) -> Any:
    """kPa behind a unit, of which nothing is known if its own loss is not."""
    if not is_number(before) or not is_number(loss):
        return ""
    return before - loss - neck if loss > 0 else before


def no_need() -> Any:
    return ""


def unit_verdict(
    state: Any,
    kind: Any,
    down: Any,
    setting: Any,
    richest: Any,
    leanest: Any,
    seal: Any,
    stock: Any,
    before: Any,
    known: Any,
) -> Any:
    """What a unit makes of its setting, its flow, its pressure and its stock."""
    if is_error(kind) or is_error(down):
        return BLANK
    if state == "":
        return "not used"
    if state == "bad":
        return "stop: a figure of this injector cannot be read; type a number on Nameplates"
    if kind == "idle":
        return "not used: nothing of this stock is needed; shut its injector"
    if kind != "set" or not is_number(setting):
        return "not checked: its setting is not found; see the line above"
    if richest != "" and setting < richest * (1 - GRAIN):
        return (
            f"stop: set to 1:{figure(setting)}, and it gives 1:{figure(richest)} at its richest; "
            "a stronger stock, or more of the flow through it"
        )
    if leanest != "" and setting > leanest * (1 + GRAIN):
        return (
            f"stop: set to 1:{figure(setting)}, and it gives 1:{figure(leanest)} at its leanest; "
            "a weaker stock, or less of the flow through it"
        )
    if seal == "poor":
        return f"stop: its seals do not bear {stock}; a unit made for it"
    if down != "":
        return f"stop: {after(down, 'no: ')}; another unit, or another part of the flow through it"
    return not_known(setting, richest, leanest, known, seal, stock, before)


@helper
def not_known(
    setting: Any, richest: Any, leanest: Any, known: Any, seal: Any, stock: Any, before: Any
) -> Any:
    if richest == "" or leanest == "":
        return "not given: its range of ratios; type it on Nameplates"
    if known == 0:
        return "not given: its range of flow or of pressure; type it on Nameplates"
    if seal == "blank":
        return f"not given: what its seals are, which must bear {stock}; type it on Nameplates"
    if not is_number(before):
        return "not checked: the pressure before it; what a unit loses, or the line has, is missing"
    if seal == "fair":
        return f"caution: its seals bear {stock} for a time; ask the maker"
    if setting < richest * (1 + NEAR) or setting > leanest * (1 - NEAR):
        return f"caution: 1:{figure(setting)} is near the end of its scale; a setting in the middle"
    return "pass: it gives the setting, and bears flow, pressure and stock"


def range_known(state: Any, low: Any, high: Any, weakest: Any, strongest: Any) -> Any:
    """1 where flow and pressure of a unit's nameplate are on record."""
    if state != "used":
        return 0
    return 0 if low == "" or high == "" or weakest == "" or strongest == "" else 1


def pressure_verdict(edition: str) -> Any:
    factor, unit = FACTORS[edition]["pressure"], NAMES[edition]["pressure"]

    def verdict(count: Any, before: Any, needed: Any, left: Any) -> Any:
        if is_error(before) or is_error(needed) or is_error(left) or is_error(count):
            return BLANK
        if count == 0:
            return "not used: no stock is used"
        if before == "":
            return "not given: the pressure before the first injector"
        if not is_number(left):
            return "not given: what an injector loses at a flow; type it on Nameplates"
        if needed == "":
            return (
                f"not given: what the emitters need; {figure(left / factor)} {unit} are left "
                "behind the last injector"
            )
        if left < needed * (1 - GRAIN):
            return (
                f"stop: {figure(left / factor)} {unit} are left of the {figure(needed / factor)} "
                "that are needed; less of the flow through the units, larger units, or a pump"
            )
        if left < needed * (1 + NEAR):
            return (
                f"caution: {figure(left / factor)} {unit} are left, {figure(needed / factor)} "
                "needed: nothing to spare; less of the flow through the units"
            )
        return f"pass: {figure(left / factor)} {unit} are left behind the last injector"

    return verdict


def figures_said(figures: Any, share: Any) -> Any:
    """Whether a nameplate can be read, beside it."""
    if is_error(figures) or is_error(share):
        return "stop: mend its figures"
    if share == "":
        return ""
    if not is_number(share):
        return "stop: mend its figures"
    return "stop: mend its figures" if share < 1 or share > 100 else ""


def stock_at(place: int) -> Any:
    """The number of the stock at a place of the line."""

    def number(place_a: Any, place_b: Any) -> Any:
        if place_a == place:
            return 1
        return 2 if place_b == place else 3

    return number


def before_of(place: Any, pressure: Any, behind_1: Any, behind_2: Any) -> Any:
    """kPa before the unit at a place, or a blank."""
    if place == 1:
        return pressure
    return behind_1 if place == 2 else behind_2
