"""``tanksheet solve``: problems as JSON, the recipe workbook, and what they refuse."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from package_edits import type_into
from tanksheet.cli import main
from tanksheet.recipes import read_problems
from tanksheet.recipes.price_list import read_prices
from tanksheet.recipes.wanted import target_of
from tanksheet.sheets.run import run
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.tables import look_up
from tanksheet.templates import book

PROBLEMS = Path(__file__).with_name("least_cost_problems.json")
Capture = pytest.CaptureFixture[str]
# Invented, for a pack of 25 kg.
PRICES = {
    "calcium nitrate 15.5-0-0": 12,
    "potassium nitrate": 32,
    "iron DTPA 11 %": 200,
    "monopotassium phosphate": 45,
    "magnesium sulfate heptahydrate": 10,
    "potassium sulfate": 35,
    "manganese sulfate monohydrate": 40,
    "boric acid": 60,
    "zinc sulfate heptahydrate": 40,
    "copper sulfate pentahydrate": 90,
    "sodium molybdate dihydrate": 400,
}
KEYS = "status cost amounts tanks delivered binding price_of_one_more conflict".split()
ELEMENTS = "N P K Ca Mg S Fe Mn Zn Cu B Mo Na Cl Si".split()


@pytest.fixture(scope="session")
def recipe_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("solve") / "recipe.xlsx"
    path.write_bytes(workbook_bytes(book("recipe")))
    return path


@pytest.fixture
def prices(tmp_path: Path) -> Path:
    path = tmp_path / "prices.csv"
    rows = [f"{name},{price},25,kg" for name, price in PRICES.items()]
    rows.append("nitric acid 60 %,30,20,L")
    path.write_text("product,price,pack,pack_unit\n" + "\n".join(rows), encoding="utf-8")
    return path


def told(capsys: Capture, *arguments: object, code: int = 0) -> Any:
    assert main(["solve", *map(str, arguments), "--json"]) == code
    return json.loads(capsys.readouterr().out)


def refusal(capsys: Capture, *arguments: object) -> str:
    assert main(["solve", *map(str, arguments)]) == 2
    return capsys.readouterr().err


# problems


def test_all_problems_of_a_file(capsys: Capture, tmp_path: Path) -> None:
    found = told(capsys, PROBLEMS, "--out", tmp_path / "answers.json")
    assert found == json.loads((tmp_path / "answers.json").read_text(encoding="utf-8"))
    known = json.loads(PROBLEMS.read_text(encoding="utf-8"))["problems"]
    for each, problem in zip(found["problems"], known, strict=True):
        assert each["id"] == problem["id"]
        assert set(KEYS) <= set(each)
        assert each["status"] == problem["optimum"]["status"]
        if each["status"] == "optimal":
            assert each["cost"] == pytest.approx(problem["optimum"]["objective"], rel=1e-8)


def test_one_problem(capsys: Capture, tmp_path: Path) -> None:
    problem = json.loads(PROBLEMS.read_text(encoding="utf-8"))["problems"][0]
    path = tmp_path / "one.json"
    path.write_text(json.dumps(problem), encoding="utf-8")
    assert told(capsys, path)["cost"] == pytest.approx(22)
    assert main(["solve", str(path)]) == 0
    said = capsys.readouterr().out
    assert "optimal: cost 22" in said and "phosphate is on its bound; one more costs 0.5" in said


def test_a_conflict_in_words(capsys: Capture) -> None:
    assert main(["solve", str(PROBLEMS)]) == 0
    said = capsys.readouterr().out
    assert "cannot be met together: ammonium, calcium" in said
    assert "the nearest recipe" in said
    assert len(read_problems(PROBLEMS)) == said.count("optimal") + said.count("infeasible")


def test_nothing_is_overwritten_unasked(capsys: Capture, tmp_path: Path) -> None:
    target = tmp_path / "there.json"
    target.write_text("mine", encoding="utf-8")
    assert "say --force" in refusal(capsys, PROBLEMS, "--out", target)
    assert target.read_text(encoding="utf-8") == "mine"
    told(capsys, PROBLEMS, "--out", target, "--force")
    assert "problems" in json.loads(target.read_text(encoding="utf-8"))


# the workbook


def test_the_recipe_workbook(
    capsys: Capture, tmp_path: Path, recipe_file: Path, prices: Path
) -> None:
    """What is told is what the copy holds, and the copy says no stop."""
    before, out = recipe_file.read_bytes(), tmp_path / "solved.xlsx"
    found = told(capsys, recipe_file, "--prices", prices, "--out", out, "--within", 3)
    assert recipe_file.read_bytes() == before
    assert set(KEYS) <= set(found) and found["status"] == "optimal" and found["stops"] == {}
    names = (
        "products",
        "tanks",
        "amounts",
        "amount_units",
        "together",
        "overall",
        "met",
        "alkalinity_met",
    )
    held = run(out, book("recipe"), {}, [*names, "clear_a", "clear_b", "clear_c"])
    for letter in "abc":
        assert held[f"clear_{letter}"].startswith(("pass", "not used"))
    assert not held["overall"].startswith("stop")
    rows = zip(held["products"], held["tanks"], held["amounts"], held["amount_units"], strict=True)
    grams = {"g": 1.0, "kg": 1000.0}
    written = {
        name: (tank, amount * grams[unit]) for name, tank, amount, unit in rows if name and amount
    }
    assert {name: tank for name, (tank, _) in written.items()} == found["tanks"]
    for name, (_, amount) in written.items():
        assert amount == pytest.approx(found["amounts"][name], rel=1e-6, abs=1e-5)
    arrives = dict(zip(ELEMENTS, held["together"], strict=True))
    wanted = {"N": 195, "P": 40, "K": 250, "Ca": 170, "Mg": 45, "S": 60, "Fe": 2, "Mn": 0.55}
    for name, value in wanted.items():
        assert arrives[name] == pytest.approx(value, rel=0.03 + 1e-6)
        assert arrives[name] == pytest.approx(found["delivered"][name], rel=1e-3)
    assert all(word.startswith(("pass", "no target")) for word in held["met"])
    # The acid that leaves the alkalinity asked for is 30 for 20 L, of the density in the table.
    litre = float(look_up("fertilizers", "density_kgL", "nitric acid 60 %"))
    kilogram = PRICES | {"nitric acid 60 %": 30 / 20 / litre * 25}
    paid = sum(kilogram[name] / 25 * amount / 1000 for name, (_, amount) in written.items())
    assert held["alkalinity_met"].startswith("pass")
    assert found["cost"] == pytest.approx(paid, rel=1e-5)  # one fill of 100 L tanks at 1:100
    assert found["cost_per_m3"] == pytest.approx(found["cost"] / 10, rel=1e-9)
    assert found["tanks"]["calcium nitrate 15.5-0-0"] == "A"


def test_more_targets_and_a_conflict(
    capsys: Capture, tmp_path: Path, recipe_file: Path, prices: Path
) -> None:
    out = tmp_path / "none.xlsx"
    found = told(capsys, recipe_file, "--prices", prices, "--target", "S<=20", "--out", out)
    assert (found["status"], found["conflict"]) == ("infeasible", ["Mg", "S"])
    assert not out.exists() and found["nearest"]["misses"].keys() <= {"Mg", "S"}


def test_a_tolerance_a_line_and_a_limit_of_nitrate(
    capsys: Capture, tmp_path: Path, recipe_file: Path, prices: Path
) -> None:
    """Calcium nitrate brings 1.1 % of ammonium beside 14.4 % of nitrate: with all the nitrogen that
    is allowed 96.4 % of it can be nitrate, not 98 %."""
    asked, out = tmp_path / "asked.xlsx", tmp_path / "solved.xlsx"
    shutil.copy(recipe_file, asked)
    type_into(asked, "tolerances", 0.5)
    found = told(capsys, asked, "--prices", prices, "--out", out)
    assert found["status"] == "optimal"
    [nitrogen, *_] = run(out, book("recipe"), {}, ["together"])["together"]
    assert nitrogen == pytest.approx(195, rel=0.0051)
    type_into(asked, "tolerances", None)
    type_into(asked, "nitrogen_limits", 96.0)
    found = told(capsys, asked, "--prices", prices, "--out", out, "--force")
    assert found["status"] == "optimal"
    held = run(out, book("recipe"), {}, ["nitrogen_shares", "nitrogen_forms"])
    assert held["nitrogen_shares"][0] >= 95.95 and held["nitrogen_forms"].startswith("pass")
    type_into(asked, "nitrogen_limits", 98.0)
    found = told(capsys, asked, "--prices", prices)
    assert found["status"] == "infeasible" and "NO3-N of N" in found["conflict"]


def test_fewer_tanks_fewer_products_and_a_coarse_scale(
    capsys: Capture, tmp_path: Path, recipe_file: Path, prices: Path
) -> None:
    """Two tanks, at most eleven products, nothing below 1 g, a scale that shows fifths of a gram:
    ten for the elements that are asked for, and the acid."""
    asked = ("--tanks", 2, "--most-products", 11, "--least", 1, "--step", 0.2)
    out = tmp_path / "two.xlsx"
    found = told(capsys, recipe_file, "--prices", prices, *asked, "--out", out)
    assert found["status"] == "optimal" and found["stops"] == {}
    assert set(found["tanks"].values()) <= {"A", "B"} and len(found["tanks"]) <= 11
    for name in found["tanks"]:
        grams = found["amounts"][name]
        assert grams >= 1 - 1e-6 and 5 * grams == pytest.approx(round(5 * grams), abs=1e-5)
    held = run(out, book("recipe"), {}, ["clear_c", "overall"])
    assert held["clear_c"] == "not used" and not held["overall"].startswith("stop")
    one = told(capsys, recipe_file, "--prices", prices, "--tanks", 1)
    assert one["status"] == "infeasible" and "not with tanks" in one["notes"][0]


def test_whole_packs(capsys: Capture, tmp_path: Path, recipe_file: Path, prices: Path) -> None:
    """In sachets of a fifth of a gram no amount is a part of one."""
    text = prices.read_text(encoding="utf-8").replace(",25,kg", ",0.0002,kg")
    sachets = tmp_path / "sachets.csv"
    sachets.write_text(text.replace(",20,L", ",0.0002,kg"), encoding="utf-8")
    asked = ("--prices", sachets, "--tanks", 2, "--most-products", 11)
    opened = told(capsys, recipe_file, *asked)
    whole = told(capsys, recipe_file, *asked, "--whole-packs")
    assert whole["status"] == opened["status"] == "optimal"
    assert whole["cost"] >= opened["cost"]
    grams = [whole["amounts"][name] for name in whole["tanks"]]
    assert all(each * 5 == pytest.approx(round(each * 5), abs=1e-5) for each in grams)
    parts = [opened["amounts"][name] * 5 for name in opened["tanks"]]
    assert any(abs(each - round(each)) > 0.01 for each in parts)


def test_products_without_a_price_are_named(
    capsys: Capture, tmp_path: Path, recipe_file: Path
) -> None:
    few, bare = tmp_path / "few.csv", tmp_path / "bare.xlsx"
    few.write_text("product,price\nBoric Acid,60\n", encoding="utf-8")
    shutil.copy(recipe_file, bare)
    type_into(bare, "prices", None)
    said = refusal(capsys, bare, "--prices", few)
    assert "no price is given of calcium nitrate 15.5-0-0" in said and "boric" not in said
    assert "on the sheet Cost" in said


def test_prices_of_the_workbook_serve_where_no_file_gives_one(
    capsys: Capture, tmp_path: Path, recipe_file: Path
) -> None:
    """The same figures in a file give the same recipe; a price in the file comes first."""
    plan = book("recipe")
    own = {key: plan.entries[key].default for key in ("products", "prices", "pack_sizes")}
    units = plan.entries["pack_units"].default
    lines = zip(own["products"], own["prices"], own["pack_sizes"], units, strict=True)
    rows = ["product,price,pack,pack_unit", *(",".join(map(str, line)) for line in lines)]
    (tmp_path / "same.csv").write_text("\n".join(rows), encoding="utf-8")
    alone = told(capsys, recipe_file, "--within", 3)
    assert alone["status"] == "optimal" and alone["cost"] > 0
    same = told(capsys, recipe_file, "--within", 3, "--prices", tmp_path / "same.csv")
    assert same["cost"] == pytest.approx(alone["cost"], rel=1e-9)
    (tmp_path / "one.csv").write_text("product,price,pack\nboric acid,0,5\n", encoding="utf-8")
    free = told(capsys, recipe_file, "--within", 3, "--prices", tmp_path / "one.csv")
    assert free["cost"] < alone["cost"]


def test_another_workbook_is_refused(capsys: Capture, tmp_path: Path, prices: Path) -> None:
    path = tmp_path / "acid.xlsx"
    path.write_bytes(workbook_bytes(book("acid")))
    said = refusal(capsys, path, "--prices", prices)
    assert "acid.xlsx is no recipe and no season workbook" in said


def test_the_file_itself_is_not_replaced(
    capsys: Capture, tmp_path: Path, recipe_file: Path, prices: Path
) -> None:
    mine = tmp_path / "mine.xlsx"
    shutil.copy(recipe_file, mine)
    assert "say --force" in refusal(capsys, mine, "--prices", prices, "--out", mine)


# what is typed


@pytest.mark.parametrize(
    ("text", "what", "of", "low", "high"),
    [
        ("N=150", "N", "", 150, 150),
        ("K = 180..200", "K", "", 180, 200),
        ("S<=60", "S", "", float("-inf"), 60),
        ("NO3-N of N >= 80 %", "NO3-N", "N", 80, float("inf")),
        ("alkalinity=0.3..1", "alkalinity", "", 0.3, 1),
        ("Ca=1,500", "Ca", "", 1500, 1500),
    ],
)
def test_targets_as_typed(text: str, what: str, of: str, low: float, high: float) -> None:
    found = target_of(text)
    assert (found.what, found.of, found.at_least, found.at_most) == (what, of, low, high)


@pytest.mark.parametrize("text", ["N", "N<5", "N=lots", "N=1,5", "N=5..4", "N=1..2..3", "=5"])
def test_targets_that_are_refused(
    capsys: Capture, recipe_file: Path, prices: Path, text: str
) -> None:
    said = refusal(capsys, recipe_file, "--prices", prices, "--target", text)
    assert len(said.splitlines()) == 1 and (text in said or "comma" in said)


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (["name,price", "x,1"], "lacks product"),
        (["product,price", "x,dear"], "row 2, price: 'dear' is no number"),
        (["product,price", "x,1,5"], "row 2"),
        (["product,price", "x"], "row 2"),
        (["product,price", "x,-1"], "row 2: the price must be"),
        (["product,price,pack", "x,1,0"], "row 2: the price must be"),
        (["product,price,pack,pack_unit", "x,1,5,bushel"], "row 2, pack_unit: 'bushel'"),
        (["product,price", "x,1", "X,2"], "row 3, product: 'x' has a price already"),
        (["product,price", ",1"], "row 2, product: is blank"),
    ],
)
def test_price_lists_that_are_refused(
    capsys: Capture, tmp_path: Path, recipe_file: Path, rows: list[str], words: str
) -> None:
    path = tmp_path / "prices.csv"
    path.write_text("\n".join(rows), encoding="utf-8")
    said = refusal(capsys, recipe_file, "--prices", path)
    assert said.startswith("tanksheet: prices.csv") and words in said


def test_packs_in_pounds_and_gallons(tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(
            [
                ["product", "price", "pack", "pack_unit", "currency"],
                ["Urea", "1,250.50", "50", "lb", "dollars"],
                ["acid", "30", "5", "gal", "dollars"],
            ]
        )
    found = read_prices(path)
    assert found["urea"].price == 1250.5
    assert found["urea"].kilograms(0) == pytest.approx(22.67962)
    assert found["acid"].kilograms(1.3) == pytest.approx(5 * 3.785412 * 1.3, rel=1e-6)
