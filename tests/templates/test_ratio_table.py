"""The ratio table: what a stock can hold is set against grams in a litre of finished stock."""

from __future__ import annotations

import pytest

from engines_needed import need
from package_edits import GetWorkbook
from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.recalc import ENGINES
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.run import run
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

EPSOM: dict[str, Value] = {"fertilizer": "magnesium sulfate heptahydrate", "temperature": 20.0}


def reach(ratio: int, **settings: Value) -> object:
    plan = book("ratio-table")
    place = plan.entries["ratios"].default.index(ratio) + 1
    return evaluate(plan, dict(settings))[f"reach_{place}"]


def test_magnesium_sulfate_reaches_324_ppm() -> None:
    """100 L of saturated stock hold 66 kg at 20 C (CRC mass percent, Laliberte density): with 9.8 %
    of magnesium that is 660 x 98 / 200 = 323 mg/L at 1:200. The grams that dissolve in a litre of
    added water, 1,060, would give 519."""
    assert reach(200, content=9.8, **EPSOM) == "dissolves up to 324 ppm"
    assert reach(200, content=9.8, solubility=660.0, fertilizer=None) == "dissolves up to 323 ppm"


def test_the_product_counts_and_not_what_stands_typed() -> None:
    found = evaluate(book("ratio-table"), {"solubility": 1060.0, "content": 9.8, **EPSOM})
    assert found["limit"] == 661
    colder = evaluate(book("ratio-table"), {**EPSOM, "temperature": 0.0})
    assert colder["limit"] == 509


def test_a_figure_per_litre_of_water_is_refused_where_no_stock_is_that_heavy() -> None:
    """Calcium nitrate tetrahydrate dissolves to 4,430 g in a litre of water at 20 C."""
    found = evaluate(book("ratio-table"), {"solubility": 4430.0, "fertilizer": None})
    assert isinstance(found["limit"], SheetError)
    assert str(found["solubility_note"]).startswith("type a number")


def test_a_product_without_a_figure_is_not_checked() -> None:
    assert reach(100, fertilizer="calcium hypochlorite 65 %") == "not checked: no figure"


@pytest.mark.parametrize(
    ("product", "content", "opening"),
    [
        (None, 15.5, "not checked: no product"),
        ("magnesium sulfate heptahydrate", 9.8, "pass: the table has"),
        ("magnesium sulfate heptahydrate", 13.0, "pass"),  # its sulfur
        ("magnesium sulfate heptahydrate", 16.0, "caution"),  # MgO on the label
        ("monopotassium phosphate", 52.0, "caution"),  # P2O5 on the label
        ("monopotassium phosphate", 22.7, "pass"),
        ("urea", 46.0, "pass"),
    ],
)
def test_the_content_is_held_against_the_table(
    product: str | None, content: float, opening: str
) -> None:
    found = evaluate(book("ratio-table"), {"fertilizer": product, "content": content})
    assert str(found["content_check"]).startswith(opening)


def test_a_product_is_typed_by_name_and_may_stay_blank(workbook: GetWorkbook) -> None:
    need(ENGINES["ironcalc"])
    path, plan = workbook("ratio-table"), book("ratio-table")
    typed = {"fertilizer": "Magnesium sulfate heptahydrate", "temperature": "68 degF"}
    assert run(path, plan, typed, ["limit"])["limit"] == pytest.approx(661)
    assert run(path, plan, {"fertilizer": ""}, ["limit"])["limit"] == 600
    with pytest.raises(WorkbookProblem, match="choose"):
        run(path, plan, {"fertilizer": "table salt"}, ["limit"])
