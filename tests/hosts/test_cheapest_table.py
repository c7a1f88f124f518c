"""FERT.LEASTCOST: beside HiGHS, in LibreOffice's cells, as xlwings calls it, what it refuses."""

from __future__ import annotations

import math
import random
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from engines_needed import need
from libreoffice_ground import with_extension
from tanksheet.errors import Fault, NotANumber, OutOfRange, SheetError
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.hosts.xlwings.functions import answer
from tanksheet.recalc import ENGINES
from tanksheet.recipes import Blend, Limit, Part, least_cost
from tanksheet.recipes.blend import INFINITE
from tanksheet.xlsx.address import Address

CHEAPEST = TABLE_FUNCTIONS["LEASTCOST"]
Cells = list[list[Any]]


def drawn(draw: random.Random) -> tuple[Cells, Cells, Cells, Cells, Cells]:
    products, limits = draw.randint(1, 15), draw.randint(1, 12)
    names = [[f"p{i}"] for i in range(products)]
    prices = [[round(draw.uniform(0, 40), 2)] for _ in names]
    contents = [
        [round(draw.uniform(0, 40), 1) if draw.random() < 0.4 else 0.0 for _ in range(limits)]
        for _ in names
    ]
    low: list[Any] = [
        round(draw.uniform(0, 100), 1) if draw.random() < 0.6 else "" for _ in range(limits)
    ]
    high: list[Any] = [
        round((least or 0) + draw.uniform(0, 150), 1) if draw.random() < 0.5 else ""
        for least in low
    ]
    return names, prices, contents, [low], [high]


def by_highs(names: Cells, prices: Cells, contents: Cells, low: Cells, high: Cells) -> Any:
    labels = [row[0] for row in names]
    parts = tuple(Part(name, row[0]) for name, row in zip(labels, prices, strict=True))
    limits = tuple(
        Limit(
            str(k),
            {name: row[k] for name, row in zip(labels, contents, strict=True)},
            -INFINITE if low[0][k] == "" else low[0][k],
            INFINITE if high[0][k] == "" else high[0][k],
        )
        for k in range(len(low[0]))
    )
    return least_cost(Blend(parts, limits), explain=False)


def test_it_costs_what_highs_says() -> None:
    draw, seen = random.Random(5), {"optimal": 0, "infeasible": 0}
    for _ in range(400):
        given = drawn(draw)
        found = by_highs(*given)
        seen[found.status] += 1
        if found.status == "infeasible":
            with pytest.raises(OutOfRange, match="no amounts meet all limits"):
                CHEAPEST.rows(*given)
            continue
        filled: Cells = [list(row) for row in CHEAPEST.rows(*given)]
        rows, together = filled[1:-1], filled[-1]
        assert together[2] == pytest.approx(found.cost, rel=1e-8, abs=1e-7)
        assert together[2] == pytest.approx(sum(row[2] for row in rows))
        for k, (low, high) in enumerate(zip(given[3][0], given[4][0], strict=True)):
            brought = sum(row[1] * share[k] for row, share in zip(rows, given[2], strict=True))
            assert low == "" or brought >= low - 1e-9
            assert high == "" or brought <= high + 1e-9
        assert all(row[1] >= 0 for row in rows)
    assert min(seen.values()) > 40, seen


def test_by_hand() -> None:
    """12 kg of N from urea (46 %) at 0.80 or ammonium sulfate (21 %) at 0.30, sulfur (24 %) at
    most 6 kg: 25 kg of the sulfate bring 5.25 kg, urea the other 6.75."""
    found = CHEAPEST.rows(
        [["urea", "ammonium sulfate"]], [[0.8, 0.3]], [[0.46, 0.0], [0.21, 0.24]], [[12, ""]],
        [["", 6]],
    )  # fmt: skip
    assert found[0] == ["product", "amount", "cost"]
    assert found[1] == ["urea", pytest.approx(6.75 / 0.46), pytest.approx(0.8 * 6.75 / 0.46)]
    assert found[2] == ["ammonium sulfate", 25.0, 7.5]
    assert found[3][1:] == [pytest.approx(25 + 6.75 / 0.46), pytest.approx(7.5 + 5.4 / 0.46)]


@pytest.mark.parametrize(
    ("place", "block", "fault"),
    [
        (1, [["dear"], [1.0], [2.0]], NotANumber),
        (1, [[-1.0], [1.0], [2.0]], OutOfRange),
        (1, [[1.0], [1.0]], OutOfRange),
        (1, [[""], [1.0], [2.0]], NotANumber),
        (1, [[math.nan], [1.0], [2.0]], NotANumber),
        (1, [[math.inf], [1.0], [2.0]], NotANumber),
        (4, [["", math.inf, ""]], NotANumber),
        (2, [[0.1], [0.2], [0.3]], OutOfRange),
        (2, [[True, 0, 0], [0, 0, 0], [0, 0, 0]], NotANumber),
        (3, [["some", "", ""]], NotANumber),
        (3, [[1.0, 1.0], [1.0, 1.0]], OutOfRange),
    ],
)
def test_what_it_refuses(place: int, block: Cells, fault: type[Fault]) -> None:
    given = list(CHEAPEST.example)
    given[place] = block
    with pytest.raises(fault):
        CHEAPEST.rows(*given)


def test_as_xlwings_calls_it() -> None:
    wanted = CHEAPEST.rows(*CHEAPEST.example)
    assert answer("FERT_LEASTCOST", *CHEAPEST.example) == wanted
    broken = list(CHEAPEST.example)
    broken[1] = [[0.8], ["#N/A"], [1.9]]
    assert answer("FERT_LEASTCOST", *broken) == [["#N/A"]]
    broken[1] = [[0.8], ["dear"], [1.9]]
    assert answer("FERT_LEASTCOST", *broken) == [["#VALUE!"]]


def test_in_libreoffice(tmp_path: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Typed as an array formula over ranges; what does not fit shows an error."""
    need(ENGINES["libreoffice"])
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = "Sheet1"
    names, prices, contents, low, high = CHEAPEST.example
    for i, (name, price, shares) in enumerate(zip(names, prices, contents, strict=True), 1):
        for column, value in enumerate([name[0], price[0], *shares], 1):
            sheet.cell(i, column, value)
    for line, limits in ((5, low), (6, high)):
        for column, value in enumerate(limits[0], 3):
            sheet.cell(line, column, value or None)
    call = "=FERT.LEASTCOST(A1:A3,B1:B3,C1:E3,C5:E5,C6:E6)"
    sheet["H1"] = ArrayFormula("H1:J5", call)
    sheet["H8"] = ArrayFormula("H8:H8", call.replace("B1:B3", "A1:A3"))
    path = tmp_path / "cheapest.xlsx"
    workbook.save(path)
    cells = [[Address("Sheet1", row, column) for column in (8, 9, 10)] for row in range(1, 6)]
    wrong = Address("Sheet1", 8, 8)
    with (
        with_extension(tmp_path_factory.mktemp("bundled")) as office,
        office.open(path) as session,
    ):
        values = session.calculate({}, [*(cell for row in cells for cell in row), wrong])
    for row, wanted in zip(cells, CHEAPEST.rows(*CHEAPEST.example), strict=True):
        assert [values[cell] for cell in row] == [
            pytest.approx(value) if isinstance(value, float) else value for value in wanted
        ]
    assert values[wrong] == SheetError.VALUE
