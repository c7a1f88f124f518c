"""What else may go wrong in the recipe's feed: struvite, gypsum, silica, chlorine."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.mixing import gypsum_index, struvite_index
from tanksheet.subset import helper, is_error, shown

# FERT.STRUVITEINDEX is up to 0.3 above PHREEQC in a feed, FERT.GYPSUMINDEX 0.3 to 0.35.
STRUVITE_NEAR, CERTAIN_STRUVITE = 0.0, 1.0
GYPSUM_NEAR, CERTAIN_GYPSUM = 0.2, 0.6
# mmol/L of ammonium that a water may have in which nobody looked for it: 50 mg/L of nitrogen, as in
# strong sewage (from memory).
MOST_AMMONIUM = 3.6
SILICA = 1.9  # mmol/L of amorphous silica that water holds at 20 degrees C (Iler 1979)


@helper
def struvite(magnesium: Any, ammonium: Any, phosphate: Any, ph: Any, strength: Any) -> Any:
    return struvite_index(magnesium, ammonium, phosphate, min(10, max(1, ph)), strength)


def gypsum(calcium: Any, sulfate: Any, strength: Any) -> Any:
    return gypsum_index(calcium, sulfate, strength)


def spoiled_by_chlorine(
    chlorine: Any,
    ammonium: Any,
    urea: Any,
    thiosulfate: Any,
    chelates: Any,
    metal: Any,
    acid: Any,
) -> Any:
    """2 where the feed has chlorine and an acid, which give gas where they meet before they are
    thin; 1 where it has chlorine and what spends it or is destroyed by it."""
    if chlorine == 0:
        return 0
    if acid > 0:
        return 2
    return 1 if ammonium + urea + thiosulfate + chelates + metal > 0 else 0


@helper
def scaled(struvite: Any, gypsum: Any, ph: Any) -> Any:
    """What is said of struvite and gypsum in the pipe, or a blank."""
    if struvite > CERTAIN_STRUVITE:
        return (
            f"stop: struvite comes out in the pipe, index {shown(struvite, 1)} at pH "
            f"{shown(ph, 1)}; acidify the water, or feed less ammonium or phosphate"
        )
    if gypsum > CERTAIN_GYPSUM:
        return (
            f"stop: gypsum comes out in the pipe, index {shown(gypsum, 1)}; feed less sulfate "
            "or calcium, or take softer water"
        )
    if struvite > STRUVITE_NEAR:
        return (
            f"caution: struvite may come out, index {shown(struvite, 1)} at pH {shown(ph, 1)}; "
            "acidify the water, or feed less ammonium or phosphate"
        )
    if gypsum > GYPSUM_NEAR:
        return (
            f"caution: gypsum may come out, index {shown(gypsum, 1)}; feed less sulfate or "
            "calcium, or take softer water"
        )
    return ""


def also(struvite: Any, gypsum: Any, spoiled: Any, silicate: Any, ph: Any) -> Any:
    """What else is wrong with the feed in the pipe, or a blank."""
    if is_error(struvite):
        return ""
    if is_error(gypsum):
        return ""
    if spoiled > 1:
        return (
            "stop: chlorine and acid in one feed: poisonous gas, should they meet before they are "
            "thin; feed chlorine apart, with plain water"
        )
    if max(struvite - STRUVITE_NEAR, gypsum - GYPSUM_NEAR) > 0:
        return scaled(struvite, gypsum, ph)
    if spoiled > 0:
        return (
            "caution: chlorine meets ammonium, urea, thiosulfate, chelates or metals in the feed: "
            "they spend it; feed it apart, with plain water"
        )
    if silicate > SILICA and ph < 9.3:
        return (
            f"caution: {shown(silicate * 60.08, 0)} mg/L of silica at pH {shown(ph, 1)}: more than "
            "water holds, it turns to gel in time; feed less silicate"
        )
    return ""


def ammonium_gap(
    reported: Any,
    magnesium: Any,
    ammonium: Any,
    phosphate: Any,
    chlorine: Any,
    ph: Any,
    strength: Any,
) -> Any:
    """That the water's ammonium is not given, where what it may have might bring struvite down or
    spend chlorine; else a blank."""
    if is_error(reported) or is_error(ph) or is_error(strength):
        return ""
    if reported != "":
        return ""
    if chlorine == 0 and struvite(magnesium, ammonium + MOST_AMMONIUM, phosphate, ph, strength) < 0:
        return ""
    return "ammonium of the water not given, it may matter here; type it, 0 if none"
