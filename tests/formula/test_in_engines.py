"""Every calculation in outside spreadsheet engines: equal to Python, errors included.

Written three ways: as a LAMBDA under a defined name that cells call (IronCalc and ``formulas`` know
LAMBDA), with the body of that LAMBDA in a LET (formualizer, which knows no LAMBDA), and with
everything in the cell's own formula (LibreOffice, Gnumeric and formualizer, and IronCalc again,
because most cells of a workbook are of this kind).

Kept out on purpose: TRUE where a number belongs, which LibreOffice takes for 1, and text that looks
like a number, which ``formulas`` takes for one.
"""

from __future__ import annotations

import random
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from formula_bench import Bench, agree, in_python
from formula_cases import arguments_of, bad_cases
from tanksheet import catalogue
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.formula import Node, Ref, lambda_text, named_calculations, read_call
from tanksheet.formula.lambdas import uses_let
from tanksheet.xlsx.address import Value

RANDOM_ROWS = 20
Case = tuple[Calculation, list[Any]]


def cases(rows: int) -> list[Case]:
    found: list[Case] = []
    for record in catalogue().values():
        rng = random.Random(record.name)
        found.append((record, list(record.example[0])))
        found += [(record, arguments_of(record, rng)) for _ in range(rows)]
        found += [(record, case) for case in bad_cases(record)]
    return found


def by_name(record: Calculation, cells: list[str]) -> str:
    return f"{record.sheet_name}({','.join(cells)})"


def in_the_cell(record: Calculation, cells: list[str]) -> Node:
    return read_call(record.function, [Ref(cell) for cell in cells], {})


def lambda_names() -> dict[str, str]:
    return {record.sheet_name: lambda_text(record) for record in named_calculations().values()}


def with_names(rows: list[Case]) -> list[Case]:
    """The rows whose calculation is short enough for a LAMBDA name."""
    return [case for case in rows if case[0].name in named_calculations()]


def expected(case: Case) -> Value:
    record, arguments = case
    return in_python(record.function, arguments)


def beyond(engine: str, case: Case) -> bool:
    """What an engine is known not to do.

    Gnumeric's MATCH answers #N/A to an error where all others hand the error on; ``formulas`` does
    not know LET, in which long LAMBDAs work out their parts.
    """
    record, arguments = case
    if engine == "formulas" and uses_let(record):
        return True
    return engine == "gnumeric" and any(
        isinstance(value, SheetError) and entry.is_word and not entry.words
        for value, entry in zip(arguments, record.parameters.values(), strict=True)
    )


def differing(rows: list[Case], results: list[Value]) -> list[str]:
    """One line for each row on which an engine and Python disagree.

    The floor of 1e-10 is for differences that cancel: temperatures near 0 (offsets of 18 or 32)
    and a true ratio near the set one, in percent.
    """
    assert len(rows) == len(results)
    return [
        f"{case[0].name}{case[1]}: {want!r} in Python, {got!r} in the engine"
        for case, got in zip(rows, results, strict=True)
        if not agree(want := expected(case), got, floor=1e-10)
    ]


def counted(rows: list[Case]) -> tuple[int, set[Value]]:
    """How many rows give a number, and which errors the others give."""
    values = [expected(case) for case in rows]
    numbers = [value for value in values if isinstance(value, float)]
    return len(numbers), {value for value in values if isinstance(value, SheetError)}


def test_the_cases_cover_numbers_and_all_errors() -> None:
    numbers, errors = counted(cases(RANDOM_ROWS))
    assert numbers > RANDOM_ROWS * len(catalogue()) * 0.6
    assert errors == {SheetError.VALUE, SheetError.NUM, SheetError.DIV, SheetError.NA}


@pytest.mark.parametrize("engine", ["ironcalc", "formulas"])
def test_lambda_names(engine: str, tmp_path: Path) -> None:
    rows = [case for case in with_names(cases(RANDOM_ROWS)) if not beyond(engine, case)]
    bench = Bench(lambda_names())
    for record, arguments in rows:
        bench.add(arguments, partial(by_name, record))
    assert differing(rows, bench.results(engine, tmp_path / "names.xlsx")) == []


def as_let(record: Calculation, cells: list[str]) -> str:
    """The body of the LAMBDA with its arguments bound by LET, which needs no name in the file."""
    names = [f"_xlpm.{name}" for name in record.parameters]
    start = f"_xlfn.LAMBDA({','.join(names)},"
    text = lambda_text(record)
    assert text.startswith(start) and text.endswith(")")
    bound = ",".join(f"{name},{cell}" for name, cell in zip(names, cells, strict=True))
    return f"_xlfn.LET({bound},{text[len(start) :]}"


def test_lambda_bodies_as_let() -> None:
    """What the text looks like: a short body whole, a long one with its own LET inside."""
    assert as_let(catalogue()["PERCENT"], ["B1"]).startswith("_xlfn.LET(_xlpm.ratio,B1,")
    assert any("_xlfn.LET(" in lambda_text(record) for record in catalogue().values())


# IronCalc knows the names themselves; formualizer knows LET but no LAMBDA.
@pytest.mark.parametrize("engine", ["formualizer", "ironcalc"])
def test_lambda_bodies_run_as_let(engine: str, tmp_path: Path) -> None:
    rows = [case for case in with_names(cases(RANDOM_ROWS)) if not beyond(engine, case)]
    bench = Bench()
    for record, arguments in rows:
        bench.add(arguments, partial(as_let, record))
    assert differing(rows, bench.results(engine, tmp_path / "let.xlsx")) == []


@pytest.mark.parametrize("engine", ["ironcalc", "formualizer", "libreoffice", "gnumeric"])
def test_formulas_in_cells(engine: str, tmp_path: Path) -> None:
    rows = [case for case in cases(RANDOM_ROWS) if not beyond(engine, case)]
    bench = Bench()
    for record, arguments in rows:
        bench.add_tree(arguments, partial(in_the_cell, record))
    assert differing(rows, bench.results(engine, tmp_path / "cells.xlsx")) == []


def test_a_wrong_value_or_error_is_seen() -> None:
    record = catalogue()["PERCENT"]
    rows: list[Case] = [(record, [128.0]), (record, [0.0]), (record, ["x"])]
    right: list[Value] = [0.78125, SheetError.NUM, SheetError.VALUE]
    assert differing(rows, right) == []
    assert len(differing(rows, [0.78126, SheetError.NUM, SheetError.VALUE])) == 1
    assert len(differing(rows, [0.78125, SheetError.NA, SheetError.VALUE])) == 1
    assert len(differing(rows, [SheetError.NUM, 0.78125, None])) == 3
    assert len(differing(rows, ["0.78125", SheetError.NUM, SheetError.VALUE])) == 1
