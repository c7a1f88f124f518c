"""What every engine must do alike.

The values stand on Excel's documented behaviour (Microsoft's reference pages for the functions and
error values named) unless a line says otherwise; the arithmetic can be done by eye.
"""

from __future__ import annotations

import math
import zipfile
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.styles import Font
from openpyxl.worksheet.formula import ArrayFormula

from engines_needed import need
from small_cells import SHEET, MakeBook, OpenBook, at, one
from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc import ENGINES, Engine, engine
from tanksheet.xlsx.address import Value
from tanksheet.xlsx.writing import read_parts, write_parts

TESTS_OF_ONE_CELL = {
    "A1": 2,
    "B1": '=IF(ISNUMBER(A1),"number",IF(ISTEXT(A1),"text",IF(ISBLANK(A1),"blank","other")))',
    "B2": '=IF(A1="","nothing","something")',
    "B3": "=A1*10",
}


def kinds(session: object, value: Value) -> list[Value]:
    wanted = [at("B1"), at("B2"), at("B3")]
    return list(session.calculate({at("A1"): value}, wanted).values())  # type: ignore[attr-defined]


def test_inputs_reach_the_results(open_book: OpenBook) -> None:
    session = open_book({"A1": 2, "A2": 3, "B1": "=A1*A2", "B2": "=B1+1"})
    assert one(session, "B2") == 7
    assert one(session, "B2", {"A1": 10.0}) == 31
    assert one(session, "B2", {"A1": 10.0, "A2": 0.5}) == 6


def test_each_call_starts_from_the_file(open_book: OpenBook) -> None:
    cells = {"A1": 2, "A2": "word", "A3": True, "A5": "=A1*10", "B5": "=A5+A4", "B6": "=A2&A6"}
    session = open_book(cells)
    wanted = [at(c) for c in ("A1", "A2", "A4", "A5", "A6", "B5", "B6")]
    before = session.calculate({}, wanted)
    assert list(before.values()) == [2.0, "word", None, 20.0, None, 20.0, "word"]
    for value in (7.5, "text", True, None, SheetError.NA, ""):
        changed = {at(c): value for c in ("A1", "A2", "A3", "A4", "A5", "A6")}
        assert session.calculate(changed, wanted) != before
        assert session.calculate({}, wanted) == before


def test_a_formula_can_be_an_input_and_comes_back(open_book: OpenBook) -> None:
    session = open_book({"A1": 2, "A2": "=A1+1", "A3": "=A2*100"})
    assert one(session, "A3", {"A2": 5.0}) == 500
    assert one(session, "A2", {"A2": 5.0}) == 5
    assert one(session, "A3", {"A1": 4.0}) == 500
    assert one(session, "A2", {"A1": 4.0}) == 5


def test_inputs_of_one_call_do_not_reach_the_next(open_book: OpenBook) -> None:
    session = open_book({"A1": 1, "A2": 1, "A3": "=A1+10*A2"})
    assert one(session, "A3", {"A1": 5.0}) == 15
    assert one(session, "A3", {"A2": 5.0}) == 51


def test_empty_cells_inside_a_range_take_inputs(open_book: OpenBook) -> None:
    session = open_book({"A1": 1, "A5": 5, "B1": "=SUM(A1:A9)", "B2": "=COUNT(A1:A9)"})
    got = session.calculate({at("A3"): 10.0, at("A4"): 20.0}, [at("B1"), at("B2")])
    assert list(got.values()) == [36, 4]
    assert one(session, "B1", {"A1": None}) == 5


def test_blank_is_not_zero(open_book: OpenBook) -> None:
    session = open_book(TESTS_OF_ONE_CELL)
    assert kinds(session, 0.0) == ["number", "something", 0.0]
    assert kinds(session, None) == ["blank", "nothing", 0.0]
    assert kinds(session, "") == ["text", "nothing", SheetError.VALUE]


@pytest.mark.parametrize(
    "text", ["word", "=1+1", "'12", '5" pipe', "a\\b", " led", "ü\nµS", "#N/A"]
)
def test_text_stays_text(open_book: OpenBook, text: str) -> None:
    session = open_book({**TESTS_OF_ONE_CELL, "B4": '=A1&"|"'})
    assert kinds(session, text) == ["text", "something", SheetError.VALUE]
    assert one(session, "B4", {"A1": text}) == text + "|"
    assert one(session, "A1", {"A1": text}) == text


@pytest.mark.parametrize("text", ["12", "1e3", "-0.5"])
def test_text_like_a_number_is_set_as_text(
    any_engine: Engine, open_book: OpenBook, text: str
) -> None:
    session = open_book({"A1": 1, "B1": "=ISTEXT(A1)", "B2": "=ISNUMBER(A1)"})
    assert one(session, "A1", {"A1": text}) == text
    assert one(session, "B1", {"A1": text}) is True
    # A known limit of `formulas`, a fact of its adapter: mended there, this line goes red.
    assert one(session, "B2", {"A1": text}) is any_engine.takes_text_for_numbers


def test_truth_is_no_number(any_engine: Engine, open_book: OpenBook) -> None:
    """Microsoft's page on ISNUMBER; LibreOffice keeps TRUE as 1, a fact of its adapter."""
    session = open_book({"A1": 1, "B1": "=ISNUMBER(A1)", "B2": "=COUNT(A1:A1)"})
    assert one(session, "B1", {"A1": True}) is any_engine.takes_truth_for_numbers
    assert one(session, "B2", {"A1": True}) == float(any_engine.takes_truth_for_numbers)


def test_a_percentage_format_does_not_divide_an_input(
    make_book: MakeBook, any_engine: Engine
) -> None:
    import openpyxl

    path = make_book({"A1": 1, "B1": "=A1*2"})
    book = openpyxl.load_workbook(path)
    book[SHEET]["A1"].number_format = "0%"
    book[SHEET]["B1"].number_format = "yyyy-mm-dd hh:mm"
    book.save(path)
    with any_engine.open(path) as session:
        assert one(session, "B1", {"A1": 5.0}) == 10.0
        assert one(session, "B1", {"A1": 0.0123456789}) == pytest.approx(0.0246913578, rel=1e-14)


def test_true_and_false_come_back_as_truth(open_book: OpenBook) -> None:
    session = open_book({"A1": 2, "B1": "=A1>1", "B2": "=IF(A3,5,6)", "B3": "=NOT(A3)", "A3": True})
    assert one(session, "B1") is True
    assert one(session, "B1", {"A1": 0.0}) is False
    assert one(session, "B2", {"A3": False}) == 6
    assert one(session, "B3", {"A3": True}) is False
    assert one(session, "A3") is True


def test_true_leaves_nothing_behind(open_book: OpenBook) -> None:
    session = open_book({"A1": 0, "B1": "=A1"})
    assert one(session, "A1", {"A1": True}) is True
    for cell in ("A1", "B1"):
        assert one(session, cell, {"A1": 1.0}) == 1.0
        assert type(one(session, cell, {"A1": 1.0})) is float
        assert type(one(session, cell)) is float


def test_types_are_plain(open_book: OpenBook) -> None:
    session = open_book({"A1": 2, "A2": "w", "B1": "=A1*2", "B2": "=A2", "B3": "=COUNT(A1:A2)"})
    got = session.calculate({}, [at(c) for c in ("A1", "A2", "A9", "B1", "B2", "B3")])
    assert [type(v) for v in got.values()] == [float, str, type(None), float, str, float]


def test_empty_text_from_a_formula_is_not_an_empty_cell(open_book: OpenBook) -> None:
    session = open_book({"B1": '=""', "B2": '=IF(1>2,1,"")', "B3": "=A9"})
    got = session.calculate({}, [at("B1"), at("B2"), at("A9"), at("B3")])
    assert list(got.values()) == ["", "", None, 0.0]


def test_numbers_keep_all_their_digits(open_book: OpenBook) -> None:
    session = open_book({"A1": 1.23456789012345e-12, "A2": 1, "B1": "=A1*1", "B2": "=A2/3"})
    assert one(session, "B1") == pytest.approx(1.23456789012345e-12, rel=1e-14, abs=0)
    assert one(session, "B2") == pytest.approx(1 / 3, rel=1e-15)
    for number in (1e-300, 123456789.123456789, -1e15, 5e-324 * 2**60, math.pi):
        assert one(session, "B1", {"A1": number}) == pytest.approx(number, rel=1e-14, abs=0)


def test_a_constant_inside_a_formula_keeps_its_digits(open_book: OpenBook) -> None:
    """`formulas` keeps 15 places after the point: its adapter hands constants of cells in, and a
    formula with such a constant must not lose it either."""
    session = open_book(
        {"A1": 1e12, "B1": "=A1*1.23456789E-12", "B2": "=B9*A1", "B9": 1.23456789e-12}
    )
    assert one(session, "B1") == pytest.approx(1.23456789, rel=1e-14)
    assert one(session, "B2") == pytest.approx(1.23456789, rel=1e-14)


def test_results_that_the_file_holds_are_not_the_answer(
    any_engine: Engine, make_book: MakeBook
) -> None:
    """A file may hold results of another time or hand; with no input set, they are worked out."""
    path = make_book({"A1": 2, "B1": "=A1*10", "B2": "=B1+1", "B3": '=IF(A1>1,"much","little")'})
    parts = read_parts(path.read_bytes())
    sheet = "xl/worksheets/sheet1.xml"
    stale = parts[sheet]
    for formula, result in (
        (b"A1*10", b"<v>777</v>"),
        (b"B1+1", b"<v>888</v>"),
        (b'IF(A1&gt;1,"much","little")', b"<v>999</v>"),
    ):
        assert stale.count(b"<f>" + formula + b"</f><v />") == 1, stale
        stale = stale.replace(b"<f>" + formula + b"</f><v />", b"<f>" + formula + b"</f>" + result)
    path.write_bytes(write_parts({**parts, sheet: stale}))
    with any_engine.open(path) as session:
        assert one(session, "B1") == 20
        assert one(session, "B2") == 21
        assert one(session, "B3") == "much"


@pytest.mark.parametrize(
    ("formula", "error"),
    [
        ("=IF(A1>1,#VALUE!,1)", SheetError.VALUE),
        ("=IF(A1>1,#NUM!,1)", SheetError.NUM),
        ("=IF(A1>1,#DIV/0!,1)", SheetError.DIV),
        ("=IF(A1>1,#N/A,1)", SheetError.NA),
        ("=A2+1", SheetError.VALUE),
        ("=SQRT(-A1)", SheetError.NUM),
        ("=EXP(A1*1000)", SheetError.NUM),
        ("=LN(A1-2)", SheetError.NUM),
        ("=A1/0", SheetError.DIV),
        ("=A1/A9", SheetError.DIV),
        ("=MATCH(A1,A1:A1,0)/MATCH(5,A1:A1,0)", SheetError.NA),
        ("=NOSUCHFUNCTION(A1)", SheetError.NAME),
    ],
)
def test_error_classes(open_book: OpenBook, formula: str, error: SheetError) -> None:
    session = open_book({"A1": 2, "A2": "word", "B1": formula, "B2": "=B1*2"})
    assert one(session, "B1") is error
    assert one(session, "B2") is error


def test_errors_can_be_inputs(open_book: OpenBook) -> None:
    session = open_book({"A1": 2, "B1": "=A1*2", "B2": '=IFERROR(B1,"caught")'})
    for error in list(SheetError)[:6]:
        assert one(session, "B1", {"A1": error}) is error
        assert one(session, "B2", {"A1": error}) == "caught"


def test_names_and_sheets_with_spaces(open_book: OpenBook) -> None:
    session = open_book(
        {"A1": 2, "A2": 3, "B1": "=target_n*'Water test'!A1", "B2": "=SUM(both)"},
        names={"target_n": f"'{SHEET}'!$A$1", "both": f"'{SHEET}'!$A$1:$A$2"},
        more={"Water test": {"A1": 100, "B1": "=target_n*2"}},
    )
    assert one(session, "B1", {"A1": 4.0}) == 400
    assert one(session, "B2", {"A1": 4.0}) == 7
    there = at("B1", "Water test")
    assert session.calculate({at("A1", "water TEST"): 1.0}, [there, at("B1")]) == {
        there: 4.0,
        at("B1"): 2.0,
    }


# Gnumeric and `formulas` cannot read such references: a limit stated in their adapters.
@pytest.mark.parametrize("name", ["ironcalc", "formualizer", "libreoffice"])
def test_a_sheet_name_with_an_apostrophe(name: str, make_book: MakeBook) -> None:
    need(ENGINES[name])
    path = make_book({"A1": "='Grower''s mix'!A1*2"}, more={"Grower's mix": {"A1": 4}})
    with ENGINES[name].open(path) as session:
        assert one(session, "A1") == 8
        assert session.calculate({at("A1", "Grower's mix"): 5.0}, [at("A1")])[at("A1")] == 10


LAMBDA = {"FERT.TWICE": "_xlfn.LAMBDA(_xlpm.amount,_xlpm.amount*2)"}


@pytest.mark.parametrize("name", [name for name, each in ENGINES.items() if each.knows_lambda])
def test_lambda_names_are_evaluated(name: str, make_book: MakeBook) -> None:
    need(ENGINES[name])
    path = make_book({"A1": 4, "B1": "=FERT.TWICE(A1)", "B2": "=FERT.TWICE(B1)+1"}, names=LAMBDA)
    with ENGINES[name].open(path) as session:
        assert one(session, "B2") == 17
        assert one(session, "B2", {"A1": 0.5}) == 3


@pytest.mark.parametrize("name", [name for name, each in ENGINES.items() if not each.knows_lambda])
def test_other_cells_survive_a_lambda_that_is_not_known(name: str, make_book: MakeBook) -> None:
    need(ENGINES[name])
    path = make_book({"A1": 4, "B1": "=FERT.TWICE(A1)", "B2": "=A1*3"}, names=LAMBDA)
    with ENGINES[name].open(path) as session:
        assert isinstance(one(session, "B1"), SheetError)
        assert one(session, "B2", {"A1": 5.0}) == 15


def test_the_file_is_left_alone(any_engine: Engine, make_book: MakeBook) -> None:
    path = make_book({"A1": 2, "B1": "=A1*2"})
    before = path.read_bytes()
    with any_engine.open(path) as session:
        assert one(session, "B1", {"A1": 9.0}) == 18
        make_book({"A1": 1, "B1": "=A1*1000"})  # someone saves another version meanwhile
        assert one(session, "B1", {"A1": 9.0}) == 18
        assert [p.name for p in path.parent.iterdir()] == [path.name]
    assert path.read_bytes() != before


def test_two_books_at_once(any_engine: Engine, make_book: MakeBook) -> None:
    first = make_book({"A1": 2, "B1": "=A1*2"}, file="first.xlsx")
    second = make_book({"A1": 2, "B1": "=A1*3"}, file="second.xlsx")
    with any_engine.open(first) as one_book, any_engine.open(second) as other_book:
        assert one(one_book, "B1", {"A1": 5.0}) == 10
        assert one(other_book, "B1") == 6
        assert one(one_book, "B1") == 4


def test_nothing_is_printed(open_book: OpenBook, capfd: pytest.CaptureFixture[str]) -> None:
    session = open_book({"A1": 2, "B1": "=EXP(A1*1000)", "B2": "=1/0", "B3": "=SUM(A1:A9)"})
    one(session, "B1", {"A1": 3.0})
    assert capfd.readouterr() == ("", "")


def test_array_formulas_work_but_take_no_inputs(open_book: OpenBook) -> None:
    formula = ArrayFormula("B1:B2", "=A1:A2*2")
    session = open_book({"A1": 1, "A2": 2, "B1": formula, "C1": "=B1+10*B2"})
    assert one(session, "C1", {"A1": 5.0}) == 50
    for cell in ("B1", "B2"):
        with pytest.raises(WorkbookProblem, match=f"{cell}: one formula serves the cells B1:B2"):
            one(session, "C1", {cell: 7.0})
    assert one(session, "C1", {"B3": 7.0}) == 42


@pytest.mark.parametrize("bad", [math.inf, math.nan, "nul\0", "x" * 40_000, SheetError.CIRCULAR])
def test_inputs_that_no_cell_can_hold(open_book: OpenBook, bad: Value) -> None:
    session = open_book({"A1": 2, "B1": "=A1*2"})
    with pytest.raises(WorkbookProblem, match=r"small book\.xlsx, 'Stock tank'!A1: the input is"):
        one(session, "B1", {"A1": bad})
    assert one(session, "B1") == 4


def test_a_sheet_that_is_not_there(open_book: OpenBook) -> None:
    session = open_book({"A1": 2})
    with pytest.raises(WorkbookProblem, match="no sheet 'Mix'; its sheets are Stock tank"):
        session.calculate({}, [at("A1", "Mix")])
    with pytest.raises(WorkbookProblem, match="no sheet 'Mix'"):
        session.calculate({at("A1", "Mix"): 1.0}, [at("A1")])
    assert one(session, "A1") == 2


def test_a_closed_session_says_so(open_book: OpenBook) -> None:
    session = open_book({"A1": 2})
    session.close()
    session.close()
    with pytest.raises(EngineProblem, match="is closed"):
        one(session, "A1")


def test_bad_files_are_refused_alike(any_engine: Engine, tmp_path: Path) -> None:
    path = tmp_path / "notes.xlsx"
    path.write_text("no workbook")
    with pytest.raises(WorkbookProblem, match=r"^notes\.xlsx: this is not an \.xlsx workbook"):
        any_engine.open(path)


def test_versions(any_engine: Engine) -> None:
    assert any_engine.version()[0].isdigit()


def test_engines_by_name() -> None:
    for name, able in ENGINES.items():
        assert engine(name) is able and able.name == name
    with pytest.raises(EngineProblem, match=", ".join(ENGINES)):
        engine("abacus")


def test_an_error_among_what_is_added_comes_out(any_engine: Engine, open_book: OpenBook) -> None:
    """Excel adds no error away. Source: from memory of Excel; LibreOffice and Gnumeric agree."""
    rows = {"A1": "a", "A2": "b", "A3": "a", "C1": 1, "C2": 2, "C3": "=1/0"}
    session = open_book({**rows, "E1": '=SUMIF(A1:A3,"a",C1:C3)', "E2": '=SUMIF(A1:A3,"b",C1:C3)'})
    # formualizer's known fault, stated in its adapter: mended there, this line goes red.
    skipped = any_engine.name == "formualizer"
    assert one(session, "E1") == (1.0 if skipped else SheetError.DIV)
    assert ("SUMIF" in any_engine.skips_errors_in) is skipped
    assert one(session, "E2") == 2.0


def test_what_the_file_says_is_not_believed(open_book: OpenBook) -> None:
    """A file that was saved with wrong results: ECMA-376 part 1, 18.3.1.96 calls them cached."""

    def wrong(path: Path) -> None:
        parts = read_parts(path.read_bytes())
        sheet = "xl/worksheets/sheet1.xml"
        assert parts[sheet].count(b"<v />") == 1
        parts[sheet] = parts[sheet].replace(b"<v />", b"<v>999</v>")
        with zipfile.ZipFile(path, "w") as made:
            for name, content in parts.items():
                made.writestr(name, content)

    session = open_book({"A1": 2, "B1": "=A1*2"}, spoil=wrong)
    assert one(session, "B1") == 4
    assert one(session, "B1", {"A1": 5.0}) == 10


def test_constants_in_formulas_keep_their_digits(open_book: OpenBook) -> None:
    session = open_book({"A1": 3, "B1": "=A1*1.23456789E-12", "B2": "=A1*0.00000000000123456789"})
    for cell in ("B1", "B2"):
        assert one(session, cell) == pytest.approx(3.70370367e-12, rel=1e-12, abs=0)


def test_an_empty_cell_with_a_look_is_empty(any_engine: Engine, make_book: MakeBook) -> None:
    """Libraries write such a cell as an empty one of type "n"; ECMA-376 part 1, 18.3.1.4."""
    path = make_book({"B1": '=IF(A1="","empty","full")', "B2": "=COUNT(A1:A2)"})
    book = load_workbook(path)
    book[SHEET]["A1"].font = Font(bold=True)
    book.save(path)
    assert b'r="A1" s="1" t="n"' in read_parts(path.read_bytes())["xl/worksheets/sheet1.xml"]
    with any_engine.open(path) as session:
        wanted = [at("A1"), at("B1"), at("B2")]
        assert list(session.calculate({}, wanted).values()) == [None, "empty", 0]
        assert list(session.calculate({at("A1"): 7.0}, wanted).values()) == [7, "full", 1]
        assert list(session.calculate({}, wanted).values()) == [None, "empty", 0]
