"""How cells look. One place for colours, so that a change is one line."""

from __future__ import annotations

from dataclasses import dataclass

INK, SOFT, PAPER = "FF22302B", "FF6B7772", "FFFFFFFF"
LEAF, MIST, STRAW, LINE = "FF24604A", "FFE8F1EC", "FFFFF4D6", "FFB9C6BF"
RUST, AMBER, MOSS = "FFB3261E", "FF8A5A00", "FF1E6B3A"
ROSE, HONEY, MINT = "FFFBE3E0", "FFFFEFC9", "FFDDF2E3"
FONT = "Arial"


@dataclass(frozen=True)
class Look:
    """A cell's font, fill, border and placing."""

    size: float = 10
    bold: bool = False
    italic: bool = False
    ink: str = INK
    fill: str = ""
    boxed: bool = False
    align: str = "left"
    wrap: bool = False
    unlocked: bool = False
    indent: int = 0


LOOKS: dict[str, Look] = {
    "title": Look(18, True, ink=LEAF),
    "lead": Look(10, ink=SOFT, wrap=True),
    "section": Look(11, True, ink=PAPER, fill=LEAF),
    "section column": Look(9, ink=PAPER, fill=LEAF, align="right"),
    "section note": Look(9, ink=PAPER, fill=LEAF, indent=1),
    "label": Look(),
    "typed": Look(bold=True, fill=STRAW, boxed=True, align="right", unlocked=True),
    "typed word": Look(fill=STRAW, boxed=True, align="center", unlocked=True),
    "typed name": Look(fill=STRAW, boxed=True, unlocked=True),
    "row name": Look(),
    "unit": Look(9, ink=SOFT, indent=1),
    "metric": Look(ink=SOFT, align="right"),
    "metric word": Look(ink=SOFT, align="right"),
    "long word": Look(9, ink=SOFT),
    "quiet": Look(8, ink=LINE, align="right"),
    "entry note": Look(9, ink=SOFT, indent=1),
    "note": Look(9, ink=SOFT, wrap=True),
    "result label": Look(bold=True),
    "result": Look(11, True, fill=MIST, boxed=True, align="right"),
    "result word": Look(10, True, fill=MIST, boxed=True, align="right"),
    "verdict": Look(10, True, indent=1),
    "card": Look(12, wrap=True),
    "verdict line": Look(10, True, wrap=True),
    "card head": Look(12, True, ink=LEAF, wrap=True),
    "card title": Look(16, True, ink=LEAF),
    "safety title": Look(11, True, ink=PAPER, fill=RUST),
    "safety": Look(9, fill=ROSE, wrap=True),
    "grid corner": Look(10, True, fill=MIST, boxed=True),
    "grid head": Look(10, True, fill=MIST, boxed=True, align="right"),
    "grid head left": Look(10, True, fill=MIST, boxed=True, align="right"),
    "grid typed": Look(10, True, fill=STRAW, boxed=True, align="right", unlocked=True),
    "grid typed left": Look(10, True, fill=STRAW, boxed=True, align="right", unlocked=True),
    "grid": Look(10, boxed=True, align="right"),
    "grid words": Look(9, ink=SOFT, indent=1),
    "table head": Look(10, True, ink=PAPER, fill=LEAF),
    "table": Look(9, wrap=True),
}
# Conditional looks: name -> (ink, fill).
MARKS: dict[str, tuple[str, str]] = {
    "pass": (MOSS, MINT),
    "caution": (AMBER, HONEY),
    "stop": (RUST, ROSE),
    "wrong": (RUST, ROSE),
}
