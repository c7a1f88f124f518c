"""How cells look: the named styles of every workbook, in one place.

Nothing is told by colour alone: a verdict begins with its word, and its look differs in lightness
or outline. Contrast of words is at least 4.5, of the rule under a thing to type at least 3.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

PAPER = "FFFFFF"
INK, SOFT, LEAF = "17252B", "4A585E", "1F5A45"
STRAW, PEN, RULE, HAIR = "FFF6DA", "8F7F4A", "7C898E", "D9DFE1"
STOP, AMBER = "8C1D18", "F2B01E"
FONT = "Arial"
THIN, THICK, DASHED, WIDE = "thin", "medium", "dashed", "thick"


@dataclass(frozen=True)
class Look:
    """A cell's font, fill, borders and placing. A border is (kind, colour), or () for none."""

    size: float = 11
    bold: bool = False
    ink: str = INK
    fill: str = ""
    align: str = "left"
    vertical: str = "center"
    wrap: bool = False
    shrink: bool = False
    unlocked: bool = False
    indent: int = 0
    left: tuple[str, str] | tuple[()] = ()
    right: tuple[str, str] | tuple[()] = ()
    top: tuple[str, str] | tuple[()] = ()
    bottom: tuple[str, str] | tuple[()] = ()


def boxed(look: Look, kind: str = THIN, colour: str = RULE) -> Look:
    """The look with a line on every side."""
    side = (kind, colour)
    return replace(look, left=side, right=side, top=side, bottom=side)


_TYPED = Look(
    12,
    fill=STRAW,
    align="right",
    unlocked=True,
    left=(WIDE, PAPER),  # parts it from the input at its left
    bottom=(THIN, PEN),
)
_HEAD = Look(10, ink=SOFT, bottom=(THIN, RULE))
# Name -> look; in the file the name begins with a capital letter.
LOOKS: dict[str, Look] = {
    "title": Look(18, True, ink=LEAF),
    "verdict": Look(12, True, wrap=True, indent=1),
    "advice": Look(10, wrap=True),
    "tile label": Look(10, ink=SOFT, vertical="bottom", shrink=True),
    "tile": Look(20, True, shrink=True),
    "rule": Look(bottom=(THICK, LEAF)),
    "lead": Look(10, ink=SOFT, wrap=True),
    "section": Look(13, True, ink=LEAF, vertical="bottom", bottom=(THIN, RULE)),
    "column head": replace(_HEAD, vertical="bottom", indent=1),
    "column head right": replace(_HEAD, vertical="bottom", align="right"),
    "label": Look(shrink=True),
    "typed": _TYPED,
    "typed unit": replace(_TYPED, size=11, align="left", indent=1, shrink=True, left=()),
    "typed unit long": replace(_TYPED, size=11, align="left", fill="", indent=1, left=()),
    "typed word": replace(_TYPED, size=11, align="left", indent=1, shrink=True),
    "typed unit tall": replace(_TYPED, size=9, align="left", fill="", indent=1, wrap=True, left=()),
    "typed narrow": replace(_TYPED, shrink=True),
    "typed middle": replace(_TYPED, size=11, align="center"),
    "typed maybe": replace(_TYPED, fill=""),
    "typed maybe word": replace(
        _TYPED, size=11, align="left", fill="", indent=1, shrink=True, left=()
    ),
    "typed heading": replace(_TYPED, bold=True),
    "worked out": Look(12, True, align="right", shrink=True),
    "worked word": Look(11, True, shrink=True),
    "weight": Look(14, True, align="right", shrink=True),
    "unit": Look(ink=SOFT, shrink=True, indent=1),
    "unit tall": Look(9, ink=SOFT, wrap=True),
    "other system": Look(10, ink=SOFT, align="right", shrink=True),
    "means": Look(10, ink=SOFT, indent=1),
    "words": Look(10, ink=SOFT, indent=1, shrink=True),
    "said": Look(10, True, wrap=True, indent=1),
    "said right": Look(10, True, align="right"),
    "step number": Look(14, True, ink=LEAF, vertical="top"),
    "step": Look(11, wrap=True, vertical="top"),
    "note": Look(10, ink=SOFT, wrap=True),
    "safety title": Look(13, True, ink=STOP, vertical="bottom", bottom=(THIN, STOP)),
    "safety": Look(10, wrap=True),
    "card": Look(12, wrap=True),
    "card head": Look(14, True, ink=LEAF, wrap=True),
    "card title": Look(18, True, ink=LEAF),
    # cards and labels: read at arm's length, with wet gloves
    "card tank": Look(34, True, shrink=True),
    "card who": Look(12, align="right", shrink=True),
    "card signal": Look(16, True, indent=1, shrink=True),
    "card wear": Look(12, True, wrap=True),
    "card words": Look(12, wrap=True, indent=1),
    "card item": Look(12, shrink=True, indent=1),
    "card hazard": Look(10, ink=SOFT, shrink=True, indent=1),
    "card box": Look(12, True, wrap=True, indent=1),
    "card column": Look(10, ink=SOFT, vertical="bottom"),
    "card column right": Look(10, ink=SOFT, vertical="bottom", align="right", indent=1),
    "card column middle": Look(10, ink=SOFT, vertical="bottom", align="center"),
    "card step": Look(14, True, wrap=True),
    "card amount": Look(22, True, align="right", shrink=True, indent=1),
    "card pair": Look(17, True, align="right", shrink=True, indent=1),
    "tick": Look(14, align="center"),
    "write here": Look(12, True, indent=1, wrap=True),
    "card label": Look(13),
    "card bounds": Look(12, True, wrap=True),
    "label kind": Look(12, True),
    "label drink": Look(13, True, indent=1),
    "label who": Look(12, align="right", shrink=True),
    "label letter": Look(165, True, ink=PAPER, fill=INK, align="center"),
    "label letter framed": boxed(Look(165, True, align="center"), WIDE, INK),
    "label letter ruled": Look(165, True, align="center", top=(WIDE, INK), bottom=(WIDE, INK)),
    "label item": Look(16, True, shrink=True, indent=1, bottom=(THIN, HAIR)),
    "label amount": Look(18, True, align="right", shrink=True, bottom=(THIN, HAIR)),
    "label line": Look(12, wrap=True, indent=1),
    "label set": Look(16, shrink=True, indent=1),
    "label setting": Look(40, True, align="right", shrink=True),
    "label signal": Look(26, True, align="center", shrink=True),
    "label hazard": Look(14, True, wrap=True, indent=1),
    "label aid": Look(12, wrap=True),
    "label never": Look(18, True, shrink=True),
    "label box": boxed(Look(11, ink=SOFT, align="center", wrap=True), DASHED, INK),
    "label write": Look(11, ink=SOFT, vertical="top", top=(THIN, INK)),
    "cut": Look(10, ink=SOFT, bottom=(DASHED, INK)),
    "stop": Look(11, True, ink=PAPER, fill=STOP, wrap=True, indent=1),
    "caution": Look(11, True, fill=AMBER, wrap=True, indent=1),
    "not checked": boxed(Look(11, True, wrap=True, indent=1), DASHED, INK),
    "pass": Look(11, True, ink=LEAF, wrap=True, indent=1),
    "grid corner": replace(_HEAD, vertical="bottom", wrap=True),
    "grid head": replace(_HEAD, size=11, bold=True, ink=INK, align="right"),
    "grid head left": Look(11, True, align="right"),
    "grid": Look(11, align="right", bottom=(THIN, HAIR)),
    "pair": boxed(Look(9, align="center", wrap=True), THIN, HAIR),
    "grid words": Look(10, ink=SOFT, indent=1),
    "grid said": Look(9, wrap=True, indent=1),
    # sheets of the working and the tables
    "quiet": Look(9, ink=SOFT, align="right"),
    "row name": Look(10, shrink=True),
    "table head": Look(10, True, ink=LEAF, wrap=True, bottom=(THIN, RULE)),
    "table": Look(10, wrap=True),
}


@dataclass(frozen=True)
class Marking:
    """What a conditional look changes: ink, fill, and a line around or below."""

    ink: str
    fill: str = ""
    outline: str = ""
    below: str = ""


MARKS: dict[str, Marking] = {
    "pass": Marking(LEAF),
    "caution": Marking(INK, AMBER),
    "not checked": Marking(INK, "", DASHED),
    "stop": Marking(PAPER, STOP),
    "soft": Marking(SOFT),
    "wrong": Marking(PAPER, STOP),
    "danger": Marking(PAPER, STOP),
    "warning": Marking(INK, AMBER),
    "unknown": Marking(INK, "", DASHED),
    "tick box": Marking(INK, "", THIN),
    "line": Marking(INK, "", "", THIN),
}
# Words that a verdict begins with, and their look.
VERDICTS = {
    "pass": "pass",
    "caution": "caution",
    "stop": "stop",
    "not checked": "not checked",
    "not given": "not checked",
}


def opaque(colour: str) -> str:
    """A colour as the file writes it, with nothing shining through."""
    return f"FF{colour}"


def style_name(key: str) -> str:
    """What a look is called in the file."""
    return key[0].upper() + key[1:]
