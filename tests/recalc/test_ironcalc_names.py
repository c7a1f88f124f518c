"""The copy that IronCalc gets: names of cells are the cells, and nothing else has changed.

What the copy works out is held against IronCalc itself, on the file as it was.
"""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook.defined_name import DefinedName

from engines_needed import need
from small_cells import SHEET, MakeBook, at
from tanksheet.recalc import ENGINES, ironcalc_engine, ironcalc_names
from tanksheet.recalc.ironcalc_names import names_as_cells

NAMES = {
    "one": f"'{SHEET}'!$A$1",
    "both": f"'{SHEET}'!$A$1:$A$2",
    "far": "'O''Hara & <b>'!$B$1",
    "there": "Other!$A$1",
    "lost": "Nowhere!$A$1",
    "alias": "one",
    "more": f"'{SHEET}'!$A$1*2",
    "moving": f"'{SHEET}'!A1",
    "own": "Other!$A$1",
    "TWICE": "_xlfn.LAMBDA(_xlpm.one,_xlpm.one*2)",
}
SAID = {
    "=one*2": f"='{SHEET}'!$A$1*2",
    "=ONE+SUM(both)": f"='{SHEET}'!$A$1+SUM('{SHEET}'!$A$1:$A$2)",
    "=IF(one<>2,there&far,one)": (
        f"=IF('{SHEET}'!$A$1<>2,Other!$A$1&'O''Hara & <b>'!$B$1,'{SHEET}'!$A$1)"
    ),
    '="one ""one"": "&one': f'="one ""one"": "&\'{SHEET}\'!$A$1',
    "=-one^2": f"=-'{SHEET}'!$A$1^2",
    "=TWICE(one)": f"=TWICE('{SHEET}'!$A$1)",
}
AS_WRITTEN = [
    "=alias+1",
    "=more",
    "=moving",
    "=own",
    "=lost",
    "=SUM(one:A2)",
    "=SUM(A2:one)",
    "=SUM(A2: one)",
    "=SUM(one :A2)",
    "=one.five",
    "=one_1",
    "='one'!A1",
    "=one!A1",
    "=_xlfn.LET(one,3,one*2)",
    "=A1",
]


def made(make_book: MakeBook, formulas: list[str]) -> Path:
    cells: dict[str, object] = {f"C{row}": text for row, text in enumerate(formulas, 1)}
    more = {"Other": {"A1": 9}, "O'Hara & <b>": {"B1": 7}, "one": {"A1": 8}}

    def own(path: Path) -> None:
        book = openpyxl.load_workbook(path)
        book["Other"].defined_names["own"] = DefinedName("own", attr_text="Other!$A$2")
        book.save(path)

    return make_book(
        {"A1": 2, "A2": 3, **cells}, names=NAMES, more=more, file="book.xlsx", spoil=own
    )


@pytest.fixture
def always(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ironcalc_names, "FEW", 0)


@pytest.mark.usefixtures("always")
def test_what_the_formulas_say(make_book: MakeBook) -> None:
    path = made(make_book, [*SAID, *AS_WRITTEN])
    before = path.read_bytes()
    copy = names_as_cells(path)
    assert path.read_bytes() == before and copy.parent == path.parent and copy != path
    book = openpyxl.load_workbook(copy)
    said = [book[SHEET].cell(row, 3).value for row in range(1, len(SAID) + len(AS_WRITTEN) + 1)]
    assert said == [*SAID.values(), *AS_WRITTEN]
    assert set(book.defined_names) == set(NAMES)


@pytest.mark.usefixtures("always")
def test_they_give_what_the_names_gave(make_book: MakeBook) -> None:
    need(ENGINES["ironcalc"])
    path = made(make_book, [*SAID, "=alias+1", "=more", "=SUM(one:A2)", "=A1"])
    wanted = [at(f"C{row}") for row in range(1, len(SAID) + 5)]
    theirs = ironcalc_engine.IronCalcBook(str(path))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ironcalc_engine, "names_as_cells", lambda file: file)
        as_it_was = ironcalc_engine.IronCalcBook(str(path))
    for inputs in ({}, {at("A1"): 5.0}, {at("A1"): "word"}, {at("A1"): None}):
        assert theirs.calculate(inputs, wanted) == as_it_was.calculate(inputs, wanted)


def test_few_names_stay(make_book: MakeBook) -> None:
    path = made(make_book, [*SAID])
    assert names_as_cells(path) == path
    assert [each.name for each in path.parent.iterdir()] == [path.name]


@pytest.mark.usefixtures("always")
def test_what_is_no_workbook_is_left_to_the_engine(tmp_path: Path) -> None:
    path = tmp_path / "notes.xlsx"
    path.write_text("no workbook")
    assert names_as_cells(path) == path
