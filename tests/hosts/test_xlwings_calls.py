"""The functions through xlwings' own Windows code: arguments, call, result.

Excel and pywin32 are stand-ins (``com_stand_ins``); ``xlwings.udfs``, its converters and its COM
server's CallUDF are the real ones. What Excel's cells and wizards make of it is not shown here.
"""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import CarriedFault, Fault, NotListed, OutOfRange, SheetError
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.hosts.xlwings.functions import answer, excel_name
from tanksheet.hosts.xlwings.project import write_project
from tanksheet.units import Quantity
from xlwings_jobs import call, run_jobs, same

# As a COM client reads error cells; from xlwings' own table (and Microsoft's XlCVError numbers,
# 2000 to 2042, in the low half).
CODES = {
    "#NULL!": -2146826288,
    "#DIV/0!": -2146826281,
    "#VALUE!": -2146826273,
    "#REF!": -2146826265,
    "#NAME?": -2146826259,
    "#NUM!": -2146826252,
    "#N/A": -2146826246,
}
RECORDS = list(catalogue().values())
ROWS = 25


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("xlwings")
    write_project(folder)
    return folder


def results(project: Path, *jobs: dict[str, Any]) -> list[Any]:
    found = run_jobs(project, list(jobs))
    assert all("raised" not in each for each in found), found
    return [each["result"] for each in found]


def test_the_real_decorators_run_and_the_other_licence_is_not_needed(project: Path) -> None:
    (facts,) = run_jobs(project, [{"do": "facts"}])
    assert facts == {
        "pro": False,
        "other": [],
        "decorator": "xlwings.udfs",
        "on windows": ["xlwings"],
    }


def test_every_example_in_a_single_cell(project: Path) -> None:
    jobs = [call(excel_name(c.name), *map(_cells, c.example[0])) for c in RECORDS]
    for record, result in zip(RECORDS, results(project, *jobs), strict=True):
        assert same(result, record.function(*record.example[0])), record.name


def _cells(value: Any) -> Any:
    if isinstance(value, list):
        return [[float(each)] for each in value]
    return value if isinstance(value, str) else float(value)


def test_every_function_over_columns_with_bad_rows(project: Path) -> None:
    """Good rows and bad ones mixed; each must be what the engine says of that row alone."""
    draw = random.Random(4)
    columns = {
        c.name: [_column(draw, c, entry) for entry in c.parameters.values()] for c in RECORDS
    }
    jobs = [call(excel_name(c.name), *columns[c.name]) for c in RECORDS]
    kinds = set()
    for record, job, result in zip(RECORDS, jobs, run_jobs(project, jobs), strict=True):
        expected = _by_the_engine(record, columns[record.name])
        found = result["result"] if isinstance(result["result"], list) else [[result["result"]]]
        assert len(found) == len(expected), record.name
        for at, (ours, theirs) in enumerate(zip(found, expected, strict=True)):
            row = [column[at % len(column)] for column in job["arguments"]]
            assert same(ours[0], theirs), (record.name, at, row, ours, theirs)
            kinds.add(type(ours[0]) if isinstance(ours[0], float) else ours[0])
        assert set(result["reads"]) == {1}, f"{record.name}: each range is read once"
    assert kinds >= {float, "#VALUE!", "#NUM!", "#N/A", "#REF!"}


def _column(draw: random.Random, record: Calculation, entry: Quantity) -> list[list[Any]]:
    example = record.example[0][list(record.parameters.values()).index(entry)]
    if entry.is_readings:
        return [[draw.uniform(1, 9)] for _ in range(5)] + [[None]]
    return [[_value(draw, entry, example)] for _ in range(ROWS)]


def _value(draw: random.Random, entry: Quantity, example: Any) -> Any:
    if draw.random() < 0.04:
        return draw.choice([None, "words", True, CODES["#REF!"], CODES["#N/A"], -1e99])
    if entry.is_word:
        return draw.choice([*entry.words, str(example), str(example).upper()])
    if not entry.above and draw.random() < 0.1:
        return float(max(entry.low, -1e6))
    number = float(example) * draw.uniform(0.7, 1.3) + 0.01 * draw.random()
    return min(max(number, entry.low), entry.high)


def _by_the_engine(record: Calculation, columns: list[list[list[Any]]]) -> list[Any]:
    entries = record.parameters.values()
    pairs = list(zip(columns, entries, strict=True))
    count = max(1 if entry.is_readings else len(column) for column, entry in pairs)
    return [
        _engine(
            record,
            [[cell for (cell,) in c] if e.is_readings else _held(c[at][0]) for c, e in pairs],
        )
        for at in range(count)
    ]


def _held(cell: Any) -> Any:
    for text, code in CODES.items():
        if type(cell) is int and cell == code:
            fault = Fault(text)
            fault.code = SheetError(text)
            return CarriedFault(fault)
    return cell


def _engine(record: Calculation, row: list[Any]) -> Any:
    try:
        return record.function(*row)
    except Fault as fault:
        return str(fault.code)


def test_a_column_a_constant_and_a_table(project: Path) -> None:
    target, ratios = [[150.0], [75.0]], [[100.0, 200.0, 50.0]]
    column, table, row = results(
        project,
        call("FERT_STOCKMASS", target, 15.5, 100.0, 200.0),
        call("FERT_STOCKMASS", target, 15.5, ratios, 200.0),
        call("FERT_STOCKMASS", 150.0, 15.5, ratios, 200.0),
    )
    # By hand: 150 x 100 x 200 / (15.5 x 10) g.
    once = 3_000_000 / 155
    assert [each for (each,) in column] == pytest.approx([once, once / 2])
    assert table[0] == pytest.approx([once, 2 * once, once / 2])
    assert table[1] == pytest.approx([once / 2, once, once / 4])
    assert row == pytest.approx(table[0])  # xlwings hands a single row back as a flat list


def test_ranges_of_unequal_length(project: Path) -> None:
    """As in Excel's own arithmetic on arrays: #N/A where one of them has run out."""
    long, short = [[150.0], [150.0], [150.0]], [[100.0], [200.0]]
    (result,) = results(project, call("FERT_STOCKMASS", long, 15.5, short, 200.0))
    assert [type(each) for (each,) in result[:2]] == [float, float]
    assert result[2] == ["#N/A"]
    wide, narrow = [[150.0, 150.0, 150.0]] * 2, [[100.0, 200.0]] * 2
    (result,) = results(project, call("FERT_STOCKMASS", wide, 15.5, narrow, 200.0))
    assert [row[2] for row in result] == ["#N/A", "#N/A"]
    assert [type(each) for row in result for each in row[:2]] == [float] * 4


@pytest.mark.parametrize("text", CODES)
def test_an_error_in_an_argument_is_handed_on(project: Path, text: str) -> None:
    code = CODES[text]
    single, column, word, readings, twice = results(
        project,
        call("FERT_PERCENT", [[code]]),
        call("FERT_PERCENT", [[100.0], [code], [50.0]]),
        call("FERT_ELEMENT", [["P2O5"], [code]], 52.0),
        call("FERT_MEAN", [[25.2], [code], [24.8]]),
        call("FERT_UNIFORMITY", [[25.2], [code], [24.8]], [["CU"], ["DU"]]),
    )
    assert twice == [[text], [text]]
    assert single == readings == text
    assert column == [[1.0], [text], [2.0]]
    assert word[1] == [text]
    assert isinstance(word[0][0], float)


def test_the_codes_are_those_of_xlwings() -> None:
    source = Path(__import__("xlwings").__path__[0], "_xlwindows.py").read_text()
    assert all(f'{code}: "{text}"' in source for text, code in CODES.items())


def test_odd_cells(project: Path) -> None:
    money, date, missing, blank, truth, text = results(
        project,
        # A currency cell comes as a decimal number; the figure is FERT.NUTRIENTCOST's example.
        call("FERT_NUTRIENTCOST", [["<money>"], ["<money>"]], 25.0, 15.5),
        call("FERT_PERCENT", [["<date>"]]),
        call("FERT_STOCKMASS", 150.0, "<missing>", 100.0, 200.0),
        call("FERT_PERCENT", [[None], [100.0]]),
        call("FERT_PERCENT", True),
        call("FERT_PERCENT", "100"),
    )
    assert [each for (each,) in money] == pytest.approx([25 * 100 / (25 * 15.5)] * 2)
    assert date == missing == truth == text == "#VALUE!"
    assert blank == [["#VALUE!"], [1.0]]


def test_readings_of_any_shape(project: Path) -> None:
    block = [[1.9, 2.1], [2.0, None], [None, 1.8]]
    square, column, words, wrong = results(
        project,
        call("FERT_UNIFORMITY", block, "CU"),
        call("FERT_UNIFORMITY", [[1.9], [2.1], [2.0], [1.8]], "CU"),
        call("FERT_UNIFORMITY", block, [["CU"], ["DU"], ["XU"]]),
        call("FERT_UNIFORMITY", [[1.9], ["2.1 L"]], "CU"),
    )
    assert square == column == pytest.approx(94.87179487)  # by hand: 100 (1 - 0.1/1.95)
    assert words[0] == [square]
    assert words[1] == pytest.approx([100 * 1.8 / 1.95])
    assert words[2] == ["#N/A"]
    assert wrong == "#VALUE!"


def test_a_whole_table(project: Path) -> None:
    table, unknown, handed_on = results(
        project,
        call("FERT_TABLE", "Units"),
        call("FERT_TABLE", "no such"),
        call("FERT_TABLE", [[CODES["#REF!"]]]),
    )
    assert table[0][:3] == ["unit", "kind", "factor"]
    gallon = next(row for row in table if row[0] == "gal")
    assert gallon[2] == 3.785411784  # NIST SP 811, exact
    assert {len(row) for row in table} == {len(table[0])}
    assert (unknown, handed_on) == ("#N/A", "#REF!")


def test_a_table_function_checks_its_arguments() -> None:
    table = TABLE_FUNCTIONS["TABLE"]
    with pytest.raises(NotListed, match="table is 'x'; it must be one of units"):
        table.rows("x")
    with pytest.raises(TypeError, match="takes 1 arguments"):
        table.rows()
    number = Quantity(catalogue()["PERCENT"].parameters["ratio"].alias, "parts", low=1, high=9)
    doubled = type(table)("TWICE", "", {"ratio": number}, lambda n: [[n, 2 * n]], "", (1,))
    assert doubled.rows(3) == [[3.0, 6.0]]
    with pytest.raises(OutOfRange, match="ratio is 10; it must be at least 1 and at most 9"):
        doubled.rows(10)


def test_filling_a_column_of_an_open_workbook(project: Path) -> None:
    rows = [[150.0, 15.5, 100.0, 200.0], [150.0, 0.0, 100.0, 200.0], [None, 15.5, 100.0, 200.0]]
    place = {"do": "fill", "block": "A2:D4", "first": "F2"}
    good, narrow, unknown = run_jobs(
        project,
        [
            {**place, "name": "FERT_STOCKMASS", "rows": rows},
            {**place, "name": "FERT_STOCKMASS", "rows": [[1.0, 2.0]]},
            {**place, "name": "FERT_NOSUCH", "rows": rows},
        ],
    )
    assert good["count"] == 3
    assert good["written"][0] == pytest.approx([3_000_000 / 155])
    assert good["written"][1:] == [["#NUM!"], ["#VALUE!"]]
    assert "A2:D4 has 2 columns; FERT_STOCKMASS takes 4: target, content" in narrow["raised"]
    assert "there is no function FERT_NOSUCH" in unknown["raised"]


def test_one_call_for_a_column_gives_what_single_cells_give(project: Path) -> None:
    (timed,) = run_jobs(project, [{"do": "time", "count": 200}])
    assert timed["equal"]


def test_an_unknown_name() -> None:
    with pytest.raises(KeyError):
        answer("FERT_NOSUCH", 1)


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [(1.0, 1.0 + 1e-9), ("#NUM!", "#VALUE!"), (1.0, "#NUM!"), (0.0, 1e-9)],
)
def test_the_comparison_can_fail(ours: Any, theirs: Any) -> None:
    assert not same(ours, theirs)
