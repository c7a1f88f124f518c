"""Settings of tables: one row leaves the others alone, and names with spaces stay whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from engines_needed import need
from package_edits import GetWorkbook
from small_cells import MakeBook
from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.book import Book
from tanksheet.sheets.run import run
from tanksheet.sheets.settings import Typed, set_cells, understood
from tanksheet.sheets.target import Target
from tanksheet.templates import book
from tanksheet.xlsx.address import Value
from tanksheet.xlsx.reading import Package


def put(path: Path, plan: Book | None, name: str, typed: Typed) -> dict[str, Value]:
    """What a setting puts into cells, by cell."""
    target = Target.of(Package(path), plan)
    return {where.cell: value for where, value in set_cells(target, name, typed).items()}


def said(path: Path, plan: Book | None, **settings: Typed) -> list[str]:
    return understood(Package(path), plan, settings)


@pytest.fixture
def own(make_book: MakeBook) -> Path:
    """A user's table: names in A, amounts in B with their units in C, and one unit for column D."""
    cells: dict[str, object] = {"E1": "min", "F1": 7, "F2": "L"}
    for row in range(1, 5):
        cells |= {f"A{row}": f"salt {row}", f"B{row}": row, f"C{row}": "kg", f"D{row}": row}
    cells["C2"] = "g"
    places = {
        "salts": "$A$1:$A$4",
        "amounts": "$B$1:$B$4",
        "amount_units": "$C$1:$C$4",
        "times": "$D$1:$D$4",
        "times_unit": "$E$1",
        "tank": "$F$1",
        "tank_unit": "$F$2",
    }
    return make_book(cells, {name: f"'Stock tank'!{place}" for name, place in places.items()})


@pytest.mark.parametrize("name", ["salts[3]", "salts_3", "salts[ 3 ]"])
def test_one_row_by_its_number(name: str, own: Path) -> None:
    assert put(own, None, name, "potassium nitrate") == {"A3": "potassium nitrate"}
    assert put(own, None, name, "") == {"A3": None}
    assert put(own, None, name, None) == {"A3": None}


def test_one_value_sets_the_first_row_only(own: Path) -> None:
    assert put(own, None, "salts", "urea") == {"A1": "urea"}
    assert put(own, None, "salts", "potassium nitrate") == {"A1": "potassium nitrate"}
    assert put(own, None, "amounts", "3") == {"B1": 3.0}
    assert put(own, None, "amounts", 3.0) == {"B1": 3.0}


def test_several_values_fill_the_column_and_blank_the_rest(own: Path) -> None:
    whole = {"A1": "iron sulfate", "A2": "urea", "A3": None, "A4": None}
    assert put(own, None, "salts", "iron sulfate; urea") == whole
    assert put(own, None, "salts", "iron sulfate\nurea") == whole
    assert put(own, None, "salts", "urea;") == {**whole, "A1": "urea", "A2": None}
    assert put(own, None, "salts", ["iron sulfate", "urea"]) == whole
    assert put(own, None, "salts", "") == dict.fromkeys(whole)
    assert put(own, None, "salts", None) == dict.fromkeys(whole)
    assert put(own, None, "amounts", "3 4 5") == {"B1": 3.0, "B2": 4.0, "B3": 5.0, "B4": None}


def test_a_unit_for_each_row(own: Path) -> None:
    assert put(own, None, "amounts_2", "500 g") == {"B2": 500.0, "C2": "g"}
    assert put(own, None, "amounts[4]", "500 g") == {"B4": 500.0, "C4": "g"}
    assert put(own, None, "amounts", "2 kg; 300 g") == {
        **{"B1": 2.0, "C1": "kg", "B2": 300.0, "C2": "g", "B3": None, "B4": None}
    }
    # By hand: an ounce is 28.349523125 g (NIST SP 811); converted to the first unit of the column.
    assert put(own, None, "amounts_1", "2 oz")["B1"] == pytest.approx(0.05669904625, rel=1e-12)


def test_one_unit_for_all_rows_is_not_changed_for_one(own: Path) -> None:
    assert put(own, None, "times_2", "5 min") == {"D2": 5.0}
    assert put(own, None, "times", "5 min; 6 min")["D2"] == 6.0


def test_another_unit_than_the_one_for_all_rows(workbook: GetWorkbook) -> None:
    path, plan = workbook("zone-flow"), book("zone-flow")
    with pytest.raises(WorkbookProblem) as caught:
        put(path, plan, "bucket_time[2]", "0.5 min")
    line = str(caught.value)
    assert "all rows of bucket_time are in s" in line and "give it in s" in line
    assert "\n" not in line and "'Zone flow'!" in line
    assert list(put(path, plan, "bucket_time[2]", "31 s").values()) == [31.0]


def test_rows_that_are_not_there(own: Path) -> None:
    for name in ("salts[5]", "salts_0", "salts[0]"):
        with pytest.raises(WorkbookProblem, match=r"salts has the rows 1 to 4; there is no row"):
            put(own, None, name, "urea")
    for name in ("tank[1]", "tank_1", "slats_2", "salts[x]", "[1]"):
        with pytest.raises(WorkbookProblem, match="there is no name"):
            put(own, None, name, "1")
    with pytest.raises(WorkbookProblem, match="salts has room for 4 values, 5 were given"):
        put(own, None, "salts", "a;b;c;d;e")


def test_what_was_understood_is_said(own: Path) -> None:
    assert said(own, None, salts="urea") == ["salts[1] = urea (the other 3 stand)"]
    assert said(own, None, salts_2="urea") == ["salts[2] = urea"]
    assert said(own, None, salts="urea;lime") == ["salts = urea; lime"]
    assert said(own, None, salts="") == ["salts = blank"]
    assert said(own, None, amounts_2="5", amounts_3="6 g") == [
        "amounts[2] = 5 g",
        "amounts[3] = 6 g",
    ]
    assert said(own, None, amounts="5;6 kg") == ["amounts = 5 kg; 6 kg"]
    assert said(own, None, times="5;6") == ["times = 5 min; 6 min"]


def test_the_products_of_a_recipe(workbook: GetWorkbook) -> None:
    """In our own workbook the words of the list are known, in whatever case they are typed."""
    path, plan = workbook("recipe"), book("recipe")
    names, units = plan.entries["products"], plan.entries["amount_units"]
    first = next(word for word in names.words if " " in word and "," not in word)
    assert put(path, plan, "products", first.upper()) == {names.cells[0].cell: first}
    assert put(path, plan, "products", "urea") == {names.cells[0].cell: "urea"}
    assert put(path, plan, "products_3", first) == {names.cells[2].cell: first}
    assert put(path, plan, "amounts_3", "500 g") == {
        plan.entries["amounts"].cells[2].cell: 500.0,
        units.cells[2].cell: "g",
    }


def test_the_other_rows_count_on(workbook: GetWorkbook) -> None:
    """Through an engine: with one row set, the others are what they were; bad words are named."""
    need(ENGINES["ironcalc"])
    path, plan = workbook("recipe"), book("recipe")
    asked = ["products", "amounts", "products[2]"]
    before = run(path, plan, {}, asked)
    after = run(path, plan, {"products_2": "urea"}, asked)
    assert after["products[2]"] == "urea"
    assert after["products"] == [before["products"][0], "urea", *before["products"][2:]]
    assert after["amounts"] == before["amounts"]
    cell = plan.entries["products"].cells[1].a1
    for typed, says in (("ureea", "did you mean urea"), ("@", "choose one of the")):
        with pytest.raises(WorkbookProblem) as caught:
            run(path, plan, {"products_2": typed}, asked)
        line = str(caught.value)
        assert line.startswith(f"recipe.xlsx: {cell} (products) is '{typed}'; {says}")
        assert "\n" not in line
