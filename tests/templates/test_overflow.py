"""No words are cut off by their cell, in the example and in random cases, in both editions.

Widths: Liberation Sans, drawn to the widths of Arial; columns as ECMA-376 part 1, 18.3.1.13 counts
them; LibreOffice draws the same columns wider. Heights of a line: common practice, no source.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from tanksheet.sheets.book import Book
from tanksheet.sheets.cases import random_settings
from tanksheet.sheets.cells import Formula, Sheet, Spec
from tanksheet.sheets.choices import EDITIONS
from tanksheet.sheets.evaluate import Settings, evaluate
from tanksheet.sheets.reference import help_sheet, sources_sheet
from tanksheet.sheets.style import LOOKS, Look
from tanksheet.templates import TEMPLATES, book
from text_widths import LINE, lines, width

CASES = 6
BESIDE, INDENT = 6, 9  # pixels that a cell keeps free, and that one step of indent takes
# To what size words may be shrunk to fit; 9 points where not named. The longest names of products
# need a little less.
SMALLEST = {"tile": 12.0, "row name": 8.3, "typed maybe word": 8.4, "label": 8.4, "unit": 8.4}


class Held(NamedTuple):
    """A cell's place, its look, and the words in it."""

    spec: Spec
    words: str


def room(sheet: Sheet, column: int, across: int = 1) -> int:
    """Pixels of some columns: 7 a digit of Arial 10 and 5 beside them."""
    return sum(int(each * 7 + 5) for each in sheet.widths[column - 1 : column - 1 + across])


def held(sheet: Sheet, found: Settings, example: bool) -> dict[tuple[int, int], Held]:
    cells = {}
    for spec in sheet.specs:
        if LOOKS[spec.style].unlocked and not example:
            continue  # what stands there is the example's
        is_formula = isinstance(spec.content, Formula)
        value = found.get(spec.content.key) if is_formula else spec.content
        if isinstance(value, str) and value:
            cells[spec.cell.row, spec.cell.column] = Held(spec, value)
    return cells


def cut_off(sheet: Sheet, found: Settings, example: bool) -> Iterator[str]:
    cells = held(sheet, found, example)
    for (row, column), (spec, words) in cells.items():
        look = LOOKS[spec.style]
        free = room(sheet, column, spec.across) - BESIDE - look.indent * INDENT
        if look.wrap:
            tall = sheet.heights.get(row)
            if tall is None:
                continue  # the row grows with its words
            count = lines(words, look.size, free, look.bold)
            if count * LINE * look.size > tall + 2:
                yield f"{sheet.title} row {row}: {count} lines in {tall} points: {words}"
        elif (wide := needed(spec, look, words)) > free + runs_over(sheet, spec, look, cells):
            yield f"{sheet.title} row {row} column {column}: {wide:.0f} of {free} pixels: {words}"


def needed(spec: Spec, look: Look, words: str) -> float:
    size = min(look.size, SMALLEST.get(spec.style, 9)) if look.shrink else look.size
    return width(words, size, look.bold)


def runs_over(sheet: Sheet, spec: Spec, look: Look, cells: dict[tuple[int, int], Held]) -> int:
    """The room in empty cells beside one whose words are not shrunk."""
    if look.shrink:
        return 0
    step = -1 if look.align == "right" else 1
    column = spec.cell.column + (spec.across if step > 0 else -1)
    more = 0
    while 1 <= column <= len(sheet.widths) and (spec.cell.row, column) not in cells:
        more += room(sheet, column)
        column += step
    return more


def seen(plan: Book) -> list[Sheet]:
    pages = [sheet for sheet in plan.sheets if not sheet.hidden and not sheet.working]
    return [*pages, help_sheet(plan), sources_sheet(plan)]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", TEMPLATES)
def test_no_words_are_cut_off(name: str, edition: str) -> None:
    plan = book(name, edition)
    for settings in ({}, *itertools.islice(random_settings(plan, 5), CASES)):
        found = evaluate(plan, settings)
        for sheet in seen(plan):
            assert list(cut_off(sheet, found, not settings)) == []


def test_the_yardstick() -> None:
    """Arial's advances, of 2048 to the em: "i" 455, "W" 1933, a space 569 (from its font file, from
    memory)."""
    assert width("iW ", 12) == pytest.approx((455 + 1933 + 569) / 2048 * 16, abs=0.01)
    assert lines("one two three", 10, width("one two", 10) + 1) == 2


def test_words_too_long_are_found() -> None:
    sheet = Sheet("Page", (10, 10))
    sheet.put(1, "words that run over both of the columns", "label")
    sheet.heights[1] = 18
    assert list(cut_off(sheet, {}, True))
    sheet = Sheet("Page", (10, 10))
    sheet.put(1, "three lines of words here", "said")
    sheet.heights[1] = 18
    assert list(cut_off(sheet, {}, True))
