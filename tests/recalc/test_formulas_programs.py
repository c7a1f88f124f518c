"""Small cells of ``formulas`` give what the library's own graphs give.

Beside them stands the library's model as it comes, on the same file; which values are right is the
contract's matter (``test_contract.py``).
"""

from __future__ import annotations

import importlib
from typing import Any

import pytest

from engines_needed import need
from small_cells import MakeBook
from tanksheet.recalc import ENGINES

CELLS: dict[str, object] = {
    "A1": 2,
    "A2": 3,
    "A3": "word",
    "A5": True,
    "A6": "12",
    "A7": -1.5,
    "A9": '=""',
}
NAMES = {
    "one": "'Stock tank'!$A$1",
    "both": "'Stock tank'!$A$1:$A$2",
    "table": "Other!$A$1:$B$3",
    "either": "'Stock tank'!$A$1,'Stock tank'!$A$2",
    "alias": "one",
    "more": "one*2+1",
    "constant": "42",
    "unused": "'Stock tank'!$A$7",
    "nowhere": "Nowhere!$A$1",
    "FERT.TWICE": "_xlfn.LAMBDA(_xlpm.a,_xlpm.a*2)",
    "FERT.BOTH": "_xlfn.LAMBDA(_xlpm.a,FERT.TWICE(_xlpm.a)+alias*one)",
}
# Steps where they will do, the library's graph where not, and one beside the other.
FORMULAS = """
=A1+A2 =A1+A3 =A1+A4 =A5+1 =A6+1 =A1&A4&"x" =-2^2 =2^3^2 =A1% =--A5 =A3>A1 =A4="" =A9="" =A4=0
=IF(A1,,3) =IF(FALSE,1) =IF(A1>1,NOSUCH(1),2) =TRUE() ="a""b" =#N/A =IFERROR(A1/0,"c") =1/0 =1E-05
=one*2 =SUM(both) =SUM(both,A1) =SUM(A2:A1) =one+A1 =INDEX(both,2)+INDEX(both,1) =alias*2 =more
=constant+1 =SUM(either) =nowhere =nosuch =nosuch+1 =NOSUCH(A1) =SUM((A1,A2)) =SUM(A1:A3,A2:A5)
=INDEX(table,2,2) =INDEX(table,9,1) =SUM(A1:INDEX(A1:A5,2)) =SUM(one:A2) =ROW() =COLUMN() =ROW(A5)
=MATCH("b",Other!B1:B3,0) =VLOOKUP(3,table,2,FALSE) =SUMPRODUCT((Other!B1:B3="b")*Other!A1:A3)
=SUMIF(Other!B1:B3,"b",Other!A1:A3) =FERT.TWICE(A1) =FERT.TWICE(one) =FERT.BOTH(A2) =FERT.TWICE(A3)
={1,2;3,4} =SUM({1,2;3,4}*2) =@both =A1:A3 =Z99 =Z99+0 =SUM(Z90:Z99) =C1+1 =SUM(Other!A:A) =A1/A8
=_xlfn.LAMBDA(_xlpm.x,_xlpm.x*3)(one) =SUM(C1:C3) =D71 =D72+1
""".split()


def values(model: Any, inputs: dict[str, Any]) -> dict[str, str]:
    solution = model.calculate(inputs=inputs)
    found = {key: solution.get(key) for key in (f"'[book.xlsx]STOCK TANK'!C{row}" for row in ROWS)}
    return {key: "nothing" if each is None else repr(each.value) for key, each in found.items()}


ROWS = range(1, len(FORMULAS) + 1)


@pytest.mark.parametrize("indirect", [False, True])
def test_as_the_library_has_it(make_book: MakeBook, indirect: bool) -> None:
    """With INDIRECT about, any name may be meant: then names are the library's too."""
    need(ENGINES["formulas"])
    formulas = {f"C{row}": formula for row, formula in zip(ROWS, FORMULAS, strict=True)}
    circle = {"D71": "=D72+1", "D72": "=D71+1"}
    other = {"A1": 1.5, "A2": 3, "A3": 4.5, "B1": "a", "B2": "b", "B3": "c"}
    cells = {**CELLS, **formulas, **circle, **({"E1": '=INDIRECT("A1")'} if indirect else {})}
    path = make_book(cells, names=NAMES, more={"Other": other}, file="book.xlsx")
    library: Any = importlib.import_module("formulas")
    programs: Any = importlib.import_module("tanksheet.recalc.formulas_programs")
    ranges = importlib.import_module("formulas.ranges").Ranges
    theirs = library.ExcelModel().loads(str(path)).finish()
    ours = programs.SmallModel().loads(str(path)).finish()
    for content in ([], [("A1", 5.0)], [("A1", ""), ("A2", "9")], [("A3", 7.0), ("A4", True)]):
        keys = {cell: f"'[book.xlsx]STOCK TANK'!{cell}" for cell, _ in content}
        inputs = {keys[cell]: ranges().push(keys[cell], [[value]]) for cell, value in content}
        assert values(ours, inputs) == values(theirs, inputs)
    kept = [node["function"] for node in ours.dsp.function_nodes.values()]
    assert sum(isinstance(each, programs.Program) for each in kept) > len(FORMULAS) / 2
