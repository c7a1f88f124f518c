"""The outside figures must be able to turn red: published where one is to be had, tight, and not
made from their own answers.

The lists of exceptions here may only shrink: a name that no longer needs its line is refused.
"""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

import pytest

from rules_ground import PUBLISHED
from tanksheet.definition import catalogue

sys.path.append(str(PUBLISHED))
from reading import Row, agrees, all_rows

CATALOGUE = catalogue()
ROWS = all_rows(CATALOGUE)
RESULTS = {
    (row.file, row.line): CATALOGUE[row.calculation].function(*row.arguments) for row in ROWS
}

# No publication was found whose figure this calculation must meet, and what stands for it.
UNPUBLISHED = {
    "LATERALTIME": "only titles of travel-time tables were found: held by a sum over segments",
    "PHOSPHATEINDEX": "only solubility products are printed: see test_phosphate_against_phreeqc",
    "PHOSPHATESETTLING": "as PHOSPHATEINDEX",
    "RATIOERROR": "the sign is a convention, the rest is one division of two ratios",
    "STROKEFLOW": "is FLOW, which has published rows, of strokes times the volume of one",
    "STRUVITE": "only solubility products are printed: PHREEQC's rows hold the amounts",
    "STRUVITEINDEX": "the printed conditional product is for urine at pH 9, beyond any tank",
}
MOST_UNPUBLISHED = 7
# Figures that were recalled and not found again, and why they are still worth their rows.
FROM_MEMORY = {
    "SATURATION": "the densities of these saturated solutions have no open copy",
    "SOLUBILITY": "borates: for 20 degrees C the figures were found, for 30 and 40 not",
}
MOST_FROM_MEMORY = 6
CHANGE = 0.01
# An index is a logarithm: 2 % of it lies within the spread of the databases that print it.
WIDER_CHANGE = {"PHOSPHATEINDEX": 0.02}
# Where the figure is one of the inputs because nature or the definition has it so.
EQUAL_BY_NATURE = {
    "ACIDDOSE": "at pH 4.5 the acid used is the alkalinity, by the definition of alkalinity",
    "ACIDNEED": "at pH 4.5 the acid used is the alkalinity, by the definition of alkalinity",
    "CONVERT": "1 ppm is 1 mg/L",
    "DILUTION": "1 part in N is diluted N times",
    "ECAT25": "a reading at 25 degrees C needs no correction",
    "MEAN": "the mean may be one of the readings",
    "NEWRATIO": "a feed that reads as wanted keeps its setting",
}
# Inverse to each other by definition, and printed both ways.
INVERSE = {"PERCENT", "RATIO"}
LOOSE = 0.02  # a tolerance above this must be needed
NEEDED = 4  # ... for a result at least a quarter of it away
EXPLAINED = re.compile(r"\d|round|digit|cut|printed|chart")
# What leads a reader to the figure: a DOI, an address, a file, or a part of a printed work.
PLACE = re.compile(
    r"doi 10\.|\w\.(com|org|edu|gov|net|info|html?|uk|ai|eu|id|us|csv|tsv|py|txt)\b"
    r"|\b(table|page|chapter|appendix|section|example)\b",
)


def unpublished(rows: Iterable[Row], names: Iterable[str]) -> set[str]:
    return set(names) - {row.calculation for row in rows if row.kind == "published"}


def sees(row: Row, factor: float, results: dict[tuple[str, int], object]) -> bool:
    """Whether the row turns red when the result of its calculation is multiplied."""
    result = results[row.file, row.line]
    assert isinstance(result, (int, float))
    return not agrees(row, result * factor)


def blind(row: Row) -> bool:
    return not (sees(row, 1 + CHANGE, RESULTS) or sees(row, 1 - CHANGE, RESULTS))


def unexplained(rows: Iterable[Row], reasons: Callable[[Row], str]) -> list[str]:
    """Published rows that a change of 1 % does not turn red, and that do not say why."""
    return [
        f"{row.file}, line {row.line}: {row.name} has a tolerance of {row.tolerance:g}"
        for row in rows
        if row.kind == "published" and blind(row) and not EXPLAINED.search(reasons(row))
    ]


def numbers(arguments: Iterable[object]) -> Iterator[float]:
    for argument in arguments:
        if isinstance(argument, (list, tuple)):
            yield from numbers(argument)
        elif isinstance(argument, (int, float)):
            yield float(argument)


def near(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-7 * abs(other)


def equal_to_input(rows: Iterable[Row]) -> list[Row]:
    return [row for row in rows if any(near(n, row.expected) for n in numbers(row.arguments))]


def turned_round(rows: list[Row]) -> list[str]:
    """Pairs of rows where each takes the answer of the other: one example, read both ways."""
    found = []
    for row in rows:
        inputs = [n for n in numbers(row.arguments) if n != round(n, 1)]
        for other in rows:
            if (
                other.calculation == row.calculation
                or {row.calculation, other.calculation} == INVERSE
            ):
                continue
            if any(near(n, other.expected) for n in inputs) and any(
                near(n, row.expected) for n in numbers(other.arguments)
            ):
                found.append(
                    f"{row.file}, line {row.line}: {row.name} is {other.name} turned round"
                )
    return found


def too_loose(rows: Iterable[Row], results: dict[tuple[str, int], object]) -> list[str]:
    found = []
    for row in rows:
        result = results[row.file, row.line]
        assert isinstance(result, (int, float))
        away = abs(result / row.expected - 1)
        if row.tolerance > LOOSE and away < row.tolerance / NEEDED:
            found.append(
                f"{row.file}, line {row.line}: {row.name} is {away:.2%} off and may be "
                f"{row.tolerance:.0%}; tighten its tolerance"
            )
    return found


def words_of(row: Row, column: str) -> str:
    """The row's own words in one of its columns."""
    with (PUBLISHED / row.file).open(encoding="utf-8", newline="") as stream:
        for cells in (reader := csv.DictReader(stream)):
            if reader.line_num == row.line:
                return cells[column]
    raise AssertionError(f"{row.file} has no line {row.line}")


def test_every_calculation_has_a_published_figure() -> None:
    missing = unpublished(ROWS, CATALOGUE)
    new = sorted(missing - set(UNPUBLISHED))
    assert not new, f"add a row of kind published for {new}: tests/published/README.md"
    done = sorted(set(UNPUBLISHED) - missing)
    assert not done, f"take {done} out of UNPUBLISHED: they are published or gone"
    assert len(UNPUBLISHED) <= MOST_UNPUBLISHED, "this list may only shrink"


def test_figures_from_memory_only_grow_fewer() -> None:
    recalled = [row for row in ROWS if row.kind == "memory"]
    places = [f"{row.file}, line {row.line}" for row in recalled]
    assert {row.calculation for row in recalled} == set(FROM_MEMORY), places
    assert len(recalled) <= MOST_FROM_MEMORY, f"look these up: {places}"


def test_a_published_row_sees_one_per_cent_or_says_why_not() -> None:
    found = unexplained(ROWS, lambda row: words_of(row, "tolerance_reason"))
    assert not found, found


def placeless(rows: Iterable[Row], where: Callable[[Row], str]) -> list[str]:
    """Published rows whose source and place lead nowhere."""
    return [
        f"{row.file}, line {row.line}: {row.name}"
        for row in rows
        if row.kind == "published" and not PLACE.search(f"{row.source} {where(row)}")
    ]


def test_a_published_row_leads_to_its_figure() -> None:
    found = placeless(ROWS, lambda row: words_of(row, "where"))
    assert not found, f"give page, table, DOI or address: {found}"
    nowhere = replace(STOCK, source="a handbook")
    assert placeless([nowhere], lambda row: "somewhere")
    assert not placeless([nowhere], lambda row: "table 3")


@pytest.mark.parametrize("name", CATALOGUE)
@pytest.mark.parametrize("sign", [-1, 1])
def test_some_row_sees_one_per_cent(name: str, sign: int) -> None:
    rows = [row for row in ROWS if row.calculation == name]
    factor = 1 + sign * WIDER_CHANGE.get(name, CHANGE)
    assert any(sees(row, factor, RESULTS) for row in rows), (
        f"every figure of FERT.{name} would pass a result times {factor}: add a tighter row"
    )


def test_a_figure_that_is_an_input_stands_beside_one_that_is_not() -> None:
    equal = equal_to_input(ROWS)
    names = {row.calculation for row in equal}
    assert names == set(EQUAL_BY_NATURE), names ^ set(EQUAL_BY_NATURE)
    alone = {name for name in names if all(row in equal for row in ROWS if row.calculation == name)}
    assert not alone, f"these would pass if they gave back an input: {alone}"


def test_no_example_is_read_both_ways() -> None:
    found = turned_round(ROWS)
    assert not found, found


def test_no_tolerance_is_wider_than_it_needs() -> None:
    found = too_loose(ROWS, RESULTS)
    assert not found, found


# The checks above, seen to turn red.
STOCK = next(row for row in ROWS if row.calculation == "STOCKMASS")


def test_a_calculation_without_a_published_row_is_seen() -> None:
    rows = [replace(row, kind="computed") if row.calculation == "EC" else row for row in ROWS]
    assert unpublished(rows, CATALOGUE) - unpublished(ROWS, CATALOGUE) == {"EC"}


def test_a_wide_row_is_seen() -> None:
    wide = replace(STOCK, tolerance=0.09)
    assert too_loose([wide], RESULTS)
    assert blind(wide)
    assert unexplained([wide], lambda row: "because")
    assert not unexplained([wide], lambda row: "the source rounds up")


def test_an_answer_used_as_an_input_is_seen() -> None:
    there = replace(STOCK, arguments=(200.0, 20.0, 1.0, 378.54), expected=378.123)
    back = replace(STOCK, calculation="DELIVERED", arguments=(378.123, 20.0), expected=200.0)
    assert len(turned_round([there, back])) == 1
    assert equal_to_input([replace(there, expected=378.54)])
    assert not equal_to_input([there])
