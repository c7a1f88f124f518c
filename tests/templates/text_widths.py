"""How wide words are in the pages' font: Liberation Sans has the widths of Arial."""

from __future__ import annotations

import functools
import subprocess
from pathlib import Path

from fontTools.ttLib import TTFont

PIXELS_A_POINT = 96 / 72
LINE = 1.15  # heights of a line of Arial, in its size


@functools.cache
def _widths(bold: bool) -> tuple[dict[int, int], int]:
    """The advance of each character, and the units of an em."""
    wanted = "Liberation Sans:style=" + ("Bold" if bold else "Regular")
    found = subprocess.run(
        ["fc-match", "-f", "%{file}", wanted], check=True, capture_output=True, text=True
    )
    path = Path(found.stdout)
    assert path.name.startswith("LiberationSans"), f"the test needs Liberation Sans, not {path}"
    font = TTFont(path)
    advances, glyphs = font["hmtx"], font.getBestCmap()
    return {code: advances[name][0] for code, name in glyphs.items()}, font["head"].unitsPerEm


def width(text: str, size: float, bold: bool = False) -> float:
    """In pixels at 96 to the inch."""
    advances, em = _widths(bold)
    units = sum(advances.get(ord(letter), em) for letter in text)
    return units / em * size * PIXELS_A_POINT


def lines(text: str, size: float, room: float, bold: bool = False) -> int:
    """How many lines words take in so many pixels, broken between words."""
    count = 0
    for paragraph in text.split("\n"):
        count += 1
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if line and width(longer, size, bold) > room:
                count, line = count + 1, word
            else:
                line = longer
    return count
