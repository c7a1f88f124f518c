"""The extension in a real LibreOffice: every function in cells, saved, read again, timed.

The rows and the comparison are those that hold other engines to Python; here the cells call the
functions by name, as a user's cells do, and LibreOffice asks the extension.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from formula_bench import Bench, agree, in_python
from formula_cases import arguments_of, bad_cases
from libreoffice_ground import described, ods_formulas, ods_values, saved_as, with_extension
from tanksheet import catalogue
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.formula.lambdas import uses_let
from tanksheet.hosts.lambdas.names import write_functions
from tanksheet.hosts.libreoffice.extension import argument_title
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.recalc import ENGINES
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.writing import first_difference

FOLDER = Path(__file__).parents[2] / "workbook_templates"
RANDOM_ROWS = 4
CALL = "=FERT.STOCKMASS(150,15.5,100,200)"
MASS = 150 * 100 * 200 / 155  # mass balance by hand: mg/L x parts x L over g/kg
Case = tuple[Calculation, list[Any]]


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LibreOffice]:
    with with_extension(tmp_path_factory.mktemp("bundled")) as own:
        yield own


def cells_file(path: Path, formulas: list[str], data: dict[str, Any] | None = None) -> Path:
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = "Sheet1"
    for row, formula in enumerate(formulas, 1):
        sheet.cell(row, 1, formula)
    for place, value in (data or {}).items():
        sheet[place] = value
    workbook.save(path)
    return path


def column_a(path: Path, count: int) -> list[Value]:
    places = [Address("Sheet1", row, 1) for row in range(1, count + 1)]
    with ENGINES["libreoffice"].open(path) as session:
        values = session.calculate({}, places)
    return [values[place] for place in places]


def spelled(value: Any) -> str:
    if isinstance(value, (list, tuple)):
        return "{" + ";".join(map(spelled, value)) + "}"
    return f'"{value}"' if isinstance(value, str) else repr(value)


def example_calls() -> list[str]:
    return [
        f"={each.sheet_name}({','.join(map(spelled, each.example[0]))})"
        for each in catalogue().values()
    ]


def example_results() -> list[float]:
    return [each.function(*each.example[0]) for each in catalogue().values()]


def reaches_us(record: Calculation, arguments: list[Any]) -> bool:
    """Whether the extension sees what is in the cells (where not, the component says why)."""
    ranges = [value for value in arguments if isinstance(value, list)]
    if any(value is None for value in arguments) or any("" in cells for cells in ranges):
        return False
    if any(isinstance(cell, SheetError) for cells in ranges for cell in cells):
        return False
    errors = [value for value in arguments if isinstance(value, SheetError)]
    others = [a for a, b in zip(arguments, record.example[0], strict=True) if a != b]
    return not errors or len(others) == 1


def cases() -> list[Case]:
    found: list[Case] = []
    for record in catalogue().values():
        rng = random.Random(record.name)
        drawn = [list(record.example[0])]
        drawn += [arguments_of(record, rng) for _ in range(RANDOM_ROWS)]
        drawn += bad_cases(record)
        found += [(record, each) for each in drawn if reaches_us(record, each)]
    return found


def differing(rows: list[Case], results: list[Value]) -> list[str]:
    return [
        f"{record.name}{arguments}: {want!r} in Python, {got!r} in LibreOffice"
        for (record, arguments), got in zip(rows, results, strict=True)
        if not agree(want := in_python(record.function, arguments), got, floor=1e-10)
    ]


def test_every_function_on_examples_random_and_bad_values(
    office: LibreOffice, tmp_path: Path
) -> None:
    rows, bench = cases(), Bench()
    for record, arguments in rows:
        bench.add(arguments, lambda c, name=record.sheet_name: f"{name}({','.join(c)})")
    expected = [in_python(record.function, arguments) for record, arguments in rows]
    assert {each for each in expected if isinstance(each, SheetError)} == {
        SheetError.VALUE,
        SheetError.NUM,
        SheetError.DIV,
        SheetError.NA,
    }
    assert sum(isinstance(each, float) for each in expected) > 2 * len(catalogue())
    results = bench.results("libreoffice", tmp_path / "cells.xlsx")
    assert differing(rows, results) == []
    wrong = [0.5 if isinstance(each, float) else each for each in results]
    assert len(differing(rows, wrong)) > len(catalogue())


def test_an_ordinary_file_saved_in_both_formats(office: LibreOffice, tmp_path: Path) -> None:
    """Open, save as .ods, reopen that, save as .xlsx: formulas and values as they were."""
    calls, expected = example_calls(), example_results()
    source = cells_file(tmp_path / "farm.xlsx", calls)
    assert column_a(source, len(calls)) == pytest.approx(expected, rel=1e-9)
    ods = saved_as(source, "ods", tmp_path / "first")
    in_ods = [f"of:{call.replace(',', ';')}" for call in calls]
    assert alike(ods_formulas(ods)) == alike(in_ods)
    assert ods_values(ods) == pytest.approx(expected, rel=1e-9)
    for kept in (
        saved_as(source, "xlsx", tmp_path / "second"),
        saved_as(ods, "xlsx", tmp_path / "third"),
    ):
        sheet = load_workbook(kept).active
        found = [str(sheet.cell(row, 1).value) for row in range(1, len(calls) + 1)]
        assert alike(found) == alike(calls)
        cached = load_workbook(kept, data_only=True).active
        stored = [cached.cell(row, 1).value for row in range(1, len(calls) + 1)]
        assert stored == pytest.approx(expected, rel=1e-9)
        assert column_a(kept, len(calls)) == pytest.approx(expected, rel=1e-9)


def alike(formulas: list[str]) -> list[str]:
    """Formulas with numbers spelled one way (2.0 as 2), and the rows of arrays (ODF: |) too."""
    return [re.sub(r"\.0(?=[;,)}])", "", each.replace("|", ";")) for each in formulas]


def test_errors_survive_saving(office: LibreOffice, tmp_path: Path) -> None:
    calls = [
        '=FERT.STOCKMASS("a",15.5,100,200)',
        "=FERT.STOCKMASS(-1,15.5,100,200)",
        "=FERT.SAR(1,0,0)",
        '=FERT.ELEMENT("nothing",5)',
        '=IFERROR(FERT.SAR(1,0,0),"caught")',
    ]
    source = cells_file(tmp_path / "bad.xlsx", calls)
    assert list(map(str, column_a(source, 4))) == ["#VALUE!", "#NUM!", "#DIV/0!", "#N/A"]
    kept = saved_as(saved_as(source, "ods", tmp_path / "a"), "xlsx", tmp_path / "b")
    sheet = load_workbook(kept, data_only=True).active
    shown = [sheet.cell(row, 1).value for row in range(1, 6)]
    assert shown == ["#VALUE!", "#NUM!", "#DIV/0!", "#N/A", "caught"]


def test_ranges_runs_tables_and_arguments_that_do_not_fit(
    office: LibreOffice, tmp_path: Path
) -> None:
    """Readings 1.9, 2.1, 2.0, 1.8: mean 1.95, mean deviation 0.1, so CU is 100 (1 - 0.1/1.95)."""
    data = {"C1": 1.9, "C2": 2.1, "C4": 2.0, "D1": 1.8, "C6": "text", "C7": "=1/0"}
    calls = {
        '=FERT.UNIFORMITY(C1:D4,"CU")': 100 * (1 - 0.1 / 1.95),
        '=FERT.UNIFORMITY({1.9;2.1;2;1.8},"CU")': 100 * (1 - 0.1 / 1.95),
        "=FERT.MEAN(C1:C6)": SheetError.VALUE,
        "=FERT.STOCKMASS(C1:C4,15.5,100,200)": SheetError.VALUE,
        "=FERT.STOCKMASS(C7,15.5,100,200)": SheetError.DIV,
        "=SUM(FERT.STOCKMASS(150,15.5,100,200),FERT.STOCKMASS(150,15.5,100,200))": 2 * MASS,
        '=INDEX(FERT.TABLE("oxides"),2,1)': TABLE_FUNCTIONS["TABLE"].rows("oxides")[1][0],
        '=FERT.TABLE("no such")': SheetError.NA,
        # LibreOffice's own ways, which the component names: blanks, TRUE, faulty calls.
        "=FERT.SAR(C9,1,1)": 0.0,
        "=FERT.SAR(TRUE(),1,1)": 1.0,
        "=FERT.MEAN(C1:C7)": SheetError.UNKNOWN,
        "=FERT.STOCKMASS(150,15.5,100)": SheetError.UNKNOWN,
    }
    found = column_a(cells_file(tmp_path / "ranges.xlsx", list(calls), data), len(calls))
    for call, got, want in zip(calls, found, calls.values(), strict=True):
        assert agree(want, got), (call, got)


def test_one_file_in_both_hosts(office: LibreOffice, tmp_path: Path) -> None:
    """The workbook with the LAMBDA names: by those names, and by the extension, the same values."""
    write_functions(None, tmp_path / "functions.xlsx")
    path = FOLDER / "functions.xlsx"
    difference = first_difference(path.read_bytes(), (tmp_path / "functions.xlsx").read_bytes())
    assert difference is None, f"{difference}; run scripts/build --force"
    sheet = load_workbook(path).worksheets[0]
    places = {
        str(cell.value)[1:].split("(")[0]: Address(sheet.title, cell.row, cell.column)
        for row in sheet.iter_rows()
        for cell in row
        if str(cell.value).startswith("=FERT.")
    }
    records = {each.sheet_name: each for each in catalogue().values()}
    assert places.keys() == records.keys()
    for name in ("ironcalc", "formulas", "libreoffice"):
        # ``formulas`` 1.3 does not know LET, in which long LAMBDAs work out their parts.
        wanted = {
            key: place
            for key, place in places.items()
            if name != "formulas" or not uses_let(records[key])
        }
        with ENGINES[name].open(path) as session:
            values = session.calculate({}, wanted.values())
        for key, place in wanted.items():
            want = in_python(records[key].function, list(records[key].example[0]))
            assert agree(want, values[place]), (name, key, values[place])


def test_our_files_without_the_extension(
    office: LibreOffice, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A workbook saved by a LibreOffice with the extension keeps its results in one without."""
    plan = book("stock-tank")
    source = tmp_path / "stock-tank.xlsx"
    source.write_bytes(workbook_bytes(plan))
    workbook = load_workbook(source)
    workbook.worksheets[0]["Z1"] = CALL
    workbook.save(source)
    title = workbook.worksheets[0].title
    results = {name: formula.cell for name, formula in plan.formulas.items() if formula.name}
    kept = saved_as(source, "xlsx", tmp_path / "kept")
    own = Address(title, 1, 26)
    with office.open(kept) as session:
        assert session.calculate({}, [own])[own] == pytest.approx(MASS, rel=1e-12)
    monkeypatch.delenv("BUNDLED_EXTENSIONS")
    bare = LibreOffice()
    with bare.open(kept) as session:
        values = session.calculate({}, [*results.values(), own])
    bare.close()
    assert isinstance(values[own], SheetError)  # it does not know LAMBDA, which the name holds
    expected = evaluate(plan, {})
    for name, cell in results.items():
        assert agree(expected[name], values[cell]), (name, values[cell])


def test_the_function_wizard(office: LibreOffice) -> None:
    found = described()
    names = {each.sheet_name for each in (*catalogue().values(), *TABLE_FUNCTIONS.values())}
    assert found.keys() == names
    for record in catalogue().values():
        entry = found[record.sheet_name]
        assert record.summary in entry["description"]
        assert entry["category"] == 11  # FunctionCategory.ADDINS
        titles = [argument_title(*pair) for pair in record.parameters.items()]
        assert [each["name"] for each in entry["arguments"]] == titles
        for argument, quantity in zip(entry["arguments"], record.parameters.values(), strict=True):
            assert quantity.meaning in argument["description"]
            assert quantity.allowed in argument["description"]
            assert not argument["optional"]


def test_many_calls_and_very_long_texts(office: LibreOffice, tmp_path: Path) -> None:
    """Twenty thousand calls that hang on one another, and texts as long as a cell takes."""
    count = 20_000
    calls = ["=FERT.PERCENT(50)"]
    calls += [f"=FERT.RATIO(A{row})+FERT.PERCENT(50)-50" for row in range(1, count)]
    found = column_a(cells_file(tmp_path / "many.xlsx", calls), count)
    assert found == pytest.approx([2.0] * count, rel=1e-9)
    long = {"C1": "x" * 32_767}
    asked = ["=FERT.ELEMENT(C1,5)", "=FERT.STOCKMASS(C1,1,1,1)", "=FERT.PERCENT(A3)"]
    assert column_a(cells_file(tmp_path / "long.xlsx", asked, long), 3) == [
        SheetError.NA,
        SheetError.VALUE,
        SheetError.CIRCULAR,
    ]
