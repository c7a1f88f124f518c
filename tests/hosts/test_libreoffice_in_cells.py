"""The extension in a real LibreOffice: every function in cells, saved, read again, timed.

The rows and the comparison are those that hold other engines to Python; here the cells call the
functions by name, as a user's cells do, and LibreOffice asks the extension.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from openpyxl import Workbook, load_workbook

from formula_bench import Bench, agree, in_python
from formula_cases import arguments_of, bad_cases
from libreoffice_ground import described, ods_formulas, ods_values, saved_as, with_extension
from tanksheet import catalogue
from tanksheet.definition import Calculation
from tanksheet.errors import SheetError
from tanksheet.formula import named_calculations
from tanksheet.formula.lambdas import uses_let
from tanksheet.hosts.lambdas.names import write_functions
from tanksheet.hosts.libreoffice.extension import argument_title
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.recalc import ENGINES
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book
from tanksheet.units import Quantity
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.writing import first_difference

FOLDER = Path(__file__).parents[2] / "workbook_templates" / "metric"
RANDOM_ROWS = 4
CALL = "=FERT.STOCKMASS(150,15.5,100,200)"
MASS = 150 * 100 * 200 / 155  # mass balance by hand: mg/L x parts x L over g/kg


class Call(NamedTuple):
    """A call in a cell: its arguments, what it must show, and how an argument is referred to."""

    record: Calculation
    arguments: list[Any]
    wanted: Value
    at: int = 0
    form: str = "{0}"

    def text(self, spots: list[str]) -> str:
        referred = [*spots[: self.at], self.form.format(spots[self.at]), *spots[self.at + 1 :]]
        return f"{self.record.sheet_name}({','.join(referred)})"


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


def spoilt_further(entry: Quantity) -> list[Any]:
    """What a careless reading would take for a number or a word: TRUE, text, patterns."""
    if entry.is_readings:
        return [[True, 5.0, 4.0], ["12", 5.0, 4.0]]
    if entry.is_word:
        return [True, "12", "*", "?*", "~", "K2?", ""]
    return [True, "12", "1e2", "*", ""]


def handed_over(argument: Any) -> Any:
    """What LibreOffice makes of a cell's content, as the component says: no blank, no TRUE."""
    if isinstance(argument, list):
        return [1.0 if cell is True else None if cell == "" else cell for cell in argument]
    return 0.0 if argument is None else 1.0 if argument is True else argument


def stopped(arguments: list[Any]) -> SheetError | None:
    """The error with which LibreOffice does not call at all: the last one among the arguments."""
    for argument in reversed(arguments):
        if isinstance(argument, SheetError):
            return argument
        if isinstance(argument, list) and any(isinstance(cell, SheetError) for cell in argument):
            return SheetError.UNKNOWN  # Err:504, whatever the error in the range
    return None


def in_libreoffice(record: Calculation, arguments: list[Any]) -> Value:
    """What Python gives for that which LibreOffice hands over."""
    return stopped(arguments) or in_python(record.function, list(map(handed_over, arguments)))


def with_argument(record: Calculation, at: int, value: Any) -> list[Any]:
    example = list(record.example[0])
    return [*example[:at], value, *example[at + 1 :]]


def calls_in_cells() -> list[Call]:
    found: list[Call] = []
    for record in catalogue().values():
        rng = random.Random(record.name)
        drawn = [list(record.example[0]), *bad_cases(record)]
        drawn += [arguments_of(record, rng) for _ in range(RANDOM_ROWS)]
        for at, entry in enumerate(record.parameters.values()):
            drawn += [with_argument(record, at, value) for value in spoilt_further(entry)]
        found += [Call(record, each, in_libreoffice(record, each)) for each in drawn]
        for at in range(len(record.parameters)):
            blank = with_argument(record, at, None)
            wanted = in_python(record.function, blank)
            found.append(Call(record, blank, wanted, at, "{0}:{0}"))
            found.append(Call(record, blank, wanted, at, ""))
    return found


def differing(calls: list[Call], results: list[Value]) -> list[str]:
    return [
        f"{call.record.name}{call.arguments}: {call.wanted!r} in Python, {got!r} in LibreOffice"
        for call, got in zip(calls, results, strict=True)
        if not agree(call.wanted, got, floor=1e-10)
    ]


def test_every_function_on_examples_random_and_bad_values(
    office: LibreOffice, tmp_path: Path
) -> None:
    """A blank in a range of one cell, and an argument left out, are the blank that Python knows."""
    calls, bench = calls_in_cells(), Bench()
    for call in calls:
        bench.add(call.arguments, call.text)
    expected = [call.wanted for call in calls]
    for error in ("#VALUE!", "#NUM!", "#DIV/0!", "#N/A"):
        assert sum(str(each) == error for each in expected) > 20, error
    assert sum(isinstance(each, float) for each in expected) > 2 * len(catalogue())
    results = bench.results("libreoffice", tmp_path / "cells.xlsx")
    assert differing(calls, results) == []
    wrong = [0.5 if isinstance(each, float) else each for each in results]
    assert len(differing(calls, wrong)) > len(catalogue())
    wrong = [SheetError.VALUE if isinstance(each, SheetError) else each for each in results]
    assert len(differing(calls, wrong)) > len(catalogue())


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
    calls: dict[str, Value] = {
        '=FERT.UNIFORMITY(C1:D4,"CU")': 100 * (1 - 0.1 / 1.95),
        '=FERT.UNIFORMITY({1.9;2.1;2;1.8},"CU")': 100 * (1 - 0.1 / 1.95),
        "=FERT.MEAN(C1:C6)": SheetError.VALUE,
        "=FERT.STOCKMASS(C1:C4,15.5,100,200)": SheetError.VALUE,
        "=FERT.STOCKMASS(C7,15.5,100,200)": SheetError.DIV,
        "=SUM(FERT.STOCKMASS(150,15.5,100,200),FERT.STOCKMASS(150,15.5,100,200))": 2 * MASS,
        '=INDEX(FERT.TABLE("oxides"),2,1)': TABLE_FUNCTIONS["TABLE"].rows("oxides")[1][0],
        '=FERT.TABLE("no such")': SheetError.NA,
        "=FERT.STOCKMASS(150,15.5,100)": SheetError.VALUE,
        "=FERT.STOCKMASS(150,,100,200)": SheetError.VALUE,
        "=FERT.STOCKMASS(C9:C9,15.5,100,200)": SheetError.VALUE,
        # LibreOffice's own ways, which the component names: blanks, TRUE, faulty calls.
        "=FERT.SAR(C9,1,1)": 0.0,
        "=FERT.SAR(TRUE(),1,1)": 1.0,
        "=FERT.MEAN(C1:C7)": SheetError.UNKNOWN,
        "=FERT.STOCKMASS(150,15.5,100,200,7)": SheetError.UNKNOWN,
    }
    found = column_a(cells_file(tmp_path / "ranges.xlsx", list(calls), data), len(calls))
    for call, got, want in zip(calls, found, calls.values(), strict=True):
        assert agree(want, got), (call, got)


def test_one_file_in_both_hosts(office: LibreOffice, tmp_path: Path) -> None:
    """The workbook with the LAMBDA names: by those names, and by the extension, the same values."""
    write_functions(None, tmp_path / "functions.xlsx")
    path = FOLDER.parent / "functions.xlsx"
    difference = first_difference(path.read_bytes(), (tmp_path / "functions.xlsx").read_bytes())
    assert difference is None, f"{difference}; run scripts/build --force"
    sheet = load_workbook(path).worksheets[0]
    places = {
        str(cell.value)[1:].split("(")[0]: Address(sheet.title, cell.row, cell.column)
        for row in sheet.iter_rows()
        for cell in row
        if str(cell.value).startswith("=FERT.")
    }
    records = {each.sheet_name: each for each in named_calculations().values()}
    assert places.keys() == records.keys()
    for name in ("ironcalc", "formulas", "libreoffice"):
        # ``formulas`` 1.3 does not know LET, in which long LAMBDAs work out their parts.
        wanted = {
            key: place
            for key, place in places.items()
            if name != "formulas" or not uses_let(records[key])
        }
        with ENGINES[name].open(path) as session:
            values = session.calculate({}, list(wanted.values()))
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
    names = {each.sheet_name for each in catalogue().values()}
    names |= {each.sheet_name for each in TABLE_FUNCTIONS.values()}
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
            assert argument["optional"] and argument["description"].endswith("; needed")


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
