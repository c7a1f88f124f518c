"""A workbook that stays open: set, recalculate, read, as ``tanksheet run`` does."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pint
import pytest

import tanksheet as ts
from engines_needed import need
from package_edits import GetWorkbook, type_into
from small_cells import MakeBook
from tanksheet.errors import EngineProblem, SheetError, WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.run import default_names, run
from tanksheet.sheets.target import Target
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.reading import Package

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
Q = UNITS.Quantity
MASS = 150 * 100 * 200 / 155  # by hand: 150 mg/L from 15.5 %, 1:100, 200 L
TYPED = {"nutrient_1": "N", "target_1": "150 ppm", "label_n_1": "15.5", "tank": "200 L"}


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


@pytest.fixture
def tank(workbook: GetWorkbook) -> Path:
    return workbook("stock-tank")


@pytest.fixture
def own(make_book: MakeBook) -> Path:
    """A user's own workbook: a volume with its unit, three readings, two results."""
    cells = {
        "A1": 12,
        "B1": "L",
        "A2": 1,
        "B2": 2,
        "C2": 6,
        "A3": "=A1*2",
        "A4": "=AVERAGE(A2:C2)",
        "A5": "=1/A2",
    }
    places = {
        "volume": "$A$1",
        "volume_unit": "$B$1",
        "catches": "$A$2:$C$2",
        "doubled": "$A$3",
        "mean_catch": "$A$4",
        "share": "$A$5",
    }
    from small_cells import SHEET

    return make_book(cells, {name: f"'{SHEET}'!{place}" for name, place in places.items()})


def test_set_and_read(tank: Path) -> None:
    before = tank.read_bytes()
    with ts.open_workbook(str(tank)) as open_book:
        open_book.set(**TYPED, ratio="1:100")
        assert open_book["mass_1"] == pytest.approx(MASS, rel=1e-12)
        open_book.set(ratio="1:200")
        assert open_book["mass_1"] == pytest.approx(2 * MASS, rel=1e-12)
        open_book["ratio"] = "0.5 %"
        assert open_book["mass_1"] == pytest.approx(2 * MASS, rel=1e-12)
        open_book.set({"ratio": "1:100"}, tank="0.2 m3")
        assert open_book["mass_1"] == pytest.approx(MASS, rel=1e-12)
        assert open_book.get("ratio", "tank") == {"ratio": 100.0, "tank": pytest.approx(0.2)}
        open_book.reset()
        assert open_book["tank"] == run(tank, book("stock-tank"), {}, ["tank"])["tank"]
    assert tank.read_bytes() == before
    assert list(tank.parent.iterdir()) == [tank]


@pytest.mark.parametrize("name", TEMPLATES)
def test_all_results_as_run_gives_them(name: str, workbook: GetWorkbook) -> None:
    path = workbook(name)
    with ts.open_workbook(path) as open_book:
        assert open_book.get() == run(path, book(name), {})


def test_values_of_python(tank: Path, workbook: GetWorkbook) -> None:
    with ts.open_workbook(tank) as open_book:
        open_book.set(TYPED, ratio=100)
        assert open_book["mass_1"] == pytest.approx(MASS)
        open_book.set(tank=np.float32(400), ratio=np.int64(50))
        assert open_book["mass_1"] == pytest.approx(MASS)
        for blank in (None, "", float("nan")):
            open_book.set(ec_measured=blank)
            assert open_book["ec_measured"] is None
    with ts.open_workbook(workbook("zone-flow")) as open_book:
        for times in ([30, None, 32], np.array([30, np.nan, 32]), (30, "", "32"), "30; ; 32"):
            open_book.set(bucket_time=times)
            assert open_book["bucket_time"] == [30.0, None, 32.0, None, None]
            assert open_book["mean_time"] == 31.0


def test_quantities(tank: Path) -> None:
    with ts.open_workbook(tank) as open_book:
        open_book.set(TYPED, ratio=Q(100, ""), tank=Q(200_000, "mL"), target_1=Q(150, "ppm"))
        assert open_book["mass_1"] == pytest.approx(MASS)
        assert open_book.get("tank", "tank_unit") == {
            "tank": pytest.approx(200),
            "tank_unit": "L",
        }
        open_book.set(ratio=Q(0.5, "percent"), target_1=Q(0.075, "kg/m^3"))
        assert open_book["mass_1"] == pytest.approx(MASS)
        for wrong, said in {
            ("tank", Q(3, "kg")): "tank cannot be set to 3 kilogram; use one of the units L, mL",
            ("form_1", Q(3, "kg")): "form_1 has no unit; give a plain number, not 3 kilogram",
        }.items():
            with pytest.raises(WorkbookProblem, match=f"^stock-tank.xlsx: {said}"):
                open_book.set({wrong[0]: wrong[1]})


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        ({"tank": "-3 L"}, r"B\d+ \(tank\) is -3 L; it must be above 0 L and at most"),
        ({"tank": "3 kg"}, r"B\d+ \(tank\): the unit 'kg' does not fit here; use one of: L, mL"),
        ({"tank": "much"}, r"B\d+ \(tank\) is 'much' .*; it must be above 0 L"),
        ({"form_1": "wet"}, r"\(form_1\) is 'wet'; choose one of: dry, liquid"),
        ({"tnak": 3}, "there is no name 'tnak'; did you mean tank"),
        ({"mass_1": 3}, r"\(mass_1\) is computed; set one of its inputs instead"),
    ],
)
def test_the_messages_of_run_and_nothing_is_set(
    setting: dict[str, Any], said: str, tank: Path
) -> None:
    with ts.open_workbook(tank) as open_book:
        open_book.set(TYPED)
        before = open_book.get()
        with pytest.raises(WorkbookProblem, match=said) as kept:
            open_book.set(setting, ratio="1:300")
        assert open_book.get() == before
        assert open_book["ratio"] != 300, "worked out afresh"
    with pytest.raises(WorkbookProblem) as once:
        typed = {name: str(value) for name, value in {**TYPED, **setting}.items()}
        run(tank, book("stock-tank"), typed)
    assert str(once.value) == str(kept.value)


def test_what_no_cell_holds(tank: Path) -> None:
    with ts.open_workbook(tank) as open_book:
        for value in (object(), True, [1, True], {"a": 1}, 1j):
            with pytest.raises(WorkbookProblem, match="stock-tank.xlsx: tank "):
                open_book.set(tank=value)
        with pytest.raises(WorkbookProblem, match="tank has room for 1 values, 2 were given"):
            open_book.set(tank=[1, 2])
        with pytest.raises(WorkbookProblem, match="no name 'mas_1'; did you mean mass_1"):
            open_book["mas_1"]


def test_a_bad_entry_in_the_file_speaks_when_read_and_can_be_mended(tank: Path) -> None:
    type_into(tank, "tank", -5.0)
    with ts.open_workbook(tank) as open_book:
        with pytest.raises(WorkbookProblem, match=r"\(tank\) is -5"):
            open_book["mass_1"]
        open_book.set(TYPED, ratio=100)
        assert open_book["mass_1"] == pytest.approx(MASS)


def test_the_engine_stays_open_and_closes(tank: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Path] = []
    engine = ENGINES["ironcalc"]
    original: Callable[[Path], Any] = engine.open

    def opening(path: Path) -> Any:
        opened.append(path)
        return original(path)

    monkeypatch.setattr(engine, "open", opening)
    open_book = ts.open_workbook(tank)
    for n in range(5):
        open_book.set(TYPED, ratio=100 * (n + 1))
        assert open_book["mass_1"] == pytest.approx((n + 1) * MASS)
    open_book.close()
    open_book.close()
    assert opened == [tank]
    for use in (
        lambda: open_book.set(tank=3),
        lambda: open_book["mass_1"],
        open_book.get,
        lambda: open_book.inputs,
        lambda: open_book.results,
    ):
        with pytest.raises(EngineProblem, match="stock-tank.xlsx is closed; open it again"):
            use()
    assert "closed" in repr(open_book)


def test_a_reading_costs_no_second_calculation(tank: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with ts.open_workbook(tank) as open_book:
        count: list[int] = []
        session = open_book._session
        original = session.calculate

        def counted(*given: Any) -> Any:
            count.append(1)
            return original(*given)

        monkeypatch.setattr(session, "calculate", counted)
        open_book.set(TYPED)
        for _ in range(3):
            open_book.get()
            open_book["mass_1"]
        assert len(count) == 1
        open_book["tank"]
        open_book["tank"]
        assert len(count) == 2


def test_names_with_units_and_limits(tank: Path) -> None:
    with ts.open_workbook(tank) as open_book:
        inputs, results = open_book.inputs, open_book.results
        assert set(inputs) == {k for k in book("stock-tank").entries if not k.endswith("_unit")}
        assert list(results) == default_names(Target.of(Package(tank), book("stock-tank")))
        volume = inputs["tank"]
        assert (volume.unit, volume.meaning) == ("L", "Stock the tank holds")
        assert {"L", "gal"} <= set(volume.units)
        assert volume.allowed == "above 0 L and at most 10,000,000 L"
        assert str(volume) == f"tank [L]: {volume.meaning}; {volume.allowed}"
        assert inputs["ec_measured"].allowed.endswith("or blank")
        assert inputs["form_1"].allowed == "one of dry, liquid"
        assert (results["mass_1"].unit, results["mass_1"].meaning) == ("g", "Product 1, mass")
        assert repr(open_book) == "<workbook stock-tank.xlsx>"
    type_into(tank, "tank_unit", "gal")
    with ts.open_workbook(tank) as open_book:
        assert open_book.inputs["tank"].unit == "gal"


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_workbook_lists_its_names(name: str, workbook: GetWorkbook) -> None:
    with ts.open_workbook(workbook(name)) as open_book:
        for each in open_book.inputs.values():
            assert each.meaning and each.allowed, each
            assert each.unit in (each.units or ("",))
        # A what-if table has its unit in its heading.
        assert any(each.unit for each in open_book.results.values()) or name == "ratio-table"
        assert any(each.cells > 1 for each in open_book.inputs.values()) or name in (
            "stock-tank",
            "water-report",
            "acid",
            "field-event",
        )


def test_a_users_own_workbook(own: Path) -> None:
    before = own.read_bytes()
    with ts.open_workbook(own) as open_book:
        assert open_book.get() == {
            "doubled": 24.0,
            "mean_catch": 3.0,
            "share": 1.0,
            "volume": 12.0,
            "volume_unit": "L",
        }
        assert {name: each.cells for name, each in open_book.inputs.items()} == {
            "catches": 3,
            "volume": 1,
        }
        assert list(open_book.results) == ["doubled", "mean_catch", "share"]
        assert open_book.inputs["volume"].unit == "L"
        open_book.set(volume="5 gal", catches=[0, 5, 10])
        assert open_book["doubled"] == pytest.approx(10 * 3.785411784)  # NIST SP 811
        assert open_book["mean_catch"] == 5.0
        assert open_book["share"] is SheetError.DIV
        open_book.set(volume=Q(5, "gallon"))
        assert open_book["volume"] == pytest.approx(5 * 3.785411784)
    assert own.read_bytes() == before


def test_what_cannot_be_opened(tmp_path: Path, tank: Path) -> None:
    with pytest.raises(WorkbookProblem, match="no.xlsx"):
        ts.open_workbook(tmp_path / "no.xlsx")
    (tmp_path / "text.xlsx").write_text("words")
    with pytest.raises(WorkbookProblem, match="text.xlsx"):
        ts.open_workbook(tmp_path / "text.xlsx")
    with pytest.raises(EngineProblem, match="no engine 'abacus'"):
        ts.open_workbook(tank, engine="abacus")


def test_another_engine(own: Path) -> None:
    need(ENGINES["formulas"])
    with ts.open_workbook(own, engine="formulas") as open_book:
        open_book.set(volume=7)
        assert open_book["doubled"] == 14.0
