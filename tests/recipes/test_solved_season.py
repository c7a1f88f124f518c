"""The season solved: against linprog of SciPy over all choices of products, and what the workbook
says of the outcome."""

from __future__ import annotations

import itertools
import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from scipy.optimize import linprog

from package_edits import cells_of
from tanksheet.cli import main
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import book
from tanksheet.xlsx.placing import write_values
from tanksheet.xlsx.reading import Package

Capture = pytest.CaptureFixture[str]
NUTRIENTS = ("n", "p2o5", "k2o", "ca", "mg")
# Invented: price of 25 kg.
PRICES = {
    "urea": 20,
    "ammonium sulfate": 9,
    "potassium chloride": 18,
    "potassium sulfate": 28,
    "magnesium nitrate hexahydrate": 22,
    "monopotassium phosphate": 50,
}
OTHERS: tuple[str, ...] = (
    "potassium nitrate",
    "calcium nitrate 15.5-0-0",
    "magnesium sulfate heptahydrate",
)
OTHERS += ("monoammonium phosphate", "urea ammonium nitrate 32-0-0")


@pytest.fixture(scope="module")
def season_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("season") / "season.xlsx"
    path.write_bytes(workbook_bytes(book("season")))
    return path


@pytest.fixture
def prices(tmp_path: Path) -> Path:
    path = tmp_path / "prices.csv"
    rows = [f"{name},{price},25,kg" for name, price in PRICES.items()]
    path.write_text("product,price,pack,pack_unit\n" + "\n".join(rows), encoding="utf-8")
    return path


def typed(path: Path, source: Path, **values: Any) -> Path:
    """A copy with values, or lists of them, typed into names."""
    cells: dict[Any, Any] = {}
    for name, value in values.items():
        column = value if isinstance(value, list) else [value]
        cells |= dict(zip(cells_of(source)[name], column, strict=True))
    write_values(Package(source), path, cells)
    return path


def results(capsys: Capture, path: Path, *names: str) -> Any:
    gets = [word for name in names for word in ("--get", name)]
    assert main(["run", str(path), *gets, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def told(capsys: Capture, *arguments: object, code: int = 0) -> Any:
    assert main(["solve", *map(str, arguments), "--json"]) == code
    return json.loads(capsys.readouterr().out)


def refusal(capsys: Capture, *arguments: object) -> str:
    assert main(["solve", *map(str, arguments)]) == 2
    return capsys.readouterr().err


def cheapest_by_linprog(values: Any, rows: Sequence[tuple[Any, float]], percent: float) -> float:
    """The least cost of products (percent of each nutrient, price of a kilogram), each week by
    itself; infinite where a week cannot be met. The example's weeks ask for N and K2O always and
    for the others in nearly all weeks, so that no season as a whole lies tighter than its weeks."""
    total = 0.0
    for week in range(10):
        matrix, bounds = [], []
        for i, low in enumerate(NUTRIENTS):
            asked, need = values[f"asked_{low}[{week}]"], values[f"need_{low}[{week}]"]
            if asked > 0:
                line = [held[i] / 100 for held, _ in rows]
                matrix += [line, [-each for each in line]]
                bounds += [need + asked * percent / 100, -(need - asked * percent / 100)]
        found = linprog([price for _, price in rows], matrix, bounds)
        if found.status == 2:
            return math.inf
        assert found.status == 0
        total += found.fun
    return total


def products_of(values: Any) -> dict[str, tuple[list[float], float]]:
    """Those of the example: percent of each nutrient, price of a kilogram."""
    return {
        values[f"listed[{k}]"]: (
            [values[f"holds_{low}[{k}]"] for low in NUTRIENTS],
            values[f"kg_used[{k}]"],
        )
        for k in range(5)
    }


@pytest.mark.parametrize("percent", [1, 5])
def test_the_example_costs_what_linprog_says(
    season_file: Path, capsys: Capture, percent: float
) -> None:
    """SciPy 1.x, ``linprog``: every week a problem of its own."""
    values = evaluate(book("season"), {"rates_p2o5": [*[4] * 10, *[None] * 42]})
    path = season_file.with_name("even.xlsx")
    typed(path, season_file, rates_p2o5=[*[4] * 10, *[None] * 42])
    found = told(capsys, path, "--within", percent)
    known = cheapest_by_linprog(values, list(products_of(values).values()), percent)
    assert found["cost"] == pytest.approx(known, rel=1e-5)
    assert found["stops"] == {}


@pytest.mark.parametrize("most", [4, 5])
def test_so_many_products_against_every_choice(
    season_file: Path, prices: Path, capsys: Capture, most: int
) -> None:
    """With five of eleven products: no other five are cheaper, by linprog over all of them, but for
    those that the rules let share no mix, which the answer names."""
    plan = book("season")
    asks: dict[str, Any] = {
        f"rates_{low}": [*[6] * 10, *[None] * 42] for low in ("n", "p2o5", "k2o")
    }
    asks |= {f"rates_{low}": [None] * 52 for low in ("ca", "mg")}
    path = season_file.with_name(f"few{most}.xlsx")
    typed(path, season_file, **asks)
    values = evaluate(plan, asks)
    known = products_of(values)
    more: Any = evaluate(plan, {"products": list(PRICES)})
    for k, (name, price) in enumerate(PRICES.items()):
        known[name] = [more[f"holds_{low}[{k}]"] for low in NUTRIENTS], price / 25
    found = told(capsys, path, "--prices", prices, "--within", 5, "--most-products", most)
    assert found["status"] == "optimal"
    used = {name for name, mass in found["amounts"].items() if mass > 1e-6}
    assert len(used) <= most
    barred = [set(some) for some in found["kept_apart"]]
    costs = [
        cheapest_by_linprog(values, [known[name] for name in some], 5)
        for some in itertools.combinations(known, most)
        if not any(each <= set(some) for each in barred)
    ]
    assert found["cost"] == pytest.approx(min(costs), rel=1e-5)


@pytest.mark.parametrize("edition", ["metric", "us"])
def test_a_solved_season_has_no_stop(
    edition: str, prices: Path, tmp_path: Path, capsys: Capture
) -> None:
    plan = book("season", edition)
    path, out = tmp_path / "season.xlsx", tmp_path / "solved.xlsx"
    path.write_bytes(workbook_bytes(plan))
    found = told(capsys, path, "--prices", prices, "--out", out)
    assert found["stops"] == {}
    now = results(capsys, out, "overall", "cost_per_season")
    assert now["overall"].startswith("pass")
    assert now["cost_per_season"] == pytest.approx(found["cost"], abs=0.011)
    for name, weeks in found["weeks"].items():
        assert sum(weeks) == pytest.approx(found["amounts"][name], rel=1e-6, abs=1e-6)
    assert found["cost"] <= results(capsys, path, "cost_per_season")["cost_per_season"]


def test_what_a_price_may_be(season_file: Path, prices: Path, capsys: Capture) -> None:
    """Inside its range a price changes no amount; below the least of one left out, it is used."""
    found = told(capsys, season_file, "--prices", prices)
    assert found["amounts"]["urea"] == 0
    low, _ = found["price_ranges"]["urea"]
    assert low < PRICES["urea"] / 25
    for factor, same in ((1.001, True), (0.98, False)):
        text = prices.read_text(encoding="utf-8")
        other = prices.with_name("other.csv")
        price = low * 25 * factor
        other.write_text(text.replace("urea,20,", f"urea,{price},"), encoding="utf-8")
        again = told(capsys, season_file, "--prices", other)
        assert (again["amounts"] == pytest.approx(found["amounts"], abs=1e-4)) is same
        assert (again["amounts"]["urea"] > 1) is not same


def test_one_more_of_a_nutrient(season_file: Path, capsys: Capture) -> None:
    """A tenth of a kilogram more potash, spread as the plan is, costs what was said."""
    plan = book("season")
    found = told(capsys, season_file)
    rates = [float(v) for v in plan.entries["rates_k2o"].default if isinstance(v, (int, float))]
    share = 1 + 0.1 / (4 * sum(rates))  # on four hectares
    path = season_file.with_name("more.xlsx")
    more = [rate * share for rate in rates]
    typed(path, season_file, rates_k2o=[*more, *[None] * (52 - len(more))], soil_k2o=20)
    again = told(capsys, path)
    price = found["price_of_one_more"]["K2O"]
    # The tolerance of 5 % grows with the plan, so that 0.95 kg of each one more are needed.
    assert (again["cost"] - found["cost"]) / 0.1 == pytest.approx(price * 0.95, rel=1e-3)


def test_rows_and_prices_stay_together(
    season_file: Path, prices: Path, tmp_path: Path, capsys: Capture
) -> None:
    out = tmp_path / "solved.xlsx"
    found = told(capsys, season_file, "--prices", prices, "--out", out)
    now = results(capsys, out, "products", "prices", "pack_sizes")
    assert set(found["tanks"]) <= set(now["products"])
    for name, price, size in zip(now["products"], now["prices"], now["pack_sizes"], strict=True):
        if name in PRICES:
            assert (price, size) == (PRICES[name], 25)
        if name == "potassium nitrate":
            assert (price, size) == (36, 25)
    assert set(found["tanks"]) <= {*PRICES, *OTHERS}


def test_a_plan_that_nothing_meets(season_file: Path, capsys: Capture) -> None:
    """Calcium comes with nitrogen only, and no nitrogen is wanted beside it."""
    path = season_file.with_name("conflict.xlsx")
    asks: dict[str, Any] = {f"rates_{low}": [None] * 52 for low in ("p2o5", "k2o", "mg")}
    asks |= {"rates_n": [1, *[None] * 51], "rates_ca": [10, *[None] * 51], "soil_n": 0}
    typed(path, season_file, **asks)
    found = told(capsys, path)
    assert found["status"] == "infeasible"
    assert sorted(found["conflict"]) == ["Ca, week 1", "N, week 1"]
    assert found["weeks"] == {}


def test_one_mix_for_all_is_not_called_impossible(
    season_file: Path, prices: Path, capsys: Capture
) -> None:
    """The sets that were kept out are told, and that nothing is proven of other amounts."""
    found = told(capsys, season_file, "--prices", prices, "--tanks", 1, "--within", 0)
    assert found["status"] == "not proven" and found["weeks"] == {}
    assert found["kept_apart"] and "there may be one" in found["notes"][0]


def test_refusals(season_file: Path, tmp_path: Path, capsys: Capture) -> None:
    assert "--step" in refusal(capsys, season_file, "--step", 10)
    assert "--whole-packs" in refusal(capsys, season_file, "--whole-packs")
    assert "sheet Plan" in refusal(capsys, season_file, "--target", "N<=3")
    path = tmp_path / "season.xlsx"
    typed(path, season_file, prices=[None, 36, 16.5, 11, 640, None])
    said = refusal(capsys, path)
    assert "no price is given of monoammonium phosphate" in said and "Order" in said
    typed(path, season_file, area=None)
    assert "the plan is not complete: not given: the area" in refusal(capsys, path)
    typed(path, season_file, week_events=["x", *[None] * 51])
    assert "Plan!" in refusal(capsys, path)
