"""How the pages look, held by figures: contrast, widths, heights, styles, print.

Sources: WCAG 2.2, 1.4.3 (contrast of words 4.5) and 1.4.11 (3 for what marks an input); paper sizes
of ISO 216 and ANSI; the widths of columns as ECMA-376 part 1, 18.3.1.13 counts them.
"""

from __future__ import annotations

import io
import itertools
from typing import Any

import pytest
from openpyxl import load_workbook

from package_edits import GetPackage
from tanksheet.sheets import style
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.page import ANSWER_HEIGHTS
from tanksheet.sheets.rows import NOTE, WIDTHS
from tanksheet.sheets.style import LOOKS, MARKS, PAPER, Look
from tanksheet.templates import TEMPLATES, book

every_workbook = pytest.mark.parametrize("name", TEMPLATES)
ENTRY_STYLES = [key for key, look in LOOKS.items() if look.unlocked]


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, WCAG 2.2."""
    parts = (int(colour[i : i + 2], 16) / 255 for i in (0, 2, 4))
    linear = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def pixels(width: float) -> int:
    """A column's width on screen: 7 pixels a digit of Arial 10 and 5 beside them."""
    return int(width * 7 + 5)


def test_the_yardstick() -> None:
    assert contrast("000000", "FFFFFF") == pytest.approx(21)
    assert contrast("777777", "FFFFFF") == pytest.approx(4.48, abs=0.01)  # WCAG's known near miss


@pytest.mark.parametrize("key", LOOKS)
def test_words_can_be_read(key: str) -> None:
    look = LOOKS[key]
    assert contrast(look.ink, look.fill or PAPER) >= 4.5


@pytest.mark.parametrize("key", MARKS)
def test_marked_words_can_be_read(key: str) -> None:
    mark = MARKS[key]
    assert contrast(mark.ink, mark.fill or PAPER) >= 4.5


@pytest.mark.parametrize("key", ENTRY_STYLES)
def test_a_thing_to_type_is_marked_by_a_line(key: str) -> None:
    look = LOOKS[key]
    assert look.bottom
    kind, colour = look.bottom
    assert contrast(colour, PAPER) >= 3
    assert contrast(colour, look.fill or PAPER) >= 3


def test_verdicts_differ_without_colour() -> None:
    """In grey: by lightness at least a third apart, or by an outline."""

    def shade(key: str) -> tuple[float, bool]:
        mark = MARKS[key]
        return luminance(mark.fill or PAPER) ** (1 / 2.4), bool(mark.outline)

    for one, other in itertools.combinations(("stop", "caution", "not checked", "pass"), 2):
        (light, outline), (dark, also) = shade(one), shade(other)
        assert abs(light - dark) > 0.12 or outline != also, (one, other)


def test_the_answer_block_leaves_room_to_scroll() -> None:
    assert sum(ANSWER_HEIGHTS) * 96 / 72 <= 160


def test_a_phone_sees_what_it_needs() -> None:
    assert sum(map(pixels, WIDTHS[:3])) <= 376
    assert len(WIDTHS) == NOTE == 6


@every_workbook
def test_main_pages(name: str, package_of: GetPackage) -> None:
    """The first sheet: frozen answer, six columns, every cell in a named style."""
    opened = load_workbook(io.BytesIO(package_of(name)))
    first = opened[opened.sheetnames[0]]
    assert first.freeze_panes == f"A{len(ANSWER_HEIGHTS) + 1}"
    assert first.print_title_rows.replace("$", "") == f"1:{len(ANSWER_HEIGHTS)}"
    cells = [c for row in first.iter_rows() for c in row if c.value is not None]
    assert max(c.column for c in cells) <= NOTE
    names = {style.style_name(key) for key in LOOKS}
    assert {c.style for c in cells} <= names


PAPERS = {"metric": (210, 297), "us": (215.9, 279.4)}  # mm: ISO 216 A4, ANSI Letter


@every_workbook
def test_nothing_is_printed_small(name: str) -> None:
    """The file's first font is Arial 10, in whose digits all programs count widths alike; with
    another one first, LibreOffice drew columns about 12 % wider."""
    plan = book(name)
    for sheet in (each for each in plan.sheets if not each.hidden and each.printed):
        width = sum(map(pixels, sheet.widths)) * 25.4 / 96
        paper = PAPERS[plan.edition][1 if sheet.landscape else 0] - 24
        assert paper / width >= 0.8, (sheet.title, round(paper / width, 2))


@every_workbook
def test_widths_are_counted_in_our_font(name: str, package_of: GetPackage) -> None:
    """ECMA-376 part 1, 18.3.1.13: in digits of the font of the style Normal, the first one."""
    opened = load_workbook(io.BytesIO(package_of(name)))
    first = opened._fonts[0]
    assert (first.name, first.sz) == ("Arial", 10)


@every_workbook
def test_every_weight_is_on_the_first_screen(name: str) -> None:
    plan = book(name)
    first = plan.sheets[0]
    weights = [s for s in first.specs if s.style == "weight"]
    assert weights or name not in ("recipe", "stock-tank")
    for spec in weights:
        above = sum(first.heights.get(row, 15.0) for row in range(1, spec.cell.row + 1))
        assert above * 96 / 72 <= 665


@every_workbook
def test_silence_when_all_is_well(name: str) -> None:
    values = evaluate(book(name), {})
    assert not [key for key, value in values.items() if value in ("ok", "left blank")]


def test_a_stop_empties_the_answer() -> None:
    """Sulfuric acid at 70 % of the stock: no setting to copy from a page that says stop."""
    tank: dict[str, Any] = {
        "product_1": "calcium nitrate 15.5-0-0",
        "nutrient_1": "Ca",
        "target_1": 100.0,
    }
    tank |= {"product_2": "magnesium sulfate heptahydrate", "nutrient_2": "Mg", "target_2": 40.0}
    values = evaluate(book("stock-tank"), tank)
    # What comes of it first; who meets whom stands beside it, with the cure.
    assert values["headline"] == "stop: about 24.9 g/L of gypsum settles"
    partners = (
        "calcium of calcium nitrate 15.5-0-0 meets sulfate of magnesium sulfate heptahydrate: "
    )
    assert str(values["advice"]).startswith(partners)
    assert values["tile_1"] == "none"
    assert values["tile_2"] == values["tile_3"] == values["tile_4"] == ""
    assert values["weigh_head"] == "do not mix"


def test_looks_are_plain_data() -> None:
    assert all(isinstance(look, Look) for look in LOOKS.values())
    assert len({style.style_name(key) for key in LOOKS}) == len(LOOKS)


def test_formulas_of_the_answer_hold_no_error() -> None:
    for name in TEMPLATES:
        plan = book(name)
        keys = [k for k, f in plan.formulas.items() if isinstance(f, Formula) and "tile" in k]
        values = evaluate(plan, {})
        assert all(isinstance(values[key], str) for key in keys)
